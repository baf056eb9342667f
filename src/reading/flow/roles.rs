//! What each paragraph is, from what its file records and from its place among the others.
//!
//! 1. A style or field that says what a paragraph is decides.
//! 2. Writers also type headings without a style: a paragraph that is entirely bold, short, and not a
//!    sentence; and the words above a list of references.
//! 3. Writers set quotations off by indents alone. A paragraph that is notably further in than the document's
//!    body, and has no hanging indent, is a block quotation.

use std::collections::BTreeMap;

use super::{Paragraph, Role, Story};
use crate::reading::reference_list;
use crate::text::BlockKind;

/// An indent on both sides that sets a paragraph off, in twentieths of a point: a quarter of an inch.
const BOTH_SIDES: i32 = 360;

/// An indent from the left alone that sets a paragraph off: a centimetre. Style guides ask for half an inch
/// (APA 7 section 8.27, MLA 9 section 6.35, from memory), and writers who use centimetres choose a round
/// number.
const LEFT_ALONE: i32 = 560;

/// Indented paragraphs in a row with fewer words are an address or a signature rather than a quotation.
const FEWEST_WORDS: usize = 8;

/// The level of a heading that is recognised by its appearance.
const LEVEL_BY_LOOKS: u8 = 2;

/// A cell with so many words holds prose, so its table is layout and is read paragraph by paragraph.
const PROSE_CELL: usize = 30;

/// What each paragraph of a story is.
pub(super) fn kinds(story: &Story) -> Vec<BlockKind> {
    let tables = Tables::of(story);
    let mut kinds: Vec<BlockKind> = story
        .paragraphs
        .iter()
        .map(|paragraph| match paragraph.cell {
            Some(cell) if paragraph.role != Role::Reference && !tables.is_layout(cell.table) => {
                BlockKind::Table
            }
            _ => kind(story, paragraph),
        })
        .collect();
    set_off(story, &mut kinds);
    kinds
}

fn kind(story: &Story, paragraph: &Paragraph) -> BlockKind {
    match paragraph.role {
        Role::Heading(level) => BlockKind::Heading {
            level: level.clamp(1, 6),
        },
        Role::Quotation => BlockKind::BlockQuotation,
        Role::Item => BlockKind::ListItem,
        Role::Code => BlockKind::Code,
        Role::Contents => BlockKind::Table,
        Role::Reference => BlockKind::ReferenceListItem,
        Role::Body if is_heading(story, paragraph) => BlockKind::Heading {
            level: LEVEL_BY_LOOKS,
        },
        Role::Body | Role::Caption => BlockKind::Paragraph,
    }
}

fn is_heading(story: &Story, paragraph: &Paragraph) -> bool {
    let text = story.slice(paragraph).trim();
    if text.len() > 120 || text.is_empty() {
        return false;
    }
    let bold = paragraph.bold >= text.len();
    let sentence = text.ends_with(['.', ',', ';', '!', '”', '"', ')']) || text.contains(". ");
    reference_list::is_heading(text)
        || (bold
            && paragraph.cell.is_none()
            && !sentence
            && text.contains(char::is_alphabetic)
            && text.split_whitespace().count() <= 14)
}

/// Turns paragraphs that are set off by their indents into block quotations.
fn set_off(story: &Story, kinds: &mut [BlockKind]) {
    let is_body = |paragraph: &Paragraph, kind: BlockKind| {
        paragraph.role == Role::Body && kind == BlockKind::Paragraph && paragraph.cell.is_none()
    };
    let body = || {
        let pairs = story.paragraphs.iter().zip(kinds.iter());
        pairs.filter(|(paragraph, kind)| is_body(paragraph, **kind))
    };
    let usual = |side: fn(&Paragraph) -> i32| {
        let mut bytes: BTreeMap<i32, usize> = BTreeMap::new();
        for (paragraph, _) in body() {
            *bytes.entry(side(paragraph)).or_default() += paragraph.end - paragraph.start;
        }
        // The indent with most text; of two equal ones the smaller.
        let most = bytes.iter().max_by_key(|(side, bytes)| (**bytes, -**side));
        most.map_or(0, |(side, _)| *side)
    };
    let left = usual(|paragraph| paragraph.indent.left);
    let right = usual(|paragraph| paragraph.indent.right);
    let is_set_off = |paragraph: &Paragraph| {
        let indent = paragraph.indent;
        let (from_left, from_right) = (indent.left - left, indent.right - right);
        let first_line = from_left + indent.first;
        let both = from_left >= BOTH_SIDES && from_right >= BOTH_SIDES;
        // A paragraph with a hanging indent is an entry of a list, with a typed sign.
        (both || from_left >= LEFT_ALONE) && first_line >= BOTH_SIDES && !paragraph.centred
    };
    let mut quoted: Vec<usize> = Vec::new();
    let mut row: Vec<usize> = Vec::new();
    let words = |row: &[usize]| -> usize {
        let paragraphs = row.iter().filter_map(|index| story.paragraphs.get(*index));
        paragraphs
            .map(|paragraph| story.slice(paragraph).split_whitespace().count())
            .sum()
    };
    for (index, (paragraph, kind)) in story.paragraphs.iter().zip(kinds.iter()).enumerate() {
        let blank = story.slice(paragraph).trim().is_empty();
        if is_body(paragraph, *kind) && !blank && is_set_off(paragraph) {
            row.push(index);
        } else if !blank {
            if words(&row) >= FEWEST_WORDS {
                quoted.append(&mut row);
            }
            row.clear();
        }
    }
    if words(&row) >= FEWEST_WORDS {
        quoted.append(&mut row);
    }
    for index in quoted {
        if let Some(kind) = kinds.get_mut(index) {
            *kind = BlockKind::BlockQuotation;
        }
    }
}

/// The tables of a story that only lay out prose on the page.
struct Tables {
    layout: Vec<bool>,
}

impl Tables {
    fn of(story: &Story) -> Self {
        let mut layout = vec![false; story.tables as usize + 1];
        let cells = story.paragraphs.chunk_by(|one, next| one.cell == next.cell);
        for cell in cells {
            let words: usize = cell
                .iter()
                .map(|paragraph| story.slice(paragraph).split_whitespace().count())
                .sum();
            if let Some(place) = cell.first().and_then(|first| first.cell)
                && words >= PROSE_CELL
                && let Some(layout) = layout.get_mut(place.table as usize)
            {
                *layout = true;
            }
        }
        Self { layout }
    }

    fn is_layout(&self, table: u32) -> bool {
        self.layout.get(table as usize).copied().unwrap_or_default()
    }
}
