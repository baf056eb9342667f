//! Which decision holds for which finding, in one place for every report of findings.
//!
//! 1. A finding's ID without its count is made from kind, source and wording ([`super::id`]), and a decision holds
//!    for findings of its ID, in whatever draft. So it outlives edits elsewhere, re-ordering, re-wrapping
//!    and a new name of the file, and lapses when the passage itself changes.
//! 2. Where the same words stand in a text more than once, the words around them show which is meant
//!    ([`surroundings`]): a decision goes to the finding with the same words before and behind, else the same on one
//!    side. What is left over on both sides is paired in order as long as there are no more findings than
//!    decisions; with more findings it isn't known which was meant, and they stay open.
//! 3. A decision that holds for nothing, but whose passage an open finding of the same file still
//!    resembles, has [`Lapsed`]: the reader is asked to look again.

use std::collections::BTreeMap;

use rustc_hash::{FxHashMap, FxHashSet};

use super::{DraftReport, Finding, Observation, Settled, id};
use crate::review::{Decision, Decisions};
use crate::text::words::bare_words;
use crate::text::{ByteRange, Text};

/// Words on each side of a passage that distinguish it from another one with the same words.
const WORDS_AROUND: usize = 6;

/// Words of a passage that a decision keeps for reading. Long enough to know the passage again after an
/// edit, short enough for a line.
pub(crate) const EXCERPT_WORDS: usize = 14;

/// Share of an excerpt's words, in percent, that a changed passage still holds. Our own choice: an edit that
/// leaves less than half is a new passage.
const STILL_LIKE_PERCENT: usize = 50;

/// A decision whose passage has changed since.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lapsed {
    /// The name of the decision, `uc-1a2b3c4d.5e6f7a8b`.
    pub decision: String,
    /// The kind of the finding it settled.
    pub kind: String,
    /// The day of the decision.
    pub on: String,
    /// Its reason.
    pub because: String,
    /// The first words of the passage as it was.
    pub text: String,
    /// The ID of the open finding that resembles it now.
    pub now: String,
}

/// The words around a passage as a short name: those of its own sentence, or where it begins or ends one, of
/// the sentence beside it, so that sentences may change places. Four hexadecimal digits for those before, four for those
/// behind.
#[must_use]
pub(crate) fn surroundings(text: &Text, range: ByteRange) -> String {
    let content = text.content();
    let before = content.get(..range.start()).unwrap_or_default();
    let behind = content.get(range.end()..).unwrap_or_default();
    let sentence_before = sentence_beside(before, true);
    let sentence_behind = sentence_beside(behind, false);
    let side = |sentence: &str, all: &str, from_end: bool| {
        let part = if has_words(sentence) { sentence } else { all };
        let words: Vec<&str> = words(part, from_end).take(WORDS_AROUND).collect();
        id::hash_of(words) >> 48
    };
    let before = side(sentence_before, before, true);
    let behind = side(sentence_behind, behind, false);
    format!("{before:04x}{behind:04x}")
}

/// The sentence at an end of a text, or as much of a long one as holds the words around a passage.
fn sentence_beside(text: &str, from_end: bool) -> &str {
    let is_end = |c: char| matches!(c, '.' | '?' | '!');
    let mut length = BYTES_AROUND;
    loop {
        let part = match from_end {
            true => text.get(text.floor_char_boundary(text.len().saturating_sub(length))..),
            false => text.get(..text.floor_char_boundary(length)),
        };
        let part = part.unwrap_or(text);
        let is_all = part.len() == text.len();
        // The word at the cut may be a part of one.
        if is_all || part.contains(is_end) || words(part, from_end).nth(WORDS_AROUND).is_some() {
            let sentence = match from_end {
                true => part.rsplit(is_end).next(),
                false => part.split(is_end).next(),
            };
            return sentence.unwrap_or_default();
        }
        length *= 2;
    }
}

/// Bytes that hold the words around a passage in most texts; more are read where they don't.
const BYTES_AROUND: usize = 512;

fn has_words(text: &str) -> bool {
    text.chars().any(char::is_alphanumeric)
}

fn words<'t>(text: &'t str, from_end: bool) -> Box<dyn Iterator<Item = &'t str> + 't> {
    if from_end {
        Box::new(bare_words(text).rev())
    } else {
        Box::new(bare_words(text))
    }
}

/// The first words of a passage, on one line.
#[must_use]
pub(crate) fn excerpt(passage: &str) -> String {
    let mut words = passage.split_whitespace();
    let first: Vec<&str> = words.by_ref().take(EXCERPT_WORDS).collect();
    let more = if words.next().is_some() { " ..." } else { "" };
    format!("{}{more}", first.join(" "))
}

/// A decision on a finding of a file, named so that it is none of those in `there`.
#[must_use]
pub fn decision_on<'d>(
    finding: &Finding,
    file: &str,
    settled: (&str, &str),
    there: impl Iterator<Item = &'d Decision> + Clone,
) -> Decision {
    let (because, on) = settled;
    let id = id::without_count(&finding.id);
    let taken = |place: &str| {
        let mut there = there.clone();
        there.any(|decision| decision.id == id && decision.place == place)
    };
    let mut place = finding.surroundings.clone();
    let mut count = 1;
    while taken(&place) {
        count += 1;
        place = format!("{}-{count}", finding.surroundings);
    }
    Decision {
        id: id.to_owned(),
        place,
        kind: finding.kind.name().to_owned(),
        draft: file.to_owned(),
        on: on.to_owned(),
        because: because.to_owned(),
        text: excerpt(&finding.draft.text),
    }
}

/// The findings of one text, made of all that rules have seen in it: named, settled where a decision holds for them, and
/// with the decisions that have lapsed. `file` is the text's file as the review names it. The order stays.
#[must_use]
pub fn findings(
    decisions: &Decisions,
    file: &str,
    text: &Text,
    observations: Vec<Observation>,
) -> (Vec<Finding>, Vec<Lapsed>) {
    let names = id::names(&observations);
    let around = |observation: &Observation| surroundings(text, observation.draft.range);
    let places: Vec<Place> = observations
        .iter()
        .zip(&names)
        .map(|(observation, name)| Place {
            id: id::without_count(name).to_owned(),
            kind: observation.kind.name(),
            surroundings: around(observation),
        })
        .collect();
    let mut settled = settled_places(decisions, &places);
    let held: FxHashSet<String> = settled
        .values()
        .map(|settled| settled.decision.clone())
        .collect();
    let whole = observations.into_iter().zip(names).zip(places).enumerate();
    let findings: Vec<Finding> = whole
        .map(|(number, ((observation, name), place))| {
            observation.into_finding(name, place.surroundings, settled.remove(&number))
        })
        .collect();
    let lapsed = lapsed(decisions, file, &findings, &held);
    (findings, lapsed)
}

/// Where a finding stands, as far as decisions know it.
struct Place {
    /// Its ID without the count.
    id: String,
    /// Its kind.
    kind: &'static str,
    /// The words around it.
    surroundings: String,
}

/// The decisions that hold, by the number of the place they hold for.
fn settled_places(decisions: &Decisions, places: &[Place]) -> BTreeMap<usize, Settled> {
    let mut settled = BTreeMap::new();
    if decisions.all().is_empty() {
        return settled;
    }
    let mut alike: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (number, place) in places.iter().enumerate() {
        alike.entry(&place.id).or_default().push(number);
    }
    for (id, numbers) in &alike {
        let of_id: Vec<&Decision> = decisions.of(id).iter().collect();
        let pairs = pairs(places, numbers, &of_id).into_iter();
        settled.extend(pairs.map(|(number, decision)| {
            let settled = Settled {
                because: decision.because.clone(),
                on: decision.on.clone(),
                decision: decision.name(),
            };
            (number, settled)
        }));
    }
    settled
}

/// Findings with the same ID and the decisions on it, paired as the module's head says.
fn pairs<'d>(
    places: &[Place],
    numbers: &[usize],
    decisions: &[&'d Decision],
) -> Vec<(usize, &'d Decision)> {
    let mut open: Vec<(usize, &Place)> = numbers
        .iter()
        .filter_map(|number| Some((*number, places.get(*number)?)))
        .collect();
    let mut decisions: Vec<&Decision> = decisions
        .iter()
        .copied()
        .filter(|decision| {
            let first = open.first();
            first.is_some_and(|(_, place)| place.kind == decision.kind)
        })
        .collect();
    let mut paired = Vec::new();
    for wanted in [2, 1] {
        open.retain(|(number, place)| {
            let fitting = decisions
                .iter()
                .position(|decision| sides_alike(&place.surroundings, &decision.place) == wanted);
            let Some(at) = fitting else { return true };
            paired.push((*number, decisions.remove(at)));
            false
        });
    }
    if open.len() <= decisions.len() {
        let numbers = open.into_iter().map(|(number, _)| number);
        paired.extend(numbers.zip(decisions));
    }
    paired
}

/// On how many sides the words are the same. A count behind the name of a place is no part of it.
pub(super) fn sides_alike(one: &str, other: &str) -> usize {
    let both = sides(one).into_iter().zip(sides(other));
    both.filter(|(one, other)| one.is_some() && one == other)
        .count()
}

/// What stands for the words before and behind in the name of a place.
pub(super) fn sides(name: &str) -> [Option<&str>; 2] {
    [name.get(0..4), name.get(4..8)]
}

/// Decisions on this file that hold for nothing in it, though an open finding of their kind resembles
/// their passage.
fn lapsed(
    decisions: &Decisions,
    file: &str,
    findings: &[Finding],
    held: &FxHashSet<String>,
) -> Vec<Lapsed> {
    let open: Vec<&Finding> = findings
        .iter()
        .filter(|finding| finding.settled.is_none())
        .collect();
    if open.is_empty() || decisions.all().is_empty() {
        return Vec::new();
    }
    // Only findings that share a word with a passage are looked at, so that many decisions cost little.
    let mut with_word: FxHashMap<u64, Vec<usize>> = FxHashMap::default();
    for (number, finding) in open.iter().enumerate() {
        for word in telling_words(&finding.draft.text) {
            with_word.entry(word).or_default().push(number);
        }
    }
    let mut lapsed = Vec::new();
    for decision in decisions.all().iter().filter(|d| d.draft == file) {
        let was = telling_words(&decision.text);
        let mut common: BTreeMap<usize, usize> = BTreeMap::new();
        for number in was.iter().filter_map(|word| with_word.get(word)).flatten() {
            *common.entry(*number).or_default() += 1;
        }
        let nearest = common
            .into_iter()
            .filter(|(_, count)| count * 100 >= was.len() * STILL_LIKE_PERCENT)
            .filter_map(|(number, count)| Some((count, number, *open.get(number)?)))
            .filter(|(_, _, finding)| finding.kind.name() == decision.kind)
            // Of equals the first in the text.
            .max_by_key(|(count, number, _)| (*count, std::cmp::Reverse(*number)));
        if let Some((_, _, finding)) = nearest
            && !held.contains(&decision.name())
        {
            lapsed.push(Lapsed {
                decision: decision.name(),
                kind: decision.kind.clone(),
                on: decision.on.clone(),
                because: decision.because.clone(),
                text: decision.text.clone(),
                now: finding.id.clone(),
            });
        }
    }
    lapsed
}

/// Letters of a word below which it shows nothing: most such words are of grammar.
const TELLING_LETTERS: usize = 4;

/// The distinct words of a text as numbers, sorted, upper and lower case aside; the short ones are left out
/// where there are others.
fn telling_words(text: &str) -> Vec<u64> {
    let number = |word: &str| {
        if word.bytes().any(|byte| !byte.is_ascii_lowercase()) {
            id::hash_of([word.to_lowercase().as_str()])
        } else {
            id::hash_of([word])
        }
    };
    let long = |word: &&str| word.len() >= TELLING_LETTERS;
    let mut telling: Vec<u64> = words(text, false).filter(long).map(number).collect();
    if telling.is_empty() {
        telling = words(text, false).map(number).collect();
    }
    telling.sort_unstable();
    telling.dedup();
    telling
}

/// The findings of a draft that are settled.
pub(crate) fn settled(draft: &DraftReport) -> impl Iterator<Item = (&Finding, &Settled)> {
    draft
        .findings
        .iter()
        .filter_map(|finding| Some((finding, finding.settled.as_ref()?)))
}

#[cfg(test)]
mod tests;
