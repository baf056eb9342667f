//! Characters, and the blanks among them.

use super::Walk;
use crate::text::ByteRange;

impl Walk<'_> {
    /// Characters between tags. In a row of blanks only the first counts, and none at the start of a
    /// paragraph (OpenDocument 1.3, part 3, section 6.1.2).
    pub(super) fn characters(&mut self, content: &str, place: ByteRange) {
        if self.out.paragraph().is_none() {
            return;
        }
        let verbatim = content.len() == place.len();
        let mut blank = match self.out.last_character() {
            None => true,
            Some(last) => last == ' ' && !self.explicit,
        };
        let mut start = 0;
        for (at, c) in content.char_indices() {
            if !is_blank(c) {
                blank = false;
                continue;
            }
            if c != ' ' || blank {
                self.stretch(content, start, at, place, verbatim);
                if !blank {
                    let own = ByteRange::of(place.start() + at, place.start() + at + 1);
                    self.put(" ", if verbatim { own } else { place });
                }
                start = at + 1;
            }
            blank = true;
        }
        self.stretch(content, start, content.len(), place, verbatim);
    }

    fn stretch(&mut self, content: &str, from: usize, to: usize, place: ByteRange, verbatim: bool) {
        let text = content.get(from..to).unwrap_or_default();
        let own = ByteRange::of(place.start() + from, place.start() + to);
        self.put(text, if verbatim { own } else { place });
    }

    pub(super) fn put(&mut self, characters: &str, place: ByteRange) {
        if characters.is_empty() {
            return;
        }
        let kept = self
            .out
            .paragraph()
            .map(|(_, kept)| *kept)
            .unwrap_or_default();
        if kept.hidden || self.looks.iter().any(|(_, hidden)| *hidden) {
            return;
        }
        let span = self.looks.iter().rev().find_map(|(bold, _)| *bold);
        self.explicit = false;
        self.out.put(characters, place, span.unwrap_or(kept.bold));
    }
}

/// Blank space as defined by XML.
fn is_blank(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\n' | '\r')
}
