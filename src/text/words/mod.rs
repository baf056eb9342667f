//! Words: the units that are counted and compared.
//!
//! 1. A block is cut at its page marks; code holds no words.
//! 2. Each stretch is cut into words by the rules of Unicode (UAX #29, *Text Boundaries*), where a
//!    word holds at least one letter or digit. Plain ASCII takes a short way by hand; a stretch
//!    between blanks that holds other characters goes through `unicode-segmentation`. A property
//!    test holds the two to the same result.
//! 3. We depart from those rules where running prose requires it: underscores and colons separate (`_glow_`,
//!    `lamps:moths`); so does a full stop whose blank was lost (`lamps.However`) and a narrow no-break space
//!    that is not between digits; a zero-width space inside a word does not; and no word begins with a blank.
//! 4. A word that a hyphen breaks at a line end (`light-` / `ing`) is one word that spans the break, unless
//!    the hyphen is its own ([`joins`]).

use memchr::memchr2_iter;
use unicode_segmentation::UnicodeSegmentation;

use super::{BlockKind, ByteRange, Text};

/// A function that decides whether a form, as written, is a word of the language.
pub(crate) type IsWord = fn(&str) -> bool;

/// The words of a Text in order.
#[cfg(test)]
pub(crate) fn words(text: &Text) -> Vec<ByteRange> {
    words_with(text, |_| false)
}

/// The words of a Text in order, with a dictionary that distinguishes `light-ing` (one word, broken) from `well-known`
/// (two words) at a line end.
#[must_use]
pub(crate) fn words_with(text: &Text, is_word: IsWord) -> Vec<ByteRange> {
    // An English word and the blank after it take about six bytes.
    let mut found = Vec::with_capacity(text.content().len() / 6);
    let mut covered = 0;
    for block in text.blocks() {
        if block.kind == BlockKind::Code {
            continue;
        }
        let fresh = ByteRange::of(block.range.start().max(covered), block.range.end());
        for stretch in text.pages().between_marks(fresh) {
            let first = found.len();
            scan::<true>(text.content(), stretch, &mut found);
            join_line_ends(text.content(), stretch, first, is_word, &mut found);
        }
        covered = covered.max(block.range.end());
    }
    found
}

/// The runs of letters and digits of a few words that are not a Text, such as a title: anything else between
/// them separates them. Unlike [`words_with`] it cuts `don't` and `3.5` in two, so it is for comparing and never
/// for counting.
pub(crate) fn bare_words(text: &str) -> impl DoubleEndedIterator<Item = &str> {
    text.split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
}

/// Whether two parts around a hyphen at a line end are one broken word (`light-ing`) rather than a compound
/// that happened to break at its own hyphen (`well-known`): they are if their joined form is a word or if one
/// of them is not.
pub(crate) fn joins(left: &str, right: &str, is_word: impl Fn(&str) -> bool) -> bool {
    !(is_word(left) && is_word(right)) || is_word(&[left, right].concat())
}

/// What a byte does to the word around it; the names follow UAX #29.
type Class = u8;
const GAP: Class = 0;
const LETTER: Class = 1;
const DIGIT: Class = 2;
/// Joins letters and digits: the underscore.
const EXTENDER: Class = 3;
/// Between two letters part of the word.
const MID_LETTER: Class = 4;
/// Between two digits part of the word.
const MID_NUMBER: Class = 5;
/// Between two letters or two digits part of the word.
const MID_EITHER: Class = 6;
/// Not ASCII.
const WIDE: Class = 7;

const UNICODE: [Class; 256] = classes(EXTENDER, MID_LETTER);
const OURS: [Class; 256] = classes(GAP, GAP);

const fn classes(underscore: Class, colon: Class) -> [Class; 256] {
    let mut table = [GAP; 256];
    let mut byte = 0;
    while byte < 256 {
        table[byte] = match byte as u8 {
            b'a'..=b'z' | b'A'..=b'Z' => LETTER,
            b'0'..=b'9' => DIGIT,
            b'_' => underscore,
            b':' => colon,
            b',' | b';' => MID_NUMBER,
            b'.' | b'\'' => MID_EITHER,
            0x80.. => WIDE,
            _ => GAP,
        };
        byte += 1;
    }
    table
}

/// Adds the words of a stretch: by plain Unicode rules, or with our departures.
fn scan<const DEPART: bool>(content: &str, stretch: ByteRange, found: &mut Vec<ByteRange>) {
    let classes = if DEPART { &OURS } else { &UNICODE };
    let Some(within) = content.as_bytes().get(..stretch.end()) else {
        return;
    };
    let class = |at: usize| within.get(at).map_or(GAP, |byte| classes[*byte as usize]);
    let (mut at, mut floor) = (stretch.start(), stretch.start());
    while at < within.len() {
        match class(at) {
            LETTER | DIGIT | EXTENDER => {
                let end = word_end::<DEPART>(within, at, classes);
                // A lone run of underscores is not a word.
                if class(at) != EXTENDER || has_letter_or_digit(within, at, end) {
                    found.push(ByteRange::of(at, end));
                }
                at = end;
            }
            WIDE => {
                // What stands beside a wide character may belong to the same word, so the whole
                // stretch between blanks is done again. No rule of UAX #29 reaches across a blank
                // except that a combining mark attaches to it, and blanks are cut off anyway.
                let chunk = blank_bounded(within, at, floor);
                while found
                    .last()
                    .is_some_and(|word| word.start() >= chunk.start())
                {
                    found.pop();
                }
                wide_words::<DEPART>(content, chunk, found);
                at = chunk.end();
                floor = at;
            }
            _ => at += 1,
        }
    }
}

/// The end of the ASCII word that starts at `start`.
fn word_end<const DEPART: bool>(bytes: &[u8], start: usize, classes: &[Class; 256]) -> usize {
    let class = |at: usize| bytes.get(at).map_or(GAP, |byte| classes[*byte as usize]);
    let mut at = start + 1;
    loop {
        while matches!(class(at), LETTER | DIGIT | EXTENDER) {
            at += 1;
        }
        // `at` is after `start`, so there is a byte before it.
        let goes_on = match (class(at - 1), class(at), class(at + 1)) {
            (LETTER, MID_LETTER, LETTER) | (DIGIT, MID_NUMBER | MID_EITHER, DIGIT) => true,
            (LETTER, MID_EITHER, LETTER) => !(DEPART && lost_blank(bytes, at)),
            _ => false,
        };
        if !goes_on {
            return at;
        }
        at += 1;
    }
}

/// Whether the byte at `at` is a full stop after which a blank was lost: `lamps.However`. In
/// `Ph.D` and `U.S` no lower-case letter follows the upper-case one.
fn lost_blank(bytes: &[u8], at: usize) -> bool {
    bytes.get(at) == Some(&b'.')
        && at > 0
        && matches!(
            bytes.get(at - 1..at + 3),
            Some([before, _, first, second])
                if before.is_ascii_lowercase()
                    && first.is_ascii_uppercase()
                    && second.is_ascii_lowercase()
        )
}

fn has_letter_or_digit(bytes: &[u8], start: usize, end: usize) -> bool {
    bytes
        .get(start..end)
        .is_some_and(|word| word.iter().any(u8::is_ascii_alphanumeric))
}

fn is_blank(byte: u8) -> bool {
    matches!(byte, b' ' | b'\t'..=b'\r')
}

/// The stretch around `at` between blanks, not before `floor`. Blanks are ASCII, so both ends are
/// character boundaries if `floor` and the end of the bytes are.
fn blank_bounded(bytes: &[u8], at: usize, floor: usize) -> ByteRange {
    let before = bytes.get(floor..at).unwrap_or_default();
    let start = before
        .iter()
        .rposition(|byte| is_blank(*byte))
        .map_or(0, |blank| blank + 1);
    let behind = bytes.get(at..).unwrap_or_default();
    let end = behind
        .iter()
        .position(|byte| is_blank(*byte))
        .unwrap_or(behind.len());
    ByteRange::of(floor + start, at + end)
}

fn wide_words<const DEPART: bool>(content: &str, chunk: ByteRange, found: &mut Vec<ByteRange>) {
    let slice = content.get(chunk.as_range()).unwrap_or_default();
    let first = found.len();
    for (offset, word) in slice.unicode_word_indices() {
        // By the letter of the rules a blank with a combining mark may be a word.
        let solid = word.trim_start();
        let start = chunk.start() + offset + (word.len() - solid.len());
        let word = solid;
        if DEPART {
            push_departing(content, start, word, first, found);
        } else {
            found.push(ByteRange::of(start, start + word.len()));
        }
    }
}

/// Adds a word of the Unicode rules with our departures: cut where we cut, joined to the one before
/// (of the same chunk, which begins at `first`) where nothing but zero-width spaces lie between.
fn push_departing(
    content: &str,
    start: usize,
    word: &str,
    first: usize,
    found: &mut Vec<ByteRange>,
) {
    let bytes = word.as_bytes();
    let is_between_digits = |at: usize| {
        let before = word.get(..at).and_then(|before| before.chars().next_back());
        let behind = word.get(at..).and_then(|behind| behind.chars().nth(1));
        before.is_some_and(char::is_numeric) && behind.is_some_and(char::is_numeric)
    };
    let cuts = |(at, c): (usize, char)| match c {
        '_' | ':' => Some((at, c.len_utf8())),
        '\u{202F}' if !is_between_digits(at) => Some((at, c.len_utf8())),
        '.' if lost_blank(bytes, at) => Some((at, c.len_utf8())),
        _ => None,
    };
    let mut from = 0;
    let ends = word.char_indices().filter_map(cuts);
    for (end, cut) in ends.chain(std::iter::once((word.len(), 0))) {
        let part = word.get(from..end).unwrap_or_default();
        if part.chars().any(char::is_alphanumeric) {
            let range = ByteRange::of(start + from, start + end);
            match found.get_mut(first..).and_then(<[_]>::last_mut) {
                Some(last) if only_zero_width(content, last.end(), range.start()) => {
                    *last = last.hull(range);
                }
                _ => found.push(range),
            }
        }
        from = end + cut;
    }
}

fn only_zero_width(content: &str, from: usize, to: usize) -> bool {
    from < to
        && content
            .get(from..to)
            .is_some_and(|gap| gap.chars().all(|c| c == '\u{200B}'))
}

/// Joins the words of a stretch (those from index `first`) that a hyphen breaks at a line end.
fn join_line_ends(
    content: &str,
    stretch: ByteRange,
    first: usize,
    is_word: IsWord,
    found: &mut Vec<ByteRange>,
) {
    let slice = content.get(stretch.as_range()).unwrap_or_default();
    let words = found.get(first..).unwrap_or_default();
    let mut broken: Vec<usize> = memchr2_iter(b'\n', b'\r', slice.as_bytes())
        .filter_map(|line_end| {
            let right = broken_word(content, stretch.start() + line_end, words, is_word)?;
            Some(first + right)
        })
        .collect();
    if broken.is_empty() {
        return;
    }
    broken.dedup();
    let mut kept = first;
    let mut broken = broken.into_iter().peekable();
    for index in first..found.len() {
        // `kept` never passes `index`; a broken word has a word before it in the same stretch.
        if broken.next_if_eq(&index).is_some() {
            found[kept - 1] = found[kept - 1].hull(found[index]);
        } else {
            found[kept] = found[index];
            kept += 1;
        }
    }
    found.truncate(kept);
}

/// The index of the word whose first part stands before the line end at `line_end`.
fn broken_word(
    content: &str,
    line_end: usize,
    words: &[ByteRange],
    is_word: IsWord,
) -> Option<usize> {
    let before = content.get(..line_end)?.trim_end_matches([' ', '\t']);
    let (hyphen, soft) = match before.as_bytes() {
        [.., b'-'] => (1, false),
        [.., 0xE2, 0x80, 0x90] => (3, false),
        [.., 0xC2, 0xAD] => (2, true),
        _ => return None,
    };
    let behind = content.get(line_end..)?;
    let behind = behind
        .strip_prefix("\r\n")
        .or_else(|| behind.strip_prefix(['\n', '\r']))?
        .trim_start_matches([' ', '\t']);
    let right_start = content.len() - behind.len();
    let right = words.partition_point(|word| word.start() < right_start);
    let right_word = content.get(words.get(right)?.as_range())?;
    let left_word = content.get(words.get(right.checked_sub(1)?)?.as_range())?;
    // A soft hyphen belongs to the word before it, a hard one does not.
    let left_end = words.get(right - 1)?.end();
    let adjacent = left_end == before.len() - if soft { 0 } else { hyphen };
    let left_word = left_word.trim_end_matches('\u{AD}');
    let fits = adjacent
        && words.get(right)?.start() == right_start
        && left_word.chars().next_back()?.is_alphabetic()
        && right_word.chars().next()?.is_lowercase();
    (fits && (soft || joins(left_word, right_word, is_word))).then_some(right)
}

#[cfg(test)]
mod tests;
