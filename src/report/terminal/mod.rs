//! A draft's findings for reading in a terminal.
//!
//! For each draft a headline, what there is to do at a glance (`glance`), and its findings in order of
//! the text (`finding`); in each finding the draft's wording above the source's with the shared words
//! marked below (`wording`), the place on the scale (`scale`) and the measures in words (`why`). What
//! is settled is counted, or listed where asked for (`decided`). At the end the sources, and what was compared (`summary`).
//!
//! Everything is readable without colours and at 60 columns, and no character of the user's texts
//! reaches the terminal that could do more there than be seen.

mod cut;
mod decided;
mod finding;
mod glance;
mod joints;
pub(in crate::report) mod notes;
pub(super) mod scale;
pub(super) mod sheet;
mod since;
mod style;
pub(super) mod summary;
pub(super) mod why;
pub(super) mod wording;

use std::io::{self, Write};
use std::path::Path;

pub use notes::{write as write_notes, write_short as write_notes_short};
use sheet::{INDENT, Sheet};
pub(super) use style::Ink;
pub use style::{Colours, Look};
use wording::{CUT_NOTE, LEGEND};

use super::harmless;
use super::said::{self, open};
use crate::findings::since::Progress;
use crate::findings::{CheckReport, DraftPlace, DraftReport, Explained, Finding};
use crate::paths::portable;

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
        for (finding, progress) in said::open_and_progress(draft) {
            short(&draft.path, finding, progress, out)?;
        }
        let Some(since) = &draft.since else { continue };
        let path = portable(&since.path);
        for past in &since.mended {
            let (line, kind, words) = (past.line, past.kind.name(), first_words(&past.text));
            writeln!(out, "{}:{line}: mended: {kind}: {words}", harmless(&path))?;
        }
    }
    Ok(())
}

/// A finding in one line.
fn short(
    path: &Path,
    finding: &Finding,
    progress: Option<&Progress>,
    out: &mut impl Write,
) -> io::Result<()> {
    let place = place_of(path, &finding.draft);
    let words = first_words(&finding.draft.text);
    let (weight, kind) = (finding.weight.name(), finding.kind.name());
    let since = match progress {
        Some(Progress::New) => ", new",
        Some(Progress::Changed(_)) => ", changed",
        Some(Progress::Still) | None => "",
    };
    writeln!(out, "{place}: {weight}: {kind}{since}: {words}")
}

/// `chapter.md:14`.
fn place_of(draft: &Path, place: &DraftPlace) -> String {
    let path = portable(draft);
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
        sheet.paragraph(INDENT, &said::no_prose(draft))?;
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
        sheet.paragraph(INDENT, &said::nothing_open(report, draft))?;
        sheet.blank()?;
    }
    decided::write_settled(sheet, draft, shown.settled)?;
    if shown.explained {
        explained(sheet, &draft.path, &draft.explained)?;
    }
    Ok(())
}

fn headline<W: Write>(sheet: &mut Sheet<'_, W>, draft: &DraftReport) -> io::Result<()> {
    let path = portable(&draft.path);
    let text = format!("{}: {}", harmless(&path), said::extent(draft));
    sheet.heading(0, &text)?;
    let rule = "=".repeat(sheet.look.width());
    let rule = sheet.look.paint(Ink::Quiet, &rule);
    sheet.line(&rule)
}

fn settled<W: Write>(
    sheet: &mut Sheet<'_, W>,
    path: &Path,
    findings: &[Finding],
) -> io::Result<()> {
    let mut any = false;
    for finding in findings {
        let Some(decision) = &finding.settled else {
            continue;
        };
        if !any {
            sheet.heading(INDENT, "Settled by you")?;
        }
        any = true;
        let text = format!(
            "{}, {}, {}: {} (ID {})",
            place_of(path, &finding.draft),
            finding.kind.name(),
            harmless(&decision.on),
            harmless(&decision.because),
            harmless(&finding.id),
        );
        sheet.hanging(INDENT + 2, "   -", &text)?;
    }
    if any { sheet.blank() } else { Ok(()) }
}

fn explained<W: Write>(
    sheet: &mut Sheet<'_, W>,
    path: &Path,
    explained: &[Explained],
) -> io::Result<()> {
    if explained.is_empty() {
        return Ok(());
    }
    sheet.heading(INDENT, "Shared wording that is no finding")?;
    for overlap in explained {
        let text = format!(
            "{}, also in {}: \"{}\": {}",
            place_of(path, &overlap.draft),
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
