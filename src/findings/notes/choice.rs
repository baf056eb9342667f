//! The entries that are asked for, and why there may be none.

use std::collections::BTreeSet;
use std::path::PathBuf;

use crate::review::{Entry, Key, Review};

/// Why the notes can't be checked.
#[derive(Debug, thiserror::Error)]
pub enum NotesError {
    /// There is no entry.
    #[error("{}: no entry was found in the notes, so there is nothing to check; write one under a heading with its key or author and year, then Summary, Quotations, Comments (`ownwords start DIR` lays out an example)", folder.display())]
    NoEntries {
        /// The folder of notes.
        folder: PathBuf,
    },
    /// The reference is known, but has no entry.
    #[error(
        "{key}: {name} is among the references, but the notes hold no entry on it; begin one with a heading such as: ## {name} {{#{key}}}"
    )]
    NotWritten {
        /// The key.
        key: Key,
        /// The reference in words.
        name: String,
    },
    /// No entry has that key.
    #[error("{asked:?}: no entry has this key{}", near_words(near))]
    NoSuchEntry {
        /// As typed.
        asked: String,
        /// The nearest keys of entries, the nearest first.
        near: Vec<String>,
    },
}

fn near_words(near: &[String]) -> String {
    match near {
        [] => "; `ownwords notes` lists the entries".to_owned(),
        near => format!("; did you mean {}?", near.join(" or ")),
    }
}

/// The numbers of the entries of a key, upper and lower case aside.
pub(super) fn chosen(review: &Review, asked: &str) -> Result<Vec<usize>, NotesError> {
    let bare = asked.trim().trim_start_matches('@');
    let named = |entry: &Entry| {
        let key = entry.key.as_ref().map(Key::as_str);
        key.is_some_and(|key| key.eq_ignore_ascii_case(bare))
            || entry.heading.eq_ignore_ascii_case(bare)
    };
    let numbered = review.entries.iter().enumerate();
    let found: Vec<usize> = numbered
        .filter(|(_, entry)| named(entry))
        .map(|(number, _)| number)
        .collect();
    if !found.is_empty() {
        return Ok(found);
    }
    if let Some(key) = review.references.resolve_key(bare).one()
        && let Some(reference) = review.references.get(key)
    {
        return Err(NotesError::NotWritten {
            key: key.clone(),
            name: reference.name(),
        });
    }
    let names: BTreeSet<&str> = review
        .entries
        .iter()
        .map(|entry| {
            entry
                .key
                .as_ref()
                .map_or(entry.heading.as_str(), Key::as_str)
        })
        .collect();
    Err(NotesError::NoSuchEntry {
        asked: asked.to_owned(),
        near: nearest(bare, names),
    })
}

/// Names shown as near.
const MOST_NEAR: usize = 3;

/// Similarity (Jaro-Winkler, 0 to 1) from which on a name is near.
const NEAR: f64 = 0.75;

fn nearest(asked: &str, names: BTreeSet<&str>) -> Vec<String> {
    let asked = asked.to_lowercase();
    let mut near: Vec<(f64, &str)> = names
        .into_iter()
        .map(|name| (strsim::jaro_winkler(&asked, &name.to_lowercase()), name))
        .filter(|(similarity, _)| *similarity >= NEAR)
        .collect();
    // The stable sort leaves equals in order of their names.
    near.sort_by(|(a, _), (b, _)| b.total_cmp(a));
    let names = near.into_iter().take(MOST_NEAR);
    names.map(|(_, name)| name.to_owned()).collect()
}
