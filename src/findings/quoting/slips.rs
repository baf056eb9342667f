//! What kind of slip a difference between a quotation and its source is.
//!
//! Published (from memory): a quotation keeps the spelling of its source, British or American, and its
//! mistakes, which *\[sic\]* points out (APA 7, 8.31 and 8.32; MLA 9, 6.54); Chicago 17, 13.7, lets an obvious misprint be
//! corrected in silence, so such a correction is named as a smaller matter.

use crate::wording::{is_misspelling, is_word, normal_form, spelling};

/// One kind of slip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum Slip {
    /// The same word in another spelling: British or American, one word or two.
    Spelling,
    /// A misprint of the source that was put right.
    Corrected,
    /// A word of the source mistyped.
    Mistyped,
    /// Other words.
    Words,
}

/// The kind of slip of one difference, given as (quotation's words, source's words).
#[must_use]
pub(crate) fn slip((ours, theirs): &(String, String)) -> Slip {
    let forms = |words: &str| -> Vec<String> {
        let words = words.split_whitespace();
        words.map(|word| normal_form(word).into_owned()).collect()
    };
    let (ours, theirs) = (forms(ours), forms(theirs));
    if ours.is_empty() || theirs.is_empty() {
        return Slip::Words;
    }
    let american = |words: &[String]| -> String {
        let words = words.iter();
        words
            .flat_map(|word| spelling::american(word).chars().collect::<Vec<_>>())
            .filter(|c| *c != '-')
            .collect()
    };
    if american(&ours) == american(&theirs) {
        return Slip::Spelling;
    }
    let kinds = ours.iter().zip(&theirs).filter(|(a, b)| a != b);
    let kinds = kinds.map(|(a, b)| match (is_word(a), is_word(b)) {
        (true, false) if is_misspelling(a, b) => Slip::Corrected,
        (false, true) if is_misspelling(a, b) => Slip::Mistyped,
        _ if spelling::american(a) == spelling::american(b) => Slip::Spelling,
        _ => Slip::Words,
    });
    if ours.len() == theirs.len() {
        kinds.max().unwrap_or(Slip::Words)
    } else {
        Slip::Words
    }
}

/// The gravest slip of several differences.
#[must_use]
pub(crate) fn gravest(differences: &[(String, String)]) -> Slip {
    differences.iter().map(slip).max().unwrap_or(Slip::Words)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_are_distinguished() {
        let table = [
            ("color", "colour", Slip::Spelling),
            ("Organised", "organized", Slip::Spelling),
            ("every body", "everybody", Slip::Spelling),
            ("street-light", "streetlight", Slip::Spelling),
            ("colour", "light", Slip::Words),
            ("received", "recieved", Slip::Corrected),
            ("recieved", "received", Slip::Mistyped),
            ("lamp", "lamps", Slip::Words),
            ("", "some", Slip::Words),
            ("dark", "", Slip::Words),
            ("color recieved", "colour received", Slip::Mistyped),
        ];
        for (ours, theirs, wanted) in table {
            let difference = (ours.to_owned(), theirs.to_owned());
            assert_eq!(slip(&difference), wanted, "{ours} {theirs}");
        }
    }
}
