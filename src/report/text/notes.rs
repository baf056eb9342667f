//! Which footnote is called where.

use std::io::{self, Write};

use super::{shown, starting_in};
use crate::report::harmless;
use crate::report::terminal::sheet::Sheet;
use crate::text::{Block, ByteRange, MarkedText, NoteCall};

/// The footnotes called in a block, and the places that call it where it is one itself. `by_note` are the
/// calls in order of their notes.
pub(super) fn write<W: Write>(
    sheet: &mut Sheet<'_, W>,
    marked: &MarkedText,
    block: &Block,
    by_note: &[NoteCall],
) -> io::Result<()> {
    let calls = marked.text.note_calls();
    let from = calls.partition_point(|call| call.at <= block.range.start());
    let to = calls.partition_point(|call| call.at <= block.range.end());
    for call in calls.get(from..to).unwrap_or_default() {
        let line = marked.text.plain_line(call.note.start());
        let text = format!(
            "after {}: line {line}, {}",
            words_before(marked, block.range.start(), call.at),
            beginning(&shown(marked, call.note))
        );
        sheet.labelled("note", &text)?;
    }
    for call in starting_in(by_note, block.range, |call| call.note) {
        let line = marked.text.plain_line(call.at.saturating_sub(1));
        let text = format!("line {line}, after {}", words_before(marked, 0, call.at));
        sheet.labelled("called", &text)?;
    }
    Ok(())
}

/// The last words before a call, so that it can be distinguished from others in its line.
fn words_before(marked: &MarkedText, from: usize, at: usize) -> String {
    const WORDS: usize = 3;
    let from = from.max(at.saturating_sub(200));
    let from = (from..=at).find(|from| marked.text.content().is_char_boundary(*from));
    let before = marked.text.slice(ByteRange::of(from.unwrap_or(at), at));
    let words: Vec<&str> = before.split_whitespace().collect();
    let last = words.get(words.len().saturating_sub(WORDS)..);
    format!("\"{}\"", harmless(&last.unwrap_or_default().join(" ")))
}

/// The first words of a note; the whole of it stands at its own line.
fn beginning(note: &str) -> String {
    const WORDS: usize = 8;
    let mut words = note.split(' ');
    let first: Vec<&str> = words.by_ref().take(WORDS).collect();
    let more = if words.next().is_some() { " ..." } else { "" };
    format!("{}{more}", first.join(" "))
}
