//! A draft against an earlier version of it: what was mended, what is still there, what is new.
//!
//! 1. Findings of the same name (kind, source and wording) are the same finding; of several the one with the same
//!    words around it.
//! 2. What is left is paired by likeness: findings of one kind or on one source whose words are for the most part the
//!    same, or that rest on the same place of the source. Such a passage was edited and is still to be looked at.
//! 3. What is then left of the old draft was mended, what is left of the new one is new.

use std::path::PathBuf;

use super::{DraftReport, Finding, Kind, applying_decisions, id};
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
    // The surest first, so that of equal passages each meets its own.
    for sides in [2, 1, 0] {
        for (finding, progress) in new.findings.iter().zip(&mut progress) {
            if progress.is_some() {
                continue;
            }
            let same = left.iter_mut().find(|old| {
                old.as_ref().is_some_and(|old| {
                    id::without_count(&old.finding.id) == id::without_count(&finding.id)
                        && applying_decisions::sides_alike(
                            &old.finding.surroundings,
                            &finding.surroundings,
                        ) >= sides
                })
            });
            if let Some(same) = same {
                *same = None;
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

/// Pairs what is left by likeness, the most alike first; of equals the first in the draft.
fn edited(left: &mut [Option<Passage<'_>>], new: &DraftReport, progress: &mut [Option<Progress>]) {
    let mut alike: Vec<(f64, usize, usize)> = Vec::new();
    for (number, finding) in new.findings.iter().enumerate() {
        if progress.get(number).is_some_and(Option::is_some) {
            continue;
        }
        let now = Passage::of(finding);
        for (at, old) in left.iter().enumerate() {
            if let Some(old) = old {
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
