//! The findings as a table: comma-separated values after RFC 4180 (CR LF, quotation marks doubled), a line for each
//! finding, settled ones too, for spreadsheets. Cells are made safe by [`in_cell`].

use std::io::{self, Write};
use std::path::Path;

use csv::{Terminator, WriterBuilder};

use super::escape::in_cell;
use super::file_place::Places;
use super::said;
use crate::findings::since::{Past, Progress};
use crate::findings::{CheckReport, CreditState, Finding};
use crate::paths::portable;

/// The names of the columns.
pub const COLUMNS: [&str; 17] = [
    "draft",
    "line",
    "page",
    "weight",
    "kind",
    "what",
    "degree",
    "position",
    "source",
    "credit",
    "since",
    "settled",
    "id",
    "to_mend",
    "words",
    "source_words",
    "note",
];

/// Writes the table with the names of the columns as its first line.
///
/// # Errors
/// What the writer refuses.
pub fn write(report: &CheckReport, out: &mut impl Write) -> io::Result<()> {
    let mut table = WriterBuilder::new()
        .terminator(Terminator::CRLF)
        .from_writer(out);
    table.write_record(COLUMNS)?;
    for draft in &report.drafts {
        let places = Places::of(draft);
        let since = draft.since.as_ref();
        for (index, finding) in draft.findings.iter().enumerate() {
            let progress = since.and_then(|since| since.progress.get(index));
            table.write_record(row(&places, finding, progress))?;
        }
        for past in since.iter().flat_map(|since| &since.mended) {
            let path = since.map_or(draft.path.as_path(), |since| since.path.as_path());
            table.write_record(mended(path, past))?;
        }
    }
    table.flush()
}

/// A finding of the earlier draft that is no longer there, at its place in that draft.
fn mended(path: &Path, past: &Past) -> [String; 17] {
    let mut row: [String; 17] = Default::default();
    let about = past.kind.about();
    let closeness = past.closeness;
    let cells = [
        ("draft", in_cell(&portable(path))),
        ("line", past.line.to_string()),
        ("kind", about.name.to_owned()),
        ("what", about.short.to_owned()),
        (
            "degree",
            closeness.map_or("", |(degree, _)| degree.name()).to_owned(),
        ),
        (
            "position",
            closeness.map_or(String::new(), |(_, position)| format!("{position:.2}")),
        ),
        ("since", "mended".to_owned()),
        ("id", in_cell(&past.id)),
        ("words", in_cell(&past.text)),
    ];
    for (cell, (_, name)) in row.iter_mut().zip(COLUMNS.iter().enumerate()) {
        if let Some((_, value)) = cells.iter().find(|(column, _)| column == name) {
            cell.clone_from(value);
        }
    }
    row
}

fn row(places: &Places<'_>, finding: &Finding, progress: Option<&Progress>) -> [String; 17] {
    let about = finding.kind.about();
    let place = places.place(finding.draft.range);
    let position = finding.measures.as_ref().map(|m| m.position());
    let source = finding.source.as_ref();
    let credit = finding.credit.as_ref().map(|credit| match credit.state {
        CreditState::Credited => "credited",
        CreditState::Elsewhere => "elsewhere",
        CreditState::None => "none",
    });
    let settled = finding.settled.as_ref();
    let settled = settled.map(|settled| format!("{}: {}", settled.on, settled.because));
    [
        in_cell(&portable(place.file)),
        // Word processors and PDF have no lines.
        match place.in_file {
            true => place.lines.line.to_string(),
            false => String::new(),
        },
        in_cell(finding.draft.page.as_ref().map_or("", |page| page.as_str())),
        finding.weight.name().to_owned(),
        about.name.to_owned(),
        about.short.to_owned(),
        finding.degree.map_or("", |degree| degree.name()).to_owned(),
        position.map_or(String::new(), |position| format!("{position:.2}")),
        in_cell(&source.map_or(String::new(), said::source_and_key)),
        credit.unwrap_or_default().to_owned(),
        in_cell(&progress.map_or(String::new(), said::progress)),
        in_cell(&settled.unwrap_or_default()),
        in_cell(&finding.id),
        in_cell(&finding.advice),
        in_cell(&finding.draft.text),
        in_cell(&source.map_or(String::new(), |source| source.wording())),
        in_cell(
            &finding
                .note
                .as_ref()
                .map_or(String::new(), said::note_place),
        ),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::samples;

    #[test]
    fn the_table_has_a_line_for_each_finding_and_no_formula() {
        let mut report = samples::report();
        report.drafts[0].findings[0].draft.text = "=lamps(\"1\")\nand moths".to_owned();
        let mut out = Vec::new();
        write(&report, &mut out).unwrap();
        let mut read = csv::Reader::from_reader(out.as_slice());
        assert_eq!(read.headers().unwrap().iter().collect::<Vec<_>>(), COLUMNS);
        let rows: Vec<csv::StringRecord> = read.records().map(Result::unwrap).collect();
        let mended = |draft: &crate::findings::DraftReport| {
            let since = draft.since.as_ref();
            since.map_or(0, |since| since.mended.len())
        };
        let drafts = report.drafts.iter();
        let all: usize = drafts
            .map(|draft| draft.findings.len() + mended(draft))
            .sum();
        assert_eq!(rows.len(), all);
        let gone = rows.iter().filter(|row| &row[10] == "mended").count();
        assert_eq!(gone, report.drafts.iter().map(mended).sum::<usize>());
        assert!(gone > 0);
        assert_eq!(&rows[0][14], "'=lamps(\"1\") and moths");
        let settled = rows.iter().filter(|row| !row[11].is_empty()).count();
        assert!(settled > 0 && settled < all, "{settled} of {all}");
    }
}
