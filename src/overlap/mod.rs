//! The computation: which stretches of two texts share wording, and how close they are.

mod scale;

pub use scale::{Counterpart, Degree, Measures};

use crate::text::{ByteRange, MarkedText};

/// A stretch of shared wording, for setting draft and source against each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SharedPlace {
    /// In the draft's Text.
    pub draft: ByteRange,
    /// In the source's Text.
    pub source: ByteRange,
    /// How the two answer to each other.
    pub by: Counterpart,
}

/// A rewrite set against a source passage.
#[derive(Debug, Clone, PartialEq)]
pub struct Placement {
    /// The measures, which give position and degree.
    pub measures: Measures,
    /// Shared strings and single counterparts, in order of the rewrite, without overlap.
    pub shared: Vec<SharedPlace>,
}

/// Sets a rewrite against the passage it was made from.
#[must_use]
pub fn place(source: &MarkedText, rewrite: &MarkedText) -> Placement {
    let _ = (source, rewrite);
    todo!()
}
