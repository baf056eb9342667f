//! Windows: the stretches of a document that a rewrite may have been made from, with how likely each is.
//!
//! A writer takes up a sentence, or clauses of one: a window begins and ends where these do. It must answer to the whole of
//! the rewrite and the rewrite to the whole of it, so the less likely direction counts; and one that leaves out part of a
//! sentence has to make up for it, since it may have left out whatever speaks against it.

use super::candidates::Candidate;
use super::library::{Document, Library};
use super::likeness::{Stretch, value};
use super::stream::Seam;
use super::ways::Pairs;
use crate::text::WordRange;

/// What it costs, in nats, to begin or end a window there. Less finds more of free translations and takes more for
/// borrowed that shares a formula; our own calibration, see DEVELOPERS.md.
fn cost(seam: Seam) -> f32 {
    match seam {
        Seam::Sentence => 0.0,
        Seam::Clause => 3.0,
        Seam::Comma => 6.0,
        Seam::None => 9.0,
    }
}

/// Words of a window for each word of the rewrite, at least and at most.
const LEAST_LENGTH: f32 = 0.5;
const MOST_LENGTH: f32 = 2.2;

/// Pairs of words of a rewrite and a candidate at most. More has only a text without marks that is one sentence to the
/// program, of which no part can be named.
const MOST_PAIRS: usize = 1 << 22;

/// Of long rewrites not every seam is tried: one for each this part of the rewrite.
const STEPS: usize = 32;

/// A stretch of a document and how likely it is that a rewrite was made from it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Window {
    /// The document's number.
    pub document: usize,
    /// Where in the document's stream.
    pub words: WordRange,
    /// What speaks for it, set beside what it and the rewrite tell.
    pub value: f32,
}

impl Window {
    /// Whether it is likelier than another; of two equals the earlier one counts, in whatever order they are tried.
    fn is_better(&self, other: &Self) -> bool {
        let place = |window: &Self| (window.document, window.words);
        (self.value.total_cmp(&other.value)).then_with(|| place(other).cmp(&place(self)))
            == std::cmp::Ordering::Greater
    }
}

/// A candidate with the words around it, set against a rewrite.
pub(super) struct Surroundings<'l, 'a> {
    document: &'l Document<'a>,
    number: usize,
    /// Where in the document's stream.
    words: WordRange,
    /// The candidate itself: every window covers its middle.
    piece: WordRange,
    pairs: Pairs,
    /// Words of the rewrite, and what they tell.
    ours: usize,
    told: f32,
    /// What the words tell up to each.
    sums: Vec<f32>,
}

impl<'l, 'a> Surroundings<'l, 'a> {
    /// A candidate with `reach` words on both sides.
    pub(super) fn new(
        ours: &Stretch,
        candidate: &Candidate,
        reach: usize,
        library: &'l Library<'a>,
    ) -> Self {
        let document = &library.documents[candidate.document];
        let piece = document.stream.sentences[candidate.sentence];
        let piece = WordRange::of(
            piece.start(),
            piece
                .end()
                .min(piece.start() + MOST_PAIRS / ours.len().max(1)),
        );
        let start = piece.start().saturating_sub(reach);
        let end = (piece.end() + reach).min(document.stream.len());
        let words = WordRange::of(start, end);
        let theirs = Stretch::new(document.stream.slice(words), |_| false, &library.lexicon);
        let mut sum = 0.0;
        let mut sums = vec![sum];
        sums.extend(theirs.weights().map(|weight| {
            sum += weight;
            sum
        }));
        Self {
            document,
            number: candidate.document,
            words,
            piece,
            pairs: ours.pairs(&theirs),
            ours: ours.len(),
            told: ours.weight(),
            sums,
        }
    }

    /// The reach within which every window of a rewrite lies.
    pub(super) fn reach_of_windows(ours: &Stretch) -> usize {
        most_words(ours.len())
    }

    /// The nats of the rewrite as a rewording of words from anywhere in here.
    pub(super) fn nats(&self) -> f32 {
        self.pairs.forth(0, self.words.len())
    }

    /// The likeliest window, if it is likelier than the best so far.
    pub(super) fn best_window(&self, mut best: Option<Window>) -> Option<Window> {
        let mut windows = self.windows();
        windows.sort_by(|(one, a, _), (other, b, _)| other.total_cmp(one).then_with(|| a.cmp(b)));
        for (most, words, cost) in windows {
            // No window behind can be better, since the other direction only makes it less likely.
            if best.is_some_and(|best| most < best.value) {
                break;
            }
            let (from, to) = self.within(words);
            let window = Window {
                document: self.number,
                words,
                value: most.min(self.value(self.pairs.forth(from, to) - cost, words)),
            };
            if best.is_none_or(|best| window.is_better(&best)) {
                best = Some(window);
            }
        }
        best
    }

    /// All windows, with what they would be worth if the rewrite were as likely as it could be, and what their ends cost.
    fn windows(&self) -> Vec<(f32, WordRange, f32)> {
        let middle = self.piece.start() + self.piece.len() / 2;
        let starts = self.seams(self.words.start()..=middle);
        let ends = self.seams(middle + 1..=self.words.end());
        let least = ((LEAST_LENGTH * self.ours as f32) as usize).min(self.document.stream.len());
        let lengths = least.max(1)..=most_words(self.ours).max(self.piece.len());
        let mut windows = Vec::new();
        for start in starts {
            let fits = |end: &&(usize, Seam)| lengths.contains(&(end.0 - start.0));
            let ends: Vec<_> = ends.iter().filter(fits).copied().collect();
            self.add_windows(start, &ends, &mut windows);
        }
        if windows.is_empty() {
            // All that is long enough is too long, as where a text has hardly any marks.
            let (start, end) = (self.piece.start(), self.piece.end());
            self.add_windows(self.seam(start), &[self.seam(end)], &mut windows);
        }
        windows
    }

    /// Adds the windows from a start to some ends in order.
    fn add_windows(
        &self,
        start: (usize, Seam),
        ends: &[(usize, Seam)],
        windows: &mut Vec<(f32, WordRange, f32)>,
    ) {
        let Some((last, _)) = ends.last() else { return };
        let (from, to) = self.within(WordRange::of(start.0, *last));
        let back = self.pairs.back(from, to);
        for end in ends {
            let words = WordRange::of(start.0, end.0);
            let cost = cost(start.1) + cost(end.1);
            let nats = back.get(words.len() - 1).copied().unwrap_or_default();
            windows.push((self.value(nats - cost, words), words, cost));
        }
    }

    /// Where windows may begin or end, in order.
    fn seams(&self, range: std::ops::RangeInclusive<usize>) -> Vec<(usize, Seam)> {
        let step = (self.ours / STEPS).max(1);
        let all = range.map(|at| self.seam(at));
        let all: Vec<_> = all.filter(|(_, seam)| *seam < Seam::None).collect();
        all.chunk_by(|(a, _), (b, _)| a / step == b / step)
            .filter_map(|seams| seams.iter().min_by_key(|(at, seam)| (*seam, *at)))
            .copied()
            .collect()
    }

    fn seam(&self, at: usize) -> (usize, Seam) {
        (at, self.document.stream.seam(self.document.text, at))
    }

    /// What nats are worth for a window.
    fn value(&self, nats: f32, words: WordRange) -> f32 {
        let (from, to) = self.within(words);
        value(nats, self.told, self.sums[to] - self.sums[from])
    }

    /// A stretch of the document by its place in here.
    fn within(&self, words: WordRange) -> (usize, usize) {
        let from = self.words.start();
        (words.start() - from, words.end() - from)
    }
}

/// Words of a window at most.
fn most_words(ours: usize) -> usize {
    (MOST_LENGTH * ours as f32) as usize + 4
}
