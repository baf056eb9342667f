//! A Text under construction. Readers find blocks in different ways; what they write is put together here:
//!
//! 1. [`Builder`] takes characters with the position they had in the file, and keeps the blocks, page breaks,
//!    footnotes and calls among them. Blocks are separated by a blank line; what stands in a block quotation,
//!    however nested, is one block. [`assembly`](super::assembly) adds how marked-up formats set blank space.
//! 2. [`Draft`] is the last step, also for readers that record positions in another way: page marks are
//!    found, paragraphs that only these separate are joined, and the document's own references are found.

use std::collections::HashMap;
use std::path::PathBuf;

use super::{pages, reference_list};
use crate::text::{
    Block, BlockKind, ByteRange, FileLines, Included, NoteCall, Origin, PageLabel, PageStart,
    Pages, Piece, Text,
};

/// Page breaks that the file's structure records, and how they relate to typed page marks.
pub(super) enum Breaks {
    /// Both count, in order of the text.
    BesideMarks(Vec<PageStart>),
    /// They count where there are no marks, since marks name the pages of the work that the text was typed
    /// from.
    UnlessMarks(Vec<PageStart>),
}

/// A Text without what is found by its characters.
pub(super) struct Draft {
    pub content: String,
    pub blocks: Vec<Block>,
    pub breaks: Breaks,
    pub calls: Vec<NoteCall>,
    /// Where blocks start that are items numbered by the format.
    pub numbered: Vec<usize>,
}

impl Draft {
    /// Only characters and blocks.
    pub(super) fn of(content: String, blocks: Vec<Block>) -> Self {
        Self {
            content,
            blocks,
            breaks: Breaks::BesideMarks(Vec::new()),
            calls: Vec::new(),
            numbered: Vec::new(),
        }
    }

    /// The finished Text.
    pub(super) fn text(self, origin: Origin) -> Text {
        let mut marks = pages::find(&self.content);
        let mut instead = Vec::new();
        match self.breaks {
            Breaks::BesideMarks(mut breaks) => {
                marks.append(&mut breaks);
                marks.sort_by_key(|start| start.mark);
            }
            Breaks::UnlessMarks(breaks) => instead = breaks,
        }
        let blocks = pages::join_broken(&self.content, &marks, self.blocks);
        let blocks = reference_list::mark(&self.content, blocks);
        let starts = if marks.is_empty() { instead } else { marks };
        let text = Text::new(self.content, blocks, Pages::new(starts), origin);
        let numbered = reference_list::is_numbered(text.blocks(), &self.numbered);
        text.with_note_calls(self.calls)
            .with_numbered_references(numbered)
    }
}

/// Characters with their positions, cut into blocks.
#[derive(Default)]
pub(super) struct Builder {
    content: String,
    /// Where the blank space at the end of the content begins.
    solid: usize,
    pieces: Vec<Piece>,
    blocks: Vec<Block>,
    /// The open block and where it starts, once it has text.
    open: Option<(BlockKind, usize)>,
    /// How many block quotations are open, and where the outermost has its first text.
    quotations: usize,
    quotation_start: Option<usize>,
    numbered: Vec<usize>,
    calls: Vec<(usize, String)>,
    notes: HashMap<String, ByteRange>,
    breaks: Vec<PageStart>,
    included: Vec<Included>,
}

impl Builder {
    /// An empty builder with room for so many bytes.
    pub(super) fn with_capacity(bytes: usize) -> Self {
        Self {
            content: String::with_capacity(bytes),
            ..Self::default()
        }
    }

    /// The position after the last character.
    pub(super) fn end(&self) -> usize {
        self.content.len()
    }

    /// The position after the last character that is not blank.
    pub(super) fn solid_end(&self) -> usize {
        self.solid
    }

    /// The last character.
    pub(super) fn last(&self) -> Option<char> {
        self.content.chars().next_back()
    }

    /// Whether a block is open; it is once it has text.
    pub(super) fn is_open(&self) -> bool {
        self.open.is_some()
    }

    /// Begins a block after a blank line and returns where. `counted` is whether it is an item of an ordered
    /// list, whose number is not part of the Text.
    pub(super) fn begin(&mut self, kind: BlockKind, counted: bool) -> usize {
        self.close();
        if !self.content.is_empty() {
            self.content.push_str("\n\n");
        }
        let start = self.content.len();
        self.open = Some((kind, start));
        if counted {
            self.numbered.push(start);
        }
        if self.quotations > 0 {
            self.quotation_start.get_or_insert(start);
        }
        start
    }

    /// Ends the open block.
    pub(super) fn close(&mut self) {
        if let Some((kind, start)) = self.open.take()
            && self.quotations == 0
        {
            self.push(kind, start);
        }
    }

    /// Begins a block quotation.
    pub(super) fn enter_quotation(&mut self) {
        self.close();
        self.quotations += 1;
    }

    /// Ends a block quotation, if one is open.
    pub(super) fn leave_quotation(&mut self) {
        self.close();
        self.quotations = self.quotations.saturating_sub(1);
        if self.quotations == 0
            && let Some(start) = self.quotation_start.take()
        {
            self.push(BlockKind::BlockQuotation, start);
        }
    }

    /// Writes characters into the open block. `file_start` is the position of the first byte in the file, if
    /// the characters stand there byte for byte.
    pub(super) fn write(&mut self, text: &str, file_start: Option<usize>) {
        let start = self.content.len();
        self.content.push_str(text);
        match text.trim_end().len() {
            0 => {}
            solid => self.solid = start + solid,
        }
        if let Some(file_start) = file_start
            && !text.is_empty()
        {
            self.add_piece(ByteRange::of(start, self.content.len()), file_start);
        }
    }

    /// Removes blank characters from the end.
    pub(super) fn take_back(&mut self, is_blank: impl Fn(char) -> bool) {
        let end = self.content.trim_end_matches(is_blank).len();
        self.content.truncate(end);
        self.solid = self.solid.min(end);
        while let Some(last) = self.pieces.last_mut() {
            if last.text.end() <= end {
                break;
            }
            if last.text.start() >= end {
                self.pieces.pop();
            } else {
                last.text = ByteRange::of(last.text.start(), end);
            }
        }
    }

    /// A footnote of this name is called at a position.
    pub(super) fn call(&mut self, at: usize, name: &str) {
        self.calls.push((at, name.to_owned()));
    }

    /// The text of a footnote was written from a position on. Of two with one name the first counts.
    pub(super) fn note(&mut self, name: String, start: usize) {
        if let Some(range) = self.solid_from(start) {
            self.notes.entry(name).or_insert(range);
        }
    }

    /// A page begins after what is written.
    pub(super) fn page(&mut self, label: PageLabel) {
        let mark = ByteRange::of(self.solid, self.solid);
        self.breaks.push(PageStart { label, mark });
    }

    /// Notes that positions from `start` on, up to the next such file, belong to a file that the document
    /// includes.
    pub(super) fn include(&mut self, path: PathBuf, lines: FileLines, start: usize) {
        let start = place(start);
        self.included.push(Included { path, start, lines });
    }

    /// The finished Text. `origin` is how the characters that were read came from the file.
    pub(super) fn finish(mut self, origin: &Origin) -> Text {
        while self.quotations > 0 {
            self.leave_quotation();
        }
        self.close();
        let origin = match origin {
            Origin::Same { skipped } => {
                for piece in &mut self.pieces {
                    piece.file_start = piece.file_start.saturating_add(*skipped);
                }
                for file in &mut self.included {
                    file.start = file.start.saturating_add(*skipped);
                }
                Origin::Pieces {
                    pieces: self.pieces,
                    included: self.included,
                }
            }
            Origin::Decoded { .. } => Origin::Decoded {
                pieces: self.pieces,
                included: self.included,
            },
            _ => Origin::Recoded,
        };
        let notes = self.notes;
        let calls = self.calls.into_iter().filter_map(|(at, name)| {
            let note = *notes.get(&name)?;
            Some(NoteCall { at, note })
        });
        let draft = Draft {
            content: self.content,
            blocks: self.blocks,
            breaks: Breaks::BesideMarks(self.breaks),
            calls: calls.collect(),
            numbered: self.numbered,
        };
        draft.text(origin)
    }

    /// Adds a piece, or extends the one before where both texts continue from there.
    fn add_piece(&mut self, text: ByteRange, file_start: usize) {
        if let Some(last) = self.pieces.last_mut()
            && last.text.end() == text.start()
            && last.file_start as usize + last.text.len() == file_start
        {
            last.text = last.text.hull(text);
        } else {
            let file_start = place(file_start);
            self.pieces.push(Piece { text, file_start });
        }
    }

    /// Adds the block from a position to the end of what is written.
    fn push(&mut self, kind: BlockKind, start: usize) {
        if let Some(range) = self.solid_from(start) {
            self.blocks.push(Block { kind, range });
        }
    }

    /// What is written from a position on, without the blank space around it; `None` where there is only
    /// blank space.
    fn solid_from(&self, start: usize) -> Option<ByteRange> {
        let written = self.content.get(start..self.solid)?;
        let start = self.solid - written.trim_start().len();
        (start < self.solid).then(|| ByteRange::of(start, self.solid))
    }
}

/// A position in the file. Reading refuses files whose positions don't fit into 32 bits.
fn place(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blocks_quotations_notes_and_pieces() {
        let mut builder = Builder::with_capacity(100);
        builder.begin(BlockKind::Paragraph, false);
        builder.write("Lamps", Some(0));
        builder.write(" dim", Some(5));
        builder.write("  ", Some(9));
        builder.call(builder.solid_end(), "a");
        builder.page(PageLabel::new("12"));
        builder.take_back(|c| c == ' ');
        builder.enter_quotation();
        builder.begin(BlockKind::Paragraph, false);
        builder.write("One.", None);
        builder.begin(BlockKind::ListItem, true);
        builder.write("Two.", None);
        builder.leave_quotation();
        let start = builder.begin(BlockKind::Footnote, false);
        builder.write("A note.\n", Some(20));
        builder.note("a".to_owned(), start);
        builder.note("a".to_owned(), 0);
        // Blanks alone make neither a block nor a note.
        let start = builder.begin(BlockKind::Paragraph, false);
        builder.write(" \n", None);
        builder.note("b".to_owned(), start);
        let text = builder.finish(&Origin::Same { skipped: 3 });
        assert_eq!(
            text.content(),
            "Lamps dim\n\nOne.\n\nTwo.\n\nA note.\n\n\n \n"
        );
        let blocks: Vec<_> = text
            .blocks()
            .iter()
            .map(|block| (block.kind.name(), text.slice(block.range)))
            .collect();
        assert_eq!(
            blocks,
            [
                ("paragraph", "Lamps dim"),
                ("block quotation", "One.\n\nTwo."),
                ("footnote", "A note."),
            ]
        );
        assert_eq!(text.slice(text.note_calls()[0].note), "A note.");
        assert_eq!(text.note_calls()[0].at, 9);
        assert_eq!(text.pages().at(9).map(PageLabel::as_str), Some("12"));
        let range = |start, end| text.origin().file_range(ByteRange::of(start, end));
        assert_eq!(range(0, 9), Some(ByteRange::new(3, 12)));
        assert_eq!(range(11, 15), None);
    }

    #[test]
    fn breaks_of_the_file_and_marks_that_were_typed() {
        let start = |at: usize| PageStart {
            label: PageLabel::new("1"),
            mark: ByteRange::of(at, at),
        };
        let labels = |content: &str, breaks| {
            let block = Block {
                kind: BlockKind::Paragraph,
                range: ByteRange::of(0, content.len()),
            };
            let mut draft = Draft::of(content.to_owned(), vec![block]);
            draft.breaks = breaks;
            let text = draft.text(Origin::Recoded);
            let at = |at| text.pages().at(at).map(ToString::to_string);
            (at(0), at(content.len()))
        };
        let one = || Some("1".to_owned());
        let seven = || Some("7".to_owned());
        let marked = "Moths.\n\n[p. 7] Lamps";
        for (content, breaks, expected) in [
            (
                marked,
                Breaks::BesideMarks(vec![start(0)]),
                (one(), seven()),
            ),
            (marked, Breaks::UnlessMarks(vec![start(0)]), (None, seven())),
            (
                "Moths.",
                Breaks::UnlessMarks(vec![start(0)]),
                (one(), one()),
            ),
        ] {
            assert_eq!(labels(content, breaks), expected);
        }
    }
}
