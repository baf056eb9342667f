//! Measuring: a proposal aligned with its source, freed of what only leads into it, and counted.

use super::alignment::{Placed, align};
use super::chains::unmarked_words;
use super::library::Draft;
use super::passages::{Comparison, Passage};
use super::positions::StreamRange;
use super::proposals::Proposal;
use super::scale::Measures;
use super::stream::Stream;
use super::strings::Run;
use super::support::Support;
use super::unique::unique_share;

/// Aligns and measures a proposal, without what leads into it or follows from it in other words.
#[must_use]
pub fn measured(proposal: &Proposal, comparison: &Comparison<'_>) -> Passage {
    let (draft, library) = (comparison.draft, comparison.library);
    let document = &library.documents[proposal.document];
    let aligned = |words: StreamRange, source: StreamRange| {
        let own: Vec<usize> = words.as_range().filter(|at| !draft.quoted[*at]).collect();
        let forms: Vec<_> = own.iter().map(|at| draft.stream.forms[*at]).collect();
        let local = align(&forms, document.stream.slice(source), &draft.lexicon);
        (own, forms, local)
    };
    let (mut words, mut source) = (proposal.draft, proposal.source);
    let (mut own, mut forms, mut local) = aligned(words, source);
    let placed = local.placed(&own, source.start());
    let trimmed = (
        copies_inside(proposal, comparison)
            .fold(without_lead(words, &placed, draft), StreamRange::hull),
        without_strays(source, &placed, &document.stream),
    );
    if trimmed != (words, source) {
        (words, source) = trimmed;
        (own, forms, local) = aligned(words, source);
    }
    let theirs = document.stream.slice(source);
    let mut measures = Measures::count(&forms, theirs, &local, &draft.lexicon);
    measures.unique_share = Some(unique_share(
        &forms,
        &local,
        &document.stream.forms,
        source,
        &draft.lexicon,
    ));
    let copies: Vec<Run> = proposal
        .runs
        .iter()
        .copied()
        .filter(|run| comparison.is_copy(run))
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
        support: Support::of(
            &forms,
            |at| draft.fixed[own[at]],
            theirs,
            &local,
            &draft.lexicon,
        ),
        alignment: local.placed(&own, source.start()),
        also_in: proposal.also_in.clone(),
    }
}

/// The copies that lie wholly inside a proposal; no trimming may cut them.
fn copies_inside<'c>(
    proposal: &'c Proposal,
    comparison: &'c Comparison<'_>,
) -> impl Iterator<Item = StreamRange> + 'c {
    let runs = proposal.runs.iter().filter(|run| comparison.is_copy(run));
    runs.map(|run| run.draft)
        .filter(|run| proposal.draft.covers(*run))
}

/// The passage from the clause in which shared wording begins to the one in which it ends: a lead
/// such as "As the author has it," is no part of it.
fn without_lead(words: StreamRange, alignment: &Placed, draft: &Draft) -> StreamRange {
    let tiles = alignment.tiles.iter().map(|tile| tile.draft);
    let singles = alignment
        .singles
        .iter()
        .map(|single| StreamRange::of(single.draft, single.draft + 1));
    let Some(shared) = tiles.chain(singles).reduce(StreamRange::hull) else {
        return words;
    };
    let mark_before = |at: &usize| draft.stream.has_clause_mark_before(&draft.text, *at);
    // The last clause mark up to the first shared word; the first behind the last shared word.
    let start = (words.start() + 1..=shared.start()).rev().find(mark_before);
    let end = (shared.end()..words.end()).find(mark_before);
    StreamRange::of(start.unwrap_or(words.start()), end.unwrap_or(words.end()))
}

/// Words in a row that make a sentence of the source part of a passage by themselves.
const HOLDING_STRING: usize = 4;

/// The source's stretch without sentences at its ends from which no more than a single word came: that
/// one is as likely the writer's own.
fn without_strays(source: StreamRange, alignment: &Placed, stream: &Stream) -> StreamRange {
    let lends = |sentence: &StreamRange| {
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
