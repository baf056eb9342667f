//! Plain text. The Text is the file byte for byte. Blocks are recognised by blank lines, indents and the
//! habits of people who type without markup:
//!
//! 1. Lines that are not blank make a paragraph; page marks on lines of their own belong to none.
//! 2. A heading is underlined (`===`, `---`), or begins with `#`, or is a single short line without end mark
//!    between finished paragraphs. The last is a guess, so it has to meet several conditions ([`headings`]).
//! 3. Items begin with `- `, `* `, `+ `, `• ` or a number; the sign is left out of the block.
//! 4. A block quotation begins every line with `>`, or with four blanks or a tab where the document's
//!    ordinary paragraphs do not.

mod headings;

use memchr::memchr2_iter;

use super::builder::Draft;
use super::{pages, reference_list};
use crate::text::{Block, BlockKind, ByteRange, Origin, PageStart, Text};

/// Reads plain text.
pub(super) fn read(content: String, origin: Origin) -> Text {
    let marks = pages::find(&content);
    let lines = lines(&content, &marks);
    let blocks = Blocks::of(&content, &lines);
    Draft::of(content, blocks).text(origin)
}

/// A line that is neither blank nor a page mark.
#[derive(Clone, Copy)]
struct Line {
    /// Without the blank space around it.
    range: ByteRange,
    /// Blanks before it; a tab counts four.
    indent: u32,
    /// Whether a blank line or the start of the file is above.
    starts_paragraph: bool,
    /// Whether a page mark stands between the line above and this one, or at its start.
    starts_page: bool,
}

fn lines(content: &str, marks: &[PageStart]) -> Vec<Line> {
    // The usual length of a line, roughly.
    let mut lines = Vec::with_capacity(content.len() / 64);
    let (mut starts_paragraph, mut starts_page) = (true, false);
    let mut start = 0;
    let ends = memchr2_iter(b'\n', b'\r', content.as_bytes());
    for end in ends.chain(std::iter::once(content.len())) {
        let line = content.get(start..end).unwrap_or_default();
        // Between the two halves of CRLF there is no line.
        let half = line.is_empty()
            && content.get(..start).is_some_and(|c| c.ends_with('\r'))
            && content.get(end..).is_some_and(|c| c.starts_with('\n'));
        let solid = line.trim();
        let first = start + (line.len() - line.trim_start().len());
        let range = ByteRange::of(first, first + solid.len());
        if solid.is_empty() {
            starts_paragraph |= !half;
        } else {
            let mark = mark_at(range, marks);
            starts_page |= mark.is_some();
            if mark != Some(range) {
                let blanks = line.bytes().take(first - start);
                let indent = blanks.map(|byte| if byte == b'\t' { 4 } else { 1 }).sum();
                lines.push(Line {
                    range,
                    indent,
                    starts_paragraph,
                    starts_page,
                });
                (starts_paragraph, starts_page) = (false, false);
            }
        }
        start = end + 1;
    }
    lines
}

/// The page mark a line starts with.
fn mark_at(line: ByteRange, marks: &[PageStart]) -> Option<ByteRange> {
    let index = marks.binary_search_by_key(&line.start(), |page| page.mark.start());
    index
        .ok()
        .and_then(|index| marks.get(index))
        .map(|page| page.mark)
}

/// Builds the blocks, paragraph by paragraph.
struct Blocks<'a> {
    content: &'a str,
    /// Whether an indent on every line sets a paragraph off from the others.
    indent_quotes: bool,
    found: Vec<Block>,
}

impl<'a> Blocks<'a> {
    fn of(content: &'a str, lines: &[Line]) -> Vec<Block> {
        let mut paragraphs = lines.chunk_by(|_, next| !next.starts_paragraph).peekable();
        let mut blocks = Self {
            content,
            indent_quotes: indents_set_off(content, lines),
            found: Vec::new(),
        };
        while let Some(paragraph) = paragraphs.next() {
            blocks.add(paragraph, paragraphs.peek().copied());
        }
        blocks.found
    }

    fn slice(&self, line: &Line) -> &'a str {
        self.content.get(line.range.as_range()).unwrap_or_default()
    }

    fn push(&mut self, kind: BlockKind, range: ByteRange) {
        self.found.push(Block { kind, range });
    }

    fn add(&mut self, paragraph: &[Line], next: Option<&[Line]>) {
        let mut paragraph = self.take_marked_headings(paragraph, next);
        if let [first, rest @ ..] = paragraph
            && !(rest.is_empty() && next.is_none())
            && reference_list::is_heading(self.slice(first))
        {
            self.push(BlockKind::Heading { level: 2 }, first.range);
            paragraph = rest;
        }
        if let [only] = paragraph
            && let Some(level) = self.lone_heading(only, next)
        {
            self.push(BlockKind::Heading { level }, only.range);
            return;
        }
        let (Some(first), Some(last)) = (paragraph.first(), paragraph.last()) else {
            return;
        };
        let whole = first.range.hull(last.range);
        if !self.has_word(whole) {
            return;
        }
        if paragraph
            .iter()
            .all(|line| self.slice(line).starts_with('>'))
        {
            self.push(BlockKind::BlockQuotation, whole);
        } else if !self.add_list(paragraph) {
            if self.indent_quotes && is_indented(paragraph) {
                self.add_indented(whole);
            } else {
                self.push(BlockKind::Paragraph, whole);
            }
        }
    }

    /// Whether a range holds a letter or digit. Lines that are only a rule or stars hold none.
    fn has_word(&self, range: ByteRange) -> bool {
        let slice = self.content.get(range.as_range()).unwrap_or_default();
        slice.chars().any(char::is_alphanumeric)
    }

    /// An indented paragraph: part of the block quotation or list item before it, or a block quotation.
    fn add_indented(&mut self, range: ByteRange) {
        match self.found.last_mut() {
            Some(last) if last.kind == BlockKind::BlockQuotation => {
                last.range = last.range.hull(range);
            }
            Some(last) if last.kind == BlockKind::ListItem => {
                self.push(BlockKind::ListItem, range);
            }
            _ => self.push(BlockKind::BlockQuotation, range),
        }
    }

    /// Adds a paragraph that is a list, or a line that ends with a colon followed by a list. `false` where it
    /// is neither.
    fn add_list(&mut self, paragraph: &[Line]) -> bool {
        let starts_item = |line: &Line| item_sign(self.slice(line)).is_some();
        let Some(first) = paragraph.iter().position(starts_item) else {
            return false;
        };
        let (lead, items) = paragraph.split_at(first);
        if let (Some(from), Some(to)) = (lead.first(), lead.last()) {
            if !self.slice(to).ends_with(':') {
                return false;
            }
            self.push(BlockKind::Paragraph, from.range.hull(to.range));
        }
        for line in items {
            match (item_sign(self.slice(line)), self.found.last_mut()) {
                (None, Some(last)) => last.range = last.range.hull(line.range),
                (sign, _) => {
                    let start = line.range.start() + sign.unwrap_or_default();
                    let range = ByteRange::of(start, line.range.end());
                    self.push(BlockKind::ListItem, range);
                }
            }
        }
        true
    }
}

/// The length of the sign of a list item and the blanks after it.
fn item_sign(line: &str) -> Option<usize> {
    let behind = match line.strip_prefix(['-', '*', '+', '•', '◦', '▪']) {
        Some(behind) => behind,
        None => {
            let behind = line.trim_start_matches(|c: char| c.is_ascii_digit());
            // Four digits are more likely a year.
            let digits = line.len() - behind.len();
            if !(1..=3).contains(&digits) {
                return None;
            }
            behind.strip_prefix(['.', ')'])?
        }
    };
    let item = behind.trim_start();
    (item.len() < behind.len() && !item.is_empty()).then_some(line.len() - item.len())
}

/// Whether indents set paragraphs off: there are no more indented stretches than finished paragraphs without
/// an indent. Where every paragraph is indented, only headings are not, and those have no end mark.
fn indents_set_off(content: &str, lines: &[Line]) -> bool {
    let (mut indented, mut flush) = (0, 0);
    let mut inside = false;
    for paragraph in lines.chunk_by(|_, next| !next.starts_paragraph) {
        let was_inside = std::mem::replace(&mut inside, is_indented(paragraph));
        let text = paragraph
            .last()
            .and_then(|line| content.get(line.range.as_range()));
        if inside {
            indented += usize::from(!was_inside);
        } else if text.is_some_and(pages::ends_sentence) {
            flush += 1;
        }
    }
    indented <= flush
}

fn is_indented(paragraph: &[Line]) -> bool {
    paragraph.iter().all(|line| line.indent >= 4)
}

#[cfg(test)]
mod tests;
