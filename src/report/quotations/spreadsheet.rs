//! The account as a table: comma-separated values after RFC 4180 (CR LF, quotation marks doubled), a line
//! for each quotation, for spreadsheets.
//!
//! A spreadsheet takes a cell that begins with `=`, `+`, `-` or `@` for a formula. What comes from files of
//! others must not be able to do anything there, so such a cell begins with an apostrophe here, which
//! spreadsheets take for "this is text". Blank space of any kind becomes one space.

use std::io::{self, Write};

use csv::{Terminator, WriterBuilder};

use super::words;
use crate::findings::account::{Account, Item, Quoted, Where};
use crate::report::escape::in_cell;
use crate::report::json::shown;
use crate::text::QuotationForm;

/// The names of the columns.
pub const COLUMNS: [&str; 23] = [
    "source",
    "reference",
    "page_found",
    "where",
    "file",
    "line",
    "entry",
    "section",
    "form",
    "words",
    "citation",
    "page_cited",
    "secondary",
    "wording",
    "differences",
    "page",
    "credit",
    "to_mend",
    "noted",
    "used",
    "used_twice",
    "used_unmarked",
    "text",
];

/// Writes the table with the names of the columns as its first line.
///
/// # Errors
/// What the writer refuses.
pub fn write(account: &Account, out: &mut impl Write) -> io::Result<()> {
    let mut table = WriterBuilder::new()
        .terminator(Terminator::CRLF)
        .from_writer(out);
    table.write_record(COLUMNS)?;
    for item in &account.items {
        for quoted in &item.quoted {
            table.write_record(row(item, quoted))?;
        }
    }
    table.flush()
}

fn row(item: &Item, quoted: &Quoted) -> [String; 23] {
    let (place, entry, section) = match &quoted.at {
        Where::Notes { entry, part } => ("notes", entry.as_str(), part.name()),
        Where::Draft { section } => ("draft", "", section.as_deref().unwrap_or_default()),
    };
    let yes = |is: bool| if is { "yes" } else { "no" }.to_owned();
    let differences: Vec<String> = quoted.differences.iter().map(words::difference).collect();
    let used = item.quoted.iter().filter(|quoted| quoted.is_used()).count();
    let unmarked = quoted.unmarked.iter();
    let unmarked: Vec<String> = unmarked
        .map(|place| format!("{}:{}", shown(&place.path), place.line))
        .collect();
    let form = match quoted.form {
        QuotationForm::Inline => "inline",
        QuotationForm::Block => "block",
    };
    [
        in_cell(quoted.key.as_ref().map_or("", |key| key.as_str())),
        in_cell(item.name.as_deref().unwrap_or_default()),
        in_cell(&words::pages(&quoted.found)),
        place.to_owned(),
        in_cell(&shown(&quoted.path)),
        quoted.line.to_string(),
        in_cell(entry),
        in_cell(section),
        form.to_owned(),
        quoted.words.to_string(),
        in_cell(quoted.citation.as_deref().unwrap_or_default()),
        in_cell(quoted.locator.as_deref().unwrap_or_default()),
        yes(quoted.secondary),
        quoted.fidelity.name().to_owned(),
        in_cell(&differences.join("; ")),
        quoted.page.name().to_owned(),
        quoted.credit.name().to_owned(),
        yes(quoted.wants_mending()),
        yes(item.is_noted()),
        used.to_string(),
        yes(item.used_twice),
        in_cell(&unmarked.join("; ")),
        in_cell(&quoted.text),
    ]
}
