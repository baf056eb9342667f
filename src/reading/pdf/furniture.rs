//! What is printed on every page but is not text: running heads, page numbers, footers.
//!
//! 1. The outermost rows of each sheet are examined from the outside inwards.
//! 2. A row is furniture if a row of the same wording (apart from numbers) stands at the same height on
//!    another sheet, or if it holds the printed page number: a number that increases by one with each sheet, at
//!    the same height on others. Beside words two others are asked for, since numbered headings increase too.
//! 3. Nothing else is: a head that stands on one sheet only stays, since it can't be told from a heading, and to
//!    lose a line of the text is worse than to keep a head.
//!
//! What is left out is kept as lines, so that it can be shown. This also gives the printed page numbers. Where none
//! increase, none are made up.

use std::collections::BTreeMap;

use super::labels::roman;
use super::lines::rows;
use super::words::Word;
use crate::reading::pages::page_number;

/// Rows examined from the top and from the bottom.
const ROWS: usize = 4;

/// Longest row, in words, that a page number makes a running head.
const HEAD_WORDS: usize = 16;

/// Most words of a row with a number that may be a heading, such as *Part 2*.
const HEADING_WORDS: usize = 3;

/// The sheets without furniture, and the printed page number of each where known.
pub(super) struct Cleared {
    pub sheets: Vec<Vec<Word>>,
    pub numbers: Vec<Option<String>>,
    /// On how many sheets a number was printed, rather than derived from the others.
    pub seen: usize,
    /// The lines that were left out, in order of the sheets.
    pub dropped: Vec<String>,
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
    let chosen = chosen(&counted, sheets.len());
    let top = furniture(&tops, &chosen);
    let bottom = furniture(&bottoms, &chosen);
    let mut dropped = Vec::new();
    for ((rows, top), bottom) in sheets.iter_mut().zip(&top).zip(&bottom) {
        let end = rows.len().saturating_sub(*bottom).max(*top).min(rows.len());
        let below = rows.split_off(end);
        let above = rows.drain(..(*top).min(rows.len()));
        dropped.extend(above.chain(below).map(|row| line(&row)));
    }
    let (numbers, seen) = numbers(&counted, chosen);
    Cleared {
        sheets: sheets
            .into_iter()
            .map(|rows| rows.into_iter().flatten().collect())
            .collect(),
        numbers,
        seen,
        dropped,
    }
}

/// The words of a row from left to right.
fn line(row: &[Word]) -> String {
    let mut words: Vec<&Word> = row.iter().collect();
    words.sort_by(|one, other| one.x.total_cmp(&other.x));
    let words: Vec<&str> = words.iter().map(|word| word.text.as_str()).collect();
    words.join(" ")
}

fn edges<'r>(rows: impl Iterator<Item = &'r Vec<Word>>) -> Vec<Edge> {
    rows.take(ROWS)
        .map(|row| {
            let mut words: Vec<&Word> = row.iter().collect();
            words.sort_by(|one, other| one.x.total_cmp(&other.x));
            let y = row.first().map_or(0.0, |word| word.y);
            Edge {
                y,
                size: row.iter().map(|word| word.size).fold(0.0, f32::max),
                key: key(&words),
                words: words.len(),
                numbers: numbers_of(&words),
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

/// What follows a way of counting.
#[derive(Default)]
struct Followers {
    /// The sheets, in order.
    sheets: Vec<usize>,
    /// The words in the rows of their numbers. A page number has few beside it, a numbered heading has more.
    words: usize,
}

/// The countings that enough sheets follow.
fn sequences<'e>(
    sheets: impl Iterator<Item = (&'e Vec<Edge>, &'e Vec<Edge>)>,
) -> BTreeMap<Counting, Followers> {
    let mut found: BTreeMap<Counting, Followers> = BTreeMap::new();
    let mut with_text = 0;
    for (sheet, (top, bottom)) in sheets.enumerate() {
        with_text += usize::from(!top.is_empty());
        // Only the outermost two rows: deeper ones belong to tables and lists just as often.
        for edge in top.iter().take(2).chain(bottom.iter().take(2)) {
            for number in &edge.numbers {
                let counting = (number.roman, i64::from(number.value) - sheet as i64);
                let followers = found.entry(counting).or_default();
                if followers.sheets.last() != Some(&sheet) {
                    followers.sheets.push(sheet);
                    followers.words += edge.words;
                }
            }
        }
    }
    let least = if with_text <= 4 { 2 } else { 3 };
    found.retain(|_, followers| followers.sheets.len() >= least);
    found
}

/// How many of the outer rows of each sheet are furniture.
fn furniture(edges: &[Vec<Edge>], chosen: &[Option<Counting>]) -> Vec<usize> {
    let mut found = vec![0; edges.len()];
    let mut places: BTreeMap<&str, Vec<(usize, f32)>> = BTreeMap::new();
    for (sheet, rows) in edges.iter().enumerate() {
        for row in rows {
            places.entry(&row.key).or_default().push((sheet, row.y));
        }
    }
    let page_numbers = PageNumbers::of(edges, chosen);
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
                    // Beyond the outermost row two equal rows may be text, and two short ones with numbers, such as
                    // `Chapter 1` and `Chapter 2`, may be headings anywhere.
                    let may_be_heading = row.key.contains('#') && row.words <= HEADING_WORDS;
                    let few = depth == 0 && !may_be_heading;
                    others.count() >= if few { 1 } else { 2 }
                });
            if (repeated || page_numbers.hold(row, sheet))
                && let Some(count) = found.get_mut(sheet)
            {
                *count += 1;
            }
        }
    }
    found
}

/// Where page numbers are printed at one edge of the sheets.
struct PageNumbers<'c> {
    chosen: &'c [Option<Counting>],
    /// By way of counting the sheets that follow it, each with the height of the row.
    places: BTreeMap<Counting, Vec<(usize, f32)>>,
}

impl<'c> PageNumbers<'c> {
    fn of(edges: &[Vec<Edge>], chosen: &'c [Option<Counting>]) -> Self {
        let mut places: BTreeMap<Counting, Vec<(usize, f32)>> = BTreeMap::new();
        for (sheet, rows) in edges.iter().enumerate() {
            for row in rows {
                if let Some(counting) = page_number_of(row, sheet, chosen) {
                    places.entry(counting).or_default().push((sheet, row.y));
                }
            }
        }
        Self { chosen, places }
    }

    /// Whether a row holds the number of its page, and others do at this place.
    fn hold(&self, row: &Edge, sheet: usize) -> bool {
        let Some(counting) = page_number_of(row, sheet, self.chosen) else {
            return false;
        };
        let places = self.places.get(&counting).map_or(&[][..], Vec::as_slice);
        let others = places
            .iter()
            .filter(|(other, y)| *other != sheet && (y - row.y).abs() < 0.5 * row.size);
        let beside_words = row.key.contains(char::is_alphabetic);
        row.words <= HEAD_WORDS && others.count() >= if beside_words { 2 } else { 1 }
    }
}

/// The sheet's own way of counting, if a number of the row follows it.
fn page_number_of(row: &Edge, sheet: usize, chosen: &[Option<Counting>]) -> Option<Counting> {
    let own = chosen.get(sheet).copied().flatten()?;
    let follows = |number: &Number| (number.roman, i64::from(number.value) - sheet as i64) == own;
    row.numbers.iter().any(follows).then_some(own)
}

/// The way of counting of each sheet: of several that it follows, the one that most sheets do.
fn chosen(counted: &BTreeMap<Counting, Followers>, sheets: usize) -> Vec<Option<Counting>> {
    let mut chosen: Vec<Option<Counting>> = vec![None; sheets];
    for (counting, followers) in by_number(counted) {
        for sheet in &followers.sheets {
            if let Some(slot) = chosen.get_mut(*sheet) {
                slot.get_or_insert(*counting);
            }
        }
    }
    chosen
}

/// The countings that more sheets follow first; of two with as many, the one with fewer words beside its numbers.
fn by_number(counted: &BTreeMap<Counting, Followers>) -> Vec<(&Counting, &Followers)> {
    let mut order: Vec<(&Counting, &Followers)> = counted.iter().collect();
    order.sort_by_key(|(counting, followers)| {
        let most = std::cmp::Reverse(followers.sheets.len());
        (most, followers.words, **counting)
    });
    order
}

/// The page numbers of the sheets, and how many were printed.
fn numbers(
    counted: &BTreeMap<Counting, Followers>,
    mut chosen: Vec<Option<Counting>>,
) -> (Vec<Option<String>>, usize) {
    let seen = chosen.iter().flatten().count();
    for (counting, _) in by_number(counted) {
        fill(&mut chosen, *counting);
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
