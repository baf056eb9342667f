//! The check of the notes: every entry against its source and the other sources, and the entries as
//! such.
//!
//! 1. The parts of the entries are laid on the desk as one draft ([`laid`]), so that a long library is
//!    read past them once. An entry's quotations are credited to its own reference ([`implied`]): within an
//!    entry nobody writes the name behind every quotation, only the page.
//! 2. The rules of a draft are asked, and their answers read as notes want it ([`wording`]): whole copies and
//!    close wording are told, free paraphrase is what a summary is; in the comments both are
//!    `comment-copies-source`.
//! 3. The entries as such: the writer's own voice in a summary ([`voice`]), missing parts and references
//!    ([`parts`]), alphabetical order ([`order`]).
//! 4. Each finding goes back to its place in the file of notes.

mod choice;
mod implied;
mod laid;
mod order;
mod parts;
mod told;
mod voice;
mod wording;

use std::collections::BTreeSet;

use crate::overlap::{Comparison, Draft};
use crate::review::{Key, LeftOut, Review};
use crate::text::MarkedText;

use super::draft::{SEED_WORDS, resolve_all};
use super::fixed::{FixedWords, Phrases};
use super::material::{Desk, Shelf};
use super::passage::Rules;
use super::trail::Trails;
use super::{Explained, Finding, id, quoting, settling};
pub use choice::NotesError;
pub use told::{EntryReport, NotesReport, OwnSource, PartWords, WithoutEntry};

use choice::chosen;
use laid::Laid;

/// Checks the notes of a review, or the entries of one key alone.
///
/// # Errors
/// [`NotesError`] where there is no entry, or none of that key.
pub fn check_notes(review: &Review, only: Option<&str>) -> Result<NotesReport, NotesError> {
    if review.entries.is_empty() {
        return Err(NotesError::NoEntries {
            folder: review.root.join(&review.settings.notes),
        });
    }
    let chosen = match only {
        Some(asked) => chosen(review, asked)?,
        None => (0..review.entries.len()).collect(),
    };
    let mut shelf = Shelf::of_sources(review);
    let laid = Laid::new(review, &chosen);
    let mut entries: Vec<EntryReport> = chosen
        .iter()
        .map(|number| entry_report(&shelf, &laid, *number))
        .collect();
    let found = findings(&mut shelf, &laid);
    for (number, report) in chosen.iter().zip(&mut entries) {
        let (own, explained) = (&found.findings, &found.explained);
        let own = own.iter().filter(|(entry, _)| entry == number);
        report.findings = own.map(|(_, finding)| finding.clone()).collect();
        let entry = &review.entries[*number];
        report.findings.extend(parts::judge(review, entry, report));
        report.findings.extend(voice::judge(review, entry));
        if only.is_none() {
            report.findings.extend(order::judge(review, *number));
        }
        report
            .findings
            .sort_by_key(|finding| (finding.draft.range, finding.kind));
        let explained = explained.iter().filter(|(entry, _)| entry == number);
        report.explained = explained.map(|(_, explained)| explained.clone()).collect();
    }
    name_all(&mut entries, review);
    let left_out = left_out(review, &entries, only.is_some());
    let mut report = NotesReport {
        review: review.root.clone(),
        sources: review.sources.len(),
        source_words: review.sources.iter().map(|one| one.text.words.len()).sum(),
        only: only.map(str::to_owned),
        entries,
        without_entry: Vec::new(),
        not_entries: Vec::new(),
        left_out,
    };
    if only.is_none() {
        report.without_entry = without_entry(&shelf);
        report.not_entries.clone_from(&review.not_entries);
    }
    Ok(report)
}

/// What was left out, without what a finding tells; of one entry, what is about its reference or file.
fn left_out(review: &Review, entries: &[EntryReport], one: bool) -> Vec<LeftOut> {
    let is_told = |left: &LeftOut| {
        entries.iter().any(|entry| {
            let line = format!("line {}: the heading ", entry.line);
            entry.key.is_none() && is_file(left, entry) && left.why.starts_with(&line)
        })
    };
    let is_about = |left: &LeftOut| {
        entries.iter().any(|entry| {
            let key = entry.key.as_ref().map(Key::as_str);
            key == Some(left.what.as_str()) || is_file(left, entry)
        })
    };
    let kept = review.left_out.iter();
    kept.filter(|left| !is_told(left) && (!one || is_about(left)))
        .cloned()
        .collect()
}

fn is_file(left: &LeftOut, entry: &EntryReport) -> bool {
    std::path::Path::new(&left.what) == entry.path
}

fn entry_report(shelf: &Shelf<'_>, laid: &Laid, number: usize) -> EntryReport {
    let review = shelf.review;
    let entry = &review.entries[number];
    let file = &review.note_files[entry.file];
    let words = |range| file.text.words_in(range).len();
    EntryReport {
        key: entry.key.clone(),
        name: entry
            .key
            .as_ref()
            .map_or_else(|| entry.heading.clone(), |key| shelf.name(key)),
        path: file.path.clone(),
        line: file.text.text.line(entry.range.start()),
        parts: entry
            .parts
            .iter()
            .map(|part| PartWords {
                kind: part.kind,
                words: words(part.range),
            })
            .collect(),
        quotations: laid.quotations(number, review.settings.quotation_words),
        source: match &entry.key {
            Some(key) if shelf.has_text(key) => OwnSource::Stored,
            Some(key) if shelf.documents_of(key).next().is_some() => OwnSource::Abstract,
            _ => OwnSource::Missing,
        },
        findings: Vec::new(),
        explained: Vec::new(),
    }
}

/// Findings and explanations with the numbers of their entries, at their places in the files of notes.
struct Found {
    findings: Vec<(usize, Finding)>,
    explained: Vec<(usize, Explained)>,
}

fn findings(shelf: &mut Shelf<'_>, laid: &Laid) -> Found {
    let review = shelf.review;
    let text: &MarkedText = &laid.text;
    let mut draft = Draft::new(text, &mut shelf.library, review.settings.quotation_words);
    let lexicon = &shelf.library.lexicon;
    let fixed = FixedWords::new(&draft, lexicon, &Phrases::new(review));
    draft.fix(fixed.in_expressions(), lexicon);
    let shelf: &Shelf<'_> = shelf;
    let desk = Desk {
        shelf,
        draft,
        citations: resolve_all(text, shelf, &[]),
    };
    let run_words = review.settings.run_words;
    let overlap = shelf
        .library
        .overlap(&desk.draft, run_words.min(SEED_WORDS));
    let comparison = Comparison {
        draft: &desk.draft,
        library: &shelf.library,
        overlap: &overlap,
        among: shelf.sources(),
        run_words,
    };
    let passages = comparison.passages();
    let rules = Rules {
        desk: &desk,
        fixed,
        trails: Trails::new(Vec::new()),
        lost: Vec::new(),
    };
    let (mut findings, explained) = wording::judge_all(&rules, &passages, laid);
    let quoted = quoting::judge_all(&desk, &overlap);
    findings.extend(quoted.into_iter().filter_map(|finding| {
        let stretch = laid.at(finding.draft.range)?;
        wording::of_quotation(finding, stretch, &desk).map(|finding| (stretch, finding))
    }));
    let home = |(stretch, finding): (&laid::Stretch, Finding)| {
        (stretch.entry, laid.home(review, stretch, finding))
    };
    Found {
        findings: findings.into_iter().map(home).collect(),
        explained: explained
            .into_iter()
            .map(|(stretch, explained)| {
                let draft = laid.place(review, stretch, explained.draft.range);
                (stretch.entry, Explained { draft, ..explained })
            })
            .collect(),
    }
}

/// Names the findings of each file together, as those of a draft, so that the same words in two entries
/// of it keep apart, and settles those that were decided on.
fn name_all(entries: &mut [EntryReport], review: &Review) {
    for of_file in entries.chunk_by_mut(|a, b| a.path == b.path) {
        let counts: Vec<usize> = of_file.iter().map(|entry| entry.findings.len()).collect();
        let mut all: Vec<Finding> = of_file
            .iter_mut()
            .flat_map(|entry| std::mem::take(&mut entry.findings))
            .collect();
        id::name_all(&mut all);
        let path = of_file.first().map(|entry| entry.path.as_path());
        let file = review
            .note_files
            .iter()
            .find(|file| Some(file.path.as_path()) == path);
        if let Some(file) = file {
            let name = review.name_of(&review.root.join(&file.path));
            // Which decisions no longer hold is told where settling is the subject; here one entry may be all there is.
            settling::settle_all(&review.decisions, &name, &file.text.text, &mut all);
        }
        let mut named = all.into_iter();
        for (entry, count) in of_file.iter_mut().zip(counts) {
            entry.findings = named.by_ref().take(count).collect();
        }
    }
}

fn without_entry(shelf: &Shelf<'_>) -> Vec<WithoutEntry> {
    let review = shelf.review;
    let written: BTreeSet<&Key> = review
        .entries
        .iter()
        .filter_map(|entry| entry.key.as_ref())
        .collect();
    let missing = review
        .references
        .iter()
        .filter(|reference| !written.contains(&reference.key));
    missing
        .map(|reference| WithoutEntry {
            key: reference.key.clone(),
            name: reference.name(),
        })
        .collect()
}
