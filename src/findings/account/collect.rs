//! Gathers the quotations of notes and drafts, each looked up in the sources.

use std::path::{Path, PathBuf};

use rayon::prelude::*;

use super::shares::{self, Chapter};
use super::{Credited, Fidelity, Quoted, Unmarked, Where};
use crate::findings::draft::resolve_all;
use crate::findings::lists::listed;
use crate::findings::material::{Desk, Origin, Shelf};
use crate::findings::quoting::{self, Looked, Sharing, Titles};
use crate::findings::trail::{LostMarks, lost_marks};
use crate::overlap::lexicon::FormId;
use crate::overlap::stream::{Compared, Stream};
use crate::overlap::strings::{Run, StringIndex};
use crate::overlap::{Draft, Library, Overlap};
use crate::review::{Entry, Key, PartKind};
use crate::text::{ByteRange, MarkedText, WordRange};
use crate::wording::normal_form;

use quoting::matching::Match;

/// Words of a shared string that leads to a source other than the one cited.
const SEED_WORDS: usize = 5;

/// The quotations of all entries, in order of file and place.
pub(super) fn from_notes(shelf: &Shelf<'_>) -> Vec<Quoted> {
    let review = shelf.review;
    let titles = Titles::of(&shelf.references);
    let mut entries_of: Vec<Vec<&Entry>> = vec![Vec::new(); review.note_files.len()];
    for entry in &review.entries {
        if let Some(entries) = entries_of.get_mut(entry.file) {
            entries.push(entry);
        }
    }
    let with_quotations = review
        .note_files
        .iter()
        .zip(entries_of)
        .filter(|(file, entries)| !file.text.quotations.is_empty() && !entries.is_empty());
    let (files, drafts): (Vec<_>, Vec<Draft<'_>>) = with_quotations
        .filter_map(|(file, entries)| {
            Some(((file, entries), as_draft(&file.text, &shelf.library)?))
        })
        .unzip();
    let shared = shared_with_sources(shelf, &drafts);
    let mut all = Vec::new();
    for (((file, entries), draft), shared) in files.into_iter().zip(drafts).zip(shared) {
        let desk = Desk {
            shelf,
            draft,
            citations: resolve_all(&file.text, shelf, &[]),
        };
        for entry in entries {
            let parts = entry.parts.iter();
            for part in parts.filter(|part| part.kind != PartKind::Reference) {
                let key = entry.key.as_ref();
                let looked = quoting::look_noted(&desk, &shared, &titles, part.range, key);
                all.extend(looked.iter().map(|looked| {
                    let at = Where::Notes {
                        entry: key.map_or_else(|| entry.heading.clone(), Key::to_string),
                        part: part.kind,
                    };
                    quoted(looked, &desk, at, &file.path)
                }));
            }
        }
    }
    all
}

/// A file of notes as a draft is compared. Its words are in the library already, and nothing is asked of
/// it but its words; so a thousand small files are prepared in no time.
fn as_draft<'t>(text: &'t MarkedText, library: &Library<'_>) -> Option<Draft<'t>> {
    let words = text.words.iter();
    let forms: Option<Vec<FormId>> = words
        .map(|word| library.lexicon.find(&normal_form(text.text.slice(*word))))
        .collect();
    let whole = ByteRange::of(0, text.text.content().len());
    Some(Draft {
        text,
        stream: Stream::new(text, &forms?, whole, Compared::Prose),
        quoted: Vec::new(),
        fixed: Vec::new(),
        profiles: Vec::new(),
    })
}

/// Strings that each of several texts shares with the sources; the sources are read once for all.
fn shared_with_sources(shelf: &Shelf<'_>, drafts: &[Draft<'_>]) -> Vec<Sharing> {
    let streams = drafts.iter().map(|draft| draft.stream.forms.as_slice());
    let joined: Vec<FormId> = streams.collect::<Vec<_>>().concat();
    let ends: Vec<usize> = drafts
        .iter()
        .scan(0, |end, draft| {
            *end += draft.stream.len();
            Some(*end)
        })
        .collect();
    let strings = StringIndex::new(&joined, SEED_WORDS);
    let documents = shelf.library.documents.get(shelf.sources());
    let of_sources: Vec<Vec<Run>> = documents
        .unwrap_or_default()
        .par_iter()
        .map(|document| strings.shared_runs(&document.stream.forms))
        .collect();
    let mut of_files: Vec<Vec<(Run, usize)>> = vec![Vec::new(); drafts.len()];
    for (document, runs) in of_sources.into_iter().enumerate() {
        for run in runs {
            let file = ends.partition_point(|end| *end <= run.draft.start());
            let (Some(end), Some(list)) = (ends.get(file), of_files.get_mut(file)) else {
                continue;
            };
            let start = end - drafts.get(file).map_or(0, |draft| draft.stream.len());
            // A string over the end of a file is none of either; its part in the first is kept.
            let length = run.draft.end().min(*end) - run.draft.start();
            let from = run.draft.start() - start;
            let run = Run {
                draft: WordRange::of(from, from + length),
                source: WordRange::of(run.source.start(), run.source.start() + length),
            };
            list.push((run, document));
        }
    }
    of_files.into_iter().map(Sharing::new).collect()
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

fn lost(desk: &Desk<'_>, overlap: &Overlap, path: &Path) -> Vec<Lost> {
    let shelf = desk.shelf;
    let all = lost_marks(desk, &overlap.runs);
    let place = |lost: &LostMarks| {
        let Some(Origin::Note(entry, _)) = shelf.origin(lost.document) else {
            return None;
        };
        let file = shelf.review.note_files.get(entry.file)?;
        let stored = shelf.library.documents.get(lost.document)?;
        let place = desk.place_of(lost.draft);
        let unmarked = Unmarked {
            path: path.to_owned(),
            line: place.line,
            text: place.text,
        };
        let range = stored.stream.bytes(stored.text, lost.note);
        Some((file.path.clone(), range, unmarked))
    };
    all.iter().filter_map(place).collect()
}

/// The quotations of a draft, the share of its quoted words, and what lost its marks on the way.
pub(super) fn from_draft(
    shelf: &mut Shelf<'_>,
    path: &Path,
    text: &MarkedText,
) -> (Chapter, Vec<Quoted>, Vec<Lost>) {
    let words = shelf.review.settings.quotation_words;
    let draft = Draft::new(text, &mut shelf.library, words);
    let shelf: &Shelf<'_> = shelf;
    let overlap = shared_strings(shelf, &draft);
    let listed = listed(&text.text, &shelf.references);
    let desk = Desk {
        shelf,
        draft,
        citations: resolve_all(text, shelf, &listed),
    };
    let shared = Sharing::with_sources(shelf, &overlap);
    let titles = Titles::of(&shelf.references);
    let looked = quoting::look_all(&desk, &shared, &titles);
    let mut chapter = shares::chapter(path, &desk.draft);
    let all = looked.iter().map(|looked| {
        let section = chapter.count(looked.quotation.outer.start());
        quoted(looked, &desk, Where::Draft { section }, path)
    });
    let all = all.collect();
    let lost = lost(&desk, &overlap, path);
    (chapter, all, lost)
}

/// Strings shared with sources and notes; candidates for paraphrase are not asked for here.
fn shared_strings(shelf: &Shelf<'_>, draft: &Draft<'_>) -> Overlap {
    let strings = StringIndex::new(&draft.stream.forms, SEED_WORDS);
    let documents = shelf.library.documents.par_iter();
    let runs = documents
        .map(|document| strings.shared_runs(&document.stream.forms))
        .collect();
    Overlap {
        runs,
        candidates: Vec::new(),
    }
}

fn quoted(looked: &Looked<'_>, desk: &Desk<'_>, at: Where, path: &Path) -> Quoted {
    let place = desk.place(looked.quotation.outer);
    let text = &desk.text().text;
    let found = looked.found.as_ref();
    let key = found.and_then(|(document, _)| Some(&desk.shelf.source(*document)?.key));
    let fidelity = fidelity(looked, desk);
    let is_known = !matches!(fidelity, Fidelity::Translated | Fidelity::NotFound);
    let places = found.filter(|_| is_known).map(|(document, found)| {
        let places = match found {
            Match::Joined(joined) => joined.places.as_slice(),
            other => other.places().get(..1).unwrap_or_default(),
        };
        let place = |words: &crate::text::WordRange| desk.shelf.source_place(*document, *words);
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
        cited: looked
            .cited
            .iter()
            .map(|key| desk.shelf.name(key))
            .collect(),
        locator: looked
            .locator
            .as_ref()
            .map(|locator| locator.written.clone()),
        secondary: looked.secondary,
        found: places.unwrap_or_default(),
        unmarked: Vec::new(),
        fidelity,
        differences,
        page: looked.page_check(desk.shelf),
        credit,
        key: key.or(looked.cited.first()).cloned(),
        span: found
            .filter(|_| is_known)
            .and_then(|(document, found)| Some((*document, *found.places().first()?))),
        forms: looked.forms.iter().flatten().cloned().collect(),
    }
}

fn fidelity(looked: &Looked<'_>, desk: &Desk<'_>) -> Fidelity {
    let exact = matches!(looked.found, Some((_, Match::Exact(_))));
    match &looked.found {
        Some((_, Match::Exact(_))) => Fidelity::Exact,
        _ if looked.translated && !exact => Fidelity::Translated,
        Some((_, Match::Altered(..))) => Fidelity::Altered,
        Some((_, Match::Joined(_))) => Fidelity::Joined,
        None => {
            let mut cited = looked.cited.iter();
            let is_stored = |key: &Key| desk.shelf.has_text(key);
            if cited.any(is_stored) {
                Fidelity::NotFound
            } else {
                Fidelity::NotStored
            }
        }
    }
}
