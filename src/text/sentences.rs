//! Sentences.

use super::{ByteRange, Text, WordRange};

/// One sentence, or one heading or list item without end mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sentence {
    /// Where it stands, with its end mark and closing quotation marks.
    pub range: ByteRange,
    /// Its words.
    pub words: WordRange,
    /// The block it belongs to, as an index into [`Text::blocks`].
    pub block: u32,
}

/// The sentences of a Text in order. They never cross a block.
#[must_use]
pub fn sentences(text: &Text, words: &[ByteRange]) -> Vec<Sentence> {
    let _ = (text, words);
    Vec::new()
}
