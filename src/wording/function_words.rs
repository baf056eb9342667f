//! Function words: the closed classes of English.
//!
//! Articles, determiners, pronouns, prepositions, conjunctions, auxiliaries with their contractions, and the
//! particles and adverbs of degree (`very`, `also`, `just`) hold a sentence together; two texts share them whatever
//! they are about. They don't count as kept content, and a shared string of nothing else is no string.
//!
//! Two decisions go beyond the closed classes. A handful of connective adverbs (`however`, `therefore`, `moreover`,
//! `thus`) is in, because learned prose strews them everywhere and a rewrite exchanges them freely. Numerals except
//! `one` are out: a number is matter, and keeping it or changing it tells something.

use std::sync::LazyLock;

static BY_LENGTH: LazyLock<Vec<Vec<&'static str>>> = LazyLock::new(|| {
    let mut table: Vec<Vec<&'static str>> = Vec::new();
    for word in words() {
        if table.len() <= word.len() {
            table.resize_with(word.len() + 1, Vec::new);
        }
        if let Some(row) = table.get_mut(word.len()) {
            row.push(word);
        }
    }
    for row in &mut table {
        row.sort_unstable();
        row.dedup();
    }
    table
});

/// All function words, in the order of the list.
fn words() -> impl Iterator<Item = &'static str> {
    let lines = include_str!("data/function_words.txt")
        .lines()
        .filter(|line| !line.starts_with('#'));
    lines.flat_map(str::split_whitespace)
}

/// Whether a word in normal form is a function word.
///
/// ```
/// use ownwords::wording::is_function_word;
/// assert!(is_function_word("don't") && is_function_word("however"));
/// assert!(!is_function_word("moth"));
/// ```
pub fn is_function_word(normal: &str) -> bool {
    BY_LENGTH
        .get(normal.len())
        .is_some_and(|row| row.binary_search(&normal).is_ok())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wording::normal_form;

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
        }
    }
}
