//! What a document is once it has been read.
//!
//! 1. Reading turns a file into a [`Text`]: its characters, its [`Block`]s, its [`Pages`], and the way back
//!    to the bytes of the file ([`Origin`]).
//! 2. Marking finds what the later stages work with: words ([`words`]), sentences ([`sentences`]), quotations
//!    ([`quotations`]) and citations ([`citations`](mod@citations)). The result is a [`MarkedText`].
//!
//! Every position is a [`ByteRange`] into the Text. Nothing here reads or writes files.

mod block;
pub(crate) mod citations;
mod file_lines;
mod file_positions;
mod line_feeds;
mod linked;
pub(crate) mod locator;
mod marked;
mod page;
pub(crate) mod quotations;
pub(crate) mod range;
pub(crate) mod sentences;
pub(crate) mod words;

pub use block::{Block, BlockKind};
pub use citations::{Citation, CitationForm, Cite, CiteTarget, Year, citations};
pub use file_lines::{FileLines, LineRange};
pub use file_positions::{FilePart, Included, Origin, PartPiece, PartRange, Piece};
pub use linked::{NoteCall, RecordedCitation};
pub use locator::{Locator, LocatorUnit};
pub use marked::MarkedText;
pub use page::{PageLabel, PageStart, Pages, SheetStart};
pub use quotations::{Quotation, QuotationForm};
pub use range::{ByteRange, WordRange};
pub use sentences::Sentence;

use line_feeds::LineFeeds;

/// A document as read: characters, blocks, pages, and where they came from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Text {
    content: String,
    line_feeds: LineFeeds,
    blocks: Vec<Block>,
    pages: Pages,
    origin: Origin,
    note_calls: Vec<NoteCall>,
    recorded: Vec<RecordedCitation>,
    sheets: Vec<SheetStart>,
    numbered_references: bool,
    file_lines: FileLines,
}

impl Text {
    /// A Text of the given parts. Blocks are put in order. A block that extends beyond the content or does
    /// not fall on character boundaries is left out.
    #[must_use]
    pub fn new(content: String, mut blocks: Vec<Block>, pages: Pages, origin: Origin) -> Self {
        blocks.retain(|block| content.get(block.range.as_range()).is_some());
        blocks.sort_by_key(|block| block.range);
        Self {
            line_feeds: LineFeeds::of(content.as_bytes()),
            content,
            blocks,
            pages,
            origin,
            note_calls: Vec::new(),
            recorded: Vec::new(),
            sheets: Vec::new(),
            numbered_references: false,
            file_lines: FileLines::default(),
        }
    }

    /// The same Text with a numbered list of references whose numbers are not part of the Text, as in an
    /// ordered list of Markdown.
    #[must_use]
    pub fn with_numbered_references(mut self, numbered: bool) -> Self {
        self.numbered_references = numbered;
        self
    }

    /// The highest number in the Text's own list of references; `None` where it has no list or the list is
    /// not numbered.
    #[must_use]
    pub fn highest_reference(&self) -> Option<u32> {
        let is_entry = |block: &&Block| block.kind == BlockKind::ReferenceListItem;
        let entries: Vec<ByteRange> = self
            .blocks
            .iter()
            .filter(is_entry)
            .map(|block| block.range)
            .collect();
        let numbers = entries.iter().filter_map(|entry| self.number_of(*entry));
        let (count, highest) = numbers.fold((0, 0), |(count, highest), number| {
            (count + 1, number.max(highest))
        });
        let length = u32::try_from(entries.len()).unwrap_or(u32::MAX);
        if self.numbered_references {
            return (length > 0).then_some(length.max(highest));
        }
        // One or two may have lost their numbers.
        (count > 0 && count * 3 >= entries.len() * 2).then_some(highest)
    }

    /// The number with which an entry of the list begins, in the entry or before it in its line: `[12]`,
    /// `12.`, `(12)`.
    fn number_of(&self, entry: ByteRange) -> Option<u32> {
        let before = self.content.get(..entry.start()).unwrap_or_default();
        let line = before.rsplit(['\n', '\r']).next().unwrap_or_default();
        let line = if line.len() <= 12 { line } else { "" };
        let entry = self.slice(entry);
        let written = if line.trim().is_empty() { entry } else { line };
        let written = written.trim_start().trim_start_matches(['[', '(']);
        let behind = written.trim_start_matches(|c: char| c.is_ascii_digit());
        let digits = written.get(..written.len() - behind.len())?;
        let closed = behind.starts_with([']', ')', '.', '\t']);
        digits
            .parse()
            .ok()
            .filter(|number| closed && (1..1000).contains(number))
    }

    /// The same Text with the calls of its footnotes, put in order of the call. A call whose ranges don't fit
    /// the content is left out.
    #[must_use]
    pub fn with_note_calls(mut self, mut calls: Vec<NoteCall>) -> Self {
        calls.retain(|call| {
            self.content.is_char_boundary(call.at)
                && self.content.get(call.note.as_range()).is_some()
        });
        calls.sort_by_key(|call| call.at);
        self.note_calls = calls;
        self
    }

    /// The same Text with the citations that its file records, put in order. A citation whose range doesn't
    /// fit the content or that cites nothing is left out.
    #[must_use]
    pub fn with_recorded(mut self, mut citations: Vec<RecordedCitation>) -> Self {
        citations.retain(|citation| {
            !citation.cites.is_empty() && self.content.get(citation.range.as_range()).is_some()
        });
        citations.sort_by_key(|citation| citation.range);
        self.recorded = citations;
        self
    }

    /// The same Text with the places where its file's sheets begin, in order.
    #[must_use]
    pub fn with_sheets(mut self, sheets: Vec<SheetStart>) -> Self {
        self.sheets = sheets;
        self
    }

    /// The same Text with other pages, for page numbers that are known from outside the file.
    #[must_use]
    pub fn with_pages(mut self, pages: Pages) -> Self {
        self.pages = pages;
        self
    }

    /// Where the sheets of the file begin; empty where the file has none, as only PDF has.
    #[must_use]
    pub fn sheets(&self) -> &[SheetStart] {
        &self.sheets
    }

    /// The sheet a position lies on, counted from 1.
    #[must_use]
    pub fn sheet_at(&self, position: usize) -> Option<u32> {
        let behind = self.sheets.partition_point(|start| start.at <= position);
        let start = self.sheets.get(behind.checked_sub(1)?)?;
        Some(start.sheet)
    }

    /// Where footnotes are called, in order of the text; empty where the file records none.
    #[must_use]
    pub fn note_calls(&self) -> &[NoteCall] {
        &self.note_calls
    }

    /// The citations that the file records in its structure, in order.
    #[must_use]
    pub fn recorded(&self) -> &[RecordedCitation] {
        &self.recorded
    }

    /// A single paragraph, such as a passage typed on the command line or in a test.
    #[must_use]
    pub fn paragraph(content: &str) -> Self {
        let block = Block {
            kind: BlockKind::Paragraph,
            range: ByteRange::of(0, content.len()),
        };
        Self::new(
            content.to_owned(),
            vec![block],
            Pages::default(),
            Origin::Same { skipped: 0 },
        )
    }

    /// All characters. Ranges refer to the bytes of this string.
    #[must_use]
    pub fn content(&self) -> &str {
        &self.content
    }

    /// The blocks in the order of the text.
    #[must_use]
    pub fn blocks(&self) -> &[Block] {
        &self.blocks
    }

    /// The pages, empty where the file named none.
    #[must_use]
    pub fn pages(&self) -> &Pages {
        &self.pages
    }

    /// The way back to the file.
    #[must_use]
    pub fn origin(&self) -> &Origin {
        &self.origin
    }

    /// The characters of a range; empty where the range does not fit this Text.
    #[must_use]
    pub fn slice(&self, range: ByteRange) -> &str {
        self.content.get(range.as_range()).unwrap_or_default()
    }

    /// The same Text, with the lines of its file.
    #[must_use]
    pub fn with_file_lines(mut self, lines: FileLines) -> Self {
        self.file_lines = lines;
        self
    }

    /// The lines of the file it was read from; empty where that has none (word processors, PDF).
    #[must_use]
    pub fn file_lines(&self) -> &FileLines {
        &self.file_lines
    }

    /// The line a position lies on, counted from 1: of the file where the Text was read from one with lines,
    /// else by line feeds of the Text.
    #[must_use]
    pub fn line(&self, position: usize) -> usize {
        self.file_line(position)
            .unwrap_or_else(|| self.plain_line(position))
    }

    /// The line a position lies on in the Text itself, counted from 1 by line feeds: as `ownwords text --plain` prints it.
    #[must_use]
    pub fn plain_line(&self, position: usize) -> usize {
        1 + self.line_feeds.before(self.content.as_bytes(), position)
    }

    fn file_line(&self, position: usize) -> Option<usize> {
        let last = self.file_lines.last_start()?;
        let at = self.origin.piece_at(position)?;
        // Text of an included file has no line in this one.
        let is_own = self.origin.included().is_empty() || at <= last;
        is_own.then(|| self.file_lines.line(at))
    }

    /// The blocks that reach into a range.
    pub(crate) fn blocks_in(&self, range: ByteRange) -> impl Iterator<Item = &Block> {
        // Blocks don't overlap, so their ends are in order too.
        let from = self
            .blocks
            .partition_point(|block| block.range.end() <= range.start());
        let behind = self.blocks.iter().skip(from);
        behind.take_while(move |block| block.range.start() < range.end())
    }

    /// The block that holds a position.
    #[must_use]
    pub fn block_at(&self, position: usize) -> Option<&Block> {
        let behind = self
            .blocks
            .partition_point(|block| block.range.start() <= position);
        let block = self.blocks.get(behind.checked_sub(1)?)?;
        block.range.contains(position).then_some(block)
    }
}
