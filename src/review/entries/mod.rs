//! Entries of the annotated bibliography.
//!
//! 1. [`outline`](outline::outline) finds the marks of a note file: headings, bold lines, labels and cells of tables, and
//!    says of each whether it begins an entry, a part of one, or neither.
//! 2. [`key`](key::of_heading) says which reference a heading means.
//! 3. [`parse`](parse::entries) turns the marks into entries with their parts.
//! 4. Annotations kept in a bibliography file are entries too ([`annotated`]).
//! 5. Prose that belongs to no entry is reported ([`NotAnEntry`]), not dropped.

pub(super) mod annotated;
mod author_year;
mod key;
mod outline;
mod parse;
mod tables;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use rayon::prelude::*;

use super::files::Here;
use super::references::Annotation;
use super::{Key, LeftOut, References, Settings, Why};
use crate::text::{BlockKind, ByteRange, MarkedText, Text};

/// One file of notes.
#[derive(Debug)]
pub struct NoteFile {
    /// The file, relative to the review.
    pub path: PathBuf,
    /// The text, marked.
    pub text: Arc<MarkedText>,
    /// Whether it is a bibliography file, of which the annotations alone are the text.
    pub in_bibliography: bool,
}

/// Prose in a file of notes that could not be understood as part of an entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotAnEntry {
    /// The file, relative to the review.
    pub path: PathBuf,
    /// The line of its Text on which it begins, from 1.
    pub line: usize,
    /// The heading above it, where one stands right there.
    pub heading: Option<String>,
    /// Its first words.
    pub start: String,
    /// Its words.
    pub words: usize,
}

/// What the notes hold.
#[derive(Debug, Default)]
pub(super) struct Notes {
    pub(super) files: Vec<NoteFile>,
    pub(super) entries: Vec<Entry>,
    pub(super) not_entries: Vec<NotAnEntry>,
}

/// The parts of an entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PartKind {
    /// The full reference.
    Reference,
    /// What the source says, in the writer's words.
    Summary,
    /// Words of the source, marked, with pages.
    Quotations,
    /// The writer's own thoughts.
    Comments,
}

impl PartKind {
    /// The name used in reports.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Reference => "reference",
            Self::Summary => "summary",
            Self::Quotations => "quotations",
            Self::Comments => "comments",
        }
    }
}

/// A part of an entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Part {
    /// Which.
    pub kind: PartKind,
    /// Where in the note file's Text: its body, without its heading. Empty, behind the heading, where
    /// nothing stands under it. A reference that is written as the entry's heading is that heading.
    pub range: ByteRange,
}

/// One entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// The reference it is about; `None` where its heading resolves to none.
    pub key: Option<Key>,
    /// Where it has no key: references that its heading may mean, as a question to the writer.
    pub hint: Option<String>,
    /// Its heading as written; the name of the file where it has none.
    pub heading: String,
    /// Its file, as an index into [`Review::note_files`](super::Review::note_files).
    pub file: usize,
    /// Heading and all parts.
    pub range: ByteRange,
    /// Its parts in order of the text. A kind may come more than once.
    pub parts: Vec<Part>,
}

/// Reads all files of notes and the entries in them, then the annotations of the bibliography files.
pub(super) fn read(
    here: Here<'_>,
    settings: &Settings,
    references: &References,
    annotations: &[Annotation],
    left_out: &mut Vec<LeftOut>,
) -> Notes {
    let headings = outline::PartHeadings::of(settings);
    let is_annotated = annotations.iter().any(|one| !one.notes.is_empty());
    let mut notes = match here.files_in(&settings.notes, &settings.limits, left_out) {
        Some(paths) => read_files(here, paths, settings, &headings, references, left_out),
        None if is_annotated => Notes::default(),
        None => {
            left_out.push(LeftOut {
                what: here.shown(&settings.notes),
                why: Why::NoNotes,
            });
            Notes::default()
        }
    };
    let first = notes.files.len();
    let (files, entries) = annotated::read(annotations, &headings, references, first);
    notes.files.extend(files);
    notes.entries.extend(entries);
    notes
}

fn read_files(
    here: Here<'_>,
    paths: Vec<PathBuf>,
    settings: &Settings,
    headings: &outline::PartHeadings,
    references: &References,
    left_out: &mut Vec<LeftOut>,
) -> Notes {
    let read: Vec<_> = paths
        .into_par_iter()
        .map(|path| {
            let text = here.read_text(&path, &settings.limits);
            (
                path,
                text.map(|(text, remarks)| (MarkedText::new(text), remarks)),
            )
        })
        .collect();
    let mut notes = Notes::default();
    for (path, text) in read {
        let what = here.shown(&path);
        let mut report = |why: Why| {
            left_out.push(LeftOut {
                what: what.clone(),
                why,
            })
        };
        let (text, remarks) = match text {
            Ok(read) => read,
            Err(why) => {
                report(Why::Unread(why));
                continue;
            }
        };
        remarks.into_iter().map(Why::Remark).for_each(&mut report);
        let stem = path.file_stem().unwrap_or_default().to_string_lossy();
        let found = parse::entries(&text.text, &stem, headings, references, &mut report);
        if found.is_empty() {
            report(Why::NoEntry);
        } else {
            let ranges: Vec<ByteRange> = found.iter().map(|entry| entry.range).collect();
            notes.not_entries.extend(outside(&path, &text, &ranges));
        }
        let file = notes.files.len();
        let found = found.into_iter().map(|entry| Entry { file, ..entry });
        notes.entries.extend(found);
        notes.files.push(NoteFile {
            path,
            text: Arc::new(text),
            in_bibliography: false,
        });
    }
    notes
}

/// First words of what is no entry.
const FIRST_WORDS: usize = 8;

/// The prose of a file that stands in none of its entries, one piece for each stretch between headings.
fn outside(path: &Path, text: &MarkedText, entries: &[ByteRange]) -> Vec<NotAnEntry> {
    let mut found: Vec<NotAnEntry> = Vec::new();
    let mut heading: Option<ByteRange> = None;
    let mut goes_on = false;
    for block in text.text.blocks() {
        // Entries follow one another.
        let next = entries.partition_point(|entry| entry.end() <= block.range.start());
        if entries
            .get(next)
            .is_some_and(|entry| entry.overlaps(block.range))
        {
            (heading, goes_on) = (None, false);
            continue;
        }
        if matches!(block.kind, BlockKind::Heading { .. }) {
            (heading, goes_on) = (Some(block.range), false);
            continue;
        }
        let words = text.words_in(block.range).len();
        if !block.kind.is_prose() || words == 0 {
            continue;
        }
        match found.last_mut() {
            Some(last) if goes_on => last.words += words,
            _ => found.push(NotAnEntry {
                path: path.to_owned(),
                line: text.text.line(heading.unwrap_or(block.range).start()),
                heading: heading.map(|range| one_line(&text.text, range, usize::MAX)),
                start: one_line(&text.text, block.range, FIRST_WORDS),
                words,
            }),
        }
        goes_on = true;
    }
    found
}

fn one_line(text: &Text, range: ByteRange, most: usize) -> String {
    let words: Vec<&str> = text.slice(range).split_whitespace().take(most).collect();
    words.join(" ")
}

#[cfg(test)]
mod tests;
