//! RTF (published: the Rich Text Format Specification 1.9.1, from memory). The file is a tree of groups with
//! control words; the Text is what a word processor would show of it:
//!
//! 1. [`scan`] cuts the bytes into groups, control words and characters.
//! 2. Groups that hold no prose (fonts, pictures, headers, whatever is marked as ignorable) are passed over.
//! 3. Characters are decoded by the code page of the document or of their font ([`charset`]).
//! 4. Headings are told by style name or outline level, block quotations by style name or by an indent on
//!    both sides.
//! 5. Footnotes stand behind the running text. Deleted and hidden text is left out.

mod charset;
mod scan;
#[cfg(test)]
mod tests;

use std::collections::HashMap;
use std::ops::Range;

use encoding_rs::{Encoding, WINDOWS_1252};

use super::Unreadable;
use super::assembly::Assembly;
use crate::text::{BlockKind, Origin, Text};
use scan::{Scanner, Token};

/// An indent from here on, on both sides, sets a paragraph off; in twips, about a centimetre.
const SET_OFF: i32 = 500;

/// An indent from here on, on the left alone and without a hanging first line, does so too.
const SET_OFF_LEFT: i32 = 700;

/// Groups may lie so deep in each other.
const DEEPEST: usize = 10_000;

/// Reads RTF.
///
/// # Errors
/// [`Unreadable`] where the bytes are no RTF or go deeper than any document.
pub(super) fn read(bytes: &[u8]) -> Result<Text, Unreadable> {
    let start = bytes.iter().position(|byte| !byte.is_ascii_whitespace());
    let start = start.unwrap_or_default();
    if !bytes
        .get(start..)
        .is_some_and(|rest| rest.starts_with(b"{\\rtf"))
    {
        return Err(Unreadable::OtherFormat {
            expected: "Rich Text (.rtf)",
            found: "it does not begin as one".to_owned(),
        });
    }
    let mut reader = Reader {
        bytes,
        out: Assembly::default(),
        groups: vec![Group::default()],
        encoding: WINDOWS_1252,
        fonts: HashMap::new(),
        styles: HashMap::new(),
        pending: Vec::new(),
        fallback: 0,
        high: None,
        notes: Vec::new(),
        paragraph: Paragraph::default(),
        quoting: false,
        in_table: false,
    };
    reader.run(start..bytes.len())?;
    reader.end_paragraph();
    // Notes may not hold notes; a broken file that says so is read no deeper.
    for (number, range) in std::mem::take(&mut reader.notes).into_iter().enumerate() {
        reader.groups = vec![Group::default()];
        reader.paragraph = Paragraph::default();
        reader.out.enter_note(&number.to_string());
        reader.run(range)?;
        reader.flush();
        reader.out.leave_note();
    }
    Ok(reader.out.finish(&Origin::Recoded))
}

/// What a group's braces shut in.
#[derive(Clone, Default)]
struct Group {
    /// Its text is left out.
    skipped: bool,
    /// It is part of a table that is read for itself.
    table: Option<Table>,
    hidden: bool,
    deleted: bool,
    /// Characters behind a `\u` that stand for it in old readers.
    unicode_skip: usize,
    skip_known: bool,
    encoding: Option<&'static Encoding>,
    /// The font or style that is being described.
    number: i32,
    name: String,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Table {
    Fonts,
    Styles,
}

/// What is said of a paragraph before or within it.
#[derive(Clone, Copy, Default)]
struct Paragraph {
    style: i32,
    outline: Option<u8>,
    left: i32,
    right: i32,
    first: i32,
    list: bool,
    table: bool,
}

struct Reader<'a> {
    bytes: &'a [u8],
    out: Assembly,
    groups: Vec<Group>,
    encoding: &'static Encoding,
    fonts: HashMap<i32, &'static Encoding>,
    styles: HashMap<i32, String>,
    /// Bytes that are not decoded yet: two may make one character.
    pending: Vec<u8>,
    /// Characters still to be passed over behind a `\u`.
    fallback: usize,
    /// The first half of a character beyond the basic plane.
    high: Option<u16>,
    notes: Vec<Range<usize>>,
    paragraph: Paragraph,
    quoting: bool,
    in_table: bool,
}

impl Reader<'_> {
    fn run(&mut self, range: Range<usize>) -> Result<(), Unreadable> {
        let mut scanner = Scanner::new(self.bytes, range);
        while let Some(token) = scanner.next() {
            match token {
                Token::Open => {
                    self.flush();
                    if self.groups.len() >= DEEPEST {
                        return Err(Unreadable::Excessive(
                            "its groups lie thousands deep in each other".to_owned(),
                        ));
                    }
                    let inner = Group {
                        name: String::new(),
                        ..self.group().clone()
                    };
                    self.groups.push(inner);
                }
                Token::Close => self.close(),
                Token::Ignorable => self.group_mut().skipped = true,
                Token::Byte(byte) => self.byte(byte),
                Token::Sign(sign) => self.sign(sign),
                Token::Word(word, number) => {
                    if word == b"footnote" && !self.group().skipped {
                        self.flush();
                        self.out.call(&self.notes.len().to_string());
                        self.notes.push(scanner.rest_of_group());
                    } else if word == b"bin" {
                        scanner.skip(usize::try_from(number.unwrap_or(0)).unwrap_or(0));
                    } else {
                        self.word(word, number);
                    }
                }
            }
        }
        self.flush();
        Ok(())
    }

    fn group(&self) -> &Group {
        static OUTSIDE: std::sync::OnceLock<Group> = std::sync::OnceLock::new();
        match self.groups.last() {
            Some(group) => group,
            None => OUTSIDE.get_or_init(Group::default),
        }
    }

    fn group_mut(&mut self) -> &mut Group {
        if self.groups.is_empty() {
            self.groups.push(Group::default());
        }
        // There is a last one: if there was none, one was put there just now.
        let last = self.groups.len() - 1;
        &mut self.groups[last]
    }

    fn close(&mut self) {
        self.flush();
        let Some(closed) = self.groups.pop() else {
            return;
        };
        if closed.table == Some(Table::Styles) && !closed.name.is_empty() {
            let name = closed.name.trim_matches([';', ' ']).to_lowercase();
            self.styles.entry(closed.number).or_insert(name);
        }
    }

    fn word(&mut self, word: &[u8], number: Option<i32>) {
        let on = number != Some(0);
        self.flush_for(word);
        match word {
            b"fonttbl" => self.group_mut().table = Some(Table::Fonts),
            b"stylesheet" => self.group_mut().table = Some(Table::Styles),
            b"ansicpg" => {
                if let Some(encoding) = number.and_then(charset::of_code_page) {
                    self.encoding = encoding;
                }
            }
            b"f" => self.font(number.unwrap_or(0)),
            b"fcharset" if self.group().table == Some(Table::Fonts) => {
                if let Some(encoding) = number.and_then(charset::of_font) {
                    self.fonts.insert(self.group().number, encoding);
                }
            }
            b"s" if self.group().table == Some(Table::Styles) => {
                self.group_mut().number = number.unwrap_or(0);
            }
            b"uc" => {
                let group = self.group_mut();
                group.unicode_skip = usize::try_from(number.unwrap_or(1)).unwrap_or(1);
                group.skip_known = true;
            }
            b"u" => self.unicode(number.unwrap_or(0)),
            b"v" => self.group_mut().hidden = on,
            b"deleted" => self.group_mut().deleted = on,
            b"plain" => {
                let group = self.group_mut();
                (group.hidden, group.deleted, group.encoding) = (false, false, None);
            }
            _ if is_left_out(word) => self.group_mut().skipped = true,
            _ if self.is_shown() => self.shown_word(word, number),
            _ => {}
        }
    }

    fn shown_word(&mut self, word: &[u8], number: Option<i32>) {
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
            // The sign of an item that is written out.
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

    fn font(&mut self, number: i32) {
        if self.group().table == Some(Table::Fonts) {
            self.group_mut().number = number;
        } else {
            self.group_mut().encoding = self.fonts.get(&number).copied();
        }
    }

    fn unicode(&mut self, number: i32) {
        // Numbers over 32,767 are written as negative ones.
        let unit = (number & 0xFFFF) as u16;
        let skip = if self.group().skip_known {
            self.group().unicode_skip
        } else {
            1
        };
        let character = match self.high.take() {
            Some(high) => char::decode_utf16([high, unit]).next().and_then(Result::ok),
            None if (0xD800..0xDC00).contains(&unit) => {
                self.high = Some(unit);
                None
            }
            None => char::from_u32(u32::from(unit)),
        };
        if let Some(character) = character {
            self.put(character.encode_utf8(&mut [0; 4]));
        }
        self.fallback = skip;
    }

    fn byte(&mut self, byte: u8) {
        if self.fallback > 0 {
            self.fallback -= 1;
        } else if self.is_shown() {
            self.pending.push(byte);
        } else if self.group().table == Some(Table::Styles) && !self.group().skipped {
            self.group_mut().name.push(char::from(byte));
        }
    }

    fn sign(&mut self, sign: u8) {
        self.flush();
        match sign {
            b'~' => self.put("\u{A0}"),
            b'_' => self.put("\u{2011}"),
            b'{' | b'}' | b'\\' => self.put(char::from(sign).encode_utf8(&mut [0; 4])),
            b'\n' | b'\r' => self.end_paragraph(),
            _ => {}
        }
    }

    fn is_shown(&self) -> bool {
        let group = self.group();
        !group.skipped && !group.hidden && !group.deleted && group.table.is_none()
    }

    /// Control words that stand among characters without parting them leave bytes together.
    fn flush_for(&mut self, word: &[u8]) {
        self.fallback = if word == b"u" { self.fallback } else { 0 };
        self.flush();
    }

    fn flush(&mut self) {
        if self.pending.is_empty() {
            return;
        }
        let encoding = self.group().encoding.unwrap_or(self.encoding);
        let bytes = std::mem::take(&mut self.pending);
        let (text, _) = encoding.decode_without_bom_handling(&bytes);
        self.put(&text);
    }

    fn put(&mut self, text: &str) {
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

    fn begin_paragraph(&mut self) {
        let table = self.paragraph.table;
        self.in_table = table;
        let style = self.styles.get(&self.paragraph.style);
        let style = style.map(String::as_str).unwrap_or_default();
        let Paragraph {
            left, right, first, ..
        } = self.paragraph;
        let set_off = (left >= SET_OFF && right >= SET_OFF) || (left >= SET_OFF_LEFT && first >= 0);
        let quoted = style.contains("quot") || (set_off && !self.paragraph.list && !table);
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
        } else if let Some(level) = heading(style, self.paragraph.outline) {
            BlockKind::Heading { level }
        } else if style.contains("bibliograph") || style == "references" {
            BlockKind::ReferenceListItem
        } else if self.paragraph.list {
            BlockKind::ListItem
        } else {
            BlockKind::Paragraph
        };
        self.out.block(kind);
    }

    fn end_paragraph(&mut self) {
        self.flush();
        self.out.end_block();
        self.in_table = false;
    }

    fn cell(&mut self, sign: &str) {
        self.flush();
        if self.out.has_text() {
            if sign == "\n" {
                // A row ends with a cell's end.
                self.out.trim();
            }
            self.out.verbatim(sign, None);
        }
    }
}

/// The level of a heading by its style's name or its outline level.
fn heading(style: &str, outline: Option<u8>) -> Option<u8> {
    let by_name = style
        .strip_prefix("heading ")
        .and_then(|number| number.trim().parse().ok());
    let title = (style == "title").then_some(1);
    let level = by_name.or(title).or(outline.map(|level| level + 1))?;
    Some(level.clamp(1, 6))
}

/// Groups that hold no prose.
fn is_left_out(word: &[u8]) -> bool {
    matches!(
        word,
        b"colortbl"
            | b"info"
            | b"pict"
            | b"object"
            | b"header"
            | b"headerl"
            | b"headerr"
            | b"headerf"
            | b"footer"
            | b"footerl"
            | b"footerr"
            | b"footerf"
            | b"listtext"
            | b"pntext"
            | b"fldinst"
            | b"datafield"
            | b"xe"
            | b"tc"
            | b"annotation"
            | b"atnid"
            | b"atnauthor"
            | b"bkmkstart"
            | b"bkmkend"
            | b"ftnsep"
            | b"ftnsepc"
            | b"aftnsep"
            | b"aftnsepc"
            | b"nonshppict"
            | b"themedata"
            | b"filetbl"
            | b"revtbl"
            | b"listtable"
            | b"listoverridetable"
            | b"rsidtbl"
            | b"generator"
    )
}
