//! Where a finding stands in the draft's file, for editors: line and column as they count them.
//!
//! The Text of a marked-up format is not its file, so the place is looked up through the Text's
//! [`Origin`]. Where the file's characters have no places of their own (word processors' packages,
//! PDF), the line counts in what `ownwords text FILE --plain` prints. What a draft includes (LaTeX's `\input`) has
//! its place in the included file.

use std::path::Path;

use crate::findings::DraftReport;
use crate::text::{ByteRange, FileLines, FilePart, LineRange, Origin};

/// A stretch of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct FilePlace<'a> {
    /// The draft's file, or one that it includes.
    pub file: &'a Path,
    /// Where in it.
    pub lines: LineRange,
    /// Whether these are places of the file itself and not of the text read from it.
    pub in_file: bool,
}

/// Finds places in one draft.
pub(super) struct Places<'a> {
    draft: &'a DraftReport,
    /// The lines of the text that was read, where its file has no lines of its own.
    own: Option<FileLines>,
}

impl<'a> Places<'a> {
    /// The places of a draft.
    pub(super) fn of(draft: &'a DraftReport) -> Self {
        let text = &draft.text.text;
        let leads_back = matches!(
            text.origin(),
            Origin::Same { .. } | Origin::Pieces { .. } | Origin::Decoded { .. }
        );
        let in_file = leads_back && !text.file_lines().is_empty();
        Self {
            draft,
            own: (!in_file).then(|| FileLines::of(text.content().as_bytes())),
        }
    }

    /// The place of a stretch of the draft's Text.
    pub(super) fn place(&self, range: ByteRange) -> FilePlace<'a> {
        let text = &self.draft.text.text;
        let path = self.draft.path.as_path();
        if let Some(own) = &self.own {
            return FilePlace {
                file: path,
                lines: own.places(range),
                in_file: false,
            };
        }
        let part = text.origin().file_part(range);
        let included = part.and_then(|part| {
            let mut files = text.origin().included().iter();
            files.find(|file| Some(file.path.as_path()) == part.file)
        });
        let (file, lines) = match included {
            Some(included) => (included.path.as_path(), &included.lines),
            None => (path, text.file_lines()),
        };
        // What the reader itself put in has no place; the start of the file is the best there is.
        let range = part.map_or(ByteRange::default(), |FilePart { range, .. }| range);
        FilePlace {
            file,
            lines: lines.places(range),
            in_file: part.is_some(),
        }
    }
}
