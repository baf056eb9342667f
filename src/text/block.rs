//! Blocks: the paragraphs, headings, block quotations and so on of which a Text is made, in the
//! order of the text and without overlap.

use super::ByteRange;

/// What a block is in its document.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BlockKind {
    /// Running prose.
    Paragraph,
    /// A heading; 1 is the highest level.
    Heading {
        /// 1 to 6.
        level: u8,
    },
    /// Words of somebody else, set off from the text. One block a quotation, even where it holds
    /// several paragraphs.
    BlockQuotation,
    /// One item of a list.
    ListItem,
    /// A table; its cells are separated by tabs and line ends.
    Table,
    /// Program code or other preformatted matter.
    Code,
    /// One entry of the document's own list of references.
    ReferenceListItem,
    /// A footnote or endnote.
    Footnote,
}

impl BlockKind {
    /// The name shown by `ownwords text`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Paragraph => "paragraph",
            Self::Heading { .. } => "heading",
            Self::BlockQuotation => "block quotation",
            Self::ListItem => "list item",
            Self::Table => "table",
            Self::Code => "code",
            Self::ReferenceListItem => "reference",
            Self::Footnote => "footnote",
        }
    }

    /// Whether the block holds sentences that can be compared with a source. Headings, tables, code and
    /// reference lists are read, but never lead to findings.
    #[must_use]
    pub fn is_prose(self) -> bool {
        matches!(
            self,
            Self::Paragraph | Self::BlockQuotation | Self::ListItem | Self::Footnote
        )
    }
}

/// One block of a Text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Block {
    /// What it is.
    pub kind: BlockKind,
    /// Where it stands, without the blank space around it.
    pub range: ByteRange,
}
