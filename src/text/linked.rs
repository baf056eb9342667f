//! What a document itself records about its places: which footnote is called where, and which works a
//! citation inserted by a reference manager names. Plain text records neither; word processors, LaTeX, HTML
//! and Markdown do.

use super::{ByteRange, Cite};

/// A footnote or endnote and the place in the running text that calls it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NoteCall {
    /// The byte position of the call. The call's own mark (`1`, `*`) is not part of the Text, so this is
    /// after the last character before it.
    pub at: usize,
    /// The note's text: the range of its block or blocks of kind
    /// [`Footnote`](super::BlockKind::Footnote), which stand after the running text (in a PDF after
    /// the page's text).
    pub note: ByteRange,
}

/// A citation that the file records in its structure, as fields of word processors do. It replaces
/// what would be read from the characters it covers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RecordedCitation {
    /// The visible characters of the citation in the Text.
    pub range: ByteRange,
    /// Whether the author's name stands in the sentence around it instead.
    pub suppressed_author: bool,
    /// The works, at least one; each by [`CiteTarget::Key`](super::CiteTarget::Key) where the
    /// document carries the reference under that key.
    pub cites: Vec<Cite>,
}
