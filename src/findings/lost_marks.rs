//! Lost marks: what is marked as a quotation in the notes and stands in the draft without marks.

use super::laid::LaidDraft;
use crate::overlap::{Document, StreamRange};
use crate::text::Quotation;

/// The quotations that touch a document. A file of notes holds many documents, so they are not looked for
/// in the whole of it.
fn quotations_of(stored: &Document) -> impl Iterator<Item = &Quotation> {
    let whole = StreamRange::of(0, stored.stream.len());
    let bytes = stored.stream.bytes(&stored.text, whole);
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
pub(crate) struct LostMarks {
    /// Where in the draft's stream.
    pub draft: StreamRange,
    /// The note's document.
    pub document: usize,
    /// Where in its stream.
    pub note: StreamRange,
}

/// The lost marks that lie mostly within one passage.
#[derive(Debug, Default)]
pub(crate) struct Lost<'m> {
    /// In order of the draft.
    pub marks: Vec<&'m LostMarks>,
}

impl<'m> Lost<'m> {
    /// Those within a stretch of the draft.
    #[must_use]
    pub(crate) fn within(all: &'m [LostMarks], draft: StreamRange) -> Self {
        let mostly =
            |lost: &&LostMarks| lost.draft.intersection(draft).len() * 2 > lost.draft.len();
        Self {
            marks: all.iter().filter(mostly).collect(),
        }
    }

    /// The longest; of equals the first.
    #[must_use]
    pub(crate) fn longest(&self) -> Option<&'m LostMarks> {
        let length = |lost: &&&LostMarks| (lost.draft.len(), std::cmp::Reverse(lost.draft));
        self.marks.iter().max_by_key(length).copied()
    }

    /// The words of all of them.
    #[must_use]
    pub(crate) fn words(&self) -> usize {
        self.marks.iter().map(|lost| lost.draft.len()).sum()
    }

    /// How many of the copied words, by their positions in the draft's stream, are not marked in the notes.
    #[must_use]
    pub(crate) fn beside(&self, copied: impl Iterator<Item = usize>) -> usize {
        let is_marked = |at: usize| self.marks.iter().any(|lost| lost.draft.contains(at));
        copied.filter(|at| !is_marked(*at)).count()
    }
}

/// All stretches of the draft that are marked in the notes, longest first, none overlapping another.
#[must_use]
pub(crate) fn lost_marks(laid: &LaidDraft) -> Vec<LostMarks> {
    let settings = &laid.session.review.settings;
    let mut found = Vec::new();
    for document in laid.session.notes() {
        let stored = &laid.session.library.documents[document];
        let quotations = quotations_of(stored).filter(|quotation| quotation.depth == 0);
        let marked: Vec<StreamRange> = quotations
            .map(|quotation| stored.stream.within(&stored.text, quotation.inner))
            .filter(|words| words.len() >= settings.quotation_words)
            .collect();
        for run in laid.strings.with(document) {
            for quotation in marked.iter().filter(|words| words.overlaps(run.source)) {
                let note = quotation.intersection(run.source);
                let from = run.draft.start() + (note.start() - run.source.start());
                let draft = StreamRange::of(from, from + note.len());
                let unmarked = draft
                    .as_range()
                    .filter(|at| !laid.draft.quoted[*at])
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
