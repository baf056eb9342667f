//! Text of the user's made safe for each form of output, in one place. A draft, a source, a reference or a file name may
//! hold escape codes that move the cursor, marks that reverse the direction of writing and make a line read
//! otherwise than it is, a formula for a spreadsheet, or markup.
//!
//! - [`harmless`] for a terminal, and whatever is plain text. Harmful characters are shown as what they are:
//!   `\u{1b}`, `\u{202e}`.
//! - [`on_page`] for HTML, beside the escaping that `maud` does by itself.
//! - [`in_markdown`] for Markdown.
//! - [`in_cell`] for a cell of a table for spreadsheets.
//! - [`in_xml`] for character data and attributes of XML; a caller makes text for people harmless first.
//!
//! JSON is escaped by `serde_json` as its standard asks for. `tests/safe_output.rs` feeds every harmful character
//! through every field into every form.

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

/// Text of any kind on one line so that Markdown shows it as it is.
pub(super) fn in_markdown(text: &str) -> String {
    let text = harmless(text);
    let mut shown = String::with_capacity(text.len() + 8);
    // At the start of a line a number or a dash would begin a list.
    let digits = text.len() - text.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let (number, text) = text.split_at(digits);
    shown.push_str(number);
    let sign = text.chars().next();
    if sign.is_some_and(|c| matches!(c, '.' | ')') && digits > 0 || "-+=".contains(c)) {
        shown.push('\\');
    }
    for character in text.chars() {
        if matches!(
            character,
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '#' | '|' | '~' | '&'
        ) {
            shown.push('\\');
        }
        shown.push(character);
    }
    shown
}

/// Text of any kind as a cell that no spreadsheet takes for a formula: behind an apostrophe if it begins like one, which
/// spreadsheets take for "this is text". Blank space of any kind becomes one space.
pub(super) fn in_cell(text: &str) -> String {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    // Some programs pass over what can't be seen before they look for a sign.
    let seen = text.trim_start_matches(|c| c == ' ' || is_harmful(c) || is_unseen(c));
    // The wide and small forms of these signs are taken for the plain ones by some programs.
    let formula = seen.starts_with([
        '=', '+', '-', '@', '＝', '＋', '－', '＠', '﹦', '﹢', '﹣', '﹫', '−',
    ]);
    let apostrophe = if formula { "'" } else { "" };
    format!("{apostrophe}{}", harmless(&text))
}

/// Text for XML, in character data and in attributes. Characters that XML can't hold are left out.
pub(super) fn in_xml(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&apos;"),
            // XML 1.0, production 2
            '\t' | '\n' | '\r' | ' '..='\u{D7FF}' | '\u{E000}'..='\u{FFFD}' | '\u{10000}'.. => {
                out.push(c)
            }
            _ => {}
        }
    }
    out
}

/// Characters without a width of their own that scripts need inside words (Unicode: Default_Ignorable_Code_Point, beside
/// what [`is_harmful`] has). At the start of a cell they only hide what comes behind them.
fn is_unseen(character: char) -> bool {
    matches!(
        character,
        '\u{ad}'
            | '\u{34f}'
            | '\u{115f}'..='\u{1160}'
            | '\u{17b4}'..='\u{17b5}'
            | '\u{180b}'..='\u{180f}'
            | '\u{200c}'..='\u{200d}'
            | '\u{3164}'
            | '\u{fe00}'..='\u{fe0f}'
            | '\u{ffa0}'
            | '\u{1bca0}'..='\u{1bca3}'
            | '\u{1d173}'..='\u{1d17a}'
            | '\u{e0080}'..='\u{e0fff}'
    )
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
    use pulldown_cmark::Event;

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

    #[test]
    fn no_cell_is_a_formula() {
        let table = [
            ("=1+1", "'=1+1"),
            ("  @sum(a)", "'@sum(a)"),
            ("\t-3 lamps", "'-3 lamps"),
            ("+49", "'+49"),
            ("\r\n=x", "'=x"),
            ("\u{feff}=x", r"'\u{feff}=x"),
            ("\u{200b}\u{200b}=x", r"'\u{200b}\u{200b}=x"),
            ("\u{ad} \u{200d}+x", "'\u{ad} \u{200d}+x"),
            ("﹦x", "'﹦x"),
            ("\u{1b}[2J", r"\u{1b}[2J"),
            ("“=1”", "“=1”"),
            ("two\n lines", "two lines"),
            ("", ""),
        ];
        for (text, shown) in table {
            assert_eq!(in_cell(text), shown, "{text:?}");
        }
    }

    #[test]
    fn what_xml_can_not_hold_is_left_out() {
        let hostile = "<script>&amp;\"'\u{0}\u{8}\u{202E}\u{FFFE}]]>";
        assert_eq!(
            in_xml(hostile),
            "&lt;script&gt;&amp;amp;&quot;&apos;\u{202E}]]&gt;"
        );
    }

    #[test]
    fn nothing_begins_a_list_in_markdown() {
        for (text, shown) in [
            ("1. a", "1\\. a"),
            ("12) a", "12\\) a"),
            ("- a", "\\- a"),
            ("1914 a", "1914 a"),
            ("a\u{1b}b", "a\\\\u{1b}b"),
        ] {
            assert_eq!(in_markdown(text), shown);
        }
    }

    proptest! {
        #[test]
        fn nothing_harmful_gets_through(text in any::<String>()) {
            for shown in [harmless(&text).into_owned(), in_markdown(&text), in_cell(&text)] {
                prop_assert!(!shown.chars().any(is_harmful));
            }
            let blank = |c: char| matches!(c, '\n' | '\r' | '\t');
            prop_assert!(!on_page(&text).chars().any(|c| is_harmful(c) && !blank(c)));
        }

        /// Whatever the text, a reader of the Markdown sees the text and no markup.
        #[test]
        fn text_stays_text_in_markdown(text in "[a-z\\\\`*_<>#|~&\\[\\]() !-]{1,40}") {
            let markdown = format!("x {} x", in_markdown(text.trim()));
            let mut shown = String::new();
            for event in pulldown_cmark::Parser::new(&markdown) {
                match event {
                    Event::Text(text) => shown.push_str(&text),
                    Event::Start(_) | Event::End(_) => {}
                    other => prop_assert!(false, "{other:?} in {markdown:?}"),
                }
            }
            prop_assert_eq!(shown, format!("x {} x", text.trim()));
        }
    }
}
