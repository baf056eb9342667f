//! Words to lines, and lines in reading order.
//!
//! 1. Words on one baseline make a row of the sheet; small words raised or lowered beside larger ones belong
//!    to their row ([`rows`]).
//! 2. The sheet is divided into columns ([`columns`]), and the words of each column into lines.

use super::columns::columns;
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
    pub(super) fn new(mut words: Vec<Word>, column: usize) -> Option<Self> {
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

    /// The line as written, with blanks between words.
    pub(super) fn text(&self) -> String {
        let mut text = String::new();
        for (index, word) in self.words.iter().enumerate() {
            if index > 0 && self.is_apart(index) {
                text.push(' ');
            }
            text.push_str(&word.text);
        }
        text
    }

    /// Whether there is a blank before the word at an index.
    pub(super) fn is_apart(&self, index: usize) -> bool {
        let (Some(before), Some(word)) = (
            index.checked_sub(1).and_then(|index| self.words.get(index)),
            self.words.get(index),
        ) else {
            return false;
        };
        let gap = word.x - before.end;
        let least = before.size.min(word.size);
        gap > WORD_GAP * least || (word.blank_before && gap > 0.04 * least)
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

/// Words grouped by baseline, from the top down; raised words are marked.
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

/// Beyond this many words on a sheet, words are not compared with everything near them. A page of a newspaper
/// has some 6,000.
pub(super) const CROWDED: usize = 12_000;

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
    // For each row, the row that takes each of its words.
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

/// The number of characters in a row.
fn length(row: &[Word]) -> usize {
    row.iter().map(|word| word.text.chars().count()).sum()
}

/// Whether one or two full-size letters stand inside a row's word but lower or higher, as in the names of
/// typesetting programs.
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

/// The word of a row that is close to a small word.
fn neighbour<'r>(row: &'r [Word], small: &Word) -> Option<&'r Word> {
    row.iter().find(|word| {
        let gap = (small.x - word.end).max(word.x - small.end);
        word.size >= 0.98 * small.size && gap < 0.6 * word.size
    })
}

/// The lines of a sheet in reading order.
pub(super) fn lines(words: Vec<Word>) -> Vec<Line> {
    let mut lines = Vec::new();
    for (column, region) in columns(words).into_iter().enumerate() {
        lines.extend(
            rows(region)
                .into_iter()
                .filter_map(|row| Line::new(row, column)),
        );
    }
    lines
}
