//! RTF (published: the Rich Text Format Specification 1.9.1, from memory). The file is a tree of groups with
//! control words; the Text is what a word processor would show:
//!
//! 1. [`scan`] cuts the bytes into groups, control words and characters.
//! 2. Groups that hold no prose (fonts, pictures, headers, whatever is marked as ignorable) are passed over.
//! 3. Characters are decoded by the code page of the document or of their font ([`charset`]).
//! 4. Headings are recognised by style name or outline level, block quotations by style name or by an indent
//!    on both sides.
//! 5. Footnotes and endnotes come after the running text. Some writers mark them as ignorable, but they are
//!    read all the same. Deleted and hidden text is left out.

mod charset;
mod group;
mod paragraph;
mod scan;
#[cfg(test)]
mod tests;

use std::collections::HashMap;
use std::ops::Range;

use encoding_rs::{Encoding, WINDOWS_1252};

use super::Unreadable;
use super::assembly::Assembly;
use crate::text::{Origin, Text};
use group::{Group, Table, is_left_out};
use paragraph::Paragraph;
use scan::{Scanner, Token};

/// How deep groups may be nested.
pub(super) const DEEPEST: usize = 10_000;

/// Reads RTF.
///
/// # Errors
/// [`Unreadable`] where the bytes are not RTF or are nested deeper than in any document.
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
        in_notes: false,
        paragraph: Paragraph::default(),
        quoting: false,
        in_table: false,
    };
    reader.run(start..bytes.len())?;
    reader.end_paragraph();
    reader.read_notes()?;
    Ok(reader.out.finish(&Origin::Recoded))
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
    /// Characters still to be passed over after a `\u`.
    fallback: usize,
    /// The first half of a character beyond the basic plane.
    high: Option<u16>,
    /// The notes called so far, each with the group around it, whose settings apply within.
    notes: Vec<(Range<usize>, Group)>,
    /// Whether notes are being read. Notes must not hold notes; in a broken file where they do, the inner
    /// ones are not read.
    in_notes: bool,
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
                            "its groups are nested thousands deep".to_owned(),
                        ));
                    }
                    let inner = self.group().inner();
                    self.groups.push(inner);
                }
                Token::Close => self.close(),
                // Some writers mark notes this way for readers that don't know them.
                Token::Ignorable if scanner.is_before(b"footnote") => {}
                Token::Ignorable => self.group_mut().skipped = true,
                Token::Byte(byte) => self.byte(byte),
                Token::Sign(sign) => self.sign(sign),
                Token::Word(word, number) => {
                    if word == b"footnote" {
                        self.flush();
                        let note = scanner.rest_of_group();
                        self.note(note);
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
        // There is a last one: if there was none, one was added just now.
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
        self.group().is_shown()
    }

    /// Decodes the bytes before a control word. Any word but `\u` ends the passing over of characters.
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
}
