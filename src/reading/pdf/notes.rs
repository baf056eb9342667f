//! Footnotes: lines of smaller type at the foot of a column that begin with a number or sign, and the raised
//! numbers in the text that call them.

use super::lines::Line;

/// One footnote of a sheet.
#[derive(Debug, Clone)]
pub(super) struct Note {
    /// Its lines without the mark.
    pub lines: Vec<Line>,
    /// The mark: a number or sign; empty where the note continues from the sheet before.
    pub mark: String,
}

/// The type of footnotes is at least this much smaller than the text's. Common practice: one or two points of
/// ten.
const SMALLER: f32 = 0.94;

/// Removes the footnotes from a sheet's lines and marks the words that call them with the number of the note.
/// `goes_on` is whether the sheet before has notes, which may continue here.
pub(super) fn take(lines: &mut Vec<Line>, body: f32, goes_on: bool) -> Vec<Note> {
    let mut notes = Vec::new();
    let columns = lines.last().map_or(0, |line| line.column + 1);
    for column in 0..columns {
        let Some(foot) = foot(lines, column, body) else {
            continue;
        };
        let mut found = split(lines.get(foot.clone()).unwrap_or_default(), goes_on);
        let Some(first) = found.first() else { continue };
        let skipped = first.0;
        if !is_called(lines, foot.start, &found) {
            continue;
        }
        notes.extend(found.drain(..).map(|(_, note)| note));
        lines.drain(foot.start + skipped..foot.end);
    }
    for (number, note) in notes.iter().enumerate() {
        call(lines, &note.mark, number);
    }
    notes
}

/// The lines at the foot of a column where notes may begin: those of smaller type, and those from a line on
/// that begins with a raised mark which the text above calls.
fn foot(lines: &[Line], column: usize, body: f32) -> Option<std::ops::Range<usize>> {
    let end = lines.iter().rposition(|line| line.column == column)? + 1;
    let start = lines.iter().position(|line| line.column == column)?;
    let small = lines
        .get(start..end)?
        .iter()
        .rev()
        .take_while(|line| line.size < SMALLER * body)
        .count();
    let called = |index: &usize| {
        let first = lines.get(*index).and_then(|line| line.words.first());
        first.is_some_and(|mark| {
            mark.raised
                && is_mark(&mark.text)
                && lines
                    .iter()
                    .take(*index)
                    .flat_map(|line| line.words.iter().skip(1))
                    .any(|word| word.raised && word.text == mark.text)
        })
    };
    let marked = (start..end).find(called).unwrap_or(end);
    let from = marked.min(end - small);
    (from < end).then_some(from..end)
}

/// The notes among lines of small type, each with the index of its first line. Lines before the first mark
/// are not a note, unless notes continue from the sheet before.
fn split(lines: &[Line], goes_on: bool) -> Vec<(usize, Note)> {
    let mut notes: Vec<(usize, Note)> = Vec::new();
    for (index, line) in lines.iter().enumerate() {
        match mark(line).filter(|mark| follows(notes.last(), mark)) {
            Some(mark) => {
                let mut line = line.clone();
                line.words.remove(0);
                let mark = mark.to_owned();
                let lines = vec![line];
                notes.push((index, Note { lines, mark }));
            }
            None => match notes.last_mut() {
                Some((_, note)) => note.lines.push(line.clone()),
                None if goes_on => notes.push((
                    index,
                    Note {
                        lines: vec![line.clone()],
                        mark: String::new(),
                    },
                )),
                None => {}
            },
        }
    }
    let marked = notes.iter().any(|(_, note)| !note.mark.is_empty());
    if !marked {
        notes.clear();
    }
    notes
}

/// The mark that a line begins with.
fn mark(line: &Line) -> Option<String> {
    let [first, _, ..] = line.words.as_slice() else {
        return None;
    };
    let mark = first.text.trim_end_matches(['.', ')']);
    is_mark(mark).then(|| mark.to_owned())
}

fn is_mark(text: &str) -> bool {
    let digits = (1..=3).contains(&text.len()) && text.chars().all(|c| c.is_ascii_digit());
    let signs =
        (1..=3).contains(&text.chars().count()) && text.chars().all(|c| "*∗⁎†‡§¶‖#".contains(c));
    let letter = text.len() == 1 && text.chars().all(|c| c.is_ascii_lowercase());
    digits || signs || letter
}

/// Whether a mark is the next one: a number is one more than the mark before.
fn follows(last: Option<&(usize, Note)>, mark: &str) -> bool {
    let before = last.and_then(|(_, note)| note.mark.parse::<u32>().ok());
    match (before, mark.parse::<u32>().ok()) {
        (Some(before), Some(number)) => number == before + 1,
        _ => true,
    }
}

/// Whether the text above calls at least one of the notes, or a note's own mark is raised.
fn is_called(lines: &[Line], before: usize, notes: &[(usize, Note)]) -> bool {
    let marks = || notes.iter().map(|(_, note)| note.mark.as_str());
    let above = lines.get(..before).unwrap_or_default();
    let below = lines.get(before..).unwrap_or_default();
    let calls = above
        .iter()
        .flat_map(|line| line.words.iter().skip(usize::from(line.words.len() > 1)))
        .filter(|word| word.raised)
        .any(|word| marks().any(|mark| !mark.is_empty() && word.text == mark));
    calls
        || below
            .iter()
            .filter_map(|line| line.words.first())
            .any(|word| word.raised && marks().any(|mark| word.text == mark))
}

/// Marks the first raised word with a mark's text as the call of a note.
fn call(lines: &mut [Line], mark: &str, number: usize) {
    if mark.is_empty() {
        return;
    }
    let word = lines
        .iter_mut()
        .flat_map(|line| &mut line.words)
        .find(|word| word.raised && word.call.is_none() && word.text == mark);
    if let Some(word) = word {
        word.call = Some(number);
    }
}
