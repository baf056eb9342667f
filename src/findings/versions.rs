//! Which earlier version each draft is set against, and the comparison of a whole report with them.

use std::collections::BTreeMap;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::check_drafts::CheckError;
use super::session::Session;
use super::{CheckReport, since};
use crate::paths::portable;
use crate::reading::{self, FileKind, ReadError};
use crate::review::{LeftOut, Review, Why};

/// Why drafts can't be set against what was named as their earlier versions.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum VersionsError {
    /// The earlier version is not there.
    #[error("--since {}: there is no such file or folder; name the earlier version of the draft, or the folder that holds those of all drafts", path.display())]
    Missing {
        /// The file or folder as named.
        path: PathBuf,
    },
    /// One earlier file for several drafts.
    #[error("--since {}: one file can't be the earlier version of several drafts; name the folder with the earlier ones", path.display())]
    NeedsFolder {
        /// As named.
        path: PathBuf,
    },
    /// A folder of earlier versions without any of these drafts.
    #[error("--since {}: no file in this folder has the name of one of the drafts; name the earlier version itself", path.display())]
    Nothing {
        /// As named.
        path: PathBuf,
    },
    /// The folder can't be listed.
    #[error(transparent)]
    Folder(#[from] ReadError),
}

/// Drafts, each with its earlier version where there is one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Versions {
    /// Draft and earlier version, as they can be opened from here, in the order of the drafts.
    pub pairs: Vec<(PathBuf, Option<PathBuf>)>,
}

impl Versions {
    /// For each draft the file that was named, or in a folder the file of the same name, else the only one of the
    /// same name but for its ending.
    ///
    /// # Errors
    /// [`VersionsError`] where there is no such file or folder, or none that fits.
    pub fn find(review: &Review, drafts: &[PathBuf], old: &Path) -> Result<Self, VersionsError> {
        let path = old.to_owned();
        let earlier: Vec<Option<PathBuf>> = match review.files.kind(old) {
            None => return Err(VersionsError::Missing { path }),
            Some(FileKind::Folder) => {
                let folder = reading::folder(&*review.files, old, &review.settings.limits)?;
                let of = |draft: &PathBuf| of_the_same_name(&folder.readable, draft);
                drafts.iter().map(of).collect()
            }
            Some(_) if drafts.len() == 1 => vec![Some(path)],
            Some(_) => return Err(VersionsError::NeedsFolder { path }),
        };
        let earlier = of_one_draft(earlier);
        if earlier.iter().all(Option::is_none) {
            let path = old.to_owned();
            return Err(VersionsError::Nothing { path });
        }
        Ok(Self {
            pairs: drafts.iter().cloned().zip(earlier).collect(),
        })
    }

    /// The earlier versions, in the order of the drafts.
    pub fn earlier(&self) -> impl Iterator<Item = &PathBuf> {
        self.pairs
            .iter()
            .filter_map(|(_, earlier)| earlier.as_ref())
    }
}

/// Earlier versions without those that several drafts would have: of drafts of one name in several folders it isn't known
/// whose the file is.
fn of_one_draft(earlier: Vec<Option<PathBuf>>) -> Vec<Option<PathBuf>> {
    let mut times: BTreeMap<PathBuf, usize> = BTreeMap::new();
    for path in earlier.iter().flatten() {
        *times.entry(path.clone()).or_default() += 1;
    }
    let alone = |path: &PathBuf| times.get(path) == Some(&1);
    earlier.into_iter().map(|path| path.filter(alone)).collect()
}

fn of_the_same_name(files: &[PathBuf], draft: &Path) -> Option<PathBuf> {
    let same = |part: fn(&Path) -> Option<&OsStr>| {
        let mut named = files.iter().filter(move |file| part(file) == part(draft));
        named.next().filter(|_| named.next().is_none()).cloned()
    };
    same(Path::file_name).or_else(|| same(Path::file_stem))
}

impl Session {
    /// Sets each draft of a report against its earlier version.
    ///
    /// # Errors
    /// [`CheckError`] where no earlier version could be read.
    pub fn compare_versions(
        self: &Arc<Self>,
        report: &mut CheckReport,
        versions: &Versions,
    ) -> Result<(), CheckError> {
        let files: Vec<PathBuf> = versions.earlier().cloned().collect();
        let before = self.check(&files)?;
        report.unread.extend(before.unread);
        for left in before.left_out {
            if !report.left_out.contains(&left) {
                report.left_out.push(left);
            }
        }
        for draft in &mut report.drafts {
            let of_draft = versions.pairs.iter().find(|(path, _)| *path == draft.path);
            match of_draft {
                Some((_, Some(old))) => {
                    let old = before.drafts.iter().find(|before| before.path == *old);
                    draft.since = old.map(|old| since::compare(old, draft));
                }
                Some((path, None)) => report.left_out.push(LeftOut {
                    what: portable(path),
                    why: Why::NoEarlierVersion,
                }),
                None => {}
            }
        }
        Ok(())
    }
}
