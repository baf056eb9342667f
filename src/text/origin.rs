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
            Self::Recoded => None,
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
}
