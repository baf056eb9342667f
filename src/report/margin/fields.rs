//! The fields of a Word document: an instruction and the result that is shown, between signs in runs of their own
//! (ISO/IEC 29500-1, section 17.16.2) or as one element.
//!
//! Marks stand around a field, not in it, but for a few kinds. That is LibreOffice's doing: version 7.4 was given each
//! way in which a comment can begin or end in fields of fourteen kinds. In links and in lists that it makes sections
//! of, marks stand where they were put. In all others they are moved to an edge of the field, and where the sign of
//! the comment stands in a result that is read as one text (`REF`, `CITATION`, `IF`), the comment's words are shown
//! among those of the document.

use super::ranges;
use crate::reading::package::xml::{Element, Name};
use crate::text::ByteRange;

/// Fields whose results may hold marks.
const OPEN: [&str; 4] = ["HYPERLINK", "TOC", "INDEX", "BIBLIOGRAPHY"];

/// The fields of a part that marks stay out of.
#[derive(Debug, Default)]
pub(super) struct Fields {
    /// From the element with the sign that begins the field to that with the sign that ends it. In order and without
    /// overlap once sorted.
    closed: Vec<ByteRange>,
    /// Those that began and did not end yet.
    begun: Vec<Begun>,
    /// Of the elements that are fields and still open, whether marks may stand in them.
    simple: Vec<bool>,
    /// Whether the characters that come next are instructions.
    instructs: bool,
}

#[derive(Debug)]
struct Begun {
    sign: ByteRange,
    instruction: String,
    /// Whether its result has begun.
    shows: bool,
}

impl Fields {
    /// An element begins.
    pub(super) fn open(&mut self, name: Name<'_>, element: &Element<'_>, tag: ByteRange) {
        match name.word() {
            "instrText" => self.instructs = true,
            "fldSimple" => {
                let instruction = element.get("instr").unwrap_or_default();
                self.simple.push(may_hold_marks(&instruction));
            }
            "fldChar" => match element.get("fldCharType").as_deref() {
                Some("begin") => self.begun.push(Begun {
                    sign: tag,
                    instruction: String::new(),
                    shows: false,
                }),
                Some("separate") => {
                    if let Some(begun) = self.begun.last_mut() {
                        begun.shows = true;
                    }
                }
                Some("end") => {
                    if let Some(begun) = self.begun.pop()
                        && !may_hold_marks(&begun.instruction)
                    {
                        self.closed.push(begun.sign.hull(tag));
                    }
                }
                _ => {}
            },
            _ => {}
        }
    }

    /// Characters of the part.
    pub(super) fn characters(&mut self, content: &str) {
        if self.instructs
            && let Some(begun) = self.begun.last_mut()
            && !begun.shows
        {
            begun.instruction.push_str(content);
        }
    }

    /// An element ends that stands at these bytes.
    pub(super) fn close(&mut self, name: Name<'_>, whole: ByteRange) {
        match name.word() {
            "instrText" => self.instructs = false,
            "fldSimple" if self.simple.pop() == Some(false) => self.closed.push(whole),
            _ => {}
        }
    }

    /// Makes the fields ready to be asked: of fields in fields the outermost count.
    pub(super) fn sort(&mut self) {
        self.closed.sort_unstable();
        let all = std::mem::take(&mut self.closed);
        for field in all {
            match self.closed.last_mut() {
                Some(last) if field.start() < last.end() => *last = last.hull(field),
                _ => self.closed.push(field),
            }
        }
    }

    /// A stretch widened over the fields that it begins or ends in.
    pub(super) fn widened(&self, range: ByteRange) -> ByteRange {
        let first = ranges::holding(&self.closed, range.start());
        if range.is_empty() {
            // A point stands before the field.
            return first.map_or(range, |field| ByteRange::of(field.start(), field.start()));
        }
        let last = ranges::holding(&self.closed, range.end() - 1);
        first.into_iter().chain(last).fold(range, ByteRange::hull)
    }

    /// Whether a field begins at a place.
    pub(super) fn begins(&self, place: usize) -> bool {
        ranges::holding(&self.closed, place).is_some_and(|field| field.start() == place)
    }

    /// Whether a field ends at a place.
    pub(super) fn ends(&self, place: usize) -> bool {
        let last = place.checked_sub(1);
        let field = last.and_then(|last| ranges::holding(&self.closed, last));
        field.is_some_and(|field| field.end() == place)
    }

    /// The field that a place is inside of.
    pub(super) fn around(&self, place: usize) -> Option<ByteRange> {
        ranges::around(&self.closed, place)
    }
}

/// Whether a field of this instruction may hold marks in its result.
fn may_hold_marks(instruction: &str) -> bool {
    let ends = |c: char| c.is_whitespace() || matches!(c, '\\' | '"');
    let kind = instruction.trim_start().split(ends).next();
    kind.is_some_and(|kind| OPEN.iter().any(|open| open.eq_ignore_ascii_case(kind)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kinds_are_the_first_word_of_an_instruction() {
        for open in [" HYPERLINK \"x\" ", "toc \\o", "INDEX", "BIBLIOGRAPHY\\l"] {
            assert!(may_hold_marks(open), "{open}");
        }
        for closed in [" REF HYPERLINK ", "", " TOCX ", "ADDIN ZOTERO_ITEM"] {
            assert!(!may_hold_marks(closed), "{closed}");
        }
    }
}
