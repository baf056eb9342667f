//! The trail: the note by way of which wording came from a source into the draft.

use crate::overlap::StreamRange;
use crate::overlap::alignment::align;
use crate::overlap::lexicon::FormId;
use crate::overlap::strings::Run;
use crate::overlap::{Degree, Measures, Passage};
use crate::review::{Entry, Key, PartKind};
use crate::text::{ByteRange, MarkedText, WordRange};

use super::laid::{LaidDraft, whole_sentence};
use super::lost_marks::LostMarks;
use super::session::Holding;
use super::{Finding, Kind, NotePlace, SourcePlace};

/// Share of a draft passage's words that a note must cover to be on its trail.
pub(super) const LEAST_COVERED: f64 = 0.4;

/// Share of a draft passage's words that the writer's comments must cover for it to be theirs.
pub(super) const MOSTLY_COVERED: f64 = 0.6;

/// Closeness below which a note is not where the wording came from.
pub(super) const LEAST_CLOSENESS: f32 = 0.34;

/// Where on the way from the source by the note to the draft the wording stayed close.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum StayedClose {
    /// The note has the words in quotation marks; the draft lost them.
    LostMarks,
    /// The note already stood close to the source, so the draft does.
    InNote,
    /// The note is in the writer's own words; the draft went back to the source's.
    InDraft,
    /// Neither step stayed close.
    Nowhere,
}

impl StayedClose {
    /// All, for the schema.
    pub const ALL: [Self; 4] = [Self::LostMarks, Self::InNote, Self::InDraft, Self::Nowhere];

    /// The name in JSON.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::LostMarks => "lost-marks",
            Self::InNote => "in-note",
            Self::InDraft => "in-draft",
            Self::Nowhere => "nowhere",
        }
    }

    /// In words for people.
    #[must_use]
    pub fn said(self) -> &'static str {
        match self {
            Self::LostMarks => "the marks were lost after the note",
            Self::InNote => "close already in the note",
            Self::InDraft => "your own in the note, close again here",
            Self::Nowhere => "reworded at each step",
        }
    }
}

/// Whether wording of this degree is still the source's for the most part.
#[must_use]
pub(crate) fn is_close(degree: Degree) -> bool {
    degree <= Degree::LightRevision
}

impl Finding {
    /// Where on its trail the wording stayed close; `None` where no note lies on the way, or where the
    /// steps aren't known.
    #[must_use]
    pub fn stayed_close(&self) -> Option<StayedClose> {
        let note = self.note.as_ref()?;
        if self.kind == Kind::LostQuotationMarks {
            return Some(StayedClose::LostMarks);
        }
        if note.marked || self.degree.is_none() {
            // A quotation is meant to stay close.
            return None;
        }
        let (from_source, _) = note.from_source?;
        Some(match self.degree {
            _ if is_close(from_source) => StayedClose::InNote,
            Some(draft) if is_close(draft) => StayedClose::InDraft,
            _ => StayedClose::Nowhere,
        })
    }
}

/// The notes' passages of a draft, from which trails are made.
#[derive(Debug)]
pub(crate) struct Trails {
    passages: Vec<Passage>,
}

impl Trails {
    /// Trails by way of the given passages between draft and notes.
    #[must_use]
    pub(crate) fn new(passages: Vec<Passage>) -> Self {
        Self { passages }
    }

    /// The note that a draft passage most likely came by: of those that cover enough of it, an entry
    /// of the same reference before others, then the one that covers most, then the closest.
    #[must_use]
    pub(crate) fn note<'t>(
        &'t self,
        laid: &LaidDraft,
        draft: StreamRange,
        key: &Key,
    ) -> Option<&'t Passage> {
        let covered = |passage: &Passage| passage.draft.intersection(draft).len();
        self.passages
            .iter()
            .filter(|passage| {
                passage.support.closeness >= LEAST_CLOSENESS || passage.longest_copy > 0
            })
            .filter(|passage| covered(passage) as f64 >= LEAST_COVERED * draft.len() as f64)
            .filter(|passage| entry_key(laid, passage).is_none_or(|of_entry| of_entry == key))
            .max_by(|a, b| {
                let same = |passage: &Passage| entry_key(laid, passage) == Some(key);
                (same(a), covered(a))
                    .cmp(&(same(b), covered(b)))
                    .then_with(|| a.support.closeness.total_cmp(&b.support.closeness))
                    .then_with(|| b.document.cmp(&a.document))
            })
    }

    /// The writer's comments on a source from which most of a draft passage comes, and the name of their
    /// entry. Comments on another source are none: what they say of this one would want its credit.
    #[must_use]
    pub(crate) fn comment<'t>(
        &'t self,
        laid: &LaidDraft,
        passage: &Passage,
        key: &Key,
    ) -> Option<(&'t Passage, String)> {
        let covered = |note: &Passage| note.draft.intersection(passage.draft).len();
        let own = self.passages.iter().filter_map(|note| {
            let Some(Holding::Note(entry, PartKind::Comments)) =
                laid.session.holding(note.document)
            else {
                return None;
            };
            let most = covered(note) as f64 >= MOSTLY_COVERED * passage.draft.len() as f64;
            let of_source = entry.key.as_ref().is_none_or(|of_entry| of_entry == key);
            (most && of_source).then(|| (note, entry_name(entry)))
        });
        own.max_by(|(a, _), (b, _)| {
            (covered(a).cmp(&covered(b))).then_with(|| b.document.cmp(&a.document))
        })
    }
}

/// The entry's key, or its heading where it has none.
fn entry_name(entry: &Entry) -> String {
    entry
        .key
        .as_ref()
        .map_or_else(|| entry.heading.clone(), Key::to_string)
}

fn entry_key<'s>(laid: &'s LaidDraft, passage: &Passage) -> Option<&'s Key> {
    match laid.session.holding(passage.document)? {
        Holding::Note(entry, _) => entry.key.as_ref(),
        Holding::Source(_) => None,
    }
}

/// The place of a note passage, with the distance of each step where the source is known.
#[must_use]
pub(crate) fn note_place(
    laid: &LaidDraft,
    note: &Passage,
    source: Option<(usize, StreamRange)>,
) -> Option<NotePlace> {
    let mut place = place_in_notes(laid, note.document, note.source)?;
    place.to_draft = Some((note.measures.degree(), note.measures.position()));
    place.from_source = source.and_then(|(document, words)| {
        let measures = note_from_source(laid, note, document, words)?;
        Some((measures.degree(), measures.position()))
    });
    Some(place)
}

/// How far a note stands from the stretch of the source.
#[must_use]
pub(crate) fn note_from_source(
    laid: &LaidDraft,
    note: &Passage,
    document: usize,
    words: StreamRange,
) -> Option<Measures> {
    between_documents(laid, (note.document, note.source), (document, words))
}

/// How far one stretch of the session stands from another.
fn between_documents(
    laid: &LaidDraft,
    ours: (usize, StreamRange),
    theirs: (usize, StreamRange),
) -> Option<Measures> {
    let library = &laid.session.library;
    let words = |(document, words): (usize, StreamRange)| {
        Some(library.documents.get(document)?.stream.slice(words))
    };
    let (ours, theirs) = (words(ours)?, words(theirs)?);
    let alignment = align(ours, theirs, &library.lexicon);
    Some(Measures::count(ours, theirs, &alignment, &library.lexicon))
}

/// The place in the notes of words that lost their marks, with the distance of each step.
#[must_use]
pub(crate) fn lost_place(
    laid: &LaidDraft,
    lost: &LostMarks,
    source: Option<(usize, StreamRange)>,
) -> Option<NotePlace> {
    let mut place = place_in_notes(laid, lost.document, lost.note)?;
    let note = (lost.document, lost.note);
    let closeness = |measures: Measures| (measures.degree(), measures.position());
    place.from_source = source
        .and_then(|source| between_documents(laid, note, source))
        .map(closeness);
    // Lost marks are found by words that stand in both as they are.
    place.to_draft = Some((Degree::Verbatim, 0.0));
    Some(place)
}

/// The place of a stretch of a document that is part of an entry.
#[must_use]
pub(crate) fn place_in_notes(
    laid: &LaidDraft,
    document: usize,
    words: StreamRange,
) -> Option<NotePlace> {
    let Holding::Note(entry, part) = laid.session.holding(document)? else {
        return None;
    };
    let stored = laid.session.library.documents.get(document)?;
    let bytes = stored.stream.bytes(&stored.text, words);
    let range = whole_sentence(&stored.text, bytes);
    Some(NotePlace {
        entry: entry_name(entry),
        path: laid.session.review.note_files.get(entry.file)?.path.clone(),
        part,
        marked: marked_words(&stored.text, bytes) * 2 > stored.text.words_in(bytes).len(),
        range,
        text: stored.text.text.slice(range).to_owned(),
        from_source: None,
        to_draft: None,
    })
}

/// Words of a stretch that stand in marked quotations.
fn marked_words(text: &MarkedText, bytes: ByteRange) -> usize {
    text.quotations
        .iter()
        .filter(|quotation| quotation.depth == 0)
        .map(|quotation| text.words_in(quotation.inner.intersection(bytes)))
        .filter(|words| !words.is_empty())
        .map(WordRange::len)
        .sum()
}

/// The place in the notes where most of a quotation's words stand as the draft has them, with the
/// distance of each step; in an entry on the same reference before others. `quoted` is where the draft
/// quotes, `source` where the stored source has the words.
#[must_use]
pub(crate) fn quoted_note(
    laid: &LaidDraft,
    quoted: ByteRange,
    source: &SourcePlace,
) -> Option<NotePlace> {
    let words = laid.draft.stream.within(laid.text(), quoted);
    let shared = |run: &Run| run.draft.intersection(words).len();
    let is_same = |document: usize| match laid.session.holding(document) {
        Some(Holding::Note(entry, _)) => entry.key.as_ref() == Some(&source.key),
        _ => false,
    };
    let (document, run) = laid
        .session
        .notes()
        .flat_map(|document| {
            let runs = laid.strings.with(document).iter();
            runs.map(move |run| (document, run))
        })
        .filter(|(_, run)| 2 * shared(run) > words.len())
        // Of equals the first, which `max_by_key` would not take.
        .min_by_key(|(document, run)| {
            (
                !is_same(*document),
                std::cmp::Reverse(shared(run)),
                *document,
                run.source,
            )
        })?;
    let stored = laid.session.library.documents.get(document)?;
    let bytes = stored.stream.bytes(&stored.text, run.source);
    let marked = stored.text.quotations.iter().filter(|one| one.depth == 0);
    let whole = marked
        .map(|one| one.inner)
        .find(|inner| inner.overlaps(bytes))
        .map_or(run.source, |inner| {
            stored.stream.within(&stored.text, inner)
        });
    let mut place = place_in_notes(laid, document, whole)?;
    let note = stored.stream.slice(whole);
    let lexicon = &laid.draft.lexicon;
    let closeness = |ours: &[FormId], theirs: &[FormId]| {
        let measures = Measures::count(ours, theirs, &align(ours, theirs, lexicon), lexicon);
        (measures.degree(), measures.position())
    };
    place.to_draft = Some(closeness(laid.draft.stream.slice(words), note));
    let at = laid.session.sources().find(|number| {
        let stored = laid.session.source(*number);
        stored.is_some_and(|stored| stored.path == source.path && stored.key == source.key)
    })?;
    let from = laid.session.library.documents.get(at)?;
    let theirs = from.stream.within(&from.text, source.range);
    // The note may quote more than the draft does.
    let around = StreamRange::of(
        theirs.start().saturating_sub(whole.len()),
        (theirs.end() + whole.len()).min(from.stream.len()),
    );
    place.from_source = Some(closeness(note, from.stream.slice(around)));
    Some(place)
}
