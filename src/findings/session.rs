//! The session: a review opened once and made ready for comparison. It is never changed, so any number of drafts can be
//! laid on it at the same time, from any number of threads, for as long as it is kept.
//!
//! 1. [`Session::new`] puts the texts of the review into one [`Library`], the sources first, the parts of the entries
//!    behind them, and prepares the fixed phrases and titles that rules ask for.
//! 2. [`Session::lay`] lays a draft on it: see [`super::laid`].

use std::ops::Range;
#[cfg(feature = "disk")]
use std::path::Path;
use std::sync::Arc;

use crate::overlap::StreamRange;
use crate::overlap::{Document, Library};
#[cfg(feature = "disk")]
use crate::review::ReviewError;
use crate::review::{Entry, Key, Part, PartKind, References, Review, Source};
use crate::text::{ByteRange, MarkedText, PageLabel, PageStart};

use super::fixed::Phrases;
use super::front_matter::wording_begins;
use super::laid::whole_sentence;
use super::quoting::Titles;
use super::{Compared, SourcePlace};

/// Shared strings need not be longer than this to be looked for: shorter ones come by chance too often to lead
/// anywhere. Where `run_words` is smaller, it decides.
const SEED_WORDS: usize = 5;

/// A document of the library as the review knows it.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Holding<'s> {
    /// A stored source.
    Source(&'s Source),
    /// A part of an entry.
    Note(&'s Entry, PartKind),
}

/// The same by number.
#[derive(Debug, Clone, Copy)]
enum Place {
    Source(usize),
    Note(usize, PartKind),
}

/// A review made ready for comparison.
#[derive(Debug)]
pub struct Session {
    /// The review.
    pub review: Review,
    /// Its texts: sources first, parts of entries behind them.
    pub(crate) library: Library,
    /// Expressions that are nobody's wording.
    pub(crate) phrases: Phrases,
    /// Titles of works, which may stand in quotation marks without being quoted.
    pub(super) titles: Arc<Titles>,
    stored: Vec<Place>,
}

/// Texts, each with the stretches of it that are documents of their own.
type Stretches = Vec<(Arc<MarkedText>, Vec<ByteRange>)>;

impl Session {
    /// Opens the review in a folder.
    ///
    /// # Errors
    /// [`ReviewError`] where the folder or its settings can't be used.
    #[cfg(feature = "disk")]
    pub fn open(root: &Path) -> Result<Arc<Self>, ReviewError> {
        Ok(Self::new(Review::open(root)?))
    }

    /// A session on a review that was read.
    #[must_use]
    pub fn new(review: Review) -> Arc<Self> {
        let (mut texts, mut stored) = sources(&review);
        let mut parts: Vec<Vec<(usize, &Part)>> = vec![Vec::new(); review.note_files.len()];
        for (at, entry) in review.entries.iter().enumerate() {
            if let Some(of_file) = parts.get_mut(entry.file) {
                of_file.extend(entry.parts.iter().map(|part| (at, part)));
            }
        }
        for (file, parts) in review.note_files.iter().zip(parts) {
            let compared = parts
                .into_iter()
                .filter(|(_, part)| part.kind != PartKind::Reference);
            let (of_text, places): (Vec<ByteRange>, Vec<Place>) = compared
                .map(|(at, part)| (part.range, Place::Note(at, part.kind)))
                .unzip();
            texts.push((Arc::clone(&file.text), of_text));
            stored.extend(places);
        }
        let mut library = Library::new(&texts, review.sources.len());
        for (source, document) in review.sources.iter().zip(&mut library.documents) {
            if let Some(reference) = review.references.get(&source.key) {
                document.begin_wording(wording_begins(&source.text, reference));
            }
        }
        Arc::new(Self {
            library,
            phrases: Phrases::new(&review),
            titles: Arc::new(Titles::of(&review.references)),
            stored,
            review,
        })
    }

    /// Words of the shortest shared strings that are looked for.
    pub(super) fn seed(&self) -> usize {
        self.review.settings.run_words.min(SEED_WORDS)
    }

    /// The numbers of the documents that are sources.
    #[must_use]
    pub(crate) fn sources(&self) -> Range<usize> {
        0..self.review.sources.len()
    }

    /// The numbers of the documents that are parts of entries.
    #[must_use]
    pub(crate) fn notes(&self) -> Range<usize> {
        self.review.sources.len()..self.library.documents.len()
    }

    /// The stored sources one by one, as a report names them.
    #[must_use]
    pub fn compared(&self) -> Vec<Compared> {
        let named = |source: &Source| {
            let pages = source.text.text.pages().starts();
            let label = |start: Option<&PageStart>| start.map(|start| start.label.clone());
            Compared {
                key: source.key.clone(),
                name: self.name(&source.key),
                path: source.path.clone(),
                words: source.text.words.len(),
                pages: label(pages.first()).zip(label(pages.last())),
            }
        };
        self.review.sources.iter().map(named).collect()
    }

    /// All words of the stored sources.
    #[must_use]
    pub fn source_words(&self) -> usize {
        let sources = self.review.sources.iter();
        sources.map(|source| source.text.words.len()).sum()
    }

    /// What a document is in the review.
    #[must_use]
    pub(super) fn holding(&self, document: usize) -> Option<Holding<'_>> {
        match *self.stored.get(document)? {
            Place::Source(at) => self.review.sources.get(at).map(Holding::Source),
            Place::Note(at, part) => {
                let entry = self.review.entries.get(at)?;
                Some(Holding::Note(entry, part))
            }
        }
    }

    /// The source that a document is.
    #[must_use]
    pub(super) fn source(&self, document: usize) -> Option<&Source> {
        match self.holding(document)? {
            Holding::Source(source) => Some(source),
            Holding::Note(..) => None,
        }
    }

    /// The documents that are stored texts of a reference.
    pub(super) fn documents_of<'s>(&'s self, key: &'s Key) -> impl Iterator<Item = usize> + 's {
        // Sources are in order of their keys.
        let sources = &self.review.sources;
        let first = sources.partition_point(|source| source.key < *key);
        let rest = sources.iter().enumerate().skip(first);
        rest.take_while(move |(_, source)| source.key == *key)
            .map(|(number, _)| number)
    }

    /// Whether more than the abstract of a reference is stored.
    #[must_use]
    pub(super) fn has_text(&self, key: &Key) -> bool {
        let mut documents = self.documents_of(key);
        documents.any(|number| {
            self.source(number)
                .is_some_and(|source| !source.is_abstract)
        })
    }

    /// The place of a stretch of a source document, its reference named as among the given ones.
    #[must_use]
    pub(super) fn source_place(
        &self,
        document: usize,
        words: StreamRange,
        references: &References,
    ) -> Option<SourcePlace> {
        let source = self.source(document)?;
        let Document { text, stream, .. } = self.library.documents.get(document)?;
        let range = whole_sentence(text, stream.bytes(text, words));
        let name = references.name(&source.key);
        let pages = text.text.pages();
        let both = |(first, last): (&PageLabel, &PageLabel)| (first.clone(), last.clone());
        Some(SourcePlace {
            key: source.key.clone(),
            name: match source.is_abstract {
                true => format!("{name}, abstract"),
                false => name,
            },
            path: source.path.clone(),
            range,
            pages: pages.of(range).map(both),
            text: text.text.slice(range).to_owned(),
            page_marks: pages
                .marks_in(range)
                .map(|mark| mark.intersection(range))
                .collect(),
        })
    }

    /// A reference of the review in words, `Harrow (2019a)`; the key where there is no reference.
    #[must_use]
    pub(super) fn name(&self, key: &Key) -> String {
        self.review.references.name(key)
    }
}

/// All sources, each a document by itself.
fn sources(review: &Review) -> (Stretches, Vec<Place>) {
    let sources = review.sources.iter();
    let texts = sources.map(|source| {
        let whole = ByteRange::of(0, source.text.text.content().len());
        (Arc::clone(&source.text), vec![whole])
    });
    let stored = (0..review.sources.len()).map(Place::Source);
    (texts.collect(), stored.collect())
}
