//! Lines to paragraphs and other blocks.
//!
//! A line begins a paragraph if a gap separates it from the line above, if its type is of another size or
//! weight, if it is indented after a finished sentence, if the line above ends early after a finished
//! sentence, or if it begins like an item of a list. Two or more consecutive lines with wide gaps inside are
//! a table. A paragraph that breaks off at the end of a column or sheet continues in the next.

mod margins;
mod usual;

use super::lines::Line;
use crate::reading::pages::ends_sentence;
use crate::reading::reference_list;
use crate::text::BlockKind;

pub(super) use usual::Usual;

use margins::{Margins, margins};

/// A block and its lines, each with its sheet.
#[derive(Debug, Clone)]
pub(super) struct Paragraph {
    pub kind: BlockKind,
    pub lines: Vec<(usize, Line)>,
}

fn same_size(one: &Line, other: &Line) -> bool {
    (one.size - other.size).abs() <= 0.07 * one.size.max(other.size)
}

/// The blocks of a document, from the lines of its sheets in reading order.
pub(super) fn paragraphs(sheets: &[Vec<Line>], usual: &Usual) -> Vec<Paragraph> {
    let mut found: Vec<Paragraph> = Vec::new();
    let mut listing = false;
    let columns = |lines| <[Line]>::chunk_by(lines, |one: &Line, other| one.column == other.column);
    let every = sheets.iter().flat_map(|lines| columns(lines)).map(margins);
    let mut every: Vec<Margins> = every.collect();
    // In most documents only a handful of different ones is left.
    every.sort_by(|one, other| {
        let left = one.left.round().total_cmp(&other.left.round());
        left.then(one.right.round().total_cmp(&other.right.round()))
    });
    every.dedup_by_key(|margins| (margins.left.round(), margins.right.round()));
    for (sheet, lines) in sheets.iter().enumerate() {
        for column in columns(lines) {
            let margins = margins(column).widened(&every);
            let mut blocks = Vec::new();
            let mut before = found.last().map(|block| block.kind);
            for lines in cut(column, margins, usual, &mut listing) {
                let mut kind = kind(lines, margins, usual);
                let behind_prose = before == Some(BlockKind::Paragraph) && !listing;
                if kind == BlockKind::Paragraph && behind_prose && is_set_in(lines, margins, usual)
                {
                    kind = BlockKind::BlockQuotation;
                }
                before = Some(kind);
                let lines = lines.iter().map(|line| (sheet, line.clone())).collect();
                blocks.push(Paragraph { kind, lines });
            }
            let mut blocks = join_parts(blocks).into_iter();
            if let Some(first) = blocks.next() {
                match found.last_mut() {
                    Some(last) if goes_on(last, &first, margins) => last.lines.extend(first.lines),
                    _ => found.push(first),
                }
            }
            found.extend(blocks);
        }
    }
    found
}

/// Divides a column's lines into paragraphs. `listing` is whether a list of references is open.
fn cut<'l>(
    lines: &'l [Line],
    margins: Margins,
    usual: &Usual,
    listing: &mut bool,
) -> Vec<&'l [Line]> {
    let mut cuts = vec![0];
    for index in 1..lines.len() {
        let start = cuts.last().copied().unwrap_or_default();
        let (Some(open), Some(line)) = (lines.get(start..index), lines.get(index)) else {
            continue;
        };
        if let [only] = open
            && reference_list::is_heading(&only.text())
        {
            *listing = true;
        }
        if begins(open, line, margins, usual, *listing) {
            cuts.push(index);
        }
    }
    cuts.push(lines.len());
    cuts.windows(2)
        .filter_map(|pair| match pair {
            [from, to] => lines.get(*from..*to).filter(|lines| !lines.is_empty()),
            _ => None,
        })
        .collect()
}

/// Whether a line begins a new paragraph after the open one.
fn begins(open: &[Line], line: &Line, margins: Margins, usual: &Usual, listing: bool) -> bool {
    let (Some(first), Some(above)) = (open.first(), open.last()) else {
        return true;
    };
    let size = line.size.max(1.0);
    let gap = line.y - above.y;
    let pitch = usual.pitch * above.size.max(size);
    if gap > 1.3 * pitch || gap < -0.5 * size || !same_size(above, line) {
        return true;
    }
    if above.bold != line.bold && (above.bold || open.iter().all(|line| !line.bold)) {
        return true;
    }
    let text = line.text();
    if item_sign(&text).is_some_and(|sign| sign.bullet) || is_tabular(above) != is_tabular(line) {
        return true;
    }
    let above_text = above.text();
    let ended = ends_sentence(&above_text);
    let ends_early = above.end < margins.right - 0.12 * (margins.right - margins.left);
    let capital = !text.starts_with(char::is_lowercase);
    let indent = line.x - margins.left;
    let from_first = line.x - first.x;
    if listing {
        // Entries have a hanging indent: the first line begins to the left of the others, or all begin at the
        // same place.
        return from_first < -0.8 * size
            || (open.len() > 1 && from_first.abs() < 0.5 * size && has_hanging_indent(open))
            || (open.len() == 1 && from_first.abs() < 0.5 * size && ends_early && ended)
            || (item_sign(&text).is_some() && (ended || ends_early));
    }
    if reference_list::is_heading(&above_text) && open.len() == 1 {
        return true;
    }
    if item_sign(&text).is_some() && capital && (ended || ends_early || above_text.ends_with(':')) {
        return true;
    }
    // Indented after lines that are not.
    if line.x - above.x > 0.8 * size && indent > 0.8 * size && (ended || ends_early) && capital {
        return true;
    }
    // Back from an indent that was larger than a first line's.
    let set_in = open.len() > 1 && open.iter().skip(1).all(|line| line.x - margins.left > size);
    if set_in && above.x - line.x > 0.8 * size {
        return true;
    }
    ended && ends_early && capital
}

/// Whether lines after the first are indented.
fn has_hanging_indent(open: &[Line]) -> bool {
    let (Some(first), Some(last)) = (open.first(), open.last()) else {
        return false;
    };
    last.x - first.x > 0.5 * first.size
}

/// The sign that an item of a list begins with.
pub(super) struct ItemSign {
    /// A bullet or dash, not a number.
    bullet: bool,
    /// The length of the sign and the blanks after it, in bytes.
    pub length: usize,
}

/// The sign that a text begins with, if it may be an item of a list.
pub(super) fn item_sign(text: &str) -> Option<ItemSign> {
    let behind_bullet = text.strip_prefix(['•', '◦', '▪', '‣', '∙', '·', '●', '○', '–', '*', '-']);
    let (rest, bullet) = match behind_bullet {
        Some(rest) => (rest, true),
        None => {
            let open = text.strip_prefix('(').unwrap_or(text);
            let behind = open.trim_start_matches(|c: char| c.is_ascii_digit());
            let digits = open.len() - behind.len();
            let behind = match digits {
                1..=3 => behind,
                0 => open.strip_prefix(|c: char| c.is_ascii_lowercase())?,
                _ => return None,
            };
            (behind.strip_prefix(['.', ')'])?, false)
        }
    };
    let item = rest.trim_start();
    (item.len() < rest.len() && !item.is_empty()).then_some(ItemSign {
        bullet,
        length: text.len() - item.len(),
    })
}

/// Whether a line has a gap inside like those between the cells of a table.
pub(super) fn is_tabular(line: &Line) -> bool {
    line.words
        .windows(2)
        .enumerate()
        .any(|(index, pair)| match pair {
            // After the sign of an item there is a wide gap too.
            [one, _] if index == 0 && one.text.chars().count() <= 3 => false,
            [one, other] => other.x - one.end > TABLE_GAP * line.size,
            _ => false,
        })
}

/// A gap between cells, in sizes of the type. Blanks of justified lines stay below one; cells are seldom
/// closer than 1.2.
pub(super) const TABLE_GAP: f32 = 1.15;

fn kind(lines: &[Line], margins: Margins, usual: &Usual) -> BlockKind {
    let Some(first) = lines.first() else {
        return BlockKind::Paragraph;
    };
    let text: Vec<String> = lines.iter().map(Line::text).collect();
    let text = text.join(" ");
    if reference_list::is_heading(&text) {
        return BlockKind::Heading { level: 2 };
    }
    let letters = text.chars().filter(|c| c.is_alphabetic()).count();
    let short = lines.len() <= 3 && text.chars().count() <= 200 && letters > 0;
    if short && lines.iter().all(|line| line.size > 1.1 * usual.size) {
        return BlockKind::Heading {
            level: usual.level(first.size),
        };
    }
    if short
        && lines
            .iter()
            .all(|line| line.bold && line.size > 0.95 * usual.size)
        && !text.ends_with(['.', ',', ';'])
    {
        let level = usual.headings.len() + 1;
        return BlockKind::Heading {
            level: u8::try_from(level).unwrap_or(6).min(6),
        };
    }
    if lines.iter().all(is_tabular) {
        return BlockKind::Table;
    }
    if item_sign(&text).is_some() {
        return BlockKind::ListItem;
    }
    if is_set_off(lines, margins, usual) {
        return BlockKind::BlockQuotation;
    }
    BlockKind::Paragraph
}

/// Whether lines are indented on both sides, all by the same amount.
fn is_set_off(lines: &[Line], margins: Margins, usual: &Usual) -> bool {
    let left = lines
        .iter()
        .skip(1)
        .map(|line| line.x)
        .fold(f32::MAX, f32::min);
    let right = lines.iter().map(|line| line.end).fold(f32::MIN, f32::max);
    let even = lines
        .iter()
        .skip(1)
        .all(|line| (line.x - left).abs() < 0.3 * usual.size);
    let first_fits = lines
        .first()
        .is_some_and(|first| first.x > left - 0.3 * usual.size);
    lines.len() >= 2
        && even
        && first_fits
        && left - margins.left > 0.9 * usual.size
        && margins.right - right > 0.9 * usual.size
}

/// Whether lines are indented far on the left, all by the same amount. After prose that is a quotation too,
/// after an item of a list it is part of the item.
fn is_set_in(lines: &[Line], margins: Margins, usual: &Usual) -> bool {
    let least = margins.left + 1.9 * usual.size;
    let even = |line: &Line| {
        lines
            .first()
            .is_some_and(|first| (line.x - first.x).abs() < 0.3 * usual.size)
    };
    lines.len() >= 2 && lines.iter().all(|line| line.x > least && even(line))
}

/// Joins the rows of a table into one table.
fn join_parts(blocks: Vec<Paragraph>) -> Vec<Paragraph> {
    let mut joined: Vec<Paragraph> = Vec::with_capacity(blocks.len());
    for block in blocks {
        match joined.last_mut() {
            Some(last) if last.kind == BlockKind::Table && block.kind == BlockKind::Table => {
                last.lines.extend(block.lines);
            }
            _ => joined.push(block),
        }
    }
    // One line with a gap is not a table: it may be an equation with its number, or names side by side.
    for block in &mut joined {
        if block.kind == BlockKind::Table && block.lines.len() < 2 {
            block.kind = BlockKind::Paragraph;
        }
    }
    joined
}

/// Whether a paragraph continues in the first one of the next column or sheet.
fn goes_on(last: &Paragraph, next: &Paragraph, margins: Margins) -> bool {
    let (Some((_, above)), Some((_, line))) = (last.lines.last(), next.lines.first()) else {
        return false;
    };
    let prose = matches!(
        last.kind,
        BlockKind::Paragraph | BlockKind::BlockQuotation | BlockKind::ListItem
    );
    let kinds = next.kind == last.kind
        || (last.kind == BlockKind::ListItem && next.kind == BlockKind::Paragraph)
        // A single line cut off from a block quotation looks like any other paragraph.
        || (last.kind == BlockKind::BlockQuotation && next.lines.len() == 1)
        || (last.lines.len() == 1 && next.kind == BlockKind::BlockQuotation);
    let text = line.text();
    let lower = text.starts_with(char::is_lowercase);
    let flush = line.x - margins.left < 0.8 * line.size;
    prose
        && kinds
        && next.kind != BlockKind::Table
        && item_sign(&text).is_none()
        && same_size(above, line)
        && !ends_sentence(&above.text())
        && (lower || flush)
}
