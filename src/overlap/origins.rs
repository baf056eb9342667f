//! Origins: for rewrites that stand by themselves, the stretch of the library that each most likely rewords.
//!
//! A rewrite is one unit here, whatever its sentences: candidates for it as a whole, for each the window that
//! answers to it best, and of these the likeliest.

use rayon::prelude::*;

use super::candidates::{Candidate, Reach, SentenceIndex, keep_best};
use super::library::{Draft, Library};
use super::likeness::Likeness;
use super::links::{Linker, sentence_words};
use crate::text::WordRange;

/// A stretch of a document and how likely it is that a rewrite was made from it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Origin {
    /// The document's number.
    pub document: usize,
    /// Where in the document's stream.
    pub source: WordRange,
    /// How sure it is that the rewrite was made from there, 0 to 1.
    pub sureness: f64,
}

/// Words of a rewrite at most: more is no single passage, and the cost grows with the square.
pub const MOST_WORDS: usize = 400;

/// Candidates that are looked at for each rewrite: nobody waits for a whole draft here, so more than in a check.
const MOST_CANDIDATES: usize = 40;

/// Share of the weight a check asks of a candidate that is enough here.
const LEAST: f32 = 0.4;

/// Candidates whose windows are tried wider and narrower.
const REFINED: usize = 12;

/// The likeliest origin of each rewrite among some documents; `None` where nothing is shared that tells. The
/// rewrites have to be made with [`Draft::as_one`].
#[must_use]
pub fn origins(
    rewrites: &[Draft<'_>],
    library: &Library<'_>,
    among: &std::ops::Range<usize>,
) -> Vec<Option<Origin>> {
    let profiles: Vec<_> = rewrites
        .iter()
        .map(|rewrite| rewrite.profiles.first().cloned().unwrap_or_default())
        .collect();
    // Many rewrites may be of one passage, so no word is common.
    let reach = Reach {
        common: usize::MAX,
        most: MOST_CANDIDATES,
        least: LEAST,
    };
    let index = SentenceIndex::new(&profiles, &library.lexicon, reach);
    // The best of each document are merged as they come, so that a large review needs no more room than a small one.
    // The order makes no difference: lists are kept in an order of their own.
    let none = || vec![Vec::new(); rewrites.len()];
    let candidates: Vec<Vec<Candidate>> = among
        .clone()
        .into_par_iter()
        .filter_map(|number| Some((number, library.documents.get(number)?)))
        .fold(none, |mut best, (number, document)| {
            let found = index.candidates(number, &document.stream, &library.lexicon);
            for (rewrite, list) in found {
                add_all(&mut best[rewrite], list);
            }
            best
        })
        .reduce(none, |mut best, other| {
            for (best, list) in best.iter_mut().zip(other) {
                add_all(best, list);
            }
            best
        });
    rewrites
        .par_iter()
        .zip(candidates)
        .map(|(rewrite, candidates)| likeliest(rewrite, &candidates, library))
        .collect()
}

fn add_all(best: &mut Vec<Candidate>, list: Vec<Candidate>) {
    for candidate in list {
        keep_best(best, candidate, MOST_CANDIDATES);
    }
}

/// A window of a document, with how likely a rewrite comes from there.
#[derive(Debug, Clone, Copy)]
struct Window {
    document: usize,
    /// Sentences of the document's stream.
    source: WordRange,
    likeness: Likeness,
    /// What speaks for it: the less likely of the two directions, less what cut sentences cost.
    nats: f32,
}

impl Window {
    fn new(document: usize, source: WordRange, linker: &Linker<'_, '_>) -> Self {
        let likeness = linker.likeness(document, 0, source);
        Self {
            document,
            source,
            likeness,
            nats: likeness.least() - CUT * cuts(document, source, linker) as f32,
        }
    }

    /// Puts the likelier first.
    fn order(&self, other: &Self) -> std::cmp::Ordering {
        (other.nats.total_cmp(&self.nats))
            .then_with(|| (self.document, self.source).cmp(&(other.document, other.source)))
    }
}

/// What it costs, in nats, to begin or end a window within a sentence: one that may leave out whatever speaks against it
/// would look likelier than it is.
const CUT: f32 = 5.0;

/// Words of a window for each word of the rewrite at least, for the same reason.
const LEAST_LENGTH: f32 = 0.5;

/// Ends of a window that lie within a sentence.
fn cuts(document: usize, source: WordRange, linker: &Linker<'_, '_>) -> usize {
    let begins = &linker.library.documents[document].stream.begins;
    let is_within = |piece: &&usize| begins.get(**piece) == Some(&false);
    [source.start(), source.end()]
        .iter()
        .filter(is_within)
        .count()
}

fn likeliest(
    rewrite: &Draft<'_>,
    candidates: &[Candidate],
    library: &Library<'_>,
) -> Option<Origin> {
    let linker = Linker::new(rewrite, library);
    let mut windows: Vec<Window> = candidates
        .iter()
        .map(|candidate| linker.link(0, candidate))
        .map(|link| Window::new(link.document, link.source, &linker))
        .collect();
    windows.sort_by(Window::order);
    windows.dedup_by_key(|window| (window.document, window.source));
    windows.truncate(REFINED);
    let best = windows
        .into_iter()
        .map(|window| refined(window, &linker))
        .min_by(Window::order)?;
    let stream = &library.documents[best.document].stream;
    Some(Origin {
        document: best.document,
        source: sentence_words(&stream.sentences, best.source),
        sureness: best.likeness.sureness_of(best.nats),
    })
}

/// The window moved at its ends, a sentence or piece at a time: wider until it could hold the rewrite, then as
/// long as that makes it likelier.
fn refined(mut window: Window, linker: &Linker<'_, '_>) -> Window {
    let sentences = &linker.library.documents[window.document].stream.sentences;
    let enough = LEAST_LENGTH * linker.draft.stream.len() as f32;
    let is_long = |source: WordRange| sentence_words(sentences, source).len() as f32 >= enough;
    loop {
        let (start, end) = (window.source.start(), window.source.end());
        let was_long = is_long(window.source);
        let wider = [(start.saturating_sub(1), end), (start, end + 1)];
        let narrower = [(start + 1, end), (start, end - 1)];
        let best = wider
            .into_iter()
            .chain(narrower.into_iter().filter(|_| was_long))
            .filter(|(from, to)| from < to && *to <= sentences.len())
            .map(|(from, to)| WordRange::of(from, to))
            .filter(|source| *source != window.source && (!was_long || is_long(*source)))
            .map(|source| Window::new(window.document, source, linker))
            .min_by(Window::order);
        match best {
            Some(best) if !was_long || best.nats > window.nats => window = best,
            _ => return window,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::{ByteRange, MarkedText, Text};

    #[test]
    fn windows_are_cut_within_sentences_only() {
        let source = MarkedText::source(Text::paragraph(
            "The keeper, et al. as they signed, counted moths at the lamp by the quarry; nobody had asked for it, and the \
             council, which paid for the lamps, never read the tables; they lay in a drawer of the harbour office, under the bills of the lamplighters; \
             a clerk found them there when the office was sold, and he took them home for his children to draw on. Then the \
             lamp went out.",
        ));
        let rewrite = MarkedText::new(Text::paragraph("The keeper counted moths by the quarry."));
        let whole = ByteRange::of(0, source.text.content().len());
        let mut library = Library::new(&[(&source, vec![whole])], 1);
        let draft = Draft::new(&rewrite, &mut library, usize::MAX);
        let draft = draft.as_one(&library.lexicon);
        let linker = Linker::new(&draft, &library);
        let stream = &library.documents[0].stream;
        let last = stream.sentences.len();
        assert_eq!(stream.begins.iter().filter(|begins| **begins).count(), 2);
        assert!(last > 3, "the long sentence is in pieces: {last}");
        let count = |from, to| cuts(0, WordRange::of(from, to), &linker);
        assert_eq!((count(0, last), count(0, last - 1)), (0, 0));
        assert_eq!((count(0, 1), count(1, 2), count(1, last)), (1, 2, 1));
        let of = |from, to| Window::new(0, WordRange::of(from, to), &linker);
        let (kept, cut) = (of(last - 1, last), of(0, 1));
        assert!((kept.nats - kept.likeness.least()).abs() < 1e-3);
        assert!(
            (cut.nats - (cut.likeness.least() - CUT)).abs() < 1e-3
                && cut.nats < cut.likeness.least()
        );
    }
}
