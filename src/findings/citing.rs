//! The citations of a draft and what they point at.

use std::cell::OnceCell;
use std::sync::Arc;

use rustc_hash::FxHashMap;

use crate::review::{Key, References, Resolved};
use crate::text::{ByteRange, Citation, CiteTarget, MarkedText, Text};

use super::lists::Listed;
use super::named_by_title::TitlesByEnd;

/// A citation of the draft and what it points at.
#[derive(Debug, Clone)]
pub(crate) struct ResolvedCitation {
    /// The citation.
    pub citation: Citation,
    /// For each of its cites, the references it may mean.
    pub resolved: Vec<Resolved>,
    /// Of a citation in a footnote the places in the running text that call the note, each behind the
    /// last character before it that is not blank. It counts as standing there too.
    pub calls: Vec<usize>,
}

impl ResolvedCitation {
    /// Whether any of its cites points at a reference of the review.
    #[must_use]
    pub(crate) fn is_resolved(&self) -> bool {
        self.resolved
            .iter()
            .any(|resolved| !resolved.keys().is_empty())
    }

    /// Whether it stands in a stretch of the draft, or is called from there.
    #[must_use]
    pub(crate) fn touches(&self, range: ByteRange) -> bool {
        let called = |at: &usize| range.start() < *at && *at <= range.end();
        self.citation.range.overlaps(range) || self.calls.iter().any(called)
    }

    /// Where it stands as seen from a stretch of the draft: its own place, or the nearest call of its
    /// footnote.
    #[must_use]
    pub(crate) fn place_near(&self, range: ByteRange) -> ByteRange {
        let own = self.citation.range;
        let calls = self.calls.iter().map(|at| ByteRange::of(*at, *at));
        let distance = |place: &ByteRange| {
            let (behind, before) = (
                place.start().saturating_sub(range.end()),
                range.start().saturating_sub(place.end()),
            );
            behind.max(before)
        };
        calls.chain([own]).min_by_key(distance).unwrap_or(own)
    }

    /// Whether any of its cites points at this reference.
    #[must_use]
    pub(crate) fn points_at(&self, key: &Key) -> bool {
        self.resolved
            .iter()
            .any(|resolved| resolved.keys().contains(key))
    }
}

/// Citations by their places, so that those of a stretch are found without looking at all.
#[derive(Debug, Default)]
pub(super) struct CitationPlaces {
    /// Where a citation begins, where the farthest so far ends, and its number; in order.
    ranges: Vec<(usize, usize, usize)>,
    /// The calls of footnotes with citations, and their numbers, in order.
    calls: Vec<(usize, usize)>,
}

impl CitationPlaces {
    /// The places of citations, which get the numbers of their order.
    pub(super) fn of(citations: &[ResolvedCitation]) -> Self {
        let mut places = Self::default();
        for (number, credited) in citations.iter().enumerate() {
            let range = credited.citation.range;
            places.ranges.push((range.start(), range.end(), number));
            let calls = credited.calls.iter();
            places.calls.extend(calls.map(|at| (*at, number)));
        }
        places.ranges.sort_unstable();
        places.calls.sort_unstable();
        let mut farthest = 0;
        for (_, end, _) in &mut places.ranges {
            farthest = farthest.max(*end);
            *end = farthest;
        }
        places
    }

    /// The numbers, in order, of all citations that may touch a stretch.
    pub(super) fn near(&self, range: ByteRange) -> Vec<usize> {
        let from = self
            .ranges
            .partition_point(|(_, end, _)| *end <= range.start());
        let to = self
            .ranges
            .partition_point(|(start, ..)| *start < range.end());
        let own = self.ranges.get(from..to).unwrap_or_default().iter();
        let from = self.calls.partition_point(|(at, _)| *at <= range.start());
        let to = self.calls.partition_point(|(at, _)| *at <= range.end());
        let called = self.calls.get(from..to).unwrap_or_default().iter();
        let mut near: Vec<usize> = own
            .map(|(.., number)| *number)
            .chain(called.map(|(_, number)| *number))
            .collect();
        near.sort_unstable();
        near.dedup();
        near
    }
}

/// What each citation of a text points at. Numbers lead through the text's own list.
#[must_use]
pub(super) fn resolve_all(
    text: &MarkedText,
    references: &Arc<References>,
    listed: &[Listed],
) -> Vec<ResolvedCitation> {
    let mut by_number: FxHashMap<u32, &Listed> = FxHashMap::default();
    for line in listed {
        by_number.entry(line.number).or_insert(line);
    }
    let resolve = |target: &CiteTarget| match target {
        CiteTarget::Number(number) => by_number
            .get(number)
            .and_then(|line| line.key.clone())
            .map_or(Resolved::None { near: Vec::new() }, Resolved::One),
        target => references.resolve(target),
    };
    let calls = CallsByNote::of(&text.text);
    let titles = OnceCell::new();
    let credited = |citation: &Citation| {
        let cites = citation.cites.iter();
        let mut resolved: Vec<Resolved> = cites.map(|cite| resolve(&cite.target)).collect();
        if resolved.iter().all(|resolved| resolved.keys().is_empty()) {
            let titles = titles.get_or_init(|| TitlesByEnd::of(references));
            let named = titles.before(citation, &text.text);
            if !named.is_empty() {
                resolved = vec![Resolved::of(named, Vec::new)];
            }
        }
        ResolvedCitation {
            resolved,
            calls: calls.of_range(citation.range),
            citation: citation.clone(),
        }
    };
    text.citations.iter().map(credited).collect()
}

/// Footnotes in order of the text, with the places that call them moved back over blanks to the words
/// they belong to.
struct CallsByNote(Vec<(ByteRange, usize)>);

impl CallsByNote {
    fn of(text: &Text) -> Self {
        let place = |at: usize| {
            text.content()
                .get(..at)
                .unwrap_or_default()
                .trim_end()
                .len()
        };
        let calls = text.note_calls().iter();
        let mut calls: Vec<_> = calls.map(|call| (call.note, place(call.at))).collect();
        calls.sort_unstable();
        Self(calls)
    }

    /// The calls of the footnote in which a range lies.
    fn of_range(&self, range: ByteRange) -> Vec<usize> {
        let behind = self
            .0
            .partition_point(|(note, _)| note.start() <= range.start());
        let before = self.0.get(..behind).unwrap_or_default();
        let covering = before
            .iter()
            .rev()
            .take_while(|(note, _)| note.covers(range));
        let mut calls: Vec<usize> = covering.map(|(_, at)| *at).collect();
        calls.reverse();
        calls
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::text::CitationForm;

    fn credited((start, length): (usize, usize), calls: Vec<usize>) -> ResolvedCitation {
        let range = ByteRange::of(start, start + length);
        ResolvedCitation {
            citation: Citation {
                form: CitationForm::Note,
                range,
                aside: range,
                narrative: false,
                cites: Vec::new(),
            },
            resolved: Vec::new(),
            calls,
        }
    }

    proptest! {
        #[test]
        fn every_citation_that_touches_a_stretch_is_found(
            citations in prop::collection::vec(((0..40_usize, 0..9_usize), prop::collection::vec(0..40_usize, 0..3)), 0..12),
            (from, length) in (0..40_usize, 0..9_usize),
        ) {
            let citations = citations.into_iter().map(|(range, calls)| credited(range, calls));
            let citations: Vec<_> = citations.collect();
            let range = ByteRange::of(from, from + length);
            let touching = |number: &usize| citations[*number].touches(range);
            let near = CitationPlaces::of(&citations).near(range).into_iter();
            let found: Vec<usize> = near.filter(touching).collect();
            let all: Vec<usize> = (0..citations.len()).filter(touching).collect();
            prop_assert_eq!(found, all);
        }
    }
}
