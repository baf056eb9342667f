//! Files on the disk. Each requested file is remembered, whether it could be read or not, so that nothing is
//! ever written over it.

use std::collections::BTreeSet;
use std::fs::{self, DirEntry, File, FileType};
use std::io::{self, Read as _};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use super::{FileKind, Files, Listed, Listing, too_large};
use crate::reading::ReadError;

/// The file system of this machine.
#[derive(Debug, Default)]
pub struct Disk {
    /// By the unique name of each file.
    kept: Mutex<BTreeSet<PathBuf>>,
}

impl Disk {
    /// The file system, with nothing read yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Remembers a file as one that must not be overwritten, as if it had been read.
    pub fn keep(&self, path: &Path) {
        if let Ok(real) = path.canonicalize() {
            // A set of names is consistent at any moment, even if a thread panicked while it held the lock.
            let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
            kept.insert(real);
        }
    }

    /// Opens a regular file for reading in pieces, and remembers it.
    ///
    /// # Errors
    /// [`ReadError`] where it is not a regular file or can't be opened.
    pub fn open(&self, path: &Path) -> Result<File, ReadError> {
        self.keep(path);
        let refused = |cause| ReadError::Io {
            path: path.to_owned(),
            cause,
        };
        // Checked before it is opened, since opening a pipe waits for a writer; and again afterwards, since
        // another file may have taken its place.
        is_regular(path, &fs::metadata(path).map_err(refused)?)?;
        let file = File::open(path).map_err(refused)?;
        is_regular(path, &file.metadata().map_err(refused)?)?;
        Ok(file)
    }

    /// Whether a file was requested or marked to be kept, under whatever name.
    #[must_use]
    pub fn is_kept(&self, path: &Path) -> bool {
        let kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        path.canonicalize().is_ok_and(|real| kept.contains(&real))
    }
}

fn kind(of: FileType) -> FileKind {
    match of {
        of if of.is_file() => FileKind::File,
        of if of.is_dir() => FileKind::Folder,
        _ => FileKind::Other,
    }
}

fn is_regular(path: &Path, about: &fs::Metadata) -> Result<(), ReadError> {
    let path = || path.to_owned();
    match kind(about.file_type()) {
        FileKind::File => Ok(()),
        FileKind::Folder => Err(ReadError::Folder { path: path() }),
        FileKind::Other => Err(ReadError::NotRegular { path: path() }),
    }
}

fn listed(entry: &DirEntry) -> Listed {
    let own = entry.file_type().ok();
    let is_link = own.is_some_and(|own| own.is_symlink());
    let through = || {
        fs::metadata(entry.path())
            .ok()
            .map(|about| about.file_type())
    };
    Listed {
        name: entry.file_name(),
        kind: if is_link { through() } else { own }.map(kind),
        is_link,
    }
}

impl Files for Disk {
    fn kind(&self, path: &Path) -> Option<FileKind> {
        let about = fs::metadata(path).ok()?;
        Some(kind(about.file_type()))
    }

    fn list(&self, folder: &Path) -> io::Result<Listing<'_>> {
        let entries = fs::read_dir(folder)?;
        Ok(Box::new(entries.flatten().map(|entry| listed(&entry))))
    }

    fn read(&self, path: &Path, limit_mb: u64) -> Result<Vec<u8>, ReadError> {
        let refused = |cause| ReadError::Io {
            path: path.to_owned(),
            cause,
        };
        let limit = limit_mb.saturating_mul(1_000_000);
        let file = self.open(path)?;
        let size = file.metadata().map_err(refused)?.len();
        if size > limit {
            return Err(too_large(path, size, limit_mb));
        }
        // A file may grow while it is read, and some system files don't report their size.
        let mut bytes = Vec::with_capacity(usize::try_from(size).unwrap_or_default());
        file.take(limit.saturating_add(1))
            .read_to_end(&mut bytes)
            .map_err(refused)?;
        match bytes.len() as u64 {
            size if size > limit => Err(too_large(path, size, limit_mb)),
            _ => Ok(bytes),
        }
    }

    fn real(&self, path: &Path) -> Option<PathBuf> {
        path.canonicalize().ok()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn requested_files_are_remembered_under_every_name() {
        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name);
        for name in ["read.txt", "large.txt", "named.txt", "other.txt"] {
            fs::write(path(name), vec![b'a'; 2_000_000]).unwrap();
        }
        let disk = Disk::new();
        assert!(disk.read(&path("read.txt"), 2).is_ok());
        assert!(disk.read(&path("large.txt"), 1).is_err());
        disk.keep(&path("named.txt"));
        for (name, kept) in [
            ("./read.txt", true),
            ("large.txt", true),
            ("named.txt", true),
            ("other.txt", false),
            ("gone.txt", false),
        ] {
            assert_eq!(disk.is_kept(&path(name)), kept, "{name}");
        }
    }

    #[cfg(unix)]
    #[test]
    fn only_regular_files_are_read() {
        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name);
        let pipe = std::process::Command::new("mkfifo")
            .arg(path("pipe.txt"))
            .status();
        assert!(pipe.unwrap().success());
        std::os::unix::fs::symlink("/dev/zero", path("zero.txt")).unwrap();
        let disk = Disk::new();
        for name in ["pipe.txt", "zero.txt"] {
            assert_eq!(disk.kind(&path(name)), Some(FileKind::Other));
            let refused = disk.read(&path(name), 1).unwrap_err();
            assert!(matches!(refused, ReadError::NotRegular { .. }), "{refused}");
        }
    }
}
