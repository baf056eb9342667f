//! Where the bytes of a Text are in the file it was read from. Most formats have markup between the words, so
//! a Text is a list of pieces copied from the file, with added separators between.

use std::path::{Path, PathBuf};

use super::{ByteRange, FileLines};

/// A piece of a Text that was copied from the file byte for byte.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Piece {
    /// Where the piece stands in the Text.
    pub text: ByteRange,
    /// Where its first byte lay in the file. Positions in files that the document includes are counted on from
    /// the end of what came before ([`Included`]).
    pub file_start: u32,
}

/// A file that the document includes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Included {
    /// The file's path, relative to where the document's own path starts.
    pub path: PathBuf,
    /// The position of its first byte among all that were read.
    pub start: u32,
    /// Its lines.
    pub lines: FileLines,
}

/// A stretch of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FilePart<'a> {
    /// The file, where it is not the document itself.
    pub file: Option<&'a Path>,
    /// The bytes of that file.
    pub range: ByteRange,
}

/// A piece of a Text that was read from a part of a package.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PartPiece {
    /// Where the piece stands in the Text.
    pub text: ByteRange,
    /// The number of the part in [`Origin::Package`].
    pub part: u16,
    /// Its range in the unpacked part. As long as `text` where the bytes are the same; where a reference or
    /// an element represented a character (`&amp;`, a tab), the range of that.
    pub source: ByteRange,
}

impl PartPiece {
    fn is_verbatim(&self) -> bool {
        self.text.len() == self.source.len()
    }
}

/// A stretch of one part of a package.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PartRange<'a> {
    /// The name of the part, such as `word/document.xml`.
    pub part: &'a str,
    /// The bytes of the unpacked part.
    pub range: ByteRange,
}

/// The map from a Text back to its file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Origin {
    /// The Text is the file, byte for byte, after `skipped` leading bytes (a byte-order mark).
    Same {
        /// Bytes of the file before the Text's first.
        skipped: u32,
    },
    /// The Text is made of pieces of the file and those it includes, in order of the Text.
    Pieces {
        /// The pieces.
        pieces: Vec<Piece>,
        /// The included files in order of their starts, one more than once where it is included so.
        included: Vec<Included>,
    },
    /// The file is a zip package; the Text is made of pieces of its parts, in order of the Text.
    Package {
        /// The names of the parts.
        parts: Vec<String>,
        /// The pieces.
        pieces: Vec<PartPiece>,
        /// Where the calls of notes stood, in the order of [`Text::note_calls`](super::Text::note_calls):
        /// the number of the part, and the tag of the call.
        calls: Vec<(u16, ByteRange)>,
    },
    /// The file is in another encoding or ends its lines otherwise, so its bytes can't be located one by one; its lines
    /// and columns can. Positions are those of its characters in UTF-8, with line feeds.
    Decoded {
        /// The pieces.
        pieces: Vec<Piece>,
        /// The included files, as in [`Origin::Pieces`].
        included: Vec<Included>,
    },
    /// The Text has no places in a file.
    Recoded,
}

impl Origin {
    /// The stretch of the file from which a stretch of the Text was read: from the first to the last
    /// byte that has an origin. `None` where nothing of it came from the file.
    #[must_use]
    pub fn file_range(&self, range: ByteRange) -> Option<ByteRange> {
        let has_bytes = !matches!(self, Self::Decoded { .. });
        self.file_part(range)
            .filter(|part| has_bytes && part.file.is_none())
            .map(|part| part.range)
    }

    /// The position in the file of a position of the Text, or else of the first piece after it; `None` where
    /// the Text is not made of pieces. Included files are counted on from the document's own end.
    #[must_use]
    pub fn piece_at(&self, position: usize) -> Option<u32> {
        let (Self::Pieces { pieces, .. } | Self::Decoded { pieces, .. }) = self else {
            return None;
        };
        let number = pieces.partition_point(|piece| piece.text.end() <= position);
        let piece = pieces.get(number).or(pieces.last())?;
        let inside = position
            .saturating_sub(piece.text.start())
            .min(piece.text.len());
        u32::try_from(piece.file_start as usize + inside).ok()
    }

    /// The files that the document includes.
    #[must_use]
    pub fn included(&self) -> &[Included] {
        match self {
            Self::Pieces { included, .. } | Self::Decoded { included, .. } => included,
            _ => &[],
        }
    }

    /// The same stretch, either of the document or of a file that it includes. Of a stretch that extends from
    /// one file into another, the part in the first. Of [`Origin::Decoded`], positions in the characters.
    #[must_use]
    pub fn file_part(&self, range: ByteRange) -> Option<FilePart<'_>> {
        match self {
            Self::Same { skipped } => {
                let skipped = *skipped as usize;
                let range = ByteRange::of(range.start() + skipped, range.end() + skipped);
                Some(FilePart { file: None, range })
            }
            // The bytes of a packed file can't be located one by one either.
            Self::Recoded | Self::Package { .. } => None,
            Self::Pieces { pieces, included } | Self::Decoded { pieces, included } => {
                let from = pieces.partition_point(|piece| piece.text.end() <= range.start());
                let to = pieces.partition_point(|piece| piece.text.start() < range.end());
                let touched = pieces.get(from..to)?;
                let first = touched.first()?;
                let file = |piece: &Piece| {
                    let behind = included.partition_point(|file| file.start <= piece.file_start);
                    behind.checked_sub(1).and_then(|at| included.get(at))
                };
                let own = file(first);
                let last = touched.iter().rfind(|piece| file(piece) == own)?;
                let start = range.start().max(first.text.start()) - first.text.start();
                let end = range.end().min(last.text.end()) - last.text.start();
                let shift = own.map_or(0, |file| file.start as usize);
                let start = first.file_start as usize + start - shift;
                let end = last.file_start as usize + end - shift;
                Some(FilePart {
                    file: own.map(|file| file.path.as_path()),
                    range: ByteRange::of(start, end.max(start)),
                })
            }
        }
    }

    /// The stretches of a package's parts from which a stretch of the Text was read, piece by piece in
    /// order of the Text. Empty for other files, and where nothing of it came from the file.
    pub fn part_ranges(&self, range: ByteRange) -> impl Iterator<Item = PartRange<'_>> {
        let (parts, pieces) = match self {
            Self::Package { parts, pieces, .. } => (parts.as_slice(), pieces.as_slice()),
            _ => (&[][..], &[][..]),
        };
        let from = pieces.partition_point(|piece| piece.text.end() <= range.start());
        pieces
            .iter()
            .skip(from)
            .take_while(move |piece| piece.text.start() < range.end())
            .filter_map(move |piece| {
                let part = parts.get(piece.part as usize)?;
                let source = if piece.is_verbatim() {
                    let start = range.start().max(piece.text.start()) - piece.text.start();
                    let end = range.end().min(piece.text.end()) - piece.text.start();
                    let first = piece.source.start();
                    ByteRange::of(first + start, first + end)
                } else {
                    piece.source
                };
                Some(PartRange {
                    part,
                    range: source,
                })
            })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_lead_back_to_the_file() {
        let piece = |from, to, file_start| Piece {
            text: ByteRange::new(from, to),
            file_start,
        };
        // file: "a *bold* move" -> Text: "a bold move"
        let origin = Origin::Pieces {
            pieces: vec![piece(0, 2, 0), piece(2, 6, 3), piece(6, 11, 8)],
            included: Vec::new(),
        };
        let file = |from, to| origin.file_range(ByteRange::new(from, to));
        assert_eq!(file(2, 6), Some(ByteRange::new(3, 7)));
        assert_eq!(file(0, 11), Some(ByteRange::new(0, 13)));
        assert_eq!(file(4, 8), Some(ByteRange::new(5, 10)));
        assert_eq!(file(11, 12), None);
    }

    #[test]
    fn pieces_lead_back_to_included_files() {
        let piece = |from, to, file_start| Piece {
            text: ByteRange::new(from, to),
            file_start,
        };
        let included = |path: &str, start| Included {
            path: PathBuf::from(path),
            start,
            lines: FileLines::default(),
        };
        let origin = Origin::Pieces {
            pieces: vec![
                piece(0, 4, 0),
                piece(4, 8, 103),
                piece(8, 10, 201),
                piece(10, 14, 20),
            ],
            included: vec![included("a.tex", 100), included("b.tex", 200)],
        };
        let found = |from, to| {
            let part = origin.file_part(ByteRange::new(from, to)).unwrap();
            let file = part.file.map(|file| file.display().to_string());
            (file, part.range.start(), part.range.end())
        };
        let in_file = |name: &str| Some(name.to_owned());
        assert_eq!(found(1, 3), (None, 1, 3));
        assert_eq!(found(5, 7), (in_file("a.tex"), 4, 6));
        assert_eq!(found(6, 9), (in_file("a.tex"), 5, 7));
        assert_eq!(found(8, 9), (in_file("b.tex"), 1, 2));
        assert_eq!(found(2, 12), (None, 2, 22));
        assert_eq!(origin.file_range(ByteRange::new(5, 7)), None);
        assert_eq!(
            origin.file_range(ByteRange::new(1, 3)),
            Some(ByteRange::new(1, 3))
        );
    }

    #[test]
    fn pieces_lead_back_to_the_parts_of_a_package() {
        let piece = |from, to, part, start, end| PartPiece {
            text: ByteRange::new(from, to),
            part,
            source: ByteRange::new(start, end),
        };
        // body: "moths &amp; lamps", note: "at night"
        let origin = Origin::Package {
            parts: vec!["body.xml".to_owned(), "notes.xml".to_owned()],
            pieces: vec![
                piece(0, 6, 0, 100, 106),
                piece(6, 7, 0, 106, 111),
                piece(7, 13, 0, 111, 117),
                piece(15, 23, 1, 50, 58),
            ],
            calls: Vec::new(),
        };
        let found = |from, to| -> Vec<_> {
            origin
                .part_ranges(ByteRange::new(from, to))
                .map(|found| (found.part, found.range.start(), found.range.end()))
                .collect()
        };
        assert_eq!(found(2, 5), [("body.xml", 102, 105)]);
        assert_eq!(
            found(4, 9),
            [
                ("body.xml", 104, 106),
                ("body.xml", 106, 111),
                ("body.xml", 111, 113)
            ]
        );
        assert_eq!(
            found(12, 17),
            [("body.xml", 116, 117), ("notes.xml", 50, 52)]
        );
        assert_eq!(found(13, 15), []);
        assert_eq!(origin.file_range(ByteRange::new(0, 5)), None);
    }
}
