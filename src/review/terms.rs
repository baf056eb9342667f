//! The shared list of fixed expressions, `terms.txt`: one a line, sorted, beside the `terms` of the
//! settings. A file of its own, so that adding one leaves the hand-written settings alone and two
//! people's additions merge.

#[cfg(feature = "disk")]
mod adding;
mod expression;

#[cfg(feature = "disk")]
pub use adding::add_terms;
pub use expression::{Expression, TermError};

/// The name of the file in the review folder.
pub const TERMS_FILE: &str = "terms.txt";

/// The expressions in the content of the file.
pub(super) fn parse(content: &str) -> Vec<String> {
    content
        .trim_start_matches('\u{feff}')
        .lines()
        .map(str::trim)
        .filter(|line| !line.is_empty() && !line.starts_with('#'))
        .map(str::to_owned)
        .collect()
}
