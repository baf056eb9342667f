//! The account for reading: how many there are and what there is to do, the share of quoted words by chapter
//! and section, then every quotation by source with the places that have it.

use std::io::{self, Write};
use std::path::Path;

use super::item::{item_head, write_item};
use super::words::{self, Counts};
use crate::findings::account::{Account, Quoted, Share};
use crate::paths::portable;
use crate::report::english::{counted, grouped};
use crate::report::harmless;
use crate::report::terminal::sheet::{INDENT, Sheet, wrap};
use crate::report::terminal::{Ink, Look};

/// Columns before what a number counts.
const COUNTED: usize = 9;

/// Columns of the figures of a share.
const FIGURES: usize = 29;

/// First words in the short form.
const FIRST_WORDS: usize = 8;

/// The foot of an account.
pub(in crate::report) const BEAR_IN_MIND: &str = "Only stored texts were compared, and some may be excerpts or other editions. \"Exact\" \
    speaks of the words: punctuation and capitals are not compared. The share of quoted words is no score; what is usual differs \
    from field to field.";

/// Writes the account.
///
/// # Errors
/// What the writer refuses.
pub fn write(account: &Account, look: &Look, out: &mut impl Write) -> io::Result<()> {
    let mut sheet = Sheet::new(out, look);
    let counts = Counts::of(account);
    head(&mut sheet, account, &counts)?;
    glance(&mut sheet, account, &counts)?;
    shares(&mut sheet, account)?;
    list(&mut sheet, account)?;
    left_out(&mut sheet, account)?;
    sheet.heading(0, "Please bear in mind")?;
    sheet.paragraph(INDENT, BEAR_IN_MIND)
}

/// Writes a line for each place to be mended, `file:line: what: first words`, and nothing else.
///
/// # Errors
/// What the writer refuses.
pub fn write_short(account: &Account, out: &mut impl Write) -> io::Result<()> {
    let mut lines: Vec<(&Path, usize, String)> = Vec::new();
    for quoted in account.all() {
        if quoted.is_amiss() {
            let said = format!(
                "{}: {}",
                words::verdict(quoted).join("; "),
                first_words(&quoted.text)
            );
            lines.push((&quoted.path, quoted.line, said));
        }
        for unmarked in &quoted.unmarked {
            let said = format!(
                "without its quotation marks: {}",
                first_words(&unmarked.text)
            );
            lines.push((&unmarked.path, unmarked.line, said));
        }
    }
    lines.sort();
    for (path, line, said) in lines {
        writeln!(
            out,
            "{}",
            harmless(&format!("{}:{line}: {said}", portable(path)))
        )?;
    }
    Ok(())
}

fn first_words(text: &str) -> String {
    let mut words = text.split_whitespace();
    let first: Vec<&str> = words.by_ref().take(FIRST_WORDS).collect();
    let more = if words.next().is_some() { "..." } else { "" };
    format!("{}{more}", first.join(" "))
}

/// `drafts/chapter.md:14`.
pub(super) fn place(quoted: &Quoted) -> String {
    let path = portable(&quoted.path);
    format!("{}:{}", harmless(&path), quoted.line)
}

fn head<W: Write>(sheet: &mut Sheet<'_, W>, account: &Account, counts: &Counts) -> io::Result<()> {
    let text = format!(
        "Quotations: {} in the drafts, {} in the notes",
        grouped(counts.in_drafts),
        grouped(counts.in_notes)
    );
    sheet.heading(0, &text)?;
    let rule = "=".repeat(sheet.look.width());
    let rule = sheet.look.paint(Ink::Quiet, &rule);
    sheet.line(&rule)?;
    let drafts = counted(account.chapters.len(), "draft", "drafts");
    let text = match (&account.drafts_from, account.chapters.len()) {
        (None, 0) => {
            "No draft was named, and the review has no folder drafts/, so only the notes were read."
                .to_owned()
        }
        (None, _) => format!("{drafts} as named."),
        (Some(folder), 0) => format!(
            "No draft was named, and there is none in {}/, so only the notes were read.",
            harmless(&portable(folder))
        ),
        (Some(folder), _) => format!(
            "No draft was named, so {drafts} were taken from {}/.",
            harmless(&portable(folder))
        )
        .replace("1 draft were", "1 draft was"),
    };
    let sources = counted(account.sources, "stored source", "stored sources");
    let entries = counted(account.entries, "entry", "entries");
    sheet.paragraph(
        INDENT,
        &format!("{text} Compared with {sources} and {entries}."),
    )?;
    for chapter in &account.chapters {
        for remark in &chapter.remarks {
            let path = portable(&chapter.path);
            let text = format!("{}: {}", harmless(&path), harmless(remark));
            sheet.hanging(INDENT, " -", &text)?;
        }
    }
    sheet.blank()
}

fn glance<W: Write>(
    sheet: &mut Sheet<'_, W>,
    account: &Account,
    counts: &Counts,
) -> io::Result<()> {
    if account.items.is_empty() {
        return sheet
            .paragraph(INDENT, "There are no quotations yet.")
            .and_then(|()| sheet.blank());
    }
    sheet.heading(0, "At a glance")?;
    let mend = [
        (counts.altered, "altered inside the marks"),
        (counts.joined, "put together from several places"),
        (counts.page_wrong, "on another page than cited"),
        (counts.page_partly, "on one page more than is cited"),
        (counts.page_missing, "without a page"),
        (
            counts.credit_elsewhere,
            "in another work than the one cited",
        ),
        (counts.without_credit, "without a citation"),
        (
            counts.used_unmarked,
            "marked in the notes, unmarked in a draft",
        ),
    ];
    let request = sheet.look.paint(Ink::Act, "please mend");
    block(sheet, &request, counts.to_mend, &mend)?;
    let know = [
        (counts.noted_unused, "noted and not used"),
        (counts.used_twice, "used twice"),
        (counts.used_not_noted, "used and not noted"),
        (counts.not_found, "not in the stored text of the cited work"),
        (counts.not_stored, "from works without a stored text"),
        (counts.translated, "in your own translation"),
    ];
    let request = sheet.look.paint(Ink::Quiet, "good to know");
    let all = know.iter().map(|(count, _)| count).sum();
    block(sheet, &request, all, &know)?;
    sheet.blank()
}

fn block<W: Write>(
    sheet: &mut Sheet<'_, W>,
    request: &str,
    all: usize,
    lines: &[(usize, &str)],
) -> io::Result<()> {
    if all == 0 {
        return Ok(());
    }
    sheet.line(&format!("{:INDENT$}{request}: {}", "", grouped(all)))?;
    for (count, text) in lines.iter().filter(|(count, _)| *count > 0) {
        let lead = format!("{:>width$}", grouped(*count), width = COUNTED - 2);
        sheet.hanging(COUNTED, &lead, text)?;
    }
    Ok(())
}

fn shares<W: Write>(sheet: &mut Sheet<'_, W>, account: &Account) -> io::Result<()> {
    if account.chapters.is_empty() {
        return Ok(());
    }
    sheet.heading(0, "Quoted words by chapter and section")?;
    for chapter in &account.chapters {
        let path = portable(&chapter.path);
        share(sheet, INDENT, &path, &chapter.share)?;
        // A first heading that spans the whole is the title of what was just said.
        let title = chapter.sections.first().filter(|section| {
            section.share.words == chapter.share.words && chapter.sections.len() > 1
        });
        let rest = chapter.sections.iter().skip(usize::from(title.is_some()));
        let rest = rest.filter(|section| section.share.words > 0);
        let top = rest.clone().map(|section| section.level).min().unwrap_or(1);
        for section in rest {
            let indent = INDENT + 2 * usize::from(section.level - top + 1);
            share(sheet, indent.min(20), &section.heading, &section.share)?;
        }
    }
    sheet.blank()
}

/// `name ...... 12 of 900 words  1.3 %`.
fn share<W: Write>(
    sheet: &mut Sheet<'_, W>,
    indent: usize,
    name: &str,
    share: &Share,
) -> io::Result<()> {
    let figures = format!(
        "{} of {:>6} words {:>6.1} %",
        grouped(share.quoted_words),
        grouped(share.words),
        100.0 * share.of_words()
    );

    let figures = format!("{figures:>FIGURES$}");
    let room = sheet.look.width().saturating_sub(indent + FIGURES + 1);
    let mut lines = wrap(&harmless(name), room);
    let last = lines.pop().unwrap_or_default();
    for line in lines {
        sheet.line(&format!("{:indent$}{line}", ""))?;
    }
    let padding = room.saturating_sub(textwrap::core::display_width(&last));
    sheet.line(&format!("{:indent$}{last}{:padding$} {figures}", "", ""))
}

fn list<W: Write>(sheet: &mut Sheet<'_, W>, account: &Account) -> io::Result<()> {
    let mut group = None;
    for item in &account.items {
        let head = item_head(item);
        if group.as_ref() != Some(&head) {
            sheet.heading(0, &head)?;
            sheet.blank()?;
            group = Some(head);
        }
        write_item(sheet, item)?;
        sheet.blank()?;
    }
    Ok(())
}

pub(super) fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn left_out<W: Write>(sheet: &mut Sheet<'_, W>, account: &Account) -> io::Result<()> {
    if account.left_out.is_empty() {
        return Ok(());
    }
    sheet.heading(0, "Left out, or read in a way you should know about")?;
    for item in &account.left_out {
        let text = format!(
            "{}: {}",
            harmless(&item.what),
            harmless(&item.why.to_string())
        );
        sheet.hanging(INDENT, " -", &text)?;
    }
    sheet.blank()
}
