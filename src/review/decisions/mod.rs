//! Decisions on findings: what the writer has looked at and settled, kept in `decisions.toml`.
//!
//! 1. [`file`](mod@file) reads the file, one block a decision, and says with its line what is wrong with it.
//! 2. [`edit`] puts a block in or takes one out and leaves every other byte as it stands: hand-written
//!    remarks stay, and what version control shows is one block. Blocks are sorted by the finding's ID,
//!    which is as good as random, so that the blocks of two people seldom come to stand together.
//! 3. [`store`] changes the file under a lock, through a temporary file and a rename, so that nobody's
//!    decision gets lost and no run that ends half-way leaves half a file.
//!
//! Which finding a decision holds for is decided in [`crate::findings::applying_decisions`].

mod change;
mod edit;
mod file;
#[cfg(feature = "disk")]
mod store;

use std::io::ErrorKind;
use std::path::{Path, PathBuf};

pub use change::changed;
#[cfg(feature = "disk")]
pub use store::change;
#[cfg(feature = "disk")]
pub(in crate::review) use store::replace_file;

use crate::reading::{Files, ReadError};

/// The name of the file in the review folder.
pub const DECISIONS_FILE: &str = "decisions.toml";

/// The scheme by which decisions name findings; it changes when equal passages would get other IDs.
pub const SCHEME: &str = "ownwords-finding-1";

/// One decision: a block of the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Decision {
    /// The finding's ID without its count: made from kind, source and wording only.
    pub id: String,
    /// Made from the words before and behind the passage; distinguishes passages with the same words.
    pub place: String,
    /// The kind of the finding, such as `unmarked-copy`.
    pub kind: String,
    /// The file it was found in, as the review names it.
    pub draft: String,
    /// The day of the decision, `YYYY-MM-DD`.
    pub on: String,
    /// The reason.
    pub because: String,
    /// The first words of the passage, so that a person knows what is meant.
    pub text: String,
}

impl Decision {
    /// The name of its block: `uc-1a2b3c4d.5e6f7a8b`.
    #[must_use]
    pub fn name(&self) -> String {
        format!("{}.{}", self.id, self.place)
    }
}

/// All decisions of a review, in order of ID and place.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Decisions {
    sorted: Vec<Decision>,
}

impl Decisions {
    /// These decisions.
    #[must_use]
    pub fn new(mut decisions: Vec<Decision>) -> Self {
        decisions.sort_by(|a, b| (&a.id, &a.place).cmp(&(&b.id, &b.place)));
        Self { sorted: decisions }
    }

    /// Reads the decisions of a review folder; a missing file holds none.
    ///
    /// # Errors
    /// [`DecisionsError`] where the file can't be read or understood, or is larger than so many megabytes.
    pub fn open(files: &dyn Files, root: &Path, limit_mb: u64) -> Result<Self, DecisionsError> {
        let path = root.join(DECISIONS_FILE);
        file::parse(&path, &content(files, &path, limit_mb)?)
    }

    /// All of them in order.
    #[must_use]
    pub fn all(&self) -> &[Decision] {
        &self.sorted
    }

    /// Those on findings of this ID (without its count).
    #[must_use]
    pub fn of(&self, id: &str) -> &[Decision] {
        let from = self
            .sorted
            .partition_point(|decision| decision.id.as_str() < id);
        let rest = self.sorted.get(from..).unwrap_or_default();
        let count = rest.partition_point(|decision| decision.id == id);
        rest.get(..count).unwrap_or_default()
    }
}

/// The content of the file; empty where there is none.
fn content(files: &dyn Files, path: &Path, limit_mb: u64) -> Result<String, DecisionsError> {
    let unreadable = |cause| DecisionsError::Unreadable {
        path: path.to_owned(),
        cause,
    };
    let bytes = match files.read(path, limit_mb) {
        Ok(bytes) => bytes,
        Err(ReadError::Io { cause, .. }) if cause.kind() == ErrorKind::NotFound => Vec::new(),
        Err(ReadError::Io { cause, .. }) => return Err(unreadable(cause)),
        Err(other) => return Err(DecisionsError::NotRead(other)),
    };
    let content = String::from_utf8(bytes);
    let content = content.map_err(|_| {
        unreadable(std::io::Error::new(
            ErrorKind::InvalidData,
            "it is no UTF-8",
        ))
    })?;
    Ok(match content.strip_prefix('\u{feff}') {
        Some(rest) => rest.to_owned(),
        None => content,
    })
}

/// Why decisions can't be read or changed. A file that is not understood is never written to.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum DecisionsError {
    /// The file system refused, or the file is no UTF-8 text.
    #[error("{}: could not be read ({cause}); check that you may open it and that it is plain text", path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        cause: std::io::Error,
    },
    /// It is no file, or too large a one.
    #[error(transparent)]
    NotRead(ReadError),
    /// The file is not as it should be.
    #[error("{}, line {line}: {problem}", path.display())]
    Broken {
        /// The file.
        path: PathBuf,
        /// The line, from 1.
        line: usize,
        /// What is wrong there and what to do.
        problem: String,
    },
    /// The file can't be written.
    #[error("{}: could not be written ({cause}); nothing was changed. Check the disk and that you may write there", path.display())]
    Unwritable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        cause: std::io::Error,
    },
    /// Somebody else holds the lock.
    #[error("{}: another run of ownwords is changing the decisions here; nothing was changed, try again when it is done", path.display())]
    Busy {
        /// The review folder.
        path: PathBuf,
    },
}

impl DecisionsError {
    /// The message without the name of the file, for where that stands beside it.
    #[must_use]
    pub fn why(&self) -> String {
        match self {
            Self::Broken { line, problem, .. } => format!("line {line}: {problem}"),
            other => {
                let message = other.to_string();
                let (_, why) = message.split_once(": ").unwrap_or(("", &message));
                why.to_owned()
            }
        }
    }
}

#[cfg(test)]
mod tests;
