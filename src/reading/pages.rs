//! Page marks: `[p. 113]`, `[page xiv]`.
//!
//! The same bracket is a locator in many a draft (`“...” [p. 12]`, `@key [p. 12]`), so its place decides. It
//! is a page mark
//! 1. on a line of its own;
//! 2. at the start of a paragraph;
//! 3. elsewhere in the text only between words, not after a quotation mark, bracket or key, and only if the
//!    mark before or after it in the text names the page just before or after. A transcribed source counts on
//!    like that; locators seldom do.
//!
//! A paragraph that is broken only by a page mark, and does not end a sentence there, is one block
//! ([`join_broken`]); a short line before the first mark of all is a title or names its authors.

use memchr::memchr_iter;

use crate::text::{Block, BlockKind, ByteRange, PageLabel, PageStart};

/// Where a bracket that looks like a page mark stands.
#[derive(PartialEq, Eq)]
enum Place {
    OwnLine,
    ParagraphStart,
    BetweenWords,
}

/// The page marks of a text, in order.
pub(super) fn find(content: &str) -> Vec<PageStart> {
    let candidates: Vec<(PageStart, Place)> = memchr_iter(b'[', content.as_bytes())
        .filter_map(|start| {
            let (length, label) = mark(content.get(start..)?)?;
            let mark = ByteRange::of(start, start + length);
            let place = place(content, mark)?;
            let label = PageLabel::new(label);
            Some((PageStart { label, mark }, place))
        })
        .collect();
    let numbers: Vec<Option<u32>> = candidates
        .iter()
        .map(|(start, _)| page_number(start.label.as_str()))
        .collect();
    let number = |index: Option<usize>| index.and_then(|index| *numbers.get(index)?);
    let counts_on = |index: usize| {
        let here = number(Some(index));
        let next = |number: Option<u32>| number.and_then(|number| number.checked_add(1));
        here.is_some()
            && (next(number(index.checked_sub(1))) == here || next(here) == number(Some(index + 1)))
    };
    let counted: Vec<bool> = (0..candidates.len()).map(counts_on).collect();
    candidates
        .into_iter()
        .zip(counted)
        .filter(|((_, place), counted)| *place != Place::BetweenWords || *counted)
        .map(|((start, _), _)| start)
        .collect()
}

/// The page mark that a text begins with: its length and its label.
fn mark(text: &str) -> Option<(usize, &str)> {
    // No mark is longer. The limit keeps a long run of brackets cheap.
    let window = text.as_bytes().get(1..text.len().min(32))?;
    let close = 1 + memchr::memchr(b']', window)?;
    let inner = text.get(1..close)?.trim();
    let letters = inner
        .find(|c: char| !c.is_ascii_alphabetic())
        .unwrap_or(inner.len());
    let (word, rest) = inner.split_at_checked(letters)?;
    if !["p", "pp", "pg", "page"]
        .iter()
        .any(|name| word.eq_ignore_ascii_case(name))
    {
        return None;
    }
    let label = rest.strip_prefix('.').unwrap_or(rest).trim();
    is_label(label).then_some((close + 1, label))
}

/// Whether a text can be the printed name of one page: `113`, `xiv`, `A-3`; not `3-4`, which is two pages.
fn is_label(label: &str) -> bool {
    let plain = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '.';
    let several = label
        .split_once('-')
        .is_some_and(|(from, _)| from.ends_with(|c: char| c.is_ascii_digit()));
    let numbered = label.contains(|c: char| c.is_ascii_digit());
    (1..=10).contains(&label.len())
        && label.chars().all(plain)
        && !several
        && (numbered || roman(label).is_some())
}

/// The number of a page with an Arabic or Roman label.
pub(super) fn page_number(label: &str) -> Option<u32> {
    label.parse().ok().or_else(|| roman(label))
}

fn roman(numeral: &str) -> Option<u32> {
    let digits: Option<Vec<u32>> = numeral
        .chars()
        .map(|c| match c.to_ascii_lowercase() {
            'i' => Some(1),
            'v' => Some(5),
            'x' => Some(10),
            'l' => Some(50),
            'c' => Some(100),
            'd' => Some(500),
            'm' => Some(1000),
            _ => None,
        })
        .collect();
    let digits = digits.filter(|digits| !digits.is_empty() && digits.len() <= 10)?;
    let (mut sum, mut largest) = (0, 0);
    for digit in digits.into_iter().rev() {
        if digit < largest {
            sum -= digit.min(sum);
        } else {
            sum += digit;
            largest = digit;
        }
    }
    Some(sum)
}

fn place(content: &str, mark: ByteRange) -> Option<Place> {
    let is_line_end = |c: char| c == '\n' || c == '\r';
    let before = content.get(..mark.start())?;
    let behind = content.get(mark.end()..)?;
    // What may come before the first word of a line: indentation, signs of quotations and lists.
    let lead = before.trim_end_matches(|c: char| " \t\x0C>#-*".contains(c));
    let solid_behind = behind.trim_start_matches([' ', '\t', '\u{A0}', '\x0C']);
    if lead.is_empty() || lead.ends_with(is_line_end) {
        if solid_behind.is_empty() || solid_behind.starts_with(is_line_end) {
            return Some(Place::OwnLine);
        }
        let above = lead.strip_suffix('\n').unwrap_or(lead);
        let above = above.strip_suffix('\r').unwrap_or(above);
        let above = above.trim_end_matches(|c: char| " \t\x0C>".contains(c));
        if above.is_empty() || above.ends_with(is_line_end) {
            return Some(Place::ParagraphStart);
        }
    }
    is_between_words(before, behind).then_some(Place::BetweenWords)
}

fn is_between_words(before: &str, behind: &str) -> bool {
    let before = before.trim_end();
    // No key is longer. The limit keeps a long run of brackets cheap.
    let token = before.chars().rev().take(80);
    let is_key = token.take_while(|c| !c.is_whitespace()).any(|c| c == '@');
    let word_before = before.ends_with(|c: char| c.is_alphanumeric() || ",;:.!?-–—".contains(c));
    let behind = behind.trim_start();
    word_before
        && !is_key
        && behind.starts_with(|c: char| c.is_alphanumeric() || "“‘\"'(".contains(c))
}

/// Takes page marks off the ends of blocks and drops blocks that consist only of them. Joins two blocks that
/// only page marks separate, where the first does not end a sentence.
pub(super) fn join_broken(content: &str, marks: &[PageStart], blocks: Vec<Block>) -> Vec<Block> {
    if marks.is_empty() {
        return blocks;
    }
    let mut joined: Vec<Block> = Vec::with_capacity(blocks.len());
    for block in blocks {
        let Some(range) = without_marks(content, marks, block.range) else {
            continue;
        };
        let block = Block { range, ..block };
        match joined.last_mut() {
            Some(last) if is_broken(content, marks, last, &block) => {
                last.range = last.range.hull(block.range);
            }
            _ => joined.push(block),
        }
    }
    joined
}

fn is_broken(content: &str, marks: &[PageStart], first: &Block, second: &Block) -> bool {
    let kinds_fit = first.kind == second.kind
        && matches!(first.kind, BlockKind::Paragraph | BlockKind::BlockQuotation);
    let between = ByteRange::of(first.range.end(), second.range.start());
    let from = marks.partition_point(|start| start.mark.start() < between.start());
    let to = marks.partition_point(|start| start.mark.end() <= between.end());
    let before = content.get(first.range.as_range()).unwrap_or_default();
    let behind = content.get(second.range.as_range()).unwrap_or_default();
    let goes_on = behind.chars().next().is_some_and(char::is_lowercase);
    let is_head = from == 0 && !goes_on && before.split_whitespace().count() < MOST_HEAD_WORDS;
    kinds_fit && from < to && !is_head && !ends_sentence(before)
}

/// Fewer words than this before the first page mark of all are a title or a line of names, not the beginning of a sentence
/// that goes on behind the mark. Our own choice.
const MOST_HEAD_WORDS: usize = 12;

/// The range without page marks and blank space at its ends; `None` where nothing is left. A mark may be
/// empty, as those of HTML are, so the marks are counted off: each round takes one.
fn without_marks(content: &str, marks: &[PageStart], range: ByteRange) -> Option<ByteRange> {
    let first = marks.partition_point(|page| page.mark.start() < range.start());
    let behind = marks.partition_point(|page| page.mark.end() <= range.end());
    let mut left = marks.get(first..behind).unwrap_or_default();
    let mut solid = solid(content, range)?;
    loop {
        (solid, left) = match left {
            [page, later @ ..] if page.mark.start() <= solid.start() => {
                let start = page.mark.end().clamp(solid.start(), solid.end());
                (ByteRange::of(start, solid.end()), later)
            }
            [earlier @ .., page] if page.mark.end() >= solid.end() => {
                let end = page.mark.start().clamp(solid.start(), solid.end());
                (ByteRange::of(solid.start(), end), earlier)
            }
            _ => return (!solid.is_empty()).then_some(solid),
        };
        solid = self::solid(content, solid)?;
    }
}

/// The range without blank space at its ends.
fn solid(content: &str, range: ByteRange) -> Option<ByteRange> {
    let inside = content.get(range.as_range())?;
    let behind_blank = inside.trim_start();
    let start = range.end() - behind_blank.len();
    Some(ByteRange::of(start, start + behind_blank.trim_end().len()))
}

/// Whether a stretch of text ends with an end mark, before any closing marks and note number.
pub(super) fn ends_sentence(text: &str) -> bool {
    let closing = |c: char| c.is_whitespace() || "”’\"'»›«‹)]}*_".contains(c);
    let end = text.trim_end_matches(closing);
    let without_note = end.trim_end_matches(|c: char| c.is_ascii_digit());
    let is_end = |text: &str| text.ends_with(['.', '!', '?', '…', ':', '。', '！', '？']);
    is_end(end) || is_end(without_note.trim_end_matches(closing))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn labels(content: &str) -> Vec<String> {
        find(content)
            .into_iter()
            .map(|start| start.label.to_string())
            .collect()
    }

    #[test]
    fn page_marks_by_case() {
        let cases: &[(&str, &[&str])] = &[
            // On a line of its own, at the start of a paragraph.
            ("[p. 113]\nLamps", &["113"]),
            ("Lamps\n[p.113]\nmoths", &["113"]),
            ("Lamps\r\n  [page xiv]  \r\nmoths", &["xiv"]),
            ("[Page 3]", &["3"]),
            ("[p. 7] Lamps dim.", &["7"]),
            ("Lamps.\n\n[p. 7] Moths.", &["7"]),
            ("> [p. 7] Moths.", &["7"]),
            ("[pg. A-3]\n\n[pp. 12]", &["A-3", "12"]),
            // Locators.
            ("“Lamps dim” [p. 12].", &[]),
            ("“Lamps dim” [p. 12] and “go off” [p. 13] then", &[]),
            ("So @harrow2014 [p. 12] says and @okoro [p. 13] too", &[]),
            ("Lamps dim [p. 12] at night.", &[]),
            ("Lamps dim [p. 12] and rise [p. 40] again.", &[]),
            ("Harrow (2014) [p. 12] says, Okoro (2016) [p. 13] too", &[]),
            // Between words, counting on.
            ("[p. 11] Lamps dim [p. 12] at night", &["11", "12"]),
            (
                "Lamps dim [p. 12] at night, then [p. 13] go off",
                &["12", "13"],
            ),
            (
                "They ended. [p. xi] Then he wrote [p. xii] of it",
                &["xi", "xii"],
            ),
            ("[p. 3]\nA line\n[p. 4] follows", &["3", "4"]),
            // No marks.
            ("[p. 3-4]", &[]),
            ("[page break]", &[]),
            ("[12]", &[]),
            ("[p. ]", &[]),
            ("[p. 3", &[]),
            ("[plate 3]", &[]),
        ];
        for (content, expected) in cases {
            assert_eq!(labels(content), *expected, "in {content:?}");
        }
    }

    #[test]
    fn marks_come_off_the_ends_of_blocks() {
        let marks_at = |places: &[(usize, usize)]| -> Vec<PageStart> {
            let mark = |(start, end): &(usize, usize)| PageStart {
                label: PageLabel::new("12"),
                mark: ByteRange::of(*start, *end),
            };
            places.iter().map(mark).collect()
        };
        type Case<'a> = (&'a str, &'a [(usize, usize)], Option<&'a str>);
        let cases: &[Case<'_>] = &[
            (
                "[p. 12] Moths. [p. 13]",
                &[(0, 7), (15, 22)],
                Some("Moths."),
            ),
            ("[p. 12][p. 13]", &[(0, 7), (7, 14)], None),
            ("Mo[p. 12]ths", &[(2, 9)], Some("Mo[p. 12]ths")),
            // Empty marks: at the start, at the end, several, next to one that is not empty, inside.
            ("Moths.", &[(0, 0)], Some("Moths.")),
            ("Moths.", &[(6, 6)], Some("Moths.")),
            (
                " Moths. ",
                &[(0, 0), (0, 0), (1, 1), (7, 7), (8, 8)],
                Some("Moths."),
            ),
            (
                "[p. 12] Moths.",
                &[(0, 0), (0, 7), (7, 7), (8, 8)],
                Some("Moths."),
            ),
            (
                "Moths. [p. 12]",
                &[(6, 6), (7, 14), (14, 14)],
                Some("Moths."),
            ),
            ("Moths.", &[(2, 2)], Some("Moths.")),
            ("", &[(0, 0)], None),
        ];
        for (content, places, expected) in cases {
            let all = ByteRange::of(0, content.len());
            let found = without_marks(content, &marks_at(places), all);
            let found = found.and_then(|range| content.get(range.as_range()));
            assert_eq!(found, *expected, "in {content:?}");
        }
    }

    #[test]
    fn roman_numerals() {
        let cases = [
            ("i", 1),
            ("iv", 4),
            ("XIV", 14),
            ("xc", 90),
            ("mcmxiv", 1914),
        ];
        for (numeral, number) in cases {
            assert_eq!(roman(numeral), Some(number), "{numeral}");
        }
        assert_eq!(roman("abc"), None);
        assert_eq!(roman(""), None);
    }

    #[test]
    fn sentence_ends() {
        for ended in [
            "Dim.",
            "Dim!”",
            "(Dim.)",
            "so:",
            "dim.12",
            "dim.” 3",
            "He asked: “Why?”",
        ] {
            assert!(ends_sentence(ended), "{ended}");
        }
        for open in [
            "the lamps",
            "in 2014",
            "“the lamps”",
            "lamps,",
            "light-",
            "",
        ] {
            assert!(!ends_sentence(open), "{open}");
        }
    }
}
