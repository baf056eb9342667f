//! Parts: a passage holds wording of one sort. Where a draft copies one sentence of a source and reports the next in other
//! words, the copied sentence is a passage of its own, and the other is judged for itself.
//!
//! 1. A passage with copies can be divided between sentences that are copied or nearly so and others ([`Comparison::parts`]).
//! 2. One in which the writer's own words stand around a copy can be cut down to the copy ([`Comparison::copies_alone`]).
//!
//! The rules decide where either is done, since it depends on what is credited.

use super::aligned::Aligned;
use super::chains::GAP_WORDS;
use super::measuring::measured;
use super::passages::{Comparison, Passage};
use super::positions::StreamRange;
use super::proposals::Proposal;
use super::scale::Degree;
use super::strings::Run;

/// Share of a sentence's words that shared strings must hold for the whole sentence to count as copied.
pub(super) const WHOLE_SENTENCE: f32 = 0.6;

/// Words that shared strings of this many words bring along when a passage is cut down to its copies.
const JOINED_WORDS: usize = 3;

impl Comparison<'_> {
    /// A passage divided between copied sentences and others; itself where it has only one sort.
    #[must_use]
    pub(crate) fn parts(&self, passage: &Passage) -> Vec<Passage> {
        let whole = || vec![passage.clone()];
        let sentences = self.sentences_of(passage.draft);
        if sentences.len() < 2 || passage.copies.is_empty() {
            return whole();
        }
        let copied: Vec<bool> = sentences
            .iter()
            .map(|words| in_runs(&passage.runs, *words) >= WHOLE_SENTENCE)
            .collect();
        if !copied.contains(&true) || !copied.contains(&false) {
            return whole();
        }
        let parts: Vec<(StreamRange, bool)> = sentences
            .iter()
            .zip(copied)
            .map(|(words, copied)| (*words, copied || self.is_near_copy(passage, *words)))
            .collect();
        // A copy that goes over the end of a sentence keeps its sentences together.
        let is_spanned = |end: usize| {
            let mut copies = passage.copies.iter();
            copies.any(|run| run.draft.start() < end && end < run.draft.end())
        };
        let parts = parts.chunk_by(|a, b| a.1 == b.1 || is_spanned(a.0.end()));
        let parts: Vec<StreamRange> = parts
            .filter_map(|part| {
                part.iter()
                    .map(|(words, _)| *words)
                    .reduce(StreamRange::hull)
            })
            .collect();
        match parts.len() {
            1 => whole(),
            _ => parts
                .into_iter()
                .map(|words| measured(&self.part(passage, words), self))
                .collect(),
        }
    }

    /// What of a stretch lies in each sentence of the draft.
    fn sentences_of(&self, words: StreamRange) -> Vec<StreamRange> {
        let stream = &self.draft.stream;
        let first = stream.sentence_of(words.start());
        let rest = stream.sentences.iter().skip(first);
        rest.take_while(|sentence| sentence.start() < words.end())
            .map(|sentence| sentence.intersection(words))
            .filter(|sentence| !sentence.is_empty())
            .collect()
    }

    fn is_near_copy(&self, passage: &Passage, words: StreamRange) -> bool {
        let document = &self.library.documents[passage.document];
        let aligned = Aligned::new(self.draft, words, document, passage.source);
        aligned.measures(self.draft, document).degree() <= Degree::NearCopy
    }

    /// The part of a passage in some sentences. A shared string belongs to the part that has most of it, whole.
    fn part(&self, whole: &Passage, words: StreamRange) -> Proposal {
        let mostly = |run: &&Run| run.draft.intersection(words).len() * 2 > run.draft.len();
        let runs: Vec<Run> = whole.runs.iter().filter(mostly).copied().collect();
        let draft = runs.iter().fold(words, |all, run| all.hull(run.draft));
        let source = match in_runs(&runs, words) >= WHOLE_SENTENCE {
            true => self.sentences_of_runs(whole.document, &runs),
            false => whole.source,
        };
        Proposal {
            closeness: 1.0,
            also_in: whole.also_in.clone(),
            runs,
            ..Proposal::new(whole.document, draft, source)
        }
    }

    /// The sentences of a document from the first to the last that a shared string touches.
    fn sentences_of_runs(&self, document: usize, runs: &[Run]) -> StreamRange {
        let stream = &self.library.documents[document].stream;
        let sentence = |at: usize| stream.sentences.get(stream.sentence_of(at)).copied();
        let ends = runs
            .iter()
            .flat_map(|run| [run.source.start(), run.source.end().saturating_sub(1)]);
        ends.filter_map(sentence)
            .reduce(StreamRange::hull)
            .unwrap_or_default()
    }

    /// Copies of which some words are in nothing that was told so far, the longest first.
    #[must_use]
    pub(crate) fn untold_copies(&self, told: &mut [bool]) -> Vec<Passage> {
        let mut untold = Vec::new();
        for (document, run) in self.copies_by_length() {
            let mut unmarked = run.draft.as_range().filter(|at| !self.draft.quoted[*at]);
            if unmarked.any(|at| told.get(at) == Some(&false)) {
                told[run.draft.as_range()].fill(true);
                untold.push(Proposal {
                    closeness: 1.0,
                    runs: vec![run],
                    ..Proposal::new(document, run.draft, run.source)
                });
            }
        }
        untold.iter().map(|copy| measured(copy, self)).collect()
    }

    /// The copies of a passage without what stands around them, those near each other together.
    #[must_use]
    pub(crate) fn copies_alone(&self, passage: &Passage, copies: &[Run]) -> Vec<Passage> {
        let mut near: Vec<Vec<Run>> = Vec::new();
        for run in copies {
            match near.last_mut() {
                Some(runs) if runs.last().is_some_and(|last| follows(last, run)) => runs.push(*run),
                _ => near.push(vec![*run]),
            }
        }
        near.into_iter()
            .map(|runs| self.copy_alone(passage, runs))
            .collect()
    }

    fn copy_alone(&self, passage: &Passage, runs: Vec<Run>) -> Passage {
        let hull = |of: fn(&Run) -> StreamRange| {
            let all = runs.iter().map(of).reduce(StreamRange::hull);
            all.unwrap_or_default()
        };
        let (mut draft, mut source) = (hull(|run| run.draft), hull(|run| run.source));
        // Strings right beside the copy that lead on in the source belong to it.
        let tiles = &passage.alignment.tiles;
        let long = || tiles.iter().filter(|tile| tile.draft.len() >= JOINED_WORDS);
        for tile in long() {
            if beside(draft.end(), tile.draft.start()) && beside(source.end(), tile.source.start())
            {
                (draft, source) = (draft.hull(tile.draft), source.hull(tile.source));
            }
        }
        for tile in long().rev() {
            if beside(tile.draft.end(), draft.start()) && beside(tile.source.end(), source.start())
            {
                (draft, source) = (draft.hull(tile.draft), source.hull(tile.source));
            }
        }
        let alone = Proposal {
            closeness: 1.0,
            also_in: passage.also_in.clone(),
            runs,
            ..Proposal::new(passage.document, draft, source)
        };
        measured(&alone, self)
    }
}

/// Whether one stretch begins where another ends, or a word or two later.
fn beside(end: usize, start: usize) -> bool {
    (end..=end + 2).contains(&start)
}

fn follows(before: &Run, run: &Run) -> bool {
    let near = |end: usize, start: usize| start <= end + GAP_WORDS;
    near(before.draft.end(), run.draft.start())
        && near(before.source.end(), run.source.start())
        && run.source.start() >= before.source.start()
}

/// The share of some words that lies in shared strings.
fn in_runs(runs: &[Run], words: StreamRange) -> f32 {
    let inside: usize = runs
        .iter()
        .map(|run| run.draft.intersection(words).len())
        .sum();
    inside as f32 / words.len().max(1) as f32
}
