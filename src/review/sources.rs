//! The stored source texts.

use std::path::PathBuf;

use super::Key;
use crate::text::MarkedText;

/// One stored source text.
#[derive(Debug)]
pub struct Source {
    /// The reference it belongs to.
    pub key: Key,
    /// Its file, relative to the review.
    pub path: PathBuf,
    /// The text, marked.
    pub text: MarkedText,
}
