//! What readers of marked-up formats write a Text with: characters with the place they had in the
//! file, blocks, footnotes and their calls, page breaks. Blank space is set as in running text: of a run
//! of blanks one is kept, a line end if the run had one, none at the borders of a block. Blocks stand
//! apart by a blank line. What stands in a block quotation, however nested, is one block.

use std::collections::HashMap;
use std::path::PathBuf;

use super::{pages, reference_list};
use crate::text::{
    Block, BlockKind, ByteRange, FileLines, Included, NoteCall, Origin, PageLabel, PageStart,
    Pages, Piece, Text,
};

/// A Text in the making.
#[derive(Default)]
pub(super) struct Assembly {
    out: String,
    blocks: Vec<Block>,
    pieces: Vec<Piece>,
    /// The block at hand and where it starts, once it has text.
    open: Option<(BlockKind, usize)>,
    /// What the next block is.
    next: Option<BlockKind>,
    /// Whether the next block is an item whose number its format writes.
    counted: bool,
    /// Where such items start.
    numbered: Vec<usize>,
    /// How many block quotations are open, and where the outermost has its first text.
    quotations: usize,
    quotation_start: Option<usize>,
    /// The name of the note being written and where its text starts.
    note: Option<(String, Option<usize>)>,
    calls: Vec<(usize, String)>,
    notes: HashMap<String, ByteRange>,
    pages: Vec<PageStart>,
    included: Vec<Included>,
}

impl Assembly {
    /// Says that places from `start` on, up to the next such file, are those of a file that the document
    /// includes.
    pub(super) fn include(&mut self, path: PathBuf, lines: FileLines, start: usize) {
        // Reading refuses files whose positions don't fit into 32 bits.
        let start = u32::try_from(start).unwrap_or(u32::MAX);
        self.included.push(Included { path, start, lines });
    }

    /// Ends the block at hand; the next text begins one of this kind.
    pub(super) fn block(&mut self, kind: BlockKind) {
        self.end_block();
        self.next = Some(kind);
    }

    /// Says that the next block is an item of an ordered list, whose number is no character of the Text.
    pub(super) fn number(&mut self) {
        self.counted = true;
    }

    /// Ends the block at hand; what follows is a paragraph unless said otherwise.
    pub(super) fn end_block(&mut self) {
        self.next = None;
        self.counted = false;
        self.trim();
        if let Some((kind, start)) = self.open.take()
            && self.quotations == 0
        {
            self.push(kind, start);
        }
    }

    /// Begins a block quotation.
    pub(super) fn enter_quotation(&mut self) {
        self.end_block();
        self.quotations += 1;
    }

    /// Ends a block quotation.
    pub(super) fn leave_quotation(&mut self) {
        self.end_block();
        self.quotations = self.quotations.saturating_sub(1);
        if self.quotations == 0
            && let Some(start) = self.quotation_start.take()
        {
            self.push(BlockKind::BlockQuotation, start);
        }
    }

    /// A footnote of this name is called here.
    pub(super) fn call(&mut self, name: &str) {
        let at = self.out.trim_end().len();
        self.calls.push((at, name.to_owned()));
    }

    /// Begins the text of a footnote; one that is open ends.
    pub(super) fn enter_note(&mut self, name: &str) {
        self.leave_note();
        self.note = Some((name.to_owned(), None));
    }

    /// Ends the text of a footnote.
    pub(super) fn leave_note(&mut self) {
        self.end_block();
        if let Some((name, Some(start))) = self.note.take() {
            let end = self.out.trim_end().len();
            self.notes.entry(name).or_insert(ByteRange::of(start, end));
        }
    }

    /// A page begins here.
    pub(super) fn page(&mut self, label: &str) {
        let at = self.out.trim_end().len();
        let mark = ByteRange::of(at, at);
        let label = PageLabel::new(label);
        if !label.as_str().is_empty() && label.as_str().len() <= 20 {
            self.pages.push(PageStart { label, mark });
        }
    }

    /// Writes running text; `file_start` is the place of its first byte in the file, where it stands there byte
    /// for byte.
    pub(super) fn flow(&mut self, text: &str, file_start: Option<usize>) {
        let mut at = 0;
        while at < text.len() {
            let rest = text.get(at..).unwrap_or_default();
            let blank = rest.len() - rest.trim_start_matches(is_blank).len();
            if blank > 0 {
                self.blank(rest.get(..blank).unwrap_or_default(), place(file_start, at));
                at += blank;
            } else {
                let solid = rest.find(is_blank).unwrap_or(rest.len());
                let word = rest.get(..solid).unwrap_or_default();
                self.write(word, place(file_start, at));
                at += solid.max(1);
            }
        }
    }

    /// Writes text as it stands, blanks and line ends included.
    pub(super) fn verbatim(&mut self, text: &str, file_start: Option<usize>) {
        let start = self.open.map_or_else(
            || text.len() - text.trim_start_matches(['\n', '\r']).len(),
            |_| 0,
        );
        self.write(
            text.get(start..).unwrap_or_default(),
            place(file_start, start),
        );
    }

    /// Whether the block at hand has text.
    pub(super) fn has_text(&self) -> bool {
        self.open.is_some()
    }

    /// The last character of the block at hand.
    pub(super) fn last(&self) -> Option<char> {
        self.open.and_then(|_| self.out.chars().next_back())
    }

    /// Takes back blank space at the end of the block at hand.
    pub(super) fn trim(&mut self) {
        if self.open.is_some() {
            self.out.truncate(self.out.trim_end_matches(is_blank).len());
            let end = self.out.len();
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
    }

    /// The Text. `origin` says how the characters that were read came from the file.
    pub(super) fn finish(mut self, origin: &Origin) -> Text {
        self.leave_note();
        while self.quotations > 0 {
            self.leave_quotation();
        }
        self.end_block();
        let mut marks = pages::find(&self.out);
        marks.append(&mut self.pages);
        marks.sort_by_key(|start| start.mark);
        let blocks = pages::join_broken(&self.out, &marks, self.blocks);
        let blocks = reference_list::mark(&self.out, blocks);
        let origin = match origin {
            Origin::Same { skipped } => Origin::Pieces {
                pieces: behind(self.pieces, *skipped),
                included: self.included.into_iter().map(later(*skipped)).collect(),
            },
            _ => Origin::Recoded,
        };
        let notes = self.notes;
        let calls = self.calls.into_iter().filter_map(|(at, name)| {
            let note = *notes.get(&name)?;
            Some(NoteCall { at, note })
        });
        let calls = calls.collect();
        let text = Text::new(self.out, blocks, Pages::new(marks), origin).with_note_calls(calls);
        let numbered = reference_list::is_numbered(text.blocks(), &self.numbered);
        text.with_numbered_references(numbered)
    }

    fn blank(&mut self, blank: &str, file_start: Option<usize>) {
        let ends_blank = self.out.ends_with(is_blank);
        if self.open.is_none() || ends_blank {
            return;
        }
        let kept = if blank.contains(['\n', '\r']) {
            "\n"
        } else {
            " "
        };
        // Kept in the piece where the file has just this.
        let same = blank == kept;
        self.write(kept, file_start.filter(|_| same));
    }

    fn write(&mut self, text: &str, file_start: Option<usize>) {
        if text.is_empty() {
            return;
        }
        if self.open.is_none() {
            if !self.out.is_empty() {
                self.out.push_str("\n\n");
            }
            let in_note = self.note.is_some().then_some(BlockKind::Footnote);
            let kind = in_note.or(self.next.take()).unwrap_or(BlockKind::Paragraph);
            let start = self.out.len();
            self.open = Some((kind, start));
            if std::mem::take(&mut self.counted) {
                self.numbered.push(start);
            }
            if self.quotations > 0 {
                self.quotation_start.get_or_insert(start);
            }
            if let Some((_, note_start)) = &mut self.note {
                note_start.get_or_insert(start);
            }
        }
        let start = self.out.len();
        self.out.push_str(text);
        if let Some(file_start) = file_start {
            self.add_piece(ByteRange::of(start, self.out.len()), file_start);
        }
    }

    /// Adds a piece, to the one before where both texts go on from there.
    fn add_piece(&mut self, text: ByteRange, file_start: usize) {
        if let Some(last) = self.pieces.last_mut()
            && last.text.end() == text.start()
            && last.file_start as usize + last.text.len() == file_start
        {
            last.text = last.text.hull(text);
        } else {
            // Reading refuses files whose positions don't fit into 32 bits.
            let file_start = u32::try_from(file_start).unwrap_or(u32::MAX);
            self.pieces.push(Piece { text, file_start });
        }
    }

    fn push(&mut self, kind: BlockKind, start: usize) {
        let written = self.out.get(start..).unwrap_or_default();
        let solid = written.trim_start();
        let start = self.out.len() - solid.len();
        let end = start + solid.trim_end().len();
        if start < end {
            let range = ByteRange::of(start, end);
            self.blocks.push(Block { kind, range });
        }
    }
}

/// Blank space that markup may break or double at will; a no-break space is none.
fn is_blank(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\n' | '\r' | '\x0C')
}

fn place(file_start: Option<usize>, at: usize) -> Option<usize> {
    file_start.map(|start| start + at)
}

/// The same included file behind a document with so many bytes before its content.
fn later(skipped: u32) -> impl Fn(Included) -> Included {
    move |file| Included {
        start: file.start.saturating_add(skipped),
        ..file
    }
}

/// The same pieces in a file with so many bytes before the content.
fn behind(mut pieces: Vec<Piece>, skipped: u32) -> Vec<Piece> {
    for piece in &mut pieces {
        piece.file_start = piece.file_start.saturating_add(skipped);
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blanks_blocks_notes_and_places() {
        let mut assembly = Assembly::default();
        assembly.block(BlockKind::Heading { level: 1 });
        assembly.flow("  Lamps ", Some(0));
        assembly.end_block();
        assembly.flow("The moth  came\n\n to", Some(20));
        assembly.flow(" ", None);
        assembly.call("a");
        assembly.flow(" it.", Some(40));
        assembly.enter_quotation();
        assembly.flow("One.", None);
        assembly.end_block();
        assembly.flow("Two.", None);
        assembly.leave_quotation();
        assembly.enter_note("a");
        assembly.flow("A note.", None);
        let text = assembly.finish(&Origin::Same { skipped: 3 });
        assert_eq!(
            text.content(),
            "Lamps\n\nThe moth came\nto it.\n\nOne.\n\nTwo.\n\nA note."
        );
        let blocks: Vec<_> = text
            .blocks()
            .iter()
            .map(|block| (block.kind.name(), text.slice(block.range)))
            .collect();
        assert_eq!(
            blocks,
            [
                ("heading", "Lamps"),
                ("paragraph", "The moth came\nto it."),
                ("block quotation", "One.\n\nTwo."),
                ("footnote", "A note."),
            ]
        );
        let call = text.note_calls()[0];
        assert_eq!(&text.content()[..call.at], "Lamps\n\nThe moth came\nto");
        assert_eq!(text.slice(call.note), "A note.");
        let came = text.content().find("came").unwrap();
        assert_eq!(
            text.origin().file_range(ByteRange::of(came, came + 4)),
            Some(ByteRange::new(33, 37))
        );
    }
}
