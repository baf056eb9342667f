//! The result of the check: entries with their findings, and what has no entry.

use std::path::PathBuf;

use crate::findings::{Explained, Finding};
use crate::review::{Key, LeftOut, NotAnEntry, PartKind};

/// How much of an entry's own source is stored.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum OwnSource {
    /// Its text, or excerpts of it.
    Stored,
    /// Only the abstract that the bibliography file holds.
    Abstract,
    /// Nothing, or the entry's reference is unknown.
    Missing,
}

impl OwnSource {
    /// All, for the schema.
    pub const ALL: [Self; 3] = [Self::Stored, Self::Abstract, Self::Missing];

    /// The name in JSON.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Stored => "stored",
            Self::Abstract => "abstract",
            Self::Missing => "missing",
        }
    }
}

/// A part of an entry and its words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PartWords {
    /// Which.
    pub kind: PartKind,
    /// Its words, quotations included.
    pub words: usize,
}

/// The findings of one entry. In its findings, `draft` is a place in the file of notes.
#[derive(Debug, Clone, PartialEq)]
pub struct EntryReport {
    /// The reference it is about.
    pub key: Option<Key>,
    /// The reference in words, or the entry's heading.
    pub name: String,
    /// The file, relative to the review.
    pub path: PathBuf,
    /// The line of the file it begins on, from 1.
    pub line: usize,
    /// Its parts in order.
    pub parts: Vec<PartWords>,
    /// How many quotations it holds.
    pub quotations: usize,
    /// Whether its own source could be compared.
    pub source: OwnSource,
    /// In order of the text, then of kind.
    pub findings: Vec<Finding>,
    /// Shared wording that is no finding.
    pub explained: Vec<Explained>,
}

impl EntryReport {
    /// The findings that are not settled.
    pub fn open(&self) -> impl Iterator<Item = &Finding> {
        let findings = self.findings.iter();
        findings.filter(|finding| finding.settled.is_none())
    }

    /// Whether nothing is open.
    #[must_use]
    pub fn is_clean(&self) -> bool {
        self.open().next().is_none()
    }
}

/// A reference on which the notes hold no entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WithoutEntry {
    /// Its key.
    pub key: Key,
    /// The reference in words.
    pub name: String,
}

/// The result of `notes`.
#[derive(Debug, Clone, PartialEq)]
pub struct NotesReport {
    /// The review folder as named.
    pub review: PathBuf,
    /// How many sources were compared.
    pub sources: usize,
    /// Words of all sources.
    pub source_words: usize,
    /// The key that alone was asked for.
    pub only: Option<String>,
    /// The entries in order of file and position.
    pub entries: Vec<EntryReport>,
    /// References without an entry in order of their keys; empty where one entry was asked for.
    pub without_entry: Vec<WithoutEntry>,
    /// Prose in the notes that belongs to no entry; empty where one entry was asked for.
    pub not_entries: Vec<NotAnEntry>,
    /// What was not compared and why.
    pub left_out: Vec<LeftOut>,
}

impl NotesReport {
    /// Whether any finding is not settled.
    #[must_use]
    pub fn has_open(&self) -> bool {
        !self.entries.iter().all(EntryReport::is_clean)
    }
}
