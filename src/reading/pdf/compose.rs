//! Blocks of lines to a [`Text`]: line ends, hyphens at line ends, pages, footnotes and their calls.
//!
//! Lines stay lines. A word that a hyphen breaks at a line end is joined on the upper line. It keeps its
//! hyphen where the document writes the word with one elsewhere. It loses the hyphen where the document
//! writes the word without one, or where the rule for words at line ends ([`joins`]) takes it for one word.
//! Footnotes come after the block in which their page ends, and after a quotation that is set off there.

use std::collections::BTreeMap;

use super::lines::Line;
use super::notes::Note;
use super::paragraphs::{Paragraph, TABLE_GAP, item_sign};
use crate::reading::reference_list;
use crate::text::words::joins;
use crate::text::{
    Block, BlockKind, ByteRange, NoteCall, Origin, PageLabel, PageStart, Pages, SheetStart, Text,
};
use crate::wording;

/// The material of a Text.
pub(super) struct Parts {
    pub paragraphs: Vec<Paragraph>,
    /// The footnotes of each page of the file.
    pub notes: Vec<Vec<Note>>,
    /// The printed number of each page of the file, where known.
    pub labels: Vec<Option<String>>,
}

/// Composes a Text.
pub(super) fn compose(parts: &Parts) -> Text {
    let mut composer = Composer {
        parts,
        content: String::new(),
        blocks: Vec::new(),
        pages: Vec::new(),
        sheets: Vec::new(),
        sheet: None,
        calls: Vec::new(),
        noted: BTreeMap::new(),
        known: Known::of(parts),
    };
    composer.all();
    let blocks = reference_list::mark(&composer.content, composer.blocks);
    Text::new(
        composer.content,
        blocks,
        Pages::new(composer.pages),
        Origin::Recoded,
    )
    .with_note_calls(composer.calls)
    .with_sheets(composer.sheets)
}

struct Composer<'p> {
    parts: &'p Parts,
    content: String,
    blocks: Vec<Block>,
    pages: Vec<PageStart>,
    sheets: Vec<SheetStart>,
    /// The sheet at the end of the content.
    sheet: Option<usize>,
    calls: Vec<NoteCall>,
    /// Calls by sheet and note that wait for their note.
    noted: BTreeMap<(usize, usize), usize>,
    known: Known,
}

impl Composer<'_> {
    fn all(&mut self) {
        let parts = self.parts;
        let mut next_notes = 0;
        for paragraph in &parts.paragraphs {
            let first = paragraph.lines.first().map_or(0, |(sheet, _)| *sheet);
            // A quotation that is set off belongs to the words that introduce it, even across a page break.
            let introduced = paragraph.kind == BlockKind::BlockQuotation;
            while next_notes < first && !introduced {
                self.notes(next_notes);
                next_notes += 1;
            }
            self.block(paragraph);
        }
        for sheet in next_notes..parts.notes.len() {
            self.notes(sheet);
        }
    }

    /// Records that a sheet begins at the end of the content.
    fn enter(&mut self, sheet: usize) {
        if self.sheet == Some(sheet) {
            return;
        }
        self.sheet = Some(sheet);
        let at = self.content.len();
        self.sheets.push(SheetStart {
            at,
            sheet: u32::try_from(sheet + 1).unwrap_or(u32::MAX),
        });
        if let Some(Some(label)) = self.parts.labels.get(sheet) {
            self.pages.push(PageStart {
                label: PageLabel::new(label),
                mark: ByteRange::of(at, at),
            });
        }
    }

    fn begin_block(&mut self) {
        if !self.content.is_empty() {
            self.content.push_str("\n\n");
        }
    }

    fn block(&mut self, paragraph: &Paragraph) {
        self.begin_block();
        let start = self.content.len();
        let lines: Vec<(usize, &Line)> = paragraph
            .lines
            .iter()
            .map(|(sheet, line)| (*sheet, line))
            .collect();
        self.lines(&lines, paragraph.kind == BlockKind::Table);
        let written = self.content.get(start..).unwrap_or_default();
        let sign = match paragraph.kind {
            BlockKind::ListItem => item_sign(written).map_or(0, |sign| sign.length),
            _ => 0,
        };
        self.end_block(paragraph.kind, start + sign);
    }

    fn end_block(&mut self, kind: BlockKind, start: usize) {
        let range = ByteRange::of(start, self.content.len());
        let slice = self.content.get(range.as_range()).unwrap_or_default();
        if slice.chars().any(char::is_alphanumeric) {
            self.blocks.push(Block { kind, range });
        }
    }

    fn notes(&mut self, sheet: usize) {
        let parts = self.parts;
        for (number, note) in parts.notes.get(sheet).into_iter().flatten().enumerate() {
            self.begin_block();
            let start = self.content.len();
            let lines: Vec<(usize, &Line)> = note.lines.iter().map(|line| (sheet, line)).collect();
            self.lines(&lines, false);
            self.end_block(BlockKind::Footnote, start);
            if let Some(at) = self.noted.remove(&(sheet, number)) {
                self.calls.push(NoteCall {
                    at,
                    note: ByteRange::of(start, self.content.len()),
                });
            }
        }
    }

    fn lines(&mut self, lines: &[(usize, &Line)], table: bool) {
        for (index, (sheet, line)) in lines.iter().enumerate() {
            if index > 0 && !self.close_hyphen(line) {
                self.content.push('\n');
            }
            self.enter(*sheet);
            self.words(*sheet, line, table);
        }
    }

    /// Joins a word broken at the end of the last line with its rest, with which `line` begins. The caller
    /// then writes that rest without a line end before it. Returns whether a word was joined.
    fn close_hyphen(&mut self, line: &Line) -> bool {
        let Some(head) = self.content.strip_suffix(['-', '\u{2010}', '\u{AD}']) else {
            return false;
        };
        let soft = self.content.ends_with('\u{AD}');
        let length = head.len();
        let left = last_word(head).to_owned();
        let text = line.text();
        let right = first_word(&text);
        if left.is_empty() || right.is_empty() {
            return false;
        }
        if soft || self.known.is_one_word(&left, right) {
            self.content.truncate(length);
        }
        true
    }

    fn words(&mut self, sheet: usize, line: &Line, table: bool) {
        for (index, word) in line.words.iter().enumerate() {
            if let Some(note) = word.call {
                self.noted.insert((sheet, note), self.content.len());
                continue;
            }
            let gap = index
                .checked_sub(1)
                .and_then(|before| line.words.get(before))
                .map_or(0.0, |before| word.x - before.end);
            if index > 0 && table && gap > TABLE_GAP * line.size {
                self.content.push('\t');
            } else if index > 0 && line.is_apart(index) && !self.content.ends_with('\n') {
                self.content.push(' ');
            }
            if word.raised && word.text.chars().all(|c| superscript(c).is_some()) {
                let raised = word.text.chars().filter_map(superscript);
                self.content.extend(raised);
            } else {
                self.content.push_str(&word.text);
            }
        }
    }
}

/// A digit as a superscript; signs that occur with digits are kept.
fn superscript(c: char) -> Option<char> {
    Some(match c {
        '0' => '⁰',
        '1' => '¹',
        '2' => '²',
        '3' => '³',
        '4'..='9' => char::from_u32(u32::from('⁴') + u32::from(c) - u32::from('4'))?,
        '−' | '-' | '–' => '⁻',
        ',' => ',',
        _ => return None,
    })
}

fn last_word(text: &str) -> &str {
    let start = text
        .char_indices()
        .rev()
        .find(|(_, c)| !c.is_alphabetic() && *c != '\'' && *c != '’')
        .map_or(0, |(at, c)| at + c.len_utf8());
    text.get(start..).unwrap_or_default()
}

fn first_word(text: &str) -> &str {
    let end = text
        .char_indices()
        .find(|(_, c)| !c.is_alphabetic() && *c != '\'' && *c != '’')
        .map_or(text.len(), |(at, _)| at);
    text.get(..end).unwrap_or_default()
}

/// How often the document writes a form inside its lines, in small letters: `lighting`, `part-night`.
struct Known(BTreeMap<String, usize>);

impl Known {
    fn of(parts: &Parts) -> Self {
        let mut counts: BTreeMap<String, usize> = BTreeMap::new();
        let text = parts.paragraphs.iter().flat_map(|block| &block.lines);
        let notes = parts.notes.iter().flatten().flat_map(|note| &note.lines);
        for line in text.map(|(_, line)| line).chain(notes) {
            for word in &line.words {
                let bare = word.text.trim_matches(|c: char| !c.is_alphabetic());
                // A word that ends a line in a hyphen is the one in question, so it is not counted.
                let broken = word.text.ends_with(['-', '\u{2010}', '\u{AD}']);
                if !broken && !bare.is_empty() {
                    *counts.entry(bare.to_lowercase()).or_default() += 1;
                }
            }
        }
        Self(counts)
    }

    /// Whether two parts around a hyphen at a line end are one word without it.
    fn is_one_word(&self, left: &str, right: &str) -> bool {
        if !right.starts_with(char::is_lowercase) {
            return false;
        }
        let times = |form: String| {
            self.0
                .get(&form.to_lowercase())
                .copied()
                .unwrap_or_default()
        };
        let whole = times([left, right].concat());
        let parted = times([left, "-", right].concat());
        if whole != parted {
            return whole > parted;
        }
        joins(left, right, |form| {
            wording::is_word(&wording::normal_form(form))
        })
    }
}
