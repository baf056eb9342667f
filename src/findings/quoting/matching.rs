//! Looking a quotation up in a stored source: exactly, or as near as the source has it.
//!
//! 1. Every place where the first segment stands word for word is tried; the others must follow it,
//!    each behind the one before.
//! 2. Otherwise the stretch of the source with most of the quotation's words is aligned with it
//!    ([`align_local`]), and the differences are told word by word.

use rustc_hash::{FxHashMap, FxHashSet};

use crate::overlap::Document;
use crate::overlap::lexicon::{FormId, Lexicon};
use crate::overlap::local::{Scores, align_local};
use crate::text::WordRange;

use super::segments::Segment;

/// Where a quotation stands in a source.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Match {
    /// Word for word, at each of these stretches.
    Exact(Vec<WordRange>),
    /// With other words, at this stretch; each difference as (quotation's words, source's words).
    Altered(WordRange, Vec<(String, String)>),
}

/// Words of a source that an ellipsis may leave out.
pub(crate) const LONGEST_OMISSION: usize = 300;

/// Share of a quotation's words that the source must have, in order, for it to be this quotation
/// with changes and not another sentence.
pub(crate) const LEAST_KEPT: f64 = 0.6;

/// A kept word outweighs two changed ones, so that a quotation is followed across what was changed in
/// it. Our own choice.
const WORD_SCORES: Scores = Scores {
    equal: 2,
    different: -1,
    gap: -1,
};

/// Words of a quotation that are compared one by one where it differs; alignment takes the square of it.
const LONGEST_COMPARED: usize = 2_000;

/// Places of a quotation that are listed.
const MOST_PLACES: usize = 16;

/// A source and the way to its words as written.
#[derive(Debug, Clone, Copy)]
pub struct Stored<'a> {
    /// The source.
    pub document: &'a Document<'a>,
    /// All forms.
    pub lexicon: &'a Lexicon,
}

impl<'a> Stored<'a> {
    fn forms(&self) -> &'a [FormId] {
        &self.document.stream.forms
    }

    /// The words of the sentence that holds a word.
    fn sentence(&self, position: usize) -> WordRange {
        let Document { text, stream } = self.document;
        let byte = stream.word_bytes(text, position).start();
        let number = text
            .sentences
            .partition_point(|sentence| sentence.range.end() <= byte);
        text.sentences
            .get(number)
            .map_or_else(WordRange::default, |sentence| {
                stream.within(text, sentence.range)
            })
    }
}

/// Looks up a quotation.
#[must_use]
pub fn look_up(segments: &[Segment], stored: Stored<'_>) -> Option<Match> {
    let forms: Vec<Vec<Option<FormId>>> = segments
        .iter()
        .map(|segment| {
            segment
                .forms
                .iter()
                .map(|form| stored.lexicon.find(form))
                .collect()
        })
        .collect();
    let exact = exact_places(&forms, stored.forms());
    if exact.is_empty() {
        nearest(segments, &forms, stored)
    } else {
        Some(Match::Exact(exact))
    }
}

fn exact_places(segments: &[Vec<Option<FormId>>], source: &[FormId]) -> Vec<WordRange> {
    let mut places = Vec::new();
    let Some((first, others)) = segments.split_first() else {
        return places;
    };
    for start in occurrences(first, source, 0, source.len()) {
        let mut end = start + first.len();
        let follow = others.iter().all(|segment| {
            let last = (end + LONGEST_OMISSION + segment.len()).min(source.len());
            let next = occurrences(segment, source, end, last).next();
            if let Some(next) = next {
                end = next + segment.len();
            }
            next.is_some()
        });
        if follow {
            places.push(WordRange::of(start, end));
            if places.len() == MOST_PLACES {
                break;
            }
        }
    }
    places
}

/// Where a segment stands in a stretch of the source.
fn occurrences<'a>(
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

fn nearest(
    segments: &[Segment],
    forms: &[Vec<Option<FormId>>],
    stored: Stored<'_>,
) -> Option<Match> {
    let all: Vec<Option<FormId>> = forms
        .iter()
        .flatten()
        .copied()
        .take(LONGEST_COMPARED)
        .collect();
    let window = densest(&all, stored)?;
    let source = stored.forms().get(window.as_range())?;
    let kept = align_local(
        &all,
        source,
        |ours, theirs| *ours == Some(*theirs),
        WORD_SCORES,
    )
    .pairs;
    let (first, last) = (kept.first()?, kept.last()?);
    if (kept.len() as f64) < LEAST_KEPT * all.len() as f64 {
        return None;
    }
    let written: Vec<&str> = segments
        .iter()
        .flat_map(|segment| &segment.written)
        .map(String::as_str)
        .take(LONGEST_COMPARED)
        .collect();
    // Words before the first kept and behind the last count as changed one for one, as far as the
    // source's sentence goes.
    let sentence_start = stored.sentence(window.start() + first.1).start();
    let sentence_end = stored.sentence(window.start() + last.1).end();
    let start =
        (first.1.saturating_sub(first.0)).max(sentence_start.saturating_sub(window.start()));
    let end = (last.1 + 1 + (all.len() - 1 - last.0))
        .min(sentence_end.saturating_sub(window.start()))
        .clamp(last.1 + 1, source.len());
    let start = start.min(first.1);
    let borders = segment_borders(forms);
    let differences = differences(
        &kept,
        &written,
        source,
        (start, end),
        &borders,
        stored.lexicon,
    );
    let place = WordRange::of(window.start() + start, window.start() + end);
    Some(if differences.is_empty() {
        Match::Exact(vec![place])
    } else {
        Match::Altered(place, differences)
    })
}

/// Positions at which a new segment begins: what the source has between two segments was left out
/// with notice.
fn segment_borders(forms: &[Vec<Option<FormId>>]) -> FxHashSet<usize> {
    let mut at = 0;
    forms
        .iter()
        .map(|segment| {
            at += segment.len();
            at
        })
        .collect()
}

/// The stretch of the source that holds most of the quotation's words, content words first.
fn densest(quotation: &[Option<FormId>], stored: Stored<'_>) -> Option<WordRange> {
    let wanted: FxHashMap<FormId, u32> = quotation
        .iter()
        .flatten()
        .map(|form| {
            (
                *form,
                if stored.lexicon.is_content(*form) {
                    4
                } else {
                    1
                },
            )
        })
        .collect();
    let size = (quotation.len() * 3 / 2 + 4).min(stored.forms().len());
    let mut inside: FxHashMap<FormId, u32> = FxHashMap::default();
    let mut score = 0_u32;
    let mut best: Option<(u32, usize)> = None;
    for (end, form) in stored.forms().iter().enumerate() {
        if let Some(value) = wanted.get(form) {
            let count = inside.entry(*form).or_insert(0);
            score += if *count == 0 { *value } else { 0 };
            *count += 1;
        }
        if end >= size {
            let leaving = stored.forms()[end - size];
            if let (Some(value), Some(count)) = (wanted.get(&leaving), inside.get_mut(&leaving)) {
                *count -= 1;
                score -= if *count == 0 { *value } else { 0 };
            }
        }
        if score > 0 && best.is_none_or(|(most, _)| score > most) {
            best = Some((score, end));
        }
    }
    let (_, end) = best?;
    let start = (end + 1).saturating_sub(size);
    // The best window ends with a wanted word; what the quotation changed may lie just behind it.
    Some(WordRange::of(
        start,
        (end + 1 + quotation.len() / 2).min(stored.forms().len()),
    ))
}

/// The words that differ, in order, each as (quotation's words, source's words).
fn differences(
    kept: &[(usize, usize)],
    written: &[&str],
    source: &[FormId],
    (start, end): (usize, usize),
    borders: &FxHashSet<usize>,
    lexicon: &Lexicon,
) -> Vec<(String, String)> {
    let theirs = |range: std::ops::Range<usize>| {
        let forms = source.get(range).unwrap_or_default();
        let words: Vec<&str> = forms.iter().map(|form| lexicon.form(*form)).collect();
        words.join(" ")
    };
    let ends = [(written.len(), end)];
    let mut found = Vec::new();
    let (mut a, mut b) = (0, start);
    for (next_a, next_b) in kept.iter().chain(&ends) {
        let ours = written.get(a..*next_a).unwrap_or_default().join(" ");
        let omitted_with_notice = ours.is_empty() && borders.contains(next_a);
        if (a < *next_a || b < *next_b) && !omitted_with_notice {
            found.push((ours, theirs(b..*next_b)));
        }
        (a, b) = (next_a + 1, next_b + 1);
    }
    found
}
