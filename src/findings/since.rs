//! A draft against an earlier version of it: what was mended, what is still there, what is new.
//!
//! 1. Findings of the same name (kind, source and wording) are the same finding; of several the one with the same
//!    words around it.
//! 2. What is left is paired by likeness: findings of one kind or on one source whose words are for the most part the
//!    same, or that rest on the same place of the source. Such a passage was edited and is still to be looked at.
//! 3. What is then left of the old draft was mended, what is left of the new one is new.

use std::collections::VecDeque;
use std::path::PathBuf;

use rustc_hash::{FxHashMap, FxHashSet};

use super::{DraftReport, Finding, Kind, id, settling};
use crate::overlap::Degree;
use crate::text::ByteRange;
use crate::text::words::bare_words;
use crate::wording::normal_form;

/// Likeness above which two findings are on one passage that was edited: more than half of the words are
/// the same, or the places in the source. Our own choice.
const SAME_PASSAGE: f64 = 0.5;

/// A finding of the earlier draft, as much as is reported of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Past {
    /// Its ID.
    pub id: String,
    /// Its kind.
    pub kind: Kind,
    /// Its degree and position, where it had one.
    pub closeness: Option<(Degree, f64)>,
    /// The line of the earlier draft.
    pub line: usize,
    /// Its words there.
    pub text: String,
}

/// What a finding is against the earlier draft.
#[derive(Debug, Clone, PartialEq)]
pub enum Progress {
    /// It was there, word for word.
    Still,
    /// Its passage was edited; this is what was found there.
    Changed(Past),
    /// There was nothing like it.
    New,
}

/// A draft against an earlier version of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Since {
    /// The earlier draft's file as named.
    pub path: PathBuf,
    /// What became of each finding, in the order of the draft's findings.
    pub progress: Vec<Progress>,
    /// Findings of the earlier draft that are there no more, in its order; those that were settled are
    /// left out.
    pub mended: Vec<Past>,
}

impl Past {
    fn of(finding: &Finding) -> Self {
        let position = finding
            .measures
            .as_ref()
            .map(|measures| measures.position());
        Self {
            id: finding.id.clone(),
            kind: finding.kind,
            closeness: finding.degree.zip(position),
            line: finding.draft.line,
            text: finding.draft.text.clone(),
        }
    }
}

/// Compares the findings of a draft with those of an earlier version.
#[must_use]
pub(crate) fn compare(old: &DraftReport, new: &DraftReport) -> Since {
    let mut left: Vec<Option<Passage<'_>>> =
        old.findings.iter().map(Passage::of).map(Some).collect();
    let mut progress: Vec<Option<Progress>> = vec![None; new.findings.len()];
    let mut named = Named::of(&old.findings);
    // The surest first, so that of equal passages each meets its own.
    for sides in [2, 1, 0] {
        for (finding, progress) in new.findings.iter().zip(&mut progress) {
            if progress.is_some() {
                continue;
            }
            if let Some(same) = named.first(finding, sides, &left) {
                left[same] = None;
                *progress = Some(Progress::Still);
            }
        }
    }
    edited(&mut left, new, &mut progress);
    Since {
        path: old.path.clone(),
        progress: progress
            .into_iter()
            .map(|progress| progress.unwrap_or(Progress::New))
            .collect(),
        mended: left
            .into_iter()
            .flatten()
            .filter(|old| old.finding.settled.is_none())
            .map(|old| Past::of(old.finding))
            .collect(),
    }
}

/// Findings by their names and by the words on one side or both, each list in order.
struct Named<'f>(FxHashMap<(&'f str, [Option<&'f str>; 2]), VecDeque<usize>>);

impl<'f> Named<'f> {
    fn of(findings: &'f [Finding]) -> Self {
        let mut named = Self(FxHashMap::default());
        for (number, finding) in findings.iter().enumerate() {
            let [before, behind] = settling::sides(&finding.surroundings);
            for sides in [
                [before, behind],
                [before, None],
                [None, behind],
                [None, None],
            ] {
                let same = (id::without_count(&finding.id), sides);
                let numbers = named.0.entry(same).or_default();
                if numbers.back() != Some(&number) {
                    numbers.push_back(number);
                }
            }
        }
        named
    }

    /// The first of the findings that are left with the same name and at least so many sides alike.
    fn first(
        &mut self,
        finding: &'f Finding,
        sides: usize,
        left: &[Option<Passage<'_>>],
    ) -> Option<usize> {
        let [before, behind] = settling::sides(&finding.surroundings);
        let asked: &[[Option<&str>; 2]] = match (sides, before, behind) {
            (2, Some(_), Some(_)) => &[[before, behind]],
            (1, Some(_), Some(_)) => &[[before, None], [None, behind]],
            (1, None, None) | (2.., ..) => &[],
            (1, ..) => &[[before, behind]],
            _ => &[[None, None]],
        };
        let name = id::without_count(&finding.id);
        let firsts = asked.iter().filter_map(|sides| {
            let numbers = self.0.get_mut(&(name, *sides))?;
            while let Some(number) = numbers.front() {
                if left.get(*number).is_some_and(Option::is_some) {
                    return Some(*number);
                }
                // Nobody asks for it again.
                numbers.pop_front();
            }
            None
        });
        firsts.min()
    }
}

/// Pairs what is left by likeness, the most alike first; of equals the first in the draft.
fn edited(left: &mut [Option<Passage<'_>>], new: &DraftReport, progress: &mut [Option<Progress>]) {
    let mut alike: Vec<(f64, usize, usize)> = Vec::new();
    let near = Near::of(left);
    for (number, finding) in new.findings.iter().enumerate() {
        if progress.get(number).is_some_and(Option::is_some) {
            continue;
        }
        let now = Passage::of(finding);
        for at in near.to(&now) {
            if let Some(Some(old)) = left.get(at) {
                let likeness = old.likeness(&now);
                if likeness > SAME_PASSAGE {
                    alike.push((likeness, number, at));
                }
            }
        }
    }
    alike.sort_by(|a, b| {
        b.0.total_cmp(&a.0)
            .then_with(|| (a.1, a.2).cmp(&(b.1, b.2)))
    });
    for (_, number, at) in alike {
        if let (Some(slot @ None), Some(old)) = (progress.get_mut(number), left.get_mut(at))
            && let Some(old) = old.take()
        {
            *slot = Some(Progress::Changed(Past::of(old.finding)));
        }
    }
}

/// Which passages may be one that was edited: those that share a word that not too many have, and those from the same place
/// of a source.
struct Near<'p> {
    with_word: FxHashMap<&'p str, Vec<usize>>,
    /// By key of the source: the places, with the passages, in order, and the end of the farthest place so far.
    from_source: FxHashMap<&'p str, Vec<(ByteRange, usize, usize)>>,
}

/// Most passages that lead from a word or a place to one another. Where an earlier draft has no more passages, nothing is
/// missed; in a longer one passages without a single word that is rarer are not the same. Our own choice.
const MOST_WITH_WORD: usize = 250;

impl<'p> Near<'p> {
    fn of(left: &'p [Option<Passage<'_>>]) -> Self {
        let mut near = Self {
            with_word: FxHashMap::default(),
            from_source: FxHashMap::default(),
        };
        for (at, passage) in left.iter().enumerate() {
            let Some(passage) = passage else { continue };
            for word in &passage.words {
                let with_word = near.with_word.entry(word.as_str()).or_default();
                if with_word.last() != Some(&at) {
                    with_word.push(at);
                }
            }
            if let Some(source) = &passage.finding.source {
                let places = near.from_source.entry(source.key.as_str()).or_default();
                places.push((source.range, at, 0));
            }
        }
        near.with_word
            .retain(|_, passages| passages.len() <= MOST_WITH_WORD);
        for places in near.from_source.values_mut() {
            places.sort_unstable();
            let mut farthest = 0;
            for (range, _, end) in places {
                farthest = farthest.max(range.end());
                *end = farthest;
            }
        }
        near
    }

    /// The numbers of the passages, in order.
    fn to(&self, passage: &Passage<'_>) -> Vec<usize> {
        let words = passage.words.iter();
        let with_word = words.filter_map(|word| self.with_word.get(word.as_str()));
        let mut found: FxHashSet<usize> = with_word.flatten().copied().collect();
        if let Some(source) = &passage.finding.source
            && let Some(places) = self.from_source.get(source.key.as_str())
        {
            let from = places.partition_point(|(.., end)| *end <= source.range.start());
            let to = places.partition_point(|(range, ..)| range.start() < source.range.end());
            let places = places.get(from..to).unwrap_or_default().iter();
            found.extend(places.map(|(_, at, _)| *at).take(MOST_WITH_WORD));
        }
        let mut found: Vec<usize> = found.into_iter().collect();
        found.sort_unstable();
        found
    }
}

/// A finding with its words in order of the alphabet.
struct Passage<'f> {
    finding: &'f Finding,
    words: Vec<String>,
}

impl<'f> Passage<'f> {
    fn of(finding: &'f Finding) -> Self {
        let mut words: Vec<String> = bare_words(&finding.draft.text)
            .map(|word| normal_form(word).into_owned())
            .collect();
        words.sort_unstable();
        Self { finding, words }
    }

    /// From 0 to 1; 0 where the two can't be the same matter.
    fn likeness(&self, other: &Self) -> f64 {
        let (one, two) = (self.finding, other.finding);
        let same_source = match (&one.source, &two.source) {
            (Some(a), Some(b)) => a.key == b.key && a.path == b.path,
            _ => false,
        };
        if one.kind != two.kind && !same_source {
            return 0.0;
        }
        let words = share(
            common(&self.words, &other.words) * 2,
            self.words.len() + other.words.len(),
        );
        match (&one.source, &two.source) {
            (Some(a), Some(b)) if same_source => words.max(common_place(a.range, b.range)),
            _ => words,
        }
    }
}

/// The share of the shorter of two places that lies in both, of the same source.
fn common_place(one: ByteRange, other: ByteRange) -> f64 {
    share(one.intersection(other).len(), one.len().min(other.len()))
}

#[allow(clippy::cast_precision_loss, reason = "counts are far below 2^52")]
fn share(part: usize, whole: usize) -> f64 {
    if whole == 0 {
        0.0
    } else {
        part as f64 / whole as f64
    }
}

/// How many words two sorted lists have in common, each as often as it stands in both.
fn common(one: &[String], other: &[String]) -> usize {
    let (mut a, mut b, mut count) = (one.iter().peekable(), other.iter().peekable(), 0);
    while let (Some(first), Some(second)) = (a.peek(), b.peek()) {
        match first.cmp(second) {
            std::cmp::Ordering::Less => drop(a.next()),
            std::cmp::Ordering::Greater => drop(b.next()),
            std::cmp::Ordering::Equal => {
                count += 1;
                a.next();
                b.next();
            }
        }
    }
    count
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn common_words_are_counted_as_often_as_both_have_them() {
        let words = |text: &str| text.split(' ').map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(common(&words("a a b c"), &words("a b b d")), 2);
        assert_eq!(common(&[], &words("a")), 0);
        assert!((common_place(ByteRange::of(0, 10), ByteRange::of(5, 25)) - 0.5).abs() < 1e-9);
        assert!(common_place(ByteRange::of(0, 0), ByteRange::of(0, 0)).abs() < 1e-9);
    }
}
