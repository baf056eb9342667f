//! Gathers the quotations of notes and drafts, each looked up in the sources.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use rayon::prelude::*;

use super::shares::{self, Chapter};
use super::{Credited, Fidelity, Quoted, Unmarked, Where};
use crate::findings::laid::LaidDraft;
use crate::findings::lost_marks::{LostMarks, lost_marks};
use crate::findings::quoting::{self, Looked, Sharing};
use crate::findings::session::{Holding, Session};
use crate::review::{Entry, Key, NoteFile, PartKind};
use crate::text::{ByteRange, MarkedText};

use quoting::matching::Match;

/// The quotations of all entries, in order of file and place.
pub(super) fn from_notes(session: &Arc<Session>) -> Vec<Quoted> {
    let review = &session.review;
    let mut entries_of: Vec<Vec<&Entry>> = vec![Vec::new(); review.note_files.len()];
    for entry in &review.entries {
        if let Some(entries) = entries_of.get_mut(entry.file) {
            entries.push(entry);
        }
    }
    let files: Vec<(&NoteFile, Vec<&Entry>)> = review
        .note_files
        .iter()
        .zip(entries_of)
        .filter(|(file, entries)| !file.text.quotations.is_empty() && !entries.is_empty())
        .collect();
    let texts: Vec<Arc<MarkedText>> = files
        .iter()
        .map(|(file, _)| Arc::clone(&file.text))
        .collect();
    let laid = session.lay_notes(&texts);
    let of_file = |((file, entries), laid): (&(&NoteFile, Vec<&Entry>), &LaidDraft)| {
        let shared = Sharing::with_sources(laid);
        let mut all = Vec::new();
        for entry in entries {
            let parts = entry.parts.iter();
            for part in parts.filter(|part| part.kind != PartKind::Reference) {
                let key = entry.key.as_ref();
                let looked = quoting::look_noted(laid, &shared, part.range, key);
                all.extend(looked.iter().map(|looked| {
                    let at = Where::Notes {
                        entry: key.map_or_else(|| entry.heading.clone(), Key::to_string),
                        part: part.kind,
                    };
                    quoted(looked, laid, at, &file.path)
                }));
            }
        }
        all
    };
    files.par_iter().zip(&laid).flat_map_iter(of_file).collect()
}

/// Words of a draft that stand in marks in the notes: the file of notes, where in it, where in the draft.
pub(super) type Lost = (PathBuf, ByteRange, Unmarked);

/// Tells the quotations of the notes where a draft has their words without marks.
pub(super) fn note_lost(quoted: &mut [Quoted], lost: Vec<Lost>) {
    for (path, range, unmarked) in lost {
        let noted = quoted.iter_mut().filter(|quoted| !quoted.is_used());
        for quoted in noted.filter(|quoted| quoted.path == path && quoted.range.overlaps(range)) {
            quoted.unmarked.push(unmarked.clone());
        }
    }
}

fn lost(laid: &LaidDraft, path: &Path) -> Vec<Lost> {
    let session = &laid.session;
    let place = |lost: &LostMarks| {
        let Some(Holding::Note(entry, _)) = session.holding(lost.document) else {
            return None;
        };
        let file = session.review.note_files.get(entry.file)?;
        let stored = session.library.documents.get(lost.document)?;
        let place = laid.place_of(lost.draft);
        let unmarked = Unmarked {
            path: path.to_owned(),
            line: place.line,
            text: place.text,
        };
        let range = stored.stream.bytes(&stored.text, lost.note);
        Some((file.path.clone(), range, unmarked))
    };
    lost_marks(laid).iter().filter_map(place).collect()
}

/// What a draft adds to the account.
pub(super) struct OfDraft {
    /// The share of its quoted words.
    pub chapter: Chapter,
    /// Its quotations.
    pub quoted: Vec<Quoted>,
    /// What lost its marks on the way from the notes.
    pub lost: Vec<Lost>,
}

/// What a draft adds to the account. It goes by the name that notes and sources go by.
pub(super) fn from_draft(laid: &LaidDraft) -> OfDraft {
    let path = laid.session.review.relative(&laid.path);
    let mut chapter = shares::chapter(&path, &laid.draft);
    chapter.remarks.clone_from(&laid.remarks);
    let looked = quoting::look_all(laid);
    let quoted = looked.iter().map(|looked| {
        let section = chapter.count(looked.quotation.outer.start());
        quoted(looked, laid, Where::Draft { section }, &path)
    });
    OfDraft {
        quoted: quoted.collect(),
        chapter,
        lost: lost(laid, &path),
    }
}

fn quoted(looked: &Looked<'_>, laid: &LaidDraft, at: Where, path: &Path) -> Quoted {
    let place = laid.place(looked.quotation.outer);
    let text = &laid.text().text;
    let found = looked.found.as_ref();
    let key = found.and_then(|(document, _)| Some(&laid.session.source(*document)?.key));
    let fidelity = fidelity(looked, laid);
    let is_known = !matches!(fidelity, Fidelity::Translated | Fidelity::NotFound);
    let places = found.filter(|_| is_known).map(|(document, found)| {
        let places = match found {
            Match::Joined(joined) => joined.places.as_slice(),
            other => other.places().get(..1).unwrap_or_default(),
        };
        let place = |words: &crate::overlap::StreamRange| laid.source_place(*document, *words);
        places.iter().filter_map(place).collect()
    });
    let differences = match found {
        Some((_, Match::Altered(_, differences))) if is_known => differences.clone(),
        _ => Vec::new(),
    };
    let citation = looked.citation.map(|credited| credited.citation.range);
    let is_credited = looked.citation.is_some() || !looked.cited.is_empty();
    let credit = match (is_credited, key.filter(|_| is_known)) {
        (false, _) => Credited::None,
        // A citation that points at no reference may well be of the work that has the words.
        (true, Some(key)) if !looked.cited.is_empty() && !looked.cited.contains(key) => {
            Credited::Elsewhere
        }
        (true, _) => Credited::Right,
    };
    Quoted {
        at,
        path: path.to_owned(),
        range: place.range,
        line: place.line,
        text: place.text,
        form: looked.quotation.form,
        words: looked.words,
        citation: citation.map(|range| text.slice(range).to_owned()),
        cited: looked.cited.iter().map(|key| laid.name(key)).collect(),
        locator: looked
            .locator
            .as_ref()
            .map(|locator| locator.written.clone()),
        secondary: looked.secondary,
        found: places.unwrap_or_default(),
        unmarked: Vec::new(),
        fidelity,
        differences,
        page: looked.page_check(&laid.session),
        credit,
        key: key.or(looked.cited.first()).cloned(),
        span: found
            .filter(|_| is_known)
            .and_then(|(document, found)| Some((*document, *found.places().first()?))),
        forms: looked.forms.iter().flatten().cloned().collect(),
    }
}

fn fidelity(looked: &Looked<'_>, laid: &LaidDraft) -> Fidelity {
    let exact = matches!(looked.found, Some((_, Match::Exact(_))));
    match &looked.found {
        Some((_, Match::Exact(_))) => Fidelity::Exact,
        _ if looked.translated && !exact => Fidelity::Translated,
        Some((_, Match::Altered(..))) => Fidelity::Altered,
        Some((_, Match::Joined(_))) => Fidelity::Joined,
        None => {
            let mut cited = looked.cited.iter();
            let is_stored = |key: &Key| laid.session.has_text(key);
            if cited.any(is_stored) {
                Fidelity::NotFound
            } else {
                Fidelity::NotStored
            }
        }
    }
}
