//! The writer's own wording that stands in an earlier chapter too: `own-words-repeated`. Looked for only where
//! the setting `repeated_words` asks for it.
//!
//! 1. The prose of all chapters is laid out as a library of its own, and each chapter is laid on it.
//! 2. Every run of words that a chapter shares with one before it, of at least as many words outside quotation marks
//!    as the setting says, is reported at its place, the longest first where several meet.
//! 3. Runs that are fixed wording, or for the most part a finding against a source, are left alone: such words
//!    are nobody's, or not the writer's.

use std::sync::Arc;

use super::laid::{LaidDraft, whole_sentence};
use super::{Kind, Observation, Weight};
use crate::overlap::strings::Run;
use crate::overlap::{Draft, Library, SharedStrings};
use crate::paths::portable;
use crate::review::{DraftFile, Review};
use crate::text::{ByteRange, MarkedText};

/// Chapters set against one another.
#[derive(Debug)]
pub(crate) struct Chapters<'c> {
    files: &'c [DraftFile],
    library: Library,
    drafts: Vec<Draft>,
    strings: Vec<SharedStrings>,
    least: usize,
}

/// One of them, by its number, set against those before it.
#[derive(Debug, Clone, Copy)]
pub struct Chapter<'c> {
    all: &'c Chapters<'c>,
    number: usize,
}

impl<'c> Chapters<'c> {
    /// The chapters of a review in order; `None` where its settings don't ask for what they repeat.
    #[must_use]
    pub(crate) fn new(review: &Review, files: &'c [DraftFile]) -> Option<Self> {
        let asked = review.settings.repeated_words;
        let least = asked.filter(|_| files.len() > 1)?;
        let texts: Vec<Arc<MarkedText>> = files.iter().map(|file| Arc::clone(&file.text)).collect();
        let library = Library::of_whole(&texts);
        let words = review.settings.quotation_words;
        let laid = |text| Draft::new(text, &library, words);
        let drafts: Vec<Draft> = texts.iter().map(laid).collect();
        let all: Vec<&Draft> = drafts.iter().collect();
        let strings = library.shared_strings(&all, least, &(0..files.len()));
        Some(Self {
            files,
            library,
            drafts,
            strings,
            least,
        })
    }

    /// The chapter of a number, from 0.
    #[must_use]
    pub(crate) fn chapter(&'c self, number: usize) -> Chapter<'c> {
        Chapter { all: self, number }
    }
}

impl Chapter<'_> {
    /// Words of a run that stand outside quotation marks.
    fn own_words(&self, run: &Run) -> usize {
        let quoted = self.all.drafts.get(self.number).map(|draft| &draft.quoted);
        let quoted = quoted.and_then(|quoted| quoted.get(run.draft.as_range()));
        let words = quoted.unwrap_or_default().iter();
        words.filter(|quoted| !**quoted).count()
    }

    /// The runs that the chapter shares with those before it, each with the number of the other: the longest first, then
    /// the first in the chapter, then the earliest other.
    fn runs(&self) -> Vec<(Run, usize)> {
        let of_chapter = self.all.strings.get(self.number);
        let shared = of_chapter.into_iter().flat_map(SharedStrings::iter);
        let before = shared.take_while(|(number, _)| *number < self.number);
        let mut runs: Vec<(Run, usize)> = before
            .flat_map(|(number, runs)| runs.iter().map(move |run| (*run, number)))
            .filter(|(run, _)| self.own_words(run) >= self.all.least)
            .collect();
        runs.sort_by_key(|(run, number)| (std::cmp::Reverse(run.draft.len()), run.draft, *number));
        runs
    }
}

/// All findings of the kind in a chapter; `found` are its other findings.
#[must_use]
pub(super) fn judge_all(
    laid: &LaidDraft,
    chapter: Chapter<'_>,
    found: &[Observation],
) -> Vec<Observation> {
    let mut taken: Vec<Run> = Vec::new();
    let mut findings = Vec::new();
    for (run, other) in chapter.runs() {
        let is_taken = taken.iter().any(|other| other.draft.overlaps(run.draft));
        if is_taken || laid.fixed.explanation(&run, laid).is_some() {
            continue;
        }
        taken.push(run);
        let text = laid.text();
        let place = whole_sentence(text, laid.draft.stream.bytes(text, run.draft));
        let from_source = |finding: &Observation| {
            finding.source.is_some()
                && finding.draft.range.intersection(place).len() * 2 > place.len()
        };
        if !found.iter().any(from_source) {
            findings.extend(finding(laid, place, (chapter, other, run)));
        }
    }
    findings
}

fn finding(
    laid: &LaidDraft,
    place: ByteRange,
    (chapter, other, run): (Chapter<'_>, usize, Run),
) -> Option<Observation> {
    let (file, document) = (
        chapter.all.files.get(other)?,
        chapter.all.library.documents.get(other)?,
    );
    let there = document.stream.bytes(&file.text, run.source);
    let line = file.text.text.line(there.start());
    let (words, path) = (chapter.own_words(&run), portable(&file.path));
    let advice = format!(
        "{words} words in a row of your own stand in {path}, line {line}, too. Say it once and point to it, or leave it where both chapters need it."
    );
    Some(Observation::new(
        Kind::OwnWordsRepeated,
        Weight::Know,
        laid.place(place),
        advice,
    ))
}
