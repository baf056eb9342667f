//! What drafts and the library have in common, before it is weighed: shared strings and candidates. Every
//! document is streamed past the drafts once, however many there are.

use std::ops::Range;

use rayon::prelude::*;

use super::candidates::{Candidate, MOST_CANDIDATES, SentenceIndex, keep_best};
use super::lexicon::FormId;
use super::library::{Draft, Library};
use super::positions::StreamRange;
use super::strings::{Run, StringIndex};

/// The strings that a draft shares with documents: a list for each document that has any, in order of the documents; each
/// list in order of the draft.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct SharedStrings {
    lists: Vec<(usize, Vec<Run>)>,
}

impl SharedStrings {
    /// Those shared with a document.
    #[must_use]
    pub(crate) fn with(&self, document: usize) -> &[Run] {
        let found = self.lists.binary_search_by_key(&document, |(of, _)| *of);
        let list = found.ok().and_then(|at| self.lists.get(at));
        list.map_or(&[], |(_, runs)| runs)
    }

    /// All of them with their documents, in order of the documents.
    pub(crate) fn iter(&self) -> impl Iterator<Item = (usize, &[Run])> {
        let lists = self.lists.iter();
        lists.map(|(document, runs)| (*document, runs.as_slice()))
    }
}

impl Library {
    /// All strings of `seed` words and more that each draft shares with some of the documents.
    #[must_use]
    pub(crate) fn shared_strings(
        &self,
        drafts: &[&Draft],
        seed: usize,
        among: &Range<usize>,
    ) -> Vec<SharedStrings> {
        let joined = Joined::new(drafts);
        let strings = StringIndex::new(&joined.forms, seed);
        let documents = self.documents.get(among.clone()).unwrap_or_default();
        let found: Vec<Vec<Run>> = documents
            .par_iter()
            .map(|document| strings.shared_runs(&document.stream.forms))
            .collect();
        let mut of_drafts = vec![SharedStrings::default(); drafts.len()];
        for (document, runs) in (among.start..).zip(found) {
            for run in runs {
                for (draft, part) in joined.parts(run, seed) {
                    let Some(shared) = of_drafts.get_mut(draft) else {
                        continue;
                    };
                    match shared.lists.last_mut() {
                        Some((of, list)) if *of == document => list.push(part),
                        _ => shared.lists.push((document, vec![part])),
                    }
                }
            }
        }
        // A string that was cut where its draft begins may stand behind shorter ones from there.
        for (_, runs) in of_drafts.iter_mut().flat_map(|shared| &mut shared.lists) {
            runs.sort_unstable();
        }
        of_drafts
    }

    /// The best candidates among some documents for each sentence of a draft, best first.
    #[must_use]
    pub(crate) fn candidates(&self, draft: &Draft, among: &Range<usize>) -> Vec<Vec<Candidate>> {
        let index = SentenceIndex::of_draft(draft.profiles());
        let documents = self.documents.get(among.clone()).unwrap_or_default();
        let found: Vec<_> = documents
            .par_iter()
            .enumerate()
            .map(|(at, document)| {
                index.candidates(among.start + at, &document.stream, &self.lexicon)
            })
            .collect();
        let mut best = vec![Vec::new(); draft.profiles().len()];
        for (sentence, of_document) in found.into_iter().flatten() {
            for candidate in of_document {
                keep_best(&mut best[sentence], candidate, MOST_CANDIDATES);
            }
        }
        best
    }
}

/// The words of several drafts one after another. Words that only drafts have may share a number across two
/// drafts. No document has such a word, so this makes no difference.
struct Joined {
    forms: Vec<FormId>,
    /// Where each draft begins, and where the last one ends.
    starts: Vec<usize>,
}

impl Joined {
    fn new(drafts: &[&Draft]) -> Self {
        let mut forms = Vec::with_capacity(drafts.iter().map(|draft| draft.stream.len()).sum());
        let mut starts = vec![0];
        for draft in drafts {
            forms.extend_from_slice(&draft.stream.forms);
            starts.push(forms.len());
        }
        Self { forms, starts }
    }

    /// A run as it stands in each of the drafts that hold at least `seed` words of it.
    fn parts(&self, run: Run, seed: usize) -> impl Iterator<Item = (usize, Run)> {
        let first = self.starts.partition_point(|at| *at <= run.draft.start());
        let drafts = self.starts.windows(2).enumerate();
        drafts
            .skip(first.saturating_sub(1))
            .map(|(draft, ends)| (draft, StreamRange::of(ends[0], ends[1])))
            .take_while(move |(_, whole)| whole.start() < run.draft.end())
            .map(move |(draft, whole)| (draft, whole.start(), whole.intersection(run.draft)))
            .filter(move |(_, _, inside)| inside.len() >= seed.max(1))
            .map(move |(draft, start, inside)| {
                let source = run.source.start() + (inside.start() - run.draft.start());
                let part = Run {
                    draft: StreamRange::of(inside.start() - start, inside.end() - start),
                    source: StreamRange::of(source, source + inside.len()),
                };
                (draft, part)
            })
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use proptest::prelude::*;

    use super::*;
    use crate::text::{MarkedText, Text};

    fn text(words: &[u8]) -> Arc<MarkedText> {
        let words: Vec<String> = words.iter().map(|word| format!("word{word}")).collect();
        Arc::new(MarkedText::source(Text::paragraph(&words.join(" "))))
    }

    proptest! {
        /// Few different words, so that strings run on over the end of a draft.
        #[test]
        fn several_drafts_share_what_each_shares_by_itself(
            sources in proptest::collection::vec(proptest::collection::vec(0_u8..3, 0..30), 0..4),
            drafts in proptest::collection::vec(proptest::collection::vec(0_u8..4, 0..12), 0..5),
            seed in 2_usize..5,
            first in 0_usize..3,
        ) {
            let sources: Vec<_> = sources.iter().map(|words| text(words)).collect();
            let library = Library::of_whole(&sources);
            let drafts: Vec<Draft> = drafts
                .iter()
                .map(|words| Draft::new(&text(words), &library, usize::MAX))
                .collect();
            let among = first.min(sources.len())..sources.len();
            let all: Vec<&Draft> = drafts.iter().collect();
            let together = library.shared_strings(&all, seed, &among);
            prop_assert_eq!(together.len(), drafts.len());
            for (draft, shared) in drafts.iter().zip(together) {
                let alone = library.shared_strings(&[draft], seed, &among);
                prop_assert_eq!(&shared, &alone[0]);
            }
        }
    }
}
