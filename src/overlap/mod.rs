//! The computation: which stretches of two texts share wording, and how close they are.
//!
//! 1. A [`Library`] holds the documents to compare with. Every distinct normal form is a number in its
//!    [`lexicon`], and each document is a [`stream`] of these numbers, without what is nobody's wording. A
//!    library is frozen: once made, it never changes.
//! 2. A [`Draft`] is laid on a library. It has a lexicon of its own above the library's: forms that the
//!    library has keep their numbers, and forms that only the draft has get the numbers after them. So any
//!    number of drafts can be laid on one library at the same time.
//! 3. [`Library::shared_strings`] finds every shared string of a few words ([`strings`]).
//!    [`Library::candidates`] finds, for each sentence of the draft, the sentences that share most of its
//!    telling words ([`candidates`]).
//! 4. [`Comparison::passages`] makes [`passages`] of these. Strings in a row are chains ([`chains`]). Candidates
//!    become [`links`], each with its [`likeness`], and links next to one another are groups ([`groups`]). Both
//!    are proposals, and of those that claim the same words the best is chosen ([`proposals`]).
//! 5. Each [`Passage`] is aligned with its source word by word ([`alignment`]), and the alignment is kept
//!    with it ([`aligned`]). Its measures, which place it on the [`scale`], and the evidence for its origin
//!    ([`support`]) follow from that alignment, and so does what the reports mark.
//!
//! Two questions need less. [`place`] compares a rewrite with a passage that is known to be its source: it
//! aligns and measures the two whole, without steps 3 and 4. [`origins`] looks for the source of a rewrite
//! that stands by itself, as one unit and from its candidates alone.
//!
//! There is no input or output here, and no knowledge of files or of a review: documents are numbers.

pub(crate) mod aligned;
pub(crate) mod alignment;
pub(crate) mod candidates;
pub(crate) mod chains;
pub(crate) mod gathered;
pub(crate) mod groups;
pub(crate) mod in_order;
pub(crate) mod lexicon;
pub(crate) mod library;
pub(crate) mod likeness;
pub(crate) mod links;
pub(crate) mod local;
pub(crate) mod measuring;
pub(crate) mod origins;
mod parts;
pub(crate) mod passages;
pub(crate) mod positions;
pub(crate) mod profile;
pub(crate) mod proposals;
pub(crate) mod scale;
pub(crate) mod sequence;
mod shared;
pub(crate) mod stream;
pub(crate) mod strings;
pub(crate) mod support;
pub(crate) mod unique;
mod ways;
mod windows;

pub(crate) use in_order::heaviest_in_order;
pub(crate) use library::{Document, Draft, Library};
pub(crate) use passages::{Comparison, Passage};
pub(crate) use positions::StreamRange;
pub(crate) use scale::Closest;
pub use scale::{Counterpart, Degree, Measures};
pub(crate) use shared::SharedStrings;

use std::sync::Arc;

use crate::text::{ByteRange, MarkedText};
use alignment::Placed;
use stream::Stream;
use support::Support;

/// A stretch of shared wording, for showing draft and source beside each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SharedPlace {
    /// In the draft's Text.
    pub draft: ByteRange,
    /// In the source's Text.
    pub source: ByteRange,
    /// How the two correspond.
    pub by: Counterpart,
}

/// A rewrite compared with a source passage.
#[derive(Debug, Clone, PartialEq)]
pub struct Placement {
    /// The measures, from which position and degree follow.
    pub measures: Measures,
    /// Shared strings and single counterparts, in order of the rewrite, without overlap.
    pub shared: Vec<SharedPlace>,
    /// Whether the two share telling wording. Where they don't, a text that somebody else wrote on the same topic would
    /// stand at the same place.
    pub shares_telling: bool,
}

impl Placement {
    /// The degree of the rewrite. Without telling wording in common the two share no more than a topic, so that nothing
    /// nearer than restructured can be said.
    #[must_use]
    pub fn degree(&self) -> Degree {
        match self.shares_telling || self.measures.words == 0 {
            true => self.measures.degree(),
            false => Degree::Restructured,
        }
    }
}

/// Compares a rewrite with the passage it was made from. Marked quotations of `quotation_words` words and
/// more are left out of the rewrite.
#[must_use]
pub(crate) fn place(
    source: &Arc<MarkedText>,
    rewrite: &Arc<MarkedText>,
    quotation_words: usize,
) -> Placement {
    let library = Library::of_whole(&[Arc::clone(source)]);
    let draft = Draft::new(rewrite, &library, quotation_words);
    let own: Vec<usize> = (0..draft.stream.len())
        .filter(|at| draft.is_own(*at))
        .collect();
    let forms: Vec<_> = own.iter().map(|at| draft.stream.forms[*at]).collect();
    let Some(document) = library.documents.first() else {
        unreachable!("a library of one text has one document")
    };
    let local = alignment::align(&forms, &document.stream.forms, &draft.lexicon);
    let theirs = &document.stream.forms;
    let support = Support::of(&forms, |_| false, theirs, &local, &draft.lexicon);
    Placement {
        measures: Measures::count(&forms, &document.stream.forms, &local, &draft.lexicon),
        shared: shared_places(&local.placed(&own, 0), &draft, document),
        shares_telling: support.shares_telling(),
    }
}

/// The shared wording of an alignment in byte ranges, in order of the draft.
#[must_use]
pub(crate) fn shared_places(
    alignment: &Placed,
    draft: &Draft,
    document: &Document,
) -> Vec<SharedPlace> {
    let bytes = |stream: &Stream, text: &MarkedText, words: StreamRange| stream.bytes(text, words);
    let strings = alignment
        .tiles
        .iter()
        .map(|tile| (tile.draft, tile.source, Counterpart::String));
    let singles = alignment.singles.iter().map(|single| {
        let one = |at: usize| StreamRange::of(at, at + 1);
        (one(single.draft), one(single.source), single.by)
    });
    let mut shared: Vec<SharedPlace> = strings
        .chain(singles)
        .map(|(ours, theirs, by)| SharedPlace {
            draft: bytes(&draft.stream, &draft.text, ours),
            source: bytes(&document.stream, &document.text, theirs),
            by,
        })
        .collect();
    shared.sort_by_key(|place| (place.draft, place.source));
    shared
}
