//! The end of a report: what there is to do by kind and by source, what was not compared, and what to
//! bear in mind. No percentage and no score of a draft: such a number says nothing about what to mend.

use std::collections::BTreeMap;
use std::io::{self, Write};

use super::sheet::{INDENT, Sheet};
use crate::findings::{CheckReport, Finding, Kind, Weight};
use crate::report::cautions::CAUTIONS;
use crate::report::english::{counted, grouped};
use crate::report::harmless;

/// Columns before the text of a counted line: the weight's request and a number of four digits.
const COUNTED: usize = 22;

/// Writes the end of a report.
pub(super) fn write<W: Write>(
    sheet: &mut Sheet<'_, W>,
    report: &CheckReport,
    show_explained: bool,
) -> io::Result<()> {
    let open: Vec<&Finding> = report
        .drafts
        .iter()
        .flat_map(|draft| &draft.findings)
        .filter(|finding| finding.settled.is_none())
        .collect();
    if !open.is_empty() {
        sheet.heading(0, "All together")?;
        by_kind(sheet, &open)?;
        by_source(sheet, &open)?;
        sheet.blank()?;
    }
    sheet.heading(0, "What was compared")?;
    compared(sheet, report)?;
    explained(sheet, report, show_explained)?;
    left_out(sheet, report)?;
    sheet.blank()?;
    sheet.heading(0, "Please bear in mind")?;
    CAUTIONS
        .iter()
        .try_for_each(|caution| sheet.hanging(INDENT, " -", caution))
}

fn by_kind<W: Write>(sheet: &mut Sheet<'_, W>, open: &[&Finding]) -> io::Result<()> {
    let mut counts: BTreeMap<(Weight, Kind), usize> = BTreeMap::new();
    for finding in open {
        *counts.entry((finding.weight, finding.kind)).or_default() += 1;
    }
    let mut last = None;
    for ((weight, kind), count) in counts {
        let request = if last == Some(weight) {
            ""
        } else {
            weight.request()
        };
        last = Some(weight);
        let about = kind.about();
        let lead = format!("{:INDENT$}{request:<13}{:>4}", "", grouped(count));
        sheet.hanging(COUNTED, &lead, &format!("{} ({})", about.short, about.name))?;
    }
    Ok(())
}

fn by_source<W: Write>(sheet: &mut Sheet<'_, W>, open: &[&Finding]) -> io::Result<()> {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for source in open.iter().filter_map(|finding| finding.source.as_ref()) {
        let mut name = source.name.clone();
        if !name.contains(source.key.as_str()) {
            name.push_str(&format!(" [{}]", source.key));
        }
        *counts.entry(name).or_default() += 1;
    }
    let mut counts: Vec<(String, usize)> = counts.into_iter().collect();
    // Where most is to be done first; the stable sort keeps equals in order of their names.
    counts.sort_by_key(|&(_, count)| std::cmp::Reverse(count));
    let mut label = "by source";
    for (name, count) in counts {
        let lead = format!("{:INDENT$}{label:<13}{:>4}", "", grouped(count));
        sheet.hanging(COUNTED, &lead, &harmless(&name))?;
        label = "";
    }
    Ok(())
}

fn compared<W: Write>(sheet: &mut Sheet<'_, W>, report: &CheckReport) -> io::Result<()> {
    let drafts = counted(report.drafts.len(), "draft", "drafts");
    let words = report.drafts.iter().map(|draft| draft.words).sum();
    let sources = counted(report.sources, "stored source", "stored sources");
    let entries = counted(report.entries, "entry", "entries");
    let review = report.review.display().to_string();
    let text = format!(
        "{drafts} ({}) with {sources} ({}) and {entries} of the notes in {}.",
        counted(words, "word", "words"),
        counted(report.source_words, "word", "words"),
        harmless(&review),
    );
    sheet.paragraph(INDENT, &text)
}

fn explained<W: Write>(
    sheet: &mut Sheet<'_, W>,
    report: &CheckReport,
    shown: bool,
) -> io::Result<()> {
    let count = report
        .drafts
        .iter()
        .map(|draft| draft.explained.len())
        .sum();
    if count == 0 || shown {
        return Ok(());
    }
    let places = counted(count, "overlap was", "overlaps were");
    let text = format!(
        "{places} taken for fixed wording, titles or names and left aside; --show-explained lists them."
    );
    sheet.paragraph(INDENT, &text)
}

fn left_out<W: Write>(sheet: &mut Sheet<'_, W>, report: &CheckReport) -> io::Result<()> {
    if report.left_out.is_empty() {
        return Ok(());
    }
    sheet.blank()?;
    sheet.heading(0, "Left out, or read in a way you should know of")?;
    report.left_out.iter().try_for_each(|item| {
        let text = format!("{}: {}", harmless(&item.what), harmless(&item.why));
        sheet.hanging(INDENT, " -", &text)
    })
}
