//! The drafts that were named: a file is itself, a folder the chapters in it.

use std::path::{Path, PathBuf};

use super::Failure;
use crate::paths::portable;
use crate::reading::{self, FileKind, Files, Limits};
use crate::review::{LeftOut, Why};

/// Puts the readable files of each named folder in its place, and reports what in it was passed over.
pub(super) fn expand(
    files: &dyn Files,
    named: &[PathBuf],
    limits: &Limits,
) -> Result<(Vec<PathBuf>, Vec<LeftOut>), Failure> {
    let is_folder = |path: &Path| files.kind(path) == Some(FileKind::Folder);
    let mut drafts = Vec::new();
    let mut left_out = Vec::new();
    for path in named {
        if !is_folder(path) {
            drafts.push(path.clone());
            continue;
        }
        let found = reading::folder(files, path, limits)?;
        if found.readable.is_empty() {
            return Err(Failure::NoChapters { path: path.clone() });
        }
        drafts.extend(found.readable);
        left_out.extend(found.passed_over.into_iter().map(|path| LeftOut {
            why: match is_folder(&path) {
                true => Why::NotSearched,
                false => Why::NoChapter,
            },
            what: portable(&path),
        }));
    }
    Ok((drafts, left_out))
}
