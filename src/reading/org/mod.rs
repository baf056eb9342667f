//! Org (published: the Org syntax document, from memory). Outline headings, paragraphs, lists, quotation and example
//! blocks, tables, footnotes, links, emphasis, and citations, which are written in Pandoc's form. Keywords,
//! comments, drawers and time stamps of planning lines are left out.

mod emphasis;
mod inline;

use super::assembly::Assembly;
use super::lines::{Line, lines};
use crate::text::{BlockKind, Origin, Text};

/// Reads Org.
pub(super) fn read(content: &str, origin: &Origin) -> Text {
    let mut reader = Reader {
        out: Assembly::default(),
        inside: None,
        drawer: false,
        item: None,
        table: false,
        notes: 0,
        later: Vec::new(),
    };
    for line in lines(content) {
        reader.line(line);
    }
    reader.end();
    for (name, text, start) in std::mem::take(&mut reader.later) {
        reader.out.enter_note(&name);
        // A note inside a note is read as its text.
        reader.inline(Line { text, start });
        reader.out.leave_note();
    }
    reader.out.finish(origin)
}

/// A `#+BEGIN_...` block.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Inside {
    Quotation,
    Code,
    Hidden,
    Plain,
}

struct Reader<'a> {
    out: Assembly,
    inside: Option<Inside>,
    drawer: bool,
    /// The indent of the open list item.
    item: Option<usize>,
    table: bool,
    /// Notes without a name so far.
    notes: usize,
    /// Notes that are written where they are called: name, text, position.
    later: Vec<(String, &'a str, usize)>,
}

impl<'a> Reader<'a> {
    fn line(&mut self, line: Line<'a>) {
        let solid = line.trimmed();
        let lower: String = solid.text.chars().take(40).collect();
        let lower = lower.to_ascii_lowercase();
        if let Some(inside) = self.inside
            && !lower.starts_with("#+end_")
            && inside != Inside::Plain
            && inside != Inside::Quotation
        {
            if inside == Inside::Code {
                self.out.verbatim(line.text, Some(line.start));
                self.out.verbatim("\n", None);
            }
            return;
        }
        if self.drawer {
            self.drawer = !lower.starts_with(":end:");
            return;
        }
        if let Some(name) = lower.strip_prefix("#+begin_") {
            return self.begin(name.split(' ').next().unwrap_or_default());
        }
        if lower.starts_with("#+end_") {
            return self.end();
        }
        if let Some(title) = lower.strip_prefix("#+title:") {
            let behind = solid.text.len().min(lower.len()) - title.len();
            self.out.block(BlockKind::Heading { level: 1 });
            self.inline(solid.behind(behind));
            return self.out.end_block();
        }
        if lower.starts_with("#+") || lower == "#" || lower.starts_with("# ") || is_planning(&lower)
        {
            return;
        }
        if is_drawer(&lower) {
            self.drawer = true;
            return;
        }
        self.prose(line, solid);
    }

    fn prose(&mut self, line: Line<'a>, solid: Line<'a>) {
        if solid.text.is_empty() {
            self.table = false;
            if !self.out.has_text() {
                // Two blank lines end a footnote.
                self.out.leave_note();
            }
            return self.out.end_block();
        }
        if let Some((level, heading)) = heading(line) {
            self.item = None;
            self.out.leave_note();
            self.out.block(BlockKind::Heading { level });
            self.inline(heading);
            return self.out.end_block();
        }
        if solid.text.starts_with('|') {
            return self.row(solid);
        }
        if line.indent() == 0
            && let Some((name, length)) = inline::definition(solid.text)
        {
            self.out.leave_note();
            self.out.enter_note(name);
            return self.inline(solid.behind(length));
        }
        if let Some(length) = bullet(line.text, solid.text) {
            self.item = Some(line.indent());
            self.out.block(BlockKind::ListItem);
            if solid.text.starts_with(|c: char| c.is_ascii_digit()) {
                self.out.number();
            }
            return self.inline(solid.behind(length).trimmed());
        }
        if !self.out.has_text() {
            if self.item.is_some_and(|indent| line.indent() > indent) {
                self.out.block(BlockKind::ListItem);
            } else {
                self.item = None;
            }
        }
        self.out.flow("\n", None);
        self.inline(solid);
    }

    fn begin(&mut self, name: &str) {
        self.end();
        self.inside = Some(match name {
            "quote" | "verse" => {
                self.out.enter_quotation();
                Inside::Quotation
            }
            "src" | "example" => {
                self.out.block(BlockKind::Code);
                Inside::Code
            }
            "comment" | "export" => Inside::Hidden,
            _ => Inside::Plain,
        });
    }

    fn end(&mut self) {
        self.out.end_block();
        if self.inside.take() == Some(Inside::Quotation) {
            self.out.leave_quotation();
        }
        self.table = false;
        self.item = None;
    }

    fn row(&mut self, row: Line<'a>) {
        if row.text.starts_with("|-") {
            return;
        }
        if self.table {
            self.out.verbatim("\n", None);
        } else {
            self.out.block(BlockKind::Table);
            self.table = true;
        }
        let inner = row.text.trim_matches('|');
        let mut at = row.text.find(inner).unwrap_or_default();
        for (number, cell) in inner.split('|').enumerate() {
            if number > 0 {
                self.out.verbatim("\t", None);
            }
            let cell = Line {
                text: cell,
                start: row.start + at,
            };
            self.inline(cell.trimmed());
            at += cell.text.len() + 1;
        }
    }
}

/// The level and the words of an outline heading, without keyword, priority and tags.
fn heading(line: Line<'_>) -> Option<(u8, Line<'_>)> {
    let stars = line.text.bytes().take_while(|b| *b == b'*').count();
    let rest = line.behind(stars);
    if stars == 0 || !rest.text.starts_with(' ') {
        return None;
    }
    let mut words = rest.trimmed();
    for keyword in ["TODO ", "DONE ", "[#A] ", "[#B] ", "[#C] "] {
        if words.text.starts_with(keyword) {
            words = words.behind(keyword.len()).trimmed();
        }
    }
    if let Some((before, tags)) = words.text.rsplit_once(' ')
        && tags.len() > 2
        && tags.starts_with(':')
        && tags.ends_with(':')
    {
        words.text = before.trim_end();
    }
    let level = u8::try_from(stars.min(6)).unwrap_or(6);
    Some((level, words))
}

/// How many bytes the sign of a list item has: `- `, `+ `, `1. `, `1) `; `* ` only where it is indented.
fn bullet(line: &str, solid: &str) -> Option<usize> {
    let star = solid.starts_with("* ") && line.starts_with(' ');
    if star || solid.starts_with("- ") || solid.starts_with("+ ") {
        return Some(2);
    }
    let digits = solid.bytes().take_while(u8::is_ascii_digit).count();
    let rest = solid.get(digits..)?;
    let number = (1..=3).contains(&digits) && (rest.starts_with(". ") || rest.starts_with(") "));
    number.then_some(digits + 2)
}

fn is_drawer(lower: &str) -> bool {
    lower.len() > 2
        && lower.starts_with(':')
        && lower.ends_with(':')
        && !lower.contains(' ')
        && lower != ":end:"
}

fn is_planning(lower: &str) -> bool {
    ["scheduled:", "deadline:", "closed:"]
        .iter()
        .any(|word| lower.starts_with(word))
}

#[cfg(test)]
mod tests;
