//! The reading order of what is not a plain column: lists with hanging indents, tables, an index, line numbers.

use super::*;

#[test]
fn lists_of_references_hang_in_both_columns() {
    let entries = [
        ("[1]", "Harrow, J.: Moths at the lamps"),
        ("", "of one village, in wet summers."),
        ("", "Sill Notes 3, pages 1 to 19."),
        ("[2]", "Quill, A.: Counting by night in"),
        ("", "gardens, a guide for the patient."),
        ("", "Harbour Press, second edition."),
        ("", "With tables of all the counts."),
        ("[3]", "Ferrier, M.: On sheets and lamps"),
        ("", "and how they were hung. Reports"),
        ("", "of the Guild 12, pages 4 to 8."),
    ];
    let mut setter = Setter::default();
    for x in [50.0, 250.0] {
        for (line, (number, text)) in entries.iter().enumerate() {
            let y = 120.0 + 12.0 * line as f32;
            setter.line(x, y, 10.0, number);
            setter.line(x + 20.0, y, 10.0, text);
        }
    }
    let read = read_sheets(&[setter]);
    let column = "Harrow, J.: Moths at the lamps of one village, in wet summers. Sill Notes";
    let words = read
        .content()
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert_eq!(words.matches(column).count(), 2, "{words}");
}

#[test]
fn a_table_of_figures_is_read_by_rows() {
    let mut setter = Setter::default();
    for line in 0..12 {
        let y = 120.0 + 12.0 * line as f32;
        for (column, cell) in ["Ferry", "120.5", "3.90", "16.46", "84", "2.620"]
            .iter()
            .enumerate()
        {
            setter.line(50.0 + 60.0 * column as f32, y, 10.0, cell);
        }
    }
    let read = read_sheets(&[setter]);
    let rows = read
        .content()
        .matches("Ferry\t120.5\t3.90\t16.46\t84\t2.620")
        .count();
    assert_eq!(rows, 12, "{}", read.content());
}

#[test]
fn an_index_in_three_columns_is_read_down_each() {
    let entry = [
        "a lamp lit, 12",
        "moths at dusk, 3",
        "on wet nights, 40",
        "sheets hung up, 7",
    ];
    let mut setter = Setter::default();
    for column in 0..3 {
        for line in 0..12 {
            let y = 120.0 + 12.0 * line as f32;
            setter.line(50.0 + 110.0 * column as f32, y, 10.0, entry[line % 4]);
        }
    }
    let read = read_sheets(&[setter]);
    let words = read
        .content()
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert_eq!(words.matches(&entry.join(" ")).count(), 9, "{words}");
}

#[test]
fn line_numbers_are_not_part_of_the_lines() {
    let mut setter = Setter::default();
    for line in 1..=11 {
        let y = 120.0 + 12.0 * line as f32;
        let end = if line == 5 {
            "were lit by the pat-"
        } else {
            "ient keeper of lamps"
        };
        setter.line(80.0, y, 10.0, end);
        if line % 5 == 0 {
            setter.line(200.0, y, 10.0, &line.to_string());
        }
    }
    let read = read_sheets(&[setter]);
    assert!(
        read.content().contains("the patient keeper"),
        "{}",
        read.content()
    );
    assert!(read.content().ends_with("5 10"), "{}", read.content());
}
