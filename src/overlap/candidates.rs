//! Candidates: for each sentence of the draft, the few sentences of the library that share most of its
//! telling words.
//!
//! 1. The draft's sentences are indexed by stem.
//! 2. Each document is read once. Each of its sentences collects, by stem, the weight it shares with each
//!    sentence of the draft.
//! 3. Pairs that share enough are scored, and the best few are kept for each sentence of the draft.
//!
//! The draft is indexed rather than the library because it is much smaller: the index stays in the
//! processor's cache, and the library is streamed past it once.

use rustc_hash::FxHashMap;

use super::lexicon::{Lexicon, StemId};
use super::profile::{Profile, closeness};
use super::stream::Stream;

/// A sentence of a document that may be what a sentence of the draft came from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Candidate {
    /// The document's number.
    pub document: usize,
    /// The sentence's number in the document's stream.
    pub sentence: usize,
    /// Closeness of the two profiles.
    pub score: f32,
}

/// Candidates kept for each sentence of the draft.
pub(crate) const MOST_CANDIDATES: usize = 12;

/// Least shared weight of a candidate, in nats: one rare word.
const LEAST_WEIGHT: f32 = 10.0;

/// Least share of the draft sentence's weight that a candidate shares ...
const LEAST_SHARE: f32 = 0.155;

/// ... unless it shares this much, in nats: two rare words. A long sentence may be made from
/// several of the source.
const ENOUGH_WEIGHT: f32 = 18.0;

/// A stem that stands in more sentences of the draft than this, and in more than 1 in [`COMMON_ONE_IN`],
/// leads to no candidates by itself.
const COMMON_SENTENCES: usize = 40;
const COMMON_ONE_IN: usize = 60;

/// How far candidates are looked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Reach {
    /// Stems in more sentences than this lead to no candidates by themselves.
    pub common: usize,
    /// Candidates kept for each sentence.
    pub most: usize,
    /// The part of the usual least share and weight that a candidate has to share.
    pub least: f32,
}

/// The draft's sentences by stem.
#[derive(Debug)]
pub(crate) struct SentenceIndex {
    /// Where each stem's list begins in `sentences`; one more than there are stems.
    starts: Vec<u32>,
    sentences: Vec<u32>,
    /// The weight of each sentence's profile.
    weights: Vec<f32>,
    /// The part of that weight that belongs to stems in the index.
    indexed: Vec<f32>,
    reach: Reach,
}

impl SentenceIndex {
    /// Indexes the profiles of a draft's sentences. Words that the draft uses throughout lead to no candidates.
    #[must_use]
    pub(crate) fn of_draft(profiles: &[Profile]) -> Self {
        let reach = Reach {
            common: COMMON_SENTENCES.max(profiles.len() / COMMON_ONE_IN),
            most: MOST_CANDIDATES,
            least: 1.0,
        };
        Self::new(profiles, reach)
    }

    /// Indexes profiles.
    #[must_use]
    pub(crate) fn new(profiles: &[Profile], reach: Reach) -> Self {
        let stems = || profiles.iter().flat_map(|profile| &profile.stems);
        let most = stems().map(|(stem, _)| stem.0 as usize + 1).max();
        let mut counts = vec![0_u32; most.unwrap_or(0) + 1];
        for (stem, _) in stems() {
            counts[stem.0 as usize] += 1;
        }
        let mut starts = Vec::with_capacity(counts.len() + 1);
        let mut total = 0_u32;
        for count in &mut counts {
            starts.push(total);
            if *count as usize > reach.common {
                *count = 0;
            }
            total += *count;
        }
        let mut free = starts.clone();
        let mut sentences = vec![0_u32; total as usize];
        let mut indexed = vec![0.0; profiles.len()];
        for (number, profile) in profiles.iter().enumerate() {
            for (stem, weight) in &profile.stems {
                let stem = stem.0 as usize;
                if counts[stem] > 0 {
                    sentences[free[stem] as usize] = number as u32;
                    free[stem] += 1;
                    indexed[number] += weight;
                }
            }
        }
        Self {
            starts,
            sentences,
            weights: profiles.iter().map(|profile| profile.weight).collect(),
            indexed,
            reach,
        }
    }

    fn sentences_with(&self, stem: StemId) -> &[u32] {
        let stem = stem.0 as usize;
        match (self.starts.get(stem), self.starts.get(stem + 1)) {
            (Some(start), Some(end)) => &self.sentences[*start as usize..*end as usize],
            _ => &[],
        }
    }

    /// The best candidates in one document for each sentence of the draft.
    #[must_use]
    pub(crate) fn candidates(
        &self,
        document: usize,
        stream: &Stream,
        lexicon: &Lexicon,
    ) -> FxHashMap<usize, Vec<Candidate>> {
        let mut found: FxHashMap<usize, Vec<Candidate>> = FxHashMap::default();
        let mut shared = vec![0.0_f32; self.weights.len()];
        let mut touched: Vec<u32> = Vec::new();
        let mut stems: Vec<StemId> = Vec::new();
        for (sentence, words) in stream.sentences.iter().enumerate() {
            stems.clear();
            stems.extend(
                stream
                    .slice(*words)
                    .iter()
                    .filter(|form| lexicon.is_content(**form))
                    .map(|form| lexicon.stem(*form)),
            );
            stems.sort_unstable();
            stems.dedup();
            for stem in &stems {
                let sentences = self.sentences_with(*stem);
                if sentences.is_empty() {
                    continue;
                }
                let weight = lexicon.weight(*stem);
                for number in sentences {
                    let sum = &mut shared[*number as usize];
                    if *sum == 0.0 {
                        touched.push(*number);
                    }
                    *sum += weight;
                }
            }
            let mut source_weight = None;
            for number in touched.drain(..) {
                let number = number as usize;
                let sum = std::mem::take(&mut shared[number]);
                let least = (LEAST_SHARE * self.indexed[number]).clamp(LEAST_WEIGHT, ENOUGH_WEIGHT);
                if sum < self.reach.least * least {
                    continue;
                }
                let source_weight = *source_weight
                    .get_or_insert_with(|| stems.iter().map(|stem| lexicon.weight(*stem)).sum());
                let score = closeness(sum, self.weights[number], source_weight);
                keep_best(
                    found.entry(number).or_default(),
                    Candidate {
                        document,
                        sentence,
                        score,
                    },
                    self.reach.most,
                );
            }
        }
        found
    }
}

/// Adds a candidate to a list in order: best first, then by document and sentence, so that the result does
/// not depend on the order in which documents were read. The list holds at most `most`.
pub(crate) fn keep_best(best: &mut Vec<Candidate>, candidate: Candidate, most: usize) {
    let place = best.partition_point(|other| {
        (candidate.score, other.document, other.sentence)
            .partial_cmp(&(other.score, candidate.document, candidate.sentence))
            .is_none_or(std::cmp::Ordering::is_lt)
    });
    if place < most {
        best.insert(place, candidate);
        best.truncate(most);
    }
}
