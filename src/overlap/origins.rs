//! Origins: for rewrites that stand by themselves, the stretch of the library that each most likely rewords.
//!
//! A rewrite is one unit here, however many sentences it has:
//!
//! 1. Candidates are found for the rewrite as a whole, by the words they share with it.
//! 2. Of these, the few are kept around which the rewrite is likeliest, given the order of its words.
//! 3. For each of them the best window is found (`super::windows`), and of these windows the likeliest is the
//!    origin.

use rayon::prelude::*;

use super::candidates::{Candidate, Reach, SentenceIndex, keep_best};
use super::library::{Draft, Library};
use super::likeness::{WeighedWords, sureness};
use super::positions::StreamRange;
use super::windows::{Surroundings, Window};

/// A stretch of a document and how likely it is that a rewrite was made from it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Likeliest {
    /// The document's number.
    pub document: usize,
    /// Where in the document's stream.
    pub source: StreamRange,
    /// How sure it is that the rewrite was made from there, 0 to 1.
    pub sureness: f64,
}

/// Most words of a rewrite: a longer one is not a single passage, and the cost grows with the square.
pub const MOST_WORDS: usize = 400;

/// Candidates that are examined for each rewrite. More than in a check, since a few rewrites take less time
/// than a whole draft. With 40, the source's verse is missing for one in twenty verses of a free translation,
/// with 120 for one in forty.
const MOST_CANDIDATES: usize = 120;

/// Share of the weight required in a check that is enough here.
const LEAST: f32 = 0.4;

/// Candidates whose windows are tried. Twice as many find no more.
const MOST_PLACES: usize = 8;

/// Most pairs of words that are compared to choose them, as far as [`MOST_PLACES`] allows. A long rewrite
/// shares so much with its source that few candidates are enough.
const MOST_PAIRS_TO_CHOOSE: usize = 1 << 20;

/// The likeliest origin of each rewrite among some documents; `None` where nothing telling is shared. The
/// rewrites must be made with [`Draft::into_one`].
#[must_use]
pub(crate) fn origins(
    rewrites: &[Draft],
    library: &Library,
    among: &std::ops::Range<usize>,
) -> Vec<Option<Likeliest>> {
    let profiles: Vec<_> = rewrites
        .iter()
        .map(|rewrite| rewrite.profiles().first().cloned().unwrap_or_default())
        .collect();
    // Many rewrites may be of one passage, so no word counts as common.
    let reach = Reach {
        common: usize::MAX,
        most: MOST_CANDIDATES,
        least: LEAST,
    };
    let index = SentenceIndex::new(&profiles, reach);
    // The best of each document are merged as they come, so that a large review needs no more memory than a
    // small one. The order makes no difference, since the lists are kept in an order of their own.
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

fn likeliest(rewrite: &Draft, candidates: &[Candidate], library: &Library) -> Option<Likeliest> {
    let ours = rewrite.stretch(StreamRange::of(0, rewrite.stream.len()));
    if ours.is_empty() {
        return None;
    }
    let places = likely_places(&ours, candidates, library);
    let mut best: Option<Window> = None;
    for candidate in places {
        let reach = Surroundings::reach_of_windows(&ours);
        best = Surroundings::new(&ours, &candidate, reach, library).best_window(best);
    }
    let best = best?;
    Some(Likeliest {
        document: best.document,
        source: best.words,
        sureness: sureness(best.value),
    })
}

/// The candidates around which the rewrite is likeliest when it may take its words from anywhere near them,
/// likeliest first.
fn likely_places(
    ours: &WeighedWords,
    candidates: &[Candidate],
    library: &Library,
) -> Vec<Candidate> {
    let pairs = 3 * ours.len() * ours.len();
    let most = (MOST_PAIRS_TO_CHOOSE / pairs.max(1)).clamp(MOST_PLACES, MOST_CANDIDATES);
    let mut places: Vec<(f32, Candidate)> = candidates
        .iter()
        .take(most)
        .map(|candidate| {
            let near = Surroundings::new(ours, candidate, ours.len(), library);
            (near.nats(), *candidate)
        })
        .collect();
    places.sort_by(|(one, a), (other, b)| {
        (other.total_cmp(one)).then_with(|| (a.document, a.sentence).cmp(&(b.document, b.sentence)))
    });
    places.truncate(MOST_PLACES);
    places.into_iter().map(|(_, candidate)| candidate).collect()
}
