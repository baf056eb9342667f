//! The files of a desk: a folder on the disk, or what was put on it, in memory. Files in memory may change while a session holds
//! them, so they stand behind a lock; every file that is read is told to whoever shows how far the work is.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{PoisonError, RwLock};

#[cfg(feature = "disk")]
use crate::reading::Disk;
use crate::reading::{FileKind, Files, Listed, Listing, Memory, ReadError};

/// Is told what is being done.
pub type Hearer = Box<dyn Fn(&str) + Send + Sync>;

/// Where the files of a desk are.
pub(super) struct Store {
    place: Place,
    hearer: Hearer,
}

enum Place {
    Memory(RwLock<Memory>),
    #[cfg(feature = "disk")]
    Disk(Disk),
}

impl Store {
    /// An empty one in memory.
    pub(super) fn in_memory(hearer: Hearer) -> Self {
        Self {
            place: Place::Memory(RwLock::default()),
            hearer,
        }
    }

    /// The disk.
    #[cfg(feature = "disk")]
    pub(super) fn on_disk(hearer: Hearer) -> Self {
        Self {
            place: Place::Disk(Disk::new()),
            hearer,
        }
    }

    /// Whether they lie on the disk.
    pub(super) fn is_folder(&self) -> bool {
        !matches!(self.place, Place::Memory(_))
    }

    /// Says what is being done.
    pub(super) fn say(&self, what: &str) {
        (self.hearer)(what);
    }

    /// Does something with the files in memory; nothing where they are on the disk.
    pub(super) fn with<T: Default>(&self, change: impl FnOnce(&mut Memory) -> T) -> T {
        match &self.place {
            Place::Memory(memory) => {
                // A map of files is whole at any moment.
                change(&mut memory.write().unwrap_or_else(PoisonError::into_inner))
            }
            #[cfg(feature = "disk")]
            Place::Disk(_) => T::default(),
        }
    }

    fn ask<T>(&self, ask: impl FnOnce(&dyn Files) -> T) -> T {
        match &self.place {
            Place::Memory(memory) => ask(&*memory.read().unwrap_or_else(PoisonError::into_inner)),
            #[cfg(feature = "disk")]
            Place::Disk(disk) => ask(disk),
        }
    }
}

impl fmt::Debug for Store {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("Store")
    }
}

impl Files for Store {
    fn kind(&self, path: &Path) -> Option<FileKind> {
        self.ask(|files| files.kind(path))
    }

    fn list(&self, folder: &Path) -> io::Result<Listing<'_>> {
        match &self.place {
            Place::Memory(memory) => {
                let memory = memory.read().unwrap_or_else(PoisonError::into_inner);
                let listed: Vec<Listed> = memory.list(folder)?.collect();
                Ok(Box::new(listed.into_iter()))
            }
            #[cfg(feature = "disk")]
            Place::Disk(disk) => disk.list(folder),
        }
    }

    fn read(&self, path: &Path, limit_mb: u64) -> Result<Vec<u8>, ReadError> {
        let name = path.file_name().unwrap_or(path.as_os_str());
        self.say(&format!("reading {}", name.to_string_lossy()));
        self.ask(|files| files.read(path, limit_mb))
    }

    fn real(&self, path: &Path) -> Option<PathBuf> {
        self.ask(|files| files.real(path))
    }
}
