//! Fixed expressions put on the review's shared list.

use std::path::Path;

use super::refusal::SettleError;
use crate::commands::args::OutArgs;
use crate::commands::output::Output;
use crate::commands::{Failure, Outcome};
use crate::report::harmless;
use crate::review::{self, TERMS_FILE};

pub(super) fn add(root: &Path, terms: &[String]) -> Result<Outcome, Failure> {
    // Through the settings' own door, so that a folder that is no review is told.
    review::Settings::open(root, &review::Options::default())?;
    let mut cleaned = Vec::new();
    for term in terms {
        let words: Vec<&str> = term.split_whitespace().collect();
        if !term.chars().any(char::is_alphanumeric) || term.trim_start().starts_with('#') {
            return Err(SettleError::NoTerm { term: term.clone() }.into());
        }
        cleaned.push(words.join(" "));
    }
    let added = review::add_terms(root, &cleaned).map_err(SettleError::from)?;
    Output::open(&OutArgs { out: None }, [])?.write(|out| {
        for term in &cleaned {
            let said = if added.contains(term) {
                format!("{TERMS_FILE} now holds: {term}")
            } else {
                format!("{TERMS_FILE} held it already: {term}")
            };
            writeln!(out, "{}", harmless(&said))?;
        }
        Ok(())
    })?;
    Ok(Outcome::Clear)
}
