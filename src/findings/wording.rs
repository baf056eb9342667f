//! The wording of a stretch of a source: its characters without the page marks, and the way back from it.

use super::SourcePlace;
use crate::text::ByteRange;

impl SourcePlace {
    /// Its characters without the page marks, each with the blank space around it made one space.
    #[must_use]
    pub fn wording(&self) -> String {
        let pieces = self.pieces();
        let pieces: Vec<&str> = pieces.into_iter().map(|(_, piece)| piece).collect();
        pieces.join(" ")
    }

    /// The stretch of the source's Text that a stretch of the wording comes from. Page marks inside it are in it.
    #[must_use]
    pub fn of_wording(&self, range: ByteRange) -> ByteRange {
        let mut before = 0;
        let pieces = self.pieces();
        // Where each piece begins in the wording, with one space before each but the first.
        let starts: Vec<usize> = pieces
            .iter()
            .map(|(_, piece)| {
                let start = before;
                before += piece.len() + 1;
                start
            })
            .collect();
        let in_text = |at: usize, number: usize| {
            let start = starts.get(number).copied().unwrap_or_default();
            let (from, piece) = pieces.get(number).copied().unwrap_or((0, ""));
            self.range.start() + from + at.saturating_sub(start).min(piece.len())
        };
        // The first piece that does not end before the stretch, and the last that begins before its end.
        let first = starts.partition_point(|start| *start <= range.start());
        let last = starts.partition_point(|start| *start < range.end());
        ByteRange::of(
            in_text(range.start(), first.saturating_sub(1)),
            in_text(range.end(), last.saturating_sub(1)),
        )
    }

    /// What stands before, between and behind the page marks, without the blank space around these, and where in
    /// the stretch each begins.
    fn pieces(&self) -> Vec<(usize, &str)> {
        let mut from = 0;
        let mut cuts: Vec<(usize, usize)> = Vec::with_capacity(self.page_marks.len() + 1);
        for mark in &self.page_marks {
            let start = mark.start().saturating_sub(self.range.start());
            cuts.push((from, start));
            from = start + mark.len();
        }
        cuts.push((from, self.text.len()));
        let last = cuts.len() - 1;
        let mut pieces = Vec::with_capacity(cuts.len());
        for (number, (from, to)) in cuts.into_iter().enumerate() {
            let piece = self.text.get(from..to).unwrap_or_default();
            let kept = if number > 0 {
                piece.trim_start()
            } else {
                piece
            };
            let from = from + piece.len() - kept.len();
            let kept = if number < last { kept.trim_end() } else { kept };
            if !kept.is_empty() {
                pieces.push((from, kept));
            }
        }
        pieces
    }
}

#[cfg(test)]
mod tests {
    use std::path::PathBuf;

    use super::*;
    use crate::review::Key;

    fn place(text: &str, start: usize, marks: &[&str]) -> SourcePlace {
        let mark = |mark: &&str| {
            let at = start + text.find(mark).unwrap();
            ByteRange::of(at, at + mark.len())
        };
        SourcePlace {
            key: Key::new("quill2018"),
            name: "Quill (2018)".to_owned(),
            path: PathBuf::from("sources/quill2018.txt"),
            range: ByteRange::of(start, start + text.len()),
            pages: None,
            text: text.to_owned(),
            page_marks: marks.iter().map(mark).collect(),
        }
    }

    #[test]
    fn the_wording_leads_back_to_the_text() {
        let text = "[p. 4] Lamps hold\n[p. 5]\nmoths  [p. 6] till morning.";
        let place = place(text, 100, &["[p. 4]", "[p. 5]", "[p. 6]"]);
        let wording = place.wording();
        assert_eq!(wording, "Lamps hold moths till morning.");
        for (words, in_text) in [
            ("Lamps", "Lamps"),
            ("hold moths", "hold\n[p. 5]\nmoths"),
            ("moths", "moths"),
            ("till", "till"),
            ("morning.", "morning."),
            (wording.as_str(), &text["[p. 4] ".len()..]),
        ] {
            let start = wording.find(words).unwrap();
            let found = place.of_wording(ByteRange::of(start, start + words.len()));
            let found = &text[found.start() - 100..found.end() - 100];
            assert_eq!(found, in_text);
        }
    }

    #[test]
    fn without_page_marks_the_wording_is_the_text() {
        let place = place(" Lamps hold moths. ", 7, &[]);
        assert_eq!(place.wording(), place.text);
        let hold = place.of_wording(ByteRange::of(7, 11));
        assert_eq!((hold.start(), hold.end()), (14, 18));
    }
}
