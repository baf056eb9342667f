//! Why nothing was settled, and the IDs that may have been meant.

use std::path::PathBuf;

use crate::review::DecisionsError;

/// Why nothing was settled.
#[derive(Debug, thiserror::Error)]
pub enum SettleError {
    /// The decisions can't be read or changed.
    #[error(transparent)]
    Decisions(#[from] DecisionsError),
    /// No reason, or one of blanks.
    #[error(
        "--because: the reason is empty; say in a few words why this may stand, so that you still know next year"
    )]
    NoReason,
    /// An expression without words.
    #[error("--term {term:?}: this holds no words; name the expression as it stands in texts")]
    NoTerm {
        /// As typed.
        term: String,
    },
    /// An expression of function words alone.
    #[error(
        "--term {term:?}: this holds only small words that every text has, so it never makes a copy; name the whole expression, with the words that carry its meaning"
    )]
    SmallWords {
        /// As typed.
        term: String,
    },
    /// There is no draft to look at.
    #[error("{}: no drafts were found here to look for findings in; name the draft with --in FILE", folder.display())]
    NoDrafts {
        /// The folder of drafts.
        folder: PathBuf,
    },
    /// No finding or decision has this ID.
    #[error("{id}: {what}{}", hint(.near))]
    Unknown {
        /// As typed.
        id: String,
        /// Where it was looked for.
        what: String,
        /// IDs that are nearly the same.
        near: Vec<String>,
    },
    /// Several begin like this.
    #[error("{id}: several begin like this: {}; type more of it", among.join("; "))]
    Several {
        /// As typed.
        id: String,
        /// Those that do, with a few words on each.
        among: Vec<String>,
    },
    /// The finding is settled already.
    #[error(
        "{id}: this was settled on {on} because: {because}. To give another reason, take it back first (--undo {id})"
    )]
    Already {
        /// The ID.
        id: String,
        /// The day.
        on: String,
        /// The reason.
        because: String,
    },
}

fn hint(near: &[String]) -> String {
    if near.is_empty() {
        String::new()
    } else {
        format!(" Did you mean {}?", near.join(" or "))
    }
}

/// Names within two slips, the nearest first, at most three.
pub(super) fn near<'n>(typed: &str, names: impl Iterator<Item = &'n str>) -> Vec<String> {
    let mut near: Vec<(usize, &str)> = names
        .map(|name| (strsim::damerau_levenshtein(typed, name), name))
        .filter(|(slips, _)| *slips <= 2)
        .collect();
    near.sort_unstable();
    near.dedup();
    near.into_iter()
        .take(3)
        .map(|(_, name)| name.to_owned())
        .collect()
}
