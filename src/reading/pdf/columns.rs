//! Columns and the order in which they are read.
//!
//! A strip without ink that runs down the sheet, with lines that fill their width on both sides of it,
//! separates two columns. What is above is read first, then the left column, the right column, and what is
//! below. Each of these parts is divided again. So full-width titles and tables between columns are read in
//! their place, and three columns are two and one.

use super::lines::{CROWDED, usual};
use super::words::Word;

/// A stretch of the sheet and the words in it.
type Region = Vec<Word>;

/// The columns of a sheet's words, in reading order.
pub(super) fn columns(words: Region) -> Vec<Region> {
    let mut found = Vec::new();
    split(words, 0, &mut found);
    found
}

/// Splits words into columns, in reading order.
fn split(words: Region, depth: u32, found: &mut Vec<Region>) {
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
        split(part, depth + 1, found);
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
/// itself may be narrow, since a line that is too long for the left column may extend into it. What must be
/// wide is the gap after most lines of the left column.
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
            if best.as_ref().is_none_or(|(most, _)| text > *most) && !is_table(&inside, size) {
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

/// Places where three or more words begin, to two points.
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

/// How much text stands left and right of a place, if that text forms columns.
fn beside(words: &[&Word], x: f32, size: f32) -> Option<usize> {
    let (left, right): (Vec<&Word>, Vec<&Word>) =
        words.iter().partition(|word| word.x < x - 0.12 * size);
    let (one, other) = (side(&left, size)?, side(&right, size)?);
    let longer = one.lines.len().max(other.lines.len());
    let shorter = one.lines.len().min(other.lines.len());
    // A column that ends early still has two lines; table cells and lists of names fill little of their
    // lines.
    let enough = longer >= COLUMN_LINES && shorter >= 2;
    let full =
        |side: &Side| side.fill >= 0.55 || (side.lines.len() < COLUMN_LINES && side.fill >= 0.4);
    // Columns of one sheet are about equally wide. Or one stands beside the text with baselines of its own,
    // as notices do, while cells of a table share the baselines.
    let alike = one.width.min(other.width) >= 0.3 * one.width.max(other.width);
    let loose = level_share(&left, &right, size) < 0.6;
    let mut gaps: Vec<f32> = one.lines.iter().map(|(_, end)| x - end).collect();
    gaps.sort_by(f32::total_cmp);
    let wide = gaps
        .get(gaps.len() / 4)
        .is_some_and(|gap| *gap > GUTTER * size);
    let aligned = is_aligned(&other.lines, x, size);
    let least = if alike { 3.0 } else { 1.5 };
    let wordy = one.words_a_line >= least && other.words_a_line >= least;
    (enough && full(&one) && full(&other) && (alike || loose) && wide && aligned && wordy)
        .then_some(one.text + other.text)
}

/// Most words in a cell of a table, and most on average, since nearly all cells are numbers or names. Lines
/// of the narrowest prose columns and of an index in three columns have more.
const CELL_WORDS: usize = 4;
const MEAN_CELL_WORDS: f32 = 1.6;

/// Whether words are rows of a table, with three or more short cells in most rows. Columns of a table are not
/// read one after the other.
fn is_table(words: &[&Word], size: f32) -> bool {
    let mut sorted: Vec<&&Word> = words.iter().collect();
    sorted.sort_by(|one, other| one.y.total_cmp(&other.y));
    let mut rows: Vec<Vec<&Word>> = Vec::new();
    for word in sorted {
        match rows.last_mut() {
            Some(row)
                if row
                    .first()
                    .is_some_and(|first| word.y - first.y < 0.5 * size) =>
            {
                row.push(word);
            }
            _ => rows.push(vec![word]),
        }
    }
    let count = rows.len();
    let celled: Vec<Vec<usize>> = rows
        .into_iter()
        .filter_map(|row| cells(row, size))
        .filter(|cells| cells.len() >= 3 && cells.iter().all(|words| *words <= CELL_WORDS))
        .collect();
    let cells = celled.iter().flatten();
    let mean = cells.clone().sum::<usize>() as f32 / cells.count().max(1) as f32;
    10 * celled.len() >= 6 * count && mean <= MEAN_CELL_WORDS
}

/// How many words each cell of a row has, leader dots not counted. Gaps of the type's size and more separate
/// cells.
fn cells(mut row: Vec<&Word>, size: f32) -> Option<Vec<usize>> {
    row.sort_by(|one, other| one.x.total_cmp(&other.x));
    let mut end = row.first()?.x;
    let mut cells = vec![0];
    for word in row {
        if word.x - end > size {
            cells.push(0);
        }
        *cells.last_mut()? += usize::from(word.text.contains(char::is_alphanumeric));
        end = end.max(word.end);
    }
    Some(cells)
}

/// Most that the other lines of a paragraph are indented relative to its first, in sizes of the type. Common
/// practice: entries of a list of references hang by the width of their number, three sizes and less.
const HANG: f32 = 4.0;

/// Whether lines begin at a place as those of a column do: many at the place itself, or some there and most
/// others at one place to the right of it, as in entries with a hanging indent.
fn is_aligned(lines: &[(f32, f32)], x: f32, size: f32) -> bool {
    let near = |place: f32| {
        lines
            .iter()
            .filter(|(start, _)| (start - place).abs() < 0.3 * size)
            .count()
    };
    let at_edge = near(x);
    if 10 * at_edge >= 4 * lines.len() {
        return true;
    }
    let hanging = lines
        .iter()
        .map(|(start, _)| *start)
        .filter(|start| (0.6 * size..HANG * size).contains(&(start - x)))
        .map(near)
        .max();
    10 * at_edge >= 2 * lines.len()
        && hanging.is_some_and(|hanging| 10 * (at_edge + hanging) >= 8 * lines.len())
}

/// On the side with fewer lines, the share of lines that stand on the baseline of a line on the other side.
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
    /// How much of the column's width its lines fill: the median of its lines.
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
