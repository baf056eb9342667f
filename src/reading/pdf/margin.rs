//! Line numbers in the margin. Editions of verse, plays and laws have them on about every fifth line.
//!
//! They stand on the lines they count, so they would be read as part of these. They are removed from the
//! sheet's lines and written after them, in one line.

use super::lines::{CROWDED, usual};
use super::words::Word;

/// How far a line number is from the text, in sizes of the type. Common practice is one and more; a blank is
/// a third.
const AWAY: f32 = 0.6;

/// How many more lines than the step may lie between two line numbers, since headings and blank lines are not
/// counted.
const UNCOUNTED: usize = 3;

/// A number that stands alone.
struct Number {
    /// Its index among the words.
    index: usize,
    value: u32,
    x: f32,
    end: f32,
    y: f32,
}

/// Removes the line numbers from a sheet's words and returns them from top to bottom.
pub(super) fn take_numbers(words: &mut Vec<Word>) -> Vec<Word> {
    let size = usual(words.iter());
    let numbers: Vec<Number> = words
        .iter()
        .enumerate()
        .filter_map(|(index, word)| {
            let value = value(&word.text)?;
            Some(Number {
                index,
                value,
                x: word.x,
                end: word.end,
                y: word.y,
            })
        })
        .collect();
    // A sheet of figures is a table.
    if numbers.len() < 2 || 4 * numbers.len() > words.len() || words.len() > CROWDED {
        return Vec::new();
    }
    let mut counting = vec![false; words.len()];
    for first in &numbers {
        // The next number below has to continue the count: numbers on every line are no such count.
        let next = numbers
            .iter()
            .filter(|other| other.y > first.y + 0.5 * size && is_aligned(first, other, size))
            .min_by(|one, other| one.y.total_cmp(&other.y));
        if let Some(next) = next.filter(|next| counts_on(first, next, words, size)) {
            for number in [first, next] {
                if let Some(found) = counting.get_mut(number.index) {
                    *found = true;
                }
            }
        }
    }
    let mut index = 0;
    let mut taken: Vec<Word> = words
        .extract_if(.., |_| {
            index += 1;
            counting.get(index - 1).copied().unwrap_or_default()
        })
        .collect();
    taken.sort_by(|one, other| one.y.total_cmp(&other.y));
    taken
}

/// The number that a word is: digits alone, or digits with the letter that distinguishes two texts side by
/// side.
fn value(text: &str) -> Option<u32> {
    let digits = text.strip_suffix(['L', 'R']).unwrap_or(text);
    let all = digits.len() <= 4 && digits.bytes().all(|b| b.is_ascii_digit());
    digits.parse().ok().filter(|_| all)
}

/// Whether numbers are aligned below each other, by their left or right ends.
fn is_aligned(one: &Number, other: &Number, size: f32) -> bool {
    (one.x - other.x).abs() < 0.2 * size || (one.end - other.end).abs() < 0.2 * size
}

/// Whether two numbers count the lines between them: the lower one is a step of several lines further, with
/// as many lines between them as the step, and both are away from the text.
fn counts_on(first: &Number, second: &Number, words: &[Word], size: f32) -> bool {
    let Some(step) = second.value.checked_sub(first.value) else {
        return false;
    };
    let counted = (2..=10).contains(&step) && first.value.is_multiple_of(step);
    if !counted || !is_away(first, words, size) || !is_away(second, words, size) {
        return false;
    }
    let mut baselines: Vec<f32> = words
        .iter()
        .map(|word| word.y)
        .filter(|y| *y > first.y + 0.5 * size && *y < second.y - 0.5 * size)
        .collect();
    baselines.sort_by(f32::total_cmp);
    baselines.dedup_by(|one, other| (*one - *other).abs() < 0.5 * size);
    let step = step as usize;
    (step - 1..=step - 1 + UNCOUNTED).contains(&baselines.len())
}

/// Whether a number has text on its line and none close to it.
fn is_away(number: &Number, words: &[Word], size: f32) -> bool {
    let mut beside = words
        .iter()
        .enumerate()
        .filter(|(index, word)| *index != number.index && (word.y - number.y).abs() < 0.4 * size)
        .map(|(_, word)| (word.x - number.end).max(number.x - word.end))
        .peekable();
    beside.peek().is_some() && beside.all(|gap| gap > AWAY * size)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn word(text: &str, x: f32, y: f32) -> Word {
        Word {
            text: text.to_owned(),
            x,
            end: x + 5.0 * text.len() as f32,
            y,
            size: 10.0,
            bold: false,
            raised: false,
            blank_before: false,
            call: None,
        }
    }

    /// Lines of text from the top, some of them with a number at a place.
    fn sheet(lines: usize, x: f32, number: impl Fn(usize) -> Option<usize>) -> Vec<Word> {
        let mut words = Vec::new();
        for line in 1..=lines {
            let y = 12.0 * line as f32;
            for (place, text) in ["the", "ferry", "crosses", "at", "dawn"].iter().enumerate() {
                words.push(word(text, 100.0 + 40.0 * place as f32, y));
            }
            if let Some(number) = number(line) {
                words.push(word(&number.to_string(), x, y));
            }
        }
        words
    }

    #[test]
    fn every_fifth_line_is_counted() {
        for x in [60.0, 320.0] {
            let mut words = sheet(17, x, |line| line.is_multiple_of(5).then_some(line));
            let taken = take_numbers(&mut words);
            let numbers: Vec<&str> = taken.iter().map(|word| word.text.as_str()).collect();
            assert_eq!(numbers, ["5", "10", "15"]);
            assert_eq!(words.len(), 17 * 5);
        }
    }

    #[test]
    fn other_numbers_stay() {
        // Close to the text, as in a sentence.
        let mut words = sheet(17, 286.0, |line| line.is_multiple_of(5).then_some(line));
        assert!(take_numbers(&mut words).is_empty());
        // A list or a program listing counts every line; years in a table have no rows between them.
        let mut words = sheet(17, 320.0, Some);
        assert!(take_numbers(&mut words).is_empty());
        let mut words = sheet(17, 320.0, |line| Some(1900 + 5 * line));
        assert!(take_numbers(&mut words).is_empty());
        // Numbers of anything.
        let mut words = sheet(17, 320.0, |line| {
            line.is_multiple_of(5).then_some(line * line)
        });
        assert!(take_numbers(&mut words).is_empty());
    }
}
