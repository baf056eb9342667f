//! Windows: the stretches of a document that a rewrite may have been made from, and how likely each is.
//!
//! A writer takes up a sentence or some clauses of one, so a window begins and ends where these do. The
//! window must correspond to the whole of the rewrite, and the rewrite to the whole of the window, so the
//! less likely direction counts. A window that leaves out part of a sentence pays for it, since it may have
//! left out whatever counts against it.

use super::candidates::Candidate;
use super::library::{Document, Library};
use super::likeness::{WeighedWords, value};
use super::positions::StreamRange;
use super::stream::Seam;
use super::ways::Pairs;

/// The cost, in nats, of beginning or ending a window at a seam. A lower cost finds more free translations,
/// but also takes more text for borrowed that only shares a formula. Our own calibration, see DEVELOPERS.md.
fn cost(seam: Seam) -> f32 {
    match seam {
        Seam::Sentence => 0.0,
        Seam::Clause => 3.0,
        Seam::Comma => 6.0,
        // Used only where a text has so few marks that no window ends at one.
        Seam::None => 9.0,
    }
}

/// Words of a window for each word of the rewrite, at least and at most.
const LEAST_LENGTH: f32 = 0.5;
const MOST_LENGTH: f32 = 2.2;

/// Most pairs of words of a rewrite and a candidate. Only a text without marks, which the program takes for
/// one sentence, has more, and of that no part can be named.
const MOST_PAIRS_OF_CANDIDATE: usize = 1 << 22;

/// In long rewrites not every seam is tried: one for each stretch of this part of the rewrite's length.
const STEPS: usize = 32;

/// A stretch of a document and how likely it is that a rewrite was made from it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Window {
    /// The document's number.
    pub document: usize,
    /// Where in the document's stream.
    pub words: StreamRange,
    /// The nats in its favour, relative to its weight and the rewrite's.
    pub value: f32,
}

impl Window {
    /// Whether it is likelier than another. Of two equals the earlier one counts, in whatever order they are
    /// tried.
    fn is_better(&self, other: &Self) -> bool {
        let place = |window: &Self| (window.document, window.words);
        (self.value.total_cmp(&other.value)).then_with(|| place(other).cmp(&place(self)))
            == std::cmp::Ordering::Greater
    }
}

/// A candidate and the words around it, compared with a rewrite.
pub(super) struct Surroundings<'l> {
    document: &'l Document,
    number: usize,
    /// Where in the document's stream.
    words: StreamRange,
    /// The candidate itself: every window covers its middle.
    piece: StreamRange,
    pairs: Pairs,
    /// The number of words in the rewrite, and their weight.
    ours: usize,
    weight: f32,
    /// The summed weight of the words before each position.
    sums: Vec<f32>,
}

impl<'l> Surroundings<'l> {
    /// A candidate with `reach` words on both sides.
    pub(super) fn new(
        ours: &WeighedWords,
        candidate: &Candidate,
        reach: usize,
        library: &'l Library,
    ) -> Self {
        let document = &library.documents[candidate.document];
        let piece = document.stream.sentences[candidate.sentence];
        let piece = StreamRange::of(
            piece.start(),
            piece
                .end()
                .min(piece.start() + MOST_PAIRS_OF_CANDIDATE / ours.len().max(1)),
        );
        let start = piece.start().saturating_sub(reach);
        let end = (piece.end() + reach).min(document.stream.len());
        let words = StreamRange::of(start, end);
        let theirs = WeighedWords::new(document.stream.slice(words), |_| false, &library.lexicon);
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
            weight: ours.weight(),
            sums,
        }
    }

    /// The reach within which every window of a rewrite lies.
    pub(super) fn reach_of_windows(ours: &WeighedWords) -> usize {
        most_words(ours.len())
    }

    /// The nats of the rewrite as a rewording of words from anywhere in here.
    pub(super) fn nats(&self) -> f32 {
        self.pairs.forth(0, self.words.len())
    }

    /// The likeliest window, if it is likelier than the best so far.
    pub(super) fn best_window(&self, best: Option<Window>) -> Option<Window> {
        let mut windows = self.windows();
        windows.sort_by(|(one, a), (other, b)| other.total_cmp(one).then_with(|| a.cmp(b)));
        let mut own: Option<Window> = None;
        for (back, words) in windows {
            // No later window can be better, since the other direction only makes it less likely.
            let so_far = own.or(best);
            if so_far.is_some_and(|best| back < best.value) {
                break;
            }
            let window = Window {
                document: self.number,
                words,
                value: self.forth(words).min(back),
            };
            if so_far.is_none_or(|best| window.is_better(&best)) {
                own = Some(window);
            }
        }
        own.or(best)
    }

    /// The value of a window in the one direction: the rewrite made from it.
    fn forth(&self, words: StreamRange) -> f32 {
        let (from, to) = self.within(words);
        let cost = cost(self.seam(words.start()).1) + cost(self.seam(words.end()).1);
        self.value(self.pairs.forth(from, to) - cost, words)
    }

    /// Fewest words of a window.
    fn least_words(&self) -> usize {
        let least = (LEAST_LENGTH * self.ours as f32) as usize;
        least.min(self.document.stream.len()).max(1)
    }

    /// All windows that begin and end at seams, each with its value in the other direction: it made from the
    /// rewrite.
    fn windows(&self) -> Vec<(f32, StreamRange)> {
        let middle = self.piece.start() + self.piece.len() / 2;
        let starts = self.seams(self.words.start()..=middle);
        let ends = self.seams(middle + 1..=self.words.end());
        let lengths = self.least_words()..=most_words(self.ours).max(self.piece.len());
        let mut windows = Vec::new();
        for start in starts {
            let fits = |end: &&(usize, Seam)| lengths.contains(&(end.0 - start.0));
            let ends: Vec<_> = ends.iter().filter(fits).copied().collect();
            self.add_windows(start, &ends, &mut windows);
        }
        if windows.is_empty() {
            // Every window that is long enough is too long, as in a text with hardly any marks.
            let (start, end) = (self.piece.start(), self.piece.end());
            self.add_windows(self.seam(start), &[self.seam(end)], &mut windows);
        }
        windows
    }

    /// Adds the windows from one start to several ends, which are in order.
    fn add_windows(
        &self,
        start: (usize, Seam),
        ends: &[(usize, Seam)],
        windows: &mut Vec<(f32, StreamRange)>,
    ) {
        let Some((last, _)) = ends.last() else { return };
        let (from, to) = self.within(StreamRange::of(start.0, *last));
        let back = self.pairs.back(from, to);
        for end in ends {
            let words = StreamRange::of(start.0, end.0);
            let cost = cost(start.1) + cost(end.1);
            let nats = back.get(words.len() - 1).copied().unwrap_or_default();
            windows.push((self.value(nats - cost, words), words));
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
        (at, self.document.stream.seam(&self.document.text, at))
    }

    /// The value of a window with these nats.
    fn value(&self, nats: f32, words: StreamRange) -> f32 {
        let (from, to) = self.within(words);
        value(nats, self.weight, self.sums[to] - self.sums[from])
    }

    /// A stretch of the document by its position within these surroundings.
    fn within(&self, words: StreamRange) -> (usize, usize) {
        let from = self.words.start();
        (words.start() - from, words.end() - from)
    }
}

/// Most words of a window.
fn most_words(ours: usize) -> usize {
    (MOST_LENGTH * ours as f32) as usize + 4
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::overlap::Draft;
    use crate::text::{MarkedText, Text};
    use std::sync::Arc;

    const SOURCE: &str = "Nobody spoke at the harbour office. The keeper, as he had sworn, counted moths at the lamp by \
        the quarry; nobody had asked for it, and the council, which paid for the lamps, never read the tables; they lay \
        in a drawer under the bills of the lamplighters. Then the lamp went out.";

    /// The best window of a source for a rewrite, from all its candidates, and its value.
    fn best(source: &str, rewrite: &str) -> (String, f32) {
        let source = Arc::new(MarkedText::source(Text::paragraph(source)));
        let rewrite = Arc::new(MarkedText::new(Text::paragraph(rewrite)));
        let library = Library::of_whole(&[Arc::clone(&source)]);
        let draft = Draft::new(&rewrite, &library, usize::MAX);
        let ours = draft.stretch(StreamRange::of(0, draft.stream.len()));
        let reach = Surroundings::reach_of_windows(&ours);
        let stream = &library.documents[0].stream;
        let best = (0..stream.sentences.len())
            .map(|sentence| Candidate {
                document: 0,
                sentence,
                score: 1.0,
            })
            .fold(None, |best, candidate| {
                Surroundings::new(&ours, &candidate, reach, &library).best_window(best)
            })
            .unwrap();
        let bytes = stream.bytes(&source, best.words);
        (source.text.slice(bytes).to_owned(), best.value)
    }

    #[test]
    fn windows_follow_what_was_taken() {
        let cases = [
            (
                "A keeper counted the moths at a lamp beside the quarry.",
                "The keeper, as he had sworn, counted moths at the lamp by the quarry",
            ),
            ("The lamp went out then.", "Then the lamp went out"),
            (
                "The tables were never read by the council, and they lay in a drawer, under bills of lamplighters.",
                "never read the tables; they lay in a drawer under the bills of the lamplighters",
            ),
        ];
        for (rewrite, window) in cases {
            assert_eq!(best(SOURCE, rewrite).0, window);
        }
    }

    #[test]
    fn a_window_within_a_sentence_is_worth_less_than_a_sentence() {
        let rewrite = "The keeper counted moths at the lamp by the quarry.";
        let sentence = "Nobody spoke. The keeper counted moths at the lamp by the quarry. The council slept for years.";
        let clause = sentence.replace("quarry. The", "quarry; the");
        let (whole, cut) = (best(sentence, rewrite), best(&clause, rewrite));
        assert_eq!(whole.0, cut.0);
        assert!(whole.1 > cut.1, "{} {}", whole.1, cut.1);
    }

    #[test]
    fn a_text_without_marks_has_its_window() {
        let source = "moths ".repeat(10)
            + "the keeper counted moths at the lamp by the quarry "
            + &"lamps ".repeat(900);
        let (window, _) = best(&source, "Lamps.");
        assert!(window.ends_with("lamps"), "{window}");
        assert!(
            !best(
                "Moths.",
                "The keeper counted moths at the lamp by the quarry."
            )
            .0
            .is_empty()
        );
    }

    #[test]
    fn a_long_rewrite_has_its_window() {
        let sentence = |number: usize| {
            format!(
                "Keeper {number} counted moths{number}, and lamps{number}; then he slept{number}. "
            )
        };
        let source: String = (0..30).map(sentence).collect();
        let rewrite: String = (10..20).map(sentence).collect();
        let (window, value) = best(&source, &rewrite);
        assert_eq!(window + ".", rewrite.trim_end());
        assert!(value > 0.5, "{value}");
    }
}
