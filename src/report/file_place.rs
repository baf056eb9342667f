//! Where a finding stands in the draft's file, for editors: line and column as they count them.
//!
//! The Text of a marked-up format is not its file, so the place is looked up through the Text's
//! [`Origin`](crate::text::Origin). Where the file's characters have no places of their own (word processors' packages,
//! PDF), the line counts in what `ownwords text FILE --plain` prints. What a draft includes (LaTeX's `\input`) has
//! its place in the included file.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use crate::findings::DraftReport;
use crate::text::{ByteRange, FilePart, Origin};

/// The bytes of the drafts' files and those they include by path, as far as they are characters that an editor shows.
pub type DraftFiles = BTreeMap<PathBuf, Vec<u8>>;

/// A stretch of a file: lines and columns from 1, columns in characters, the end behind the last one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct FilePlace<'a> {
    /// The draft's file, or one that it includes.
    pub file: &'a Path,
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
    /// What the lines of the draft are counted in.
    own: Lines<'a>,
    in_file: bool,
    /// The files that it includes.
    included: BTreeMap<&'a Path, Lines<'a>>,
}

impl<'a> Places<'a> {
    /// The places of a draft, in its file if that is among those given.
    pub(super) fn of(draft: &'a DraftReport, files: &'a DraftFiles) -> Self {
        let text = &draft.text.text;
        let file = match text.origin() {
            Origin::Same { .. } | Origin::Pieces { .. } => files.get(Path::new(&draft.path)),
            _ => None,
        };
        let included = text.origin().included().iter();
        let included = included.filter_map(|included| {
            let path = included.path.as_path();
            Some((path, Lines::of(files.get(path)?)))
        });
        Self {
            draft,
            // A file in another encoding has the same lines as its Text if that is all there is to it.
            own: Lines::of(file.map_or(text.content().as_bytes(), Vec::as_slice)),
            in_file: file.is_some(),
            included: included.collect(),
        }
    }

    /// The place of a stretch of the draft's Text.
    pub(super) fn place(&self, range: ByteRange) -> FilePlace<'a> {
        let origin = self.draft.text.text.origin();
        let found = self.in_file.then(|| origin.file_part(range)).flatten();
        let own = self.draft.path.as_path();
        let (file, lines, found) = match found {
            Some(FilePart { file: None, range }) => (own, &self.own, Some(range)),
            Some(FilePart {
                file: Some(file),
                range,
            }) => match self.included.get_key_value(file) {
                Some((file, lines)) => (*file, lines, Some(range)),
                None => (own, &self.own, None),
            },
            None => (own, &self.own, None),
        };
        // What the reader itself put in has no place; the start of the file is the best there is.
        let range = found.unwrap_or(if self.in_file {
            ByteRange::default()
        } else {
            range
        });
        let (line, column) = lines.at(range.start());
        let (end_line, end_column) = lines.at(range.end().max(range.start()));
        FilePlace {
            file,
            line,
            column,
            end_line,
            end_column,
            in_file: found.is_some(),
        }
    }
}

/// Bytes whose lines are counted.
struct Lines<'a> {
    content: &'a [u8],
    /// Where each line begins.
    starts: Vec<usize>,
}

impl<'a> Lines<'a> {
    fn of(content: &'a [u8]) -> Self {
        let ends = memchr::memchr_iter(b'\n', content).map(|end| end + 1);
        Self {
            content,
            starts: std::iter::once(0).chain(ends).collect(),
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
