//! A change of the content of `decisions.toml`, wherever the file is kept: on the disk under a lock ([`super::store`]), or in
//! the memory of a surface without a disk.

use std::path::Path;

use super::{Decision, Decisions, DecisionsError, edit, file};

/// The content of the file at `path` after a change: `decide` gets the decisions that are there and names those to put in
/// and the names of those to take out. With it come the decisions as they are then.
///
/// # Errors
/// What `decide` says, or [`DecisionsError`] where the content can't be understood or safely changed.
pub fn changed<E: From<DecisionsError>>(
    path: &Path,
    old: &str,
    decide: impl FnOnce(&Decisions) -> Result<(Vec<Decision>, Vec<String>), E>,
) -> Result<(String, Decisions), E> {
    let there = file::parse(path, old)?;
    let (add, remove) = decide(&there)?;
    let kept = there.all().iter().filter(|d| !remove.contains(&d.name()));
    let wanted = Decisions::new(kept.chain(&add).cloned().collect());
    let mut new = old.to_owned();
    if !remove.is_empty() {
        new = edit::remove(path, &new, &remove)?;
    }
    if !add.is_empty() {
        new = edit::add(path, &new, &add)?;
    }
    // The file may be written in a way that leaves no room for a block; then it stays as it is.
    if file::parse(path, &new)? != wanted {
        return Err(DecisionsError::Broken {
            path: path.to_owned(),
            line: 1,
            problem: "the file is laid out in a way that can't be changed safely; give each decision a block of its \
                own, as `ownwords settle` writes them"
                .to_owned(),
        }
        .into());
    }
    Ok((new, wanted))
}
