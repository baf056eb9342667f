//! Passages: what a draft has from each document, one passage for each place.
//!
//! 1. Chains of shared strings and groups of sentences are proposals. Those that lead to the same place of
//!    the same document are merged.
//! 2. Where proposals of different documents claim the same words, the one that shares most wins, and the
//!    others are named with it.
//! 3. Each passage is aligned with its source and measured, and keeps the alignment.
//! 4. A shared string of `run_words` that is left without a passage becomes a passage of its own, so that
//!    none is lost.

use std::ops::Range;

use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};

use super::aligned::Aligned;
use super::alignment::Placed;
use super::candidates::Candidate;
use super::chains::{Chain, chains, is_copy, unmarked_words, without_overhang};
use super::gathered::clusters;
use super::groups::groups;
use super::library::{Draft, Library};
use super::links::{Group, sentence_words};
use super::measuring::measured;
use super::parts::WHOLE_SENTENCE;
use super::positions::StreamRange;
use super::proposals::{Proposal, choose, merge};
use super::scale::Measures;
use super::shared::SharedStrings;
use super::strings::Run;
use super::support::{Support, Sureness};

/// A stretch of the draft set against a stretch of a document.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Passage {
    /// Where in the draft's stream.
    pub draft: StreamRange,
    /// The document's number.
    pub document: usize,
    /// Where in the document's stream.
    pub source: StreamRange,
    /// The shared strings it was made from.
    pub runs: Vec<Run>,
    /// Those of them that count as copies by themselves.
    pub copies: Vec<Run>,
    /// The most unmarked words that one shared string inside has.
    pub longest_copy: usize,
    /// The measures of the words outside quotations.
    pub measures: Measures,
    /// The alignment of the two stretches.
    pub aligned: Aligned,
    /// Counterparts, by position in the two streams.
    pub alignment: Placed,
    /// How much telling wording the two share.
    pub support: Support,
    /// Other documents with the same wording, best first.
    pub also_in: Vec<usize>,
}

impl Passage {
    /// How much telling wording the two share besides the given runs, which are nobody's wording.
    #[must_use]
    pub(crate) fn support_beside(&self, runs: &[Run], draft: &Draft, library: &Library) -> Support {
        let ignored = |at: usize| draft.fixed[at] || runs.iter().any(|run| run.draft.contains(at));
        let document = &library.documents[self.document];
        self.aligned.support(ignored, draft, document)
    }
}

/// A draft compared with some documents of the library.
#[derive(Debug, Clone)]
pub(crate) struct Comparison<'c> {
    /// The draft.
    pub draft: &'c Draft,
    /// The library.
    pub library: &'c Library,
    /// The strings that the draft shares with each document.
    pub strings: &'c SharedStrings,
    /// The candidates for each sentence of the draft.
    pub candidates: &'c [Vec<Candidate>],
    /// The documents that take part.
    pub among: Range<usize>,
    /// Words that a shared string needs to count as a copy.
    pub run_words: usize,
}

impl Comparison<'_> {
    /// All passages of the draft that come from the documents, in order of the draft.
    #[must_use]
    pub(crate) fn passages(&self) -> Vec<Passage> {
        let mut proposals = self.copied();
        let mut copies: FxHashMap<usize, Vec<StreamRange>> = FxHashMap::default();
        for copy in &proposals {
            copies.entry(copy.document).or_default().push(copy.draft);
        }
        let adds = |group: &Proposal| {
            let of_document = copies.get(&group.document);
            self.adds_to_copies(group, of_document.map_or(&[], Vec::as_slice))
        };
        proposals.extend(self.reworded().into_iter().filter(adds));
        let chosen = choose(merge(proposals, self.draft), self.draft, self.library);
        let measured = |proposal: &Proposal| measured(proposal, self);
        let mut passages: Vec<Passage> = chosen.par_iter().map(measured).collect();
        let missed = self.missed_copies(&passages);
        passages.extend(missed.iter().map(measured));
        passages.sort_by_key(|passage| (passage.draft, passage.document, passage.source));
        passages
    }

    /// The strings shared with a document, without a small word or two by which they hang over a sentence's end: the next
    /// sentence often begins alike by chance.
    fn runs(&self, document: usize) -> impl Iterator<Item = Run> + '_ {
        let runs = self.strings.with(document).iter();
        runs.map(|run| without_overhang(*run, self.draft, self.run_words))
    }

    /// Whether a shared string is a copy by itself.
    pub(super) fn is_copy(&self, run: &Run) -> bool {
        is_copy(run, self.draft, self.run_words)
    }

    /// Proposals from chains of shared strings in which at least one is a copy.
    fn copied(&self) -> Vec<Proposal> {
        let of_document = |document: usize| {
            let runs: Vec<Run> = self.runs(document).collect();
            chains(&runs)
                .into_iter()
                .filter(|chain| chain.runs.iter().any(|run| self.is_copy(run)))
                .map(move |chain| self.chain_proposal(document, chain))
                .collect::<Vec<_>>()
        };
        self.among
            .clone()
            .into_par_iter()
            .flat_map_iter(of_document)
            .collect()
    }

    /// A chain as a proposal, widened to the whole sentence at each end where the chain holds most of that
    /// sentence.
    fn chain_proposal(&self, document: usize, chain: Chain) -> Proposal {
        let (draft, source) = (&self.draft.stream, &self.library.documents[document].stream);
        let mut proposal = Proposal::new(document, chain.draft, chain.source);
        for at in [chain.draft.start(), chain.draft.end().saturating_sub(1)] {
            let Some(sentence) = draft.sentences.get(draft.sentence_of(at)) else {
                continue;
            };
            let inside: usize = chain
                .runs
                .iter()
                .map(|run| run.draft.intersection(*sentence).len())
                .sum();
            if (inside as f32) < WHOLE_SENTENCE * sentence.len() as f32 {
                continue;
            }
            proposal.draft = proposal.draft.hull(*sentence);
            for end in [chain.source.start(), chain.source.end().saturating_sub(1)] {
                let sentence = source.sentences.get(source.sentence_of(end));
                if let Some(sentence) = sentence.filter(|s| s.len() <= 2 * proposal.draft.len()) {
                    proposal.source = proposal.source.hull(*sentence);
                }
            }
        }
        proposal.closeness = 1.0;
        proposal.runs = chain.runs;
        proposal
    }

    /// Proposals from groups of sentences that likely come from where their words point. A doubtful group
    /// must not widen a copy either.
    fn reworded(&self) -> Vec<Proposal> {
        let proposed = |group: Group| {
            let source = &self.library.documents[group.document].stream.sentences;
            Proposal {
                closeness: group.closeness,
                ..Proposal::new(
                    group.document,
                    sentence_words(&self.draft.stream.sentences, group.draft),
                    sentence_words(source, group.source),
                )
            }
        };
        // Several groups may have grown over the same sentences; one of them says it.
        let found = groups(self.candidates, self.draft, self.library, &self.among);
        let mut seen = FxHashSet::default();
        let found: Vec<Group> = found
            .into_iter()
            .filter(|group| seen.insert((group.document, group.draft, group.source)))
            .collect();
        let in_wording = |group: Proposal| {
            let head = self.library.documents[group.document].head;
            let source =
                StreamRange::of(group.source.start().max(head), group.source.end().max(head));
            (!source.is_empty()).then_some(Proposal { source, ..group })
        };
        let is_sure = |group: &Proposal| {
            let fixed = |at: usize| self.draft.fixed[at];
            let support = group.support(fixed, self.draft, self.library);
            support.sureness() > Sureness::Doubtful
        };
        let found = found.into_par_iter().map(proposed).filter_map(in_wording);
        let mut sure: Vec<Proposal> = found.filter(is_sure).collect();
        // What goes through the source in order says it better than a bag of the same words.
        let gathered = clusters(self.candidates, self.draft, self.library, &self.among);
        let groups = ByPlace::of(&sure);
        let gathered = gathered
            .into_par_iter()
            .map(proposed)
            .filter_map(in_wording);
        let adds = |one: &Proposal| groups.are_added_to_by(one);
        let gathered: Vec<Proposal> = gathered.filter(adds).filter(is_sure).collect();
        sure.extend(gathered);
        sure
    }

    /// Whether reworded sentences share more than the copies in them. A copied run inside a sentence of the
    /// writer's own is only that run. `copies` are those from the same document.
    fn adds_to_copies(&self, group: &Proposal, copies: &[StreamRange]) -> bool {
        let near = copies.iter().filter(|copy| copy.overlaps(group.draft));
        let inside: Vec<StreamRange> = near.copied().collect();
        let ignored =
            |at: usize| self.draft.fixed[at] || inside.iter().any(|copy| copy.contains(at));
        let beside = || group.support(ignored, self.draft, self.library);
        inside.is_empty() || beside().weight >= BESIDE_COPIES
    }

    /// All copies with their documents, those with most unmarked words first.
    pub(super) fn copies_by_length(&self) -> Vec<(usize, Run)> {
        let of_document = |document: usize| {
            let runs = self.runs(document);
            runs.map(move |run| (document, run))
        };
        let mut runs: Vec<(usize, Run)> = self.among.clone().flat_map(of_document).collect();
        runs.retain(|(_, run)| self.is_copy(run));
        runs.sort_by_key(|(document, run)| {
            let unmarked = unmarked_words(run, self.draft);
            (
                std::cmp::Reverse(unmarked),
                run.draft,
                *document,
                run.source,
            )
        });
        runs
    }

    /// Copies with words that no passage covers as copied, the longest first.
    fn missed_copies(&self, passages: &[Passage]) -> Vec<Proposal> {
        let mut covered = vec![false; self.draft.stream.len()];
        // Which string of a finding shows a word as its source's; 0 where none does.
        let mut shown = vec![0_usize; self.draft.stream.len()];
        let mut strings = 0;
        let mut show = |string: StreamRange| {
            strings += 1;
            shown[string.as_range()].fill(strings);
        };
        for passage in passages {
            // A passage with a copy of somebody's wording is a finding and is reported whole; a passage
            // without one may be dropped.
            for copy in &passage.copies {
                let own = copy
                    .draft
                    .as_range()
                    .filter(|at| !self.draft.fixed[*at])
                    .count();
                let range = if own >= self.run_words {
                    passage.draft
                } else {
                    copy.draft
                };
                covered[range.intersection(passage.draft).as_range()].fill(true);
            }
            if !passage.copies.is_empty() {
                let tiles = passage.alignment.tiles.iter().map(|tile| tile.draft);
                tiles.for_each(&mut show);
            }
        }
        let mut missed = Vec::new();
        for (document, run) in self.copies_by_length() {
            let unmarked = || run.draft.as_range().filter(|at| !self.draft.quoted[*at]);
            // A string of another source inside a passage: the passage has less than a third of its words, or of a long
            // string less than half in a row. Texts that tell the same have short strings in common all the time.
            let of_another = || {
                let words: Vec<usize> = unmarked().map(|at| shown[at]).collect();
                if words.len() < LONG_STRING * self.run_words {
                    let has = words.iter().filter(|string| **string > 0).count();
                    return 3 * has < words.len();
                }
                let in_row = words.chunk_by(|a, b| a == b);
                let in_row = in_row.filter(|row| row[0] > 0).map(<[usize]>::len);
                2 * in_row.max().unwrap_or(0) < words.len()
            };
            if unmarked().any(|at| !covered[at]) || of_another() {
                covered[run.draft.as_range()].fill(true);
                strings += 1;
                shown[run.draft.as_range()].fill(strings);
                missed.push(Proposal {
                    closeness: 1.0,
                    runs: vec![run],
                    ..Proposal::new(document, run.draft, run.source)
                });
            }
        }
        missed
    }
}

/// A shared string this many times as long as a copy has to be comes from where it stands whole. Our own choice.
const LONG_STRING: usize = 2;

/// One in how many words of gathered sentences must be new beside the groups from the same document, and from any other.
const ADDS_TO_SAME: usize = 3;
const ADDS_TO_OTHERS: usize = 2;

/// Groups by their places in the draft, so that those of a stretch are found without looking at all.
struct ByPlace {
    /// Place and document, in order of the draft.
    groups: Vec<(StreamRange, usize)>,
    /// For each, where the farthest so far ends.
    farthest: Vec<usize>,
}

impl ByPlace {
    fn of(groups: &[Proposal]) -> Self {
        let places = groups.iter().map(|group| (group.draft, group.document));
        let mut groups: Vec<(StreamRange, usize)> = places.collect();
        groups.sort_unstable();
        let farthest = groups.iter().scan(0, |farthest, (draft, _)| {
            *farthest = draft.end().max(*farthest);
            Some(*farthest)
        });
        Self {
            farthest: farthest.collect(),
            groups,
        }
    }

    /// Whether gathered sentences add to the groups, which are sure.
    fn are_added_to_by(&self, gathered: &Proposal) -> bool {
        let words = gathered.draft;
        let behind = self
            .groups
            .partition_point(|(draft, _)| draft.start() < words.end());
        let before = self.groups[..behind].iter().zip(&self.farthest).rev();
        let near = before
            .take_while(|(_, farthest)| **farthest > words.start())
            .map(|(group, _)| group)
            .filter(|(draft, _)| draft.overlaps(words));
        let (same, others): (Vec<_>, Vec<_>) =
            near.partition(|(_, document)| *document == gathered.document);
        let adds = |groups: &[&(StreamRange, usize)], one_in: usize| {
            let is_new = |at: &usize| groups.iter().all(|(draft, _)| !draft.contains(*at));
            words.as_range().filter(is_new).count() * one_in >= words.len()
        };
        adds(&same, ADDS_TO_SAME) && (!same.is_empty() || adds(&others, ADDS_TO_OTHERS))
    }
}

/// Weight (nats) that reworded sentences must share besides the copies in them to widen those: about two rare
/// words.
pub(crate) const BESIDE_COPIES: f32 = 14.0;
