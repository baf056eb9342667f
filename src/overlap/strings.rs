//! Shared strings: every run of words that stands both in a draft and in a source.
//!
//! 1. All strings of `seed` words of the draft go into a table, by hash.
//! 2. The source is read once. A rolling hash identifies the string that ends at each word; a small bit
//!    filter rejects nearly all strings that are not in the draft.
//! 3. A string that is in the draft is compared word by word, then extended on both sides as far as the two
//!    texts agree.
//!
//! **Guarantee.** Every word of the draft that lies in a shared string of at least `seed` words with the
//! source lies in a returned [`Run`], and each run is as long as the two texts agree at its place. No shared
//! string is lost to sampling or to chance. The one limit: where a text repeats one string again and again,
//! only `MOST_REPEATS` of the repetitions are followed.

use rustc_hash::FxHashMap;

use super::lexicon::FormId;
use super::positions::StreamRange;

/// A run of words that stands in both texts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) struct Run {
    /// Where in the draft's stream.
    pub draft: StreamRange,
    /// Where in the source's stream; of the same length.
    pub source: StreamRange,
}

/// Repetitions of one seed in a source that are followed once the steps below are used up.
const MOST_REPEATS: u32 = 64;

/// Steps of extension, per word of both texts, after which a stretch of the draft that is already
/// covered is not extended again. Ordinary texts stay far below one.
const STEPS_PER_WORD: usize = 64;

const EMPTY: u32 = u32::MAX;
const BASE: u64 = 0x9E37_79B9_7F4A_7C15;

/// The strings of a draft, ready to be searched for in sources.
#[derive(Debug)]
pub(crate) struct StringIndex<'a> {
    draft: &'a [FormId],
    seed: usize,
    /// First position of each distinct seed, by hash.
    heads: Vec<u32>,
    /// For each position, the next one with the same seed.
    next: Vec<u32>,
    filter: Vec<u64>,
    /// BASE to the power of `seed - 1`.
    top: u64,
}

impl<'a> StringIndex<'a> {
    /// Indexes all strings of `seed` words (at least 1) of the draft.
    #[must_use]
    pub(crate) fn new(draft: &'a [FormId], seed: usize) -> Self {
        let seed = seed.max(1);
        let slots = (draft.len() * 2).next_power_of_two().max(16);
        let mut index = Self {
            draft,
            seed,
            heads: vec![EMPTY; slots],
            next: vec![EMPTY; draft.len()],
            filter: vec![0; (slots / 8).max(1)],
            top: (1..seed).fold(1_u64, |power, _| power.wrapping_mul(BASE)),
        };
        // From the end, so that each chain runs forward.
        for (position, hash) in rolling(draft, seed, index.top)
            .collect::<Vec<_>>()
            .into_iter()
            .rev()
        {
            index.insert(position, hash);
        }
        index
    }

    fn insert(&mut self, position: usize, hash: u64) {
        let bit = filter_bit(hash, self.filter.len());
        self.filter[bit / 64] |= 1 << (bit % 64);
        let slot = self.slot(self.seed_at(self.draft, position), hash);
        self.next[position] = self.heads[slot];
        // Proof of the cast: ranges, and so streams, are 32 bits long.
        self.heads[slot] = position as u32;
    }

    /// The slot that holds a seed, or the empty one where it belongs. Linear probing ends because at most
    /// half of the slots are taken.
    fn slot(&self, seed: &[FormId], hash: u64) -> usize {
        let mask = self.heads.len() - 1;
        let mut slot = (mixed(hash) as usize) & mask;
        loop {
            let head = self.heads[slot];
            if head == EMPTY || self.seed_at(self.draft, head as usize) == seed {
                return slot;
            }
            slot = (slot + 1) & mask;
        }
    }

    fn seed_at<'b>(&self, forms: &'b [FormId], position: usize) -> &'b [FormId] {
        forms
            .get(position..position + self.seed)
            .unwrap_or_default()
    }

    fn may_hold(&self, hash: u64) -> bool {
        let bit = filter_bit(hash, self.filter.len());
        self.filter[bit / 64] & (1 << (bit % 64)) != 0
    }

    /// All runs of at least `seed` words that the source shares with the draft, in order of the
    /// draft, then of the source.
    #[must_use]
    pub(crate) fn shared_runs(&self, source: &[FormId]) -> Vec<Run> {
        let mut search = Search {
            index: self,
            source,
            runs: Vec::new(),
            reached: FxHashMap::default(),
            repeats: FxHashMap::default(),
            steps: 0,
            most_steps: STEPS_PER_WORD * (self.draft.len() + source.len()),
            covered: Vec::new(),
        };
        for (position, hash) in rolling(source, self.seed, self.top) {
            if self.may_hold(hash) {
                search.look_up(position, hash);
            }
        }
        search.runs.sort_unstable();
        search.runs
    }
}

/// The state of a search through one source.
struct Search<'i, 'a> {
    index: &'i StringIndex<'a>,
    source: &'i [FormId],
    runs: Vec<Run>,
    /// For each diagonal (draft minus source position), how far the source is extended on it.
    reached: FxHashMap<i64, usize>,
    repeats: FxHashMap<u32, u32>,
    steps: usize,
    most_steps: usize,
    /// Draft words in runs, kept only once the steps are used up.
    covered: Vec<bool>,
}

impl Search<'_, '_> {
    fn look_up(&mut self, source: usize, hash: u64) {
        let index = self.index;
        let head = index.heads[index.slot(index.seed_at(self.source, source), hash)];
        if head == EMPTY {
            return;
        }
        let repeats = self.repeats.entry(head).or_insert(0);
        *repeats += 1;
        if *repeats > MOST_REPEATS && self.steps > self.most_steps {
            return;
        }
        let mut draft = head;
        while draft != EMPTY {
            self.extend(draft as usize, source);
            draft = index.next[draft as usize];
        }
    }

    fn extend(&mut self, draft: usize, source: usize) {
        let diagonal = draft as i64 - source as i64;
        if self
            .reached
            .get(&diagonal)
            .is_some_and(|reached| source < *reached)
            || self.is_spent(draft)
        {
            return;
        }
        let (draft_forms, seed) = (self.index.draft, self.index.seed);
        let before = draft_forms[..draft]
            .iter()
            .rev()
            .zip(self.source[..source].iter().rev())
            .take_while(|(a, b)| a == b)
            .count();
        let after = draft_forms[draft + seed..]
            .iter()
            .zip(&self.source[source + seed..])
            .take_while(|(a, b)| a == b)
            .count();
        let run = Run {
            draft: StreamRange::of(draft - before, draft + seed + after),
            source: StreamRange::of(source - before, source + seed + after),
        };
        self.steps += run.draft.len();
        self.reached.insert(diagonal, run.source.end());
        self.runs.push(run);
        if !self.covered.is_empty() {
            self.covered[run.draft.as_range()].fill(true);
        }
    }

    /// Whether the steps are used up and the seed at this place of the draft already lies in a run.
    fn is_spent(&mut self, draft: usize) -> bool {
        if self.steps <= self.most_steps {
            return false;
        }
        if self.covered.is_empty() {
            self.covered = vec![false; self.index.draft.len()];
            for run in &self.runs {
                self.covered[run.draft.as_range()].fill(true);
            }
        }
        self.covered[draft..draft + self.index.seed]
            .iter()
            .all(|covered| *covered)
    }
}

/// Position and hash of every string of `seed` words.
fn rolling(forms: &[FormId], seed: usize, top: u64) -> impl Iterator<Item = (usize, u64)> + '_ {
    let mut hash = 0_u64;
    forms.iter().enumerate().filter_map(move |(end, form)| {
        if end >= seed {
            let leaving = u64::from(forms[end - seed].0) + 1;
            hash = hash.wrapping_sub(leaving.wrapping_mul(top));
        }
        hash = hash.wrapping_mul(BASE).wrapping_add(u64::from(form.0) + 1);
        (end + 1 >= seed).then(|| (end + 1 - seed, hash))
    })
}

fn mixed(hash: u64) -> u64 {
    (hash ^ (hash >> 32)).wrapping_mul(0xD6E8_FEB8_6659_FD93) >> 20
}

fn filter_bit(hash: u64, words: usize) -> usize {
    (hash.wrapping_mul(0xC2B2_AE3D_27D4_EB4F) >> 24) as usize % (words * 64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn forms(ids: &[u32]) -> Vec<FormId> {
        ids.iter().map(|id| FormId(*id)).collect()
    }

    /// All maximal runs by comparing every pair of positions.
    fn by_hand(draft: &[FormId], source: &[FormId], seed: usize) -> Vec<Run> {
        let mut runs = Vec::new();
        for d in 0..draft.len() {
            for s in 0..source.len() {
                if d > 0 && s > 0 && draft[d - 1] == source[s - 1] {
                    continue;
                }
                let len = draft[d..]
                    .iter()
                    .zip(&source[s..])
                    .take_while(|(a, b)| a == b)
                    .count();
                if len >= seed {
                    runs.push(Run {
                        draft: StreamRange::of(d, d + len),
                        source: StreamRange::of(s, s + len),
                    });
                }
            }
        }
        runs.sort_unstable();
        runs
    }

    proptest! {
        // Only three different words, so that repeats and near misses are frequent.
        #[test]
        fn the_same_runs_as_comparing_every_pair(
            draft in proptest::collection::vec(0_u32..3, 0..40),
            source in proptest::collection::vec(0_u32..3, 0..40),
            seed in 2_usize..6,
        ) {
            let (draft, source) = (forms(&draft), forms(&source));
            let found = StringIndex::new(&draft, seed).shared_runs(&source);
            prop_assert_eq!(found, by_hand(&draft, &source, seed));
        }
    }

    /// Winnowing (Schleimer, Wilkerson & Aiken 2003, *SIGMOD*): the smallest hash of each window, of equal
    /// ones the rightmost, each place once.
    fn winnowed(hashes: &[u32], window: usize) -> Vec<u32> {
        let mut last = None;
        let mut selected = Vec::new();
        for (start, hashes) in hashes.windows(window).enumerate() {
            let smallest = (0..window).min_by_key(|at| (hashes[*at], std::cmp::Reverse(*at)));
            let at = smallest.map(|at| start + at);
            if at != last {
                selected.extend(smallest.map(|at| hashes[at]));
                last = at;
            }
        }
        selected
    }

    #[test]
    fn everything_a_sample_would_select_is_found_and_more() {
        // The paper's figure: these hashes at window 4 leave 17 17 8 39 17. We take no sample.
        let hashes = [
            77, 72, 42, 17, 98, 50, 17, 98, 8, 88, 67, 39, 77, 72, 42, 17, 98,
        ];
        let selected = winnowed(&hashes, 4);
        assert_eq!(selected, [17, 17, 8, 39, 17]);
        let draft = forms(&hashes);
        let index = StringIndex::new(&draft, 1);
        for hash in selected.iter().chain(&hashes) {
            let places = hashes.iter().filter(|other| *other == hash).count();
            assert_eq!(index.shared_runs(&forms(&[*hash])).len(), places, "{hash}");
        }
        let whole = StringIndex::new(&draft, 4).shared_runs(&draft);
        assert!(whole.iter().any(|run| run.draft.len() == hashes.len()));
    }

    #[test]
    fn endless_repetition_ends_and_is_covered() {
        let same = forms(&vec![1; 60_000]);
        let runs = StringIndex::new(&same, 5).shared_runs(&same);
        let mut covered = vec![false; same.len()];
        for run in &runs {
            covered[run.draft.as_range()].fill(true);
        }
        assert!(covered.iter().all(|covered| *covered));
    }
}
