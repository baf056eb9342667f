//! Groups: neighbouring sentences of the draft that correspond to neighbouring sentences of one document.
//!
//! 1. Each candidate of a sentence is a *link* ([`super::links`]).
//! 2. A group grows outward from the likeliest link: links of the next sentences join where they lead to the
//!    same place of the document.
//! 3. A group is judged as a whole, so that a passage is seen even where each sentence alone would prove
//!    little.

use rustc_hash::FxHashMap;

use super::candidates::Candidate;
use super::library::{Draft, Library};
use super::links::{Group, LEAST_NATS, Linker, sentence_words};
use super::positions::SentenceRange;
use super::profile::Profile;
use crate::text::Citation;

/// Sentences of the document that may lie between the places to which neighbouring links lead.
const SENTENCE_GAP: usize = 2;

/// All groups of the draft, likeliest first.
#[must_use]
pub(crate) fn groups(
    candidates: &[Vec<Candidate>],
    draft: &Draft,
    library: &Library,
    among: &std::ops::Range<usize>,
) -> Vec<Group> {
    let linker = Linker::new(draft, library);
    let links = linker.links(candidates, among);
    let by_document = by_document(&links);
    let mut used = vec![false; links.len()];
    let mut groups = Vec::new();
    let mut judged = Judged::default();
    for at in 0..links.len() {
        if !used[at] {
            let own = &by_document[&links[at].document];
            let group = grow(at, &links, own, &mut used, draft);
            let group = extended(group, &linker, &mut judged);
            groups.push(as_whole(group, draft, library));
        }
    }
    groups
}

/// The links of each document, in order of the draft.
fn by_document(links: &[Group]) -> FxHashMap<usize, Vec<usize>> {
    let mut lists: FxHashMap<usize, Vec<usize>> = FxHashMap::default();
    for (at, link) in links.iter().enumerate() {
        lists.entry(link.document).or_default().push(at);
    }
    for list in lists.values_mut() {
        list.sort_by_key(|at| (links[*at].draft, *at));
    }
    lists
}

/// Grows a group from the link at `from` over the links of its document.
fn grow(from: usize, links: &[Group], own: &[usize], used: &mut [bool], draft: &Draft) -> Group {
    let mut group = links[from].clone();
    used[from] = true;
    loop {
        let next = neighbours(&group, links, own)
            .filter(|at| !used[*at] && leads_near(&group, &links[*at]))
            .filter(|at| is_same_block(draft, group.draft, links[*at].draft))
            .filter(|at| links[*at].nats >= least_to_join(draft, group.draft, links[*at].draft))
            .min();
        let Some(next) = next else { break };
        used[next] = true;
        group = joined(group, &links[next]);
    }
    // Weaker links of the same sentences to the same document add nothing.
    for at in own {
        if group.draft.covers(links[*at].draft) {
            used[*at] = true;
        }
    }
    group
}

/// A group with one more link.
fn joined(group: Group, link: &Group) -> Group {
    Group {
        draft: group.draft.hull(link.draft),
        source: group.source.hull(link.source),
        nats: group.nats + link.nats,
        ..group
    }
}

/// A group with the closeness of its two stretches as wholes.
fn as_whole(group: Group, draft: &Draft, library: &Library) -> Group {
    let words = sentence_words(&draft.stream.sentences, group.draft);
    let ours = draft.profile(words);
    let stream = &library.documents[group.document].stream;
    let words = sentence_words(&stream.sentences, group.source);
    let theirs = Profile::of(stream.slice(words).iter().copied(), &draft.lexicon);
    Group {
        closeness: ours.closeness(&theirs),
        ..group
    }
}

/// Links of the sentences directly before and after a group. `own` is in the order of the draft.
fn neighbours<'l>(
    group: &Group,
    links: &'l [Group],
    own: &'l [usize],
) -> impl Iterator<Item = usize> + 'l {
    let at_sentence = move |sentence: Option<usize>| {
        let sentence = sentence.unwrap_or(usize::MAX);
        let from = own.partition_point(|at| links[*at].draft.start() < sentence);
        own[from..]
            .iter()
            .copied()
            .take_while(move |at| links[*at].draft.start() == sentence)
    };
    at_sentence(group.draft.start().checked_sub(1)).chain(at_sentence(Some(group.draft.end())))
}

/// Whether two stretches of sentences begin in one block of the draft, since a passage stays within one
/// block.
fn is_same_block(draft: &Draft, one: SentenceRange, other: SentenceRange) -> bool {
    draft.stream.blocks.get(one.start()) == draft.stream.blocks.get(other.start())
}

fn leads_near(group: &Group, link: &Group) -> bool {
    link.source.start() <= group.source.end() + SENTENCE_GAP
        && group.source.start() <= link.source.end() + SENTENCE_GAP
}

/// Nats per sentence from which a group supports its neighbours.
const VOUCHES: f32 = 8.0;

/// Least nats of a neighbour that joins a group. It is likelier to have been written independently, but next
/// to sentences taken from the same place it may still have been taken.
const VOUCHED: f32 = LEAST_NATS;

/// The same where a citation stands between the two: what comes after it is as likely the writer's own
/// thought.
const ACROSS_CITATION: f32 = 4.0;

/// The nats that a neighbour needs to join a group.
fn least_to_join(draft: &Draft, group: SentenceRange, next: SentenceRange) -> f32 {
    let (first, second) = if group.start() < next.start() {
        (group, next)
    } else {
        (next, group)
    };
    let sentences = &draft.stream.sentences;
    let words = |sentence: usize| sentences.get(sentence).copied().unwrap_or_default();
    let before = draft.stream.bytes(&draft.text, words(first.end() - 1));
    let behind = draft.stream.bytes(&draft.text, words(second.start()));
    let citations = &draft.text.citations;
    let next = citations.partition_point(|citation| citation.range.start() < before.end());
    let is_between = |citation: &Citation| citation.range.end() <= behind.start();
    if citations.get(next).is_some_and(is_between) {
        ACROSS_CITATION
    } else {
        VOUCHED
    }
}

/// A group with the sentences before and after it that continue it. Next to a close passage, sentences that
/// would prove nothing by themselves are part of it.
fn extended(mut group: Group, linker: &Linker<'_>, judged: &mut Judged) -> Group {
    let last = linker.draft.stream.sentences.len();
    loop {
        if group.nats < VOUCHES * group.draft.len() as f32 {
            return group;
        }
        let before = group.draft.start().checked_sub(1);
        let behind = (group.draft.end() < last).then_some(group.draft.end());
        let next = [before, behind]
            .into_iter()
            .flatten()
            .filter(|sentence| {
                let sentence = SentenceRange::of(*sentence, sentence + 1);
                is_same_block(linker.draft, group.draft, sentence)
            })
            .filter_map(|sentence| continuation(&group, sentence, linker, judged))
            .max_by(|a, b| {
                a.nats
                    .total_cmp(&b.nats)
                    .then_with(|| b.draft.cmp(&a.draft))
            });
        let Some(next) = next else { return group };
        group = joined(group, &next);
    }
}

/// What continues groups, by document, sentence of the draft and sentences of the document: several groups may grow over the
/// same sentences from different links.
type Judged = FxHashMap<(usize, usize, SentenceRange), Group>;

/// What a neighbouring sentence of the draft corresponds to at the edges of a group's source, if anything.
fn continuation(
    group: &Group,
    sentence: usize,
    linker: &Linker<'_>,
    judged: &mut Judged,
) -> Option<Group> {
    let last = linker.library.documents[group.document]
        .stream
        .sentences
        .len();
    let (start, end) = (group.source.start(), group.source.end());
    let windows = [
        (end, end + 1),
        (end, end + 2),
        (end.saturating_sub(1), end + 1),
        (start.saturating_sub(1), start),
        (start.saturating_sub(2), start),
        (start.saturating_sub(1), start + 1),
    ];
    let mut stems = Vec::new();
    windows
        .into_iter()
        .filter(|(from, to)| from < to && *to <= last)
        .map(|(from, to)| {
            let source = SentenceRange::of(from, to);
            let asked = (group.document, sentence, source);
            let judge =
                || linker.judged(linker.close(group.document, sentence, source, &mut stems));
            judged.entry(asked).or_insert_with(judge).clone()
        })
        .filter(|next| next.nats >= least_to_join(linker.draft, group.draft, next.draft))
        .max_by(|a, b| {
            a.nats
                .total_cmp(&b.nats)
                .then_with(|| b.source.cmp(&a.source))
        })
}
