//! HTML, and the chapters of an EPUB. The tree is built as browsers build it, unclosed elements included. The
//! Text is the prose that a reader of the page would see:
//!
//! 1. Elements that are blocks end the open paragraph; [`elements`] says what kind of block each is.
//! 2. Left out: scripts, styles, menus, hidden elements, deleted text.
//! 3. Footnotes are recognised by the roles of DPUB-ARIA and by the marks of EPUB, or else by a link in
//!    superscript to an element that holds a link back ([`notes`]).
//! 4. Page breaks are those of DPUB-ARIA and EPUB (`doc-pagebreak`, `pagebreak`).
//!
//! Positions in the file can't be given, since the tree keeps none.

mod attributes;
mod elements;
mod notes;
mod parse;
mod sink;
mod tree;

pub(super) use parse::MOST_OPEN;

use encoding_rs::Encoding;

use super::assembly::Assembly;
use super::{Limits, Unreadable};
use crate::text::{BlockKind, Origin, Text};
use elements::Role;
pub(super) use parse::Room;
use tree::{Edge, NodeRef};

/// The encoding that a page names within its first bytes, where the standard requires it.
pub(super) fn encoding(bytes: &[u8]) -> Option<&'static Encoding> {
    let head = bytes.get(..bytes.len().min(1024))?.to_ascii_lowercase();
    let at = memchr::memmem::find(&head, b"charset=")? + "charset=".len();
    let name: Vec<u8> = head
        .iter()
        .skip(at)
        .filter(|byte| !matches!(byte, b'"' | b'\''))
        .take_while(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_' | b':'))
        .copied()
        .collect();
    Encoding::for_label(&name)
}

/// Reads an HTML document.
///
/// # Errors
/// [`Unreadable`] where its tree costs more than the limits allow.
pub(super) fn read(content: &str, limits: &Limits) -> Result<Text, Unreadable> {
    let mut out = Assembly::default();
    write(content, "", &mut Room::of(limits.html_nodes), &mut out)?;
    Ok(out.finish(&Origin::Recoded))
}

/// Writes the prose of a document. `file` is put before the names of its notes, to distinguish those of
/// several documents in one Text, and `room` is what is left for their trees.
///
/// # Errors
/// [`Unreadable`] where its tree costs more than there is room for.
pub(super) fn write(
    content: &str,
    file: &str,
    room: &mut Room,
    out: &mut Assembly,
) -> Result<(), Unreadable> {
    let page = parse::parse(content, room)?;
    let notes = notes::Notes::find(&page, file);
    let mut walker = Walker {
        out,
        notes: &notes,
        hidden: 0,
        code: 0,
        quotes: 0,
        items: Vec::new(),
        ordered: Vec::new(),
        cells: 0,
        tables: 0,
    };
    for edge in NodeRef::root(&page).edges() {
        match edge {
            Edge::Open(node) => match node.text() {
                Some(text) => walker.text(text),
                None => walker.open(node),
            },
            Edge::Close(node) => walker.close(node),
        }
    }
    walker.out.end_block();
    Ok(())
}

struct Walker<'a> {
    out: &'a mut Assembly,
    notes: &'a notes::Notes,
    /// How many elements whose content is left out are open.
    hidden: usize,
    /// How many elements with preformatted text are open.
    code: usize,
    /// How many inline quotation elements are open.
    quotes: usize,
    /// The kinds of the paragraphs in the elements around, the innermost last.
    items: Vec<BlockKind>,
    /// For each list around, whether it numbers its items.
    ordered: Vec<bool>,
    cells: usize,
    tables: usize,
}

impl Walker<'_> {
    fn open(&mut self, node: NodeRef<'_>) {
        let (Some(element), node_id) = (&node.element(), node.id()) else {
            return;
        };
        if self.hidden > 0 || elements::is_hidden(element) || self.notes.is_left_out(node_id) {
            self.hidden += 1;
            return;
        }
        if let Some(name) = self.notes.call(node_id) {
            self.out.call(name);
            self.hidden += 1;
            return;
        }
        if let Some(page) = elements::page_break(node) {
            self.out.page(&page.label);
            if !page.has_prose {
                self.hidden += 1;
                return;
            }
        }
        if let Some(name) = self.notes.note(node_id) {
            self.out.enter_note(name);
        }
        match elements::role(element) {
            Role::Inline => {}
            Role::LineBreak => self.out.flow("\n", None),
            Role::Quotation => self.out.enter_quotation(),
            Role::QuotationInline => {
                let open = if self.quotes.is_multiple_of(2) {
                    "“"
                } else {
                    "‘"
                };
                self.out.flow(open, None);
                self.quotes += 1;
            }
            Role::Cell => {
                if self.out.has_text() {
                    self.out.trim();
                    let sign = if self.cells == 0 { "\n" } else { "\t" };
                    self.out.verbatim(sign, None);
                }
                self.cells += 1;
            }
            Role::Row => self.cells = 0,
            Role::Table => {
                self.tables += 1;
                self.out.block(BlockKind::Table);
            }
            Role::Code => {
                self.code += 1;
                self.out.block(BlockKind::Code);
            }
            Role::Item(kind) => {
                self.items.push(kind);
                self.out.block(kind);
                if element.name() == "li" && self.ordered.last() == Some(&true) {
                    self.out.number();
                }
            }
            Role::List { ordered } => {
                self.ordered.push(ordered);
                self.paragraph();
            }
            Role::Heading(level) => self.out.block(BlockKind::Heading { level }),
            // A paragraph in a cell belongs to the table.
            Role::Block if self.tables > 0 => self.out.flow(" ", None),
            Role::Block => self.paragraph(),
        }
    }

    fn close(&mut self, node: NodeRef<'_>) {
        let Some(element) = &node.element() else {
            return;
        };
        if self.hidden > 0 {
            self.hidden -= 1;
            return;
        }
        match elements::role(element) {
            Role::Inline | Role::LineBreak | Role::Cell | Role::Row => {}
            Role::Quotation => {
                self.out.leave_quotation();
                self.paragraph();
            }
            Role::QuotationInline => {
                self.quotes = self.quotes.saturating_sub(1);
                let close = if self.quotes.is_multiple_of(2) {
                    "”"
                } else {
                    "’"
                };
                self.out.flow(close, None);
            }
            Role::Table => {
                self.tables = self.tables.saturating_sub(1);
                if self.tables == 0 {
                    self.paragraph();
                }
            }
            Role::Code => {
                self.code = self.code.saturating_sub(1);
                self.paragraph();
            }
            Role::Item(_) => {
                self.items.pop();
                self.paragraph();
            }
            Role::List { .. } => {
                self.ordered.pop();
                self.paragraph();
            }
            Role::Block if self.tables > 0 => self.out.flow(" ", None),
            Role::Heading(_) | Role::Block => self.paragraph(),
        }
        if self.notes.note(node.id()).is_some() {
            self.out.leave_note();
            self.paragraph();
        }
    }

    fn paragraph(&mut self) {
        let kind = self.items.last().copied();
        self.out.block(kind.unwrap_or(BlockKind::Paragraph));
    }

    fn text(&mut self, text: &str) {
        if self.hidden > 0 {
            return;
        }
        if self.code > 0 {
            self.out.verbatim(text, None);
        } else if self.tables > 0 {
            // A line end in a cell is a blank like any other; one in the text divides rows.
            let words: Vec<&str> = text.split_ascii_whitespace().collect();
            let is_open = self.out.last().is_none_or(char::is_whitespace);
            let is_apart = |side: Option<char>| side.is_some_and(|c| c.is_ascii_whitespace());
            if is_apart(text.chars().next()) && !is_open {
                self.out.flow(" ", None);
            }
            self.out.flow(&words.join(" "), None);
            if is_apart(text.chars().next_back()) && !words.is_empty() {
                self.out.flow(" ", None);
            }
        } else {
            // Soft hyphens and optional breaks show only where a line is broken.
            let shown: String = text
                .chars()
                .filter(|c| !matches!(c, '\u{AD}' | '\u{200B}' | '\u{FEFF}'))
                .collect();
            self.out.flow(&shown, None);
        }
    }
}

#[cfg(test)]
mod tests;
