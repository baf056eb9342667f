//! One quotation of the account for reading: its words, and each place that has it with what is to be mended there.

use std::io::{self, Write};

use super::terminal::{one_line, place};
use super::words;
use crate::findings::account::{Fidelity, Item, Quoted, Where};
use crate::paths::portable;
use crate::report::harmless;
use crate::report::terminal::sheet::{INDENT, MARGIN, Sheet, wrap};
use crate::report::terminal::{Ink, Look};

/// Lines of a quotation's words unless all are asked for.
const MOST_LINES: usize = 2;

/// Behind what is cut.
const DOTS: &str = " ...";

/// Differences that are listed of one quotation.
const MOST_DIFFERENCES: usize = 4;

/// `Harrow (2019a) [harrow2019a]`.
pub(super) fn item_head(item: &Item) -> String {
    match (&item.key, &item.name) {
        (Some(key), Some(name)) if !name.contains(key.as_str()) => {
            harmless(&format!("{name} [{key}]")).into_owned()
        }
        (Some(key), _) => harmless(key.as_str()).into_owned(),
        (None, _) => "From no known work".to_owned(),
    }
}

/// Writes one quotation: its words, and the places that have it.
pub(super) fn write_item<W: Write>(sheet: &mut Sheet<'_, W>, item: &Item) -> io::Result<()> {
    let Some(longest) = item.longest() else {
        return Ok(());
    };
    let mut pages = words::pages(&longest.found);
    if pages.is_empty() {
        pages = longest
            .locator
            .clone()
            .unwrap_or_else(|| "no page".to_owned());
    }
    let label = harmless(&pages).into_owned();
    let text: Vec<&str> = longest.text.split_whitespace().collect();
    let text = harmless(&text.join(" ")).into_owned();
    let lines = shown_lines(&text, sheet.look);
    // A page label that is too long for its column has a line of its own.
    let fits = label.chars().count() < MARGIN - INDENT;
    if !fits {
        let label = sheet.look.paint(Ink::Quiet, &label);
        sheet.line(&format!("{:INDENT$}{label}", ""))?;
    }
    for (number, line) in lines.iter().enumerate() {
        let lead = if number == 0 && fits {
            label.as_str()
        } else {
            ""
        };
        let lead = sheet.label(lead);
        sheet.line(&format!("{lead}{line}"))?;
    }

    if !item.is_noted() {
        sheet.labelled("noted", "nowhere")?;
    }
    for quoted in &item.quoted {
        write_quoted(sheet, quoted)?;
    }
    for unmarked in item.unmarked() {
        let path = portable(&unmarked.path);
        let text = format!(
            "{}:{}, without its quotation marks",
            harmless(&path),
            unmarked.line
        );
        sheet.labelled("used", &text)?;
        sheet.labelled("mend", "put back the marks and the page")?;
    }
    if !item.is_used() && item.unmarked().next().is_none() {
        sheet.labelled("used", "nowhere yet")?;
    }

    if item.used_twice {
        sheet.labelled("twice", "the same words are quoted in several places")?;
    }
    Ok(())
}

/// The lines of a quotation; of a long one the first, with dots behind the last word that has room before them.
fn shown_lines(text: &str, look: &Look) -> Vec<String> {
    let width = look.width().saturating_sub(MARGIN);
    let mut lines = wrap(text, width);
    if look.is_whole() || lines.len() <= MOST_LINES {
        return lines;
    }
    lines.truncate(MOST_LINES);
    if let Some(last) = lines.last_mut() {
        let short = wrap(last, width.saturating_sub(DOTS.len()));
        *last = format!("{}{DOTS}", short.first().map_or("", String::as_str));
    }
    lines
}

fn write_quoted<W: Write>(sheet: &mut Sheet<'_, W>, quoted: &Quoted) -> io::Result<()> {
    let (label, at) = match &quoted.at {
        Where::Notes { part, .. } => ("noted", part.name()),
        Where::Draft { .. } => ("used", words::form(quoted.form)),
    };
    let mut said = words::verdict(quoted).into_iter();
    let first = said.next().unwrap_or_default();
    let cited = match (&quoted.citation, &quoted.locator) {
        (Some(citation), _) => format!(", {}", harmless(&one_line(citation))),
        (None, Some(locator)) => format!(", {}", harmless(locator)),
        (None, None) => String::new(),
    };
    let text = format!("{}, {at}{cited}: {}", place(quoted), harmless(&first));
    sheet.labelled(label, &text)?;
    let differences = quoted.differences.iter().take(MOST_DIFFERENCES);

    for (number, difference) in differences.map(words::difference).enumerate() {
        let label = if number == 0 { "mend" } else { "" };
        sheet.labelled(label, &harmless(&difference))?;
    }
    if quoted.fidelity == Fidelity::Joined {
        let pages = words::pages(&quoted.found);
        let text = format!("give the pieces as quotations of their own: {pages}");
        sheet.labelled("mend", harmless(&text).trim_end_matches([':', ' ']))?;
    }

    match quoted.differences.len().saturating_sub(MOST_DIFFERENCES) {
        0 => {}
        more => sheet.labelled("", &format!("and {more} more"))?,
    }
    for more in said {
        sheet.labelled("mend", &harmless(&more))?;
    }
    Ok(())
}
