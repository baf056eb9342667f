//! Looking a quotation up in a stored source: exactly, or as near as the source has it.
//!
//! 1. Every place where the first segment stands word for word is tried; the others must follow it,
//!    each behind the one before.
//! 2. Otherwise the stretch of the source with most of the quotation's words is aligned with it, and the
//!    differences are reported word by word ([`nearest`](super::nearest)).
//! 3. Where words are wanting even so, but all of them stand in the source at two places, the quotation
//!    was put together from these ([`joined`](super::joined)).

use crate::overlap::Document;
use crate::overlap::StreamRange;
use crate::overlap::lexicon::{FormId, Lexicon};
use crate::text::ByteRange;

use super::joined::{Joined, joined};
use super::nearest::nearest;
use super::segments::{Gap, Segment};

/// Where a quotation stands in a source.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Match {
    /// Word for word, at each of these stretches.
    Exact(Vec<StreamRange>),
    /// With other words, at this stretch; each difference as (quotation's words, source's words).
    Altered(StreamRange, Vec<(String, String)>),
    /// Word for word, but from two places that are not one.
    Joined(Joined),
}

impl Match {
    /// The stretches at which the source has the words: of an exact quotation each by itself.
    #[must_use]
    pub(crate) fn places(&self) -> &[StreamRange] {
        match self {
            Self::Exact(places) => places,
            Self::Altered(place, _) => std::slice::from_ref(place),
            Self::Joined(joined) => &joined.places,
        }
    }
}

/// Words of a source that an ellipsis may leave out.
pub(crate) const LONGEST_OMISSION: usize = 300;

/// Words of a source that a bracket of the writer's may stand for: a name for a pronoun, a short gloss.
/// What is more is left out and wants an ellipsis. Our own choice.
pub(crate) const LONGEST_REPLACED: usize = 12;

/// Share of a quotation's words that the source must have, in order, for it to be this quotation
/// with changes and not another sentence.
pub(crate) const LEAST_KEPT: f64 = 0.6;

impl Gap {
    /// Words of the source that the gap may stand for.
    pub(super) fn longest(self) -> usize {
        match self {
            Self::Bracket => LONGEST_REPLACED,
            Self::Ellipsis => LONGEST_OMISSION,
        }
    }
}

/// Places of a quotation that are listed.
const MOST_PLACES: usize = 16;

/// A source and the way to its words as written.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stored<'a> {
    /// The source.
    pub document: &'a Document,
    /// All forms.
    pub lexicon: &'a Lexicon,
}

impl<'a> Stored<'a> {
    /// The source's words.
    pub(super) fn forms(&self) -> &'a [FormId] {
        &self.document.stream.forms
    }

    /// The source's characters from the first to the last word of a stretch.
    pub(super) fn written(&self, words: StreamRange) -> &'a str {
        let Document { text, stream, .. } = self.document;
        text.text.slice(stream.bytes(text, words))
    }

    /// Whether nothing parts a word from the one before it but marks of punctuation, as with the number
    /// of a footnote.
    pub(super) fn is_attached(&self, position: usize) -> bool {
        let Document { text, stream, .. } = self.document;
        let Some(before) = position.checked_sub(1) else {
            return false;
        };
        let end = stream.word_bytes(text, before).end();
        let start = stream.word_bytes(text, position).start();
        let between = text.text.slice(ByteRange::of(end, start));
        !between.contains(char::is_whitespace)
    }

    /// The words of the sentence that holds a word.
    pub(super) fn sentence(&self, position: usize) -> StreamRange {
        let Document { text, stream, .. } = self.document;
        let byte = stream.word_bytes(text, position).start();
        let number = text
            .sentences
            .partition_point(|sentence| sentence.range.end() <= byte);
        text.sentences
            .get(number)
            .map_or_else(StreamRange::default, |sentence| {
                stream.within(text, sentence.range)
            })
    }
}

/// A quotation as numbers of the lexicon; `None` for a form that no text has.
pub(super) type Forms = Vec<Vec<Option<FormId>>>;

/// Looks up a quotation.
#[must_use]
pub(crate) fn look_up(segments: &[Segment], stored: Stored<'_>) -> Option<Match> {
    let forms: Forms = segments
        .iter()
        .map(|segment| {
            let ids = segment.forms.iter();
            ids.map(|form| stored.lexicon.find(form)).collect()
        })
        .collect();
    let exact = exact_places(segments, &forms, stored.forms());
    if !exact.is_empty() {
        return Some(Match::Exact(exact));
    }
    let near = nearest(segments, &forms, stored);
    match &near {
        Some((found, kept)) if matches!(found, Match::Exact(_)) || *kept == words_of(&forms) => {}
        // Words are wanting at the nearest place: perhaps they stand at another.
        _ => {
            if let Some(joined) = joined(segments, &forms, stored) {
                return Some(Match::Joined(joined));
            }
        }
    }
    near.map(|(found, _)| found)
}

fn words_of(forms: &Forms) -> usize {
    forms.iter().map(Vec::len).sum()
}

fn exact_places(segments: &[Segment], forms: &Forms, source: &[FormId]) -> Vec<StreamRange> {
    let mut places = Vec::new();
    let Some((first, others)) = forms.split_first() else {
        return places;
    };
    let gaps = segments.iter().skip(1).map(|segment| segment.gap.longest());
    for start in occurrences(first, source, 0, source.len()) {
        let mut end = start + first.len();
        let follow = others.iter().zip(gaps.clone()).all(|(segment, gap)| {
            let last = (end + gap + segment.len()).min(source.len());
            let next = occurrences(segment, source, end, last).next();
            if let Some(next) = next {
                end = next + segment.len();
            }
            next.is_some()
        });
        if follow {
            places.push(StreamRange::of(start, end));
            if places.len() == MOST_PLACES {
                break;
            }
        }
    }
    places
}

/// Where a segment stands in a stretch of the source.
pub(super) fn occurrences<'a>(
    segment: &'a [Option<FormId>],
    source: &'a [FormId],
    from: usize,
    to: usize,
) -> impl Iterator<Item = usize> + 'a {
    let stretch = source.get(from..to).unwrap_or_default();
    let windows = stretch.windows(segment.len().max(1)).enumerate();
    windows
        .filter(move |(_, window)| {
            window
                .iter()
                .zip(segment)
                .all(|(theirs, ours)| Some(*theirs) == *ours)
        })
        .map(move |(at, _)| from + at)
}
