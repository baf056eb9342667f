//! Letters that look alike: Cyrillic and Greek letters that stand for Latin ones.
//!
//! A word copied from a page or a scan can hold a Cyrillic `а` among Latin letters; no reader sees the difference, and
//! a comparison by character sees nothing else. Only words that mix alphabets are touched: a word wholly in Cyrillic or
//! Greek is what it says.

/// Whether a part of a word has Latin letters, and Cyrillic or Greek ones that all look Latin. A part with other
/// Cyrillic or Greek letters is what it says (`ТВ-шоу`, `α-helix`), and so is one without any Latin letter.
pub(crate) fn is_disguised(part: &str) -> bool {
    if part.is_ascii() {
        return false;
    }
    let (mut latin, mut foreign) = (false, false);
    for c in part.chars() {
        match c {
            'a'..='z' | 'A'..='Z' | 'À'..='ɏ' | 'Ḁ'..='ỿ' => latin = true,
            '\u{370}'..='\u{3FF}' | '\u{400}'..='\u{52F}' | '\u{1F00}'..='\u{1FFF}' => {
                foreign = true;
                if lookalike(c).is_none() {
                    return false;
                }
            }
            _ => {}
        }
    }
    latin && foreign
}

/// The Latin letter that a Cyrillic or Greek one looks like, after the confusables of UTS #39: those of common fonts.
/// Small Greek letters other than omicron are left out, although UTS #39 has them: they are symbols in science
/// (`TNFα`), and nobody takes them for Latin.
pub(crate) fn lookalike(c: char) -> Option<char> {
    Some(match c {
        'А' | 'Α' => 'A',
        'В' | 'Β' => 'B',
        'С' | 'Ϲ' => 'C',
        'Е' | 'Ε' => 'E',
        'Ԍ' => 'G',
        'Н' | 'Η' => 'H',
        'І' | 'Ι' | 'Ӏ' => 'I',
        'Ј' | 'Ϳ' => 'J',
        'К' | 'Κ' => 'K',
        'М' | 'Μ' => 'M',
        'Ν' => 'N',
        'О' | 'Ο' => 'O',
        'Р' | 'Ρ' => 'P',
        'Ԛ' => 'Q',
        'Ѕ' => 'S',
        'Т' | 'Τ' => 'T',
        'Ԝ' => 'W',
        'Х' | 'Χ' => 'X',
        'Υ' | 'Ү' => 'Y',
        'Ζ' => 'Z',
        'а' => 'a',
        'с' | 'ϲ' => 'c',
        'ԁ' => 'd',
        'е' => 'e',
        'һ' => 'h',
        'і' => 'i',
        'ј' | 'ϳ' => 'j',
        'ӏ' => 'l',
        'о' | 'ο' => 'o',
        'р' => 'p',
        'ԛ' => 'q',
        'ѕ' => 's',
        'ѵ' => 'v',
        'ԝ' => 'w',
        'х' => 'x',
        'у' | 'ү' => 'y',
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use crate::wording::normal_form;

    #[test]
    fn letters_that_only_look_latin_become_latin() {
        let cases = [
            ("l\u{456}ght", "light"),
            ("\u{441}olour", "colour"),
            ("p\u{43E}llin\u{430}t\u{43E}r", "pollinator"),
            ("\u{39C}oth", "moth"),
            ("m\u{3BF}th", "moth"),
            ("\u{435}\u{301}tude", "étude"),
            // Wholly foreign words, science's letters, and true mixtures stay.
            ("свет", "свет"),
            ("оса", "оса"),
            ("φως", "φωσ"),
            ("TNFα", "tnfα"),
            ("β-carotene", "β-carotene"),
            ("μm", "μm"),
            ("wi-fi-свет", "wi-fi-свет"),
            ("xсвет", "xсвет"),
        ];
        for (word, expected) in cases {
            assert_eq!(normal_form(word), expected, "{word:?}");
        }
    }
}
