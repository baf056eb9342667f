//! Groups: neighbouring sentences of the draft that answer to neighbouring sentences of one document.
//!
//! 1. Each candidate of a sentence becomes a *link*: the sentence and the one to three sentences of
//!    the document that are closest to it.
//! 2. From the best link outward, links of the next sentences join where they lead to the same place
//!    of the document.
//! 3. A group is judged as a whole, so that a passage of which each sentence alone would prove
//!    little is still seen.

use rayon::prelude::*;

use super::candidates::Candidate;
use super::library::{Draft, Library, Overlap};
use super::profile::Profile;
use crate::text::WordRange;

/// Sentences of the draft and the sentences of a document that answer to them.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// The document's number.
    pub document: usize,
    /// Sentences of the draft's stream.
    pub draft: WordRange,
    /// Sentences of the document's stream.
    pub source: WordRange,
    /// Closeness of the two as wholes.
    pub closeness: f32,
    /// Weight they share, in nats.
    pub shared: f32,
}

/// Links weaker than this join no group.
const LEAST_LINK: f32 = 0.24;

/// Sentences of the document that may lie between the places to which neighbouring links lead.
const SENTENCE_GAP: usize = 2;

/// Sentences of a document that can answer to a single sentence of the draft.
const WINDOW_SENTENCES: usize = 3;

/// Share of a draft sentence's weight that a single sentence of the document must cover to be
/// thought its only origin.
const ENOUGH_COVERED: f32 = 0.8;

/// All groups of the draft, best first; none overlaps another of the same document.
#[must_use]
pub fn groups(
    overlap: &Overlap,
    draft: &Draft<'_>,
    library: &Library<'_>,
    among: &std::ops::Range<usize>,
) -> Vec<Group> {
    let mut links: Vec<Group> = overlap
        .candidates
        .par_iter()
        .enumerate()
        .flat_map_iter(|(sentence, candidates)| {
            let strong = candidates.iter().filter(|candidate| {
                among.contains(&candidate.document) && candidate.score >= LEAST_LINK / 2.0
            });
            let mut links: Vec<Group> = strong
                .map(|candidate| link(sentence, candidate, draft, library))
                .collect();
            links.retain(|link| link.closeness >= LEAST_LINK);
            links
        })
        .collect();
    links.sort_by(|a, b| {
        (b.closeness.total_cmp(&a.closeness))
            .then_with(|| (a.document, a.draft, a.source).cmp(&(b.document, b.draft, b.source)))
    });
    let by_document = by_document(&links);
    let mut used = vec![false; links.len()];
    let mut groups = Vec::new();
    for at in 0..links.len() {
        if !used[at] {
            let own = &by_document[&links[at].document];
            groups.push(grow(at, &links, own, &mut used, draft, library));
        }
    }
    groups
}

/// The links of each document, in order of the draft.
fn by_document(links: &[Group]) -> rustc_hash::FxHashMap<usize, Vec<usize>> {
    let mut lists: rustc_hash::FxHashMap<usize, Vec<usize>> = rustc_hash::FxHashMap::default();
    for (at, link) in links.iter().enumerate() {
        lists.entry(link.document).or_default().push(at);
    }
    for list in lists.values_mut() {
        list.sort_by_key(|at| (links[*at].draft, *at));
    }
    lists
}

/// A candidate with the window of the document that is closest to the sentence.
fn link(sentence: usize, candidate: &Candidate, draft: &Draft<'_>, library: &Library<'_>) -> Group {
    let document = candidate.document;
    let last = library.documents[document].stream.sentences.len();
    let profile = &draft.profiles[sentence];
    let judge = |source: WordRange| {
        judged(
            document,
            WordRange::of(sentence, sentence + 1),
            profile,
            source,
            library,
        )
    };
    let mut best = judge(WordRange::of(candidate.sentence, candidate.sentence + 1));
    while best.source.len() < WINDOW_SENTENCES && best.shared < ENOUGH_COVERED * profile.weight {
        let before = best.source.start().checked_sub(1);
        let wider = [
            before.map(|start| WordRange::of(start, best.source.end())),
            (best.source.end() < last)
                .then(|| WordRange::of(best.source.start(), best.source.end() + 1)),
        ];
        let closest =
            wider
                .into_iter()
                .flatten()
                .map(judge)
                .fold(None, |closest: Option<Group>, next| match closest {
                    Some(closest) if closest.closeness >= next.closeness => Some(closest),
                    _ => Some(next),
                });
        match closest {
            Some(wider) if wider.closeness > best.closeness => best = wider,
            _ => break,
        }
    }
    best
}

fn judged(
    document: usize,
    draft: WordRange,
    profile: &Profile,
    source: WordRange,
    library: &Library<'_>,
) -> Group {
    let stream = &library.documents[document].stream;
    let words = sentence_words(&stream.sentences, source);
    let theirs = Profile::of(stream.slice(words).iter().copied(), &library.lexicon);
    Group {
        document,
        draft,
        source,
        closeness: profile.closeness(&theirs),
        shared: profile.shared_weight(&theirs),
    }
}

/// The words of a stretch of sentences.
#[must_use]
pub fn sentence_words(sentences: &[WordRange], stretch: WordRange) -> WordRange {
    match sentences.get(stretch.as_range()) {
        Some([only]) => *only,
        Some([first, .., last]) => first.hull(*last),
        _ => WordRange::default(),
    }
}

/// Grows a group from the link at `from` over the links of its document.
fn grow(
    from: usize,
    links: &[Group],
    own: &[usize],
    used: &mut [bool],
    draft: &Draft<'_>,
    library: &Library<'_>,
) -> Group {
    let mut group = links[from].clone();
    used[from] = true;
    loop {
        let next = neighbours(&group, links, own)
            .filter(|at| !used[*at] && leads_near(&group, &links[*at]))
            .min();
        let Some(next) = next else { break };
        used[next] = true;
        let sentences = group.draft.hull(links[next].draft);
        let source = group.source.hull(links[next].source);
        let profile = profile_of(sentences, draft, library);
        let wider = judged(group.document, sentences, &profile, source, library);
        if wider.closeness >= LEAST_LINK {
            group = wider;
        }
    }
    // Weaker links of the same sentences to the same document tell the same story again.
    for at in own {
        if group.draft.covers(links[*at].draft) {
            used[*at] = true;
        }
    }
    group
}

/// Links of the sentences right before and right behind a group. `own` is in order of the draft.
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

fn leads_near(group: &Group, link: &Group) -> bool {
    link.source.start() <= group.source.end() + SENTENCE_GAP
        && group.source.start() <= link.source.end() + SENTENCE_GAP
}

fn profile_of(sentences: WordRange, draft: &Draft<'_>, library: &Library<'_>) -> Profile {
    let words = sentence_words(&draft.stream.sentences, sentences);
    draft.profile(words, &library.lexicon)
}
