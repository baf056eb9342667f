//! Whether a string is an English word.
//!
//! Used where a text leaves a choice: a line that ends in `light-` and goes on with `ing` is one word if the
//! dictionary knows it. The answer goes through the stem, so that all inflected forms are known; the price is that a
//! bare stem that is no word (`univers`) passes too.

use super::function_words::is_function_word;
use super::lexicon;
use super::stems::stem;

/// Whether a word in normal form is a known word, an inflected form of one, or a function word.
///
/// WordNet's single words are known, names of places and people among them; numbers are not words.
pub(crate) fn is_word(normal: &str) -> bool {
    is_function_word(normal) || lexicon::contains(&stem(normal)) || is_function_word(&stem(normal))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn knows_words_and_their_forms() {
        let words = [
            "lighting",
            "light",
            "moths",
            "behaviour",
            "organised",
            "wrote",
            "children",
            "nocturnal",
            "the",
            "don't",
            "well-being",
            "london",
            "pollinators",
            "illumination",
            "municipalities",
            "larger",
        ];
        for word in words {
            assert!(is_word(word), "{word}");
        }
        let others = [
            "",
            "lightin",
            "qwxyz",
            "1990",
            "3.5",
            "recieve",
            "naïvx",
            "tghe",
            "illuminatoin",
            "-",
            "'s",
        ];
        for word in others {
            assert!(!is_word(word), "{word}");
        }
    }
}
