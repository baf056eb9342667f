//! Fixed expressions put on the review's shared list.

use std::io::{self, Write};
use std::path::Path;

use super::refusal::SettleError;
use crate::commands::output::Output;
use crate::commands::{Failure, Outcome};
use crate::reading::Disk;
use crate::report::harmless;
use crate::review::{self, TERMS_FILE};
use crate::wording::{is_function_word, normal_form, per_million, stem};

/// Occurrences in a million words of general English from which on a word is common: such words stand in most
/// chapters, so to leave them aside changes much. Our own choice.
const COMMON_PER_MILLION: f32 = 50.0;

pub(super) fn add(root: &Path, terms: &[String]) -> Result<Outcome, Failure> {
    // By way of the settings, so that a folder that is no review is refused.
    review::Settings::open(&Disk::new(), root, &review::Options::default())?;
    let mut cleaned = Vec::new();
    for term in terms {
        let words: Vec<&str> = term.split_whitespace().collect();
        if !term.chars().any(char::is_alphanumeric) || term.trim_start().starts_with('#') {
            return Err(SettleError::NoTerm { term: term.clone() }.into());
        }
        if carrying(term).is_empty() {
            return Err(SettleError::SmallWords { term: term.clone() }.into());
        }
        cleaned.push(words.join(" "));
    }
    let added = review::add_terms(root, &cleaned).map_err(SettleError::from)?;
    Output::standard().write(|out| {
        for term in &cleaned {
            let said = if added.contains(term) {
                format!("{TERMS_FILE} now holds: {term}")
            } else {
                format!("{TERMS_FILE} already holds: {term}")
            };
            writeln!(out, "{}", harmless(&said))?;
        }
        Ok(())
    })?;
    for term in cleaned.iter().filter(|term| is_common_word(term)) {
        let said = format!(
            "{term} is a common word. From now on it counts for nothing, so close wording around it may go unnoticed. If you meant a longer expression, delete this line in {TERMS_FILE} and add that one."
        );
        // Where the standard error is closed, nobody is there to read it.
        let _ = writeln!(io::stderr(), "ownwords: {}", harmless(&said));
    }
    Ok(Outcome::Clear)
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

fn is_common_word(term: &str) -> bool {
    match carrying(term).as_slice() {
        [only] => per_million(&stem(only)) >= COMMON_PER_MILLION,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn common_words_alone_are_told() {
        for term in ["light", "The Lights", "people", "time", "of study"] {
            assert!(is_common_word(term), "{term}");
        }
        for term in [
            "lamp",
            "light trap",
            "part-night lighting",
            "photoperiod",
            "Q-test",
        ] {
            assert!(!is_common_word(term), "{term}");
        }
    }
}
