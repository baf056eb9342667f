//! The writer's own wording that stands in an earlier chapter too: `own-words-repeated`. Looked for only where
//! the setting `repeated_words` asks for it.
//!
//! 1. The prose of the chapters before is laid out as a library of its own.
//! 2. Every run of words that the chapter shares with it, of at least as many words outside quotation marks
//!    as the setting says, is told at its place, the longest first where several meet.
//! 3. Runs that are fixed wording, or for the most part a finding against a source, are left alone: such words
//!    are nobody's, or not the writer's.

use std::path::Path;

use super::fixed::FixedWords;
use super::material::{Desk, whole_sentence};
use super::{Finding, Kind, Weight};
use crate::overlap::strings::{Run, StringIndex};
use crate::overlap::{Document, Draft, Library};
use crate::paths::portable;
use crate::text::{ByteRange, MarkedText};

/// A chapter that comes before the one under check.
#[derive(Debug, Clone, Copy)]
pub struct Chapter<'a> {
    /// Its file as named.
    pub path: &'a Path,
    /// Its text.
    pub text: &'a MarkedText,
}

/// All findings of the kind in the draft on the desk; `found` are its findings so far.
#[must_use]
pub fn judge_all(
    desk: &Desk<'_>,
    earlier: &[Chapter<'_>],
    fixed: &FixedWords,
    found: &[Finding],
) -> Vec<Finding> {
    let settings = &desk.shelf.review.settings;
    let Some(least) = settings.repeated_words.filter(|_| !earlier.is_empty()) else {
        return Vec::new();
    };
    let whole = |chapter: &Chapter<'_>| ByteRange::of(0, chapter.text.text.content().len());
    let texts: Vec<_> = earlier
        .iter()
        .map(|one| (one.text, vec![whole(one)]))
        .collect();
    let mut library = Library::new(&texts, texts.len());
    let draft = Draft::new(desk.text(), &mut library, settings.quotation_words);
    let strings = StringIndex::new(&draft.stream.forms, least);
    let own = |run: &Run| {
        let words = run.draft.as_range();
        words
            .filter(|at| draft.quoted.get(*at) == Some(&false))
            .count()
    };
    let mut runs: Vec<(Run, usize)> = Vec::new();
    for (number, document) in library.documents.iter().enumerate() {
        let shared = strings.shared_runs(&document.stream.forms);
        runs.extend(
            shared
                .into_iter()
                .filter(|run| own(run) >= least)
                .map(|run| (run, number)),
        );
    }
    // The longest first, then the first in the draft, then the earliest chapter.
    runs.sort_by_key(|(run, number)| (std::cmp::Reverse(run.draft.len()), run.draft, *number));
    let mut taken: Vec<Run> = Vec::new();
    let mut findings = Vec::new();
    for (run, number) in runs {
        let is_taken = taken.iter().any(|other| other.draft.overlaps(run.draft));
        let (Some(chapter), Some(document)) = (earlier.get(number), library.documents.get(number))
        else {
            continue;
        };
        if is_taken || fixed.explanation(&run, desk).is_some() {
            continue;
        }
        taken.push(run);
        let place = whole_sentence(desk.text(), draft.stream.bytes(desk.text(), run.draft));
        let from_source = |finding: &Finding| {
            finding.source.is_some()
                && finding.draft.range.intersection(place).len() * 2 > place.len()
        };
        if !found.iter().any(from_source) {
            findings.push(finding(desk, place, own(&run), (chapter, document, run)));
        }
    }
    findings
}

fn finding(
    desk: &Desk<'_>,
    place: ByteRange,
    words: usize,
    (chapter, document, run): (&Chapter<'_>, &Document<'_>, Run),
) -> Finding {
    let there = document.stream.bytes(chapter.text, run.source);
    let line = chapter.text.text.line(there.start());
    let path = portable(chapter.path);
    let advice = format!(
        "{words} words in a row of your own stand in {path}, line {line}, too. Say it once and point to it, or leave it where both chapters need it."
    );
    Finding::new(
        Kind::OwnWordsRepeated,
        Weight::Know,
        desk.place(place),
        advice,
    )
}
