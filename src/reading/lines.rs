//! Lines of a text with their positions, for formats that consist of lines.

/// A line without its end.
#[derive(Debug, Clone, Copy)]
pub(super) struct Line<'a> {
    /// Its characters.
    pub text: &'a str,
    /// The position of its first byte.
    pub start: usize,
}

impl<'a> Line<'a> {
    /// How many columns of blanks it begins with; a tab extends to the next multiple of eight columns.
    pub(super) fn indent(&self) -> usize {
        let blanks = self.text.bytes().take_while(|b| matches!(b, b' ' | b'\t'));
        blanks.fold(0, |column, blank| match blank {
            b'\t' => column / 8 * 8 + 8,
            _ => column + 1,
        })
    }

    /// Without the blanks around it.
    pub(super) fn trimmed(&self) -> Self {
        let lead = self.text.len() - self.text.trim_start().len();
        Self {
            text: self.text.trim(),
            start: self.start + lead,
        }
    }

    /// The rest after so many bytes; nothing if they end inside a character.
    pub(super) fn behind(&self, bytes: usize) -> Self {
        Self {
            text: self.text.get(bytes..).unwrap_or_default(),
            start: self.start + bytes,
        }
    }

    /// Whether it holds only blanks.
    pub(super) fn is_blank(&self) -> bool {
        self.text.trim().is_empty()
    }
}

/// The lines of a text; LF, CRLF and CR each end one.
pub(super) fn lines(content: &str) -> Vec<Line<'_>> {
    let mut lines = Vec::new();
    let mut start = 0;
    let bytes = content.as_bytes();
    for end in memchr::memchr2_iter(b'\n', b'\r', bytes) {
        if end < start {
            continue;
        }
        lines.push(Line {
            text: content.get(start..end).unwrap_or_default(),
            start,
        });
        let crlf = bytes.get(end) == Some(&b'\r') && bytes.get(end + 1) == Some(&b'\n');
        start = end + 1 + usize::from(crlf);
    }
    if start < content.len() {
        lines.push(Line {
            text: content.get(start..).unwrap_or_default(),
            start,
        });
    }
    lines
}
