//! Lines and columns of a file, so that a place in a Text can be given as editors count it without reading
//! the file again.

use super::ByteRange;

/// Where the lines of a file begin, and which of its bytes begin no character.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct FileLines {
    /// The first byte of each line, in order.
    starts: Vec<u32>,
    /// The bytes that no column counts, in order: those inside a character of several bytes, and a byte-order mark.
    inner: Vec<u32>,
    /// The bytes of the file.
    length: u32,
}

/// A stretch of a file: lines and columns from 1, columns in characters, the end after the last one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LineRange {
    /// The line it begins on.
    pub line: usize,
    /// The column it begins at.
    pub column: usize,
    /// The line it ends on.
    pub end_line: usize,
    /// The column after its last character.
    pub end_column: usize,
}

/// Bytes that are examined together.
const CHUNK: usize = 64;

impl FileLines {
    /// The lines of a file's bytes; a line feed ends one.
    #[must_use]
    pub fn of(bytes: &[u8]) -> Self {
        // A file with more bytes than 32 bits count is refused before it gets here.
        let place = |at: usize| u32::try_from(at).ok();
        let ends = memchr::memchr_iter(b'\n', bytes).filter_map(|end| place(end + 1));
        let mark: &[u8] = "\u{FEFF}".as_bytes();
        let mark = if bytes.starts_with(mark) {
            mark.len()
        } else {
            0
        };
        let is_inner = |at: &usize| {
            *at < mark
                || bytes
                    .get(*at)
                    .is_some_and(|byte| (0x80..0xC0).contains(byte))
        };
        // Most stretches of most files are ASCII, which can be determined many bytes at a time.
        let chunks = bytes.chunks(CHUNK).zip((0..).step_by(CHUNK));
        let chunks = chunks.filter(|(chunk, _)| !chunk.is_ascii());
        let inner = chunks.flat_map(|(chunk, from)| (from..from + chunk.len()).filter(is_inner));
        Self {
            starts: std::iter::once(0).chain(ends).collect(),
            inner: inner.filter_map(place).collect(),
            length: place(bytes.len()).unwrap_or(u32::MAX),
        }
    }

    /// Whether they come from no file.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.starts.is_empty()
    }

    /// The byte at which the last line begins; `None` where they come from no file.
    #[must_use]
    pub fn last_start(&self) -> Option<u32> {
        self.starts.last().copied()
    }

    /// The line a byte lies on, counted from 1.
    #[must_use]
    pub fn line(&self, at: u32) -> usize {
        self.starts.partition_point(|start| *start <= at).max(1)
    }

    /// A stretch of the file in lines and columns.
    #[must_use]
    pub fn places(&self, range: ByteRange) -> LineRange {
        let (line, column) = self.place(range.start());
        let (end_line, end_column) = self.place(range.end());
        LineRange {
            line,
            column,
            end_line,
            end_column,
        }
    }

    fn place(&self, at: usize) -> (usize, usize) {
        let at = u32::try_from(at).unwrap_or(u32::MAX).min(self.length);
        let line = self.line(at);
        let start = self.starts.get(line - 1).copied().unwrap_or_default();
        let before = |end: u32| self.inner.partition_point(|inner| *inner < end);
        let characters = (at - start) as usize - (before(at) - before(start));
        (line, 1 + characters)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn columns_are_counted_in_characters() {
        let file = "\u{FEFF}Möven\nund „Lampen“\n";
        let lines = FileLines::of(file.as_bytes());
        let of = |words: &str| {
            let start = file.find(words).unwrap();
            let found = lines.places(ByteRange::of(start, start + words.len()));
            (found.line, found.column, found.end_line, found.end_column)
        };
        assert_eq!(of("Möven"), (1, 1, 1, 6));
        assert_eq!(of("ven"), (1, 3, 1, 6));
        assert_eq!(of("Lampen"), (2, 6, 2, 12));
        assert_eq!(of("ven\nund"), (1, 3, 2, 4));
        let behind = lines.places(ByteRange::of(file.len(), file.len() + 9));
        assert_eq!((behind.line, behind.column), (3, 1));
        assert_eq!(FileLines::default().places(ByteRange::of(3, 4)).line, 1);
    }

    proptest! {
        #[test]
        fn places_are_those_that_are_counted_out(file in "(\\PC|\n|\u{FEFF}|ö){0,30}", at in 0usize..40) {
            let at = (0..=at.min(file.len())).rev().find(|at| file.is_char_boundary(*at)).unwrap();
            let lines = FileLines::of(file.as_bytes());
            let found = lines.places(ByteRange::of(at, at));
            let before = &file[..at];
            let line = before.rsplit('\n').next().unwrap();
            let line = match before.contains('\n') {
                true => line,
                false => line.strip_prefix('\u{FEFF}').unwrap_or(line),
            };
            prop_assert_eq!(found.line, 1 + before.matches('\n').count());
            prop_assert_eq!(found.column, 1 + line.chars().count());
        }
    }
}
