//! Which sources share strings with a quotation: those in which its words may stand although another work
//! is cited.

use std::collections::BTreeMap;

use crate::findings::laid::LaidDraft;
use crate::overlap::StreamRange;
use crate::overlap::strings::Run;

/// The strings that a text shares with the sources.
#[derive(Debug, Default)]
pub(crate) struct Sharing {
    /// Each with its document, in order of their start in the text.
    runs: Vec<(Run, usize)>,
    /// Words of the longest of them, so that those which reach into a stretch are found near it.
    longest: usize,
}

impl Sharing {
    /// The given strings, each with its document.
    pub(crate) fn new(mut runs: Vec<(Run, usize)>) -> Self {
        runs.sort_unstable();
        let lengths = runs.iter().map(|(run, _)| run.draft.len());
        Self {
            longest: lengths.max().unwrap_or_default(),
            runs,
        }
    }

    /// The strings that a draft shares with sources.
    pub(crate) fn with_sources(laid: &LaidDraft) -> Self {
        let sources = laid.session.sources().end;
        let of_sources = laid
            .strings
            .iter()
            .take_while(|(document, _)| *document < sources);
        Self::new(
            of_sources
                .flat_map(|(document, runs)| runs.iter().map(move |run| (*run, document)))
                .collect(),
        )
    }

    /// The documents that share strings with a stretch, those with the longest first.
    pub(crate) fn with(&self, words: StreamRange) -> Vec<usize> {
        let earliest = words.start().saturating_sub(self.longest);
        let from = self
            .runs
            .partition_point(|(run, _)| run.draft.start() < earliest);
        let near = self.runs.get(from..).unwrap_or_default().iter();
        let mut longest: BTreeMap<usize, usize> = BTreeMap::new();
        for (run, document) in near.take_while(|(run, _)| run.draft.start() < words.end()) {
            let shared = run.draft.intersection(words).len();
            if shared > 0 {
                let most = longest.entry(*document).or_default();
                *most = shared.max(*most);
            }
        }
        let mut documents: Vec<(usize, usize)> = longest.into_iter().collect();
        documents.sort_by_key(|(document, shared)| (std::cmp::Reverse(*shared), *document));
        documents
            .into_iter()
            .map(|(document, _)| document)
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn documents_with_the_longest_string_come_first() {
        let run = |from, to| Run {
            draft: StreamRange::of(from, to),
            source: StreamRange::of(0, to - from),
        };
        let sharing = Sharing::new(vec![
            (run(0, 30), 3),
            (run(10, 15), 0),
            (run(12, 20), 1),
            (run(20, 25), 2),
        ]);
        assert_eq!(sharing.with(StreamRange::of(10, 20)), [3, 1, 0]);
        assert_eq!(sharing.with(StreamRange::of(24, 40)), [3, 2]);
        assert!(sharing.with(StreamRange::of(30, 40)).is_empty());
        assert!(Sharing::default().with(StreamRange::of(0, 9)).is_empty());
    }
}
