//! Sentences.
//!
//! 1. A heading or an entry of a reference list is one sentence, a row of a table is one; code has none.
//! 2. In every other block an end mark (`.`, `!`, `?`, `…` and the like) is a *stop*. The closing marks and
//!    note numbers after it belong to it (`stop`).
//! 3. A stop ends a sentence if a blank follows and the text before and after allows it
//!    (`BlockView::ends_sentence`): abbreviations, initials, ellipses and list numbers prevent it
//!    (`abbreviations`), and so does a small letter after it.
//! 4. A citation in brackets after the stop belongs to the sentence before.
//! 5. A line end is a blank like any other; a blank line inside a block ends a sentence, unless the
//!    gap is there for a page mark.
//!
//! The rules are for English, our own, and limited to what a table of cases shows.

mod abbreviations;
mod follow;
mod stop;

use super::{BlockKind, ByteRange, Text, WordRange};
use stop::Stop;

/// One sentence, or one heading or list item without end mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sentence {
    /// Where it stands, with its end mark and closing quotation marks.
    pub range: ByteRange,
    /// Its words, at least one.
    pub words: WordRange,
    /// The block it belongs to, as an index into [`Text::blocks`].
    pub block: u32,
}

/// The sentences of a Text in order. They never cross a block, and every word lies in exactly one.
/// `words` are the words of the same Text.
#[must_use]
pub(crate) fn sentences(text: &Text, words: &[ByteRange]) -> Vec<Sentence> {
    // An English sentence takes about 120 bytes.
    let mut found = Vec::with_capacity(text.content().len() / 120);
    let mut word = 0;
    let mut covered = 0;
    for (index, block) in (0..).zip(text.blocks()) {
        let range = ByteRange::of(block.range.start().max(covered), block.range.end());
        covered = covered.max(range.end());
        let stretches: Vec<ByteRange> = match block.kind {
            BlockKind::Code => continue,
            BlockKind::Table => cells(text.content(), range).collect(),
            _ => vec![range],
        };
        for stretch in stretches {
            let mut cutter = Cutter {
                block: BlockView::new(text, stretch),
                words,
                index,
                start: stretch.start(),
                word,
                found: &mut found,
            };
            if !matches!(
                block.kind,
                BlockKind::Heading { .. } | BlockKind::ReferenceListItem
            ) {
                cutter.cut_sentences();
            }
            cutter.cut(stretch.end());
            word = cutter.word;
        }
    }
    found
}

/// The cells of a table: readers put a tab between two cells of a row and a line end between rows.
pub(super) fn cells(content: &str, table: ByteRange) -> impl Iterator<Item = ByteRange> + '_ {
    let inside = content.get(table.as_range()).unwrap_or_default();
    let mut start = table.start();
    inside.split(['\t', '\n']).map(move |cell| {
        let from = start;
        start += cell.len() + 1;
        ByteRange::of(from, from + cell.len())
    })
}

/// What the rules see of a block.
struct BlockView<'a> {
    /// The content up to the block's end; positions are those of the Text.
    content: &'a str,
    start: usize,
    marks: Vec<ByteRange>,
}

/// The blank space between two sentences.
struct Gap {
    end: usize,
    line_ends: usize,
    page_mark: bool,
}

impl<'a> BlockView<'a> {
    fn new(text: &'a Text, range: ByteRange) -> Self {
        Self {
            content: text.content().get(..range.end()).unwrap_or_default(),
            start: range.start(),
            marks: text.pages().marks_in(range).collect(),
        }
    }

    /// The text from a position to the end of the block.
    fn rest(&self, at: usize) -> &'a str {
        self.content.get(at..).unwrap_or_default()
    }

    fn char_at(&self, at: usize) -> Option<char> {
        self.rest(at).chars().next()
    }

    fn char_before(&self, at: usize) -> Option<char> {
        self.content.get(self.start..at)?.chars().next_back()
    }

    /// The page mark that starts or continues at a position.
    fn mark_at(&self, at: usize) -> Option<ByteRange> {
        let index = self.marks.partition_point(|mark| mark.end() <= at);
        self.marks
            .get(index)
            .copied()
            .filter(|mark| mark.contains(at))
    }

    /// The blank space and page marks from a position on.
    fn gap(&self, from: usize) -> Gap {
        let mut gap = Gap {
            end: from,
            line_ends: 0,
            page_mark: false,
        };
        while let Some(c) = self.char_at(gap.end) {
            if c.is_whitespace() {
                let pair = c == '\r' && self.char_at(gap.end + 1) == Some('\n');
                gap.line_ends += usize::from(matches!(c, '\n' | '\r') && !pair);
                gap.end += c.len_utf8();
            } else if let Some(mark) = self.mark_at(gap.end).filter(|_| c == '[') {
                gap.page_mark = true;
                gap.end = mark.end();
            } else {
                break;
            }
        }
        gap
    }
}

/// Cuts one block.
struct Cutter<'a, 'f> {
    block: BlockView<'a>,
    words: &'a [ByteRange],
    index: u32,
    /// Where the current sentence starts.
    start: usize,
    /// The first word that is in no sentence yet.
    word: usize,
    found: &'f mut Vec<Sentence>,
}

impl Cutter<'_, '_> {
    fn cut_sentences(&mut self) {
        let mut at = self.start;
        while let Some(found) = stop::next(self.block.content.as_bytes(), at) {
            at = if let Some(mark) = self.block.mark_at(found) {
                mark.end()
            } else if matches!(self.block.char_at(found), Some('\n' | '\r')) {
                let gap = self.block.gap(found);
                if gap.line_ends > 1 && !gap.page_mark {
                    self.cut(found);
                }
                gap.end
            } else if let Some(stop) = Stop::at(&self.block, found) {
                match self.block.ends_sentence(&stop, self.start) {
                    Some(end) => {
                        self.cut(end);
                        end
                    }
                    None => stop.end,
                }
            } else {
                found + self.block.char_at(found).map_or(1, char::len_utf8)
            };
        }
    }

    /// Ends the current sentence. A sentence without words continues instead, so that a lone ellipsis or
    /// bracket becomes part of the next one.
    fn cut(&mut self, end: usize) {
        let rest = self.words.get(self.word..).unwrap_or_default();
        let count = rest.iter().take_while(|word| word.start() < end).count();
        let Some([.., last]) = rest.get(..count) else {
            return;
        };
        if last.end() > end {
            return;
        }
        let start = self.block.gap(self.start).end;
        self.found.push(Sentence {
            range: ByteRange::of(start, self.trimmed_end(end)),
            words: WordRange::of(self.word, self.word + count),
            block: self.index,
        });
        self.word += count;
        self.start = end;
    }

    /// The end without blank space and page marks.
    fn trimmed_end(&self, end: usize) -> usize {
        let mut end = end;
        loop {
            let before = self.block.content.get(..end).unwrap_or_default();
            let trimmed = before.trim_end().len();
            match trimmed
                .checked_sub(1)
                .and_then(|last| self.block.mark_at(last))
            {
                Some(mark) => end = mark.start(),
                None => return trimmed,
            }
        }
    }
}

#[cfg(test)]
mod tests;
