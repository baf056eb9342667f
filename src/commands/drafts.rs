//! The drafts that were named: a file is itself, a folder the chapters in it.

use std::path::PathBuf;

use super::Failure;
use crate::reading;
use crate::review::LeftOut;

/// Puts the readable files of each named folder in its place, and reports what in it was passed over.
pub(super) fn expand(named: &[PathBuf]) -> Result<(Vec<PathBuf>, Vec<LeftOut>), Failure> {
    let mut drafts = Vec::new();
    let mut left_out = Vec::new();
    for path in named {
        if !path.is_dir() {
            drafts.push(path.clone());
            continue;
        }
        let found = reading::folder(path).map_err(|cause| reading::ReadError::Io {
            path: path.clone(),
            cause,
        })?;
        if found.readable.is_empty() {
            return Err(Failure::NoChapters { path: path.clone() });
        }
        drafts.extend(found.readable);
        left_out.extend(found.passed_over.into_iter().map(|path| LeftOut {
            why: if path.is_dir() {
                "a folder inside the folder of chapters is not searched; name it too if it holds chapters"
            } else {
                "not in a format that can be read, so it was not taken for a chapter"
            }
            .to_owned(),
            what: path.display().to_string(),
        }));
    }
    Ok((drafts, left_out))
}
