//! The check of one draft: the draft laid on the desk, compared with the shelf, and every family of
//! rules asked in turn.

use std::ops::Range;
use std::path::PathBuf;
use std::sync::Arc;

use crate::overlap::{Comparison, Draft, Library};
use crate::review::Resolved;
use crate::text::{ByteRange, CiteTarget, MarkedText, Text};

use super::fixed::{FixedWords, Phrases};
use super::lists::{Listed, listed};
use super::material::{Credited, Desk, Shelf};
use super::passage::Rules;
use super::repeats::Chapter;
use super::trail::{Trails, lost_marks, quoted_note};
use super::{BlockWords, DraftReport, id, lists, quoting, repeats, settling};

/// Seeds need not be longer than this: shorter strings come by chance too often to lead anywhere.
pub(super) const SEED_WORDS: usize = 5;

/// Checks one draft; `earlier` are the chapters before it that are checked with it.
#[must_use]
pub fn check_draft(
    shelf: &mut Shelf<'_>,
    phrases: &Phrases,
    path: PathBuf,
    text: &Arc<MarkedText>,
    remarks: Vec<String>,
    earlier: &[Chapter<'_>],
) -> DraftReport {
    let mut draft = Draft::new(
        text,
        &mut shelf.library,
        shelf.review.settings.quotation_words,
    );
    let lexicon = &shelf.library.lexicon;
    let fixed = FixedWords::new(&draft, lexicon, phrases);
    draft.fix(fixed.in_expressions(), lexicon);
    let shelf: &Shelf<'_> = shelf;
    let listed = listed(&text.text, &shelf.references);
    let desk = Desk {
        shelf,
        draft,
        citations: resolve_all(text, shelf, &listed),
    };
    let library: &Library<'_> = &shelf.library;
    let run_words = shelf.review.settings.run_words;
    let overlap = library.overlap(&desk.draft, run_words.min(SEED_WORDS));
    let passages_among = |among: Range<usize>| {
        let comparison = Comparison {
            draft: &desk.draft,
            library,
            overlap: &overlap,
            among,
            run_words,
        };
        comparison.passages()
    };
    let from_sources = passages_among(shelf.sources());
    let from_notes = passages_among(shelf.notes());
    let rules = Rules {
        desk: &desk,
        fixed,
        trails: Trails::new(from_notes),
        lost: lost_marks(&desk, &overlap.runs),
    };
    let (mut findings, explained) = rules.judge_all(&from_sources);
    let mut quoted = quoting::judge_all(&desk, &overlap);
    for finding in &mut quoted {
        let source = finding.source.as_ref();
        finding.note = source
            .and_then(|source| quoted_note(&desk, &overlap.runs, finding.draft.range, source));
    }
    findings.extend(quoted);
    findings.extend(lists::judge_all(&desk, &listed));
    findings.extend(repeats::judge_all(&desk, earlier, &rules.fixed, &findings));
    findings.sort_by_key(|finding| (finding.draft.range, finding.kind));
    id::name_all(&mut findings);
    let review = shelf.review;
    let file = review.name_of(&path);
    let lapsed = settling::settle_all(&review.decisions, &file, &text.text, &mut findings);
    DraftReport {
        path,
        words: desk.draft.stream.len(),
        quoted_words: desk.draft.quoted.iter().filter(|quoted| **quoted).count(),
        findings,
        explained,
        lapsed,
        since: None,
        remarks,
        text: Arc::clone(text),
        block_words: block_words(&desk.draft),
    }
}

/// The compared words of each block of the draft, and how many of them are quoted.
fn block_words(draft: &Draft<'_>) -> Vec<BlockWords> {
    let mut counts = vec![BlockWords::default(); draft.text.text.blocks().len()];
    for (sentence, block) in draft.stream.sentences.iter().zip(&draft.stream.blocks) {
        let quoted = draft.quoted.get(sentence.as_range()).unwrap_or_default();
        if let Some(count) = counts.get_mut(*block as usize) {
            count.words += sentence.len();
            count.quoted += quoted.iter().filter(|quoted| **quoted).count();
        }
    }
    counts
}

/// What each citation points at. Numbers lead through the draft's own list.
pub(super) fn resolve_all<'a>(
    text: &'a MarkedText,
    shelf: &Shelf<'_>,
    listed: &[Listed],
) -> Vec<Credited<'a>> {
    let resolve = |target: &CiteTarget| match target {
        CiteTarget::Number(number) => listed
            .iter()
            .find(|line| line.number == *number)
            .and_then(|line| line.key.clone())
            .map_or(Resolved::None { near: Vec::new() }, Resolved::One),
        target => shelf.references.resolve(target),
    };
    let calls = CallsByNote::of(&text.text);
    text.citations
        .iter()
        .map(|citation| Credited {
            citation,
            resolved: citation
                .cites
                .iter()
                .map(|cite| resolve(&cite.target))
                .collect(),
            calls: calls.of_range(citation.range),
        })
        .collect()
}

/// Footnotes in order of the text, with the places that call them moved back over blanks to the words
/// they belong to.
struct CallsByNote(Vec<(ByteRange, usize)>);

impl CallsByNote {
    fn of(text: &Text) -> Self {
        let place = |at: usize| {
            text.content()
                .get(..at)
                .unwrap_or_default()
                .trim_end()
                .len()
        };
        let calls = text.note_calls().iter();
        let mut calls: Vec<_> = calls.map(|call| (call.note, place(call.at))).collect();
        calls.sort_unstable();
        Self(calls)
    }

    /// The calls of the footnote in which a range lies.
    fn of_range(&self, range: ByteRange) -> Vec<usize> {
        let behind = self
            .0
            .partition_point(|(note, _)| note.start() <= range.start());
        let before = self.0.get(..behind).unwrap_or_default();
        let covering = before
            .iter()
            .rev()
            .take_while(|(note, _)| note.covers(range));
        let mut calls: Vec<usize> = covering.map(|(_, at)| *at).collect();
        calls.reverse();
        calls
    }
}
