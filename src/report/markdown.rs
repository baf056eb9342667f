//! The findings as Markdown, for pasting into a message to the writer or into the notes of a meeting:
//! first what there is to do, then passage by passage both wordings and what would mend it.

use std::fmt::Write as _;
use std::io::{self, Write};

use super::cautions::CAUTIONS;
use super::english::counted;
use super::{harmless, said};
use crate::findings::{CheckReport, DraftReport, Finding, Weight};
use crate::paths::portable;

/// Words of a wording that are shown; the rest is left to the other reports.
const MOST_WORDS: usize = 60;

/// Writes all findings that are not settled.
///
/// # Errors
/// What the writer refuses.
pub fn write(report: &CheckReport, out: &mut impl Write) -> io::Result<()> {
    for draft in &report.drafts {
        let path = plain(&portable(&draft.path));
        writeln!(out, "# {path}\n")?;
        if said::open(draft).next().is_none() {
            let news = if draft.words == 0 {
                said::no_prose(draft)
            } else {
                said::nothing_open(report, draft)
            };
            writeln!(out, "{}\n", plain(&news))?;
            continue;
        }
        writeln!(out, "{}.\n", plain(&said::extent(draft)))?;
        glance(draft, out)?;
        for (index, finding) in said::open(draft).enumerate() {
            write_finding(index + 1, finding, out)?;
        }
    }
    writeln!(out, "---\n\nCompared: {}\n", plain(&said::compared(report)))?;
    for left in &report.left_out {
        writeln!(out, "- {}: {}", plain(&left.what), plain(&left.why))?;
    }
    if !report.left_out.is_empty() {
        writeln!(out)?;
    }
    CAUTIONS
        .iter()
        .try_for_each(|caution| writeln!(out, "- {}", plain(caution)))
}

/// How many findings ask for what.
fn glance(draft: &DraftReport, out: &mut impl Write) -> io::Result<()> {
    for weight in [Weight::Act, Weight::Look, Weight::Know] {
        let count = said::open(draft)
            .filter(|finding| finding.weight == weight)
            .count();
        if count > 0 {
            let places = counted(count, "place", "places");
            writeln!(out, "- {}: {places}", weight.request())?;
        }
    }
    writeln!(out)
}

fn write_finding(number: usize, finding: &Finding, out: &mut impl Write) -> io::Result<()> {
    let about = finding.kind.about();
    writeln!(out, "## {number}. {}\n", plain(about.short))?;
    let mut facts = format!("Line {}", finding.draft.line);
    if let Some(page) = &finding.draft.page {
        let _ = write!(facts, ", page {page}");
    }
    let _ = write!(facts, "; {}", finding.weight.request());
    if let (Some(degree), Some(measures)) = (finding.degree, &finding.measures) {
        let _ = write!(
            facts,
            "; {}",
            said::closeness((degree, measures.position()))
        );
    }
    writeln!(out, "{}. `{}`\n", plain(&facts), finding.id)?;
    writeln!(out, "> {}\n", plain(&short(&finding.draft.text)))?;
    if let Some(source) = &finding.source {
        let name = plain(&said::source_and_key(source));
        writeln!(out, "{name}:\n\n> {}\n", plain(&short(&source.wording())))?;
    }
    for difference in &finding.evidence.differences {
        writeln!(out, "- {}", plain(&said::difference("draft", difference)))?;
    }
    if !finding.evidence.differences.is_empty() {
        writeln!(out)?;
    }
    if let Some(credit) = &finding.credit {
        writeln!(out, "Credit: {}.\n", plain(&said::credit(credit)))?;
    }
    if let Some(note) = &finding.note {
        writeln!(out, "On the way: {}.\n", plain(&said::note_place(note)))?;
    }
    writeln!(out, "**To mend:** {}\n", plain(&finding.advice))
}

/// The beginning of a wording on one line, whole if it is short.
fn short(text: &str) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    match words.get(..MOST_WORDS) {
        Some(first) if words.len() > MOST_WORDS => format!("{} …", first.join(" ")),
        _ => words.join(" "),
    }
}

/// Text of any kind so that Markdown shows it as it is.
fn plain(text: &str) -> String {
    let text = harmless(text);
    let mut shown = String::with_capacity(text.len() + 8);
    // At the start of a line a number or a dash would begin a list.
    let digits = text.len() - text.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let (number, text) = text.split_at(digits);
    shown.push_str(number);
    let sign = text.chars().next();
    if sign.is_some_and(|c| matches!(c, '.' | ')') && digits > 0 || "-+=".contains(c)) {
        shown.push('\\');
    }
    for character in text.chars() {
        if matches!(
            character,
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '#' | '|' | '~' | '&'
        ) {
            shown.push('\\');
        }
        shown.push(character);
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use pulldown_cmark::{Event, Parser};

    #[test]
    fn wordings_are_cut_at_a_word() {
        assert_eq!(short("a\n b"), "a b");
        let long = "lamp ".repeat(MOST_WORDS + 1);
        assert!(short(&long).ends_with("lamp …"));
    }

    #[test]
    fn nothing_begins_a_list() {
        for (text, shown) in [
            ("1. a", "1\\. a"),
            ("12) a", "12\\) a"),
            ("- a", "\\- a"),
            ("1914 a", "1914 a"),
        ] {
            assert_eq!(plain(text), shown);
        }
    }

    proptest! {
        /// Whatever the text, a reader of the Markdown sees the text and no markup.
        #[test]
        fn text_stays_text(text in "[a-z\\\\`*_<>#|~&\\[\\]() !-]{1,40}") {
            let markdown = format!("x {} x", plain(text.trim()));
            let mut shown = String::new();
            for event in Parser::new(&markdown) {
                match event {
                    Event::Text(text) => shown.push_str(&text),
                    Event::Start(_) | Event::End(_) => {}
                    other => prop_assert!(false, "{other:?} in {markdown:?}"),
                }
            }
            prop_assert_eq!(shown, format!("x {} x", text.trim()));
        }
    }
}
