//! The check of the notes: every entry against its source and the other sources, and the entries as
//! such.
//!
//! 1. The parts of the entries are put together as one text and laid on the session (`together`), so that a long
//!    library is read past them once. An entry's quotations are credited to its own reference (`implied`): within an
//!    entry nobody writes the name behind every quotation, only the page.
//! 2. The rules of a draft are asked, and their answers read as notes want it (`wording`): whole copies and
//!    close wording are reported, free paraphrase is what a summary is; in the comments both are
//!    `comment-copies-source`.
//! 3. The entries as such: the writer's own voice in a summary (`voice`), missing parts and references
//!    (`parts`), alphabetical order (`order`).
//! 4. Each finding goes back to its place in the file of notes.

mod choice;
mod implied;
mod order;
mod parts;
mod report;
mod together;
mod voice;
mod wording;

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::Arc;

use crate::review::{Key, LeftOut, NoteFile, Review, Why};

use super::judging::Rules;
use super::session::Session;
use super::trail::Trails;
use super::{Explained, Observation, applying_decisions, quoting};
pub use choice::NotesError;
pub use report::{EntryReport, NotesReport, OwnSource, PartWords, WithoutEntry};

use choice::chosen;
use together::Together;

impl Session {
    /// Checks the notes of the review, or the entries of one key alone.
    ///
    /// # Errors
    /// [`NotesError`] where there is no entry, or none of that key.
    pub fn check_notes(self: &Arc<Self>, only: Option<&str>) -> Result<NotesReport, NotesError> {
        let review = &self.review;
        if review.entries.is_empty() {
            return Err(NotesError::NoEntries {
                folder: review.root.join(&review.settings.notes),
            });
        }
        let chosen = match only {
            Some(asked) => chosen(review, asked)?,
            None => (0..review.entries.len()).collect(),
        };
        let entries = entries(self, &chosen, only.is_some());
        let left_out = left_out(review, &entries, only.is_some());
        let of_all = only.is_none();
        Ok(NotesReport {
            review: review.root.clone(),
            sources: review.sources.len(),
            source_words: self.source_words(),
            only: only.map(str::to_owned),
            entries,
            without_entry: match of_all {
                true => without_entry(self),
                false => Vec::new(),
            },
            not_entries: match of_all {
                true => review.not_entries.clone(),
                false => Vec::new(),
            },
            left_out,
        })
    }
}

/// The entries of these numbers with their findings. All entries of their files are looked at, since findings of one file
/// are named and settled together: the same words in two entries are two findings, whichever is shown.
fn entries(session: &Arc<Session>, chosen: &[usize], only_one: bool) -> Vec<EntryReport> {
    let review = &session.review;
    let file_of = |number: &usize| review.entries.get(*number).map(|entry| entry.file);
    let files: BTreeSet<usize> = chosen.iter().filter_map(file_of).collect();
    let all = 0..review.entries.len();
    let all: Vec<usize> = all
        .filter(|number| file_of(number).is_some_and(|file| files.contains(&file)))
        .collect();
    let together = Together::new(review, &all);
    let mut found = seen(session, &together);
    let mut order = match only_one {
        true => BTreeMap::new(),
        false => order::judge_all(review),
    };
    let mut entries = Vec::with_capacity(all.len());
    let mut seen = Vec::with_capacity(all.len());
    for number in &all {
        let mut report = entry_report(session, &together, *number);
        report.explained = found.explained.remove(number).unwrap_or_default();
        let entry = &review.entries[*number];
        let mut of_entry = found.seen.remove(number).unwrap_or_default();
        of_entry.extend(parts::judge(review, entry, &report));
        of_entry.extend(voice::judge(review, entry));
        of_entry.extend(order.remove(number));
        of_entry.sort_by_key(|one| (one.draft.range, one.kind));
        entries.push(report);
        seen.push(of_entry);
    }
    name_all(&mut entries, seen, review);
    let chosen: BTreeSet<&usize> = chosen.iter().collect();
    let shown = all.iter().zip(entries);
    let shown = shown.filter(|(number, _)| chosen.contains(number));
    shown.map(|(_, entry)| entry).collect()
}

/// What was left out, without what a finding reports; of one entry, what is about its reference or file.
fn left_out(review: &Review, entries: &[EntryReport], one: bool) -> Vec<LeftOut> {
    let without_key = entries.iter().filter(|entry| entry.key.is_none());
    let headings: BTreeSet<(&Path, usize)> = without_key
        .map(|entry| (entry.path.as_path(), entry.line))
        .collect();
    let keys: BTreeSet<&str> = entries
        .iter()
        .filter_map(|entry| entry.key.as_ref().map(Key::as_str))
        .collect();
    let files: BTreeSet<&Path> = entries.iter().map(|entry| entry.path.as_path()).collect();
    let is_reported = |left: &LeftOut| match left.why {
        Why::UnknownHeading { line, .. } => headings.contains(&(Path::new(&left.what), line)),
        _ => false,
    };
    let is_about =
        |left: &LeftOut| keys.contains(left.what.as_str()) || files.contains(Path::new(&left.what));
    let kept = review.left_out.iter();
    kept.filter(|left| !is_reported(left) && (!one || is_about(left)))
        .cloned()
        .collect()
}

fn entry_report(session: &Session, together: &Together, number: usize) -> EntryReport {
    let review = &session.review;
    let entry = &review.entries[number];
    let file = &review.note_files[entry.file];
    let words = |range| file.text.words_in(range).len();
    EntryReport {
        key: entry.key.clone(),
        name: entry
            .key
            .as_ref()
            .map_or_else(|| entry.heading.clone(), |key| session.name(key)),
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
        quotations: together
            .quotations
            .get(&number)
            .copied()
            .unwrap_or_default(),
        source: match &entry.key {
            Some(key) if session.has_text(key) => OwnSource::Stored,
            Some(key) if session.documents_of(key).next().is_some() => OwnSource::Abstract,
            _ => OwnSource::Missing,
        },
        findings: Vec::new(),
        explained: Vec::new(),
    }
}

/// Findings and explanations by the numbers of their entries, at their places in the files of notes.
#[derive(Default)]
struct Found {
    seen: BTreeMap<usize, Vec<Observation>>,
    explained: BTreeMap<usize, Vec<Explained>>,
}

fn seen(session: &Arc<Session>, together: &Together) -> Found {
    let review = &session.review;
    let mut found = Found::default();
    let Some(laid) = session.lay_notes(&[Arc::clone(&together.text)]).pop() else {
        return found;
    };
    let rules = Rules {
        laid: &laid,
        trails: Trails::new(Vec::new()),
        lost: Vec::new(),
    };
    let passages = laid.source_passages();
    let (mut findings, explained) = wording::judge_all(&rules, &passages, together);
    let quoted = quoting::judge_all(&laid);
    findings.extend(quoted.into_iter().filter_map(|finding| {
        let part = together.at(finding.draft.range)?;
        wording::of_quotation(finding, part, &laid).map(|finding| (part, finding))
    }));
    for (part, finding) in findings {
        let of_entry = found.seen.entry(part.entry).or_default();
        of_entry.push(together.home(review, part, finding));
    }
    for (part, explained) in explained {
        let draft = together.place(review, part, explained.draft.range);
        let of_entry = found.explained.entry(part.entry).or_default();
        of_entry.push(Explained { draft, ..explained });
    }
    found
}

/// Makes findings of what was seen in each file together, as of what was seen in a draft, so that the same words in two
/// entries of it keep apart.
fn name_all(entries: &mut [EntryReport], seen: Vec<Vec<Observation>>, review: &Review) {
    let files = review.note_files.iter();
    // Of files of one path the first, as everywhere.
    let files: BTreeMap<&Path, &NoteFile> = files
        .rev()
        .map(|file| (file.path.as_path(), file))
        .collect();
    let mut seen = seen.into_iter();
    for of_file in entries.chunk_by_mut(|a, b| a.path == b.path) {
        let of_entries: Vec<Vec<Observation>> = seen.by_ref().take(of_file.len()).collect();
        let counts: Vec<usize> = of_entries.iter().map(Vec::len).collect();
        let path = of_file.first().map(|entry| entry.path.as_path());
        let Some(file) = path.and_then(|path| files.get(path)) else {
            continue;
        };
        let name = review.name_of(&review.root.join(&file.path));
        let all = of_entries.into_iter().flatten().collect();
        // Which decisions no longer hold is reported where settling is the subject; here one entry may be all there is.
        let (named, _) =
            applying_decisions::findings(&review.decisions, &name, &file.text.text, all);
        let mut named = named.into_iter();
        for (entry, count) in of_file.iter_mut().zip(counts) {
            entry.findings = named.by_ref().take(count).collect();
        }
    }
}

fn without_entry(session: &Session) -> Vec<WithoutEntry> {
    let review = &session.review;
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
