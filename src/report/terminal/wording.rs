//! Draft and source set against each other: each wording with marks below the words that answer to
//! words of the other.
//!
//! 1. The wording is taken apart into what the eye sees as one character ([`Cell`]), harmless for the
//!    terminal, each with its width in columns and the mark of the stretch it belongs to. Blank space
//!    of any kind and length becomes one space.
//! 2. Cells between spaces make [`Chunk`]s, and these are set in lines by `textwrap`.
//! 3. Of too many lines some are left out, on both sides so that they can still be compared
//!    ([`super::cut`]).
//! 4. Every line that holds marked cells gets a line of marks below, as wide as the words above.

use std::io::{self, Write};

use textwrap::core::Fragment;
use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

use super::cut::{self, MarkedWord};
use super::joints;
use super::sheet::{MARGIN, Sheet};
use super::style::{Ink, Look};
use crate::overlap::Counterpart;
use crate::report::english::counted;
use crate::report::harmless;
use crate::text::ByteRange;

/// What the marks mean, for the head of a report.
pub(in crate::report) const LEGEND: &str =
    "=== words in a row   --- one word, in any form   ~~~ a synonym";

/// What is to be said where long wordings may be cut.
pub(in crate::report) const CUT_NOTE: &str = "Long wordings are cut; --whole prints all of them.";

/// The character that marks a counterpart below the word.
fn mark_of(by: Counterpart) -> char {
    match by {
        Counterpart::String => '=',
        Counterpart::Form | Counterpart::Stem | Counterpart::Misspelling => '-',
        Counterpart::Synonym => '~',
    }
}

/// A wording and its marked stretches, as byte ranges into it, in order and without overlap.
pub(in crate::report) struct Wording<'a> {
    text: &'a str,
    marks: Vec<(ByteRange, (usize, Counterpart))>,
    /// Stretches that are not shown, in order.
    hidden: Vec<ByteRange>,
}

impl<'a> Wording<'a> {
    /// A passage of a Text, where the marks are ranges into that Text. Marks outside the passage are
    /// cut off. A mark's place in the row is its number, by which it answers to a mark of another wording.
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
            .enumerate()
            .map(|(number, (place, by))| (inside(place), (number, by)))
            .filter(|(place, _)| !place.is_empty())
            .collect();
        marks.sort_by_key(|&(place, _)| place);
        Self {
            text,
            marks,
            hidden: Vec::new(),
        }
    }

    /// The same wording without some stretches of its Text, such as page marks; a blank stands for each.
    pub(in crate::report) fn without(self, range: ByteRange, hidden: &[ByteRange]) -> Self {
        let inside = hidden.iter().map(|place| {
            let from = place.start().saturating_sub(range.start());
            ByteRange::of(from, from + place.len())
        });
        Self {
            hidden: inside.collect(),
            ..self
        }
    }

    fn is_hidden(&self, position: usize) -> bool {
        let from = self.hidden.partition_point(|place| place.end() <= position);
        let place = self.hidden.get(from);
        place.is_some_and(|place| place.contains(position))
    }

    /// Sets the wording in lines, at most `most_lines` of them unless the look asks for all.
    pub(in crate::report) fn set(&self, look: &Look, most_lines: usize) -> SetWording {
        let lines = self.lines(look);
        let marked = marked_words(&lines);
        let (kept, _) = cut::both(&marked, &marked, most_of(look, most_lines));
        SetWording { lines, kept }
    }

    /// Sets two wordings whose marks answer to each other, so that what is left out of long ones leaves
    /// lines that can be compared.
    pub(in crate::report) fn set_both(
        &self,
        other: &Wording<'_>,
        look: &Look,
        most_lines: usize,
    ) -> (SetWording, SetWording) {
        let (ours, theirs) = (self.lines(look), other.lines(look));
        let most = most_of(look, most_lines);
        let (one, two) = cut::both(&marked_words(&ours), &marked_words(&theirs), most);
        let set = |lines, kept| SetWording { lines, kept };
        (set(ours, one), set(theirs, two))
    }

    fn lines(&self, look: &Look) -> Vec<Vec<Chunk>> {
        let width = look.width().saturating_sub(MARGIN).max(10);
        let mut chunks = self.chunks(width);
        let joined = joined(&chunks);
        let lines = textwrap::wrap_algorithms::wrap_first_fit(&joined, &[columns(width)]);
        let length = |line: &[Joined]| line.iter().map(|joined| joined.chunks).sum();
        let lengths: Vec<usize> = lines.into_iter().map(length).collect();
        let mut rest = chunks.drain(..);
        lengths
            .into_iter()
            .map(|length| rest.by_ref().take(length).collect())
            .collect()
    }

    /// The mark of a byte of the wording, with the number of its stretch.
    fn mark_at(&self, position: usize) -> Option<(usize, Counterpart)> {
        let behind = self
            .marks
            .partition_point(|(place, _)| place.start() <= position);
        let index = behind.checked_sub(1)?;
        let (place, mark) = self.marks.get(index)?;
        place.contains(position).then_some(*mark)
    }

    fn chunks(&self, width: usize) -> Vec<Chunk> {
        let mut chunks: Vec<Chunk> = Vec::new();
        let mut open = Chunk::default();
        for (position, seen) in self.text.grapheme_indices(true) {
            let mark = self.mark_at(position);
            if seen.chars().all(char::is_whitespace) || self.is_hidden(position) {
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

impl Chunk {
    fn text(&self) -> String {
        self.cells.iter().map(|cell| cell.shown.as_str()).collect()
    }
}

/// Chunks that stay together on a line, such as `p. 12`.
#[derive(Debug)]
struct Joined {
    /// How many.
    chunks: usize,
    width: usize,
    has_space_behind: bool,
}

/// All chunks in order, those together that no line may part.
fn joined(chunks: &[Chunk]) -> Vec<Joined> {
    let mut all: Vec<Joined> = Vec::with_capacity(chunks.len());
    let mut before = String::new();
    for chunk in chunks {
        let text = chunk.text();
        let has_space_behind = chunk.space.is_some();
        match all.last_mut() {
            Some(last) if last.has_space_behind && joints::holds(&before, &text) => {
                last.chunks += 1;
                last.width += 1 + chunk.width;
                last.has_space_behind = has_space_behind;
            }
            _ => all.push(Joined {
                chunks: 1,
                width: chunk.width,
                has_space_behind,
            }),
        }
        before = text;
    }
    all
}

impl Fragment for Joined {
    fn width(&self) -> f64 {
        columns(self.width)
    }

    fn whitespace_width(&self) -> f64 {
        if self.has_space_behind { 1.0 } else { 0.0 }
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

/// A wording set in lines.
pub(in crate::report) struct SetWording {
    lines: Vec<Vec<Chunk>>,
    kept: Vec<bool>,
}

impl SetWording {
    /// Whether lines are left out.
    pub(in crate::report) fn is_cut(&self) -> bool {
        self.kept.contains(&false)
    }

    /// Writes the lines with a label in the left column.
    pub(in crate::report) fn write<W: Write>(
        &self,
        sheet: &mut Sheet<'_, W>,
        label: &str,
    ) -> io::Result<()> {
        let mut lead = sheet.label(label);
        let blank = " ".repeat(MARGIN);
        let mut left_out = 0;
        for (line, is_kept) in self.lines.iter().zip(&self.kept) {
            if !is_kept {
                left_out += line.len();
                continue;
            }
            write_gap(sheet, &mut lead, std::mem::take(&mut left_out))?;
            write_line(sheet, &std::mem::replace(&mut lead, blank.clone()), line)?;
        }
        write_gap(sheet, &mut lead, left_out)
    }
}

fn most_of(look: &Look, most_lines: usize) -> usize {
    if look.is_whole() {
        usize::MAX
    } else {
        most_lines
    }
}

/// The marked words of each line. A word of a stretch goes by its number within it, by which it answers
/// to a word of the other wording where both have the same words.
fn marked_words(lines: &[Vec<Chunk>]) -> Vec<Vec<MarkedWord>> {
    let mut last = None;
    let mut word = 0;
    let mut marked_word = |chunk: &Chunk| -> Option<MarkedWord> {
        let (stretch, _) = chunk.cells.iter().find_map(|cell| cell.mark)?;
        word = if last == Some(stretch) { word + 1 } else { 0 };
        last = Some(stretch);
        let marked = chunk.cells.iter().filter(|cell| cell.mark.is_some());
        Some((stretch, word, marked.map(|cell| cell.width).sum()))
    };
    lines
        .iter()
        .map(|line| line.iter().filter_map(&mut marked_word).collect())
        .collect()
}

/// Says how many words are not shown; says nothing where there are none.
fn write_gap<W: Write>(
    sheet: &mut Sheet<'_, W>,
    lead: &mut String,
    words: usize,
) -> io::Result<()> {
    if words == 0 {
        return Ok(());
    }
    let note = format!("[... {} left out ...]", counted(words, "word", "words"));
    let note = sheet.look.paint(Ink::Quiet, &note);
    let lead = std::mem::replace(lead, " ".repeat(MARGIN));
    sheet.line(&format!("{lead}{note}"))
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
#[path = "wording_tests.rs"]
mod tests;
