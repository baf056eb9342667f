//! References: what the bibliography files say of the works.
//!
//! 1. The files are read by format ([`bibtex`], [`csl_json`], [`ris`]), entry by entry, so that one bad
//!    entry loses only itself.
//! 2. They are put together: the first of two equal keys wins, works that stand
//!    twice are reported ([`duplicates`]), and works of the same authors and year get letters.
//! 3. [`References::resolve`] answers which reference a citation points at.

mod bibtex;
mod csl_items;
mod csl_json;
mod doi;
mod duplicates;
mod files;
mod index;
mod letters;
mod named_files;
mod names;
mod near;
mod order;
mod resolve;
mod ris;
mod surrogates;
mod titled;

use std::collections::BTreeMap;
use std::sync::Arc;

use unicode_normalization::UnicodeNormalization as _;

pub use doi::Doi;
use index::Index;

pub(super) use files::Annotation;
pub(super) use named_files::FileMatch;
pub(super) use names::fold;
pub(crate) use near::{NearMiss, is_slip_of};
pub(crate) use order::ListPlace;
pub use resolve::Resolved;

/// The reference that one item of CSL JSON describes; `None` where it has no id.
pub(super) fn from_csl_json(item: &str) -> Option<Reference> {
    let mut found = csl_json::read(item).found;
    (found.len() == 1).then(|| found.remove(0).reference)
}

/// A reference key, such as `harrow2019a`. Cheap to copy.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Key(Arc<str>);

impl Key {
    /// The key as written, but with composed accents: files and their names have either kind.
    #[must_use]
    pub fn new(key: &str) -> Self {
        if key.is_ascii() {
            return Self(Arc::from(key));
        }
        let composed: String = key.nfc().collect();
        Self(Arc::from(composed.as_str()))
    }

    /// The key.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl std::fmt::Display for Key {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(&self.0)
    }
}

/// An author or editor.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Person {
    /// Family name with its particle (`van der Berg`), or the whole name of a group.
    pub family: String,
    /// Given names; empty for a group.
    pub given: String,
}

/// What sort of work a reference is: only as fine as anything here asks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ReferenceKind {
    /// In a journal, magazine or newspaper.
    Article,
    /// A book or report of its own.
    Book,
    /// A part of a book.
    Chapter,
    /// Anything else.
    Other,
}

/// One reference.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reference {
    /// Its key.
    pub key: Key,
    /// What it is.
    pub kind: ReferenceKind,
    /// Authors, or editors where there are no authors. A last one named `others` and nothing else stands
    /// for those that the bibliography leaves out.
    pub authors: Vec<Person>,
    /// Year of publication.
    pub year: Option<i32>,
    /// The letter that distinguishes works of one author and year, where given or following from the
    /// key (`harrow2019a`).
    pub suffix: Option<char>,
    /// Title, without markup.
    pub title: String,
    /// Journal or book it stands in.
    pub container: Option<String>,
    /// First and last page as given.
    pub pages: Option<(String, String)>,
    /// Its DOI.
    pub doi: Option<Doi>,
    /// Names of files that the bibliography gives for it, without folders, in small letters.
    pub files: Vec<String>,
}

impl Reference {
    /// The name under which a text speaks of the work, in the author-date form: `Harrow (2019a)`,
    /// `Harrow & Okoro (2014)`, `Harrow et al. (2014)` for three and more, the name of a group, the
    /// title where there is no author; `n.d.` where there is no year.
    #[must_use]
    pub fn name(&self) -> String {
        let who = match self.authors.as_slice() {
            [] if self.title.is_empty() => self.key.to_string(),
            [] => format!("“{}”", self.title),
            [one] => one.family.clone(),
            [one, two] if !self.has_others() => format!("{} & {}", one.family, two.family),
            [one, ..] => format!("{} et al.", one.family),
        };
        format!("{who} ({})", self.dated())
    }

    /// Whether the bibliography leaves authors out (`and others`).
    #[must_use]
    pub fn has_others(&self) -> bool {
        let is_others = |last: &Person| last.family == "others" && last.given.is_empty();
        self.authors.len() > 1 && self.authors.last().is_some_and(is_others)
    }

    /// The year with its letter: `2019a`, `n.d.`, `n.d.-a`.
    #[must_use]
    pub fn dated(&self) -> String {
        match (self.year, self.suffix) {
            (Some(year), Some(letter)) => format!("{year}{letter}"),
            (Some(year), None) => year.to_string(),
            (None, Some(letter)) => format!("n.d.-{letter}"),
            (None, None) => "n.d.".to_owned(),
        }
    }
}

/// All references of a review by key, with an index of names for finding what a citation points at.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct References {
    by_key: BTreeMap<Key, Reference>,
    index: Index,
}

impl References {
    /// The references of a list; of two with the same key the first is kept. Works of the same authors
    /// and year get letters where none has one.
    #[must_use]
    pub fn new(references: impl IntoIterator<Item = Reference>) -> Self {
        let mut by_key = BTreeMap::new();
        for reference in references {
            by_key.entry(reference.key.clone()).or_insert(reference);
        }
        letters::assign(&mut by_key);
        let index = Index::of(by_key.values());
        Self { by_key, index }
    }

    /// The reference of a key, exactly as written.
    #[must_use]
    pub fn get(&self, key: &Key) -> Option<&Reference> {
        self.by_key.get(key)
    }

    /// A reference in words, `Harrow (2019a)`; the key where there is no reference.
    #[must_use]
    pub fn name(&self, key: &Key) -> String {
        self.get(key)
            .map_or_else(|| key.to_string(), Reference::name)
    }

    /// The reference with this DOI; `None` where several have it, as parts of one book may.
    #[must_use]
    pub fn with_doi(&self, doi: &Doi) -> Option<&Reference> {
        match self.index.with_doi(doi) {
            [one] => self.get(one),
            _ => None,
        }
    }

    /// The keys of the works of a title, which is given folded, in order.
    pub(in crate::review) fn with_title(&self, folded: &str) -> &[Key] {
        self.index.with_title(folded)
    }

    /// All references in order of their keys.
    pub fn iter(&self) -> impl Iterator<Item = &Reference> {
        self.by_key.values()
    }

    /// How many there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.by_key.len()
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.by_key.is_empty()
    }
}

#[cfg(test)]
pub(in crate::review) mod tests {
    use super::*;

    /// A reference for tests: `authors` as `Family, Given; Group`.
    pub(in crate::review) fn reference(
        key: &str,
        authors: &str,
        year: Option<i32>,
        title: &str,
    ) -> Reference {
        let person = |name: &str| match name.split_once(',') {
            Some((family, given)) => Person {
                family: family.trim().to_owned(),
                given: given.trim().to_owned(),
            },
            None => Person {
                family: name.trim().to_owned(),
                given: String::new(),
            },
        };
        Reference {
            key: Key::new(key),
            kind: ReferenceKind::Article,
            authors: authors
                .split(';')
                .filter(|name| !name.trim().is_empty())
                .map(person)
                .collect(),
            year,
            suffix: None,
            title: title.to_owned(),
            container: None,
            pages: None,
            doi: None,
            files: Vec::new(),
        }
    }

    #[test]
    fn names_follow_the_number_of_authors() {
        let cases = [
            ("Harrow, Anna", Some(2019), "Harrow (2019)"),
            (
                "Harrow, Anna; Okoro, Ben",
                Some(2014),
                "Harrow & Okoro (2014)",
            ),
            (
                "Harrow, A.; Okoro, B.; van der Berg, C.",
                Some(2014),
                "Harrow et al. (2014)",
            ),
            (
                "National Lighting Survey",
                Some(2020),
                "National Lighting Survey (2020)",
            ),
            ("van der Berg, C.", None, "van der Berg (n.d.)"),
            ("", Some(2001), "“Moths” (2001)"),
        ];
        for (authors, year, name) in cases {
            assert_eq!(reference("k", authors, year, "Moths").name(), name);
        }
    }
}
