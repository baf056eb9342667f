//! ownwords compares a draft with the writer's own stored sources and notes.

pub mod findings;
pub mod overlap;
pub mod reading;
pub mod review;
pub mod text;
pub mod wording;

use std::path::PathBuf;

use findings::CheckReport;
use review::Review;

/// Why a check could not be done at all.
#[derive(Debug, thiserror::Error)]
pub enum CheckError {
    /// None of the named drafts could be read; the message names each.
    #[error("{0}")]
    NoDraft(String),
}

/// Checks drafts against a review.
///
/// # Errors
/// [`CheckError`] where no draft could be read.
pub fn check(review: &Review, drafts: &[PathBuf]) -> Result<CheckReport, CheckError> {
    let _ = (review, drafts);
    todo!()
}
