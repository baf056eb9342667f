//! The material of a check: the review as a library, and a draft with what its citations mean.

use std::ops::Range;

use crate::overlap::{Document, Draft, Library};
use crate::review::{Entry, Key, PartKind, References, Resolved, Review, Source};
use crate::text::{ByteRange, Citation, CitationForm, MarkedText, PageStart, WordRange};

use super::{Compared, DraftPlace, SourcePlace};

/// Where a document of the library comes from.
#[derive(Debug, Clone, Copy)]
pub enum Origin<'a> {
    /// A stored source.
    Source(&'a Source),
    /// A part of an entry.
    Note(&'a Entry, PartKind),
}

/// A review made ready for comparison. Sources come first, parts of entries behind them.
#[derive(Debug)]
pub struct Shelf<'a> {
    /// The review.
    pub review: &'a Review,
    /// The references for the draft at hand: the review's, and those that the draft carries.
    pub references: References,
    /// Its texts.
    pub library: Library<'a>,
    origins: Vec<Origin<'a>>,
}

/// A text and the stretches of it that are documents of their own.
type Stretches<'a> = (&'a MarkedText, Vec<ByteRange>);

impl<'a> Shelf<'a> {
    /// Puts all sources and notes of a review on the shelf.
    #[must_use]
    pub fn new(review: &'a Review) -> Self {
        let (mut texts, mut origins) = Self::all_sources(review);
        for (number, file) in review.note_files.iter().enumerate() {
            let mut parts = Vec::new();
            for entry in review.entries.iter().filter(|entry| entry.file == number) {
                for part in entry
                    .parts
                    .iter()
                    .filter(|part| part.kind != PartKind::Reference)
                {
                    parts.push(part.range);
                    origins.push(Origin::Note(entry, part.kind));
                }
            }
            texts.push((&file.text, parts));
        }
        Self::with(review, &texts, origins)
    }

    /// Puts the sources on the shelf and no notes, as the check of the notes themselves asks for.
    #[must_use]
    pub fn of_sources(review: &'a Review) -> Self {
        let (texts, origins) = Self::all_sources(review);
        Self::with(review, &texts, origins)
    }

    fn all_sources(review: &'a Review) -> (Vec<Stretches<'a>>, Vec<Origin<'a>>) {
        let whole = |source: &Source| ByteRange::of(0, source.text.text.content().len());
        let sources = review.sources.iter();
        let texts = sources.map(|source| (&source.text, vec![whole(source)]));
        (
            texts.collect(),
            review.sources.iter().map(Origin::Source).collect(),
        )
    }

    fn with(review: &'a Review, texts: &[Stretches<'a>], origins: Vec<Origin<'a>>) -> Self {
        Self {
            review,
            references: review.references.clone(),
            library: Library::new(texts, review.sources.len()),
            origins,
        }
    }

    /// The numbers of the documents that are sources.
    #[must_use]
    pub fn sources(&self) -> Range<usize> {
        0..self.review.sources.len()
    }

    /// The numbers of the documents that are parts of entries.
    #[must_use]
    pub fn notes(&self) -> Range<usize> {
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

    /// Where a document comes from.
    #[must_use]
    pub fn origin(&self, document: usize) -> Option<Origin<'a>> {
        self.origins.get(document).copied()
    }

    /// The source that a document is.
    #[must_use]
    pub fn source(&self, document: usize) -> Option<&'a Source> {
        match self.origin(document)? {
            Origin::Source(source) => Some(source),
            Origin::Note(..) => None,
        }
    }

    /// The documents that are stored texts of a reference.
    pub fn documents_of<'s>(&'s self, key: &'s Key) -> impl Iterator<Item = usize> + 's {
        // Sources are in order of their keys.
        let sources = &self.review.sources;
        let first = sources.partition_point(|source| source.key < *key);
        let rest = sources.iter().enumerate().skip(first);
        rest.take_while(move |(_, source)| source.key == *key)
            .map(|(number, _)| number)
    }

    /// Whether more than the abstract of a reference is stored.
    #[must_use]
    pub fn has_text(&self, key: &Key) -> bool {
        let mut documents = self.documents_of(key);
        documents.any(|number| {
            self.source(number)
                .is_some_and(|source| !source.is_abstract)
        })
    }

    /// A reference in words, `Harrow (2019a)`; the key where there is no reference.
    #[must_use]
    pub fn name(&self, key: &Key) -> String {
        self.references
            .get(key)
            .map_or_else(|| key.to_string(), |reference| reference.name())
    }

    /// The place of a stretch of a source document.
    #[must_use]
    pub fn source_place(&self, document: usize, words: WordRange) -> Option<SourcePlace> {
        let source = self.source(document)?;
        let Document { text, stream } = self.library.documents.get(document)?;
        let range = whole_sentence(text, stream.bytes(text, words));
        Some(SourcePlace {
            key: source.key.clone(),
            name: match source.is_abstract {
                true => format!("{}, abstract", self.name(&source.key)),
                false => self.name(&source.key),
            },
            path: source.path.clone(),
            range,
            pages: text
                .text
                .pages()
                .of(range)
                .map(|(first, last)| (first.clone(), last.clone())),
            text: text.text.slice(range).to_owned(),
            page_marks: text
                .text
                .pages()
                .marks_in(range)
                .map(|mark| mark.intersection(range))
                .collect(),
        })
    }
}

/// A range of words widened over the end mark where it ends with its sentence.
#[must_use]
pub fn whole_sentence(text: &MarkedText, range: ByteRange) -> ByteRange {
    let last = range.end().saturating_sub(1);
    let number = text
        .sentences
        .partition_point(|sentence| sentence.range.end() <= last);
    let Some(sentence) = text.sentences.get(number) else {
        return range;
    };
    let rest = ByteRange::of(range.end(), sentence.range.end());
    let ends_here = sentence.range.contains(last) && text.words_in(rest).is_empty();
    if ends_here { range.hull(rest) } else { range }
}

/// A citation of the draft and what it points at.
#[derive(Debug, Clone)]
pub struct Credited<'a> {
    /// The citation.
    pub citation: &'a Citation,
    /// For each of its cites, the references it may mean.
    pub resolved: Vec<Resolved>,
    /// Of a citation in a footnote the places in the running text that call the note, each behind the
    /// last character before it that is not blank. It counts as standing there too.
    pub calls: Vec<usize>,
}

impl Credited<'_> {
    /// Whether any of its cites points at a reference of the review.
    #[must_use]
    pub fn is_resolved(&self) -> bool {
        self.resolved
            .iter()
            .any(|resolved| !resolved.keys().is_empty())
    }

    /// Whether it stands in a stretch of the draft, or is called from there.
    #[must_use]
    pub fn touches(&self, range: ByteRange) -> bool {
        let called = |at: &usize| range.start() < *at && *at <= range.end();
        self.citation.range.overlaps(range) || self.calls.iter().any(called)
    }

    /// Where it stands as seen from a stretch of the draft: its own place, or the nearest call of its
    /// footnote.
    #[must_use]
    pub fn place_near(&self, range: ByteRange) -> ByteRange {
        let own = self.citation.range;
        let calls = self.calls.iter().map(|at| ByteRange::of(*at, *at));
        let distance = |place: &ByteRange| {
            let (behind, before) = (
                place.start().saturating_sub(range.end()),
                range.start().saturating_sub(place.end()),
            );
            behind.max(before)
        };
        calls.chain([own]).min_by_key(distance).unwrap_or(own)
    }

    /// Whether any of its cites points at this reference.
    #[must_use]
    pub fn points_at(&self, key: &Key) -> bool {
        self.resolved
            .iter()
            .any(|resolved| resolved.keys().contains(key))
    }
}

/// A draft under check.
#[derive(Debug)]
pub struct Desk<'a> {
    /// The review.
    pub shelf: &'a Shelf<'a>,
    /// The draft's words.
    pub draft: Draft<'a>,
    /// Its citations in order.
    pub citations: Vec<Credited<'a>>,
}

impl<'a> Desk<'a> {
    /// The draft's marked text.
    #[must_use]
    pub fn text(&self) -> &'a MarkedText {
        self.draft.text
    }

    /// The place of a stretch of the draft's bytes.
    #[must_use]
    pub fn place(&self, range: ByteRange) -> DraftPlace {
        let text = &self.text().text;
        DraftPlace {
            range,
            line: text.line(range.start()),
            page: text.pages().at(range.start()).cloned(),
            text: text.slice(range).to_owned(),
        }
    }

    /// The place of a stretch of the draft's stream, with its end mark where it ends a sentence.
    #[must_use]
    pub fn place_of(&self, words: WordRange) -> DraftPlace {
        let bytes = self.draft.stream.bytes(self.text(), words);
        self.place(whole_sentence(self.text(), bytes))
    }

    /// The citations in the sentences that a range touches, and in as many sentences around them in
    /// the same block as the settings call nearby.
    #[must_use]
    pub fn nearby(&self, range: ByteRange) -> Vec<&Credited<'a>> {
        let around = self.around(range, self.shelf.review.settings.credit_sentences);
        self.within(around)
    }

    /// The citations that touch a range, those of footnotes called there included.
    #[must_use]
    pub fn within(&self, range: ByteRange) -> Vec<&Credited<'a>> {
        self.citations
            .iter()
            .filter(|credited| credited.touches(range))
            .collect()
    }

    /// Whether marked words stand inside a footnote's citation: they are the title of the work, not its
    /// words.
    #[must_use]
    pub fn is_cited_title(&self, range: ByteRange) -> bool {
        let from = self
            .citations
            .partition_point(|credited| credited.citation.range.end() <= range.start());
        self.citations.get(from).is_some_and(|credited| {
            let citation = credited.citation;
            citation.form == CitationForm::Note && citation.range.covers(range)
        })
    }

    /// A range widened to whole sentences and by some more on each side within its block.
    #[must_use]
    pub fn around(&self, range: ByteRange, more: usize) -> ByteRange {
        let sentences = &self.text().sentences;
        let first = sentences.partition_point(|sentence| sentence.range.end() <= range.start());
        let behind = sentences.partition_point(|sentence| sentence.range.start() < range.end());
        let last = behind.saturating_sub(1).max(first);
        let (Some(start), Some(end)) = (sentences.get(first), sentences.get(last)) else {
            return range;
        };
        let before = sentences[..first]
            .iter()
            .rev()
            .take(more)
            .take_while(|s| s.block == start.block);
        let after = sentences[last + 1..]
            .iter()
            .take(more)
            .take_while(|s| s.block == end.block);
        before.chain(after).fold(
            start.range.hull(end.range).hull(range),
            |around, sentence| around.hull(sentence.range),
        )
    }
}
