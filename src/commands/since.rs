//! `check --since`: which earlier version each draft is set against.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::Failure;
use crate::findings::session::Session;
use crate::findings::{CheckReport, since};
use crate::paths::portable;
use crate::reading::{self, FileKind, Files, Limits};
use crate::review::{LeftOut, Why};

/// For each draft its earlier version: the file that was named, or in a folder the file of the same name,
/// else the only one of the same name but for its ending.
pub(super) fn pairs(
    files: &dyn Files,
    drafts: &[PathBuf],
    old: &Path,
    limits: &Limits,
) -> Result<Vec<Option<PathBuf>>, Failure> {
    if files.kind(old).is_none() {
        return Err(Failure::SinceMissing {
            path: old.to_owned(),
        });
    }
    if files.kind(old) != Some(FileKind::Folder) {
        return match drafts {
            [_] => Ok(vec![Some(old.to_owned())]),
            _ => Err(Failure::SinceNeedsFolder {
                path: old.to_owned(),
            }),
        };
    }
    let found = reading::folder(files, old, limits)?;
    let earlier = |draft: &PathBuf| {
        let same = |part: fn(&Path) -> Option<&std::ffi::OsStr>| {
            let mut named = found
                .readable
                .iter()
                .filter(move |file| part(file) == part(draft));
            named.next().filter(|_| named.next().is_none()).cloned()
        };
        same(Path::file_name).or_else(|| same(Path::file_stem))
    };
    let pairs: Vec<Option<PathBuf>> = drafts.iter().map(earlier).collect();
    if pairs.iter().all(Option::is_none) {
        return Err(Failure::SinceNothing {
            path: old.to_owned(),
        });
    }
    Ok(pairs)
}

/// Sets each draft of a report against its earlier version.
pub(super) fn set_against(
    report: &mut CheckReport,
    session: &Arc<Session>,
    drafts: &[PathBuf],
    pairs: &[Option<PathBuf>],
) -> Result<(), Failure> {
    let files: Vec<PathBuf> = pairs.iter().flatten().cloned().collect();
    let before = session.check(&files)?;
    report.unread.extend(before.unread);
    let left = before
        .left_out
        .into_iter()
        .filter(|item| !report.left_out.contains(item));
    let left: Vec<LeftOut> = left.collect();
    report.left_out.extend(left);
    for draft in &mut report.drafts {
        let at = drafts.iter().position(|path| *path == draft.path);
        let Some(old) = at.and_then(|at| pairs.get(at)) else {
            continue;
        };
        match old {
            Some(old) => {
                let old = before.drafts.iter().find(|before| before.path == *old);
                draft.since = old.map(|old| since::compare(old, draft));
            }
            None => report.left_out.push(LeftOut {
                what: portable(&draft.path),
                why: Why::NoEarlierVersion,
            }),
        }
    }
    Ok(())
}
