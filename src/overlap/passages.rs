//! Passages: what a draft has from each document, one passage a place.
//!
//! 1. Chains of shared strings and groups of sentences are proposals. Those that lead to the same
//!    place of the same document are one.
//! 2. Where proposals of different documents claim the same words, the one that explains most of
//!    them wins, and the others are named beside it.
//! 3. Whatever shared string of `run_words` is left without a passage becomes one of its own, so that
//!    none is lost.
//! 4. Each passage is aligned with its source and measured.

use rayon::prelude::*;

use super::alignment::{Alignment, align};
use super::chains::{Chain, chains, is_copy, unmarked_words};
use super::evidence::{Evidence, Sureness};
use super::groups::{groups, sentence_words};
use super::library::{Draft, Library, Overlap};
use super::proposals::{Proposal, choose, merge};
use super::scale::Measures;
use super::stream::Stream;
use super::strings::Run;
use super::unique::unique_share;
use crate::text::WordRange;

/// A stretch of the draft set against a stretch of a document.
#[derive(Debug, Clone, PartialEq)]
pub struct Passage {
    /// Where in the draft's stream.
    pub draft: WordRange,
    /// The document's number.
    pub document: usize,
    /// Where in the document's stream.
    pub source: WordRange,
    /// Shared strings inside that count as copies by themselves.
    pub copies: Vec<Run>,
    /// The most unmarked words that one shared string inside has.
    pub longest_copy: usize,
    /// The measures of the words outside quotations.
    pub measures: Measures,
    /// Counterparts, by position in the two streams.
    pub alignment: Alignment,
    /// How much telling wording it shares.
    pub evidence: Evidence,
    /// Other documents with the same wording, best first.
    pub also_in: Vec<usize>,
}

impl Passage {
    /// How much telling wording it shares beside the given runs, which are nobody's wording.
    #[must_use]
    pub fn evidence_beside(
        &self,
        runs: &[Run],
        draft: &Draft<'_>,
        library: &Library<'_>,
    ) -> Evidence {
        let mut ignored = draft.fixed.clone();
        for run in runs {
            ignored[run.draft.as_range()].fill(true);
        }
        let proposal = Proposal {
            draft: self.draft,
            document: self.document,
            source: self.source,
            closeness: 0.0,
            shared: 0.0,
            runs: Vec::new(),
            also_in: Vec::new(),
        };
        proposal.evidence_without(&ignored, draft, library)
    }
}

/// What a comparison looks for.
#[derive(Debug, Clone, Copy)]
pub struct Limits {
    /// Words of a shared string that count as a copy.
    pub run_words: usize,
}

/// All passages of the draft that come from the documents in `among`, in order of the draft.
#[must_use]
pub fn passages(
    overlap: &Overlap,
    draft: &Draft<'_>,
    library: &Library<'_>,
    among: std::ops::Range<usize>,
    limits: Limits,
) -> Vec<Passage> {
    let mut proposals = copied(overlap, draft, library, among.clone(), limits);
    let reworded = reworded(overlap, draft, library, among.clone())
        .into_iter()
        .filter(|group| adds_to_copies(group, &proposals, draft, library));
    let reworded: Vec<Proposal> = reworded.collect();
    proposals.extend(reworded);
    let chosen = choose(merge(proposals, draft), draft, library);
    let mut passages: Vec<Passage> = chosen
        .into_par_iter()
        .map(|proposal| measured(&proposal, draft, library, limits))
        .collect();
    let missed = missed_copies(&passages, overlap, draft, library, among, limits);
    passages.extend(
        missed
            .iter()
            .map(|proposal| measured(proposal, draft, library, limits)),
    );
    passages.sort_by_key(|passage| (passage.draft, passage.document, passage.source));
    passages
}

/// Proposals from chains of shared strings in which at least one is a copy by itself.
fn copied(
    overlap: &Overlap,
    draft: &Draft<'_>,
    library: &Library<'_>,
    among: std::ops::Range<usize>,
    limits: Limits,
) -> Vec<Proposal> {
    let of_document = |document: usize| {
        let runs = overlap.runs.get(document).map_or(&[][..], Vec::as_slice);
        chains(runs)
            .into_iter()
            .filter(|chain| {
                let copy = |run: &Run| is_copy(run, draft, &library.lexicon, limits.run_words);
                chain.runs.iter().any(copy)
            })
            .map(move |chain| from_chain(document, &chain, draft, library))
            .collect::<Vec<_>>()
    };
    among.into_par_iter().flat_map_iter(of_document).collect()
}

/// Share of a sentence's unmarked words that a chain must hold for the whole sentence to be taken
/// for copied.
const WHOLE_SENTENCE: f32 = 0.6;

/// A chain as a proposal: widened to whole sentences at an end where most of the sentence is in it.
fn from_chain(
    document: usize,
    chain: &Chain,
    draft: &Draft<'_>,
    library: &Library<'_>,
) -> Proposal {
    let source_stream = &library.documents[document].stream;
    let mut proposal = Proposal {
        draft: chain.draft,
        document,
        source: chain.source,
        closeness: 1.0,
        shared: 0.0,
        runs: chain.runs.clone(),
        also_in: Vec::new(),
    };
    for at in [chain.draft.start(), chain.draft.end().saturating_sub(1)] {
        let Some(sentence) = draft.stream.sentences.get(draft.stream.sentence_of(at)) else {
            continue;
        };
        let inside: usize = chain
            .runs
            .iter()
            .map(|run| run.draft.intersection(*sentence).len())
            .sum();
        if inside as f32 >= WHOLE_SENTENCE * sentence.len() as f32 {
            proposal.draft = proposal.draft.hull(*sentence);
            let ends = [chain.source.start(), chain.source.end().saturating_sub(1)];
            for end in ends {
                if let Some(sentence) = source_stream.sentences.get(source_stream.sentence_of(end))
                {
                    let most = sentence.len() <= 2 * proposal.draft.len();
                    if most {
                        proposal.source = proposal.source.hull(*sentence);
                    }
                }
            }
        }
    }
    proposal.shared = proposal.weight(draft, library);
    proposal
}

/// Proposals from groups of sentences that likely come from where their words point. One that is
/// doubtful by itself must not widen a copy either.
fn reworded(
    overlap: &Overlap,
    draft: &Draft<'_>,
    library: &Library<'_>,
    among: std::ops::Range<usize>,
) -> Vec<Proposal> {
    groups(overlap, draft, library, &among)
        .into_par_iter()
        .map(|group| Proposal {
            draft: sentence_words(&draft.stream.sentences, group.draft),
            document: group.document,
            source: sentence_words(
                &library.documents[group.document].stream.sentences,
                group.source,
            ),
            closeness: group.closeness,
            shared: group.shared,
            runs: Vec::new(),
            also_in: Vec::new(),
        })
        .filter(|proposal| {
            proposal.is_plausible()
                && proposal.evidence(draft, library).sureness() > Sureness::Doubtful
        })
        .collect()
}

/// Weight (nats) that reworded sentences must share beside the copies in them to widen those: about
/// two rare words.
const BESIDE_COPIES: f32 = 14.0;

/// Whether reworded sentences share more than the copies in them: a copied run inside a sentence of
/// the writer's own is just that run.
fn adds_to_copies(
    group: &Proposal,
    copies: &[Proposal],
    draft: &Draft<'_>,
    library: &Library<'_>,
) -> bool {
    let mut copied = copies
        .iter()
        .filter(|copy| copy.document == group.document && copy.draft.overlaps(group.draft))
        .peekable();
    if copied.peek().is_none() {
        return true;
    }
    let mut in_copies = draft.fixed.clone();
    for copy in copied {
        in_copies[copy.draft.as_range()].fill(true);
    }
    group.evidence_without(&in_copies, draft, library).weight >= BESIDE_COPIES
}

/// Copies whose words no passage covers, longest first, none overlapping another.
fn missed_copies(
    passages: &[Passage],
    overlap: &Overlap,
    draft: &Draft<'_>,
    library: &Library<'_>,
    among: std::ops::Range<usize>,
    limits: Limits,
) -> Vec<Proposal> {
    let mut covered = vec![false; draft.stream.len()];
    for passage in passages {
        // Only what makes the passage a finding counts: one without copies may come to nothing.
        for copy in &passage.copies {
            covered[copy.draft.intersection(passage.draft).as_range()].fill(true);
        }
    }
    let mut runs: Vec<(usize, Run)> = among
        .flat_map(|document| {
            overlap.runs[document]
                .iter()
                .map(move |run| (document, *run))
        })
        .filter(|(_, run)| is_copy(run, draft, &library.lexicon, limits.run_words))
        .collect();
    runs.sort_by_key(|(document, run)| {
        (
            std::cmp::Reverse(unmarked_words(run, draft)),
            run.draft,
            *document,
            run.source,
        )
    });
    let mut missed = Vec::new();
    for (document, run) in runs {
        let mut unmarked = run.draft.as_range().filter(|at| !draft.quoted[*at]);
        if unmarked.any(|at| !covered[at]) {
            covered[run.draft.as_range()].fill(true);
            missed.push(Proposal {
                draft: run.draft,
                document,
                source: run.source,
                closeness: 1.0,
                shared: 0.0,
                runs: vec![run],
                also_in: Vec::new(),
            });
        }
    }
    missed
}

/// Aligns and measures a proposal, without what leads into it or follows from it in other words.
fn measured(
    proposal: &Proposal,
    draft: &Draft<'_>,
    library: &Library<'_>,
    limits: Limits,
) -> Passage {
    let document = &library.documents[proposal.document];
    let aligned = |words: WordRange, source: WordRange| {
        let own: Vec<usize> = words.as_range().filter(|at| !draft.quoted[*at]).collect();
        let forms: Vec<_> = own.iter().map(|at| draft.stream.forms[*at]).collect();
        let local = align(&forms, document.stream.slice(source), &library.lexicon);
        (own, forms, local)
    };
    let (mut words, mut source) = (proposal.draft, proposal.source);
    let (mut own, mut forms, mut local) = aligned(words, source);
    let placed = local.placed(&own, source.start());
    let trimmed = (
        without_lead(words, &placed, draft),
        without_strays(source, &placed, &document.stream),
    );
    if trimmed != (words, source) {
        (words, source) = trimmed;
        (own, forms, local) = aligned(words, source);
    }
    let theirs = document.stream.slice(source);
    let mut measures = Measures::count(&forms, &local, &library.lexicon);
    measures.unique_share = Some(unique_share(
        &forms,
        &local,
        &document.stream.forms,
        source,
        &library.lexicon,
    ));
    let copies: Vec<Run> = proposal
        .runs
        .iter()
        .copied()
        .filter(|run| is_copy(run, draft, &library.lexicon, limits.run_words))
        .collect();
    Passage {
        draft: words,
        document: proposal.document,
        source,
        longest_copy: copies
            .iter()
            .map(|run| unmarked_words(run, draft))
            .max()
            .unwrap_or(0),
        copies,
        measures,
        evidence: Evidence::of(
            &forms,
            |at| draft.fixed[own[at]],
            theirs,
            &local,
            &library.lexicon,
        ),
        alignment: local.placed(&own, source.start()),
        also_in: proposal.also_in.clone(),
    }
}

/// The passage from the clause in which shared wording begins to the one in which it ends: a lead
/// such as "As the author has it," is no part of it.
fn without_lead(words: WordRange, alignment: &Alignment, draft: &Draft<'_>) -> WordRange {
    let tiles = alignment.tiles.iter().map(|tile| tile.draft);
    let singles = alignment
        .singles
        .iter()
        .map(|single| WordRange::of(single.draft, single.draft + 1));
    let Some(shared) = tiles.chain(singles).reduce(WordRange::hull) else {
        return words;
    };
    let mark_before = |at: &usize| draft.stream.has_clause_mark_before(draft.text, *at);
    // The last clause mark up to the first shared word; the first behind the last shared word.
    let start = (words.start() + 1..=shared.start()).rev().find(mark_before);
    let end = (shared.end()..words.end()).find(mark_before);
    WordRange::of(start.unwrap_or(words.start()), end.unwrap_or(words.end()))
}

/// Words in a row that make a sentence of the source part of a passage by themselves.
const HOLDING_STRING: usize = 4;

/// The source's stretch without sentences at its ends from which no more than a single word came: that
/// one is as likely the writer's own.
fn without_strays(source: WordRange, alignment: &Alignment, stream: &Stream) -> WordRange {
    let lends = |sentence: &WordRange| {
        let sentence = sentence.intersection(source);
        let of_tiles = alignment
            .tiles
            .iter()
            .map(|tile| tile.source.intersection(sentence).len());
        let singles = alignment
            .singles
            .iter()
            .filter(|single| sentence.contains(single.source))
            .count();
        let in_strings: usize = of_tiles
            .map(|len| {
                if len >= HOLDING_STRING {
                    len
                } else {
                    len.min(1)
                }
            })
            .sum();
        in_strings + singles > 1
    };
    let first = stream.sentence_of(source.start());
    let last = stream.sentence_of(source.end().saturating_sub(1));
    let inside = stream.sentences.get(first..=last).unwrap_or_default();
    let (Some(from), Some(to)) = (
        inside.iter().find(|s| lends(s)),
        inside.iter().rev().find(|s| lends(s)),
    ) else {
        return source;
    };
    from.hull(*to).intersection(source)
}
