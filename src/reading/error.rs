//! Why a file could not be read: because of the file system or the file's name ([`ReadError`]), or because of
//! its bytes ([`Unreadable`]).

use std::path::{Path, PathBuf};

/// What is wrong with the bytes of a file and what to do about it. [`ReadError::Content`] puts the file's
/// name before it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum Unreadable {
    /// The bytes are not text.
    #[error(
        "this is not a text file (it holds bytes that no text has); name a text or Markdown file"
    )]
    Binary,
    /// The bytes are another format than the file's name says.
    #[error(
        "this should be {expected}, but {found}; give the file the right ending, or save it again as {expected}"
    )]
    OtherFormat {
        /// The format that its name promises, such as `Word (.docx)`.
        expected: &'static str,
        /// What was found instead.
        found: String,
    },
    /// The format is right but something in it is broken or missing.
    #[error("the file is damaged ({0}); open it in the program that made it and save it again")]
    Damaged(String),
    /// The content is encrypted.
    #[error("the file is protected with a password; save a copy without the password and use that")]
    Protected,
    /// The file needs more than a setting allows.
    #[error(
        "{what}, over the limit that {setting} sets in ownwords.toml, so it was not read; save it again in the program that made it, split it, or raise {setting}"
    )]
    OverLimit {
        /// What it needs.
        what: String,
        /// The name of the setting.
        setting: &'static str,
    },
    /// The file needs more memory or time than is safe.
    #[error(
        "{0}, which no ordinary document needs, so it was not read; save it again in the program that made it, or split it"
    )]
    Excessive(String),
    /// There is no text in it, only pictures of pages.
    #[error(
        "the file holds no text, only pictures of pages; have the text recognised (OCR) and use that file"
    )]
    Pictures,
    /// Its fonts don't record which characters they show.
    #[error(
        "its text comes out as gibberish, since its fonts don't say which characters they show; have the text recognised (OCR), or save it as plain text in a program that shows it correctly, and use that file"
    )]
    Gibberish,
    /// The reader of this format was left out when the program was built.
    #[error(
        "this build of ownwords can't read {0}; use one that can, or save the file as plain text"
    )]
    NotBuiltIn(&'static str),
}

/// Why a file could not be read. Each message names the file, what is wrong and what to do.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum ReadError {
    /// The file system refused.
    #[error("{}: could not be read ({cause}); check that the file exists and that you may open it", path.display())]
    Io {
        /// The file.
        path: PathBuf,
        /// What the system said.
        cause: std::io::Error,
    },
    /// A folder where a file was expected.
    #[error("{}: this is a folder; name the files in it", path.display())]
    Folder {
        /// The folder.
        path: PathBuf,
    },
    /// A pipe or a device where a file was expected.
    #[error("{}: this is a pipe or a device, and only files are read; save what it gives in a file and name that", path.display())]
    NotRegular {
        /// Its path.
        path: PathBuf,
    },
    /// No reader for this ending.
    #[error("{}: files ending in {ending} can't be read yet; save it as one of: {supported}", path.display())]
    Unsupported {
        /// The file.
        path: PathBuf,
        /// Its ending.
        ending: String,
        /// The endings that can be read.
        supported: &'static str,
    },
    /// The content of the file can't be read.
    #[error("{}: {why}", path.display())]
    Content {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        why: Unreadable,
    },
    /// A folder that holds more than the limit.
    #[error("{}: it holds more than {limit} files and folders, so none was read; name the files themselves or a smaller folder, or raise max_files in ownwords.toml", path.display())]
    TooManyFiles {
        /// The folder.
        path: PathBuf,
        /// The limit.
        limit: usize,
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

impl ReadError {
    /// The message without the name of the file, for use where the name is already shown.
    #[must_use]
    pub fn why(&self, path: &Path) -> String {
        let message = self.to_string();
        let named = format!("{}: ", path.display());
        message.strip_prefix(&named).unwrap_or(&message).to_owned()
    }
}
