//! RTF bytes as groups, control words and characters.

use std::ops::Range;

/// One piece of RTF.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Token<'a> {
    /// `{`
    Open,
    /// `}`
    Close,
    /// `\*`: readers that don't know what follows pass over the group.
    Ignorable,
    /// `\word12`
    Word(&'a [u8], Option<i32>),
    /// `\` and one sign.
    Sign(u8),
    /// A byte of text, written directly or as `\'e9`.
    Byte(u8),
}

/// Goes through a stretch of bytes.
#[derive(Clone)]
pub(super) struct Scanner<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl<'a> Scanner<'a> {
    pub(super) fn new(bytes: &'a [u8], range: Range<usize>) -> Self {
        Self {
            bytes: bytes.get(..range.end).unwrap_or(bytes),
            at: range.start,
        }
    }

    /// Passes over so many bytes, as raw data within a document requires.
    pub(super) fn skip(&mut self, bytes: usize) {
        self.at = self.at.saturating_add(bytes);
    }

    /// Whether this control word comes next.
    pub(super) fn is_before(&self, word: &[u8]) -> bool {
        matches!(self.clone().next(), Some(Token::Word(next, _)) if next == word)
    }

    /// The rest of the current group, which is passed over.
    pub(super) fn rest_of_group(&mut self) -> Range<usize> {
        let start = self.at;
        let mut depth = 0_usize;
        loop {
            let before = self.at;
            match self.next() {
                Some(Token::Open) => depth += 1,
                Some(Token::Close) if depth == 0 => {
                    // The group's end is left for the caller.
                    self.at = before;
                    return start..before;
                }
                Some(Token::Close) => depth -= 1,
                Some(_) => {}
                None => return start..self.at.min(self.bytes.len()),
            }
        }
    }

    pub(super) fn next(&mut self) -> Option<Token<'a>> {
        loop {
            let byte = *self.bytes.get(self.at)?;
            self.at += 1;
            match byte {
                b'{' => return Some(Token::Open),
                b'}' => return Some(Token::Close),
                b'\\' => return self.control(),
                // Line ends in the file are not part of the text.
                b'\n' | b'\r' | 0 => {}
                byte => return Some(Token::Byte(byte)),
            }
        }
    }

    fn control(&mut self) -> Option<Token<'a>> {
        let first = *self.bytes.get(self.at)?;
        if !first.is_ascii_alphabetic() {
            self.at += 1;
            return Some(match first {
                b'*' => Token::Ignorable,
                b'\'' => {
                    let digits = self.bytes.get(self.at..self.at + 2).unwrap_or_default();
                    self.at += digits.len();
                    let hex = std::str::from_utf8(digits).unwrap_or_default();
                    Token::Byte(u8::from_str_radix(hex, 16).unwrap_or(b'?'))
                }
                sign => Token::Sign(sign),
            });
        }
        let rest = self.bytes.get(self.at..)?;
        let letters = rest.iter().take(32);
        let length = letters.take_while(|b| b.is_ascii_alphabetic()).count();
        let word = rest.get(..length)?;
        let rest = rest.get(length..)?;
        let sign = usize::from(rest.first() == Some(&b'-'));
        let digits = rest.iter().skip(sign).take(10);
        let digits = digits.take_while(|b| b.is_ascii_digit()).count();
        let mut end = length;
        let mut number = None;
        if digits > 0 {
            let written = rest.get(..sign + digits).unwrap_or_default();
            number = std::str::from_utf8(written)
                .ok()
                .and_then(|number| number.parse().ok());
            end += sign + digits;
        }
        self.at += end;
        // One blank after a control word belongs to it.
        if self.bytes.get(self.at) == Some(&b' ') {
            self.at += 1;
        }
        Some(Token::Word(word, number))
    }
}
