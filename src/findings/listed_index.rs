//! Which lines of a reference list, or headings, may name a cited work, without reading all of them for each citation.
//!
//! A line that names an author holds the words of the name at its start, all of them or all but one with a slip in it. So
//! lines are kept by the words at their starts, and these by what a slip leaves of them. What is found is to be looked at.

use rustc_hash::FxHashMap;

use crate::wording::SlipIndex;

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
