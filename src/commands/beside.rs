//! A new file that is written beside the one it will replace, as late as can be.
//!
//! A run that is killed (a lost machine, a memory that is full) can clear nothing up, so there should be nothing to
//! clear up for as long as possible: what is written is held in memory until all of it is there or it grows too
//! large. On a signal that asks the run to end, the file is removed first ([`super::signals`]). What is left behind all
//! the same, the next file written into the same folder clears away.

use std::fs::{self, File, Permissions};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

use tempfile::Builder;

use super::signals;
use crate::unfinished::Unfinished;

/// What the names of such files begin with; six letters and digits follow.
const PREFIX: &str = ".ownwords-";

/// Bytes that are held in memory. Reports are smaller, but for lines of JSON about hundreds of thousands of pairs.
const HELD: usize = 8 << 20;

/// A file younger than this is not taken for a leftover: it may have been made and not been locked yet.
const YOUNG: Duration = Duration::from_secs(60);

/// A file to be written.
pub(super) struct Beside {
    folder: PathBuf,
    permissions: Option<Permissions>,
    held: Vec<u8>,
    file: Option<BufWriter<Unfinished>>,
}

impl Beside {
    /// A file in a folder, which is seen to be writable.
    pub(super) fn new(folder: PathBuf, permissions: Option<Permissions>) -> io::Result<Self> {
        signals::heed();
        clear_leftovers(&folder);
        let beside = Self {
            folder,
            permissions,
            held: Vec::new(),
            file: None,
        };
        beside.made()?;
        Ok(beside)
    }

    fn made(&self) -> io::Result<Unfinished> {
        let mut builder = Builder::new();
        builder.prefix(PREFIX);
        if let Some(permissions) = &self.permissions {
            builder.permissions(permissions.clone());
        }
        Unfinished::new(&builder, &self.folder)
    }

    /// The file on the disk, made now if it isn't there yet, with all that was held.
    fn on_disk(&mut self) -> io::Result<&mut BufWriter<Unfinished>> {
        let file = match self.file.take() {
            Some(file) => file,
            None => {
                let made = self.made()?;
                made.lock();
                let mut file = BufWriter::new(made);
                file.write_all(&std::mem::take(&mut self.held))?;
                file
            }
        };
        Ok(self.file.insert(file))
    }

    /// Puts the file in its place.
    pub(super) fn into_place(mut self, target: &Path) -> io::Result<()> {
        self.on_disk()?;
        let Some(file) = self.file.take() else {
            return Ok(());
        };
        let file = file.into_inner().map_err(io::IntoInnerError::into_error)?;
        file.into_place(target, true)
    }
}

impl Write for Beside {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if self.file.is_none() && self.held.len() + bytes.len() <= HELD {
            self.held.extend_from_slice(bytes);
            return Ok(bytes.len());
        }
        self.on_disk()?.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.file.as_mut().map_or(Ok(()), Write::flush)
    }
}

/// Removes what earlier runs left in a folder: files of such a name that nobody is writing any more. What can't be
/// removed stays; it harms nobody.
fn clear_leftovers(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten() {
        let is_ours = entry.file_name().to_str().is_some_and(is_name);
        if is_ours && is_left(&entry.path()).unwrap_or(false) {
            let _ = fs::remove_file(entry.path());
        }
    }
}

fn is_name(name: &str) -> bool {
    let letters = name.strip_prefix(PREFIX);
    letters.is_some_and(|rest| rest.len() == 6 && rest.bytes().all(|b| b.is_ascii_alphanumeric()))
}

/// Whether a file is old enough and locked by nobody.
fn is_left(path: &Path) -> io::Result<bool> {
    let about = fs::symlink_metadata(path)?;
    // A time in the future says nothing.
    let is_old = about.modified()?.elapsed().is_ok_and(|age| age > YOUNG);
    if !about.is_file() || !is_old {
        return Ok(false);
    }
    Ok(File::options().write(true).open(path)?.try_lock().is_ok())
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::SystemTime;

    fn names(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).unwrap().flatten();
        let mut names: Vec<String> = entries
            .map(|entry| entry.file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    fn aged(folder: &Path, name: &str, seconds: u64) -> File {
        let file = File::create(folder.join(name)).unwrap();
        let time = SystemTime::now() - Duration::from_secs(seconds);
        file.set_modified(time).unwrap();
        file
    }

    #[test]
    fn only_old_files_of_ours_that_nobody_writes_are_cleared_away() {
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path();
        for name in [".ownwords-a1B2c3", ".ownwords-ZZZZZZ"] {
            aged(root, name, 100);
        }
        aged(root, ".ownwords-young1", 10);
        let other = [
            ".ownwords-long123",
            ".ownwords-a1B2c",
            ".ownwords-a1 2c3",
            "ownwords-a1B2c3",
        ];
        for name in other {
            aged(root, name, 100_000);
        }
        fs::create_dir(root.join(".ownwords-folder")).unwrap();
        let writing = aged(root, ".ownwords-locked", 100_000);
        writing.lock().unwrap();
        clear_leftovers(root);
        let mut kept: Vec<&str> = other.to_vec();
        kept.extend([".ownwords-young1", ".ownwords-folder", ".ownwords-locked"]);
        kept.sort_unstable();
        assert_eq!(names(root), kept);
        // Once its writer is gone it is a leftover like any other.
        drop(writing);
        clear_leftovers(root);
        assert!(!root.join(".ownwords-locked").exists());
    }

    #[test]
    fn nothing_is_on_the_disk_until_much_is_written() {
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path();
        let mut beside = Beside::new(root.to_owned(), None).unwrap();
        let piece = vec![b'x'; HELD / 2];
        beside.write_all(&piece).unwrap();
        beside.write_all(&piece).unwrap();
        beside.flush().unwrap();
        assert_eq!(names(root), [""; 0]);
        beside.write_all(b"behind").unwrap();
        let [name] = names(root).try_into().unwrap();
        assert!(is_name(&name), "{name}");
        // Others see that it is being written, however long that takes.
        let there = File::options().write(true).open(root.join(&name)).unwrap();
        there.set_modified(SystemTime::UNIX_EPOCH).unwrap();
        clear_leftovers(root);
        assert_eq!(names(root), [name]);
        beside.into_place(&root.join("whole.txt")).unwrap();
        assert_eq!(names(root), ["whole.txt"]);
        let whole = fs::read(root.join("whole.txt")).unwrap();
        assert_eq!(whole.len(), HELD + "behind".len());
        assert!(whole.ends_with(b"xbehind"));
    }
}
