//! The trail: the note by way of which wording came from a source into the draft.

use crate::overlap::alignment::align;
use crate::overlap::strings::Run;
use crate::overlap::{Document, Measures, Passage};
use crate::review::Key;
use crate::text::{MarkedText, Quotation, WordRange};

use super::NotePlace;
use super::material::{Desk, Origin, whole_sentence};

/// Share of a draft passage's words that a note must cover to be on its trail.
pub(super) const LEAST_COVERED: f64 = 0.4;

/// Closeness below which a note is not where the wording came from.
pub(super) const LEAST_CLOSENESS: f32 = 0.34;

/// The notes' passages of a draft, from which trails are told.
#[derive(Debug)]
pub struct Trails {
    passages: Vec<Passage>,
}

impl Trails {
    /// Trails by way of the given passages between draft and notes.
    #[must_use]
    pub fn new(passages: Vec<Passage>) -> Self {
        Self { passages }
    }

    /// The note that a draft passage most likely came by: of those that cover enough of it, an entry
    /// of the same reference before others, then the one that covers most, then the closest.
    #[must_use]
    pub fn note<'t>(&'t self, desk: &Desk<'_>, draft: WordRange, key: &Key) -> Option<&'t Passage> {
        let covered = |passage: &Passage| passage.draft.intersection(draft).len();
        self.passages
            .iter()
            .filter(|passage| {
                passage.evidence.closeness >= LEAST_CLOSENESS || passage.longest_copy > 0
            })
            .filter(|passage| covered(passage) as f64 >= LEAST_COVERED * draft.len() as f64)
            .filter(|passage| entry_key(desk, passage).is_none_or(|of_entry| of_entry == key))
            .max_by(|a, b| {
                let same = |passage: &Passage| entry_key(desk, passage) == Some(key);
                (same(a), covered(a))
                    .cmp(&(same(b), covered(b)))
                    .then_with(|| a.evidence.closeness.total_cmp(&b.evidence.closeness))
                    .then_with(|| b.document.cmp(&a.document))
            })
    }
}

fn entry_key<'s>(desk: &Desk<'s>, passage: &Passage) -> Option<&'s Key> {
    match desk.shelf.origin(passage.document)? {
        Origin::Note(entry, _) => entry.key.as_ref(),
        Origin::Source(_) => None,
    }
}

/// The place of a note passage, with the distance of each step where the source is known.
#[must_use]
pub fn note_place(
    desk: &Desk<'_>,
    note: &Passage,
    source: Option<(usize, WordRange)>,
) -> Option<NotePlace> {
    let mut place = place_in_notes(desk, note.document, note.source)?;
    place.to_draft = Some((note.measures.degree(), note.measures.position()));
    place.from_source = source.and_then(|(document, words)| {
        let measures = note_from_source(desk, note, document, words)?;
        Some((measures.degree(), measures.position()))
    });
    Some(place)
}

/// How far a note stands from the stretch of the source.
#[must_use]
pub fn note_from_source(
    desk: &Desk<'_>,
    note: &Passage,
    document: usize,
    words: WordRange,
) -> Option<Measures> {
    let library = &desk.shelf.library;
    let ours = library
        .documents
        .get(note.document)?
        .stream
        .slice(note.source);
    let theirs = library.documents.get(document)?.stream.slice(words);
    let alignment = align(ours, theirs, &library.lexicon);
    Some(Measures::count(ours, &alignment, &library.lexicon))
}

/// The place of a stretch of a document that is part of an entry.
#[must_use]
pub fn place_in_notes(desk: &Desk<'_>, document: usize, words: WordRange) -> Option<NotePlace> {
    let Origin::Note(entry, part) = desk.shelf.origin(document)? else {
        return None;
    };
    let stored = desk.shelf.library.documents.get(document)?;
    let bytes = stored.stream.bytes(stored.text, words);
    let range = whole_sentence(stored.text, bytes);
    Some(NotePlace {
        entry: entry
            .key
            .as_ref()
            .map_or_else(|| entry.heading.clone(), Key::to_string),
        path: desk.shelf.review.note_files.get(entry.file)?.path.clone(),
        part,
        marked: marked_words(stored.text, bytes) * 2 > stored.text.words_in(bytes).len(),
        range,
        text: stored.text.text.slice(range).to_owned(),
        from_source: None,
        to_draft: None,
    })
}

/// Words of a stretch that stand in marked quotations.
fn marked_words(text: &MarkedText, bytes: crate::text::ByteRange) -> usize {
    text.quotations
        .iter()
        .filter(|quotation| quotation.depth == 0)
        .map(|quotation| text.words_in(quotation.inner.intersection(bytes)))
        .filter(|words| !words.is_empty())
        .map(WordRange::len)
        .sum()
}

/// The quotations that touch a document. A file of notes holds many documents, so they are not looked for
/// in the whole of it.
fn quotations_of<'d>(stored: &'d Document<'_>) -> impl Iterator<Item = &'d Quotation> {
    let whole = WordRange::of(0, stored.stream.len());
    let bytes = stored.stream.bytes(stored.text, whole);
    let all = &stored.text.quotations;
    let first = all.partition_point(|quotation| quotation.outer.start() < bytes.start());
    // Outer quotations come first, so the one at depth 0 that reaches in is at most a few back.
    let before = all.get(..first).unwrap_or_default().iter().rev();
    let reaching = before
        .take_while(move |quotation| quotation.outer.end() > bytes.start() || quotation.depth > 0)
        .count();
    let rest = all.get(first - reaching..).unwrap_or_default().iter();
    rest.take_while(move |quotation| quotation.outer.start() < bytes.end())
}

/// A stretch that is marked as a quotation in the notes and stands unmarked in the draft.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LostMarks {
    /// Where in the draft's stream.
    pub draft: WordRange,
    /// The note's document.
    pub document: usize,
    /// Where in its stream.
    pub note: WordRange,
}

/// All stretches of the draft that are marked in the notes, longest first, none overlapping another.
#[must_use]
pub fn lost_marks(desk: &Desk<'_>, runs: &[Vec<Run>]) -> Vec<LostMarks> {
    let settings = &desk.shelf.review.settings;
    let mut found = Vec::new();
    for document in desk.shelf.notes() {
        let stored = &desk.shelf.library.documents[document];
        let quotations = quotations_of(stored).filter(|quotation| quotation.depth == 0);
        let marked: Vec<WordRange> = quotations
            .map(|quotation| stored.stream.within(stored.text, quotation.inner))
            .filter(|words| words.len() >= settings.quotation_words)
            .collect();
        for run in runs.get(document).into_iter().flatten() {
            for quotation in marked.iter().filter(|words| words.overlaps(run.source)) {
                let note = quotation.intersection(run.source);
                let from = run.draft.start() + (note.start() - run.source.start());
                let draft = WordRange::of(from, from + note.len());
                let unmarked = draft
                    .as_range()
                    .filter(|at| !desk.draft.quoted[*at])
                    .count();
                // A short quotation taken over whole is lost as surely as a long one in part.
                if unmarked >= settings.run_words.min(quotation.len()) && unmarked == draft.len() {
                    found.push(LostMarks {
                        draft,
                        document,
                        note,
                    });
                }
            }
        }
    }
    found.sort_by_key(|lost| {
        (
            std::cmp::Reverse(lost.draft.len()),
            lost.draft,
            lost.document,
            lost.note,
        )
    });
    let mut kept: Vec<LostMarks> = Vec::new();
    for lost in found {
        if !kept.iter().any(|other| other.draft.overlaps(lost.draft)) {
            kept.push(lost);
        }
    }
    kept.sort_by_key(|lost| lost.draft);
    kept
}
