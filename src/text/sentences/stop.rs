//! Stops: an end mark or a run of them, with what closes after it.

use super::BlockView;

/// An end mark and the marks that belong to it.
pub(super) struct Stop {
    /// Where the first end mark stands.
    pub start: usize,
    /// After the last end mark.
    pub marks_end: usize,
    /// After the closing quotation marks, brackets and note numbers that belong to it.
    pub end: usize,
    /// How many end marks: `.` is 1, `...` and `. . .` are 3; `…` counts as 3.
    pub dots: usize,
    /// Whether one of the marks is `!` or `?`.
    pub loud: bool,
    /// Whether a closing quotation mark follows.
    pub closes_quotation: bool,
    /// Whether a closing bracket follows.
    pub closes_bracket: bool,
    /// Whether no blank has to follow (Chinese and Japanese).
    pub wide: bool,
}

/// The next byte that may begin an end mark, or the next line end.
pub(super) fn next(bytes: &[u8], from: usize) -> Option<usize> {
    const OF_INTEREST: [bool; 256] = {
        let mut table = [false; 256];
        let listed = b".!?\n\r\xE2\xE3\xEF\xD8\xDB\xE0";
        let mut index = 0;
        while index < listed.len() {
            table[listed[index] as usize] = true;
            index += 1;
        }
        table
    };
    let offset = bytes
        .get(from..)?
        .iter()
        .position(|byte| OF_INTEREST[*byte as usize])?;
    Some(from + offset)
}

fn is_end_mark(c: char) -> bool {
    matches!(
        c,
        '.' | '!' | '?' | '…' | '‼' | '⁇' | '⁈' | '⁉' | '؟' | '۔' | '।'
    ) || is_wide(c)
}

fn is_wide(c: char) -> bool {
    matches!(c, '。' | '！' | '？' | '｡')
}

/// Marks that close a quotation when they stand directly after an end mark.
fn closes_quotation(c: char) -> bool {
    matches!(
        c,
        '”' | '’' | '"' | '\'' | '»' | '›' | '«' | '‹' | '“' | '‘' | '」' | '』'
    )
}

impl Stop {
    /// The stop that begins at a position, if one does.
    pub(super) fn at(block: &BlockView<'_>, start: usize) -> Option<Self> {
        let mut stop = Self {
            start,
            marks_end: start,
            end: start,
            dots: 0,
            loud: false,
            closes_quotation: false,
            closes_bracket: false,
            wide: false,
        };
        stop.take_marks(block);
        if stop.dots == 0 {
            return None;
        }
        stop.end = stop.marks_end;
        stop.take_closing(block);
        stop.take_note_number(block);
        Some(stop)
    }

    fn take_marks(&mut self, block: &BlockView<'_>) {
        loop {
            let at = self.marks_end;
            let Some(c) = block.char_at(at) else { return };
            if is_end_mark(c) {
                self.dots += if c == '…' { 3 } else { 1 };
                self.loud |= !matches!(c, '.' | '…');
                self.wide |= is_wide(c);
                self.marks_end += c.len_utf8();
            } else if self.dots > 0
                && matches!(c, ' ' | '\u{A0}')
                && block.char_before(at) == Some('.')
                && block.char_at(at + c.len_utf8()) == Some('.')
            {
                self.marks_end += c.len_utf8(); // a spaced ellipsis
            } else {
                return;
            }
        }
    }

    fn take_closing(&mut self, block: &BlockView<'_>) {
        while let Some(c) = block.char_at(self.end) {
            if closes_quotation(c) {
                self.closes_quotation = true;
            } else if matches!(c, ')' | ']' | '}' | '）') {
                self.closes_bracket = true;
            } else if let Some(end) = detached_closing(block, self.end) {
                self.closes_quotation = true;
                self.end = end;
                continue;
            } else if !matches!(c, '*' | '_') {
                return;
            }
            self.end += c.len_utf8();
        }
    }

    /// The number of a note that stands directly after: `lamps.12`, `lamps.”[3]`, `lamps.²`.
    fn take_note_number(&mut self, block: &BlockView<'_>) {
        let after_letter = block
            .char_before(self.start)
            .is_some_and(char::is_alphabetic);
        if !(after_letter || self.end > self.marks_end) {
            return;
        }
        let rest = block.rest(self.end);
        let number = rest.trim_start_matches(|c: char| {
            c.is_ascii_digit() || matches!(c, '¹' | '²' | '³' | '⁰' | '⁴'..='⁹' | '†' | '‡')
        });
        let bracketed = rest
            .strip_prefix('[')
            .map(|inner| {
                inner.trim_start_matches(|c: char| c.is_ascii_digit() || "^,–-".contains(c))
            })
            .and_then(|inner| inner.strip_prefix(']'));
        let behind = bracketed.unwrap_or(number);
        let length = rest.len() - behind.len();
        if length <= 9 && behind.chars().next().is_none_or(char::is_whitespace) {
            self.end += length;
        }
    }
}

/// The end of a closing mark that a blank separates from the end mark, as in French (`. »`); a blank or the
/// end of the block follows it too.
fn detached_closing(block: &BlockView<'_>, at: usize) -> Option<usize> {
    let mut chars = block.rest(at).chars();
    let blank = chars
        .next()
        .filter(|c| matches!(c, ' ' | '\u{A0}' | '\u{202F}'))?;
    let mark = chars.next().filter(|c| matches!(c, '»' | '›' | '”'))?;
    chars
        .next()
        .is_none_or(char::is_whitespace)
        .then_some(at + blank.len_utf8() + mark.len_utf8())
}
