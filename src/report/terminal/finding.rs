//! One finding for reading: what and where, draft and source set against each other, how close and
//! why, the way the wording came, and what would mend it. Most take about 25 lines, none more than 36 unless
//! wordings are asked for in whole.

use std::io::{self, Write};
use std::path::Path;

use super::sheet::{MARGIN, Sheet, wrap};
use super::style::Ink;
use super::wording::Wording;
use super::{place_of, scale, why};
use crate::findings::{Credit, CreditState, Evidence, Finding, NotePlace, SourcePlace};
use crate::overlap::Degree;
use crate::report::harmless;
use crate::review::{Key, PartKind};
use crate::text::PageLabel;

/// Lines of words for each of the two wordings.
const MOST_LINES: usize = 4;

/// Differences of a quotation that are listed; a quotation with more is another text.
const MOST_DIFFERENCES: usize = 4;

/// Writes a finding under its number.
pub(super) fn write<W: Write>(
    sheet: &mut Sheet<'_, W>,
    draft: &Path,
    number: usize,
    finding: &Finding,
) -> io::Result<()> {
    head(sheet, draft, number, finding)?;
    sheet.blank()?;
    wordings(sheet, finding)?;
    differences(sheet, &finding.evidence)?;
    closeness(sheet, finding)?;
    if let Some(credit) = &finding.credit {
        sheet.labelled("credit", &credit_line(credit))?;
    }
    also_in(sheet, &finding.evidence.also_in)?;
    if let Some(note) = &finding.note {
        trail(sheet, draft, finding, note)?;
    }
    sheet.labelled("mend", &harmless(&finding.advice))
}

fn head<W: Write>(
    sheet: &mut Sheet<'_, W>,
    draft: &Path,
    number: usize,
    finding: &Finding,
) -> io::Result<()> {
    let about = finding.kind.about();
    let title = format!("{} ({})", about.short, about.name);
    let indent = 4;
    for (index, line) in wrap(&title, sheet.look.width() - indent).iter().enumerate() {
        let lead = if index == 0 {
            format!("{number:>2}. ")
        } else {
            " ".repeat(indent)
        };
        let painted = sheet.look.paint(Ink::Head, &format!("{lead}{line}"));
        sheet.line(&painted)?;
    }
    let ink = Ink::of(finding.weight);
    let weight = sheet.look.paint(ink, finding.weight.request());
    let place = place_of(draft, &finding.draft);
    let page = finding
        .draft
        .page
        .as_ref()
        .map(|page| format!(", page {page}"));
    let page = harmless(page.as_deref().unwrap_or_default()).into_owned();
    let id = harmless(&finding.id);
    sheet.paragraph(indent, &format!("{place}{page} · {weight} · ID {id}"))
}

fn wordings<W: Write>(sheet: &mut Sheet<'_, W>, finding: &Finding) -> io::Result<()> {
    let shared = &finding.evidence.shared;
    let of_draft = shared.iter().map(|place| (place.draft, place.by));
    let draft = Wording::new(&finding.draft.text, finding.draft.range, of_draft);
    let Some(source) = &finding.source else {
        return draft.set(sheet.look, MOST_LINES).write(sheet, "draft");
    };
    let of_source = shared.iter().map(|place| (place.source, place.by));
    let source_words = Wording::new(&source.text, source.range, of_source)
        .without(source.range, &source.page_marks);
    let (draft, source_words) = draft.set_both(&source_words, sheet.look, MOST_LINES);
    draft.write(sheet, "draft")?;
    let mut name = source_name(source);
    if !source.name.contains(source.key.as_str()) {
        name.push_str(&format!(" [{}]", harmless(source.key.as_str())));
    }
    sheet.labelled("source", &name)?;
    source_words.write(sheet, "")
}

/// `Harrow (2019), p. 14`.
fn source_name(source: &SourcePlace) -> String {
    let pages = match &source.pages {
        None => String::new(),
        Some((first, last)) => format!(", {}", pages(first, last)),
    };
    harmless(&format!("{}{pages}", source.name)).into_owned()
}

/// `p. 14`, `pp. 14-15`.
pub(in crate::report) fn pages(first: &PageLabel, last: &PageLabel) -> String {
    if first == last {
        format!("p. {first}")
    } else {
        format!("pp. {first}-{last}")
    }
}

fn differences<W: Write>(sheet: &mut Sheet<'_, W>, evidence: &Evidence) -> io::Result<()> {
    let all = &evidence.differences;
    for (index, (draft, source)) in all.iter().take(MOST_DIFFERENCES).enumerate() {
        let (draft, source) = (harmless(draft), harmless(source));
        let said = match (draft.is_empty(), source.is_empty()) {
            (true, _) => format!("the draft leaves out \"{source}\""),
            (_, true) => format!("the draft puts in \"{draft}\""),
            _ => format!("\"{draft}\" in the draft, \"{source}\" in the source"),
        };
        sheet.labelled(if index == 0 { "differs" } else { "" }, &said)?;
    }
    match all.len().saturating_sub(MOST_DIFFERENCES) {
        0 => Ok(()),
        more => sheet.labelled("", &format!("and in {more} more places")),
    }
}

fn closeness<W: Write>(sheet: &mut Sheet<'_, W>, finding: &Finding) -> io::Result<()> {
    let Some(measures) = &finding.measures else {
        return Ok(());
    };
    if let Some(degree) = finding.degree {
        sheet.blank()?;
        scale::write_one(sheet, degree, measures.position())?;
    }
    sheet.labelled("why", &why::sentences(measures))
}

fn credit_line(credit: &Credit) -> String {
    let citations: Vec<String> = credit
        .citations
        .iter()
        .map(|citation| harmless(citation).into_owned())
        .collect();
    let citations = citations.join(", ");
    match credit.state {
        CreditState::Credited => format!("the source is named nearby: {citations}"),
        CreditState::Elsewhere => format!("only another source is named nearby: {citations}"),
        CreditState::None if !credit.citations.is_empty() => {
            format!("the citation nearby points at no reference of the review: {citations}")
        }
        CreditState::None => "no citation nearby".to_owned(),
    }
}

fn also_in<W: Write>(sheet: &mut Sheet<'_, W>, keys: &[Key]) -> io::Result<()> {
    if keys.is_empty() {
        return Ok(());
    }
    let keys: Vec<&str> = keys.iter().map(Key::as_str).collect();
    let keys = keys.join(", ");
    sheet.labelled("also in", &harmless(&keys))
}

/// The way the wording came, a line each: draft, note, source.
fn trail<W: Write>(
    sheet: &mut Sheet<'_, W>,
    draft: &Path,
    finding: &Finding,
    note: &NotePlace,
) -> io::Result<()> {
    sheet.labelled("trail", &place_of(draft, &finding.draft))?;
    let part = match note.part {
        PartKind::Comments => "comments on",
        PartKind::Reference => "reference of",
        PartKind::Summary => "summary of",
        PartKind::Quotations => "quotations from",
    };
    let path = note.path.display().to_string();
    let marked = if note.marked {
        ", in quotation marks"
    } else {
        ""
    };
    let place = format!(
        "{}, {part} {}{marked}",
        harmless(&path),
        harmless(&note.entry)
    );
    step(sheet, note.to_draft, &place)?;
    match &finding.source {
        Some(source) => step(sheet, note.from_source, &source_name(source)),
        None => Ok(()),
    }
}

/// One step back: `<- near copy (0.12) from notes/lamps.md, summary of harrow2019`.
fn step<W: Write>(
    sheet: &mut Sheet<'_, W>,
    closeness: Option<(Degree, f64)>,
    place: &str,
) -> io::Result<()> {
    let closeness =
        closeness.map(|(degree, position)| format!("{} ({position:.2}) from ", degree.name()));
    let lead = format!("{:MARGIN$}<-", "");
    let text = format!("{}{place}", closeness.unwrap_or_default());
    sheet.hanging(MARGIN + 3, &lead, &text)
}
