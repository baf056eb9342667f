//! The check of the notes for programs. A finding has the fields it has in the check of a draft; its
//! `draft` is a place in the file of notes, and `note` and `trail` are null.

use std::io::{self, Write};

use serde::Serialize;

use super::forms::{ExplainedForm, FindingForm, LeftOutForm, ReviewForm, shown};
use crate::findings::Explained;
use crate::findings::notes::{EntryReport, NotesReport, OwnSource, PartWords, WithoutEntry};
use crate::review::{Key, NotAnEntry};

/// JSON Schema (2020-12) of what [`write()`] prints.
pub const SCHEMA: &str = include_str!("../notes.schema.json");

/// The name of the format, in its field `format`.
pub const FORMAT: &str = "ownwords-notes";

/// The version of the contract, in its field `version`.
pub const VERSION: u32 = 1;

/// Writes the check of the notes as JSON, with a line feed at the end.
///
/// # Errors
/// What the writer refuses.
pub fn write(report: &NotesReport, out: &mut impl Write) -> io::Result<()> {
    serde_json::to_writer_pretty(&mut *out, &NotesForm::of(report))?;
    writeln!(out)
}

#[derive(Serialize)]
struct NotesForm<'a> {
    format: &'static str,
    version: u32,
    review: ReviewForm,
    only: Option<&'a str>,
    entries: Vec<EntryForm<'a>>,
    references_without_entry: Vec<WithoutForm<'a>>,
    not_entries: Vec<NotAnEntryForm<'a>>,
    left_out: Vec<LeftOutForm<'a>>,
}

impl<'a> NotesForm<'a> {
    fn of(report: &'a NotesReport) -> Self {
        Self {
            format: FORMAT,
            version: VERSION,
            review: ReviewForm {
                path: shown(&report.review),
                sources: report.sources,
                source_words: report.source_words,
                entries: report.entries.len(),
            },
            only: report.only.as_deref(),
            entries: report.entries.iter().map(EntryForm::of).collect(),
            references_without_entry: report.without_entry.iter().map(WithoutForm::of).collect(),
            not_entries: report.not_entries.iter().map(NotAnEntryForm::of).collect(),
            left_out: report.left_out.iter().map(LeftOutForm::of).collect(),
        }
    }
}

#[derive(Serialize)]
struct EntryForm<'a> {
    key: Option<&'a str>,
    name: &'a str,
    path: String,
    line: usize,
    parts: Vec<PartForm>,
    quotations: usize,
    source: &'static str,
    clean: bool,
    findings: Vec<FindingForm<'a>>,
    explained: Vec<ExplainedForm<'a>>,
}

impl<'a> EntryForm<'a> {
    fn of(entry: &'a EntryReport) -> Self {
        let explained = |explained: &'a [Explained]| explained.iter().map(ExplainedForm::of);
        Self {
            key: entry.key.as_ref().map(Key::as_str),
            name: &entry.name,
            path: shown(&entry.path),
            line: entry.line,
            parts: entry.parts.iter().map(PartForm::of).collect(),
            quotations: entry.quotations,
            source: OwnSource::name(entry.source),
            clean: entry.is_clean(),
            findings: entry.findings.iter().map(FindingForm::of).collect(),
            explained: explained(&entry.explained).collect(),
        }
    }
}

#[derive(Serialize)]
struct PartForm {
    part: &'static str,
    words: usize,
}

impl PartForm {
    fn of(part: &PartWords) -> Self {
        Self {
            part: part.kind.name(),
            words: part.words,
        }
    }
}

#[derive(Serialize)]
struct WithoutForm<'a> {
    key: &'a str,
    name: &'a str,
}

impl<'a> WithoutForm<'a> {
    fn of(reference: &'a WithoutEntry) -> Self {
        Self {
            key: reference.key.as_str(),
            name: &reference.name,
        }
    }
}

#[derive(Serialize)]
struct NotAnEntryForm<'a> {
    path: String,
    line: usize,
    heading: Option<&'a str>,
    start: &'a str,
    words: usize,
}

impl<'a> NotAnEntryForm<'a> {
    fn of(one: &'a NotAnEntry) -> Self {
        Self {
            path: shown(&one.path),
            line: one.line,
            heading: one.heading.as_deref(),
            start: &one.start,
            words: one.words,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::SCHEMA;
    use crate::findings::notes::OwnSource;
    use crate::report::json::CHECK_SCHEMA;
    use serde_json::{Value, json};

    /// The definitions that the contract shares with the one of a draft.
    #[test]
    fn shared_definitions_are_the_same() {
        let notes: Value = serde_json::from_str(SCHEMA).unwrap();
        let check: Value = serde_json::from_str(CHECK_SCHEMA).unwrap();
        let shared = notes["$defs"].as_object().unwrap();
        let mut compared = 0;
        for (name, definition) in shared {
            if !check["$defs"][name].is_null() {
                assert_eq!(definition, &check["$defs"][name], "{name}");
                compared += 1;
            }
        }
        assert!(compared > 10, "{compared}");
        let source = &shared["entry"]["properties"]["source"]["enum"];
        assert_eq!(source, &json!(OwnSource::ALL.map(OwnSource::name)));
    }
}
