//! Entries of the annotated bibliography.
//!
//! 1. [`outline`](outline::outline) finds the marks of a note file: headings, bold lines and labels, and
//!    says of each whether it begins an entry, a part of one, or neither.
//! 2. [`key`](key::of_heading) tells which reference a heading speaks of.
//! 3. [`parse`](parse::entries) turns the marks into entries with their parts.

mod author_year;
mod key;
mod outline;
mod parse;

use std::path::{Path, PathBuf};

use rayon::prelude::*;

use super::files::{read_text, shown, walk};
use super::{Key, LeftOut, References, Settings};
use crate::text::{ByteRange, MarkedText};

/// One file of notes.
#[derive(Debug)]
pub struct NoteFile {
    /// The file, relative to the review.
    pub path: PathBuf,
    /// The text, marked.
    pub text: MarkedText,
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
    /// Its heading as written; the name of the file where it has none.
    pub heading: String,
    /// Its file, as an index into [`Review::note_files`](super::Review::note_files).
    pub file: usize,
    /// Heading and all parts.
    pub range: ByteRange,
    /// Its parts in order of the text. A kind may come more than once.
    pub parts: Vec<Part>,
}

/// Reads all files of notes and the entries in them.
pub(super) fn read(
    root: &Path,
    settings: &Settings,
    references: &References,
    left_out: &mut Vec<LeftOut>,
) -> (Vec<NoteFile>, Vec<Entry>) {
    let Some(paths) = walk(root, &settings.notes) else {
        left_out.push(LeftOut {
            what: shown(root, &settings.notes),
            why: "there is no such folder of notes, so no wording can be followed through notes; make it where you keep entries"
                .to_owned(),
        });
        return (Vec::new(), Vec::new());
    };
    let read: Vec<_> = paths
        .into_par_iter()
        .map(|path| {
            let text = read_text(root, &path, settings.max_file_mb);
            (
                path,
                text.map(|(text, remarks)| (MarkedText::new(text), remarks)),
            )
        })
        .collect();
    let headings = outline::PartHeadings::of(settings);
    let (mut files, mut entries) = (Vec::new(), Vec::new());
    for (path, text) in read {
        let what = shown(root, &path);
        let mut tell = |why: String| {
            left_out.push(LeftOut {
                what: what.clone(),
                why,
            })
        };
        let (text, remarks) = match text {
            Ok(read) => read,
            Err(why) => {
                tell(why);
                continue;
            }
        };
        remarks.into_iter().for_each(&mut tell);
        let stem = path.file_stem().unwrap_or_default().to_string_lossy();
        let found = parse::entries(&text.text, &stem, &headings, references, &mut tell);
        if found.is_empty() {
            tell("no entry was found in it, so it was not compared; begin each entry with a heading that names its reference".to_owned());
        }
        let file = files.len();
        entries.extend(found.into_iter().map(|entry| Entry { file, ..entry }));
        files.push(NoteFile { path, text });
    }
    (files, entries)
}

#[cfg(test)]
mod tests;
