//! The drafts in the review's own folder, for commands that look at all of them where none is named.

use std::path::{Path, PathBuf};

use super::Review;
use super::files::walk;

/// The folder that `ownwords start` lays out for drafts.
const DRAFTS: &str = "drafts";

impl Review {
    /// The files of the review's folder `drafts/` and its sub-folders, in order of their paths, each as it
    /// can be opened from here; `None` where there is no such folder.
    #[must_use]
    pub fn drafts(&self) -> Option<(PathBuf, Vec<PathBuf>)> {
        let files = walk(&self.root, Path::new(DRAFTS))?;
        // A review that is the current folder is named by nothing, so that paths stay short.
        let here = Path::new(".");
        let at = |path: &Path| {
            if self.root == here {
                path.to_owned()
            } else {
                self.root.join(path)
            }
        };
        Some((
            PathBuf::from(DRAFTS),
            files.iter().map(|file| at(file)).collect(),
        ))
    }
}
