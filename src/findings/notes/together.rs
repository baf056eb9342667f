//! The parts of the entries put together as one text, and the way back to their files.
//!
//! Only summaries, quotations and comments are put in; references and headings stay away. Every part keeps its
//! blocks and stands apart from the next by blank lines.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::findings::{DraftPlace, Observation};
use crate::review::{PartKind, Review};
use crate::text::{Block, ByteRange, MarkedText, Origin, Pages, QuotationForm, Text};

use super::implied;

/// A part of an entry in the text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct LaidPart {
    /// The entry's number in the review.
    pub(super) entry: usize,
    /// Which part.
    pub(super) part: PartKind,
    /// Where it lies in the text.
    pub(super) here: ByteRange,
    /// Its first byte in the Text of its file.
    from: usize,
}

/// The parts of some entries as one text.
#[derive(Debug)]
pub(super) struct Together {
    /// The text, marked, with the citations that an entry implies.
    pub(super) text: Arc<MarkedText>,
    /// The parts in order of the text.
    parts: Vec<LaidPart>,
    /// How many quotations each entry holds, by its number; marked strings of fewer words than the settings say are terms.
    pub(super) quotations: BTreeMap<usize, usize>,
}

impl Together {
    /// Puts together some entries of a review, by their numbers.
    pub(super) fn new(review: &Review, entries: &[usize]) -> Self {
        let (mut content, mut blocks, mut parts) = (String::new(), Vec::new(), Vec::new());
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
                parts.push(LaidPart {
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
        implied::add(&mut text, &parts, review);
        let mut together = Self {
            text: Arc::new(text),
            parts,
            quotations: BTreeMap::new(),
        };
        together.quotations = together.count_quotations(review.settings.quotation_words);
        together
    }

    /// The part in which most of a stretch lies; `None` where it lies in none.
    pub(super) fn at(&self, range: ByteRange) -> Option<&LaidPart> {
        let from = self
            .parts
            .partition_point(|part| part.here.end() <= range.start());
        let to = self
            .parts
            .partition_point(|part| part.here.start() < range.end());
        let near = self.parts.get(from..to).unwrap_or_default();
        let common = |part: &&LaidPart| part.here.intersection(range).len();
        // Of equals the first: `max_by_key` would take the last.
        let most = near.iter().rev().max_by_key(common);
        most.filter(|part| common(part) > 0)
    }

    fn count_quotations(&self, least_words: usize) -> BTreeMap<usize, usize> {
        let mut counts = BTreeMap::new();
        for one in self.text.quotations.iter().filter(|one| one.depth == 0) {
            let is_quotation = one.form == QuotationForm::Block
                || self.text.words_in(one.inner).len() >= least_words;
            if let (true, Some(part)) = (is_quotation, self.at(one.outer)) {
                *counts.entry(part.entry).or_default() += 1;
            }
        }
        counts
    }

    /// The place of a stretch of the text in its file, cut to the part it belongs to.
    pub(super) fn place(&self, review: &Review, part: &LaidPart, here: ByteRange) -> DraftPlace {
        let range = part.home(here);
        let entry = &review.entries[part.entry];
        place(review, entry.file, range)
    }

    /// What was seen, moved to its place in the file of notes.
    pub(super) fn home(&self, review: &Review, part: &LaidPart, seen: Observation) -> Observation {
        let mut home = Observation {
            draft: self.place(review, part, seen.draft.range),
            ..seen
        };
        let shared = &mut home.evidence.shared;
        shared.retain(|shared| part.here.covers(shared.draft));
        for shared in shared.iter_mut() {
            shared.draft = part.home(shared.draft);
        }
        home
    }
}

impl LaidPart {
    fn home(&self, range: ByteRange) -> ByteRange {
        let range = range.intersection(self.here);
        let shift = |position: usize| position - self.here.start() + self.from;
        ByteRange::of(shift(range.start()), shift(range.end()))
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

/// The blocks of a stretch, moved to where it stands in the text made of all parts.
fn blocks_of(text: &Text, range: ByteRange, start: usize) -> impl Iterator<Item = Block> + '_ {
    let blocks = text.blocks();
    let from = blocks.partition_point(|block| block.range.end() <= range.start());
    let near = blocks.get(from..).unwrap_or_default().iter();
    let near = near.take_while(move |block| block.range.start() < range.end());
    near.filter_map(move |block| {
        let inside = block.range.intersection(range);
        let moved = |position: usize| position - range.start() + start;
        (!inside.is_empty()).then(|| Block {
            kind: block.kind,
            range: ByteRange::of(moved(inside.start()), moved(inside.end())),
        })
    })
}
