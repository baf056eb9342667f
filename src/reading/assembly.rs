//! Writes the Text of marked-up formats, on top of the [`Builder`]. Blank space is set as in running text: of
//! several blanks one is kept, or a line end if there was one among them, and none at the edges of a block. A
//! block begins with its first text; its kind is set before.

use std::path::PathBuf;

use super::builder::Builder;
use crate::text::{BlockKind, FileLines, Origin, PageLabel, Text};

/// A Text under construction.
#[derive(Default)]
pub(super) struct Assembly {
    out: Builder,
    /// What the next block is.
    next: Option<BlockKind>,
    /// Whether the next block is an item that its format numbers.
    counted: bool,
    /// The name of the note being written and where its text starts.
    note: Option<(String, Option<usize>)>,
}

impl Assembly {
    /// Notes that positions from `start` on, up to the next such file, belong to a file that the document
    /// includes.
    pub(super) fn include(&mut self, path: PathBuf, lines: FileLines, start: usize) {
        self.out.include(path, lines, start);
    }

    /// Ends the open block; the next text begins one of this kind.
    pub(super) fn block(&mut self, kind: BlockKind) {
        self.end_block();
        self.next = Some(kind);
    }

    /// Notes that the next block is an item of an ordered list. Its number is not part of the Text.
    pub(super) fn number(&mut self) {
        self.counted = true;
    }

    /// Ends the open block. A paragraph follows unless another kind is set.
    pub(super) fn end_block(&mut self) {
        self.next = None;
        self.counted = false;
        self.trim();
        self.out.close();
    }

    /// Begins a block quotation.
    pub(super) fn enter_quotation(&mut self) {
        self.end_block();
        self.out.enter_quotation();
    }

    /// Ends a block quotation.
    pub(super) fn leave_quotation(&mut self) {
        self.end_block();
        self.out.leave_quotation();
    }

    /// A footnote of this name is called here.
    pub(super) fn call(&mut self, name: &str) {
        self.out.call(self.out.solid_end(), name);
    }

    /// Begins the text of a footnote and ends an open one.
    pub(super) fn enter_note(&mut self, name: &str) {
        self.leave_note();
        self.note = Some((name.to_owned(), None));
    }

    /// Ends the text of a footnote.
    pub(super) fn leave_note(&mut self) {
        self.end_block();
        if let Some((name, Some(start))) = self.note.take() {
            self.out.note(name, start);
        }
    }

    /// A page begins here.
    pub(super) fn page(&mut self, label: &str) {
        let label = PageLabel::new(label);
        if !label.as_str().is_empty() && label.as_str().len() <= 20 {
            self.out.page(label);
        }
    }

    /// Writes running text. `file_start` is the position of its first byte in the file, if the text stands
    /// there byte for byte.
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

    /// Writes text unchanged, blanks and line ends included.
    pub(super) fn verbatim(&mut self, text: &str, file_start: Option<usize>) {
        let start = if self.out.is_open() {
            0
        } else {
            text.len() - text.trim_start_matches(['\n', '\r']).len()
        };
        self.write(
            text.get(start..).unwrap_or_default(),
            place(file_start, start),
        );
    }

    /// Whether the open block has text.
    pub(super) fn has_text(&self) -> bool {
        self.out.is_open()
    }

    /// The last character of the open block.
    pub(super) fn last(&self) -> Option<char> {
        self.out.last().filter(|_| self.out.is_open())
    }

    /// Removes blank space at the end of the open block.
    pub(super) fn trim(&mut self) {
        if self.out.is_open() {
            self.out.take_back(is_blank);
        }
    }

    /// The finished Text. `origin` is how the characters that were read came from the file.
    pub(super) fn finish(mut self, origin: &Origin) -> Text {
        self.leave_note();
        self.out.finish(origin)
    }

    fn blank(&mut self, blank: &str, file_start: Option<usize>) {
        if self.last().is_none_or(is_blank) {
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
        if !self.out.is_open() {
            let in_note = self.note.is_some().then_some(BlockKind::Footnote);
            let kind = in_note.or(self.next.take()).unwrap_or(BlockKind::Paragraph);
            let counted = std::mem::take(&mut self.counted);
            let start = self.out.begin(kind, counted);
            if let Some((_, note_start)) = &mut self.note {
                note_start.get_or_insert(start);
            }
        }
        self.out.write(text, file_start);
    }
}

/// Blank space that markup may break or double freely; a no-break space is not part of it.
fn is_blank(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\n' | '\r' | '\x0C')
}

fn place(file_start: Option<usize>, at: usize) -> Option<usize> {
    file_start.map(|start| start + at)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::ByteRange;

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
