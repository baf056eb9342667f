//! Paragraphs, tables and notes, to which visible text belongs.

use std::ops::Range;

use super::Reader;
use super::charset;
use crate::reading::Unreadable;
use crate::reading::flow::{Role, role_of_style};
use crate::text::BlockKind;

/// Least indent on both sides that sets a paragraph off, in twips: about a centimetre.
const SET_OFF: i32 = 500;

/// Least indent on the left alone, without a hanging first line, that does so too.
const SET_OFF_LEFT: i32 = 700;

/// What is set for a paragraph before or within it.
#[derive(Clone, Copy, Default)]
pub(super) struct Paragraph {
    pub(super) style: i32,
    pub(super) outline: Option<u8>,
    pub(super) left: i32,
    pub(super) right: i32,
    pub(super) first: i32,
    pub(super) list: bool,
    pub(super) table: bool,
}

impl Reader<'_> {
    pub(super) fn shown_word(&mut self, word: &[u8], number: Option<i32>) {
        let value = number.unwrap_or(0);
        match word {
            b"pard" => self.paragraph = Paragraph::default(),
            b"s" => self.paragraph.style = value,
            b"outlinelevel" => {
                self.paragraph.outline = u8::try_from(value).ok().filter(|level| *level < 9);
            }
            b"li" | b"lin" => self.paragraph.left = value,
            b"ri" | b"rin" => self.paragraph.right = value,
            b"fi" => self.paragraph.first = value,
            // The sign of an item, written out.
            b"bullet" if !self.out.has_text() => self.paragraph.list = true,
            b"ls" => self.paragraph.list = true,
            b"intbl" => self.paragraph.table = true,
            b"par" | b"sect" | b"page" => {
                if self.in_table && self.paragraph.table {
                    self.put(" ");
                } else {
                    self.end_paragraph();
                }
            }
            b"line" => self.put("\n"),
            b"tab" => self.put(" "),
            b"cell" | b"nestcell" => self.cell("\t"),
            b"row" | b"nestrow" => self.cell("\n"),
            _ => {
                if let Some(sign) = charset::sign_of(word) {
                    self.put(sign);
                }
            }
        }
    }

    pub(super) fn put(&mut self, text: &str) {
        if !self.is_shown() {
            return;
        }
        if self.out.has_text() && self.in_table != self.paragraph.table {
            self.out.end_block();
        }
        if !self.out.has_text() {
            if text.trim().is_empty() {
                return;
            }
            self.begin_paragraph();
        }
        self.out.flow(text, None);
    }

    pub(super) fn begin_paragraph(&mut self) {
        let table = self.paragraph.table;
        self.in_table = table;
        let style = self.styles.get(&self.paragraph.style);
        let style = style.map(String::as_str).unwrap_or_default();
        let Paragraph {
            left, right, first, ..
        } = self.paragraph;
        let set_off = (left >= SET_OFF && right >= SET_OFF) || (left >= SET_OFF_LEFT && first >= 0);
        let role = role_of_style(style);
        let quoted = role == Some(Role::Quotation) || (set_off && !self.paragraph.list && !table);
        // A note is one block, whatever its indents.
        let quoted = quoted && !self.in_notes;
        if quoted != self.quoting {
            self.quoting = quoted;
            if quoted {
                self.out.enter_quotation();
            } else {
                self.out.leave_quotation();
            }
        }
        let kind = if table {
            BlockKind::Table
        } else if let Some(level) = heading(role, self.paragraph.outline) {
            BlockKind::Heading { level }
        } else if role == Some(Role::Reference) || style == "references" {
            BlockKind::ReferenceListItem
        } else if self.paragraph.list {
            BlockKind::ListItem
        } else {
            BlockKind::Paragraph
        };
        self.out.block(kind);
    }

    pub(super) fn end_paragraph(&mut self) {
        self.flush();
        self.out.end_block();
        self.in_table = false;
    }

    pub(super) fn cell(&mut self, sign: &str) {
        self.flush();
        if self.out.has_text() {
            if sign == "\n" {
                // A row ends with the end of a cell.
                self.out.trim();
            }
            self.out.verbatim(sign, None);
        }
    }
}

/// Footnotes and endnotes.
impl Reader<'_> {
    /// Keeps a note for later. Hidden or deleted text calls no note.
    pub(super) fn note(&mut self, range: Range<usize>) {
        if self.is_shown() && !self.in_notes {
            self.out.call(&self.notes.len().to_string());
            self.notes.push((range, self.group().clone()));
        }
    }

    /// Writes the notes after the running text.
    pub(super) fn read_notes(&mut self) -> Result<(), Unreadable> {
        self.in_notes = true;
        if std::mem::take(&mut self.quoting) {
            self.out.leave_quotation();
        }
        for (number, (range, group)) in std::mem::take(&mut self.notes).into_iter().enumerate() {
            self.groups = vec![group];
            self.paragraph = Paragraph::default();
            (self.fallback, self.high) = (0, None);
            self.out.enter_note(&number.to_string());
            self.run(range)?;
            self.out.leave_note();
        }
        Ok(())
    }
}

/// The level of a heading by its style or its outline level.
fn heading(role: Option<Role>, outline: Option<u8>) -> Option<u8> {
    let level = match role {
        Some(Role::Heading(level)) => Some(level),
        _ => outline.map(|level| level + 1),
    };
    Some(level?.clamp(1, 6))
}
