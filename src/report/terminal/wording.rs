//! Draft and source set against each other: each wording with marks below the words that answer to
//! words of the other.
//!
//! 1. The wording is taken apart into what the eye sees as one character ([`Cell`]), harmless for the
//!    terminal, each with its width in columns and the mark of the stretch it belongs to. Blank space
//!    of any kind and length becomes one space.
//! 2. Cells between spaces make [`Chunk`]s, and these are set in lines by `textwrap`.
//! 3. Too many lines are shortened in the middle: where a passage begins and where it ends is what a
//!    reader needs to find it.
//! 4. Every line that holds marked cells gets a line of marks below, as wide as the words above.

use std::io::{self, Write};

use textwrap::core::Fragment;
use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

use super::sheet::{MARGIN, Sheet};
use super::style::Ink;
use crate::overlap::Counterpart;
use crate::report::english::counted;
use crate::report::harmless;
use crate::text::ByteRange;

/// What the marks mean, for the head of a report.
pub(in crate::report) const LEGEND: &str =
    "=== same words   --- another form of the word   ~~~ a synonym";

/// The character that marks a counterpart below the word.
fn mark_of(by: Counterpart) -> char {
    match by {
        Counterpart::Form => '=',
        Counterpart::Stem | Counterpart::Misspelling => '-',
        Counterpart::Synonym => '~',
    }
}

/// A wording and its marked stretches, as byte ranges into it, in order and without overlap.
pub(in crate::report) struct Wording<'a> {
    text: &'a str,
    marks: Vec<(ByteRange, Counterpart)>,
}

impl<'a> Wording<'a> {
    /// A passage of a Text, where the marks are ranges into that Text. Marks outside the passage are
    /// cut off.
    pub(in crate::report) fn new(
        text: &'a str,
        range: ByteRange,
        marks: impl Iterator<Item = (ByteRange, Counterpart)>,
    ) -> Self {
        let inside = |place: ByteRange| {
            let common = place.intersection(range);
            let from = common.start().saturating_sub(range.start());
            ByteRange::of(from, from + common.len())
        };
        let mut marks: Vec<_> = marks
            .map(|(place, by)| (inside(place), by))
            .filter(|(place, _)| !place.is_empty())
            .collect();
        marks.sort_by_key(|&(place, _)| place);
        Self { text, marks }
    }

    /// Writes the wording with a label in the left column, on at most `most_lines` lines of words.
    pub(in crate::report) fn write<W: Write>(
        &self,
        sheet: &mut Sheet<'_, W>,
        label: &str,
        most_lines: usize,
    ) -> io::Result<()> {
        let width = sheet.look.width().saturating_sub(MARGIN).max(10);
        let chunks = self.chunks(width);
        let lines = textwrap::wrap_algorithms::wrap_first_fit(&chunks, &[columns(width)]);
        let mut lead = sheet.label(label);
        let blank = " ".repeat(MARGIN);
        let Shortened {
            head,
            left_out,
            tail,
        } = shortened(&lines, most_lines);
        for line in head {
            write_line(sheet, &lead, line)?;
            lead.clone_from(&blank);
        }
        if !left_out.is_empty() {
            let words = left_out.iter().map(|line| line.len()).sum();
            let note = format!(
                "[... {} left out here ...]",
                counted(words, "word", "words")
            );
            let note = sheet.look.paint(Ink::Quiet, &note);
            sheet.line(&format!("{lead}{note}"))?;
        }
        for line in tail {
            write_line(sheet, &blank, line)?;
        }
        Ok(())
    }

    /// The mark of a byte of the wording, with the number of its stretch.
    fn mark_at(&self, position: usize) -> Option<(usize, Counterpart)> {
        let behind = self
            .marks
            .partition_point(|(place, _)| place.start() <= position);
        let index = behind.checked_sub(1)?;
        let (place, by) = self.marks.get(index)?;
        place.contains(position).then_some((index, *by))
    }

    fn chunks(&self, width: usize) -> Vec<Chunk> {
        let mut chunks: Vec<Chunk> = Vec::new();
        let mut open = Chunk::default();
        for (position, seen) in self.text.grapheme_indices(true) {
            let mark = self.mark_at(position);
            if seen.chars().all(char::is_whitespace) {
                if !open.cells.is_empty() {
                    open.space = Some(mark);
                    chunks.push(std::mem::take(&mut open));
                }
                continue;
            }
            let shown = harmless(seen).into_owned();
            let cell_width = shown.width();
            if open.width + cell_width > width && !open.cells.is_empty() {
                chunks.push(std::mem::take(&mut open));
            }
            open.width += cell_width;
            open.cells.push(Cell {
                shown,
                width: cell_width,
                mark,
            });
        }
        if !open.cells.is_empty() {
            chunks.push(open);
        }
        chunks
    }
}

/// A mark and the number of the stretch it belongs to.
type Mark = Option<(usize, Counterpart)>;

/// What the eye sees as one character.
#[derive(Debug)]
struct Cell {
    shown: String,
    width: usize,
    mark: Mark,
}

/// Cells that stay together on a line.
#[derive(Debug, Default)]
struct Chunk {
    cells: Vec<Cell>,
    width: usize,
    /// The mark of the space behind; `None` where the next chunk follows without a space.
    space: Option<Mark>,
}

impl Fragment for Chunk {
    fn width(&self) -> f64 {
        columns(self.width)
    }

    fn whitespace_width(&self) -> f64 {
        if self.space.is_some() { 1.0 } else { 0.0 }
    }

    fn penalty_width(&self) -> f64 {
        0.0
    }
}

#[allow(
    clippy::cast_precision_loss,
    reason = "columns of one word are far below 2^52"
)]
fn columns(width: usize) -> f64 {
    width as f64
}

/// The lines of a wording: those shown first, those left out, those shown last.
struct Shortened<'a, 'b> {
    head: &'b [&'a [Chunk]],
    left_out: &'b [&'a [Chunk]],
    tail: &'b [&'a [Chunk]],
}

fn shortened<'a, 'b>(lines: &'b [&'a [Chunk]], most: usize) -> Shortened<'a, 'b> {
    if lines.len() <= most || most < 2 {
        return Shortened {
            head: lines,
            left_out: &[],
            tail: &[],
        };
    }
    // One line goes to the note; the beginning gets the larger half.
    let shown = most - 1;
    let tail = shown / 2;
    let (head, rest) = lines.split_at((shown - tail).min(lines.len()));
    let (left_out, tail) = rest.split_at(rest.len().saturating_sub(tail));
    Shortened {
        head,
        left_out,
        tail,
    }
}

fn write_line<W: Write>(sheet: &mut Sheet<'_, W>, lead: &str, line: &[Chunk]) -> io::Result<()> {
    let mut words = String::new();
    let mut marks = String::new();
    let mut run = (None, String::new());
    for (index, chunk) in line.iter().enumerate() {
        for cell in &chunk.cells {
            add(sheet, &mut words, &mut run, cell.mark, &cell.shown);
            marks.extend(std::iter::repeat_n(mark_char(cell.mark), cell.width));
        }
        if let (Some(mark), true) = (chunk.space, index + 1 < line.len()) {
            add(sheet, &mut words, &mut run, mark, " ");
            marks.push(mark_char(mark));
        }
    }
    flush(sheet, &mut words, &mut run);
    sheet.line(&format!("{lead}{words}"))?;
    let marks = marks.trim_end();
    if marks.is_empty() {
        return Ok(());
    }
    sheet.line(&format!("{:MARGIN$}{marks}", ""))
}

fn mark_char(mark: Mark) -> char {
    mark.map_or(' ', |(_, by)| mark_of(by))
}

/// Adds to the line, painting only once for each stretch of one mark.
fn add<W: Write>(
    sheet: &Sheet<'_, W>,
    words: &mut String,
    run: &mut (Mark, String),
    mark: Mark,
    shown: &str,
) {
    if run.0 != mark {
        flush(sheet, words, run);
        run.0 = mark;
    }
    run.1.push_str(shown);
}

fn flush<W: Write>(sheet: &Sheet<'_, W>, words: &mut String, run: &mut (Mark, String)) {
    let text = std::mem::take(&mut run.1);
    match run.0 {
        Some((_, by)) => words.push_str(&sheet.look.paint(Ink::Shared(by), &text)),
        None => words.push_str(&text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::{Colours, Look};
    use proptest::prelude::*;

    /// Prints a wording of which the given words are marked.
    fn printed(text: &str, marked: &[(&str, Counterpart)], width: usize, most: usize) -> String {
        let marks = marked.iter().map(|&(words, by)| {
            let start = text.find(words).unwrap();
            (ByteRange::of(start, start + words.len()), by)
        });
        let wording = Wording::new(text, ByteRange::of(0, text.len()), marks);
        let look = Look::new(width, Colours::Off);
        let mut out = Vec::new();
        wording
            .write(&mut Sheet::new(&mut out, &look), "draft", most)
            .unwrap();
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn marks_stand_below_their_words() {
        let shown = printed(
            "Pollen is transported less far\nwhere the lights stay on.",
            &[
                ("Pollen is", Counterpart::Form),
                ("transported", Counterpart::Synonym),
                ("less far\nwhere the", Counterpart::Form),
                ("stay", Counterpart::Stem),
            ],
            60,
            4,
        );
        let expected = "   draft   Pollen is transported less far where the lights\n           \
                        ========= ~~~~~~~~~~~ ==================\n           \
                        stay on.\n           ----\n";
        assert_eq!(shown, expected);
    }

    #[test]
    fn wide_and_combined_characters_keep_the_marks_in_place() {
        let shown = printed(
            "夜の蛾 cafe\u{301} \u{202e}x moths",
            &[
                ("cafe\u{301}", Counterpart::Form),
                ("moths", Counterpart::Form),
            ],
            60,
            4,
        );
        let expected = "   draft   夜の蛾 cafe\u{301} \\u{202e}x moths\n           \
                        \u{20}      ====           =====\n";
        assert_eq!(shown, expected);
    }

    #[test]
    fn long_wordings_lose_their_middle() {
        let text = (1..=90)
            .map(|n| format!("word{n:02}"))
            .collect::<Vec<_>>()
            .join(" ");
        let shown = printed(&text, &[], 60, 4);
        let expected = "   draft   word01 word02 word03 word04 word05 word06 word07\n           \
                        word08 word09 word10 word11 word12 word13 word14\n           \
                        [... 70 words left out here ...]\n           \
                        word85 word86 word87 word88 word89 word90\n";
        assert_eq!(shown, expected);
    }

    proptest! {
        #[test]
        fn any_text_and_any_marks_print_within_the_width(
            text in "[a-z \u{301}夜\u{1f469}\u{200d}\n\u{1b}]{0,300}",
            places in proptest::collection::vec((0usize..400, 0usize..60), 0..6),
            width in 60usize..=100,
            most in 0usize..6,
        ) {
            let marks = places
                .into_iter()
                .map(|(start, length)| (ByteRange::of(start, start + length), Counterpart::Form));
            let wording = Wording::new(&text, ByteRange::of(0, text.len()), marks);
            let look = Look::new(width, Colours::Off);
            let mut out = Vec::new();
            wording.write(&mut Sheet::new(&mut out, &look), "draft", most).unwrap();
            for line in String::from_utf8(out).unwrap().lines() {
                prop_assert!(line.width() <= width, "{} columns: {line:?}", line.width());
                prop_assert!(!line.chars().any(char::is_control));
            }
        }
    }
}
