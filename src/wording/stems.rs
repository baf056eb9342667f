//! Stems: one name for all the inflected forms of a word.
//!
//! The way of a word in normal form:
//!
//! 1. function words stay as they are: `this` and `was` mark how a sentence is built; old ones become today's
//!    (`archaic`);
//! 2. a possessive `'s` goes;
//! 3. words with letters beyond a-z, and strings without any letter, stay as they are;
//! 4. British [`spelling`](super::spelling) becomes American;
//! 5. irregular forms give way to their base word (`wrote`, `children`, `larger`), from WordNet's exception lists
//!    less the forms that are a common other word (`ground`, `saw`), and a few of our own (`analysis` goes with
//!    `analyze`, which no suffix rule would see): `data/irregular.txt`;
//! 6. so do old forms (`spake`, `cometh`);
//! 7. Snowball's English stemmer takes off the endings.
//!
//! A stem is a key, not a word to show: `studies` gives `studi`.

use std::borrow::Cow;
use std::sync::LazyLock;

use snowball_stemmers_rs::{Algorithm, Stemmer};

use super::archaic;
use super::function_words::is_function_word;
use super::spelling::american;
use super::table::Table;

static IRREGULAR: LazyLock<Table> =
    LazyLock::new(|| Table::new(include_str!("data/irregular.txt")));
static SNOWBALL: LazyLock<Stemmer> = LazyLock::new(|| Stemmer::create(Algorithm::English));

/// The stem of a word in normal form.
pub(crate) fn stem(normal: &str) -> Cow<'_, str> {
    if is_function_word(normal) {
        return Cow::Borrowed(archaic::function_word(normal));
    }
    let word = normal.strip_suffix("'s").unwrap_or(normal);
    let owner_is_function_word = word.len() < normal.len() && is_function_word(word);
    if owner_is_function_word || !word.is_ascii() || !word.bytes().any(|b| b.is_ascii_lowercase()) {
        return Cow::Borrowed(word);
    }
    match american(word) {
        Cow::Borrowed(word) => stem_american(word),
        Cow::Owned(word) => Cow::Owned(stem_american(&word).into_owned()),
    }
}

fn stem_american(word: &str) -> Cow<'_, str> {
    // "thoughts" goes where "thought" goes, although the list has the verb's form only.
    let plural = || word.strip_suffix('s').and_then(|word| IRREGULAR.get(word));
    let base = IRREGULAR.get(word).or_else(plural).unwrap_or(word);
    match archaic::content_word(base, |word| SNOWBALL.stem(word).into_owned()) {
        Some(base) => Cow::Owned(SNOWBALL.stem(&base).into_owned()),
        None => SNOWBALL.stem(base),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn forms_of_one_word_have_one_stem() {
        assert_eq!(stem("organisations"), stem("organization"));
        assert_eq!(stem("wrote"), stem("writing"));
        assert_ne!(stem("organs"), stem("organization"));
    }

    #[test]
    fn forms_of_one_word_share_a_stem() {
        let families: [&[&str]; 34] = [
            &["go", "goes", "went", "gone", "going"],
            &["write", "writes", "wrote", "written", "writing"],
            &["find", "finds", "found"],
            &["rise", "rose", "risen", "rising"],
            &["lead", "led", "leads"],
            &["think", "thought", "thinking", "thoughts"],
            &["child", "children", "child's", "children's"],
            &["mouse", "mice"],
            &["leaf", "leaves"],
            &["criterion", "criteria"],
            &["phenomenon", "phenomena"],
            &["larva", "larvae"],
            &["woman", "women", "women's"],
            &["analysis", "analyses", "analyse", "analyzed", "analysing"],
            &["large", "larger", "largest"],
            &["big", "bigger", "biggest"],
            &["happy", "happier", "happiest"],
            &["study", "studies", "studied", "studying"],
            &["colour", "colors", "colouring"],
            &["organise", "organised", "organizing"],
            &["organisation", "organizations"],
            &["travel", "travelled", "traveling"],
            &["behaviour", "behaviors"],
            &["centre", "centers", "centred", "centering"],
            &["grey", "gray", "grays"],
            &["defence", "defenses"],
            &["programme", "programs"],
            &["fulfil", "fulfills", "fulfilled"],
            &["sceptical", "skeptical"],
            &["paediatric", "pediatric"],
            &["moth", "moths", "moth's"],
            &["light", "lit", "lights", "lighting"],
            &["show", "shown", "showed"],
            &["co-ordinate", "coordinate", "coordinated"],
        ];
        for family in families {
            for form in family {
                assert_eq!(stem(form), stem(family[0]), "{form}");
            }
        }
    }

    #[test]
    fn different_words_keep_different_stems() {
        let pairs = [
            ("organ", "organization"),
            ("intern", "international"),
            ("ground", "grind"),
            ("wound", "wind"),
            ("saw", "see"),
            ("data", "date"),
            ("media", "medium"),
            ("better", "good"),
            ("wise", "wize"),
            ("news", "new"),
            ("opera", "opus"),
            ("soles", "sol"),
            ("founded", "found"),
        ];
        for (a, b) in pairs {
            assert_ne!(stem(a), stem(b), "{a} {b}");
        }
    }

    #[test]
    fn what_has_no_stem_stays() {
        for word in [
            "1990",
            "3.5",
            "naïve",
            "свет",
            "это",
            "",
            "this",
            "was",
            "don't",
            "very",
            "β-carotene",
        ] {
            assert_eq!(stem(word), word);
        }
        assert_eq!(stem("it's"), "it's");
        assert_eq!(stem("1990's"), "1990");
    }

    /// The tables were keyed by the stems that make_tables.py computes; both must say the same.
    #[test]
    fn the_tables_were_made_with_the_same_rules() {
        let mut checked = 0;
        for line in include_str!("data/stem_check.txt").lines() {
            let (word, expected) = line.split_once('\t').expect("word, tab, stem");
            assert_eq!(stem(word), expected, "{word}");
            checked += 1;
        }
        assert!(checked > 3_000, "{checked}");
    }

    proptest! {
        #[test]
        fn never_panics_and_never_grows_much(word in "\\PC{0,20}") {
            prop_assert!(stem(&word).len() <= word.len() + 12);
        }

        #[test]
        fn a_possessive_changes_nothing(word in "[b-z]{4,12}") {
            let possessive = format!("{word}'s");
            prop_assume!(!is_function_word(&possessive));
            prop_assert_eq!(stem(&possessive), stem(&word));
        }
    }
}
