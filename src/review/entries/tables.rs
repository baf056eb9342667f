//! Entries laid out as tables. Two layouts are known: a row for each part, its name in the first cell; and a row of names
//! over the parts, with a column for the work where one table holds several entries.

use super::super::references::References;
use super::PartKind;
use super::key::{self, Named};
use super::outline::{LABEL, Mark, PartHeadings, Role};
use crate::text::{ByteRange, Text};

/// The marks of a table, in order; none where it is laid out as no entry.
pub(super) fn marks(
    text: &Text,
    table: ByteRange,
    level: u8,
    headings: &PartHeadings,
    references: &References,
) -> Vec<Mark> {
    let rows = rows(text, table);
    let part = |cell: &ByteRange| headings.part(text.slice(*cell));
    let Some(first) = rows.first() else {
        return Vec::new();
    };
    let columns: Vec<Option<PartKind>> = first.iter().map(part).collect();
    let work = |cell: &ByteRange| key::of_heading(text.slice(*cell), references);
    let names_works = || {
        let mut cells = rows.iter().skip(1).flatten();
        cells.any(|cell| matches!(work(cell), Named::One(_)))
    };
    match columns.iter().flatten().count() {
        1 if columns.first() == Some(&None) && names_works() => {
            below_names(text, (&rows, &columns), level, references)
        }
        0 | 1 => rows
            .iter()
            .filter_map(|row| row.first().filter(|_| row.len() > 1))
            .filter_map(|cell| Some(mark(Role::Part(part(cell)?), LABEL, *cell, text)))
            .collect(),
        _ => below_names(text, (&rows, &columns), level, references),
    }
}

/// The marks of rows below a row of names. A part begins with its cell; the names belong to the first mark, so that they are
/// no part's words. A row's work comes first, in whatever column it stands.
fn below_names(
    text: &Text,
    (rows, columns): (&[Vec<ByteRange>], &[Option<PartKind>]),
    level: u8,
    references: &References,
) -> Vec<Mark> {
    let mut marks: Vec<Mark> = Vec::new();
    for row in rows.iter().skip(1) {
        let mut cells = row.iter().zip(columns).enumerate();
        let work = cells.find_map(|(at, (cell, column))| {
            let named = key::of_heading(text.slice(*cell), references);
            (column.is_none() && matches!(named, Named::One(_))).then_some((at, *cell, named))
        });
        if let (Some((at, cell, named)), Some(first)) = (work, row.first()) {
            let mut begins = mark(Role::Entry(named), level, cell, text);
            if at > 0 {
                begins.range = ByteRange::of(first.start(), first.start());
            }
            marks.push(begins);
        }
        for (cell, column) in row.iter().zip(columns) {
            if let Some(kind) = column {
                let begins = ByteRange::of(cell.start(), cell.start());
                marks.push(mark(Role::Part(*kind), LABEL, begins, text));
            }
        }
    }
    let names = rows.first().and_then(|row| row.first());
    if let (Some(names), Some(first)) = (names, marks.first_mut()) {
        first.range = ByteRange::of(names.start(), first.range.end());
    }
    marks
}

fn mark(role: Role, level: u8, range: ByteRange, text: &Text) -> Mark {
    let words: Vec<&str> = text.slice(range).split_whitespace().collect();
    Mark {
        role,
        level,
        range,
        text: words.join(" "),
        is_line: true,
    }
}

/// The cells of each row: readers put a tab between two cells and a line end between rows.
fn rows(text: &Text, table: ByteRange) -> Vec<Vec<ByteRange>> {
    let mut at = table.start();
    let lines = text.slice(table).split('\n');
    lines
        .map(|line| {
            let cells = line.split('\t').map(|cell| {
                let from = at;
                at += cell.len() + 1;
                ByteRange::of(from, from + cell.len())
            });
            cells.collect()
        })
        .collect()
}
