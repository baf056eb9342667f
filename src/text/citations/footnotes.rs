//! Going through the footnotes of a Text, in the order in which they are called, so that a short note,
//! *ibid.* and *op. cit.* find what they take up.

use rustc_hash::FxHashMap;

use super::find::{Finder, aside, within};
use super::notes::{self, Note};
use super::{ByteRange, Citation, CitationForm, Cite, CiteTarget, Text, later};
use crate::text::locator::{Bare, locator_at};
use crate::text::{Block, BlockKind};

/// The footnotes in the order in which they are called, those never called after them, each with the
/// place it belongs to.
pub(super) fn in_order(text: &Text) -> Vec<(usize, ByteRange)> {
    let is_footnote = |block: &&Block| block.kind == BlockKind::Footnote;
    let blocks = text.blocks().iter().filter(is_footnote);
    let mut calls: Vec<(ByteRange, usize)> = text
        .note_calls()
        .iter()
        .map(|call| (call.note, call.at))
        .collect();
    calls.sort_unstable();
    let mut footnotes: Vec<(bool, usize, ByteRange)> = blocks
        .map(|block| {
            let before = calls.partition_point(|(note, _)| note.start() <= block.range.start());
            // Of several calls of one note the first stands first among equal ranges.
            let note = before.checked_sub(1).and_then(|index| calls.get(index));
            let note = note.filter(|(note, _)| note.covers(block.range));
            let first = note.and_then(|(note, _)| {
                let first = calls.partition_point(|(other, _)| other < note);
                calls.get(first)
            });
            match first {
                Some((_, at)) => (false, *at, block.range),
                None => (true, block.range.start(), block.range),
            }
        })
        .collect();
    footnotes.sort_unstable();
    footnotes
        .into_iter()
        .map(|(_, at, range)| (at, range))
        .collect()
}

impl Finder<'_> {
    /// A footnote that belongs to a place of the running text, of which `running` citations are known. A
    /// piece that is not entirely a citation is searched for brackets.
    pub(super) fn footnote(&mut self, at: usize, range: ByteRange, running: usize) {
        self.within_reach = self.found.len();
        self.set_off = false;
        (self.start, self.end) = (range.start(), range.end());
        (self.floor, self.inside_until) = (self.start, self.start);
        self.pieces(range, at, running);
    }

    /// Pandoc's inline note, `^[See Lindqvist, Dark Street, 47.]`, whose bracket opens at a byte. Returns
    /// where to continue.
    pub(super) fn inline_note(&mut self, open: usize) -> usize {
        let Some(close) = self.close(open, *b"[]") else {
            return open + 1;
        };
        let before = self.found.len();
        self.floor = self.floor.max(open + 1);
        self.pieces(ByteRange::of(open + 1, close), open, before);
        close + 1
    }

    /// Reads the pieces of a note.
    fn pieces(&mut self, range: ByteRange, at: usize, running: usize) {
        for piece in notes::pieces(self.content, range) {
            // A bracket of the piece before may reach into this one.
            if piece.start() < self.floor {
                continue;
            }
            let note = notes::read(self.content, piece);
            match note.and_then(|note| self.noted(piece, note, at, running)) {
                Some(citation) => {
                    self.floor = citation.range.end().max(self.floor);
                    self.found.push(citation);
                    self.scan(self.floor, piece.end());
                }
                None => {
                    let before = self.found.len();
                    self.scan(piece.start(), piece.end());
                    self.locate_behind(before, piece.end());
                }
            }
        }
    }

    /// `Vgl. Lindqvist (2014), S. 45`: in a note the page may stand after the bracket.
    fn locate_behind(&mut self, before: usize, end: usize) {
        let content = self.content;
        let Some([citation]) = self.found.get_mut(before..) else {
            return;
        };
        let start = citation.range.end();
        let located = content.get(start..end).and_then(|rest| {
            let rest = rest.trim_start_matches([',', ':', ' ']);
            let (locator, length) = locator_at(rest, Bare::Pages)?;
            let behind = end - rest.len() + length;
            notes::ends(content.get(behind..end)?).then_some((locator, behind))
        });
        if let ([cite], Some((locator, behind))) = (citation.cites.as_mut_slice(), located)
            && cite.locator.is_none()
            && citation.form == CitationForm::AuthorYear
        {
            cite.locator = Some(locator);
            cite.range = ByteRange::of(cite.range.start(), behind);
            // The page is no more prose than the bracket is.
            citation.aside = ByteRange::of(citation.aside.start(), behind);
            citation.range = ByteRange::of(citation.range.start(), behind);
            self.floor = self.floor.max(behind);
        }
    }

    /// The citation that a piece of a footnote is, with what it takes up from the notes before.
    fn noted(
        &mut self,
        piece: ByteRange,
        note: Note,
        at: usize,
        running: usize,
    ) -> Option<Citation> {
        let (form, cites) = match note {
            Note::Plain(form, cites) => (form, cites),
            Note::Work(cite) => (CitationForm::Note, vec![self.known(cite)]),
            Note::Perhaps(cite) => {
                self.works.with_title(&cite.target)?;
                (CitationForm::Note, vec![self.known(cite)])
            }
            Note::Before { cite, same_place } => {
                (CitationForm::Note, vec![self.again(cite, same_place)])
            }
            Note::Again(locator, end) => {
                let latest = self.latest(at, running)?;
                let range = ByteRange::of(piece.start(), end);
                let cites = match locator {
                    Some(locator) => later::taken_up(latest, range, &locator),
                    None => within(range, latest.cites.clone()),
                };
                (latest.form, cites)
            }
        };
        if form == CitationForm::Note {
            cites.iter().for_each(|cite| self.works.add(cite));
        }
        let first = cites.first()?.range;
        let range = cites
            .iter()
            .fold(first, |range, cite| range.hull(cite.range));
        Some(aside(form, range, cites))
    }

    /// The citation that *ibid.* takes up: of the notes so far the last, else the last in the running
    /// text before the call.
    fn latest(&self, at: usize, running: usize) -> Option<&Citation> {
        let before = |citation: &&Citation| citation.range.end() <= at;
        let in_notes = self.found.get(running..).and_then(<[_]>::last);
        let in_text = self.found.get(..running).unwrap_or_default();
        in_notes.or_else(|| in_text.iter().rev().find(before))
    }

    /// The cite with title and year of the earlier note that names the same work in full.
    fn known(&self, mut cite: Cite) -> Cite {
        if matches!(&cite.target, CiteTarget::Work { year: None, .. })
            && let Some(earlier) = self.works.with_title(&cite.target)
        {
            cite.target = earlier.target.clone();
        }
        cite
    }

    /// *Op. cit.*: the last work cited from the same author.
    fn again(&self, mut cite: Cite, same_place: bool) -> Cite {
        if let Some(work) = self.works.last_of(&cite.target) {
            cite.target = work.target.clone();
            if same_place && cite.locator.is_none() {
                cite.locator = work.locator.clone();
            }
        }
        cite
    }
}

/// The works that notes cited so far.
#[derive(Default)]
pub(super) struct Works {
    /// By the last name of the first author in small letters, in order of the notes: the words of the
    /// title, and the cite.
    by_name: FxHashMap<String, Vec<(Vec<String>, Cite)>>,
}

/// Most works of one author that are searched; bounds the work.
const MOST_WORKS: usize = 100;

impl Works {
    fn add(&mut self, cite: &Cite) {
        let (Some(name), CiteTarget::Work { title, .. }) = (name(&cite.target), &cite.target)
        else {
            return;
        };
        let work = (notes::plain_words(title), cite.clone());
        self.by_name.entry(name).or_default().push(work);
    }

    fn of(&self, target: &CiteTarget) -> &[(Vec<String>, Cite)] {
        name(target)
            .and_then(|name| self.by_name.get(&name))
            .map_or(&[], Vec::as_slice)
    }

    fn last_of(&self, target: &CiteTarget) -> Option<&Cite> {
        self.of(target).last().map(|(_, cite)| cite)
    }

    /// The last work of the same author whose title holds the words of this one.
    fn with_title(&self, target: &CiteTarget) -> Option<&Cite> {
        let CiteTarget::Work { title, .. } = target else {
            return None;
        };
        let short = notes::plain_words(title);
        let works = self.of(target).iter().rev().take(MOST_WORKS);
        works
            .filter(|(full, _)| notes::contains_words(full, &short))
            .map(|(_, cite)| cite)
            .next()
    }
}

/// The last name of the first author in small letters.
fn name(target: &CiteTarget) -> Option<String> {
    match target {
        CiteTarget::Author { names, .. } | CiteTarget::Work { names, .. } => {
            Some(names.first()?.rsplit(' ').next()?.to_lowercase())
        }
        _ => None,
    }
}
