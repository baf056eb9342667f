//! Where files come from. Everything that is read of a review, its drafts and what they include goes through
//! [`Files`], so that the same way runs over a folder on the disk and over files that a program holds in memory, as
//! it must where there is no file system at all.
//!
//! Only regular files are read: a pipe may never end, and a device has no size. Every read has a limit, and a folder
//! is given entry by entry, so that whoever walks it can stop.

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

/// What stands at a path.
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
    /// What it is, through a link what that leads to; `None` where nothing is there.
    pub kind: Option<FileKind>,
    /// Whether it is a link.
    pub is_link: bool,
}

/// The entries of a folder, in no order.
pub type Listing<'a> = Box<dyn Iterator<Item = Listed> + 'a>;

/// A place that files come from.
pub trait Files: Debug + Send + Sync {
    /// What stands at a path, through links; `None` where nothing does or nobody may look.
    fn kind(&self, path: &Path) -> Option<FileKind>;

    /// The entries of a folder, one after the other as they are asked for.
    ///
    /// # Errors
    /// What the system says where there is no such folder or it can't be listed.
    fn list(&self, folder: &Path) -> io::Result<Listing<'_>>;

    /// The bytes of a regular file of at most this many megabytes (10^6 bytes). No more is read than the limit,
    /// whatever the file's size is said to be.
    ///
    /// # Errors
    /// [`ReadError`] where it is no regular file, can't be opened or is larger.
    fn read(&self, path: &Path, limit_mb: u64) -> Result<Vec<u8>, ReadError>;

    /// The one name of what stands at a path, without links and `..`; `None` where nothing does.
    fn real(&self, path: &Path) -> Option<PathBuf>;
}

/// What [`Files::read`] answers to a file over the limit.
fn too_large(path: &Path, size: u64, limit_mb: u64) -> ReadError {
    ReadError::TooLarge {
        path: path.to_owned(),
        size_mb: size.div_ceil(1_000_000),
        limit_mb,
    }
}
