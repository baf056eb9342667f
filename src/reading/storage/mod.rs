//! Where files come from. Everything that is read of a review, its drafts and what they include goes through
//! [`Files`]. So the same code works on a folder on the disk and on files that a program holds in memory, as
//! it must where there is no file system at all.
//!
//! Only regular files are read: a pipe may never end, and a device has no size. Every read has a limit, and a
//! folder is listed entry by entry, so that the caller can stop.

#[cfg(feature = "disk")]
mod disk;
mod memory;

use std::ffi::OsString;
use std::fmt::Debug;
use std::io;
use std::path::{Path, PathBuf};

#[cfg(feature = "disk")]
pub use disk::Disk;
pub use memory::Memory;

use super::ReadError;

/// The kind of file at a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FileKind {
    /// A regular file.
    File,
    /// A folder.
    Folder,
    /// A pipe, a socket or a device, which is never read.
    Other,
}

/// An entry of a folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Listed {
    /// Its name in the folder.
    pub name: OsString,
    /// Its kind, with links followed; `None` where a link leads to nothing.
    pub kind: Option<FileKind>,
    /// Whether it is a link.
    pub is_link: bool,
}

/// The entries of a folder, in no particular order.
pub type Listing<'a> = Box<dyn Iterator<Item = Listed> + 'a>;

/// A place that files come from.
pub trait Files: Debug + Send + Sync {
    /// What is at a path, with links followed; `None` where nothing is, or where it may not be looked at.
    fn kind(&self, path: &Path) -> Option<FileKind>;

    /// The entries of a folder, one after the other as they are requested.
    ///
    /// # Errors
    /// The system's error where there is no such folder or it can't be listed.
    fn list(&self, folder: &Path) -> io::Result<Listing<'_>>;

    /// The bytes of a regular file of at most `limit_mb` megabytes (10^6 bytes). No more than the limit is
    /// read, whatever size the file is said to have.
    ///
    /// # Errors
    /// [`ReadError`] where it is not a regular file, can't be opened or is larger.
    fn read(&self, path: &Path, limit_mb: u64) -> Result<Vec<u8>, ReadError>;

    /// The unique name of what is at a path, without links and `..`; `None` where nothing is.
    fn real(&self, path: &Path) -> Option<PathBuf>;
}

/// The error of [`Files::read`] for a file over the limit.
fn too_large(path: &Path, size: u64, limit_mb: u64) -> ReadError {
    ReadError::TooLarge {
        path: path.to_owned(),
        size_mb: size.div_ceil(1_000_000),
        limit_mb,
    }
}
