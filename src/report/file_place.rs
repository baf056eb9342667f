//! Where a finding stands in the draft's file, for editors: line and column as they count them.
//!
//! The Text of a marked-up format is not its file, so the place is looked up through the Text's
//! [`Origin`](crate::text::Origin). Where the file's characters have no places of their own (word processors' packages,
//! PDF), the line counts in what `ownwords text FILE --plain` prints.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use crate::findings::DraftReport;
use crate::text::{ByteRange, Origin};

/// The bytes of the drafts' files by path, as far as they are characters that an editor shows.
pub type DraftFiles = BTreeMap<PathBuf, Vec<u8>>;

/// A stretch of a file: lines and columns from 1, columns in characters, the end behind the last one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct FilePlace {
    pub line: usize,
    pub column: usize,
    pub end_line: usize,
    pub end_column: usize,
    /// Whether these are places of the file itself and not of the text read from it.
    pub in_file: bool,
}

/// Finds places in one draft.
pub(super) struct Places<'a> {
    draft: &'a DraftReport,
    /// What the lines are counted in.
    content: &'a [u8],
    in_file: bool,
    /// Where each line begins.
    starts: Vec<usize>,
}

impl<'a> Places<'a> {
    /// The places of a draft, in its file if that is among those given.
    pub(super) fn of(draft: &'a DraftReport, files: &'a DraftFiles) -> Self {
        let text = &draft.text.text;
        let file = match text.origin() {
            Origin::Same { .. } | Origin::Pieces(_) => files.get(Path::new(&draft.path)),
            _ => None,
        };
        // A file in another encoding has the same lines as its Text if that is all there is to it.
        let content = file.map_or(text.content().as_bytes(), Vec::as_slice);
        let ends = memchr::memchr_iter(b'\n', content).map(|end| end + 1);
        Self {
            draft,
            content,
            in_file: file.is_some(),
            starts: std::iter::once(0).chain(ends).collect(),
        }
    }

    /// The place of a stretch of the draft's Text.
    pub(super) fn place(&self, range: ByteRange) -> FilePlace {
        let origin = self.draft.text.text.origin();
        let found = self.in_file.then(|| origin.file_range(range)).flatten();
        let in_file = found.is_some();
        // What the reader itself put in has no place; the start of the file is the best there is.
        let range = found.unwrap_or(if self.in_file {
            ByteRange::default()
        } else {
            range
        });
        let (line, column) = self.at(range.start());
        let (end_line, end_column) = self.at(range.end().max(range.start()));
        FilePlace {
            line,
            column,
            end_line,
            end_column,
            in_file,
        }
    }

    fn at(&self, position: usize) -> (usize, usize) {
        let line = self.starts.partition_point(|start| *start <= position);
        let start = self.starts.get(line.saturating_sub(1)).copied();
        let before = self
            .content
            .get(start.unwrap_or_default()..position.min(self.content.len()))
            .unwrap_or_default();
        let first_line = line <= 1;
        let before = match before.strip_prefix("\u{FEFF}".as_bytes()) {
            Some(rest) if first_line => rest,
            _ => before,
        };
        (
            line.max(1),
            1 + String::from_utf8_lossy(before).chars().count(),
        )
    }
}
