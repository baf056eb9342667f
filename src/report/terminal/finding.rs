//! One finding for reading: what and where, draft and source set against each other, how close and
//! why, the way the wording came, and what would mend it. Most take about 25 lines, none more than 36 unless
//! wordings are asked for in whole.

use std::io::{self, Write};
use std::path::Path;

use super::sheet::{MARGIN, Sheet, wrap};
use super::style::Ink;
use super::wording::Wording;
use super::{place_of, scale, why};
use crate::findings::{Evidence, Finding, NotePlace};
use crate::overlap::Degree;
use crate::report::{harmless, said};
use crate::review::Key;

/// Lines of words for each of the two wordings.
const MOST_LINES: usize = 4;

/// Differences of a quotation that are listed; a quotation with more is another text.
const MOST_DIFFERENCES: usize = 4;

/// Writes a finding on a draft under its number.
pub(super) fn write<W: Write>(
    sheet: &mut Sheet<'_, W>,
    draft: &Path,
    number: usize,
    finding: &Finding,
) -> io::Result<()> {
    write_in(sheet, "draft", draft, number, finding)
}

/// Writes a finding under its number; `checked` says what was checked: a draft, a note.
pub(super) fn write_in<W: Write>(
    sheet: &mut Sheet<'_, W>,
    checked: &str,
    draft: &Path,
    number: usize,
    finding: &Finding,
) -> io::Result<()> {
    head(sheet, draft, number, finding)?;
    sheet.blank()?;
    wordings(sheet, checked, finding)?;
    differences(sheet, checked, &finding.evidence)?;
    closeness(sheet, finding)?;
    if let Some(credit) = &finding.credit {
        sheet.labelled("credit", &said::credit(credit))?;
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

fn wordings<W: Write>(
    sheet: &mut Sheet<'_, W>,
    checked: &str,
    finding: &Finding,
) -> io::Result<()> {
    let shared = &finding.evidence.shared;
    let of_draft = shared.iter().map(|place| (place.draft, place.by));
    let draft = Wording::new(&finding.draft.text, finding.draft.range, of_draft);
    let Some(source) = &finding.source else {
        return draft.set(sheet.look, MOST_LINES).write(sheet, checked);
    };
    let of_source = shared.iter().map(|place| (place.source, place.by));
    let source_words = Wording::new(&source.text, source.range, of_source)
        .without(source.range, &source.page_marks);
    let (draft, source_words) = draft.set_both(&source_words, sheet.look, MOST_LINES);
    draft.write(sheet, checked)?;
    sheet.labelled("source", &said::source_and_key(source))?;
    source_words.write(sheet, "")
}

fn differences<W: Write>(
    sheet: &mut Sheet<'_, W>,
    checked: &str,
    evidence: &Evidence,
) -> io::Result<()> {
    let all = &evidence.differences;
    for (index, difference) in all.iter().take(MOST_DIFFERENCES).enumerate() {
        let label = if index == 0 { "differs" } else { "" };
        sheet.labelled(label, &said::difference(checked, difference))?;
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
    let mut first = place_of(draft, &finding.draft);
    if let Some(stayed) = finding.stayed_close() {
        first = format!("{first}: {}", stayed.said());
    }
    sheet.labelled("trail", &first)?;
    step(sheet, note.to_draft, &said::note_place(note))?;
    match &finding.source {
        Some(source) => step(sheet, note.from_source, &said::source_name(source)),
        None => Ok(()),
    }
}

/// One step back: `<- near copy (0.12) from notes/lamps.md, summary of harrow2019`.
fn step<W: Write>(
    sheet: &mut Sheet<'_, W>,
    closeness: Option<(Degree, f64)>,
    place: &str,
) -> io::Result<()> {
    let closeness = closeness.map(|close| format!("{} from ", said::closeness(close)));
    let lead = format!("{:MARGIN$}<-", "");
    let text = format!("{}{place}", closeness.unwrap_or_default());
    sheet.hanging(MARGIN + 3, &lead, &text)
}
