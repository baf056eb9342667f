//! Words to lines, and lines to the order in which they are read.
//!
//! 1. Words of one baseline make a row of the sheet; small words raised or lowered beside larger ones belong
//!    to their row ([`rows`]).
//! 2. A strip without ink that runs down the sheet, with lines that fill their width on both its sides, parts
//!    two columns ([`columns`]). What is above is read first, then the left column, the right
//!    column, and what is below; each of these is looked at again, so that full-width titles and tables
//!    between columns fall into place, and three columns are two and one.

use super::words::{WORD_GAP, Word};

/// A line of a column.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Line {
    pub words: Vec<Word>,
    pub x: f32,
    pub end: f32,
    /// The baseline.
    pub y: f32,
    /// Size of the type: that of most of its characters.
    pub size: f32,
    pub bold: bool,
    /// The column, counted through the sheet in reading order.
    pub column: usize,
}

impl Line {
    /// A line of words on one baseline; `None` without words.
    pub fn new(mut words: Vec<Word>, column: usize) -> Option<Self> {
        words.sort_by(|one, other| one.x.total_cmp(&other.x));
        let first = words.first()?;
        let (mut x, mut end) = (first.x, first.end);
        for word in &words {
            x = x.min(word.x);
            end = end.max(word.end);
        }
        let main = words
            .iter()
            .filter(|word| !word.raised)
            .max_by_key(|word| word.text.chars().count())
            .unwrap_or(first);
        let size = usual(words.iter().filter(|word| !word.raised));
        let letters = |bold: Option<bool>| -> usize {
            words
                .iter()
                .filter(|word| bold.is_none_or(|bold| word.bold == bold))
                .map(|word| word.text.chars().filter(|c| c.is_alphabetic()).count())
                .sum()
        };
        Some(Self {
            x,
            end,
            y: main.y,
            size: if size > 0.0 { size } else { main.size },
            bold: letters(None) > 0 && letters(Some(true)) == letters(None),
            column,
            words,
        })
    }

    /// The line as written, blanks between words.
    pub fn text(&self) -> String {
        let mut text = String::new();
        for (index, word) in self.words.iter().enumerate() {
            if index > 0 && self.is_apart(index) {
                text.push(' ');
            }
            text.push_str(&word.text);
        }
        text
    }

    /// Whether there is a blank before the word of an index.
    pub fn is_apart(&self, index: usize) -> bool {
        let (Some(before), Some(word)) = (
            index.checked_sub(1).and_then(|index| self.words.get(index)),
            self.words.get(index),
        ) else {
            return false;
        };
        let gap = word.x - before.end;
        let least = before.size.min(word.size);
        gap > WORD_GAP * least || (word.blank_before && gap > -0.05 * least)
    }
}

/// The size of most characters, to a tenth of a point.
pub(super) fn usual<'w>(words: impl Iterator<Item = &'w Word>) -> f32 {
    let mut sizes: std::collections::BTreeMap<i32, usize> = std::collections::BTreeMap::new();
    for word in words {
        *sizes.entry((word.size * 10.0).round() as i32).or_default() += word.text.chars().count();
    }
    let most = sizes
        .into_iter()
        .max_by_key(|(size, count)| (*count, *size));
    most.map_or(0.0, |(size, _)| size as f32 / 10.0)
}

/// Words put together by baseline, from the top down; raised words are marked.
pub(super) fn rows(mut words: Vec<Word>) -> Vec<Vec<Word>> {
    words.sort_by(|one, other| one.y.total_cmp(&other.y).then(one.x.total_cmp(&other.x)));
    let mut rows: Vec<Vec<Word>> = Vec::new();
    for word in words {
        match rows.last_mut() {
            Some(row)
                if row
                    .last()
                    .is_some_and(|last| word.y - last.y <= 0.12 * word.size.min(last.size)) =>
            {
                row.push(word);
            }
            _ => rows.push(vec![word]),
        }
    }
    if rows.iter().map(Vec::len).sum::<usize>() > CROWDED {
        return rows;
    }
    attach(rows)
}

/// Words on a sheet beyond which nothing is compared with everything near it: a page of a newspaper has some 6,000.
const CROWDED: usize = 12_000;

/// How far above and below its line a small word may stand, in sizes of the line's type. Common practice of
/// typesetting: superscripts are raised by a third to a half, subscripts lowered by a fifth.
const RAISED: f32 = 0.62;
const LOWERED: f32 = 0.35;

/// Moves raised and lowered words into the rows they belong to.
fn attach(rows: Vec<Vec<Word>>) -> Vec<Vec<Word>> {
    let heights: Vec<(f32, f32)> = rows
        .iter()
        .map(|row| {
            let y = row.first().map_or(0.0, |word| word.y);
            (y, row.iter().map(|word| word.size).fold(0.0, f32::max))
        })
        .collect();
    // For each row the one that takes each of its words.
    let mut moved: Vec<(usize, Word)> = Vec::new();
    let mut left: Vec<Vec<Word>> = Vec::with_capacity(rows.len());
    for (index, row) in rows.iter().enumerate() {
        let mut stays = Vec::with_capacity(row.len());
        for word in row {
            let target = (index.saturating_sub(3)..(index + 4).min(rows.len()))
                .filter(|other| *other != index)
                .filter_map(|other| {
                    let (y, _) = *heights.get(other)?;
                    let beside = neighbour(rows.get(other)?, word)?;
                    let up = (y - word.y) / beside.size;
                    let small = word.size < 0.88 * beside.size;
                    let fits = (small && (-LOWERED..RAISED).contains(&up))
                        || (up.abs() < LOWERED
                            && length(rows.get(other)?) > length(row)
                            && is_sunk(rows.get(other)?, word));
                    fits.then_some((other, up))
                })
                .min_by(|one, other| one.1.abs().total_cmp(&other.1.abs()));
            match target {
                Some((other, up)) => moved.push((
                    other,
                    Word {
                        raised: up > 0.12
                            && !is_sunk(rows.get(other).map_or(&[], Vec::as_slice), word),
                        ..word.clone()
                    },
                )),
                None => stays.push(word.clone()),
            }
        }
        left.push(stays);
    }
    for (index, word) in moved {
        if let Some(row) = left.get_mut(index) {
            row.push(word);
        }
    }
    left.retain(|row| !row.is_empty());
    left
}

/// How many characters a row has.
fn length(row: &[Word]) -> usize {
    row.iter().map(|word| word.text.chars().count()).sum()
}

/// Whether a letter or two of full size stand inside a row's word but lower or higher, as in the names of typesetting
/// programs.
fn is_sunk(row: &[Word], letters: &Word) -> bool {
    letters.text.chars().count() <= 2
        && row.iter().any(|word| {
            if letters.size < 0.9 * word.size {
                return false;
            }
            let gap = (letters.x - word.end).max(word.x - letters.end);
            gap < 0.05 * word.size && gap > -0.5 * word.size
        })
}

/// The word of a row that a small word stands close to.
fn neighbour<'r>(row: &'r [Word], small: &Word) -> Option<&'r Word> {
    row.iter().find(|word| {
        let gap = (small.x - word.end).max(word.x - small.end);
        word.size >= 0.98 * small.size && gap < 0.6 * word.size
    })
}

/// A stretch of the sheet and the words in it.
type Region = Vec<Word>;

/// The lines of a sheet in reading order.
pub(super) fn lines(words: Vec<Word>) -> Vec<Line> {
    let mut regions = Vec::new();
    columns(words, 0, &mut regions);
    let mut lines = Vec::new();
    for (column, region) in regions.into_iter().enumerate() {
        lines.extend(
            rows(region)
                .into_iter()
                .filter_map(|row| Line::new(row, column)),
        );
    }
    lines
}

/// Splits words into columns, in reading order.
fn columns(words: Region, depth: u32, found: &mut Vec<Region>) {
    if words.is_empty() {
        return;
    }
    let Some(gutter) = (depth < 12).then(|| gutter(&words)).flatten() else {
        found.push(words);
        return;
    };
    let (mut above, mut left, mut right, mut below) =
        (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for word in words {
        if word.y < gutter.top {
            above.push(word);
        } else if word.y > gutter.bottom {
            below.push(word);
        } else if word.x < gutter.x {
            left.push(word);
        } else {
            right.push(word);
        }
    }
    for part in [above, left, right, below] {
        columns(part, depth + 1, found);
    }
}

/// A strip without ink between two columns.
struct Gutter {
    x: f32,
    top: f32,
    bottom: f32,
}

/// Fewest lines on the longer side of a gutter. Rivers of blanks in justified text run through three or four.
const COLUMN_LINES: usize = 5;

/// Narrowest gutter, in sizes of the type. Common practice is one and more; blanks of justified lines seldom
/// reach it, and never all in one place.
const GUTTER: f32 = 0.65;

/// The best gutter of a region: the one with most text beside it.
///
/// The right column's lines begin at one place, so only places where several words begin are tried. The strip
/// itself may be narrow, since a line that is too long for the left column may reach into it; what
/// must be wide is the gap behind most lines of the left column.
fn gutter(words: &[Word]) -> Option<Gutter> {
    let left = words.iter().map(|word| word.x).fold(f32::MAX, f32::min);
    let right = words.iter().map(|word| word.end).fold(f32::MIN, f32::max);
    let size = usual(words.iter());
    let width = right - left;
    let few = words.len() < 2 * COLUMN_LINES || words.len() > CROWDED;
    if few || size <= 0.0 || width < 15.0 * size {
        return None;
    }
    let mut best: Option<(usize, Gutter)> = None;
    for x in beginnings(words) {
        if !(0.15..0.85).contains(&((x - left) / width)) {
            continue;
        }
        let mut crossing: Vec<f32> = words
            .iter()
            .filter(|word| word.x < x - 0.15 * size && word.end > x - 0.1 * size)
            .map(|word| word.y)
            .collect();
        crossing.sort_by(f32::total_cmp);
        crossing.insert(0, f32::MIN);
        crossing.push(f32::MAX);
        for pair in crossing.windows(2) {
            let [from, to] = pair else { continue };
            if to - from < size * COLUMN_LINES as f32 * 0.8 {
                continue;
            }
            let inside: Vec<&Word> = words
                .iter()
                .filter(|word| word.y > from + 0.2 * size && word.y < to - 0.2 * size)
                .collect();
            let Some(text) = beside(&inside, x, size) else {
                continue;
            };
            if best.as_ref().is_none_or(|(most, _)| text > *most) {
                let ys = || inside.iter().map(|word| word.y);
                best = Some((
                    text,
                    Gutter {
                        x: x - 0.12 * size,
                        top: ys().fold(f32::MAX, f32::min) - 0.01,
                        bottom: ys().fold(f32::MIN, f32::max) + 0.01,
                    },
                ));
            }
        }
    }
    best.map(|(_, gutter)| gutter)
}

/// Places where three words and more begin, to two points.
fn beginnings(words: &[Word]) -> Vec<f32> {
    let mut starts: Vec<f32> = words.iter().map(|word| word.x).collect();
    starts.sort_by(f32::total_cmp);
    let mut found: Vec<f32> = Vec::new();
    for (index, start) in starts.iter().enumerate() {
        let third = starts
            .get(index + 2)
            .is_some_and(|third| third - start < 1.0);
        if third && found.last().is_none_or(|last| start - last > 2.0) {
            found.push(*start);
        }
    }
    found
}

/// How much text stands left and right of a place, if what stands there are columns.
fn beside(words: &[&Word], x: f32, size: f32) -> Option<usize> {
    let (left, right): (Vec<&Word>, Vec<&Word>) =
        words.iter().partition(|word| word.x < x - 0.12 * size);
    let (one, other) = (side(&left, size)?, side(&right, size)?);
    let longer = one.lines.len().max(other.lines.len());
    let shorter = one.lines.len().min(other.lines.len());
    // A column that ends early still has two lines; table cells and lists of names fill little of theirs.
    let enough = longer >= COLUMN_LINES && shorter >= 2;
    let full =
        |side: &Side| side.fill >= 0.55 || (side.lines.len() < COLUMN_LINES && side.fill >= 0.4);
    // Columns of one sheet are about as wide as each other, or one stands beside the text without keeping to its
    // lines, as notices do; cells of a table keep to them.
    let alike = one.width.min(other.width) >= 0.3 * one.width.max(other.width);
    let loose = level_share(&left, &right, size) < 0.6;
    let mut gaps: Vec<f32> = one.lines.iter().map(|(_, end)| x - end).collect();
    gaps.sort_by(f32::total_cmp);
    let wide = gaps
        .get(gaps.len() / 4)
        .is_some_and(|gap| *gap > GUTTER * size);
    let at_edge = other
        .lines
        .iter()
        .filter(|(start, _)| (start - x).abs() < 0.3 * size)
        .count();
    let aligned = 10 * at_edge >= 4 * other.lines.len();
    let least = if alike { 3.0 } else { 1.5 };
    let wordy = one.words_a_line >= least && other.words_a_line >= least;
    (enough && full(&one) && full(&other) && (alike || loose) && wide && aligned && wordy)
        .then_some(one.text + other.text)
}

/// The share of the lines on the side with fewer of them that stand on the baseline of one on the other side.
fn level_share(one: &[&Word], other: &[&Word], size: f32) -> f32 {
    let baselines = |words: &[&Word]| -> Vec<f32> {
        let mut found: Vec<f32> = words.iter().map(|word| word.y).collect();
        found.sort_by(f32::total_cmp);
        found.dedup_by(|one, other| (*one - *other).abs() < 0.1 * size);
        found
    };
    let (one, other) = (baselines(one), baselines(other));
    let (fewer, more) = if one.len() <= other.len() {
        (one, other)
    } else {
        (other, one)
    };
    let level = fewer
        .iter()
        .filter(|y| more.iter().any(|line| (line - *y).abs() < 0.1 * size))
        .count();
    level as f32 / fewer.len().max(1) as f32
}

struct Side {
    /// Left and right end of each line.
    lines: Vec<(f32, f32)>,
    width: f32,
    /// How much of the column's width its lines fill, the middle one of them.
    fill: f32,
    words_a_line: f32,
    text: usize,
}

fn side(words: &[&Word], size: f32) -> Option<Side> {
    let mut sorted: Vec<&&Word> = words.iter().collect();
    sorted.sort_by(|one, other| one.y.total_cmp(&other.y));
    let mut lines: Vec<(f32, f32, f32)> = Vec::new();
    for word in &sorted {
        match lines.last_mut() {
            Some((y, x, end)) if word.y - *y < 0.5 * size => {
                *x = x.min(word.x);
                *end = end.max(word.end);
            }
            _ => lines.push((word.y, word.x, word.end)),
        }
    }
    let from = lines.iter().map(|line| line.1).fold(f32::MAX, f32::min);
    let to = lines.iter().map(|line| line.2).fold(f32::MIN, f32::max);
    let width = to - from;
    let mut fills: Vec<f32> = lines.iter().map(|line| (line.2 - line.1) / width).collect();
    fills.sort_by(f32::total_cmp);
    let fill = *fills.get(fills.len() / 2)?;
    Some(Side {
        width,
        fill,
        words_a_line: words.len() as f32 / lines.len() as f32,
        lines: lines.iter().map(|(_, x, end)| (*x, *end)).collect(),
        text: words.iter().map(|word| word.text.len()).sum(),
    })
}
