//! Quotations: words marked as somebody else's.

use super::{ByteRange, Text};

/// How a quotation is marked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum QuotationForm {
    /// Between quotation marks in the running text.
    Inline,
    /// Set off as a block of its own.
    Block,
}

/// One marked quotation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Quotation {
    /// How it is marked.
    pub form: QuotationForm,
    /// With its quotation marks.
    pub outer: ByteRange,
    /// Without them.
    pub inner: ByteRange,
    /// 0 for a quotation of the writer's, 1 for one inside that, and so on.
    pub depth: u8,
}

/// The quotations of a Text in order of their start, outer before inner.
#[must_use]
pub fn quotations(text: &Text) -> Vec<Quotation> {
    let _ = text;
    Vec::new()
}
