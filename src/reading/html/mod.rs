//! HTML, and the chapters of an EPUB. The tree is made as browsers make it, unclosed elements and all;
//! the Text is the prose that a reader of the page would see:
//!
//! 1. Elements that are blocks end the paragraph at hand; what kind of block stands in [`elements`].
//! 2. Left out: scripts, styles, menus, hidden elements, deleted text.
//! 3. Footnotes are told by the roles of DPUB-ARIA and by the marks of EPUB, else by a link in superscript to
//!    an element that holds a link back ([`notes`]).
//! 4. Page breaks are those of DPUB-ARIA and EPUB (`doc-pagebreak`, `pagebreak`).
//!
//! Positions in the file can't be named, since the tree keeps none.

mod elements;
mod markup;
mod notes;

use ego_tree::iter::Edge;
use encoding_rs::Encoding;
use scraper::{Html, Node, node::Element};

use super::Unreadable;
use super::assembly::Assembly;
use crate::text::{BlockKind, Origin, Text};
use elements::Role;

/// The encoding that a page says it is in, within its first bytes as the standard asks.
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
/// [`Unreadable::Excessive`] where elements lie thousands deep in each other.
pub(super) fn read(content: &str) -> Result<Text, Unreadable> {
    let mut out = Assembly::default();
    write(content, "", &mut out)?;
    Ok(out.finish(&Origin::Recoded))
}

/// Writes the prose of a document. `file` is put before the names of its notes, to tell apart those of
/// several documents in one Text.
///
/// # Errors
/// [`Unreadable::Excessive`] where elements lie thousands deep in each other.
pub(super) fn write(content: &str, file: &str, out: &mut Assembly) -> Result<(), Unreadable> {
    if markup::is_too_deep(content) {
        return Err(Unreadable::Excessive(
            "its elements lie thousands deep in each other".to_owned(),
        ));
    }
    let page = Html::parse_document(&markup::without_self_closed(content));
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
    for edge in page.tree.root().traverse() {
        match edge {
            Edge::Open(node) => match node.value() {
                Node::Element(element) => walker.open(node.id(), element),
                Node::Text(text) => walker.text(text),
                _ => {}
            },
            Edge::Close(node) => {
                if let Node::Element(element) = node.value() {
                    walker.close(node.id(), element);
                }
            }
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
    /// What the paragraphs of the elements around are, innermost last.
    items: Vec<BlockKind>,
    /// For each list around, whether it numbers its items.
    ordered: Vec<bool>,
    cells: usize,
    tables: usize,
}

impl Walker<'_> {
    fn open(&mut self, node: ego_tree::NodeId, element: &Element) {
        if self.hidden > 0 || elements::is_hidden(element) || self.notes.is_left_out(node) {
            self.hidden += 1;
            return;
        }
        if let Some(name) = self.notes.call(node) {
            self.out.call(name);
            self.hidden += 1;
            return;
        }
        if let Some(label) = elements::page_label(element) {
            self.out.page(&label);
            self.hidden += 1;
            return;
        }
        if let Some(name) = self.notes.note(node) {
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

    fn close(&mut self, node: ego_tree::NodeId, element: &Element) {
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
        if self.notes.note(node).is_some() {
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
        } else if self.tables > 0 && self.out.last().is_none_or(char::is_whitespace) {
            self.out.flow(text.trim_start(), None);
        } else {
            // Soft hyphens and places for a break show only where a line is broken.
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
