//! Measuring: a proposal is aligned with its source, trimmed of what only leads into it, and counted.

use super::aligned::Aligned;
use super::alignment::Placed;
use super::chains::unmarked_words;
use super::library::Draft;
use super::passages::{Comparison, Passage};
use super::positions::StreamRange;
use super::proposals::Proposal;
use super::stream::Stream;
use super::strings::Run;
use super::unique::unique_share;

/// Aligns and measures a proposal, without what leads into it or follows it in other words.
#[must_use]
pub(crate) fn measured(proposal: &Proposal, comparison: &Comparison<'_>) -> Passage {
    let (draft, library) = (comparison.draft, comparison.library);
    let document = &library.documents[proposal.document];
    let whole = proposal.aligned(draft, library);
    let placed = whole.placed();
    let lead = without_lead(proposal.draft, &placed, draft, &document.stream);
    let copied = copies_inside(proposal, comparison).map(|run| run.draft);
    let words = copied.fold(lead, StreamRange::hull);
    let source = without_strays(proposal.source, &placed, &document.stream);
    let copied = copies_inside(proposal, comparison).map(|run| run.source);
    let source = copied.fold(source, StreamRange::hull);
    let is_trimmed = (words, source) != (proposal.draft, proposal.source);
    let aligned = match is_trimmed {
        true => Aligned::new(draft, words, document, source),
        false => whole.clone(),
    };
    let mut measures = aligned.measures(draft, document);
    measures.unique_share = Some(unique_share(
        aligned.forms(),
        aligned.alignment(),
        (&document.stream.forms, document.places()),
        source,
        &draft.lexicon,
    ));
    let runs = proposal.runs.iter().copied();
    let copies: Vec<Run> = runs.filter(|run| comparison.is_copy(run)).collect();
    let unmarked = copies.iter().map(|run| unmarked_words(run, draft));
    Passage {
        draft: words,
        document: proposal.document,
        source,
        longest_copy: unmarked.max().unwrap_or(0),
        copies,
        runs: proposal.runs.clone(),
        measures,
        support: aligned.support(|at| draft.fixed[at], draft, document),
        alignment: match is_trimmed {
            true => aligned.placed(),
            false => placed,
        },
        aligned,
        also_in: proposal.also_in.clone(),
    }
}

/// The copies that lie wholly inside a proposal; no trimming may cut them, on either side.
fn copies_inside<'c>(
    proposal: &'c Proposal,
    comparison: &'c Comparison<'_>,
) -> impl Iterator<Item = &'c Run> + 'c {
    let runs = proposal.runs.iter().filter(|run| comparison.is_copy(run));
    runs.filter(|run| proposal.draft.covers(run.draft))
}

/// The passage from the clause in which shared wording begins to the one in which it ends. A lead such as "As
/// the author has it," is not part of it, nor are words to which nothing answers in the source.
fn without_lead(
    words: StreamRange,
    alignment: &Placed,
    draft: &Draft,
    source: &Stream,
) -> StreamRange {
    let tiles = alignment.tiles.iter().map(|tile| tile.draft);
    let singles = alignment
        .singles
        .iter()
        .map(|single| StreamRange::of(single.draft, single.draft + 1));
    let Some(shared) = tiles.chain(singles).reduce(StreamRange::hull) else {
        return words;
    };
    let mark_before = |at: &usize| draft.stream.has_clause_mark_before(&draft.text, *at);
    // The last clause mark before the first shared word; the first one after the last shared word.
    let start = (words.start() + 1..=shared.start()).rev().find(mark_before);
    let end = (shared.end()..words.end()).find(mark_before);
    let lead = shared.start() - start.unwrap_or(words.start());
    let follows = end.unwrap_or(words.end()) - shared.end();
    let (before, behind) = answered(alignment, source);
    StreamRange::of(
        match lead > MOST_FOR_ONE * before + 1 {
            true => shared.start(),
            false => shared.start() - lead,
        },
        match follows > MOST_FOR_ONE * behind + 2 {
            true => shared.end(),
            false => shared.end() + follows,
        },
    )
}

/// How many words the source has before the counterpart of the first shared word, and behind that of the last, in their
/// sentences: what the words around shared wording can answer to.
fn answered(alignment: &Placed, source: &Stream) -> (usize, usize) {
    let tiles = || alignment.tiles.iter().map(|tile| (tile.draft, tile.source));
    let singles = || {
        let one = |at: usize| StreamRange::of(at, at + 1);
        let singles = alignment.singles.iter();
        singles.map(move |single| (one(single.draft), one(single.source)))
    };
    let first = tiles()
        .chain(singles())
        .min_by_key(|(draft, _)| draft.start());
    let last = tiles()
        .chain(singles())
        .max_by_key(|(draft, _)| draft.end());
    let sentence = |at: usize| {
        let sentence = source.sentences.get(source.sentence_of(at));
        sentence.copied().unwrap_or_default()
    };
    let before = first.map_or(0, |(_, of)| {
        of.start() - sentence(of.start()).start().min(of.start())
    });
    let behind = last.map_or(0, |(_, of)| {
        sentence(of.end().saturating_sub(1))
            .end()
            .saturating_sub(of.end())
    });
    (before, behind)
}

/// Words of the writer's that may stand for one of the source at the ends of a passage, besides a conjunction before it or
/// two words that end its sentence. More are a lead of the writer's own. Our own choice.
const MOST_FOR_ONE: usize = 3;

/// Consecutive words that are enough to make a sentence of the source part of a passage.
const HOLDING_STRING: usize = 4;

/// The source's stretch without sentences at its ends that contribute no more than a single word, which is as
/// likely the writer's own.
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
