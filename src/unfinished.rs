//! The temporary files that this run is writing. Each is written beside the file that it will replace, and whoever is
//! about to end the run at once, as on a signal, can clear them away first ([`clear`]).
//!
//! What is on the disk and what is known of it change together, under one lock: a file that was made a moment ago is
//! known, and one that has become a file of the writer's is not.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use tempfile::{Builder, NamedTempFile};

static UNFINISHED: Mutex<Vec<PathBuf>> = Mutex::new(Vec::new());

fn unfinished() -> MutexGuard<'static, Vec<PathBuf>> {
    UNFINISHED.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Makes the temporary file at a path.
pub(crate) fn begin<T>(path: &Path, make: impl FnOnce() -> io::Result<T>) -> io::Result<T> {
    let mut known = unfinished();
    let made = make()?;
    known.push(path.to_owned());
    Ok(made)
}

/// Renames or removes the temporary file at a path. It is no longer ours whether that succeeds or not.
pub(crate) fn end<T>(path: &Path, end: impl FnOnce() -> T) -> T {
    let mut known = unfinished();
    known.retain(|one| one != path);
    end()
}

/// Removes all temporary files. No more are made and none is finished: who asks for that ends the run.
#[cfg_attr(not(all(unix, feature = "cli")), allow(dead_code))]
pub(crate) fn clear() {
    let mut known = unfinished();
    for path in known.drain(..) {
        // What can't be removed is cleared away by a later run.
        let _ = fs::remove_file(path);
    }
    std::mem::forget(known);
}

/// A temporary file with a name that no other has, removed when it is let go of.
#[derive(Debug)]
pub(crate) struct Unfinished {
    // There until it is put in its place or let go of.
    file: Option<NamedTempFile>,
}

impl Unfinished {
    /// A new file in a folder.
    pub(crate) fn new(builder: &Builder<'_, '_>, folder: &Path) -> io::Result<Self> {
        let mut known = unfinished();
        let file = builder.tempfile_in(folder)?;
        known.push(file.path().to_owned());
        Ok(Self { file: Some(file) })
    }

    /// Asks the system for a lock that says that somebody is writing. Where files can't be locked there is none.
    #[cfg_attr(not(feature = "cli"), allow(dead_code))]
    pub(crate) fn lock(&self) {
        if let Some(file) = &self.file {
            let _ = file.as_file().try_lock();
        }
    }

    /// Puts the file in its place, over what stands there or only where nothing does.
    pub(crate) fn into_place(mut self, target: &Path, replacing: bool) -> io::Result<()> {
        let Some(file) = self.file.take() else {
            return Ok(());
        };
        let path = file.path().to_owned();
        let placed = end(&path, || match replacing {
            true => file.persist(target),
            false => file.persist_noclobber(target),
        });
        placed.map(drop).map_err(|error| error.error)
    }
}

impl Write for Unfinished {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let file = self.file.as_mut();
        file.map_or(Err(io::ErrorKind::NotFound.into()), |file| {
            file.write(bytes)
        })
    }

    fn flush(&mut self) -> io::Result<()> {
        self.file.as_mut().map_or(Ok(()), Write::flush)
    }
}

impl Drop for Unfinished {
    fn drop(&mut self) {
        if let Some(file) = self.file.take() {
            let path = file.path().to_owned();
            end(&path, || drop(file));
        }
    }
}
