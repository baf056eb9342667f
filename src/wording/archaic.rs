//! Early modern English: *hath*, *cometh*, *spake*, *unto*.
//!
//! Much that is quoted and reworded was written before 1900. A writer who turns *he cometh unto them* into *he comes to
//! them* has kept the wording, so the old forms share a stem with the new ones. A list holds what follows no rule; two
//! endings follow one:
//!
//! - *-eth* and *-est* of verbs (*walketh*, *sittest*, *crieth*) go where what stands before them is a known word, and
//!   the whole is none;
//! - *-edst* (*lovedst*) likewise.
//!
//! The forms are those of common grammars of English; the list is our own.

use std::borrow::Cow;

use super::lexicon;

/// Function words and what they are today.
const FUNCTION: [(&str, &str); 34] = [
    ("afore", "before"),
    ("betwixt", "between"),
    ("canst", "can"),
    ("couldest", "could"),
    ("couldst", "could"),
    ("didst", "did"),
    ("dost", "do"),
    ("doth", "does"),
    ("ere", "before"),
    ("hadst", "had"),
    ("hast", "have"),
    ("hath", "has"),
    ("hither", "here"),
    ("mayest", "may"),
    ("mayst", "may"),
    ("mightest", "might"),
    ("mightst", "might"),
    ("nay", "no"),
    ("shalt", "shall"),
    ("shouldest", "should"),
    ("shouldst", "should"),
    ("thee", "you"),
    ("thine", "your"),
    ("thither", "there"),
    ("thou", "you"),
    ("thy", "your"),
    ("thyself", "yourself"),
    ("unto", "to"),
    ("wast", "was"),
    ("wert", "were"),
    ("whither", "where"),
    ("wouldest", "would"),
    ("wouldst", "would"),
    ("ye", "you"),
];

/// Content words that follow no rule, and the word they go with. Forms that are another common word today (*brake*,
/// *bare*, *wilt*) are left out.
const CONTENT: [(&str, &str); 10] = [
    ("brethren", "brother"),
    ("builded", "build"),
    ("drave", "drive"),
    ("forgat", "forget"),
    ("gavest", "give"),
    ("holpen", "help"),
    ("saith", "say"),
    ("spake", "speak"),
    ("sware", "swear"),
    ("twain", "two"),
];

/// Names and words of today that only look like old verbs.
const NO_VERBS: [&str; 4] = ["gareth", "kenneth", "lambeth", "retest"];

/// What an old function word is today; the word itself where it is none.
pub(super) fn function_word(word: &str) -> &str {
    match FUNCTION.binary_search_by_key(&word, |(old, _)| old) {
        Ok(at) => FUNCTION[at].1,
        Err(_) => word,
    }
}

/// Letters before an ending that make a verb worth looking up: shorter ones are chance.
const LEAST_LETTERS: usize = 3;

/// The word of today with which an old form goes, if `word` is one. `stem` gives a word's stem.
pub(super) fn content_word<'w>(
    word: &'w str,
    stem: impl Fn(&str) -> String,
) -> Option<Cow<'w, str>> {
    if let Ok(at) = CONTENT.binary_search_by_key(&word, |(old, _)| old) {
        return Some(Cow::Borrowed(CONTENT[at].1));
    }
    let base = ["edst", "eth", "est"]
        .into_iter()
        .find_map(|ending| word.strip_suffix(ending))?;
    let is_known = |word: &str| lexicon::contains(&stem(word));
    if base.len() < LEAST_LETTERS || NO_VERBS.contains(&word) || is_known(word) {
        return None;
    }
    let undoubled = undoubled(base).map(Cow::Borrowed);
    let with_e = Cow::Owned(format!("{base}e"));
    let with_y = base
        .strip_suffix('i')
        .map(|base| Cow::Owned(format!("{base}y")));
    [with_y, Some(Cow::Borrowed(base)), Some(with_e), undoubled]
        .into_iter()
        .flatten()
        .find(|word| is_known(word))
}

/// `sitt` without its second t.
fn undoubled(base: &str) -> Option<&str> {
    let mut letters = base.bytes().rev();
    let (last, before) = (letters.next()?, letters.next()?);
    (last == before && last.is_ascii_lowercase()).then(|| &base[..base.len() - 1])
}

#[cfg(test)]
mod tests {
    use super::super::{is_function_word, stem};
    use super::*;

    #[test]
    fn the_lists_are_in_order() {
        assert!(FUNCTION.is_sorted_by(|a, b| a.0 < b.0));
        assert!(CONTENT.is_sorted_by(|a, b| a.0 < b.0));
        for (old, new) in FUNCTION {
            assert!(
                is_function_word(old) && is_function_word(new),
                "{old} {new}"
            );
        }
    }

    #[test]
    fn old_forms_go_with_those_of_today() {
        for (old, new) in [
            ("cometh", "come"),
            ("walketh", "walking"),
            ("sittest", "sits"),
            ("crieth", "cried"),
            ("loveth", "loves"),
            ("lovedst", "loved"),
            ("knowest", "know"),
            ("believeth", "believed"),
            ("saith", "said"),
            ("spake", "spoken"),
            ("hath", "has"),
            ("unto", "to"),
            ("thy", "your"),
            ("brethren", "brothers"),
        ] {
            assert_eq!(stem(old), stem(new), "{old} {new}");
        }
    }

    #[test]
    fn words_of_today_stay_what_they_are() {
        for (word, other) in [
            ("teeth", "tee"),
            ("forest", "fore"),
            ("harvest", "harv"),
            ("honest", "hone"),
            ("interest", "inter"),
            ("twentieth", "twenty"),
            ("request", "requ"),
            ("wilt", "will"),
            ("brake", "break"),
            ("breath", "bra"),
            ("kenneth", "ken"),
            ("gareth", "gar"),
            ("lambeth", "lamb"),
            ("retest", "ret"),
            ("nazareth", "nazare"),
        ] {
            assert_ne!(stem(word), stem(other), "{word} {other}");
        }
    }
}
