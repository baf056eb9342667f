//! What must not be written over, whatever `--out` says.
//!
//! 1. The ending fits the form: a page is no `.docx`.
//! 2. A link that leads nowhere is refused, since nobody can mean what it would make.
//! 3. What this run reads is never written to; the disk remembers it ([`Disk::is_kept`]).
//! 4. Nothing goes into the folders of sources and notes, or over a file that a review has by name.
//! 5. A file that lies elsewhere in a review is replaced only if it is surely ours ([`is_ours`]): the writer may have
//!    put a draft there. Outside of any review the name after `--out` is taken at its word.

mod form;
mod ours;

use std::fs;
use std::path::{Path, PathBuf};

pub(super) use form::Form;

use super::Failure;
use crate::reading::Disk;
use crate::review::{DECISIONS_FILE, Options, Review, SETTINGS_FILE, Settings, TERMS_FILE};
use ours::is_ours;

/// The file that is meant by a path, through links, if it may be written.
pub(super) fn target(
    path: &Path,
    form: Form,
    disk: &Disk,
    review: Option<&Review>,
) -> Result<PathBuf, Failure> {
    form.fits(path)?;
    let would_replace = || Failure::WouldReplace {
        path: path.to_owned(),
    };
    let Ok(target) = path.canonicalize() else {
        if fs::symlink_metadata(path).is_ok_and(|there| there.is_symlink()) {
            return Err(Failure::LinkToNowhere {
                path: path.to_owned(),
            });
        }
        // A file that is not there yet; where its folder isn't either, opening it says so.
        let target = new_file(path).unwrap_or_else(|| path.to_owned());
        for yours in Yours::around(&target, disk, review) {
            yours.keeps(path, &target)?;
        }
        return Ok(target);
    };
    if disk.is_kept(&target) {
        return Err(would_replace());
    }
    let regular = target.is_file();
    for yours in Yours::around(&target, disk, review) {
        yours.keeps(path, &target)?;
        if regular && target.starts_with(&yours.root) && !is_ours(&target) {
            return Err(Failure::NotOurs {
                path: path.to_owned(),
            });
        }
    }
    Ok(target)
}

fn new_file(path: &Path) -> Option<PathBuf> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    Some(folder.canonicalize().ok()?.join(path.file_name()?))
}

/// What a review has of the writer's, under the one name of each file.
struct Yours {
    root: PathBuf,
    folders: Vec<PathBuf>,
    files: Vec<PathBuf>,
}

impl Yours {
    /// The review of this run, and the one that the target lies in.
    fn around(target: &Path, disk: &Disk, review: Option<&Review>) -> Vec<Self> {
        let of_run = review.and_then(|review| Self::of(&review.root, &review.settings));
        let above = target.parent().and_then(|folder| Review::find(folder).ok());
        let of_target = above.and_then(|root| {
            // Settings that can't be read are no reason to write over anything.
            let settings = Settings::open(disk, &root, &Options::default());
            Self::of(&root, &settings.unwrap_or_default())
        });
        of_run.into_iter().chain(of_target).collect()
    }

    fn of(root: &Path, settings: &Settings) -> Option<Self> {
        let root = root.canonicalize().ok()?;
        let folders = [&settings.sources, &settings.notes];
        let usual = ["bib", "json", "ris"].map(|ending| format!("references.{ending}"));
        let named = [SETTINGS_FILE, DECISIONS_FILE, TERMS_FILE].map(PathBuf::from);
        let named = named.into_iter().chain(usual.map(PathBuf::from));
        let files = named.chain(settings.references.iter().cloned());
        let real = |path: PathBuf| {
            let path = root.join(path);
            path.canonicalize().unwrap_or(path)
        };
        Some(Self {
            folders: folders.map(|folder| real(folder.clone())).to_vec(),
            files: files.map(real).collect(),
            root,
        })
    }

    /// Whether the target would take the place of something of the writer's, or be taken for it.
    fn keeps(&self, path: &Path, target: &Path) -> Result<(), Failure> {
        let path = || path.to_owned();
        if self.files.iter().any(|file| file == target) {
            return Err(Failure::WouldReplace { path: path() });
        }
        match self
            .folders
            .iter()
            .find(|folder| target.starts_with(folder))
        {
            Some(_) if target.exists() => Err(Failure::WouldReplace { path: path() }),
            Some(folder) => Err(Failure::AmongYours {
                path: path(),
                folder: folder.clone(),
            }),
            None => Ok(()),
        }
    }
}
