//! Changes a small shared file so that nothing of it can get lost.
//!
//! - Two runs at once: each holds a lock from before it reads until after it has written.
//! - A run that is killed, a power cut: the new content goes to a temporary file of a fixed name, is
//!   brought to the disk and renamed over the old one. At every moment the old or the new file is there.
//!   A temporary file left behind is overwritten by the next run.
//! - A file that can't be understood: the change is made from what was read and understood, and read
//!   again before it is written, so such a file is refused and stays as it is.

use std::fs::{self, File, TryLockError};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::{Duration, Instant};

use super::{DECISIONS_FILE, Decision, Decisions, DecisionsError, changed, content};
use crate::reading::{Disk, Limits};
use crate::unfinished;

/// How long a run waits for another one; each needs a few milliseconds.
const PATIENCE: Duration = Duration::from_secs(10);

/// Changes the decisions of a review folder: `decide` gets those that are there and names the decisions
/// to put in and the names of those to take out. Gives back the decisions as they are now.
///
/// # Errors
/// What `decide` says, or [`DecisionsError`] where the file is broken, can't be written, or is held by
/// another run for longer than ten seconds. Then nothing was changed.
pub fn change<E: From<DecisionsError>>(
    root: &Path,
    decide: impl FnOnce(&Decisions) -> Result<(Vec<Decision>, Vec<String>), E>,
) -> Result<Decisions, E> {
    let path = root.join(DECISIONS_FILE);
    replace_file(root, &path, |old| changed(&path, old, decide))
}

/// Changes a file of the review folder under the folder's lock. Nothing is written where the content
/// stays the same.
///
/// # Errors
/// What `change` says, or [`DecisionsError`] where the file can't be read, locked or written.
pub(crate) fn replace_file<T, E: From<DecisionsError>>(
    root: &Path,
    path: &Path,
    change: impl FnOnce(&str) -> Result<(String, T), E>,
) -> Result<T, E> {
    // Held until the end; the system lets go of it when the run ends, however it ends.
    let _lock = lock(root)?;
    let limit_mb = Limits::default().file_mb;
    let old = content(&Disk::new(), path, limit_mb)?;
    let (new, result) = change(&old)?;
    if new != old {
        write(path, &new).map_err(|cause| DecisionsError::Unwritable {
            path: path.to_owned(),
            cause,
        })?;
    }
    Ok(result)
}

/// Locks the review folder itself, so that no file of locks lies about; a file where a system can't
/// lock a folder.
fn lock(root: &Path) -> Result<File, DecisionsError> {
    let refused = |cause| DecisionsError::Unwritable {
        path: root.to_owned(),
        cause,
    };
    let from = Instant::now();
    let mut held = File::open(root);
    let mut is_folder = true;
    loop {
        let outcome = match &held {
            Ok(file) => file.try_lock(),
            Err(_) => Err(TryLockError::Error(ErrorKind::Unsupported.into())),
        };
        match (outcome, held) {
            (Ok(()), Ok(file)) => return Ok(file),
            (Err(TryLockError::WouldBlock), _) if from.elapsed() > PATIENCE => {
                return Err(DecisionsError::Busy {
                    path: root.to_owned(),
                });
            }
            (Err(TryLockError::WouldBlock), file) => {
                held = file;
                sleep(Duration::from_millis(5));
            }
            (Err(TryLockError::Error(_)), _) if is_folder => {
                is_folder = false;
                let path = root.join(".ownwords.lock");
                held = File::options()
                    .create(true)
                    .truncate(false)
                    .write(true)
                    .open(path);
            }
            (Err(TryLockError::Error(cause)), Ok(_)) | (_, Err(cause)) => {
                return Err(refused(cause));
            }
        }
    }
}

/// Writes a file through a temporary one beside it. Through a link the file it leads to is meant.
fn write(path: &Path, content: &str) -> std::io::Result<()> {
    let target = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let name = target.file_name().unwrap_or_default().to_string_lossy();
    let temporary: PathBuf = target.with_file_name(format!(".{name}.new"));
    let written = (|| {
        let mut file = unfinished::begin(&temporary, || File::create(&temporary))?;
        if let Ok(there) = fs::metadata(&target) {
            file.set_permissions(there.permissions())?;
        }
        file.write_all(content.as_bytes())?;
        file.sync_all()?;
        unfinished::end(&temporary, || fs::rename(&temporary, &target))
    })();
    if written.is_err() {
        // What could not be written is of no use; that it can't be removed either is no news.
        let _ = unfinished::end(&temporary, || fs::remove_file(&temporary));
    }
    written?;
    if let Some(folder) = target.parent() {
        // The rename is brought to the disk where the system can do that for a folder.
        let _ = File::open(folder).and_then(|folder| folder.sync_all());
    }
    Ok(())
}
