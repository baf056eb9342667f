//! What can be a fixed expression.

use crate::wording::{is_function_word, normal_form, per_million, stem};

/// Occurrences in a million words of general English from which on a word is common: such words stand in most
/// chapters, so to leave them aside changes much. Our own choice.
const COMMON_PER_MILLION: f32 = 50.0;

/// Why something typed is no fixed expression.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum TermError {
    /// It has no words.
    #[error("--term {term:?}: this holds no words; name the expression as it stands in texts")]
    NoWords {
        /// As typed.
        term: String,
    },
    /// It has function words alone.
    #[error(
        "--term {term:?}: this holds only small words that every text has, so it never makes a copy; name the whole expression, with the words that carry its meaning"
    )]
    SmallWords {
        /// As typed.
        term: String,
    },
}

/// A fixed expression as it stands in the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Expression {
    /// Its words, one blank between them.
    pub words: String,
    /// Whether it is a single common word, so that close wording around it may go unnoticed.
    pub is_common: bool,
}

impl Expression {
    /// What was typed, as it stands in the list.
    ///
    /// # Errors
    /// [`TermError`] where it can't be a fixed expression.
    pub fn new(typed: &str) -> Result<Self, TermError> {
        let term = || typed.to_owned();
        if !typed.chars().any(char::is_alphanumeric) || typed.trim_start().starts_with('#') {
            return Err(TermError::NoWords { term: term() });
        }
        let carrying = carrying(typed);
        let is_common = match carrying.as_slice() {
            [] => return Err(TermError::SmallWords { term: term() }),
            [only] => per_million(&stem(only)) >= COMMON_PER_MILLION,
            _ => false,
        };
        let words: Vec<&str> = typed.split_whitespace().collect();
        Ok(Self {
            words: words.join(" "),
            is_common,
        })
    }
}

/// The words of an expression that carry its meaning, in normal form.
fn carrying(term: &str) -> Vec<String> {
    let words = term.split(|c: char| c.is_whitespace() || c == '-');
    let normal = words.map(|word| {
        let word = word.trim_matches(|c: char| !c.is_alphanumeric());
        normal_form(word).into_owned()
    });
    normal
        .filter(|word| !word.is_empty() && !is_function_word(word))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn common_words_alone_are_common() {
        let is_common = |term: &str| Expression::new(term).map(|expression| expression.is_common);
        for term in ["light", "The Lights", "people", "time", "of study"] {
            assert_eq!(is_common(term), Ok(true), "{term}");
        }
        for term in [
            "lamp",
            "light trap",
            "part-night lighting",
            "photoperiod",
            "Q-test",
        ] {
            assert_eq!(is_common(term), Ok(false), "{term}");
        }
    }

    #[test]
    fn what_carries_no_meaning_is_refused() {
        for term in ["...", "", "# lamp"] {
            let refused = Expression::new(term);
            assert!(matches!(refused, Err(TermError::NoWords { .. })), "{term}");
        }
        for term in ["of the", "and"] {
            let refused = Expression::new(term);
            assert!(
                matches!(refused, Err(TermError::SmallWords { .. })),
                "{term}"
            );
        }
    }
}
