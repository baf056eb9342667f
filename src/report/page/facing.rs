//! Source and draft set facing each other, word by word, as a row of columns with the source's word above
//! and the draft's below, so that the upper line reads on as the source and the lower line as the draft.
//!
//! 1. The shared stretches are put in order of the draft. Those that keep the source's order, the heaviest
//!    such set, become *pairs*: both words in one column.
//! 2. Stretches outside that set are *moved*: they stand once in the upper line where the source has them,
//!    once in the lower where the draft has them, under one letter.
//! 3. What stands between two pairs on either side has no counterpart: columns with one word or with two
//!    that do not answer to each other.
//!
//! A quotation that differs from its source has no shared stretches; its words are set against each other by
//! their longest common subsequence.

use std::ops::Range;

use super::common::common;
use crate::findings::Finding;
use crate::overlap::heaviest_in_order;
use crate::overlap::{Counterpart, SharedPlace};
use crate::report::escape::on_page;
use crate::text::ByteRange;
use crate::wording::normal_form;

/// A part of the row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::report) enum Part {
    /// Words that answer to each other.
    Pair {
        /// How.
        by: Counterpart,
        /// The source's.
        source: Vec<String>,
        /// The draft's.
        draft: Vec<String>,
    },
    /// What stands between two pairs.
    Between {
        /// In the source.
        source: Vec<Piece>,
        /// In the draft.
        draft: Vec<Piece>,
    },
}

/// Words of one side that have no counterpart facing them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::report) struct Piece {
    /// The words.
    pub words: Vec<String>,
    /// The number of the moved stretch they are, from 0 in order of the draft; `None` where they have no
    /// counterpart at all.
    pub moved: Option<usize>,
}

/// Sets a finding's two wordings against each other; `None` where there are no two.
pub(super) fn facing(finding: &Finding) -> Option<Vec<Part>> {
    let source = finding.source.as_ref()?;
    let (ours, theirs) = (&finding.draft, source);
    let shared = &finding.evidence.shared;
    if shared.is_empty() {
        if finding.evidence.differences.is_empty() {
            return None;
        }
        return quoted(&tokens(&ours.text), &tokens(&theirs.text));
    }
    let ours = (ours.text.as_str(), ours.range);
    Some(faced(ours, (theirs.text.as_str(), theirs.range), shared).parts)
}

/// Two wordings set against each other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::report) struct Faced {
    /// The row.
    pub parts: Vec<Part>,
    /// For each moved stretch, by its number, how it answers to the source.
    pub moved: Vec<Counterpart>,
}

/// Sets two wordings against each other by what they share, which is in order of the draft. Each wording
/// comes with its range in its Text.
pub(in crate::report) fn faced(
    (ours, our_range): (&str, ByteRange),
    (theirs, their_range): (&str, ByteRange),
    shared: &[SharedPlace],
) -> Faced {
    let draft = Side::new(ours, our_range, shared.iter().map(|place| place.draft));
    let order = by_source(shared);
    let source = Side::new(
        theirs,
        their_range,
        order
            .iter()
            .filter_map(|at| shared.get(*at))
            .map(|place| place.source),
    );
    // For each stretch in order of the draft, which stretch of the source's order it is.
    let mut ranks = vec![0; shared.len()];
    for (rank, at) in order.iter().enumerate() {
        if let Some(slot) = ranks.get_mut(*at) {
            *slot = rank;
        }
    }
    let weights: Vec<usize> = draft.stretches.iter().map(Vec::len).collect();
    let kept = heaviest_in_order(&ranks, &weights);
    let moved = shared.iter().zip(&kept).filter(|(_, kept)| !**kept);
    Faced {
        moved: moved.map(|(place, _)| place.by).collect(),
        parts: woven(shared, &draft, &source, &ranks, &kept),
    }
}

/// The stretches that a finding's wording moved: for each the words in the draft.
pub(in crate::report) fn moved(parts: &[Part]) -> Vec<String> {
    let between = parts.iter().filter_map(|part| match part {
        Part::Between { draft, .. } => Some(draft),
        Part::Pair { .. } => None,
    });
    between
        .flatten()
        .filter(|piece| piece.moved.is_some())
        .map(|piece| bare(&piece.words.join(" ")))
        .collect()
}

/// The words swapped for synonyms: the source's and the draft's.
pub(super) fn swapped(parts: &[Part]) -> Vec<(String, String)> {
    let pairs = parts.iter().filter_map(|part| match part {
        Part::Pair {
            by: Counterpart::Synonym,
            source,
            draft,
        } => Some((source, draft)),
        _ => None,
    });
    pairs
        .map(|(source, draft)| (bare(&source.join(" ")), bare(&draft.join(" "))))
        .collect()
}

/// Words without the punctuation at their ends.
fn bare(words: &str) -> String {
    words
        .trim_matches(|c: char| !c.is_alphanumeric() && !c.is_whitespace())
        .to_owned()
}

/// The letter of a moved stretch: `a`, `b`, ..., `z`, `a2`, `b2`.
pub(super) fn letter(number: usize) -> String {
    let letter = char::from(b'a' + u8::try_from(number % 26).unwrap_or_default());
    match number / 26 {
        0 => letter.to_string(),
        round => format!("{letter}{}", round + 1),
    }
}

fn by_source(shared: &[SharedPlace]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..shared.len()).collect();
    order.sort_by_key(|at| shared.get(*at).map(|place| (place.source, place.draft)));
    order
}

/// One wording cut into its shared stretches and what stands between them.
struct Side {
    /// The words of each stretch.
    stretches: Vec<Vec<String>>,
    /// The words before each stretch, and behind the last.
    gaps: Vec<Vec<String>>,
}

impl Side {
    /// Cuts a wording at the given stretches of its Text, which are in order. Punctuation stays with the
    /// word it stands at.
    fn new(text: &str, range: ByteRange, places: impl Iterator<Item = ByteRange>) -> Self {
        let mut side = Self {
            stretches: Vec::new(),
            gaps: Vec::new(),
        };
        let mut at = 0;
        for place in places {
            let start = place.start().saturating_sub(range.start()).max(at);
            let end = place.end().saturating_sub(range.start()).max(start);
            let lead = side.gap(part(text, at, start));
            let mut words = tokens(part(text, start, end));
            match words.first_mut() {
                Some(first) => first.insert_str(0, &lead),
                None => words.push(lead),
            }
            side.stretches.push(words);
            at = end;
        }
        let lead = side.gap(part(text, at, text.len()));
        if let Some(last) = side.gaps.last_mut().filter(|_| !lead.is_empty()) {
            last.push(lead);
        }
        side
    }

    /// Adds the gap before the next stretch. What stands in it without a space at the word before goes
    /// to that word; what stands so at the word behind is handed back.
    fn gap(&mut self, gap: &str) -> String {
        let before = self.stretches.last_mut().and_then(|words| words.last_mut());
        let (tail, rest) = match before {
            Some(_) => gap.split_at(gap.find(char::is_whitespace).unwrap_or(gap.len())),
            None => ("", gap),
        };
        if let Some(before) = before {
            before.push_str(&on_page(tail));
        }
        // The words end behind the last space.
        let words = rest.trim_end_matches(|c: char| !c.is_whitespace());
        let lead = rest.get(words.len()..).unwrap_or_default();
        self.gaps.push(tokens(words));
        on_page(lead).into_owned()
    }
}

/// A part of a text; empty where it does not fit.
fn part(text: &str, start: usize, end: usize) -> &str {
    text.get(start.min(text.len())..end.min(text.len()))
        .unwrap_or_default()
}

fn tokens(text: &str) -> Vec<String> {
    let words = text.split_whitespace();
    words.map(|word| on_page(word).into_owned()).collect()
}

/// Weaves both sides into one row. `kept` says which stretches make pairs.
fn woven(
    shared: &[SharedPlace],
    draft: &Side,
    source: &Side,
    ranks: &[usize],
    kept: &[bool],
) -> Vec<Part> {
    // The letters of moved stretches, in order of the draft.
    let mut letters = vec![None; shared.len()];
    let mut count = 0;
    for (rank, kept) in ranks.iter().zip(kept) {
        if !kept && let Some(letter) = letters.get_mut(*rank) {
            *letter = Some(count);
            count += 1;
        }
    }
    let mut parts = Vec::new();
    let mut theirs = 0;
    let mut ours: Vec<Piece> = Vec::new();
    for (at, (place, rank)) in shared.iter().zip(ranks).enumerate() {
        push(&mut ours, words_of(&draft.gaps, at), None);
        if !kept.get(at).copied().unwrap_or_default() {
            let letter = letters.get(*rank).copied().flatten();
            push(&mut ours, words_of(&draft.stretches, at), letter);
            continue;
        }
        let above = source_pieces(source, &letters, theirs..*rank, *rank);
        between(&mut parts, above, std::mem::take(&mut ours));
        theirs = rank + 1;
        let (above, below) = (
            words_of(&source.stretches, *rank),
            words_of(&draft.stretches, at),
        );
        parts.push(pair(place.by, above, below));
    }
    push(&mut ours, words_of(&draft.gaps, shared.len()), None);
    let above = source_pieces(source, &letters, theirs..shared.len(), shared.len());
    between(&mut parts, above, ours);
    parts
}

/// The source's pieces from one pair to the next: gaps, and stretches that were moved away.
fn source_pieces(
    source: &Side,
    letters: &[Option<usize>],
    moved: Range<usize>,
    last_gap: usize,
) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for rank in moved {
        push(&mut pieces, words_of(&source.gaps, rank), None);
        let letter = letters.get(rank).copied().flatten();
        push(&mut pieces, words_of(&source.stretches, rank), letter);
    }
    push(&mut pieces, words_of(&source.gaps, last_gap), None);
    pieces
}

fn words_of(all: &[Vec<String>], at: usize) -> Vec<String> {
    all.get(at).cloned().unwrap_or_default()
}

fn push(pieces: &mut Vec<Piece>, words: Vec<String>, moved: Option<usize>) {
    if !words.is_empty() {
        pieces.push(Piece { words, moved });
    }
}

fn between(parts: &mut Vec<Part>, source: Vec<Piece>, draft: Vec<Piece>) {
    if !source.is_empty() || !draft.is_empty() {
        parts.push(Part::Between { source, draft });
    }
}

/// A pair; where the two are not cut into the same number of words (`part-night`, `part night`) each side
/// is one column.
fn pair(by: Counterpart, source: Vec<String>, draft: Vec<String>) -> Part {
    let (source, draft) = if source.len() == draft.len() {
        (source, draft)
    } else {
        (vec![source.join(" ")], vec![draft.join(" ")])
    };
    Part::Pair { by, source, draft }
}

/// A quotation and its source; `None` where they are too long to be compared here.
fn quoted(ours: &[String], theirs: &[String]) -> Option<Vec<Part>> {
    let form = |word: &String| normal_form(bare(word).as_str()).into_owned();
    let forms = |words: &[String]| words.iter().map(form).collect::<Vec<_>>();
    let pairs = common(&forms(ours), &forms(theirs))?;
    let mut parts = Vec::new();
    let (mut our_next, mut their_next) = (0, 0);
    let end = (ours.len(), theirs.len());
    for (our_at, their_at) in pairs.into_iter().chain([end]) {
        let (above, below) = (
            alone(theirs, their_next..their_at),
            alone(ours, our_next..our_at),
        );
        between(&mut parts, above, below);
        if let (Some(our_word), Some(their_word)) = (ours.get(our_at), theirs.get(their_at)) {
            add_pair(&mut parts, their_word, our_word);
        }
        (our_next, their_next) = (our_at + 1, their_at + 1);
    }
    Some(parts)
}

/// Words without a counterpart.
fn alone(words: &[String], place: Range<usize>) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let words = words.get(place).unwrap_or_default();
    push(&mut pieces, words.to_vec(), None);
    pieces
}

/// Adds a word that both have to the row, to those before it where these are shared too.
fn add_pair(parts: &mut Vec<Part>, their_word: &str, our_word: &str) {
    if let Some(Part::Pair { source, draft, .. }) = parts.last_mut() {
        source.push(their_word.to_owned());
        draft.push(our_word.to_owned());
    } else {
        parts.push(Part::Pair {
            by: Counterpart::String,
            source: vec![their_word.to_owned()],
            draft: vec![our_word.to_owned()],
        });
    }
}

#[cfg(test)]
#[path = "facing_tests.rs"]
mod tests;
