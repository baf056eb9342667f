//! Entries of the annotated bibliography.

use std::path::PathBuf;

use super::Key;
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
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
    /// Where in the note file's Text (its body, without its heading).
    pub range: ByteRange,
}

/// One entry.
#[derive(Debug, Clone)]
pub struct Entry {
    /// The reference it is about; `None` where its heading resolves to none.
    pub key: Option<Key>,
    /// Its heading as written.
    pub heading: String,
    /// Its file, as an index into [`Review::note_files`](super::Review::note_files).
    pub file: usize,
    /// Heading and all parts.
    pub range: ByteRange,
    /// Its parts in order of the text.
    pub parts: Vec<Part>,
}
