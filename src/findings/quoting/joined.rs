//! Quotations put together from two places of a source.
//!
//! Words may be left out of a quotation where an ellipsis says so, as long as the rest still reads as the
//! source does (APA 7, 8.31; Chicago 17, 13.51; MLA 9, 6.63; from memory). Two stretches from distant places
//! between one pair of marks are two quotations: so where nothing says that words are left out, where the
//! order is changed, and where more lies between than an ellipsis can fairly stand for.

use crate::overlap::StreamRange;
use crate::overlap::lexicon::FormId;

use super::matching::{Forms, LONGEST_REPLACED, Stored, occurrences};
use super::segments::{Gap, Segment};

/// Where the pieces of a quotation stand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Joined {
    /// A stretch for each piece, in order of the quotation.
    pub places: Vec<StreamRange>,
    /// Whether an ellipsis or a bracket stands where the pieces meet.
    pub with_notice: bool,
}

/// Words of a piece: shorter strings stand in a long source by chance. Our own choice.
pub(crate) const LEAST_PIECE: usize = 4;

/// Content words of a piece, for the same reason.
pub(crate) const LEAST_CONTENT: usize = 2;

/// The two or more places that have all words of a quotation, where no one place has them.
pub(super) fn joined(segments: &[Segment], forms: &Forms, stored: Stored<'_>) -> Option<Joined> {
    if segments.len() > 1 {
        return by_segments(segments, forms, stored);
    }
    let words = forms.first()?;
    in_two(words, stored)
}

/// Whether a piece is distinctive enough to be looked for by itself.
fn tells(piece: &[Option<FormId>], stored: Stored<'_>) -> bool {
    let content = piece.iter().flatten();
    let content = content.filter(|form| stored.lexicon.is_content(**form));
    piece.len() >= LEAST_PIECE && content.count() >= LEAST_CONTENT
}

/// Each segment by itself: the next place behind the one before, else the first anywhere. Segments too
/// short to be distinctive have to follow within reach.
fn by_segments(segments: &[Segment], forms: &Forms, stored: Stored<'_>) -> Option<Joined> {
    let source = stored.forms();
    let mut places: Vec<StreamRange> = Vec::new();
    let mut last_gap = Gap::Bracket;
    for (segment, words) in segments.iter().zip(forms) {
        last_gap = last_gap.max(segment.gap);
        let behind = places.last().map_or(0, |place| place.end());
        let next = occurrences(words, source, behind, source.len()).next();
        let at = if tells(words, stored) {
            next.or_else(|| occurrences(words, source, 0, source.len()).next())?
        } else {
            next.filter(|at| places.is_empty() || at - behind <= segment.gap.longest())?
        };
        let place = StreamRange::of(at, at + words.len());
        match places.last_mut() {
            // What is within reach of the piece before is one piece with it.
            Some(last) if at >= behind && at - behind <= segment.gap.longest() => {
                *last = last.hull(place);
            }
            _ => places.push(place),
        }
    }
    (places.len() > 1).then_some(Joined {
        places,
        with_notice: last_gap == Gap::Ellipsis,
    })
}

/// One run of words as two pieces without notice: the longest beginning that the source has somewhere,
/// and the rest somewhere else.
fn in_two(words: &[Option<FormId>], stored: Stored<'_>) -> Option<Joined> {
    let source = stored.forms();
    if words.len() < 2 * LEAST_PIECE {
        return None;
    }
    let (start, first_len) = longest_beginning(words, source)?;
    // The longest beginning may have taken a word or two of the second piece with it.
    let latest = first_len.min(words.len() - LEAST_PIECE);
    let cut = (LEAST_PIECE..=latest).rev().find_map(|cut| {
        let rest = words.get(cut..)?;
        let at = occurrences(rest, source, 0, source.len()).next()?;
        Some((cut, at))
    });
    let (cut, at) = cut?;
    let (first, second) = words.split_at(cut);
    let places = [
        StreamRange::of(start, start + cut),
        StreamRange::of(at, at + second.len()),
    ];
    // A few words left out in passing are an omission, not another place.
    let omission = at.checked_sub(start + cut);
    let is_near = omission.is_some_and(|words| words <= LONGEST_REPLACED);
    (tells(first, stored) && tells(second, stored) && !is_near).then(|| Joined {
        places: places.to_vec(),
        with_notice: false,
    })
}

/// Where the longest beginning of the words stands in the source, and its length.
fn longest_beginning(words: &[Option<FormId>], source: &[FormId]) -> Option<(usize, usize)> {
    let first = (*words.first()?)?;
    let same = |at: usize| {
        let behind = source.get(at..).unwrap_or_default();
        let equal = behind.iter().zip(words);
        equal.take_while(|(a, b)| Some(**a) == **b).count()
    };
    let starts = source
        .iter()
        .enumerate()
        .filter(|(_, form)| **form == first);
    starts
        .map(|(at, _)| (same(at), std::cmp::Reverse(at)))
        .max()
        .map(|(length, at)| (at.0, length))
}
