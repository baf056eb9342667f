//! Text of the user's made harmless for a terminal. A draft, a source or a file name may hold escape
//! codes that move the cursor, or marks that reverse the direction of writing and make a line read
//! otherwise than it is. They are shown as what they are: `\u{1b}`, `\u{202e}`.

use std::borrow::Cow;

/// The text with every control character and every mark of writing direction spelled out. Line ends
/// and tabs too: a caller that wants them breaks the text up before.
#[must_use]
pub fn harmless(text: &str) -> Cow<'_, str> {
    if !text.chars().any(is_harmful) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len() + 16);
    for character in text.chars() {
        if is_harmful(character) {
            shown.extend(character.escape_unicode());
        } else {
            shown.push(character);
        }
    }
    Cow::Owned(shown)
}

/// The text for a page, where line ends and tabs are blank space and stay; all else as [`harmless`]
/// spells it.
pub(super) fn on_page(text: &str) -> Cow<'_, str> {
    let is_blank = |character: char| matches!(character, '\n' | '\r' | '\t');
    if !text
        .chars()
        .any(|character| is_harmful(character) && !is_blank(character))
    {
        return Cow::Borrowed(text);
    }
    let shown = text.split_inclusive(is_blank).flat_map(|part| {
        let words = part.trim_end_matches(is_blank);
        let blank = part.get(words.len()..).unwrap_or_default();
        [harmless(words), Cow::Borrowed(blank)]
    });
    Cow::Owned(shown.collect())
}

/// Controls, marks that turn the direction of writing (UAX #9), line and paragraph separators, and
/// invisible characters that can hide words.
fn is_harmful(character: char) -> bool {
    character.is_control()
        || matches!(
            character,
            '\u{61c}'
                | '\u{200b}'
                | '\u{200e}'..='\u{200f}'
                | '\u{2028}'..='\u{202e}'
                | '\u{2060}'..='\u{206f}'
                | '\u{feff}'
                | '\u{fff9}'..='\u{fffb}'
                | '\u{e0000}'..='\u{e007f}'
        )
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn harmful_characters_are_spelled_out() {
        let table = [
            ("plain, “quoted” – naïve 夜", "plain, “quoted” – naïve 夜"),
            ("\u{1b}[2Jgone", r"\u{1b}[2Jgone"),
            ("a\u{9b}31mb", r"a\u{9b}31mb"),
            ("abc\u{202e}fed", r"abc\u{202e}fed"),
            ("a\u{2067}b\u{2069}", r"a\u{2067}b\u{2069}"),
            ("two\nlines\r\tand", r"two\u{a}lines\u{d}\u{9}and"),
            ("zero\u{200b}width", r"zero\u{200b}width"),
        ];
        for (text, shown) in table {
            assert_eq!(harmless(text), shown);
        }
    }

    #[test]
    fn blank_space_stays_on_a_page() {
        let table = [
            ("two\nlines\r\n\tand", "two\nlines\r\n\tand"),
            ("a\u{202e}b\n\n\u{1b}[2J", "a\\u{202e}b\n\n\\u{1b}[2J"),
            ("\n\u{c}", "\n\\u{c}"),
        ];
        for (text, shown) in table {
            assert_eq!(on_page(text), shown);
        }
    }

    #[test]
    fn joiners_that_scripts_need_stay() {
        for text in ["क्\u{200d}ष", "می\u{200c}خواهم", "👩\u{200d}🌾"] {
            assert_eq!(harmless(text), text);
        }
    }

    proptest! {
        #[test]
        fn nothing_harmful_gets_through(text in any::<String>()) {
            prop_assert!(!harmless(&text).chars().any(is_harmful));
        }
    }
}
