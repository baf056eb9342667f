//! A draft's findings for reading in a terminal.
//!
//! For each draft a headline, what there is to do at a glance ([`glance`]), and its findings in order of
//! the text ([`finding`]); in each finding the draft's wording above the source's with the shared words
//! marked below ([`wording`]), the place on the scale ([`scale`]) and the measures in words ([`why`]). What
//! is settled is counted, or listed where asked for ([`decided`]). At the end the sources, and what was compared ([`summary`]).
//!
//! Everything is readable without colours and at 60 columns, and no character of the user's texts
//! reaches the terminal that could do more there than be seen.

mod cut;
mod decided;
mod finding;
mod glance;
pub(super) mod scale;
pub(super) mod sheet;
mod since;
mod style;
mod summary;
pub(super) mod why;
pub(super) mod wording;

use std::io::{self, Write};
use std::path::Path;

use sheet::{INDENT, Sheet};
pub(super) use style::Ink;
pub use style::{Colours, Look};
use wording::{CUT_NOTE, LEGEND};

use super::english::{counted, grouped};
use super::harmless;
use crate::findings::{CheckReport, DraftPlace, DraftReport, Finding};

/// Words of a finding in the short form.
const FIRST_WORDS: usize = 8;

/// What is shown beside the open findings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Shown {
    /// Shared wording that is no finding.
    pub explained: bool,
    /// Findings that are settled.
    pub settled: bool,
}

/// Writes the whole report.
///
/// # Errors
/// What the writer refuses.
pub fn write(
    report: &CheckReport,
    look: &Look,
    shown: Shown,
    out: &mut impl Write,
) -> io::Result<()> {
    let mut sheet = Sheet::new(out, look);
    let first_open = report
        .drafts
        .iter()
        .position(|draft| open(draft).next().is_some());
    for (index, draft) in report.drafts.iter().enumerate() {
        head(&mut sheet, draft)?;
        if first_open == Some(index) {
            legend(&mut sheet)?;
        }
        body(&mut sheet, report, draft, shown)?;
    }
    summary::write(&mut sheet, report, shown.explained)
}

/// Writes one line for each open finding, `file:line: weight: kind: first words...`, and nothing else.
///
/// # Errors
/// What the writer refuses.
pub fn write_short(report: &CheckReport, out: &mut impl Write) -> io::Result<()> {
    for draft in &report.drafts {
        for finding in open(draft) {
            let place = place_of(&draft.path, &finding.draft);
            let words = first_words(&finding.draft.text);
            let (weight, kind) = (finding.weight.name(), finding.kind.name());
            writeln!(out, "{place}: {weight}: {kind}: {words}")?;
        }
    }
    Ok(())
}

fn open(draft: &DraftReport) -> impl Iterator<Item = &Finding> {
    draft
        .findings
        .iter()
        .filter(|finding| finding.settled.is_none())
}

/// `chapter.md:14`.
fn place_of(draft: &Path, place: &DraftPlace) -> String {
    let path = draft.display().to_string();
    format!("{}:{}", harmless(&path), place.line)
}

fn first_words(text: &str) -> String {
    let mut words = text.split_whitespace();
    let first: Vec<&str> = words.by_ref().take(FIRST_WORDS).collect();
    let more = if words.next().is_some() { "..." } else { "" };
    format!("{}{more}", harmless(&first.join(" ")))
}

fn legend<W: Write>(sheet: &mut Sheet<'_, W>) -> io::Result<()> {
    sheet.hanging(7, "Marks", LEGEND)?;
    sheet.hanging(
        7,
        "Scale",
        "from 0, word for word the source, to 1, nothing of its wording kept",
    )?;
    if !sheet.look.is_whole() {
        sheet.hanging(7, "Cuts", CUT_NOTE)?;
    }
    sheet.hanging(
        7,
        "ID",
        "a finding's own name, which stays when the draft changes elsewhere",
    )?;
    sheet.blank()
}

/// What a reader needs first: the headline, remarks on the reading, and what there is to do.
fn head<W: Write>(sheet: &mut Sheet<'_, W>, draft: &DraftReport) -> io::Result<()> {
    headline(sheet, draft)?;
    for remark in &draft.remarks {
        sheet.hanging(INDENT, " -", &harmless(remark))?;
    }
    sheet.blank()?;
    if draft.words == 0 {
        no_prose(sheet, draft)?;
        sheet.blank()?;
    }
    glance::write(sheet, open(draft))?;
    since::write(sheet, draft)?;
    decided::write_lapsed(sheet, draft)
}

fn body<W: Write>(
    sheet: &mut Sheet<'_, W>,
    report: &CheckReport,
    draft: &DraftReport,
    shown: Shown,
) -> io::Result<()> {
    for (index, finding) in open(draft).enumerate() {
        finding::write(sheet, &draft.path, index + 1, finding)?;
        sheet.blank()?;
    }
    // That no wording of an empty draft is anybody else's is no news; a remark above says why.
    if open(draft).next().is_none() && draft.words > 0 {
        nothing_open(sheet, report, draft)?;
        sheet.blank()?;
    }
    decided::write_settled(sheet, draft, shown.settled)?;
    if shown.explained {
        explained(sheet, draft)?;
    }
    Ok(())
}

fn headline<W: Write>(sheet: &mut Sheet<'_, W>, draft: &DraftReport) -> io::Result<()> {
    let path = draft.path.display().to_string();
    let words = counted(draft.words, "word", "words");
    let quoted = match draft.quoted_words {
        0 => String::new(),
        some => format!(" ({} of them quoted)", grouped(some)),
    };
    let findings = match open(draft).count() {
        0 if draft.words == 0 => "nothing to compare".to_owned(),
        0 => "nothing to look at".to_owned(),
        some => counted(some, "place to look at", "places to look at"),
    };
    let text = format!("{}: {words}{quoted}, {findings}", harmless(&path));
    sheet.heading(0, &text)?;
    let rule = "=".repeat(sheet.look.width());
    let rule = sheet.look.paint(Ink::Quiet, &rule);
    sheet.line(&rule)
}

/// A draft in which there was nothing to compare: most often not the file that was meant, or one whose
/// text was taken for something else.
fn no_prose<W: Write>(sheet: &mut Sheet<'_, W>, draft: &DraftReport) -> io::Result<()> {
    let path = draft.path.display().to_string();
    let text = format!(
        "This draft holds no prose to compare, so nothing can be said of it. Check that it is the file you \
         mean, and see what is read from it with: ownwords text {}",
        harmless(&path)
    );
    sheet.paragraph(INDENT, &text)
}

fn nothing_open<W: Write>(
    sheet: &mut Sheet<'_, W>,
    report: &CheckReport,
    draft: &DraftReport,
) -> io::Result<()> {
    let sources = counted(report.sources, "stored source", "stored sources");
    let news = if draft.findings.is_empty() {
        "no wording here asks for another look"
    } else {
        "all that asks for another look is settled"
    };
    let text = format!(
        "Good news: set against {sources}, {news}. That is no clearance, since works that are not \
         stored could not be compared."
    );
    sheet.paragraph(INDENT, &text)
}

fn explained<W: Write>(sheet: &mut Sheet<'_, W>, draft: &DraftReport) -> io::Result<()> {
    if draft.explained.is_empty() {
        return Ok(());
    }
    sheet.heading(INDENT, "Shared wording that is no finding")?;
    for overlap in &draft.explained {
        let text = format!(
            "{}, also in {}: \"{}\": {}",
            place_of(&draft.path, &overlap.draft),
            harmless(overlap.source.as_str()),
            first_words(&overlap.draft.text),
            harmless(&overlap.why),
        );
        sheet.hanging(INDENT + 2, "   -", &text)?;
    }
    sheet.blank()
}

#[cfg(test)]
mod tests;
