//! The normal form of a word: what two spellings of the same word form have in common.
//!
//! Copies change on their way through editors, web pages and PDFs: capitals, typographic apostrophes, ligatures, soft
//! hyphens, words broken at a line's end, letters of another alphabet that look the same. None of these makes the
//! wording another one. The normal form of a word, as the word finder cuts it out of a text, is made in rounds:
//!
//! 1. characters that have no width of their own are dropped (soft hyphen, zero-width characters, bidi controls,
//!    variation selectors); apostrophes become `'`, dashes become `-`;
//! 2. compatibility composition (NFKC, UAX #15), which also takes ligatures apart;
//! 3. letters that only look Latin become Latin, see `lookalikes.rs`;
//! 4. lower case, by `char::to_lowercase`, with the exceptions where Unicode's full case folding goes further and
//!    words of our texts meet it: `ß` becomes `ss`, final `ς` becomes `σ`;
//! 5. a hyphen before a line break goes, with the break and the blanks around it;
//! 6. apostrophes at either end go.
//!
//! One round can give work to another (an accent composes with a letter that has just become Latin), so
//! rounds are repeated until nothing changes; in practice the second finds nothing to do. Lower-case ASCII, which is
//! nearly all there is, takes none of these steps and is not copied.

use std::borrow::Cow;

use unicode_normalization::UnicodeNormalization;

use super::lookalikes::{is_disguised, lookalike};

/// A bound for the rounds; tests over arbitrary strings never needed more than three.
const MAX_ROUNDS: usize = 8;

/// The normal form of a word. Borrows when the word is its own normal form in plain ASCII.
///
/// The result is empty when nothing of the word is left. It is idempotent.
pub(crate) fn normal_form(word: &str) -> Cow<'_, str> {
    match shape(word) {
        Shape::Normal => Cow::Borrowed(word),
        Shape::Capitals => Cow::Owned(word.to_ascii_lowercase()),
        Shape::Other => Cow::Owned(full_form(word)),
    }
}

/// Appends the normal form of a word to `out`. Allocates nothing of its own for words in ASCII without line breaks.
pub(crate) fn push_normal_form(word: &str, out: &mut String) {
    match shape(word) {
        Shape::Normal => out.push_str(word),
        Shape::Capitals => out.extend(word.chars().map(|c| c.to_ascii_lowercase())),
        Shape::Other => out.push_str(&full_form(word)),
    }
}

/// Whether a word in normal form is a number: figures, with separators (`1,000`, `3.5`, `10-12`), an ordinal's or a
/// decade's ending (`1st`, `1990s`) or a per cent sign. Number words and Roman numerals are words.
pub(crate) fn is_number(normal: &str) -> bool {
    let endings = ["st", "nd", "rd", "th", "'s", "s", "%", "‰"];
    let body = endings
        .iter()
        .find_map(|ending| normal.strip_suffix(ending))
        .unwrap_or(normal);
    let mut digits = false;
    for c in body.chars() {
        match c {
            '.' | ',' | '-' | '/' | ':' | '\'' | '+' | '⁄' | '\u{A0}' | ' ' => {}
            c if c.is_numeric() => digits = true,
            _ => return false,
        }
    }
    digits
}

enum Shape {
    /// Already in normal form.
    Normal,
    /// Only ASCII capitals stand in the way.
    Capitals,
    /// Needs the full procedure.
    Other,
}

fn shape(word: &str) -> Shape {
    let bytes = word.as_bytes();
    if bytes.first() == Some(&b'\'') || bytes.last() == Some(&b'\'') {
        return Shape::Other;
    }
    let mut capitals = false;
    for byte in bytes {
        match byte {
            b'A'..=b'Z' => capitals = true,
            b'`' | 0x80.. | ..b' ' | 0x7F => return Shape::Other,
            _ => {}
        }
    }
    if capitals {
        Shape::Capitals
    } else {
        Shape::Normal
    }
}

fn full_form(word: &str) -> String {
    let mut form = if word.contains('\u{AD}') && word.contains(is_break) {
        // At a line's end the soft hyphen is a visible one, and only there.
        one_round(&word.replace("\u{AD}\n", "-\n").replace("\u{AD}\r", "-\r"))
    } else {
        one_round(word)
    };
    for _ in 1..MAX_ROUNDS {
        let next = one_round(&form);
        if next == form {
            break;
        }
        form = next;
    }
    form
}

fn one_round(word: &str) -> String {
    let composed: String = word
        .chars()
        .filter_map(plain)
        .nfkc()
        .filter_map(plain)
        .collect();
    let mut out = String::with_capacity(composed.len());
    for (i, part) in composed.split('-').enumerate() {
        if i > 0 {
            out.push('-');
        }
        let disguised = is_disguised(part);
        for c in part.chars() {
            fold(
                if disguised {
                    lookalike(c).unwrap_or(c)
                } else {
                    c
                },
                &mut out,
            );
        }
    }
    let joined = if out.contains(is_break) {
        without_breaks(&out)
    } else {
        out
    };
    joined.trim_matches('\'').to_owned()
}

/// Drops what has no width; unifies apostrophes and dashes. Done before NFKC, which would take some apostrophes
/// apart (`´` becomes a blank and an accent), and after it, since it also makes some (`ŉ`).
fn plain(c: char) -> Option<char> {
    match c {
        // Soft hyphen, combining grapheme joiner, zero-width and bidi characters, word joiner and invisible operators,
        // variation selectors, byte-order mark, Mongolian vowel separator.
        '\u{AD}' | '\u{34F}' | '\u{61C}' | '\u{180B}'..='\u{180F}' | '\u{200B}'..='\u{200F}' => {
            None
        }
        '\u{202A}'..='\u{202E}'
        | '\u{2060}'..='\u{206F}'
        | '\u{FE00}'..='\u{FE0F}'
        | '\u{FEFF}' => None,
        '\u{E0100}'..='\u{E01EF}' => None,
        '’' | '‘' | '‛' | 'ʼ' | 'ʻ' | 'ʹ' | '′' | '‵' | '＇' | '`' | '´' | '｀' => {
            Some('\'')
        }
        '‐' | '‑' | '‒' | '–' | '—' | '―' | '−' | '⁃' | '﹘' | '﹣' | '－' => {
            Some('-')
        }
        c => Some(c),
    }
}

/// A line break is one inside a word only after a hyphen. Other breaks stay, and are the caller's matter.
fn is_break(c: char) -> bool {
    matches!(
        c,
        '\n' | '\r' | '\u{B}' | '\u{C}' | '\u{85}' | '\u{2028}' | '\u{2029}'
    )
}

fn without_breaks(word: &str) -> String {
    let mut out = String::with_capacity(word.len());
    let mut chars = word.chars().peekable();
    while let Some(c) = chars.next() {
        let head = out.trim_end_matches(char::is_whitespace);
        if is_break(c) && head.ends_with('-') {
            out.truncate(head.trim_end_matches('-').len());
            while chars.next_if(|next| next.is_whitespace()).is_some() {}
        } else {
            out.push(c);
        }
    }
    out
}

fn fold(c: char, out: &mut String) {
    match c {
        'ß' | 'ẞ' => out.push_str("ss"),
        'ς' => out.push('σ'),
        c if c.is_ascii() => out.push(c.to_ascii_lowercase()),
        c => out.extend(c.to_lowercase()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn forms_that_differ_in_writing_alone_are_one() {
        assert_eq!(normal_form("Don’t"), "don't");
        assert_eq!(normal_form("light-\n  ing"), "lighting");
        assert_eq!(normal_form("ﬁre\u{AD}ﬂy"), "firefly");
    }

    #[test]
    fn the_same_word_form_has_one_normal_form() {
        let cases = [
            ("light", "light"),
            ("Light", "light"),
            ("LIGHT", "light"),
            ("don’t", "don't"),
            ("donʼt", "don't"),
            ("don′t", "don't"),
            ("don＇t", "don't"),
            ("don`t", "don't"),
            ("don´t", "don't"),
            ("ŉ", "n"),
            ("’tis", "tis"),
            ("students’", "students"),
            ("'quoted'", "quoted"),
            ("part–night", "part-night"),
            ("part‑night", "part-night"),
            ("part−night", "part-night"),
            ("light\u{AD}ing", "lighting"),
            ("li\u{200B}g\u{200D}ht\u{FEFF}", "light"),
            ("\u{202E}light\u{202C}", "light"),
            ("light\u{FE0F}", "light"),
            ("light-\ning", "lighting"),
            ("light-\n  ing", "lighting"),
            ("light-\r\ning", "lighting"),
            ("light‐\r\n\ting", "lighting"),
            ("light- \ning", "lighting"),
            ("light\u{AD}-\ning", "lighting"),
            ("light\u{AD}\ning", "lighting"),
            ("light\u{AD}\r\ning", "lighting"),
            ("ﬁre", "fire"),
            ("eﬀect", "effect"),
            ("Ｌｉｇｈｔ", "light"),
            ("𝐥𝐢𝐠𝐡𝐭", "light"),
            ("Straße", "strasse"),
            ("STRASSE", "strasse"),
            ("ΣΟΦΟΣ", "σοφοσ"),
            ("σοφός", "σοφόσ"),
            ("cafe\u{301}", "café"),
            ("CAFÉ", "café"),
            ("", ""),
            ("'", ""),
            ("-", "-"),
        ];
        for (word, expected) in cases {
            assert_eq!(normal_form(word), expected, "{word:?}");
        }
    }

    #[test]
    fn plain_words_are_not_copied() {
        for word in ["light", "don't", "part-night", "3.5", ""] {
            assert!(matches!(normal_form(word), Cow::Borrowed(_)), "{word}");
        }
    }

    #[test]
    fn tells_numbers_from_words() {
        for number in [
            "1", "1990", "1,000", "3.5", "10-12", "1st", "2nd", "23rd", "1990s", "5%", "1/2", "½",
            "１２",
        ] {
            assert!(is_number(number), "{number}");
        }
        for word in [
            "", "-", "one", "h2o", "a1", "mth", "th", "s", "covid-19", "xiv",
        ] {
            assert!(!is_number(word), "{word}");
        }
    }

    /// Strings made of the very characters that the rules touch, where arbitrary ones would rarely meet.
    fn awkward() -> impl Strategy<Value = String> {
        let pieces = "['’`´ʼ\\-‐–\n\r \t\u{AD}\u{200B}\u{200D}\u{FEFF}\u{202E}\u{FE0F}aAeoеоаІСσςΣßẞﬁŉ\u{301}\u{307}\u{345}İıſæ]{0,12}";
        proptest::string::string_regex(pieces).expect("a valid pattern")
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(4_000))]

        #[test]
        fn the_normal_form_is_its_own_normal_form(word in any::<String>()) {
            let once = normal_form(&word).into_owned();
            prop_assert_eq!(normal_form(&once), once.as_str());
        }

        #[test]
        fn so_it_is_for_awkward_words(word in awkward()) {
            let once = normal_form(&word).into_owned();
            prop_assert_eq!(normal_form(&once), once.as_str());
            prop_assert!(!once.starts_with('\'') && !once.ends_with('\''));
        }

        #[test]
        fn both_functions_agree(word in awkward(), before in "[a-z]{0,3}") {
            let mut out = before.clone();
            push_normal_form(&word, &mut out);
            prop_assert_eq!(out, before + &normal_form(&word));
        }

        #[test]
        fn the_short_way_and_the_long_way_agree(word in "[ -~]{0,16}") {
            prop_assert_eq!(normal_form(&word), full_form(&word));
        }

        #[test]
        fn capitals_make_no_difference(word in "[a-z'-]{0,12}") {
            let capitals = word.to_uppercase();
            prop_assert_eq!(normal_form(&capitals), normal_form(&word));
        }
    }
}
