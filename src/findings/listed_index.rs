//! Which lines of a reference list, or headings, may name a cited work, without reading all of them for each citation.
//!
//! A line that names an author holds the words of the name at its start, all of them or all but one with a slip in it. So
//! lines are kept by the words at their starts, and these by what a slip leaves of them. What is found is to be looked at.

use std::collections::BTreeSet;

use rustc_hash::FxHashMap;

use crate::review::{Key, Resolved};
use crate::text::CiteTarget;
use crate::wording::SlipIndex;

use super::laid::LaidDraft;
use super::lists::{AUTHOR_WITHIN, Listed, normal_words};
use super::near::Work;

/// The lines by the words at their starts; lines have the numbers of their order.
#[derive(Debug, Default)]
pub(super) struct LineIndex {
    /// The lines of each of the words, in order.
    with_word: Vec<Vec<usize>>,
    /// The numbers of the words.
    words: FxHashMap<String, usize>,
    slips: SlipIndex,
}

impl LineIndex {
    /// The index of lines, given as the words at their starts.
    pub(super) fn of<'l>(starts: impl IntoIterator<Item = &'l [String]>) -> Self {
        let mut index = Self::default();
        let mut distinct = Vec::new();
        for (line, start) in starts.into_iter().enumerate() {
            for word in start {
                let number = *index.words.entry(word.clone()).or_insert_with(|| {
                    distinct.push(word.as_str());
                    index.with_word.push(Vec::new());
                    distinct.len() - 1
                });
                let lines = &mut index.with_word[number];
                if lines.last() != Some(&line) {
                    lines.push(line);
                }
            }
        }
        index.slips = SlipIndex::of(distinct);
        index
    }

    /// The lines at whose start a word stands.
    pub(super) fn with(&self, word: &str) -> &[usize] {
        let number = self.words.get(word);
        let lines = number.and_then(|number| self.with_word.get(*number));
        lines.map_or(&[], Vec::as_slice)
    }

    /// The lines, in order, at whose start all words of a name may stand, one of them with a slip in it.
    pub(super) fn naming(&self, name: &[String]) -> Vec<usize> {
        let exact = name.iter().map(|word| self.with(word));
        let mut found = match name {
            [] => Vec::new(),
            [only] => {
                let near = self.slips.like(only, usize::MAX).into_iter();
                let lines = near.filter_map(|number| self.with_word.get(number as usize));
                lines.flatten().copied().collect()
            }
            // All but one of the words are there, so of any two at least one.
            [_, _, ..] => {
                let mut lists: Vec<&[usize]> = exact.collect();
                lists.sort_by_key(|lines| lines.len());
                lists.iter().take(2).copied().flatten().copied().collect()
            }
        };
        found.sort_unstable();
        found.dedup();
        found
    }
}

/// The lines of a list, looked up by what citations say.
pub(super) struct Lines<'l> {
    /// The lines in order.
    pub(super) listed: &'l [Listed],
    starts: LineIndex,
    keys: BTreeSet<&'l Key>,
    numbers: BTreeSet<u32>,
}

impl<'l> Lines<'l> {
    /// The lines of a list.
    pub(super) fn of(listed: &'l [Listed]) -> Self {
        Self {
            listed,
            starts: LineIndex::of(listed.iter().map(Listed::start)),
            keys: listed.iter().filter_map(|line| line.key.as_ref()).collect(),
            numbers: listed.iter().map(|line| line.number).collect(),
        }
    }

    /// The numbers of the lines that answer a cite by author, in order.
    pub(super) fn answering<'c>(
        &'c self,
        target: &'c CiteTarget,
    ) -> impl Iterator<Item = usize> + 'c {
        let names = match target {
            CiteTarget::Author { names, .. } | CiteTarget::Work { names, .. } => names.as_slice(),
            _ => &[],
        };
        let first = names.first().map(|name| normal_words(name));
        let rarest = first.iter().flatten().map(|word| self.starts.with(word));
        let candidates = rarest.min_by_key(|lines| lines.len()).unwrap_or_default();
        let answers = |line: &usize| {
            self.listed
                .get(*line)
                .is_some_and(|line| line.answers(target))
        };
        candidates.iter().copied().filter(answers)
    }

    /// Whether a cite is in no line.
    pub(super) fn lack(&self, target: &CiteTarget, resolved: &Resolved) -> bool {
        let keys = resolved.keys();
        if self.listed.is_empty() {
            return keys.is_empty();
        }
        let by_key = keys.iter().any(|key| self.keys.contains(key));
        let by_number =
            matches!(target, CiteTarget::Number(number) if self.numbers.contains(number));
        !by_number && !by_key && self.answering(target).next().is_none()
    }

    /// The lines that may be a slip away from a work, in order.
    pub(super) fn near(&self, work: &Work) -> impl Iterator<Item = (usize, &'l Listed)> {
        let near = self.starts.naming(work.name()).into_iter();
        near.filter_map(|number| Some((number, self.listed.get(number)?)))
    }
}

/// The headings of entries that lead to no reference, with their words.
pub(super) struct Headings<'l> {
    /// The headings as written, and their words.
    pub(super) written: Vec<(&'l str, Vec<String>)>,
    /// The headings by the words at their starts.
    pub(super) starts: LineIndex,
}

impl<'l> Headings<'l> {
    /// Those of the review.
    pub(super) fn of(laid: &'l LaidDraft) -> Self {
        let entries = laid.session.review.entries.iter();
        let unresolved = entries.filter(|entry| entry.key.is_none());
        let written: Vec<(&str, Vec<String>)> = unresolved
            .map(|entry| (entry.heading.trim(), normal_words(&entry.heading)))
            .collect();
        let start = |words: &'_ Vec<String>| words.len().min(AUTHOR_WITHIN);
        let starts = written.iter().map(|(_, words)| &words[..start(words)]);
        Self {
            starts: LineIndex::of(starts),
            written,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_found_by_the_words_of_a_name_and_by_a_slip_in_one() {
        let words = |text: &str| text.split(' ').map(str::to_owned).collect::<Vec<_>>();
        let lines = [
            "harrow a 2019 moths",
            "friends of the evening garden 2021",
            "okoro b 2014",
            "harow c 2018",
        ];
        let lines: Vec<Vec<String>> = lines.iter().map(|line| words(line)).collect();
        let index = LineIndex::of(lines.iter().map(Vec::as_slice));
        assert_eq!(index.with("harrow"), [0]);
        assert_eq!(index.naming(&words("harrow")), [0, 3]);
        assert_eq!(index.naming(&words("freinds of the evening garden")), [1]);
        assert_eq!(index.naming(&words("friends of the evening gardem")), [1]);
        assert!(index.naming(&words("lindqvist")).is_empty());
    }
}
