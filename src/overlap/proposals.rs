//! Proposals: stretches of the draft that may come from a stretch of a document, and the choice
//! among those that claim the same words.

use std::sync::OnceLock;

use rustc_hash::FxHashSet;

use super::aligned::Aligned;
use super::library::{Draft, Library};
use super::positions::StreamRange;
use super::profile::Profile;
use super::strings::Run;
use super::support::Support;

/// One proposal.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Proposal {
    /// Where in the draft's stream.
    pub draft: StreamRange,
    /// The document's number.
    pub document: usize,
    /// Where in the document's stream.
    pub source: StreamRange,
    /// Closeness of the two stretches, 0 to 1; 1 for shared strings.
    pub closeness: f32,
    /// The shared strings it was made from.
    pub runs: Vec<Run>,
    /// Other documents that claim the same words, best first.
    pub also_in: Vec<usize>,
    /// The alignment of the two stretches, once it has been computed.
    pub(super) aligned: OnceLock<Box<Aligned>>,
}

/// Most words between two stretches of a document that count as the same place.
const SAME_PLACE_WORDS: usize = 40;

/// Most words of the draft between two proposals of the same place that make one passage.
const SAME_PASSAGE_WORDS: usize = 3;

impl Proposal {
    /// A proposal of which only the places are known.
    #[must_use]
    pub(crate) fn new(document: usize, draft: StreamRange, source: StreamRange) -> Self {
        Self {
            draft,
            document,
            source,
            closeness: 0.0,
            runs: Vec::new(),
            also_in: Vec::new(),
            aligned: OnceLock::new(),
        }
    }

    /// The weight that the unmarked words of the draft share with the document's stretch.
    #[must_use]
    pub(crate) fn weight(&self, draft: &Draft, library: &Library) -> f32 {
        let ours = draft.profile(self.draft);
        let source = library.documents[self.document].stream.slice(self.source);
        ours.shared_weight(&Profile::of(source.iter().copied(), &draft.lexicon))
    }

    /// The alignment of the two stretches. It is computed once, until one of the stretches changes.
    #[must_use]
    pub(crate) fn aligned(&self, draft: &Draft, library: &Library) -> &Aligned {
        self.aligned.get_or_init(|| {
            let document = &library.documents[self.document];
            Box::new(Aligned::new(draft, self.draft, document, self.source))
        })
    }

    /// How much the two stretches share once aligned. Words of the draft for which `is_ignored` holds count
    /// for nothing.
    #[must_use]
    pub(crate) fn support(
        &self,
        is_ignored: impl Fn(usize) -> bool,
        draft: &Draft,
        library: &Library,
    ) -> Support {
        let document = &library.documents[self.document];
        let aligned = self.aligned(draft, library);
        aligned.support(is_ignored, draft, document)
    }

    /// Moves the stretch of the draft.
    fn set_draft(&mut self, draft: StreamRange) {
        if self.draft != draft {
            self.draft = draft;
            self.aligned = OnceLock::new();
        }
    }

    fn is_same_passage(&self, other: &Self, draft: &Draft) -> bool {
        let near = |a: StreamRange, b: StreamRange, gap: usize| {
            a.start() <= b.end() + gap && b.start() <= a.end() + gap
        };
        let block = |words: StreamRange| draft.stream.block_of(words.start());
        self.document == other.document
            && block(self.draft) == block(other.draft)
            && near(self.draft, other.draft, SAME_PASSAGE_WORDS)
            && near(self.source, other.source, SAME_PLACE_WORDS)
    }

    fn absorb(&mut self, other: &Self) {
        let whole = (self.draft.hull(other.draft), self.source.hull(other.source));
        if whole != (self.draft, self.source) {
            (self.draft, self.source) = whole;
            self.aligned = OnceLock::new();
        }
        self.closeness = self.closeness.max(other.closeness);
        self.runs.extend(&other.runs);
    }
}

/// Merges the proposals that lead to the same place of the same document.
#[must_use]
pub(crate) fn merge(mut proposals: Vec<Proposal>, draft: &Draft) -> Vec<Proposal> {
    proposals.sort_by_key(|proposal| (proposal.document, proposal.draft, proposal.source));
    let mut merged: Vec<Proposal> = Vec::new();
    for proposal in proposals {
        let recent = merged.iter_mut().rev().take(8);
        match recent
            .into_iter()
            .find(|earlier| earlier.is_same_passage(&proposal, draft))
        {
            Some(earlier) => earlier.absorb(&proposal),
            None => merged.push(proposal),
        }
    }
    for proposal in &mut merged {
        proposal.runs.sort_unstable();
        proposal.runs.dedup();
    }
    merged
}

/// Share of a proposal's words that must still be free if it is to be kept beside better ones.
const FREE_SHARE: f32 = 0.5;

/// Share of the words that a passage shares with its document that another one must share too to be named with it, so
/// that it can be said to have the same words. Our own choice.
const ALSO_SHARE: f32 = 0.8;

/// Whether a document that lost a passage has its wording too: the words themselves that are shared, not only their place.
fn is_same_wording(winner: &Proposal, other: &Proposal, draft: &Draft, library: &Library) -> bool {
    let shared = |proposal: &Proposal| {
        let placed = proposal.aligned(draft, library).placed();
        let tiles = placed.tiles.into_iter();
        let words: FxHashSet<usize> = tiles.flat_map(|tile| tile.draft.as_range()).collect();
        words
    };
    let (ours, theirs) = (shared(winner), shared(other));
    let common = ours.intersection(&theirs).count();
    !ours.is_empty() && common as f32 >= ALSO_SHARE * ours.len() as f32
}

/// Chooses among proposals that claim the same words of the draft. The one with the largest product of shared
/// weight and closeness wins; a loser is named with the winner.
#[must_use]
pub(crate) fn choose(proposals: Vec<Proposal>, draft: &Draft, library: &Library) -> Vec<Proposal> {
    let strength = |proposal: &Proposal| proposal.weight(draft, library) * proposal.closeness;
    let mut proposals: Vec<(f32, Proposal)> = proposals
        .into_iter()
        .map(|proposal| (strength(&proposal), proposal))
        .collect();
    proposals.sort_by(|(strong, a), (other, b)| {
        (other.total_cmp(strong))
            .then_with(|| (a.draft, a.document, a.source).cmp(&(b.draft, b.document, b.source)))
    });
    let mut owner: Vec<Option<usize>> = vec![None; draft.stream.len()];
    let mut chosen: Vec<Proposal> = Vec::new();
    for (_, mut proposal) in proposals {
        let free = longest_free(&owner, proposal.draft);
        if free.len() as f32 >= FREE_SHARE * proposal.draft.len() as f32 && !free.is_empty() {
            proposal.runs.retain(|run| free.overlaps(run.draft));
            // A shared string is kept whole, even where another proposal has a part of it.
            let runs = proposal.runs.iter().map(|run| run.draft);
            let whole = runs.fold(free, StreamRange::hull);
            proposal.set_draft(whole);
            for owner in &mut owner[proposal.draft.as_range()] {
                owner.get_or_insert(chosen.len());
            }
            chosen.push(proposal);
        } else if let Some(winner) = main_owner(&owner, proposal.draft) {
            let winner = &mut chosen[winner];
            if winner.document != proposal.document
                && is_same_wording(winner, &proposal, draft, library)
                && !winner.also_in.contains(&proposal.document)
            {
                winner.also_in.push(proposal.document);
            }
        }
    }
    chosen
}

/// The longest stretch of `range` that has no owner.
fn longest_free(owner: &[Option<usize>], range: StreamRange) -> StreamRange {
    let mut best = StreamRange::default();
    let mut start = range.start();
    for at in range.as_range() {
        if owner[at].is_some() {
            start = at + 1;
        } else if at + 1 - start > best.len() {
            best = StreamRange::of(start, at + 1);
        }
    }
    best
}

/// The owner of most of `range`.
fn main_owner(owner: &[Option<usize>], range: StreamRange) -> Option<usize> {
    let mut counts: Vec<(usize, usize)> = Vec::new();
    for of_word in owner[range.as_range()].iter().flatten() {
        match counts.iter_mut().find(|(owner, _)| owner == of_word) {
            Some((_, count)) => *count += 1,
            None => counts.push((*of_word, 1)),
        }
    }
    counts
        .into_iter()
        .max_by_key(|(owner, count)| (*count, std::cmp::Reverse(*owner)))
        .map(|(owner, _)| owner)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::text::{MarkedText, Text};

    #[test]
    fn the_alignment_follows_the_stretches() {
        let source =
            "The keeper counted moths at the lamp. The council never read the tables at all.";
        let rewrite =
            "A keeper counted the moths at his lamp. No council ever read these tables at all.";
        let library = Library::of_whole(&[Arc::new(MarkedText::source(Text::paragraph(source)))]);
        let rewrite = Arc::new(MarkedText::new(Text::paragraph(rewrite)));
        let draft = Draft::new(&rewrite, &library, usize::MAX);
        let proposal = |from, to| {
            let stretch = StreamRange::of(from, to);
            Proposal::new(0, stretch, stretch)
        };
        let (mut first, second) = (proposal(0, 7), proposal(8, 15));
        let before = first.aligned(&draft, &library).clone();
        first.absorb(&second);
        let (document, whole) = (&library.documents[0], StreamRange::of(0, 15));
        let anew = Aligned::new(&draft, whole, document, whole);
        assert_ne!(*first.aligned(&draft, &library), before);
        assert_eq!(*first.aligned(&draft, &library), anew);
        first.set_draft(StreamRange::of(0, 7));
        assert_ne!(*first.aligned(&draft, &library), anew);
    }
}
