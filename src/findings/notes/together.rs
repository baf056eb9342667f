//! The parts of the entries together on the laid as one text, and the way back to their files.
//!
//! Only summaries, quotations and comments are together; references and headings stay away. Every part keeps its
//! blocks and stands apart from the next by blank lines.

use std::sync::Arc;

use crate::findings::{DraftPlace, Observation};
use crate::review::{PartKind, Review};
use crate::text::{Block, ByteRange, MarkedText, Origin, Pages, QuotationForm, Text};

use super::implied;

/// A part of an entry on the laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct LaidPart {
    /// The entry's number in the review.
    pub(super) entry: usize,
    /// Which part.
    pub(super) part: PartKind,
    /// Where it lies in the together text.
    pub(super) here: ByteRange,
    /// Its first byte in the Text of its file.
    from: usize,
}

/// The together text.
#[derive(Debug)]
pub(super) struct Together {
    /// The text, marked, with the citations that an entry implies.
    pub(super) text: Arc<MarkedText>,
    stretches: Vec<LaidPart>,
}

impl Together {
    /// Lays some entries of a review, by their numbers.
    pub(super) fn new(review: &Review, entries: &[usize]) -> Self {
        let (mut content, mut blocks, mut stretches) = (String::new(), Vec::new(), Vec::new());
        for number in entries {
            let Some(entry) = review.entries.get(*number) else {
                continue;
            };
            let text = &review.note_files[entry.file].text.text;
            for part in &entry.parts {
                if part.kind == PartKind::Reference || part.range.is_empty() {
                    continue;
                }
                let start = content.len();
                content.push_str(text.slice(part.range));
                blocks.extend(blocks_of(text, part.range, start));
                stretches.push(LaidPart {
                    entry: *number,
                    part: part.kind,
                    here: ByteRange::of(start, content.len()),
                    from: part.range.start(),
                });
                content.push_str("\n\n");
            }
        }
        let text = Text::new(content, blocks, Pages::default(), Origin::Recoded);
        let mut text = MarkedText::new(text);
        implied::add(&mut text, &stretches, review);
        Self {
            text: Arc::new(text),
            stretches,
        }
    }

    /// The part in which most of a stretch lies; `None` where it lies in none.
    pub(super) fn at(&self, range: ByteRange) -> Option<&LaidPart> {
        let common = |stretch: &&LaidPart| stretch.here.intersection(range).len();
        // Of equals the first: `max_by_key` would take the last.
        let stretches = self.stretches.iter().rev();
        stretches
            .max_by_key(common)
            .filter(|stretch| common(stretch) > 0)
    }

    /// How many quotations an entry holds; marked strings of fewer words are terms.
    pub(super) fn quotations(&self, entry: usize, least_words: usize) -> usize {
        let of_entry = |range| self.at(range).is_some_and(|stretch| stretch.entry == entry);
        let quotations = self.text.quotations.iter();
        quotations
            .filter(|one| one.depth == 0 && of_entry(one.outer))
            .filter(|one| {
                one.form == QuotationForm::Block
                    || self.text.words_in(one.inner).len() >= least_words
            })
            .count()
    }

    /// The place of a together stretch in its file, cut to the part it belongs to.
    pub(super) fn place(
        &self,
        review: &Review,
        stretch: &LaidPart,
        together: ByteRange,
    ) -> DraftPlace {
        let range = stretch.home(together);
        let entry = &review.entries[stretch.entry];
        place(review, entry.file, range)
    }

    /// A finding moved to its place in the file of notes.
    pub(super) fn home(
        &self,
        review: &Review,
        stretch: &LaidPart,
        finding: Observation,
    ) -> Observation {
        let mut home = Observation {
            draft: self.place(review, stretch, finding.draft.range),
            ..finding
        };
        let shared = &mut home.evidence.shared;
        shared.retain(|shared| stretch.here.covers(shared.draft));
        for shared in shared.iter_mut() {
            shared.draft = stretch.home(shared.draft);
        }
        home
    }
}

impl LaidPart {
    fn home(&self, together: ByteRange) -> ByteRange {
        let together = together.intersection(self.here);
        let shift = |position: usize| position - self.here.start() + self.from;
        ByteRange::of(shift(together.start()), shift(together.end()))
    }
}

/// A place in a file of notes.
pub(super) fn place(review: &Review, file: usize, range: ByteRange) -> DraftPlace {
    let text = &review.note_files[file].text.text;
    DraftPlace {
        range,
        line: text.line(range.start()),
        page: text.pages().at(range.start()).cloned(),
        text: text.slice(range).to_owned(),
    }
}

/// The blocks of a stretch, moved to where it is together.
fn blocks_of(text: &Text, range: ByteRange, start: usize) -> impl Iterator<Item = Block> + '_ {
    text.blocks().iter().filter_map(move |block| {
        let inside = block.range.intersection(range);
        let moved = |position: usize| position - range.start() + start;
        (!inside.is_empty()).then(|| Block {
            kind: block.kind,
            range: ByteRange::of(moved(inside.start()), moved(inside.end())),
        })
    })
}
