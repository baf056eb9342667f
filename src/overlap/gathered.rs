//! Gathered words: stretches of the draft that share many telling words with one place of a document, in whatever
//! order these stand.
//!
//! Whoever rebuilds a paragraph moves its points, splits and merges its sentences, and keeps the words that carry them.
//! Going from word to word ([`super::likeness`]) sees little of that. So words are counted as if they lay in a
//! bag, each stem once however often it stands:
//!
//! 1. A stem that both stretches have gains what it tells, less what it costs to find one of the other's words; one that
//!    only one of them has loses a little. The mean of both directions, in nats, is the evidence ([`gathered`]).
//! 2. Candidates of neighbouring sentences that lead to one place of a document make a seed, and the seed grows by sentences
//!    at its ends as long as the evidence does ([`clusters`]).

use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};

use super::candidates::Candidate;
use super::library::{Draft, Library};
use super::links::{Group, sentence_words};
use super::positions::SentenceRange;
use super::profile::{Profile, closeness};
use super::support::Sureness;

/// The evidence of words without their order.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct Gathered {
    /// How much likelier it is that the one was made from the other than that it was written independently, in nats.
    pub nats: f32,
    /// Distinct stems that both have.
    pub stems: usize,
}

/// The share of a source's telling words that a heavy revision keeps: the middle of the published definition, a quarter to
/// nearly a half.
const KEPT_SHARE: f32 = 0.4;

/// Fewest stems in common that are any evidence without their order. Our own calibration on modern prose and independent
/// prose, 2026-12-01, like the nats below.
pub(crate) const LEAST_STEMS: usize = 9;

/// Nats from which on gathered words make an origin likely, and certain.
pub(crate) const LIKELY: f32 = 30.0;
/// See [`LIKELY`].
pub(crate) const CERTAIN: f32 = 34.0;

impl Gathered {
    /// How sure it is that the one was made from the other.
    #[must_use]
    pub(crate) fn sureness(self) -> Sureness {
        if self.stems < LEAST_STEMS || self.nats < LIKELY {
            Sureness::Doubtful
        } else if self.nats < CERTAIN {
            Sureness::Likely
        } else {
            Sureness::Certain
        }
    }
}

/// What two stretches share as bags of words.
#[must_use]
pub(crate) fn gathered(ours: &Profile, theirs: &Profile) -> Gathered {
    let (mut stems, mut forth, mut back) = (0, 0.0, 0.0);
    let found_among = |weight: f32, stems: usize| {
        (KEPT_SHARE * weight.exp() / stems as f32 + (1.0 - KEPT_SHARE)).ln()
    };
    let mut others = theirs.stems.iter().peekable();
    for (stem, weight) in &ours.stems {
        while others.next_if(|(other, _)| other < stem).is_some() {}
        if others.peek().is_some_and(|(other, _)| other == stem) {
            stems += 1;
            forth += found_among(*weight, theirs.stems.len());
            back += found_among(*weight, ours.stems.len());
        }
    }
    let left = (1.0 - KEPT_SHARE).ln();
    forth += left * (ours.stems.len() - stems) as f32;
    back += left * (theirs.stems.len() - stems) as f32;
    Gathered {
        nats: f32::midpoint(forth, back),
        stems,
    }
}

/// Sentences of the draft from one half of a seed to the other.
const SEED_SENTENCES: usize = 2;

/// The same in the document, where the rewrite may have changed the order.
const SEED_PLACES: usize = 4;

/// Candidates less close than this make no seed.
const LEAST_SCORE: f32 = 0.08;

/// Most sentences, or pieces of long ones, of a cluster on either side: a paragraph.
const MOST_SENTENCES: usize = 12;

/// Nats that one more sentence must add.
const WORTH_IT: f32 = 1.5;

/// The places to which words of neighbouring sentences were gathered from, the surest first; of clusters of one document that
/// claim the same sentences only the surest.
#[must_use]
pub(crate) fn clusters(
    candidates: &[Vec<Candidate>],
    draft: &Draft,
    library: &Library,
    among: &std::ops::Range<usize>,
) -> Vec<Group> {
    let mut of_document: FxHashMap<usize, Vec<(usize, usize)>> = FxHashMap::default();
    for (sentence, candidates) in candidates.iter().enumerate() {
        let near = candidates
            .iter()
            .filter(|one| among.contains(&one.document) && one.score >= LEAST_SCORE);
        for candidate in near {
            let pairs = of_document.entry(candidate.document).or_default();
            pairs.push((sentence, candidate.sentence));
        }
    }
    let mut documents: Vec<(usize, Vec<(usize, usize)>)> = of_document.into_iter().collect();
    documents.sort_unstable();
    documents
        .into_par_iter()
        .flat_map_iter(|(document, pairs)| {
            Growing {
                document,
                draft,
                library,
            }
            .clusters(&pairs)
        })
        .collect()
}

/// One document against the draft.
struct Growing<'g> {
    document: usize,
    draft: &'g Draft,
    library: &'g Library,
}

impl Growing<'_> {
    /// The clusters of the document, from its candidate pairs in order of the draft.
    fn clusters(&self, pairs: &[(usize, usize)]) -> Vec<Group> {
        let mut seeds = FxHashSet::default();
        for (at, (sentence, place)) in pairs.iter().enumerate() {
            let behind = pairs[at + 1..]
                .iter()
                .take_while(|(next, _)| next - sentence <= SEED_SENTENCES);
            for (next, other) in behind {
                let is_near = next > sentence && place.abs_diff(*other) <= SEED_PLACES;
                if is_near && self.is_same_block(*sentence, *next) {
                    let source = SentenceRange::of(*place.min(other), place.max(other) + 1);
                    seeds.insert((SentenceRange::of(*sentence, next + 1), source));
                }
            }
        }
        let mut grown: Vec<Group> = seeds
            .into_iter()
            .map(|(draft, source)| self.grown(self.judged(draft, source)))
            .filter(|group| group.nats >= LIKELY)
            .collect();
        grown.sort_by(|a, b| {
            (b.nats.total_cmp(&a.nats)).then_with(|| (a.draft, a.source).cmp(&(b.draft, b.source)))
        });
        let mut taken: FxHashSet<usize> = FxHashSet::default();
        grown.retain(|group| {
            let is_free = group.draft.as_range().all(|at| !taken.contains(&at));
            if is_free {
                taken.extend(group.draft.as_range());
            }
            is_free
        });
        grown
    }

    fn is_same_block(&self, one: usize, other: usize) -> bool {
        let blocks = &self.draft.stream.blocks;
        blocks.get(one) == blocks.get(other)
    }

    /// A seed with the sentences at its ends that add to the evidence.
    fn grown(&self, mut group: Group) -> Group {
        loop {
            let wider = self.wider(&group).into_iter();
            let wider = wider.map(|(draft, source)| self.judged(draft, source));
            let best = wider.max_by(|a, b| {
                (a.nats.total_cmp(&b.nats))
                    .then_with(|| (b.draft, b.source).cmp(&(a.draft, a.source)))
            });
            match best {
                Some(best) if best.nats >= group.nats + WORTH_IT => group = best,
                _ => return group,
            }
        }
    }

    /// A group with one sentence more at one of its ends.
    fn wider(&self, group: &Group) -> Vec<(SentenceRange, SentenceRange)> {
        let (draft, source) = (group.draft, group.source);
        let ours = self.draft.stream.sentences.len();
        let theirs = self.library.documents[self.document].stream.sentences.len();
        let mut wider = Vec::with_capacity(4);
        if draft.len() < MOST_SENTENCES {
            if draft.start() > 0 && self.is_same_block(draft.start() - 1, draft.start()) {
                wider.push((SentenceRange::of(draft.start() - 1, draft.end()), source));
            }
            if draft.end() < ours && self.is_same_block(draft.start(), draft.end()) {
                wider.push((SentenceRange::of(draft.start(), draft.end() + 1), source));
            }
        }
        if source.len() < MOST_SENTENCES {
            if source.start() > 0 {
                wider.push((draft, SentenceRange::of(source.start() - 1, source.end())));
            }
            if source.end() < theirs {
                wider.push((draft, SentenceRange::of(source.start(), source.end() + 1)));
            }
        }
        wider
    }

    /// Two stretches with what they share.
    fn judged(&self, draft: SentenceRange, source: SentenceRange) -> Group {
        let words = sentence_words(&self.draft.stream.sentences, draft);
        let ours = self.draft.profile(words);
        let stream = &self.library.documents[self.document].stream;
        let words = sentence_words(&stream.sentences, source);
        let theirs = Profile::of(stream.slice(words).iter().copied(), &self.draft.lexicon);
        let shared = ours.shared_weight(&theirs);
        Group {
            document: self.document,
            draft,
            source,
            closeness: closeness(shared, ours.weight, theirs.weight),
            shared,
            nats: gathered(&ours, &theirs).nats,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::lexicon::{Counted, FormId, Lexicon};
    use super::*;
    use crate::text::{MarkedText, Text};

    const SOURCE: &str = "The keeper counted every moth that came to the quarry lamp before dawn, and the council read his tables \
        aloud in the vestry hall.";

    /// What a text shares with the source.
    fn of(text: &str) -> Gathered {
        let texts = [SOURCE, text].map(|text| MarkedText::source(Text::paragraph(text)));
        let all: Vec<&MarkedText> = texts.iter().collect();
        let mut lexicon = Lexicon::default();
        let forms = lexicon.intern_all(&all, Counted::Yes);
        let profile = |forms: &Vec<FormId>| Profile::of(forms.iter().copied(), &lexicon);
        gathered(&profile(&forms[1]), &profile(&forms[0]))
    }

    #[test]
    fn order_does_not_matter_and_a_word_counts_once() {
        let same = of(SOURCE);
        let reordered = of(
            "Aloud in the vestry hall the council read tables; dawn came before the lamp, and every moth of the quarry was \
             counted by the keeper.",
        );
        assert_eq!(same.stems, reordered.stems);
        assert!((same.nats - reordered.nats).abs() < 1.0);
        let repeated = of("The moth, a moth of moths, is the moth that a moth calls moth.");
        assert_eq!(repeated.stems, 1);
        assert_eq!(repeated.sureness(), Sureness::Doubtful);
    }

    #[test]
    fn what_only_one_of_them_has_counts_against_it() {
        let half = of("The keeper counted every moth that came to the quarry lamp before dawn.");
        let diluted = of(
            "The keeper counted every moth that came to the quarry lamp before dawn. Bridges need paint, carts need wheels, and \
             levies fall upon brewers, bakers, fishwives and schoolmasters.",
        );
        assert!(half.stems == diluted.stems && half.nats > diluted.nats);
        assert!(half.nats < of(SOURCE).nats);
        assert_eq!(of("").nats.total_cmp(&0.0), std::cmp::Ordering::Less);
    }
}
