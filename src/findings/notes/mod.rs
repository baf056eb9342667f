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

mod implied;
mod laid;
mod order;
mod parts;
mod voice;
mod wording;

use std::collections::BTreeSet;
use std::path::PathBuf;

use crate::overlap::{Comparison, Draft};
use crate::review::{Entry, Key, LeftOut, NotAnEntry, PartKind, Review};
use crate::text::MarkedText;

use super::draft::{SEED_WORDS, resolve_all};
use super::fixed::{FixedWords, Phrases};
use super::material::{Desk, Shelf};
use super::passage::Rules;
use super::trail::Trails;
use super::{Explained, Finding, id, quoting, settling};
use laid::Laid;

/// How much of an entry's own source is stored.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum OwnSource {
    /// Its text, or excerpts of it.
    Stored,
    /// Only the abstract that the bibliography file holds.
    Abstract,
    /// Nothing, or the entry's reference is unknown.
    Missing,
}

impl OwnSource {
    /// All, for the schema.
    pub const ALL: [Self; 3] = [Self::Stored, Self::Abstract, Self::Missing];

    /// The name in JSON.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Stored => "stored",
            Self::Abstract => "abstract",
            Self::Missing => "missing",
        }
    }
}

/// A part of an entry and its words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PartWords {
    /// Which.
    pub kind: PartKind,
    /// Its words, quotations included.
    pub words: usize,
}

/// The findings of one entry. In its findings, `draft` is a place in the file of notes.
#[derive(Debug, Clone, PartialEq)]
pub struct EntryReport {
    /// The reference it is about.
    pub key: Option<Key>,
    /// The reference in words, or the entry's heading.
    pub name: String,
    /// The file, relative to the review.
    pub path: PathBuf,
    /// The line of the file it begins on, from 1.
    pub line: usize,
    /// Its parts in order.
    pub parts: Vec<PartWords>,
    /// How many quotations it holds.
    pub quotations: usize,
    /// Whether its own source could be compared.
    pub source: OwnSource,
    /// In order of the text, then of kind.
    pub findings: Vec<Finding>,
    /// Shared wording that is no finding.
    pub explained: Vec<Explained>,
}

impl EntryReport {
    /// The findings that are not settled.
    pub fn open(&self) -> impl Iterator<Item = &Finding> {
        let findings = self.findings.iter();
        findings.filter(|finding| finding.settled.is_none())
    }

    /// Whether nothing is open.
    #[must_use]
    pub fn is_clean(&self) -> bool {
        self.open().next().is_none()
    }
}

/// A reference on which the notes hold no entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WithoutEntry {
    /// Its key.
    pub key: Key,
    /// The reference in words.
    pub name: String,
}

/// The result of `notes`.
#[derive(Debug, Clone, PartialEq)]
pub struct NotesReport {
    /// The review folder as named.
    pub review: PathBuf,
    /// How many sources were compared.
    pub sources: usize,
    /// Words of all sources.
    pub source_words: usize,
    /// The key that alone was asked for.
    pub only: Option<String>,
    /// The entries in order of file and position.
    pub entries: Vec<EntryReport>,
    /// References without an entry in order of their keys; empty where one entry was asked for.
    pub without_entry: Vec<WithoutEntry>,
    /// Prose in the notes that belongs to no entry; empty where one entry was asked for.
    pub not_entries: Vec<NotAnEntry>,
    /// What was not compared and why.
    pub left_out: Vec<LeftOut>,
}

impl NotesReport {
    /// Whether any finding is not settled.
    #[must_use]
    pub fn has_open(&self) -> bool {
        !self.entries.iter().all(EntryReport::is_clean)
    }
}

/// Why the notes can't be checked.
#[derive(Debug, thiserror::Error)]
pub enum NotesError {
    /// There is no entry.
    #[error("{}: no entry was found in the notes, so there is nothing to check; write one under a heading with its key or author and year, then Summary, Quotations, Comments (`ownwords start DIR` lays out an example)", folder.display())]
    NoEntries {
        /// The folder of notes.
        folder: PathBuf,
    },
    /// The reference is known, but has no entry.
    #[error(
        "{key}: {name} is among the references, but the notes hold no entry on it; begin one with a heading such as: ## {name} {{#{key}}}"
    )]
    NotWritten {
        /// The key.
        key: Key,
        /// The reference in words.
        name: String,
    },
    /// No entry has that key.
    #[error("{asked:?}: no entry has this key{}", near_words(near))]
    NoSuchEntry {
        /// As typed.
        asked: String,
        /// The nearest keys of entries, the nearest first.
        near: Vec<String>,
    },
}

fn near_words(near: &[String]) -> String {
    match near {
        [] => "; `ownwords notes` lists the entries".to_owned(),
        near => format!("; did you mean {}?", near.join(" or ")),
    }
}

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

/// The numbers of the entries of a key, upper and lower case aside.
fn chosen(review: &Review, asked: &str) -> Result<Vec<usize>, NotesError> {
    let bare = asked.trim().trim_start_matches('@');
    let named = |entry: &Entry| {
        let key = entry.key.as_ref().map(Key::as_str);
        key.is_some_and(|key| key.eq_ignore_ascii_case(bare))
            || entry.heading.eq_ignore_ascii_case(bare)
    };
    let numbered = review.entries.iter().enumerate();
    let found: Vec<usize> = numbered
        .filter(|(_, entry)| named(entry))
        .map(|(number, _)| number)
        .collect();
    if !found.is_empty() {
        return Ok(found);
    }
    if let Some(key) = review.references.resolve_key(bare).one()
        && let Some(reference) = review.references.get(key)
    {
        return Err(NotesError::NotWritten {
            key: key.clone(),
            name: reference.name(),
        });
    }
    let names: BTreeSet<&str> = review
        .entries
        .iter()
        .map(|entry| {
            entry
                .key
                .as_ref()
                .map_or(entry.heading.as_str(), Key::as_str)
        })
        .collect();
    Err(NotesError::NoSuchEntry {
        asked: asked.to_owned(),
        near: nearest(bare, names),
    })
}

/// Names shown as near.
const MOST_NEAR: usize = 3;

/// Similarity (Jaro-Winkler, 0 to 1) from which on a name is near.
const NEAR: f64 = 0.75;

fn nearest(asked: &str, names: BTreeSet<&str>) -> Vec<String> {
    let asked = asked.to_lowercase();
    let mut near: Vec<(f64, &str)> = names
        .into_iter()
        .map(|name| (strsim::jaro_winkler(&asked, &name.to_lowercase()), name))
        .filter(|(similarity, _)| *similarity >= NEAR)
        .collect();
    // The stable sort leaves equals in order of their names.
    near.sort_by(|(a, _), (b, _)| b.total_cmp(a));
    let names = near.into_iter().take(MOST_NEAR);
    names.map(|(_, name)| name.to_owned()).collect()
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
