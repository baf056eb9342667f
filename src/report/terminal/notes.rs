//! The check of the notes for reading in a terminal.
//!
//! A headline, what there is to do at a glance, a line for each entry (clean, or the numbers of its
//! findings), then the findings entry by entry as in a draft's report. At the end what could not be
//! taken for an entry, references without one, and what was compared.

use std::io::{self, Write};

use super::sheet::{INDENT, Sheet};
use super::style::{Ink, Look};
use super::{explained, finding, glance, legend, settled, short, summary};
use crate::findings::notes::{EntryReport, NotesReport, OwnSource};
use crate::paths::portable;
use crate::report::cautions::CAUTIONS;
use crate::report::english::{counted, grouped, listed};
use crate::report::harmless;
use crate::review::PartKind;

/// Columns of the left column in the list of entries.
const STATE: usize = 11;

/// Writes the whole report.
///
/// # Errors
/// What the writer refuses.
pub fn write(
    report: &NotesReport,
    look: &Look,
    show_explained: bool,
    out: &mut impl Write,
) -> io::Result<()> {
    let mut sheet = Sheet::new(out, look);
    headline(&mut sheet, report)?;
    sheet.blank()?;
    let open = || report.entries.iter().flat_map(EntryReport::open);
    glance::write(&mut sheet, open())?;
    entries(&mut sheet, report)?;
    if open().any(|finding| finding.source.is_some()) {
        legend(&mut sheet)?;
    }
    let mut number = 0;
    for entry in &report.entries {
        if !entry.is_clean() {
            let name = format!("{}, {}", harmless(&entry.name), place(entry));
            sheet.heading(0, &name)?;
            sheet.blank()?;
        }
        for finding in entry.open() {
            number += 1;
            finding::write_in(&mut sheet, "note", &entry.path, number, finding)?;
            sheet.blank()?;
        }
        settled(&mut sheet, &entry.path, &entry.findings)?;
        if show_explained {
            explained(&mut sheet, &entry.path, &entry.explained)?;
        }
    }
    not_entries(&mut sheet, report)?;
    without_entry(&mut sheet, report)?;
    compared(&mut sheet, report)?;
    summary::left_out(&mut sheet, &report.left_out)?;
    summary::cautions(&mut sheet, &CAUTIONS)
}

/// Writes one line for each open finding and nothing else, as for a draft.
///
/// # Errors
/// What the writer refuses.
pub fn write_short(report: &NotesReport, out: &mut impl Write) -> io::Result<()> {
    for entry in &report.entries {
        for finding in entry.open() {
            short(&entry.path, finding, None, out)?;
        }
    }
    Ok(())
}

fn headline<W: Write>(sheet: &mut Sheet<'_, W>, report: &NotesReport) -> io::Result<()> {
    let entries = counted(report.entries.len(), "entry", "entries");
    let count = report.entries.iter().flat_map(EntryReport::open).count();
    let unclean = report.entries.iter().filter(|entry| !entry.is_clean());
    let findings = match (count, unclean.count()) {
        (0, _) => "nothing to look at".to_owned(),
        (some, _) if report.entries.len() == 1 => {
            counted(some, "place to look at", "places to look at")
        }
        (some, 1) => format!(
            "{} in one of them",
            counted(some, "place to look at", "places to look at")
        ),
        (some, of) => format!(
            "{} in {} of them",
            counted(some, "place to look at", "places to look at"),
            grouped(of)
        ),
    };
    let what = match &report.only {
        Some(key) => format!("Notes on {}", harmless(key)),
        None => "Notes".to_owned(),
    };
    sheet.heading(0, &format!("{what}: {entries}, {findings}"))?;
    let rule = "=".repeat(sheet.look.width());
    let rule = sheet.look.paint(Ink::Quiet, &rule);
    sheet.line(&rule)
}

/// `notes/lamps.md:14`.
fn place(entry: &EntryReport) -> String {
    let path = portable(&entry.path);
    format!("{}:{}", harmless(&path), entry.line)
}

fn entries<W: Write>(sheet: &mut Sheet<'_, W>, report: &NotesReport) -> io::Result<()> {
    sheet.heading(0, "Entry by entry")?;
    let mut number = 0;
    for entry in &report.entries {
        let numbers: Vec<usize> = entry.open().zip(number + 1..).map(|(_, at)| at).collect();
        number += numbers.len();
        let state = match numbers.as_slice() {
            [] => "clean".to_owned(),
            numbers => glance::in_row(numbers),
        };
        let lead = format!("{:INDENT$}{state}", "");
        let text = format!(
            "{}, {}: {}",
            harmless(&entry.name),
            place(entry),
            holds(entry)
        );
        if lead.len() < STATE {
            sheet.hanging(STATE, &lead, &text)?;
        } else {
            sheet.line(&lead)?;
            sheet.paragraph(STATE, &text)?;
        }
    }
    sheet.blank()
}

/// What an entry holds, and what could not be compared.
pub(in crate::report) fn holds(entry: &EntryReport) -> String {
    let words = |kind: PartKind| -> usize {
        let parts = entry.parts.iter().filter(|part| part.kind == kind);
        parts.map(|part| part.words).sum()
    };
    let mut parts = Vec::new();
    match words(PartKind::Summary) {
        0 => {}
        some => parts.push(format!("summary of {}", counted(some, "word", "words"))),
    }
    match entry.quotations {
        0 => {}
        some => parts.push(counted(some, "quotation", "quotations")),
    }
    if words(PartKind::Comments) > 0 {
        parts.push("comments".to_owned());
    }
    if parts.is_empty() {
        parts.push("nothing yet".to_owned());
    }
    let held = listed(&parts);
    match entry.source {
        OwnSource::Stored => held,
        OwnSource::Abstract => {
            format!("{held}; only its abstract is stored, so only that was compared")
        }
        OwnSource::Missing => {
            format!("{held}; its source is not stored, so only other sources were compared")
        }
    }
}

fn not_entries<W: Write>(sheet: &mut Sheet<'_, W>, report: &NotesReport) -> io::Result<()> {
    if report.not_entries.is_empty() {
        return Ok(());
    }
    sheet.heading(0, "Not read as part of an entry")?;
    for one in &report.not_entries {
        let path = portable(&one.path);
        let under = match &one.heading {
            Some(heading) => format!("under “{}”, ", harmless(heading)),
            None => String::new(),
        };
        let text = format!(
            "{}:{}: {under}{}: “{}...”",
            harmless(&path),
            one.line,
            counted(one.words, "word", "words"),
            harmless(&one.start)
        );
        sheet.hanging(INDENT, " -", &text)?;
    }
    let text = "They were not compared. To make one of them an entry, give it a heading with its key, or its author and year.";
    sheet.paragraph(INDENT, text)?;
    sheet.blank()
}

fn without_entry<W: Write>(sheet: &mut Sheet<'_, W>, report: &NotesReport) -> io::Result<()> {
    if report.without_entry.is_empty() {
        return Ok(());
    }
    sheet.heading(0, "References without an entry")?;
    let names = report.without_entry.iter();
    let names: Vec<String> = names
        .map(|one| harmless(&format!("{} [{}]", one.name, one.key)).into_owned())
        .collect();
    sheet.paragraph(INDENT, &names.join(", "))?;
    sheet.blank()
}

fn compared<W: Write>(sheet: &mut Sheet<'_, W>, report: &NotesReport) -> io::Result<()> {
    sheet.heading(0, "What was compared")?;
    let entries = counted(report.entries.len(), "entry", "entries");
    let sources = counted(report.sources, "stored source", "stored sources");
    let review = portable(&report.review);
    let text = format!(
        "{entries} with {sources} ({}) in {}.",
        counted(report.source_words, "word", "words"),
        harmless(&review),
    );
    sheet.paragraph(INDENT, &text)
}
