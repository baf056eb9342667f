//! Bytes to [`Text`], one file a format.
//!
//! 1. The ending names the format ([`Format`]).
//! 2. The size is checked before anything is read.
//! 3. [`decode`] turns bytes into characters, whatever their encoding.
//! 4. The reader of the format finds blocks; [`pages`] finds page marks and mends paragraphs they
//!    break; [`reference_list`] finds the document's own references.

mod decode;
mod folder;
mod markdown;
mod pages;
mod plain;
mod reference_list;

use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

use crate::text::Text;

pub use folder::{Folder, folder};

/// A file as read, with what a reader of the report should know about how it was read.
#[derive(Debug, Clone)]
pub struct ReadFile {
    /// The document.
    pub text: Text,
    /// Remarks such as "read as Windows-1252"; shown in reports, never fatal.
    pub remarks: Vec<String>,
    /// References that the file carries with its citations, as word processors' fields do.
    pub carried: Vec<CarriedReference>,
}

/// A reference stored inside a document beside its citations.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CarriedReference {
    /// The key that the document's recorded citations use for it.
    pub key: String,
    /// The reference as one item of CSL JSON.
    pub csl_json: String,
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
    /// A folder where a file was asked for.
    #[error("{}: this is a folder; name the files in it", path.display())]
    Folder {
        /// The folder.
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

impl ReadError {
    /// The message without the name of the file, for where that stands beside it.
    #[must_use]
    pub fn why(&self, path: &Path) -> String {
        let message = self.to_string();
        let named = format!("{}: ", path.display());
        message.strip_prefix(&named).unwrap_or(&message).to_owned()
    }
}

/// The formats that can be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// Plain text.
    Plain,
    /// CommonMark with tables and footnotes; Pandoc's citations are left as they stand.
    Markdown,
}

/// What [`ReadError::Unsupported`] names.
const SUPPORTED: &str = ".txt, .text, .md, .markdown";

/// The largest file that can be read at all, in megabytes: positions are 32 bits wide.
const POSITIONS_MB: u64 = 4000;

impl Format {
    /// The format a file's ending names; a file without an ending is plain text.
    ///
    /// # Errors
    /// [`ReadError::Unsupported`] for any other ending.
    pub fn of(path: &Path) -> Result<Self, ReadError> {
        let ending = path
            .extension()
            .map(|ending| ending.to_string_lossy().to_lowercase());
        match ending.as_deref() {
            None | Some("txt" | "text") => Ok(Self::Plain),
            Some("md" | "markdown") => Ok(Self::Markdown),
            Some(other) => Err(ReadError::Unsupported {
                path: path.to_owned(),
                ending: format!(".{other}"),
                supported: SUPPORTED,
            }),
        }
    }
}

/// Reads one file by its ending, if it is no larger than `limit_mb` megabytes (10^6 bytes).
///
/// # Errors
/// [`ReadError`] where the file can't be opened, is of an unknown or binary format, or is too large.
pub fn read(path: &Path, limit_mb: u64) -> Result<ReadFile, ReadError> {
    let format = Format::of(path)?;
    let bytes = bytes(path, limit_mb.min(POSITIONS_MB))?;
    from_bytes(bytes, format).ok_or_else(|| ReadError::Binary {
        path: path.to_owned(),
    })
}

/// Reads the bytes of a file in a known format; `None` where they are no text.
#[must_use]
pub fn from_bytes(bytes: Vec<u8>, format: Format) -> Option<ReadFile> {
    let decoded = decode::decode(bytes)?;
    let mut remarks: Vec<String> = decoded.remark.into_iter().collect();
    let text = match format {
        Format::Plain => plain::read(decoded.content, decoded.origin),
        Format::Markdown => {
            let (text, html) = markdown::read(&decoded.content, &decoded.origin);
            if html {
                remarks.push("HTML blocks in the Markdown were left out".to_owned());
            }
            text
        }
    };
    Some(ReadFile {
        text,
        remarks,
        carried: Vec::new(),
    })
}

fn bytes(path: &Path, limit_mb: u64) -> Result<Vec<u8>, ReadError> {
    let refused = |cause| ReadError::Io {
        path: path.to_owned(),
        cause,
    };
    let too_large = |size: u64| ReadError::TooLarge {
        path: path.to_owned(),
        size_mb: size.div_ceil(1_000_000),
        limit_mb,
    };
    let limit = limit_mb.saturating_mul(1_000_000);
    let file = File::open(path).map_err(refused)?;
    let about = file.metadata().map_err(refused)?;
    if about.is_dir() {
        return Err(ReadError::Folder {
            path: path.to_owned(),
        });
    }
    if about.len() > limit {
        return Err(too_large(about.len()));
    }
    // A pipe tells no size, and a file may grow while it is read.
    let mut bytes = Vec::with_capacity(usize::try_from(about.len()).unwrap_or_default());
    file.take(limit.saturating_add(1))
        .read_to_end(&mut bytes)
        .map_err(refused)?;
    match bytes.len() as u64 {
        size if size > limit => Err(too_large(size)),
        _ => Ok(bytes),
    }
}

#[cfg(test)]
mod tests;
