//! Where the output goes: the standard output, or a file that is replaced only once all is written.
//!
//! A reader of the standard output who has seen enough (`| head`) closes the pipe; that is no failure
//! and ends the writing quietly, with the exit status that the findings ask for. Whatever else can't be written is
//! reported. A file is written beside its place and renamed ([`super::beside`]), so that a run that fails leaves the
//! old one untouched. What may not be written over is decided in [`guard`].
//!
//! A standard output that was closed before the program began can't be told from `/dev/null`, which Rust's runtime
//! opens in its place.

use std::fs::{self, File, Permissions};
use std::io::{self, BufWriter, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::beside::Beside;
use super::{Failure, args::OutArgs, guard};
use crate::reading::Disk;
use crate::review::Review;

pub(super) use guard::Form;

/// The place that a command writes to.
pub(super) enum Output {
    Standard(BufWriter<io::Stdout>),
    /// A file of its own beside the one it will replace.
    Replacing {
        beside: Beside,
        target: PathBuf,
        /// What this run has read by the time all is written.
        disk: Arc<Disk>,
    },
    /// Something that can't be replaced, such as `/dev/null` or a named pipe.
    Device {
        file: File,
        path: PathBuf,
    },
}

impl Output {
    /// The standard output.
    pub(super) fn standard() -> Self {
        Self::Standard(BufWriter::new(io::stdout()))
    }

    /// Opens the place that was asked for, if it may be written to: not over anything that this run has read from
    /// the disk or reads until the output is finished, and not over the writer's files in a review.
    pub(super) fn open(
        out: &OutArgs,
        form: Form,
        disk: &Arc<Disk>,
        review: Option<&Review>,
    ) -> Result<Self, Failure> {
        let Some(path) = &out.out else {
            return Ok(Self::standard());
        };
        let target = guard::target(path, form, disk, review)?;
        let opened = match fs::metadata(&target) {
            Ok(there) if !there.is_file() && !there.is_dir() => File::options()
                .write(true)
                .open(&target)
                .map(|file| Self::Device {
                    file,
                    path: path.clone(),
                }),
            Ok(there) => Self::replacing(target, Some(there.permissions()), disk),
            Err(_) => Self::replacing(target, None, disk),
        };
        opened.map_err(|cause| Failure::Write {
            place: path.display().to_string(),
            cause,
        })
    }

    fn replacing(
        target: PathBuf,
        permissions: Option<Permissions>,
        disk: &Arc<Disk>,
    ) -> io::Result<Self> {
        if target.is_dir() {
            return Err(io::Error::from(ErrorKind::IsADirectory));
        }
        let folder = match target.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder,
            _ => Path::new("."),
        };
        let permissions = permissions.or_else(usual_permissions);
        Ok(Self::Replacing {
            beside: Beside::new(folder.to_owned(), permissions)?,
            target,
            disk: disk.clone(),
        })
    }

    /// Writes with the given function and finishes: flushes, and puts the file in its place.
    pub(super) fn write(
        mut self,
        write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
    ) -> Result<(), Failure> {
        let written = write(self.writer());
        self.finish(written)
    }

    /// The writer. What it refuses is handed to [`finish`](Self::finish).
    pub(super) fn writer(&mut self) -> &mut dyn Write {
        match self {
            Self::Standard(out) => out,
            Self::Replacing { beside, .. } => beside,
            Self::Device { file, .. } => file,
        }
    }

    /// Ends the writing, which went as the argument says.
    pub(super) fn finish(mut self, written: io::Result<()>) -> Result<(), Failure> {
        // A draft's own files come to light only as it is read.
        if let Self::Replacing { target, disk, .. } = &self
            && disk.is_kept(target)
        {
            let path = target.clone();
            return Err(Failure::WouldReplace { path });
        }
        let place = match &self {
            Self::Standard(_) => "standard output".to_owned(),
            Self::Replacing { target: path, .. } | Self::Device { path, .. } => {
                path.display().to_string()
            }
        };
        let flushed = written.and_then(|()| self.writer().flush());
        let finished = flushed.and_then(|()| match self {
            Self::Standard(_) | Self::Device { .. } => Ok(()),
            Self::Replacing { beside, target, .. } => beside.into_place(&target),
        });
        ended(finished, place)
    }
}

/// How writing to a place ended, where a reader that has seen enough is none to complain about.
pub(super) fn ended(written: io::Result<()>, place: String) -> Result<(), Failure> {
    match written {
        Err(cause) if cause.kind() == ErrorKind::BrokenPipe => Ok(()),
        Err(cause) => Err(Failure::Write { place, cause }),
        Ok(()) => Ok(()),
    }
}

/// The permissions of a new file, before the user's mask; without them a temporary file would stay
/// closed to everyone else.
#[cfg(unix)]
fn usual_permissions() -> Option<Permissions> {
    use std::os::unix::fs::PermissionsExt;
    Some(Permissions::from_mode(0o666))
}

#[cfg(not(unix))]
fn usual_permissions() -> Option<Permissions> {
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn to(path: &Path) -> OutArgs {
        OutArgs {
            out: Some(path.to_owned()),
        }
    }

    fn open(out: &OutArgs) -> Result<Output, Failure> {
        Output::open(out, Form::Text, &Arc::new(Disk::new()), None)
    }

    fn print(out: &OutArgs, text: &str) -> Result<(), Failure> {
        open(out)?.write(|writer| writer.write_all(text.as_bytes()))
    }

    #[test]
    fn a_file_is_replaced_only_when_all_is_written() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("report.txt");
        print(&to(&path), "first").unwrap();
        let broken = open(&to(&path)).unwrap().write(|writer| {
            writer.write_all(b"half of the sec")?;
            Err(io::Error::other("the disk is full"))
        });
        assert!(matches!(broken, Err(Failure::Write { .. })));
        assert_eq!(fs::read_to_string(&path).unwrap(), "first");
        print(&to(&path), "second").unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), "second");
        assert_eq!(
            fs::read_dir(folder.path()).unwrap().count(),
            1,
            "something was left behind"
        );
    }

    #[test]
    fn what_is_read_while_the_output_is_open_is_never_written() {
        let folder = tempfile::tempdir().unwrap();
        let part = folder.path().join("part.txt");
        fs::write(&part, "mine").unwrap();
        let disk = Arc::new(Disk::new());
        let output = Output::open(&to(&part), Form::Text, &disk, None).unwrap();
        disk.keep(&folder.path().join(".").join("part.txt"));
        let refused = output.write(|writer| writer.write_all(b"ours"));
        assert!(matches!(refused, Err(Failure::WouldReplace { .. })));
        assert_eq!(fs::read_to_string(&part).unwrap(), "mine");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_folder_is_no_place_for_output() {
        let folder = tempfile::tempdir().unwrap();
        let error = print(&to(folder.path()), "x").unwrap_err().to_string();
        assert!(error.contains("could not be written"), "{error}");
        let missing = folder.path().join("no/such/folder/report.txt");
        assert!(matches!(
            print(&to(&missing), "x"),
            Err(Failure::Write { .. })
        ));
    }

    #[cfg(unix)]
    #[test]
    fn permissions_stay_and_links_lead_on() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("private.txt");
        fs::write(&path, "old").unwrap();
        fs::set_permissions(&path, Permissions::from_mode(0o600)).unwrap();
        let link = folder.path().join("link.txt");
        symlink(&path, &link).unwrap();
        print(&to(&link), "new").unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), "new");
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(
            fs::metadata(&path).unwrap().permissions().mode() & 0o777,
            0o600
        );
        print(&to(Path::new("/dev/null")), "away").unwrap();
        assert!(!fs::metadata("/dev/null").unwrap().is_file());
    }
}
