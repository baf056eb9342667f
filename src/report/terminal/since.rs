//! A draft against its earlier version: how much was mended, which findings are still there, which are
//! new. Findings go by their numbers in the report.

use std::io::{self, Write};

use super::first_words;
use super::glance::in_row;
use super::sheet::Sheet;
use crate::findings::since::{Past, Progress, Since};
use crate::findings::{DraftReport, Finding};
use crate::paths::portable;
use crate::report::harmless;

/// Columns before what is counted: a number of four digits.
const COUNTED: usize = 9;

/// Writes the block, if the draft was set against an earlier one.
pub(super) fn write<W: Write>(sheet: &mut Sheet<'_, W>, draft: &DraftReport) -> io::Result<()> {
    let Some(since) = &draft.since else {
        return Ok(());
    };
    let path = portable(&since.path);
    sheet.heading(0, &format!("Since {}", harmless(&path)))?;
    line(sheet, since.mended.len(), "mended", "")?;
    for past in &since.mended {
        let text = format!(
            "line {}, {}: {}",
            past.line,
            past.kind.name(),
            first_words(&past.text)
        );
        sheet.hanging(COUNTED + 2, "         -", &text)?;
    }
    let numbers = |wanted: fn(&Progress) -> bool| -> Vec<usize> {
        let of_open = numbered(draft, since);
        of_open
            .filter(|(_, _, progress)| wanted(progress))
            .map(|(number, ..)| number)
            .collect()
    };
    let still = numbers(|progress| *progress == Progress::Still);
    line(sheet, still.len(), "still there", &in_row(&still))?;
    let changed = numbers(|progress| matches!(progress, Progress::Changed(_)));
    line(
        sheet,
        changed.len(),
        "changed, and still to be looked at",
        &in_row(&changed),
    )?;
    for (number, finding, progress) in numbered(draft, since) {
        if let Progress::Changed(past) = progress {
            let text = format!("{number}: was {}, is {}", was(past), is(finding));
            sheet.hanging(COUNTED + 2, "         -", &text)?;
        }
    }
    let new = numbers(|progress| *progress == Progress::New);
    line(sheet, new.len(), "new", &in_row(&new))?;
    sheet.blank()
}

/// The open findings with their numbers, and what became of each.
fn numbered<'d>(
    draft: &'d DraftReport,
    since: &'d Since,
) -> impl Iterator<Item = (usize, &'d Finding, &'d Progress)> {
    let both = draft.findings.iter().zip(&since.progress);
    both.filter(|(finding, _)| finding.settled.is_none())
        .enumerate()
        .map(|(index, (finding, progress))| (index + 1, finding, progress))
}

fn line<W: Write>(
    sheet: &mut Sheet<'_, W>,
    count: usize,
    what: &str,
    which: &str,
) -> io::Result<()> {
    let colon = if which.is_empty() { "" } else { ": " };
    let lead = format!("{count:>width$}", width = COUNTED - 2);
    sheet.hanging(COUNTED, &lead, &format!("{what}{colon}{which}"))
}

fn was(past: &Past) -> String {
    match past.closeness {
        Some((degree, position)) => {
            format!("{}, {} ({position:.2})", past.kind.name(), degree.name())
        }
        None => past.kind.name().to_owned(),
    }
}

fn is(finding: &Finding) -> String {
    let position = finding
        .measures
        .as_ref()
        .map(|measures| measures.position());
    match finding.degree.zip(position) {
        Some((degree, position)) => {
            format!("{}, {} ({position:.2})", finding.kind.name(), degree.name())
        }
        None => finding.kind.name().to_owned(),
    }
}
