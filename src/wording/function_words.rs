//! Function words: the closed classes of English.
//!
//! Articles, determiners, pronouns, prepositions, conjunctions, auxiliaries with their contractions, and the
//! particles and adverbs of degree (`very`, `also`, `just`) hold a sentence together; two texts share them whatever
//! they are about. They don't count as kept content, and a shared string of nothing else is no string.
//!
//! Two decisions go beyond the closed classes. A handful of connective adverbs (`however`, `therefore`, `moreover`,
//! `thus`) is in, because learned prose strews them everywhere and a rewrite exchanges them freely. Numerals except
//! `one` are out: a number is matter, and whether it is kept or changed matters.

use std::sync::LazyLock;

/// The words by length and first letter: no cell holds more than a dozen, most words meet an empty one.
static CELLS: LazyLock<Vec<Vec<&'static str>>> = LazyLock::new(|| {
    let mut cells: Vec<Vec<&'static str>> = vec![Vec::new(); LENGTHS * LETTERS];
    for word in words() {
        if let Some(cell) = cell(word).and_then(|cell| cells.get_mut(cell)) {
            cell.push(word);
        }
    }
    cells
});

const LENGTHS: usize = 16;
const LETTERS: usize = 26;

/// The number of a word's cell; `None` for words that begin with no letter or are longer than any function word.
fn cell(word: &str) -> Option<usize> {
    let letter = word.bytes().next()?.wrapping_sub(b'a');
    let fits = usize::from(letter) < LETTERS && word.len() < LENGTHS;
    fits.then(|| word.len() * LETTERS + usize::from(letter))
}

/// All function words, in the order of the list.
fn words() -> impl Iterator<Item = &'static str> {
    let lines = include_str!("data/function_words.txt")
        .lines()
        .filter(|line| !line.starts_with('#'));
    lines.flat_map(str::split_whitespace)
}

/// Whether a word in normal form is a function word.
pub(crate) fn is_function_word(normal: &str) -> bool {
    cell(normal)
        .and_then(|cell| CELLS.get(cell))
        .is_some_and(|words| words.contains(&normal))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wording::normal_form;

    #[test]
    fn small_words_are_known() {
        assert!(is_function_word("don't") && is_function_word("however"));
        assert!(!is_function_word("moth"));
    }

    #[test]
    fn tells_function_words_from_content_words() {
        let function = [
            "the",
            "a",
            "an",
            "of",
            "in",
            "and",
            "or",
            "but",
            "it",
            "its",
            "themselves",
            "which",
            "whose",
            "would",
            "don't",
            "it's",
            "they've",
            "won't",
            "cannot",
            "very",
            "also",
            "however",
            "therefore",
            "not",
            "one",
            "several",
            "although",
            "whereas",
            "been",
            "having",
            "upon",
            "between",
        ];
        for word in function {
            assert!(is_function_word(word), "{word}");
        }
        let content = [
            "moth",
            "light",
            "two",
            "first",
            "important",
            "study",
            "quickly",
            "use",
            "make",
            "year",
            "lamp",
            "",
            "theory",
            "following",
            "subsequently",
            "é",
            "1990",
        ];
        for word in content {
            assert!(!is_function_word(word), "{word}");
        }
    }

    #[test]
    fn the_list_is_in_normal_form() {
        for word in words() {
            assert_eq!(normal_form(word), word);
            assert!(is_function_word(word), "{word}");
        }
    }
}
