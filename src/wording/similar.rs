//! Words that differ by a slip: of the pen (`recieve`) or of the scanner (`rnoth` for `moth`).
//!
//! A copied passage doesn't become another one by a typing error, nor by a source that was scanned badly. Two words
//! are taken for one when few letters separate them and at most one of the two is a known word; `affect` and
//! `effect` are two words and stay two. The distance is the restricted Damerau-Levenshtein distance (optimal string
//! alignment), where swapping two neighbouring letters counts once; how much is allowed depends on the length:
//! nothing below 5 letters, 1 up to 8, 2 from 9 on (our own choice: short words have too many neighbours).

use super::dictionary::is_word;
use super::normal::is_number;
use super::slip_index::SlipIndex;

/// What scanners mistake for another: what they read, and what it stands for in both words before they are compared.
const SCANNED: [(&str, &str); 5] = [
    ("rn", "m"),
    ("cl", "d"),
    ("vv", "w"),
    ("1", "l"),
    ("0", "o"),
];

/// Whether two different words in normal form are probably the same word, one of them misspelled or misread.
///
/// Symmetric. Two known words are never misspellings of each other, and numbers never of anything.
pub(crate) fn is_misspelling(a: &str, b: &str) -> bool {
    if a == b || is_number(a) || is_number(b) || a.len().abs_diff(b.len()) > 8 {
        return false;
    }
    let (read_a, read_b) = (as_read(a), as_read(b));
    // Misread letters explain the whole difference, whatever the length; the first letter may be among them.
    let misread = read_a == read_b && a.chars().count().min(b.chars().count()) >= 4;
    (misread || is_slip(a, b) || is_slip(&read_a, &read_b)) && !(is_word(a) && is_word(b))
}

/// Words among which misspellings are looked for without comparing each; they have the numbers of their order.
#[derive(Debug)]
pub(crate) struct MisspellingIndex {
    written: SlipIndex,
    read: SlipIndex,
}

impl MisspellingIndex {
    /// The index of words in normal form.
    pub(crate) fn of(words: &[&str]) -> Self {
        let read: Vec<String> = words.iter().map(|word| as_read(word)).collect();
        Self {
            written: SlipIndex::of(words.iter().copied()),
            read: SlipIndex::of(read.iter().map(String::as_str)),
        }
    }

    /// The numbers of all words for which [`is_misspelling`] may hold with a word, in order.
    pub(crate) fn like(&self, word: &str) -> Vec<u32> {
        let mut found = self.written.like(word, usize::MAX);
        found.extend(self.read.like(&as_read(word), usize::MAX));
        found.sort_unstable();
        found.dedup();
        found
    }
}

/// Few enough letters apart for their length, with the same first letter.
fn is_slip(a: &str, b: &str) -> bool {
    let (count_a, count_b) = (a.chars().count(), b.chars().count());
    let allowed = match count_a.min(count_b) {
        0..=4 => return false,
        5..=8 => 1,
        _ => 2,
    };
    a.chars().next() == b.chars().next()
        && count_a.abs_diff(count_b) <= allowed
        && digits(a).eq(digits(b))
        && strsim::osa_distance(a, b) <= allowed
}

/// The figures in a word: names with numbers (`covid-19`, `h5n1`) differ when these do.
fn digits(word: &str) -> impl Iterator<Item = char> {
    word.chars().filter(|c| c.is_numeric())
}

/// The word with each often misread group of letters replaced by what it stands for.
fn as_read(word: &str) -> String {
    let letters = word.chars().any(char::is_alphabetic);
    let mut out = word.to_owned();
    for (read, meant) in SCANNED {
        // Figures are misread letters only inside a word.
        if out.contains(read) && letters {
            out = out.replace(read, meant);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_are_reported_from_words() {
        assert!(is_misspelling("pollinater", "pollinator"));
        assert!(is_misspelling("rnoths", "moths"));
        assert!(!is_misspelling("affect", "effect"));
    }

    /// The string distances we build on, against published worked examples: Winkler (1990), as they stand
    /// in the tests of several libraries, to three decimals.
    #[test]
    fn the_library_of_distances_agrees_with_published_examples() {
        for (one, other, expected) in [
            ("MARTHA", "MARHTA", 0.961),
            ("DIXON", "DICKSONX", 0.813),
            ("DWAYNE", "DUANE", 0.84),
        ] {
            let found = strsim::jaro_winkler(one, other);
            assert!((found - expected).abs() < 0.0006, "{one} {other}: {found}");
        }
        assert_eq!(strsim::osa_distance("CA", "ABC"), 3);
        assert_eq!(strsim::damerau_levenshtein("CA", "ABC"), 2);
    }
    use proptest::prelude::*;

    #[test]
    fn slips_are_found_and_words_kept_apart() {
        let slips = [
            ("recieve", "receive"),
            ("pollinater", "pollinator"),
            ("enviroment", "environment"),
            ("arguement", "argument"),
            ("illuminatoin", "illumination"),
            ("nocturnel", "nocturnal"),
            ("lihgt", "light"),
            ("rnoths", "moths"),
            ("rnoth", "moth"),
            ("modem1ty", "modernity"),
            ("clirect", "direct"),
            ("l1ght", "light"),
            ("m0th", "moth"),
        ];
        for (wrong, right) in slips {
            assert!(is_misspelling(wrong, right), "{wrong} {right}");
            assert!(is_misspelling(right, wrong), "{right} {wrong}");
        }
        let others = [
            ("affect", "effect"),
            ("light", "night"),
            ("lights", "light"),
            ("adapt", "adopt"),
            ("casual", "causal"),
            ("modern", "modem"),
            ("1990", "1991"),
            ("10000", "10001"),
            ("1000", "l000"),
            ("covid-19", "covid-18"),
            ("mot", "moth"),
            ("teh", "the"),
            ("light", "light"),
            ("international", "intentional"),
            ("immigration", "emigration"),
            ("", "a"),
            ("", ""),
        ];
        for (a, b) in others {
            assert!(!is_misspelling(a, b), "{a} {b}");
        }
    }

    proptest! {
        #[test]
        fn the_order_makes_no_difference(a in "\\PC{0,12}", b in "\\PC{0,12}") {
            prop_assert_eq!(is_misspelling(&a, &b), is_misspelling(&b, &a));
        }

        #[test]
        fn one_swapped_pair_of_letters_is_found(word in "[bdfgjkmpqtwxz]{6,10}", at in 1usize..5) {
            let mut letters: Vec<char> = word.chars().collect();
            letters.swap(at, at + 1);
            let swapped: String = letters.into_iter().collect();
            prop_assume!(swapped != word && !(is_word(&word) && is_word(&swapped)));
            prop_assert!(is_misspelling(&word, &swapped));
        }

        #[test]
        fn numbers_never_match(a in "[0-9]{1,9}", b in "[0-9lo]{1,9}") {
            prop_assert!(!is_misspelling(&a, &b));
        }
    }
}
