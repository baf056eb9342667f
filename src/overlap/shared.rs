//! What drafts and the library have in common, before it is weighed: shared strings and candidates. Every
//! document is streamed past the drafts once, however many there are.

use std::ops::Range;

use rayon::prelude::*;

use super::candidates::{Candidate, MOST_CANDIDATES, SentenceIndex, keep_best};
use super::lexicon::FormId;
use super::library::{Draft, Library};
use super::positions::StreamRange;
use super::strings::{Run, StringIndex};

/// The shared strings of a draft: a list for each document of the library, in order of the draft.
pub type SharedStrings = Vec<Vec<Run>>;

impl Library {
    /// All strings of `seed` words and more that each draft shares with some of the documents. The lists of the other
    /// documents are empty.
    #[must_use]
    pub fn shared_strings(
        &self,
        drafts: &[&Draft],
        seed: usize,
        among: &Range<usize>,
    ) -> Vec<SharedStrings> {
        let joined = Joined::new(drafts);
        let strings = StringIndex::new(&joined.forms, seed);
        let found: Vec<Vec<Run>> = self
            .documents
            .par_iter()
            .enumerate()
            .map(|(number, document)| {
                if among.contains(&number) {
                    strings.shared_runs(&document.stream.forms)
                } else {
                    Vec::new()
                }
            })
            .collect();
        if drafts.len() == 1 {
            return vec![found];
        }
        let none = vec![Vec::new(); self.documents.len()];
        let mut of_drafts: Vec<SharedStrings> = vec![none; drafts.len()];
        for (document, runs) in found.into_iter().enumerate() {
            for run in runs {
                for (draft, part) in joined.parts(&run, seed) {
                    let lists = of_drafts.get_mut(draft);
                    if let Some(list) = lists.and_then(|lists| lists.get_mut(document)) {
                        list.push(part);
                    }
                }
            }
        }
        of_drafts
    }

    /// The best candidates among some documents for each sentence of a draft, best first.
    #[must_use]
    pub fn candidates(&self, draft: &Draft, among: &Range<usize>) -> Vec<Vec<Candidate>> {
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
    fn parts(&self, run: &Run, seed: usize) -> impl Iterator<Item = (usize, Run)> {
        let first = self.starts.partition_point(|at| *at <= run.draft.start());
        let drafts = self.starts.windows(2).enumerate();
        let (draft_start, source_start) = (run.draft.start(), run.source.start());
        drafts
            .skip(first.saturating_sub(1))
            .map(|(draft, ends)| (draft, StreamRange::of(ends[0], ends[1])))
            .take_while(|(_, whole)| whole.start() < run.draft.end())
            .map(|(draft, whole)| (draft, whole.start(), whole.intersection(run.draft)))
            .filter(move |(_, _, inside)| inside.len() >= seed.max(1))
            .map(move |(draft, start, inside)| {
                let source = source_start + (inside.start() - draft_start);
                let run = Run {
                    draft: StreamRange::of(inside.start() - start, inside.end() - start),
                    source: StreamRange::of(source, source + inside.len()),
                };
                (draft, run)
            })
            .collect::<Vec<_>>()
            .into_iter()
    }
}
