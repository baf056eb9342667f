//! Going through a Text from bracket to bracket.

use memchr::{memchr2, memchr3};

use super::footnotes::{self, Works};
use super::tokens::{Token, tokens};
use super::year::year_at;
use super::{ByteRange, Citation, CitationForm, Cite, Text};
use super::{author_page, author_year, key, later, numbered};
use crate::text::BlockKind;

/// The longest bracket that is searched, in bytes. A citation of a dozen works stays below it.
pub(super) const LONGEST_BRACKET: usize = 600;

/// The citations of all blocks but code and the list of references. Footnotes come after the running
/// text, in the order in which they are called: *ibid.* means the note before.
pub(super) fn find(text: &Text) -> Vec<Citation> {
    let mut finder = Finder {
        content: text.content(),
        start: 0,
        end: 0,
        floor: 0,
        inside_until: 0,
        set_off: false,
        within_reach: 0,
        found: Vec::new(),
        works: Works::default(),
        numbers: text.highest_reference(),
    };
    for block in text.blocks() {
        match block.kind {
            BlockKind::Code | BlockKind::ReferenceListItem | BlockKind::Footnote => {}
            kind => finder.block(kind == BlockKind::BlockQuotation, block.range),
        }
    }
    let footnotes = footnotes::in_order(text);
    if footnotes.is_empty() && finder.numbers.is_none() {
        return finder.found;
    }
    let running = finder.found.len();
    for (at, range) in footnotes {
        finder.footnote(at, range, running);
    }
    let mut found = finder.found;
    found.sort_by_key(|citation| citation.range);
    found
}

pub(super) struct Finder<'a> {
    pub(super) content: &'a str,
    /// The block.
    pub(super) start: usize,
    pub(super) end: usize,
    /// The end of the last citation, or the start of the block: nothing reaches before it.
    pub(super) floor: usize,
    /// The end of the round bracket around the current place.
    pub(super) inside_until: usize,
    /// Whether the block is a block quotation.
    pub(super) set_off: bool,
    /// Citations from this one on may be taken up by a later bracket in this block.
    pub(super) within_reach: usize,
    pub(super) found: Vec<Citation>,
    /// The works that footnotes cited so far, for short notes and *op. cit.*
    pub(super) works: Works,
    /// The highest number of the Text's own list of references, if that is numbered.
    pub(super) numbers: Option<u32>,
}

impl<'a> Finder<'a> {
    fn block(&mut self, set_off: bool, range: ByteRange) {
        // What introduces a block quotation stands in the block before it.
        let introduced = set_off
            && self
                .content
                .get(self.end..range.start())
                .is_some_and(is_blank);
        self.within_reach = match self.found.last() {
            Some(last) if introduced && last.range.start() >= self.start => self.found.len() - 1,
            _ => self.found.len(),
        };
        self.set_off = set_off;
        self.start = range.start().max(self.floor);
        self.end = range.end().max(self.start);
        self.floor = self.start;
        let before = self.found.len();
        self.scan(self.start, self.end);
        if let Some(highest) = self.numbers {
            self.superscripts(before, highest);
        }
    }

    /// Numbers of the list written in superscript.
    fn superscripts(&mut self, before: usize, highest: u32) {
        let block = ByteRange::of(self.start, self.end);
        let numbers = numbered::superscripts(self.content, block, highest);
        let bracketed = self.found.get(before..).unwrap_or_default();
        let free = |range: ByteRange| {
            let at = bracketed.partition_point(|citation| citation.range.end() <= range.start());
            bracketed
                .get(at)
                .is_none_or(|citation| !citation.range.overlaps(range))
        };
        let more: Vec<Citation> = numbers
            .into_iter()
            .filter(|(range, _)| free(*range))
            .map(|(range, cites)| aside(CitationForm::Numbered, range, cites))
            .collect();
        self.found.extend(more);
    }

    /// Looks for brackets and keys in a part of the block.
    pub(super) fn scan(&mut self, from: usize, to: usize) {
        let mut at = from;
        let bytes = self.content.as_bytes();
        while let Some(rest) = bytes.get(at..to)
            && let Some(hit) = memchr3(b'(', b'[', b'@', rest)
        {
            let place = at + hit;
            let citation = match bytes.get(place) {
                Some(b'(') => self.round(place),
                Some(b'[') if place > at.max(from) && bytes.get(place - 1) == Some(&b'^') => {
                    at = self.inline_note(place);
                    continue;
                }
                Some(b'[') => self.square(place),
                _ => key::bare(self.content, place, self.floor, self.end),
            };
            at = place + 1;
            if let Some(citation) = citation {
                self.floor = citation.range.end().max(at);
                at = self.floor;
                self.found.push(citation);
            }
        }
    }

    /// The byte of the closing bracket, if no other opens before it. Each byte is looked at once for
    /// all brackets of a kind, since the search stops at the next opening one.
    pub(super) fn close(&self, open: usize, signs: [u8; 2]) -> Option<usize> {
        let [opening, closing] = signs;
        let from = open + 1;
        let to = self.end.min(from + LONGEST_BRACKET);
        let bytes = self.content.as_bytes();
        let at = from + memchr2(opening, closing, bytes.get(from..to)?)?;
        (bytes.get(at) == Some(&closing)).then_some(at)
    }

    fn round(&mut self, open: usize) -> Option<Citation> {
        let close = self.close(open, *b"()")?;
        self.inside_until = close;
        let inside = tokens(self.content, open + 1, close);
        self.author_year(open, close, &inside)
            .or_else(|| self.author_page(open, close, &inside))
            .or_else(|| self.later(open, close, &inside))
            .or_else(|| self.round_number(open, close, &inside))
    }

    /// `(12)`, where the list of references is numbered.
    fn round_number(&self, open: usize, close: usize, inside: &[Token<'_>]) -> Option<Citation> {
        let highest = self.numbers?;
        let before = self.content.get(self.start..open)?;
        let behind = self.content.get(close + 1..self.end)?;
        if !numbered::may_be_cited(before, behind) {
            return None;
        }
        let cites = numbered::read(self.content, inside, close, before)?;
        let range = ByteRange::of(open, close + 1);
        numbered::are_listed(&cites, highest).then(|| aside(CitationForm::Numbered, range, cites))
    }

    fn square(&self, open: usize) -> Option<Citation> {
        let close = self.close(open, *b"[]")?;
        let (from, range) = (open + 1, ByteRange::of(open, close + 1));
        let inside = self.content.get(from..close)?;
        if inside.contains('@') {
            let cites = key::read(self.content, from, close)?;
            return Some(aside(CitationForm::Key, range, cites));
        }
        let digit = inside.bytes().any(|byte| byte.is_ascii_digit());
        let signed = inside.starts_with(|c: char| c.is_ascii_digit());
        if !digit && !inside.contains("n.d.") {
            return None;
        }
        let inside = tokens(self.content, from, close);
        if year_at(self.content, &inside, 0).is_some() {
            // `see Lindqvist [2014]` is narrative within a round bracket only: elsewhere a year in
            // square brackets is an insertion.
            let nested = open < self.inside_until;
            return nested
                .then(|| self.narrative(open, close, &inside))
                .flatten();
        }
        if signed {
            let before = self.content.get(self.start..open)?;
            let mut cites = numbered::read(self.content, &inside, close, before)?;
            if let Some(last) = self.found.last() {
                numbered::bridge(self.content, last, open, &mut cites);
            }
            return Some(aside(CitationForm::Numbered, range, cites));
        }
        let reading = author_year::read(self.content, &inside, close, None)?;
        let whole = reading.cites.first().map(|cite| cite.range.start())
            == inside.first().map(|token| token.start)
            && reading.cites.last().map(|cite| cite.range.end())
                == inside.last().map(|token| token.end);
        whole.then(|| aside(CitationForm::AuthorYear, range, reading.cites))
    }

    fn author_year(&self, open: usize, close: usize, inside: &[Token<'_>]) -> Option<Citation> {
        if year_at(self.content, inside, 0).is_some()
            && let Some(citation) = self.narrative(open, close, inside)
        {
            return Some(citation);
        }
        let reading = author_year::read(self.content, inside, close, None)?;
        let mut citation = around(open, close, reading, None);
        self.take_up_full_name(open, inside, &mut citation);
        Some(citation)
    }

    /// A bracket that begins with a year of the names before it.
    fn narrative(&self, open: usize, close: usize, inside: &[Token<'_>]) -> Option<Citation> {
        let near = self
            .names_in_prose(open)
            .or_else(|| self.owner_of_work(open));
        let apart = near.is_none();
        let names = near
            .or_else(|| self.names_before_quotation(open))
            .filter(|names| !names.event)?;
        let reading = author_year::read(self.content, inside, close, Some(&names))?;
        let first = reading.cites.first()?;
        if inside.first()?.start != first.range.start() || (apart && first.locator.is_none()) {
            return None;
        }
        let mut citation = around(open, close, reading, Some(names.start));
        if apart {
            citation.range = citation.aside;
        }
        if let [cite] = citation.cites.as_mut_slice()
            && cite.locator.is_none()
        {
            let behind = self.content.get(close + 1..self.end);
            cite.locator = behind.and_then(later::locator_in_prose);
        }
        Some(citation)
    }

    fn author_page(&self, open: usize, close: usize, inside: &[Token<'_>]) -> Option<Citation> {
        let cites = author_page::read(self.content, inside, close)?;
        let range = ByteRange::of(open, close + 1);
        Some(aside(CitationForm::AuthorPage, range, cites))
    }

    /// A bracket that takes up the citation before it.
    fn later(&self, open: usize, close: usize, inside: &[Token<'_>]) -> Option<Citation> {
        let range = ByteRange::of(open, close + 1);
        if let Some(locator) = later::same_place(self.content, inside, close) {
            let latest = self.found.last()?;
            let cites = match locator {
                Some(locator) => later::taken_up(latest, range, &locator),
                None => within(range, latest.cites.clone()),
            };
            return Some(aside(latest.form, range, cites));
        }
        let latest = self.found.last()?;
        let reachable = self.found.len() > self.within_reach;
        let before = self.content.get(latest.range.end()..open)?;
        if !reachable || before.len() > 2 * later::FARTHEST {
            return None;
        }
        let closing = self.set_off
            && self
                .content
                .get(close + 1..self.end)
                .is_some_and(|behind| behind.trim_matches(['.', ' ', '\n']).is_empty());
        let quoted = closing || later::closes_quotation(before);
        let inside = self.content.get(open + 1..close)?;
        let of_speaker = || quoted.then(|| later::locator_of_speaker(inside)).flatten();
        let locator = later::locator_alone(inside, quoted).or_else(of_speaker)?;
        // The whole of a block quotation is one stretch.
        let between = match latest.range.end() < self.start {
            true if closing => self.content.get(latest.range.end()..self.start)?,
            true => return None,
            false => before,
        };
        later::at_most_next_sentence(between)
            .then(|| later::taken_up(latest, range, &locator))
            .map(|cites| aside(latest.form, range, cites))
    }
}

fn is_blank(text: &str) -> bool {
    text.len() < 200 && text.trim().is_empty()
}

/// A citation that is a bracket from end to end.
pub(super) fn aside(form: CitationForm, range: ByteRange, cites: Vec<Cite>) -> Citation {
    Citation {
        form,
        range,
        aside: range,
        narrative: false,
        cites,
    }
}

pub(super) fn within(range: ByteRange, mut cites: Vec<Cite>) -> Vec<Cite> {
    for cite in &mut cites {
        cite.range = range;
    }
    cites
}

/// A citation of author and year, without the remark that shares its bracket.
fn around(
    open: usize,
    close: usize,
    reading: author_year::Reading,
    names: Option<usize>,
) -> Citation {
    let from = reading.from.filter(|_| names.is_none()).unwrap_or(open);
    let bracket_end = if from == open { close + 1 } else { close };
    let to = reading.to.unwrap_or(bracket_end);
    Citation {
        form: CitationForm::AuthorYear,
        range: ByteRange::of(names.unwrap_or(from), to),
        aside: ByteRange::of(from, to),
        narrative: names.is_some(),
        cites: reading.cites,
    }
}
