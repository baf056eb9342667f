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
        cell(quoted.key.as_ref().map_or("", |key| key.as_str())),
        cell(item.name.as_deref().unwrap_or_default()),
        cell(&words::pages(&quoted.found)),
        place.to_owned(),
        cell(&shown(&quoted.path)),
        quoted.line.to_string(),
        cell(entry),
        cell(section),
        form.to_owned(),
        quoted.words.to_string(),
        cell(quoted.citation.as_deref().unwrap_or_default()),
        cell(quoted.locator.as_deref().unwrap_or_default()),
        yes(quoted.secondary),
        quoted.fidelity.name().to_owned(),
        cell(&differences.join("; ")),
        quoted.page.name().to_owned(),
        quoted.credit.name().to_owned(),
        yes(quoted.wants_mending()),
        yes(item.is_noted()),
        used.to_string(),
        yes(item.used_twice),
        cell(&unmarked.join("; ")),
        cell(&quoted.text),
    ]
}

/// A text that no spreadsheet takes for a formula.
fn cell(text: &str) -> String {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    // The wide forms of these signs are taken for the plain ones by some programs.
    let formula = text.starts_with(['=', '+', '-', '@', '＝', '＋', '－', '＠']);
    if formula { format!("'{text}") } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_cell_is_a_formula() {
        let table = [
            ("=1+1", "'=1+1"),
            ("  @sum(a)", "'@sum(a)"),
            ("\t-3 lamps", "'-3 lamps"),
            ("+49", "'+49"),
            ("\r\n=x", "'=x"),
            ("“=1”", "“=1”"),
            ("two\n lines", "two lines"),
            ("", ""),
        ];
        for (text, shown) in table {
            assert_eq!(cell(text), shown, "{text:?}");
        }
    }
}
