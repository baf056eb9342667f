//! What of a review was not compared, or was read in a way the reader should know about.

use std::cmp::Ordering;

use super::Key;

/// Something that was left out, or noticed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// The file or key it is about, relative to the review.
    pub what: String,
    /// What is the matter and what to do about it.
    pub why: Why,
}

/// What is the matter. Displayed as one sentence that says what to do about it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum Why {
    /// There is no bibliography file.
    #[error(
        "no bibliography file was found; export your references as references.bib, .json or .ris into the review folder"
    )]
    NoBibliography,
    /// There is no folder of sources.
    #[error(
        "there is no such folder of sources; make it and put in source texts, each named by its reference key"
    )]
    NoSources,
    /// There is no folder of notes.
    #[error(
        "there is no such folder of notes, so no wording can be followed through notes; make it and put your entries there"
    )]
    NoNotes,
    /// It could not be read; the message of its reader, without its name.
    #[error("{0}")]
    Unread(String),
    /// It was read, with this remark of its reader.
    #[error("{0}")]
    Remark(String),
    /// The file of decisions could not be read, for this reason.
    #[error("{0}; until then no decision counts")]
    NoDecisions(String),
    /// A stored text belongs to no reference.
    #[error(
        "no reference has the key {key}, so this text was compared without one; name the file by a key of the references{}",
        hint.as_ref().map(|hint| format!("; {hint}")).unwrap_or_default()
    )]
    NoReference {
        /// The key that its name gives.
        key: Key,
        /// References that may be meant.
        hint: Option<String>,
    },
    /// Two stored texts belong to one reference.
    #[error("belongs to {key} like {other}; both were compared")]
    SecondText {
        /// The reference.
        key: Key,
        /// The other text's file.
        other: String,
    },
    /// No text of a reference is stored.
    #[error(
        "{}; to have {name} compared, put its text into {folder} as {key}.pdf, {key}.txt or {key}.md",
        if *has_abstract { "only its abstract was compared" } else { "no stored source" }
    )]
    NoText {
        /// The reference.
        key: Key,
        /// The reference in words.
        name: String,
        /// The folder of sources.
        folder: String,
        /// Whether its abstract is known.
        has_abstract: bool,
    },
    /// A file of notes holds no entry.
    #[error(
        "no entry was found in it, so it was not compared; begin each entry with a heading that names its reference"
    )]
    NoEntry,
    /// An entry's heading names no reference.
    #[error("line {line}: {problem}")]
    UnknownHeading {
        /// The line of the entry.
        line: usize,
        /// What is the matter with it.
        problem: String,
    },
    /// A folder inside a folder of chapters.
    #[error(
        "a folder inside the folder of chapters is not searched; name it too if it holds chapters"
    )]
    NotSearched,
    /// A file in a folder of chapters that can't be read.
    #[error("not in a format that can be read, so it was not taken for a chapter")]
    NoChapter,
    /// A draft has no earlier version.
    #[error(
        "the folder of the earlier version holds no file of this name, so it is reported as it is now"
    )]
    NoEarlierVersion,
}

/// By what is left out, then by what is said of it, as a reader looks it up.
impl Ord for LeftOut {
    fn cmp(&self, other: &Self) -> Ordering {
        let said = |one: &Self| one.why.to_string();
        let kind = |one: &Self| format!("{:?}", one.why);
        (self.what.cmp(&other.what))
            .then_with(|| said(self).cmp(&said(other)))
            .then_with(|| kind(self).cmp(&kind(other)))
    }
}

impl PartialOrd for LeftOut {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
