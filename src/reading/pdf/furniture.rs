//! What is printed on every page but is not text: running heads, page numbers, footers.
//!
//! 1. The outermost rows of each sheet are examined from the outside inwards.
//! 2. A row is furniture if a row of the same wording (apart from numbers) stands at the same height on
//!    another sheet, or if it holds the printed page number: a number that increases by one with each sheet.
//! 3. A row at a height where other sheets have furniture is furniture too, if a gap separates it from the
//!    text. A chapter's running head may stand on one sheet only.
//!
//! This also gives the printed page numbers. Where none increase, none are made up.

use std::collections::BTreeMap;

use super::labels::roman;
use super::lines::rows;
use super::words::Word;
use crate::reading::pages::page_number;

/// Rows examined from the top and from the bottom.
const ROWS: usize = 4;

/// Longest row, in words, that a page number makes a running head.
const HEAD_WORDS: usize = 16;

/// The sheets without furniture, and the printed page number of each where known.
pub(super) struct Cleared {
    pub sheets: Vec<Vec<Word>>,
    pub numbers: Vec<Option<String>>,
    /// On how many sheets a number was printed, rather than derived from the others.
    pub seen: usize,
}

/// A row near the edge of a sheet.
#[derive(Clone)]
struct Edge {
    y: f32,
    size: f32,
    /// The wording in small letters, with `#` for numbers.
    key: String,
    words: usize,
    /// The numbers at its ends.
    numbers: Vec<Number>,
    /// The distance to the next row inwards.
    gap: f32,
}

/// A number as printed.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Number {
    roman: bool,
    value: u32,
}

/// Removes the furniture from all sheets.
pub(super) fn clear(sheets: Vec<Vec<Word>>) -> Cleared {
    let mut sheets: Vec<Vec<Vec<Word>>> = sheets.into_iter().map(rows).collect();
    let tops: Vec<Vec<Edge>> = sheets.iter().map(|rows| edges(rows.iter())).collect();
    let bottoms: Vec<Vec<Edge>> = sheets.iter().map(|rows| edges(rows.iter().rev())).collect();
    let counted = sequences(tops.iter().zip(&bottoms));
    let top = furniture(&tops, &counted);
    let bottom = furniture(&bottoms, &counted);
    for ((rows, top), bottom) in sheets.iter_mut().zip(&top).zip(&bottom) {
        let end = rows.len().saturating_sub(*bottom).max(*top).min(rows.len());
        rows.truncate(end);
        rows.drain(..(*top).min(rows.len()));
    }
    let (numbers, seen) = numbers(&counted, &tops, &bottoms);
    Cleared {
        sheets: sheets
            .into_iter()
            .map(|rows| rows.into_iter().flatten().collect())
            .collect(),
        numbers,
        seen,
    }
}

fn edges<'r>(rows: impl Iterator<Item = &'r Vec<Word>>) -> Vec<Edge> {
    let rows: Vec<&Vec<Word>> = rows.take(ROWS + 1).collect();
    let height = |row: &Vec<Word>| row.first().map_or(0.0, |word| word.y);
    rows.iter()
        .take(ROWS)
        .enumerate()
        .map(|(index, row)| {
            let mut words: Vec<&Word> = row.iter().collect();
            words.sort_by(|one, other| one.x.total_cmp(&other.x));
            let y = height(row);
            let next = rows.get(index + 1).map(|next| (height(next) - y).abs());
            Edge {
                y,
                size: row.iter().map(|word| word.size).fold(0.0, f32::max),
                key: key(&words),
                words: words.len(),
                numbers: numbers_of(&words),
                gap: next.unwrap_or(f32::MAX),
            }
        })
        .collect()
}

fn key(words: &[&Word]) -> String {
    let mut key = String::new();
    for word in words {
        if number(&word.text).is_some() {
            key.push('#');
            continue;
        }
        let mut digit = false;
        for c in word.text.chars() {
            if !c.is_ascii_digit() {
                key.extend(c.to_lowercase());
            } else if !digit {
                key.push('#');
            }
            digit = c.is_ascii_digit();
        }
    }
    key
}

/// The numbers that may be the page's: those at the ends of the row, and in a short row any (`Page 3 of 12`).
fn numbers_of(words: &[&Word]) -> Vec<Number> {
    let last = words.len().saturating_sub(1);
    words
        .iter()
        .enumerate()
        .filter(|(index, _)| *index == 0 || *index == last || words.len() <= 5)
        .flat_map(|(_, word)| word.text.split('/'))
        .filter_map(number)
        .collect()
}

fn number(written: &str) -> Option<Number> {
    let bare = written.trim_matches(|c: char| !c.is_alphanumeric());
    if bare.is_empty() || bare.len() > 7 || !bare.is_ascii() {
        return None;
    }
    let value = page_number(bare)?;
    let is_roman = !bare.starts_with(|c: char| c.is_ascii_digit());
    // `DIM` and `mix` are words first; a number not in the standard Roman form is not one.
    let written_so = !is_roman || roman(value).is_some_and(|own| own.eq_ignore_ascii_case(bare));
    written_so.then_some(Number {
        roman: is_roman,
        value,
    })
}

/// A way of counting pages: the number less the sheet is the same everywhere.
type Counting = (bool, i64);

/// The countings that enough sheets follow, with these sheets.
fn sequences<'e>(
    sheets: impl Iterator<Item = (&'e Vec<Edge>, &'e Vec<Edge>)>,
) -> BTreeMap<Counting, Vec<usize>> {
    let mut found: BTreeMap<Counting, Vec<usize>> = BTreeMap::new();
    let mut with_text = 0;
    for (sheet, (top, bottom)) in sheets.enumerate() {
        with_text += usize::from(!top.is_empty());
        // Only the outermost two rows: deeper ones belong to tables and lists just as often.
        let near = top.iter().take(2).chain(bottom.iter().take(2));
        for number in near.flat_map(|edge| &edge.numbers) {
            let sheets = found
                .entry((number.roman, i64::from(number.value) - sheet as i64))
                .or_default();
            if sheets.last() != Some(&sheet) {
                sheets.push(sheet);
            }
        }
    }
    let least = if with_text <= 4 { 2 } else { 3 };
    found.retain(|_, sheets| sheets.len() >= least);
    found
}

/// How many of the outer rows of each sheet are furniture.
fn furniture(edges: &[Vec<Edge>], counted: &BTreeMap<Counting, Vec<usize>>) -> Vec<usize> {
    let mut found = vec![0; edges.len()];
    let mut places: BTreeMap<&str, Vec<(usize, f32)>> = BTreeMap::new();
    for (sheet, rows) in edges.iter().enumerate() {
        for row in rows {
            places.entry(&row.key).or_default().push((sheet, row.y));
        }
    }
    for depth in 0..ROWS {
        for (sheet, rows) in edges.iter().enumerate() {
            let Some(row) = rows.get(depth).filter(|_| found.get(sheet) == Some(&depth)) else {
                continue;
            };
            let repeated = row.key.contains(char::is_alphabetic)
                && places.get(row.key.as_str()).is_some_and(|places| {
                    let others = places
                        .iter()
                        .filter(|(other, y)| *other != sheet && (y - row.y).abs() < 0.5 * row.size);
                    // Beyond the outermost row, two equal rows may be text.
                    others.count() >= if depth == 0 { 1 } else { 2 }
                });
            if (repeated || is_numbered(row, sheet, counted))
                && let Some(count) = found.get_mut(sheet)
            {
                *count += 1;
            }
        }
    }
    in_place(edges, &mut found);
    found
}

fn is_numbered(row: &Edge, sheet: usize, counted: &BTreeMap<Counting, Vec<usize>>) -> bool {
    row.words <= HEAD_WORDS
        && row.numbers.iter().any(|number| {
            let counting = (number.roman, i64::from(number.value) - sheet as i64);
            counted.contains_key(&counting)
        })
}

/// Rows at the height of other sheets' furniture.
fn in_place(edges: &[Vec<Edge>], found: &mut [usize]) {
    let heights: Vec<f32> = edges
        .iter()
        .zip(found.iter())
        .flat_map(|(rows, count)| rows.iter().take(*count).map(|row| row.y))
        .collect();
    for (rows, count) in edges.iter().zip(found.iter_mut()) {
        let Some(row) = rows.get(*count) else {
            continue;
        };
        let near = heights
            .iter()
            .filter(|y| (*y - row.y).abs() < 0.3 * row.size)
            .count();
        if near >= 3 && row.words <= HEAD_WORDS && row.gap > 1.6 * row.size {
            *count += 1;
        }
    }
}

/// The page numbers of the sheets, and how many were printed.
fn numbers(
    counted: &BTreeMap<Counting, Vec<usize>>,
    tops: &[Vec<Edge>],
    bottoms: &[Vec<Edge>],
) -> (Vec<Option<String>>, usize) {
    let sheets = tops.len().max(bottoms.len());
    let mut chosen: Vec<Option<Counting>> = vec![None; sheets];
    // The countings that more sheets follow come first; of two with as many, the lower number.
    let mut order: Vec<(&Counting, &Vec<usize>)> = counted.iter().collect();
    order.sort_by_key(|(counting, sheets)| (std::cmp::Reverse(sheets.len()), **counting));
    for (counting, members) in &order {
        for sheet in members.iter() {
            if let Some(slot) = chosen.get_mut(*sheet) {
                slot.get_or_insert(**counting);
            }
        }
    }
    let seen = chosen.iter().flatten().count();
    for (counting, _) in &order {
        fill(&mut chosen, **counting);
    }
    let numbers = chosen
        .into_iter()
        .enumerate()
        .map(|(sheet, counting)| {
            let (is_roman, offset) = counting?;
            let value = u32::try_from(sheet as i64 + offset).ok()?;
            if is_roman {
                roman(value)
            } else {
                Some(value.to_string())
            }
        })
        .collect();
    (numbers, seen)
}

/// Numbers sheets without a number between two that have one, and one sheet before the first.
fn fill(chosen: &mut [Option<Counting>], counting: Counting) {
    let members: Vec<usize> = (0..chosen.len())
        .filter(|sheet| chosen.get(*sheet) == Some(&Some(counting)))
        .collect();
    if members.len() < 2 {
        return;
    }
    for pair in members.windows(2) {
        let [from, to] = pair else { continue };
        let between = chosen.get_mut(from + 1..*to).unwrap_or_default();
        if between.iter().all(Option::is_none) {
            between.fill(Some(counting));
        }
    }
    let before = members.first().and_then(|first| first.checked_sub(1));
    if let Some(before) = before
        && before as i64 + counting.1 >= 1
        && let Some(slot) = chosen.get_mut(before)
    {
        slot.get_or_insert(counting);
    }
}

#[cfg(test)]
mod tests;
