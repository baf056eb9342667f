//! Fields: an instruction and its result. The result is what the reader of the document sees; the instruction
//! says what it is.

use crate::reading::flow::Meaning;

/// A field that has begun.
#[derive(Debug)]
pub(super) struct Field {
    /// Its instruction, as far as it has been read.
    pub instruction: String,
    /// Its result; `None` while the instruction is being read.
    pub result: Option<Stretch>,
}

/// The result of a field, or a content control.
#[derive(Debug)]
pub(super) struct Stretch {
    /// Where it begins.
    pub start: usize,
    /// How many stories were open.
    pub depth: usize,
    /// What it means.
    pub meaning: Meaning,
}
