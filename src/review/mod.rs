//! The writer's review folder: settings, references, sources and entries.
//!
//! 1. [`Settings`] come from `ownwords.toml` over the documented defaults.
//! 2. [`References`] come from the bibliography files.
//! 3. [`Source`]s are the files in `sources/`, each named by its reference key.
//! 4. [`Entry`]s are the annotated-bibliography entries in the files of `notes/`.
//!
//! What can't be used is told in [`LeftOut`]s and never stops the rest.

mod entries;
mod files;
pub mod references;
mod settings;
mod sources;

use std::path::{Path, PathBuf};

pub use entries::{Entry, NoteFile, Part, PartKind};
pub use references::{Key, Person, Reference, ReferenceKind, References, Resolved};
pub use settings::{AboutSetting, Options, Place, SETTINGS_FILE, Settings, SettingsError, Shape};
pub use sources::Source;

/// Something of the review that was not compared, or was read in a way the reader should know of.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct LeftOut {
    /// The file or key it is about, relative to the review.
    pub what: String,
    /// What is the matter and what to do about it, in one sentence.
    pub why: String,
}

/// Why a review can't be used at all.
#[derive(Debug, thiserror::Error)]
pub enum ReviewError {
    /// No such folder.
    #[error("{}: no such folder; name the folder that holds ownwords.toml, or make one with `ownwords start`", path.display())]
    Missing {
        /// The folder as named.
        path: PathBuf,
    },
    /// No review folder was named and none found upward.
    #[error("{}: no ownwords.toml here or in any folder above; name the review with --review DIR, or make one with `ownwords start DIR`", from.display())]
    NotFound {
        /// Where the search began.
        from: PathBuf,
    },
    /// Neither sources nor notes could be read.
    #[error("{}: nothing to compare with; put source texts into {}, each named by its reference key", path.display(), sources.display())]
    Empty {
        /// The review folder.
        path: PathBuf,
        /// Its folder of sources.
        sources: PathBuf,
    },
    /// The settings can't be used.
    #[error(transparent)]
    Settings(#[from] SettingsError),
}

/// A review folder as read.
#[derive(Debug)]
pub struct Review {
    /// The folder.
    pub root: PathBuf,
    /// Its settings.
    pub settings: Settings,
    /// All references, by key.
    pub references: References,
    /// The stored source texts in order of their keys (then of their paths).
    pub sources: Vec<Source>,
    /// The files of notes in order of their paths.
    pub note_files: Vec<NoteFile>,
    /// The entries in order of file and position.
    pub entries: Vec<Entry>,
    /// What could not be used, sorted.
    pub left_out: Vec<LeftOut>,
}

impl Review {
    /// Reads a review folder.
    ///
    /// # Errors
    /// [`ReviewError`] where the folder or its settings can't be used; a bad source, note or
    /// reference is no error but a [`LeftOut`].
    pub fn open(root: &Path) -> Result<Self, ReviewError> {
        let _ = root;
        Err(ReviewError::Missing {
            path: root.to_owned(),
        })
    }

    /// The nearest folder upward from `from` that holds `ownwords.toml`.
    ///
    /// # Errors
    /// [`ReviewError::NotFound`] where there is none.
    pub fn find(from: &Path) -> Result<PathBuf, ReviewError> {
        Err(ReviewError::NotFound {
            from: from.to_owned(),
        })
    }
}
