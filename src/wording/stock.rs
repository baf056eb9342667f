//! Stock phrases: runs of words that belong to no author.
//!
//! `On the other hand`, `the results of this study suggest that`, `at the five per cent level of significance`: every
//! writer of learned English uses them, and sharing one with a source says nothing. The list is our own
//! (`data/stock_phrases.txt`); a review adds its own `terms` (names of instruments, laws, fixed expressions).
//!
//! The words of a text are joined with single blanks, with one at either end, and so are the phrases; then one
//! Aho-Corasick automaton finds every phrase at whole words, in one pass. Two neighbouring phrases share the blank
//! between them, which is why all overlapping occurrences are asked for. `#` in the list stands for any number.

use std::ops::Range;
use std::sync::LazyLock;

use aho_corasick::{AhoCorasick, AhoCorasickKind, MatchKind};

use super::normal::{is_number, normal_form};

static STOCK: LazyLock<Option<AhoCorasick>> = LazyLock::new(|| automaton(phrases().map(framed)));

/// The phrases of the list.
fn phrases() -> impl Iterator<Item = &'static str> {
    let lines = include_str!("data/stock_phrases.txt")
        .lines()
        .map(str::trim);
    // A line that starts with "#" is a remark, so no phrase can start with a number.
    lines.filter(|line| !line.is_empty() && !line.starts_with('#'))
}

/// A phrase as it is looked for: words apart by single blanks, hyphens separating words as they do in texts.
fn framed(phrase: &str) -> String {
    format!(" {} ", phrase.replace(DASHES, " "))
}

/// Hyphens and dashes that stand between words.
const DASHES: [char; 6] = ['-', '\u{2010}', '\u{2011}', '\u{2012}', '–', '—'];

fn automaton(patterns: impl Iterator<Item = String>) -> Option<AhoCorasick> {
    // Building fails only beyond the automaton's number of states, some gigabytes of phrases; then none is found.
    // This kind is built in two thirds of the time of the default one and, on these patterns, searches as fast.
    AhoCorasick::builder()
        .kind(Some(AhoCorasickKind::NoncontiguousNFA))
        .match_kind(MatchKind::Standard)
        .build(patterns)
        .ok()
}

/// Finds stock phrases, or a review's own terms, in a sequence of words.
#[derive(Debug, Clone)]
pub(crate) struct StockPhrases {
    /// `None` for the phrases of the list.
    terms: Option<Option<AhoCorasick>>,
}

impl StockPhrases {
    /// The stock phrases of learned English.
    pub(crate) fn stock() -> Self {
        Self { terms: None }
    }

    /// These terms instead. A term is split at blanks and hyphens, its words are brought to normal form and freed
    /// of punctuation at their ends; numbers in terms are taken literally. Empty terms are left out.
    pub(crate) fn terms<'a>(terms: impl IntoIterator<Item = &'a str>) -> Self {
        let patterns: Vec<_> = terms.into_iter().filter_map(term_pattern).collect();
        let terms = if patterns.is_empty() {
            None
        } else {
            automaton(patterns.into_iter())
        };
        Self { terms: Some(terms) }
    }

    /// Which words (given in normal form) stand in a stock phrase or a term: ranges of word indices, ascending and
    /// disjoint. Phrases that overlap give one range; phrases that only touch give two.
    pub(crate) fn covered<W: AsRef<str>>(&self, words: &[W]) -> Vec<Range<usize>> {
        let mut found = Vec::new();
        let (phrases, numbers_as_sign) = match &self.terms {
            None => (STOCK.as_ref(), true),
            Some(terms) => (terms.as_ref(), false),
        };
        if let Some(phrases) = phrases {
            Joined::new(words, numbers_as_sign).search(phrases, &mut found);
        }
        merged(found)
    }
}

fn term_pattern(term: &str) -> Option<String> {
    let words = term
        .split(|c: char| c.is_whitespace() || DASHES.contains(&c))
        .map(|word| word.trim_matches(|c: char| !c.is_alphanumeric()));
    let words: Vec<_> = words
        .map(normal_form)
        .filter(|word| !word.is_empty())
        .collect();
    if words.is_empty() {
        None
    } else {
        Some(framed(&words.join(" ")))
    }
}

/// Words joined with single blanks, one at either end.
struct Joined {
    text: String,
    /// Where the blank before each word stands, and the last one.
    blanks: Vec<usize>,
}

impl Joined {
    fn new<W: AsRef<str>>(words: &[W], numbers_as_sign: bool) -> Self {
        let mut text = String::with_capacity(words.len() * 7 + 1);
        let mut blanks = Vec::with_capacity(words.len() + 1);
        for word in words {
            let word = word.as_ref();
            blanks.push(text.len());
            text.push(' ');
            if numbers_as_sign && is_number(word) {
                text.push('#');
            } else {
                // A blank inside a word must not pass for one between words.
                text.extend(word.chars().map(|c| if c == ' ' { '\u{A0}' } else { c }));
            }
        }
        blanks.push(text.len());
        text.push(' ');
        Self { text, blanks }
    }

    fn search(&self, phrases: &AhoCorasick, found: &mut Vec<Range<usize>>) {
        // The only error is a match kind that knows no overlapping search; `automaton` sets the one that does.
        for hit in phrases
            .try_find_overlapping_iter(self.text.as_str())
            .into_iter()
            .flatten()
        {
            let first = self.blanks.binary_search(&hit.start());
            let end = self.blanks.binary_search(&(hit.end() - 1));
            if let (Ok(first), Ok(end)) = (first, end) {
                found.push(first..end);
            }
        }
    }
}

fn merged(mut ranges: Vec<Range<usize>>) -> Vec<Range<usize>> {
    ranges.sort_unstable_by_key(|range| (range.start, range.end));
    let mut out: Vec<Range<usize>> = Vec::new();
    for range in ranges {
        match out.last_mut() {
            Some(last) if range.start < last.end => last.end = last.end.max(range.end),
            _ => out.push(range),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_phrase_is_found_in_its_place() {
        let words = ["moths", "on", "the", "other", "hand", "fly"];
        let covered = StockPhrases::stock().covered(&words);
        assert_eq!((covered.len(), covered[0].clone()), (1, 1..5));
    }

    fn covered(stock: &StockPhrases, words: &[&str]) -> Vec<(usize, usize)> {
        stock
            .covered(words)
            .into_iter()
            .map(|range| (range.start, range.end))
            .collect()
    }

    #[track_caller]
    fn assert_covered(stock: &StockPhrases, text: &str, expected: &[(usize, usize)]) {
        let words: Vec<_> = text.split(' ').collect();
        assert_eq!(covered(stock, &words), expected, "{text}");
    }

    #[test]
    fn finds_phrases_at_whole_words() {
        let stock = StockPhrases::stock();
        let cases: [(&str, &[(usize, usize)]); 11] = [
            ("on the other hand moths fly", &[(0, 4)]),
            ("moths fly on the other hand", &[(2, 6)]),
            ("moths on the other handle fly", &[]),
            ("moon the other hand", &[]),
            (
                "on the other hand it is important to note that moths fly",
                &[(0, 4), (4, 10)],
            ),
            (
                "the results of this study suggest that moths fly",
                &[(0, 7)],
            ),
            ("as shown in table 3 moths fly", &[(0, 5)]),
            ("at the 5 per cent level of significance", &[(0, 8)]),
            ("at the five per cent level of significance", &[(0, 8)]),
            ("moths fly to lamps", &[]),
            ("", &[]),
        ];
        for (text, expected) in cases {
            assert_covered(&stock, text, expected);
        }
        assert!(stock.covered::<&str>(&[]).is_empty());
    }

    #[test]
    fn finds_the_terms_of_a_review() {
        let stock = StockPhrases::terms([
            "Part–night Lighting,",
            "Clean Air Act 1990",
            "",
            " … ",
            "Moths'",
        ]);
        let cases: [(&str, &[(usize, usize)]); 5] = [
            ("the part night lighting scheme", &[(1, 4)]),
            ("the clean air act 1990 says", &[(1, 5)]),
            ("the clean air act 1991 says", &[]),
            ("moths on the other hand", &[(0, 1)]),
            ("mammoths", &[]),
        ];
        for (text, expected) in cases {
            assert_covered(&stock, text, expected);
        }
    }

    #[test]
    fn the_list_is_long_and_in_normal_form() {
        let all: Vec<_> = phrases().collect();
        assert!(all.len() >= 450, "{}", all.len());
        for phrase in &all {
            assert!(
                phrase
                    .split(' ')
                    .all(|word| word == "#" || normal_form(word) == word),
                "{phrase}"
            );
            assert!(phrase.split(' ').count() >= 2, "{phrase}");
        }
        let mut unique = all.clone();
        unique.sort_unstable();
        unique.dedup();
        assert_eq!(unique.len(), all.len());
    }

    #[test]
    fn every_phrase_of_the_list_is_found() {
        for phrase in phrases() {
            let text = format!("moths {} moths", phrase.replace('#', "12.5"));
            let words: Vec<_> = text.split([' ', '-']).collect();
            assert_eq!(
                covered(&StockPhrases::stock(), &words),
                [(1, words.len() - 1)],
                "{phrase}"
            );
        }
    }

    proptest! {
        #[test]
        fn ranges_are_in_order_and_inside(words in proptest::collection::vec("[a-z ]{0,3}|on|the|other|hand|3", 0..40)) {
            let found = StockPhrases::terms(["the other", "a"]).covered(&words);
            for range in &found {
                prop_assert!(range.start < range.end && range.end <= words.len());
            }
            for pair in found.windows(2) {
                prop_assert!(pair[0].end <= pair[1].start);
            }
        }
    }
}
