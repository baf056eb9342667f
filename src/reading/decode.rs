//! Bytes to characters: which encoding a file is in, and whether it is text at all.
//!
//! 1. A byte-order mark names UTF-8 or UTF-16.
//! 2. Bytes that are valid UTF-8 are UTF-8, and the Text is then the file byte for byte.
//! 3. Bytes in which valid UTF-8 characters outnumber the broken ones are damaged UTF-8; broken characters
//!    show as `�`.
//! 4. What is left is Windows-1252 if it holds no control characters and is mostly letters. That encoding
//!    gives every byte a meaning, so without these two tests any picture would be "text".
//! 5. Where no line ends with a line feed, what ends lines instead becomes one: readers, and whoever counts lines, then
//!    have one rule.

use std::borrow::Cow;

use encoding_rs::{Encoding, UTF_16BE, UTF_16LE, WINDOWS_1252};

use crate::text::{ByteRange, FileLines, Origin, Piece};

const BYTE_ORDER_MARK: &str = "\u{FEFF}";

/// A decoded file.
pub(super) struct Decoded {
    /// Its characters.
    pub content: String,
    /// [`Origin::Same`] for UTF-8, else [`Origin::Decoded`] as one piece.
    pub origin: Origin,
    /// How it was read, where that needs a remark.
    pub remark: Option<String>,
}

impl Decoded {
    /// The lines of the file, as positions in it or in its characters count them.
    pub(super) fn lines(&self) -> FileLines {
        match self.origin {
            Origin::Same { skipped } if skipped > 0 => {
                FileLines::of([BYTE_ORDER_MARK, &self.content].concat().as_bytes())
            }
            _ => FileLines::of(self.content.as_bytes()),
        }
    }
}

/// Decodes a file; `None` where the bytes are not text.
pub(super) fn decode(bytes: Vec<u8>) -> Option<Decoded> {
    decode_as(bytes, None)
}

/// Decodes a file that may name its encoding. Valid UTF-8 is taken as UTF-8, whatever the file says.
pub(super) fn decode_as(bytes: Vec<u8>, named: Option<&'static Encoding>) -> Option<Decoded> {
    let decoded = characters(bytes, named)?;
    let Some(end) = other_line_end(&decoded.content) else {
        return Some(decoded);
    };
    let content = decoded.content.replace(end, "\n");
    Some(Decoded {
        origin: in_characters(&content),
        content,
        remark: decoded.remark,
    })
}

fn characters(bytes: Vec<u8>, named: Option<&'static Encoding>) -> Option<Decoded> {
    match bytes.as_slice() {
        [0xFF, 0xFE, rest @ ..] => return utf_16(rest, UTF_16LE),
        [0xFE, 0xFF, rest @ ..] => return utf_16(rest, UTF_16BE),
        _ => {}
    }
    if !is_text(&bytes) {
        return None;
    }
    let bytes = match String::from_utf8(bytes) {
        Ok(content) => return Some(utf_8(content)),
        Err(error) => error.into_bytes(),
    };
    if let Some(encoding) = named.filter(|encoding| *encoding != encoding_rs::UTF_8) {
        let (content, _) = encoding.decode_without_bom_handling(&bytes);
        let remark = format!("read as {}, as the file says", encoding.name());
        return Some(recoded(content, remark));
    }
    damaged_utf_8(&bytes).or_else(|| windows_1252(&bytes))
}

/// Bytes that occur in a text file: no NUL, and at most a few stray control characters of other kinds.
fn is_text(bytes: &[u8]) -> bool {
    let stray = controls(bytes);
    memchr::memchr(0, bytes).is_none() && stray <= 2 + bytes.len() / 1000
}

/// Counts control characters other than tab, line feed, form feed and carriage return.
fn controls(bytes: &[u8]) -> usize {
    let is_control = |byte: u8| {
        (byte < 0x20 && !matches!(byte, b'\t' | b'\n' | b'\x0C' | b'\r')) || byte == 0x7F
    };
    bytes.iter().filter(|byte| is_control(**byte)).count()
}

fn utf_8(mut content: String) -> Decoded {
    let mut skipped = 0;
    if content.starts_with(BYTE_ORDER_MARK) {
        skipped = 3;
        content.drain(..3);
    }
    Decoded {
        content,
        origin: Origin::Same { skipped },
        remark: None,
    }
}

/// What ends lines in a text without a line feed: a carriage return, as on old Macintoshes, or else NEL (U+0085), as on
/// some mainframes. Together with other line ends NEL is a stray character.
fn other_line_end(content: &str) -> Option<char> {
    match memchr::memchr2(b'\n', b'\r', content.as_bytes()) {
        Some(_) => memchr::memchr(b'\n', content.as_bytes())
            .is_none()
            .then_some('\r'),
        None => content.contains('\u{85}').then_some('\u{85}'),
    }
}

/// The origin of a text that is not its file byte for byte.
fn in_characters(content: &str) -> Origin {
    let whole = Piece {
        text: ByteRange::of(0, content.len()),
        file_start: 0,
    };
    Origin::Decoded {
        pieces: vec![whole],
        included: Vec::new(),
    }
}

fn utf_16(bytes: &[u8], encoding: &'static Encoding) -> Option<Decoded> {
    let (content, broken) = encoding.decode_without_bom_handling(bytes);
    is_text(content.as_bytes()).then(|| {
        let damage = if broken {
            ", with characters that could not be decoded"
        } else {
            ""
        };
        recoded(content, format!("read as {}{damage}", encoding.name()))
    })
}

fn damaged_utf_8(bytes: &[u8]) -> Option<Decoded> {
    let (mut good, mut broken) = (0_usize, 0_usize);
    for chunk in bytes.utf8_chunks() {
        good += chunk.valid().chars().filter(|c| !c.is_ascii()).count();
        broken += usize::from(!chunk.invalid().is_empty());
    }
    (good > broken).then(|| {
        let remark = format!("read as UTF-8; damaged characters: {broken}");
        recoded(String::from_utf8_lossy(bytes), remark)
    })
}

fn windows_1252(bytes: &[u8]) -> Option<Decoded> {
    let (content, _) = WINDOWS_1252.decode_without_bom_handling(bytes);
    let letters = content.chars().filter(|c| c.is_alphabetic()).count();
    let solid = content.chars().filter(|c| !c.is_whitespace()).count();
    // The five bytes without a meaning become control characters from U+0080 on.
    let clean = controls(bytes) == 0 && !content.chars().any(|c| matches!(c, '\u{80}'..='\u{9F}'));
    (clean && letters * 2 >= solid).then(|| {
        let remark = "read as Windows-1252, since it is not UTF-8".to_owned();
        recoded(content, remark)
    })
}

fn recoded(content: Cow<'_, str>, remark: String) -> Decoded {
    Decoded {
        origin: in_characters(&content),
        content: content.into_owned(),
        remark: Some(remark),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn assert_decoded(bytes: &[u8], content: &str, origin: Option<Origin>, remark: Option<&str>) {
        let decoded = decode(bytes.to_vec()).expect("should be text");
        assert_eq!(decoded.content, content);
        let origin = origin.unwrap_or_else(|| in_characters(content));
        assert_eq!(decoded.origin, origin);
        assert_eq!(decoded.remark.as_deref(), remark);
    }

    #[test]
    fn encodings_by_case() {
        let same = |skipped| Some(Origin::Same { skipped });
        assert_decoded(b"", "", same(0), None);
        assert_decoded("Öl–Lampe".as_bytes(), "Öl–Lampe", same(0), None);
        assert_decoded("\u{FEFF}Öl".as_bytes(), "Öl", same(3), None);
        assert_decoded(
            "Öl\u{85}\u{85}Lampe\u{85}".as_bytes(),
            "Öl\n\nLampe\n",
            None,
            None,
        );
        assert_decoded(b"lamp\r\rmoth\r", "lamp\n\nmoth\n", None, None);
        for stray in ["Öl\u{85}\nLampe", "Öl\rLampe\n", "Öl\r\nLampe"] {
            assert_decoded(stray.as_bytes(), stray, same(0), None);
        }
        let remark = Some("read as Windows-1252, since it is not UTF-8");
        assert_decoded(b"caf\xE9\x85\rlamp\r", "café…\nlamp\n", None, remark);
        assert_decoded(b"\xFF\xFEa\0\r\0", "a\n", None, Some("read as UTF-16LE"));
        let utf_16 = |little: bool| -> Vec<u8> {
            "\u{FEFF}Öl 😀"
                .encode_utf16()
                .flat_map(|unit| {
                    if little {
                        unit.to_le_bytes()
                    } else {
                        unit.to_be_bytes()
                    }
                })
                .collect()
        };
        assert_decoded(&utf_16(true), "Öl 😀", None, Some("read as UTF-16LE"));
        assert_decoded(&utf_16(false), "Öl 😀", None, Some("read as UTF-16BE"));
        assert_decoded(
            b"The \x93lamp\x94 \x96 caf\xE9\n",
            "The “lamp” – café\n",
            None,
            Some("read as Windows-1252, since it is not UTF-8"),
        );
        assert_decoded(
            b"caf\xC3\xA9 \xE2\x80\x9Clamp\xE2\x80\x9D \xFF end",
            "café “lamp” � end",
            None,
            Some("read as UTF-8; damaged characters: 1"),
        );
    }

    #[test]
    fn files_that_are_not_text() {
        let cases: [&[u8]; 5] = [
            b"lamp\0moth",
            b"\x7FELF\x01\x01\x01\x02\x03",
            b"\x89PNG\r\n\x1A\n\x01\x02\x03\x04",
            b"lamp \xE9 \x01",
            b"\xFF\xD8\xFF\xE0 \xB0\xA1\xB0\xA1 12 \xA7\xA7",
        ];
        for bytes in cases {
            assert!(decode(bytes.to_vec()).is_none(), "{bytes:?}");
        }
    }

    #[test]
    fn a_stray_control_character_does_no_harm() {
        assert!(decode(b"lamps\x1A".to_vec()).is_some());
    }
}
