//! The stretch of a source that a quotation is nearest to, and where the two differ.
//!
//! 1. The window of the source that holds most of the quotation's words, content words first, is aligned
//!    with it by local alignment ([`align_local`]).
//! 2. What differs is reported word by word. No difference is what an ellipsis or a bracket stands for, the
//!    number of a footnote in the source, and a word that the source breaks at a line's end.

use rustc_hash::FxHashMap;

use crate::overlap::StreamRange;
use crate::overlap::lexicon::FormId;
use crate::overlap::local::{Scores, align_local};
use crate::wording::is_number;

use super::matching::{Forms, LEAST_KEPT, Match, Stored, occurrences};
use super::segments::{Gap, Segment};

/// A kept word outweighs two changed ones, so that a quotation is followed across what was changed in
/// it. Our own choice.
const WORD_SCORES: Scores = Scores {
    equal: 2,
    different: -1,
    gap: -1,
};

/// Words of a quotation that are compared one by one where it differs; alignment takes the square of it.
const LONGEST_COMPARED: usize = 2_000;

/// Words of a segment from which the others are looked for.
const LEAST_ANCHOR: usize = 3;

/// Digits of a footnote's number.
const CALL_DIGITS: usize = 3;

/// The nearest stretch and the number of the quotation's words that it has, in order.
pub(super) fn nearest(
    segments: &[Segment],
    forms: &Forms,
    stored: Stored<'_>,
) -> Option<(Match, usize)> {
    let all: Vec<Option<FormId>> = forms
        .iter()
        .flatten()
        .copied()
        .take(LONGEST_COMPARED)
        .collect();
    let kept = piecewise(segments, forms, stored).or_else(|| aligned(&all, stored))?;
    let (first, last) = (*kept.first()?, *kept.last()?);
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
    let sentence_start = stored.sentence(first.1).start().min(first.1);
    let sentence_end = stored.sentence(last.1).end().max(last.1 + 1);
    let start = first.1.saturating_sub(first.0).max(sentence_start);
    let end = (last.1 + all.len() - last.0).min(sentence_end);
    let place = StreamRange::of(start, end);
    let compared = Compared {
        written: &written,
        gaps: gaps(segments),
        stored,
    };
    let differences = compared.differences(&kept, place);
    let found = if differences.is_empty() {
        Match::Exact(vec![place])
    } else {
        Match::Altered(place, differences)
    };
    Some((found, kept.len()))
}

/// Kept words, as positions in the quotation and in the source, in order.
type Kept = Vec<(usize, usize)>;

/// The quotation as a whole against the stretch that holds most of its words.
fn aligned(all: &[Option<FormId>], stored: Stored<'_>) -> Option<Kept> {
    let window = densest(all, stored)?;
    Some(align_within(all, window, stored))
}

/// A stretch of the quotation against a stretch of the source.
fn align_within(words: &[Option<FormId>], window: StreamRange, stored: Stored<'_>) -> Kept {
    let source = stored.forms().get(window.as_range()).unwrap_or_default();
    let equal = |ours: &Option<FormId>, theirs: &FormId| *ours == Some(*theirs);
    let local = align_local(words, source, equal, WORD_SCORES);
    let pairs = local.pairs.into_iter();
    pairs
        .map(|(ours, theirs)| (ours, window.start() + theirs))
        .collect()
}

/// A quotation with ellipses, in which long omissions would tear a single alignment apart: the longest
/// segment that stands in the source word for word is the anchor, and the others are aligned with what an
/// ellipsis can reach before and behind it.
fn piecewise(segments: &[Segment], forms: &Forms, stored: Stored<'_>) -> Option<Kept> {
    if segments.len() < 2 || forms.iter().map(Vec::len).sum::<usize>() > LONGEST_COMPARED {
        return None;
    }
    let source = stored.forms();
    let (anchor, at) = forms
        .iter()
        .enumerate()
        .filter(|(_, words)| words.len() >= LEAST_ANCHOR)
        .filter_map(|(number, words)| {
            Some((number, occurrences(words, source, 0, source.len()).next()?))
        })
        .max_by_key(|(number, _)| (forms.get(*number).map(Vec::len), std::cmp::Reverse(*number)))?;
    let starts: Vec<usize> = forms
        .iter()
        .scan(0, |at, words| {
            *at += words.len();
            Some(*at - words.len())
        })
        .collect();
    let mut kept: Kept = Vec::new();
    let mut window = StreamRange::of(at, at);
    let reach = |gap: Gap, words: usize| gap.longest() + words * 3 / 2;
    // Backward from the anchor, nearest segment first.
    for number in (0..anchor).rev() {
        let (words, gap) = (forms.get(number)?, segments.get(number + 1)?.gap);
        let from = window.start().saturating_sub(reach(gap, words.len()));
        let mut pairs = align_within(words, StreamRange::of(from, window.start()), stored);
        if let Some((_, first)) = pairs.first() {
            window = StreamRange::of(*first, *first);
        }
        let start = starts.get(number)?;
        pairs.iter_mut().for_each(|(ours, _)| *ours += start);
        pairs.append(&mut kept);
        kept = pairs;
    }
    let length = forms.get(anchor)?.len();
    let start = starts.get(anchor)?;
    kept.extend((0..length).map(|word| (start + word, at + word)));
    let mut end = at + length;
    for number in anchor + 1..forms.len() {
        let (words, gap) = (forms.get(number)?, segments.get(number)?.gap);
        let to = (end + reach(gap, words.len())).min(source.len());
        let pairs = align_within(words, StreamRange::of(end, to), stored);
        end = pairs.last().map_or(end, |(_, last)| last + 1);
        let start = starts.get(number)?;
        kept.extend(
            pairs
                .into_iter()
                .map(|(ours, theirs)| (start + ours, theirs)),
        );
    }
    Some(kept)
}

/// The positions at which a new segment begins, and what stands before it there.
fn gaps(segments: &[Segment]) -> FxHashMap<usize, Gap> {
    let mut at = 0;
    let mut gaps = FxHashMap::default();
    for segment in segments {
        gaps.insert(at, segment.gap);
        at += segment.forms.len();
    }
    gaps
}

/// The stretch of the source that holds most of the quotation's words, content words first.
fn densest(quotation: &[Option<FormId>], stored: Stored<'_>) -> Option<StreamRange> {
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
    Some(StreamRange::of(
        start,
        (end + 1 + quotation.len() / 2).min(stored.forms().len()),
    ))
}

/// A quotation beside its source.
struct Compared<'a> {
    written: &'a [&'a str],
    gaps: FxHashMap<usize, Gap>,
    stored: Stored<'a>,
}

impl Compared<'_> {
    /// The words that differ, in order, each as (quotation's words, source's words). `kept` are
    /// positions in the quotation and in the source.
    fn differences(&self, kept: &[(usize, usize)], place: StreamRange) -> Vec<(String, String)> {
        let ends = [(self.written.len(), place.end())];
        let mut found = Vec::new();
        let (mut a, mut b) = (0, place.start());
        for (next_a, next_b) in kept.iter().chain(&ends) {
            for (ours, theirs) in self.around_gap((a, *next_a), StreamRange::of(b, *next_b)) {
                let same = ours.is_empty() && theirs.is_empty();
                if !(same || self.is_noise(ours, theirs)) {
                    found.push((ours.join(" "), self.words(theirs).join(" ")));
                }
            }
            (a, b) = (next_a + 1, next_b + 1);
        }
        found
    }

    /// What stands between two kept words on both sides. Where the writer says that words were left
    /// out or replaced there, these go, and what stands before the gap is compared with what follows the
    /// kept word before, what stands behind with what precedes the next.
    fn around_gap(
        &self,
        (a, next_a): (usize, usize),
        theirs: StreamRange,
    ) -> Vec<(&[&str], StreamRange)> {
        let ours = |from: usize, to: usize| self.written.get(from..to).unwrap_or_default();
        let whole = vec![(ours(a, next_a), theirs)];
        let border = (a.max(1)..=next_a).find_map(|at| Some((at, *self.gaps.get(&at)?)));
        let Some((border, gap)) = border.filter(|(at, _)| *at < self.written.len()) else {
            return whole;
        };
        let (before, behind) = (border - a, next_a - border);
        let omitted = theirs.len().checked_sub(before + behind);
        if omitted.is_none_or(|omitted| omitted > gap.longest()) {
            return whole;
        }
        let first = StreamRange::of(theirs.start(), theirs.start() + before);
        let last = StreamRange::of(theirs.end() - behind, theirs.end());
        vec![(ours(a, border), first), (ours(border, next_a), last)]
    }

    fn words(&self, words: StreamRange) -> Vec<&str> {
        let forms = self.stored.forms().get(words.as_range());
        let forms = forms.unwrap_or_default().iter();
        forms.map(|form| self.stored.lexicon.form(*form)).collect()
    }

    /// Whether the two differ only by the number of a footnote or by a line's end in the source.
    fn is_noise(&self, ours: &[&str], theirs: StreamRange) -> bool {
        let words = self.words(theirs);
        let is_call = |word: &str| word.len() <= CALL_DIGITS && is_number(word);
        let calls_only = ours.is_empty()
            && theirs
                .as_range()
                .zip(&words)
                .all(|(at, word)| is_call(word) && self.stored.is_attached(at));
        if calls_only {
            return true;
        }
        let bare = |word: &str| {
            word.trim_end_matches(|c: char| c.is_ascii_digit())
                .to_owned()
        };
        let without_call = |ours: &str, theirs: &str| {
            let bare = bare(theirs);
            ours == theirs
                || !bare.is_empty()
                    && ours == bare
                    && theirs.strip_prefix(&bare).is_some_and(is_call)
        };
        let ours: Vec<String> = ours
            .iter()
            .map(|word| crate::wording::normal_form(word).into_owned())
            .collect();
        if ours.len() == words.len() && ours.iter().zip(&words).all(|(a, b)| without_call(a, b)) {
            return true;
        }
        let broken = is_broken(self.stored.written(theirs));
        broken && run_together(ours.iter().map(String::as_str)) == run_together(words)
    }
}

/// Words as one, without hyphens.
fn run_together<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    words.into_iter().flat_map(|word| word.split('-')).collect()
}

/// Whether a hyphen stands at the end of a line.
fn is_broken(written: &str) -> bool {
    let lines = written.lines();
    let ends = lines.map(|line| line.trim_end().ends_with(['-', '\u{2010}', '\u{ad}']));
    let mut ends: Vec<bool> = ends.collect();
    ends.pop();
    ends.contains(&true)
}
