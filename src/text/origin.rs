//! Where the bytes of a Text lay in the file it was read from. Most formats carry markup between
//! the words, so a Text is a list of pieces copied from the file, with separators of our own between.

use super::ByteRange;

/// A piece of a Text that was copied from the file byte for byte.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Piece {
    /// Where the piece stands in the Text.
    pub text: ByteRange,
    /// Where its first byte lay in the file.
    pub file_start: u32,
}

/// A piece of a Text that was read from a part of a package.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PartPiece {
    /// Where the piece stands in the Text.
    pub text: ByteRange,
    /// The number of the part in [`Origin::Package`].
    pub part: u16,
    /// Where it stood in the unpacked part. As long as `text` where the bytes are the same; where a
    /// reference or an element stood for a character (`&amp;`, a tab), the whole of that.
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
    /// The Text is the file, byte for byte, behind `skipped` leading bytes (a byte-order mark).
    Same {
        /// Bytes of the file before the Text's first.
        skipped: u32,
    },
    /// The Text is made of pieces of the file, in order of the Text.
    Pieces(Vec<Piece>),
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
    /// The file was in another encoding, so its bytes can't be named one by one.
    Recoded,
}

impl Origin {
    /// The stretch of the file from which a stretch of the Text was read: from the first to the last
    /// byte that has an origin. `None` where nothing of it came from the file.
    #[must_use]
    pub fn file_range(&self, range: ByteRange) -> Option<ByteRange> {
        match self {
            Self::Same { skipped } => {
                let skipped = *skipped as usize;
                Some(ByteRange::of(
                    range.start() + skipped,
                    range.end() + skipped,
                ))
            }
            // The bytes of a packed file can't be named one by one either.
            Self::Recoded | Self::Package { .. } => None,
            Self::Pieces(pieces) => {
                let from = pieces.partition_point(|piece| piece.text.end() <= range.start());
                let to = pieces.partition_point(|piece| piece.text.start() < range.end());
                let touched = pieces.get(from..to)?;
                let (first, last) = (touched.first()?, touched.last()?);
                let start = range.start().max(first.text.start()) - first.text.start();
                let end = range.end().min(last.text.end()) - last.text.start();
                Some(ByteRange::of(
                    first.file_start as usize + start,
                    last.file_start as usize + end,
                ))
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
        let origin = Origin::Pieces(vec![piece(0, 2, 0), piece(2, 6, 3), piece(6, 11, 8)]);
        let file = |from, to| origin.file_range(ByteRange::new(from, to));
        assert_eq!(file(2, 6), Some(ByteRange::new(3, 7)));
        assert_eq!(file(0, 11), Some(ByteRange::new(0, 13)));
        assert_eq!(file(4, 8), Some(ByteRange::new(5, 10)));
        assert_eq!(file(11, 12), None);
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
