//! The drafts in the review's own folder, for commands that look at all of them where none is named.

use std::path::{Path, PathBuf};

use super::{LeftOut, Review};

/// The folder that `ownwords start` lays out for drafts.
const DRAFTS: &str = "drafts";

/// What the folder of drafts holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drafts {
    /// The folder, relative to the review.
    pub folder: PathBuf,
    /// Its files.
    pub files: Vec<PathBuf>,
    /// Folders in it that could not be looked into.
    pub left_out: Vec<LeftOut>,
}

impl Review {
    /// The files of the review's folder `drafts/` and its sub-folders, in order of their paths, each as it
    /// can be opened from here, and what of it could not be looked into; `None` where there is no such folder.
    #[must_use]
    pub fn drafts(&self) -> Option<Drafts> {
        let mut left_out = Vec::new();
        let folder = Path::new(DRAFTS);
        let limits = &self.settings.limits;
        let files = self.here().files_in(folder, limits, &mut left_out)?;
        // A review that is the current folder is named by nothing, so that paths stay short.
        let here = Path::new(".");
        let at = |path: PathBuf| {
            if self.root == here {
                path
            } else {
                self.root.join(path)
            }
        };
        Some(Drafts {
            folder: folder.to_owned(),
            files: files.into_iter().map(at).collect(),
            left_out,
        })
    }
}
