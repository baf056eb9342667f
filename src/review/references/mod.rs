//! References: what the bibliography files say of the works.

use std::collections::BTreeMap;
use std::sync::Arc;

/// A reference key, such as `harrow2019a`. Cheap to copy.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Key(Arc<str>);

impl Key {
    /// The key as written.
    #[must_use]
    pub fn new(key: &str) -> Self {
        Self(Arc::from(key))
    }

    /// The key as written.
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
    /// Authors, or editors where there are no authors.
    pub authors: Vec<Person>,
    /// Year of publication.
    pub year: Option<i32>,
    /// The letter that tells works of one author and year apart, where given or following from the
    /// key (`harrow2019a`).
    pub suffix: Option<char>,
    /// Title, without markup.
    pub title: String,
    /// Journal or book it stands in.
    pub container: Option<String>,
    /// First and last page as given.
    pub pages: Option<(String, String)>,
}

/// All references of a review by key.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct References {
    by_key: BTreeMap<Key, Reference>,
}

impl References {
    /// The reference of a key.
    #[must_use]
    pub fn get(&self, key: &Key) -> Option<&Reference> {
        self.by_key.get(key)
    }

    /// All references in order of their keys.
    pub fn iter(&self) -> impl Iterator<Item = &Reference> {
        self.by_key.values()
    }
}
