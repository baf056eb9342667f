//! Going through a Text from bracket to bracket.

use memchr::{memchr2, memchr3, memrchr2};

use super::names::{NameList, Setting, names_before};
use super::tokens::{Kind, Token, tokens};
use super::vocabulary::{WORKS, listed};
use super::year::year_at;
use super::{ByteRange, Citation, CitationForm, Cite, CiteTarget, Text};
use super::{author_page, author_year, footnotes, key, later, numbered};
use crate::text::BlockKind;

/// The longest bracket that is looked into, in bytes. A citation of a dozen works stays below it.
pub(super) const LONGEST_BRACKET: usize = 600;

/// How far before a bracket its narrative names may begin, in bytes.
const LONGEST_NAMES: usize = 220;

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
        works: Vec::new(),
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
    pub(super) works: Vec<Cite>,
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
        for (range, cites) in numbered::superscripts(self.content, block, highest) {
            let free = self
                .found
                .get(before..)
                .is_some_and(|found| found.iter().all(|citation| !citation.range.overlaps(range)));
            if free {
                self.found.push(aside(CitationForm::Numbered, range, cites));
            }
        }
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
        let before = self.content.get(self.start..open)?;
        let behind = self.content.get(close + 1..self.end)?;
        let fits = numbered::may_be_cited(before, behind);
        let highest = self.numbers.filter(|_| fits)?;
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
        let adjacent = self.names_in_prose(open);
        let apart = adjacent.is_none();
        let names = adjacent
            .or_else(|| self.names_before_quotation(open))
            .or_else(|| self.owner_of_work(open))
            .filter(|names| !names.event)?;
        let reading = author_year::read(self.content, inside, close, Some(&names))?;
        let first = reading.cites.first()?;
        let work = apart && self.owner_of_work(open).is_some();
        let unsure = apart && !work && first.locator.is_none();
        if inside.first()?.start != first.range.start() || unsure {
            return None;
        }
        let mut citation = around(open, close, reading, Some(names.start));
        if apart && !work {
            citation.range = citation.aside;
        }
        Some(citation)
    }

    /// The names directly before a bracket.
    fn names_in_prose(&self, open: usize) -> Option<NameList> {
        let before = self.tokens_before(open)?;
        names_before(self.content, &before, Setting::Prose)
    }

    /// The names in `Pellow and Strand’s later trial (2020)`: a possessive with at most three words up to
    /// a noun for a piece of work.
    fn owner_of_work(&self, open: usize) -> Option<NameList> {
        let tokens = self.tokens_before(open)?;
        let (work, before) = tokens.split_last()?;
        if !(work.kind == Kind::Word && listed(WORKS, work.text)) {
            return None;
        }
        let small = |token: &&Token<'_>| {
            token.kind == Kind::Word && token.text.starts_with(char::is_lowercase)
        };
        let between = before.iter().rev().take(3).take_while(small).count();
        let names = before.get(..before.len() - between)?;
        let owns = match names {
            [.., mark] if matches!(mark.text, "'" | "’") => true,
            [.., mark, s] if matches!(mark.text, "'" | "’") && s.is_word("s") => true,
            [.., name] => name.text.ends_with("'s") || name.text.ends_with("’s"),
            [] => false,
        };
        owns.then(|| names_before(self.content, names, Setting::Prose))?
    }

    /// The names in `Lindqvist holds that “...” (2014, p. 3)`: the last ones before the quotation, with
    /// nothing but small words, a comma or a colon between.
    fn names_before_quotation(&self, open: usize) -> Option<NameList> {
        let lowest = self.floor.max(open.saturating_sub(later::FARTHEST));
        let lowest = (lowest..=open).find(|at| self.content.is_char_boundary(*at))?;
        let before = self.content.get(lowest..open)?;
        if !later::closes_quotation(before) {
            return None;
        }
        let introduction = later::before_quotation(before)?;
        let tokens = self.tokens_before(lowest + introduction.len())?;
        let small = |token: &&Token<'_>| match token.kind {
            Kind::Word => token.text.starts_with(char::is_lowercase),
            Kind::Comma | Kind::Colon => true,
            _ => false,
        };
        let between = tokens.iter().rev().take(8).take_while(small).count();
        let names = tokens.get(..tokens.len() - between)?;
        names_before(self.content, names, Setting::Prose).filter(|_| between > 0)
    }

    /// The tokens before a place among which names may stand, back to the last round bracket.
    fn tokens_before(&self, place: usize) -> Option<Vec<Token<'a>>> {
        let lowest = self.floor.max(place.saturating_sub(LONGEST_NAMES));
        let bytes = self.content.as_bytes();
        let bracket = memrchr2(b'(', b')', bytes.get(lowest..place)?);
        let mut from = bracket.map_or(lowest, |at| lowest + at + 1);
        while !self.content.is_char_boundary(from) {
            from += 1;
        }
        if bracket.is_none() && from > self.floor {
            let cut = self.content.get(from..place)?;
            from += cut.find(char::is_whitespace)?;
        }
        Some(tokens(self.content, from, place))
    }

    /// `The National Lamp Survey (NLS, 2019)`: the short form in the bracket stands for the name
    /// before it (published: APA 7 section 8.21, from memory).
    fn take_up_full_name(&self, open: usize, inside: &[Token<'_>], citation: &mut Citation) {
        let short = match inside {
            [word, comma, ..] if word.kind == Kind::Word && comma.kind == Kind::Comma => word.text,
            _ => return,
        };
        let capitals = (2..=12).contains(&short.len()) && short.chars().all(char::is_uppercase);
        let Some(full) = self.names_in_prose(open).filter(|_| capitals) else {
            return;
        };
        let [name] = full.names.as_slice() else {
            return;
        };
        let first_letters: String = name
            .split([' ', '-'])
            .filter_map(|word| word.chars().next())
            .filter(|letter| letter.is_uppercase())
            .collect();
        if first_letters != short {
            return;
        }
        for cite in &mut citation.cites {
            if let CiteTarget::Author { names, .. } = &mut cite.target
                && names.as_slice() == [short]
            {
                names.clone_from(&full.names);
            }
        }
        citation.narrative = true;
        citation.range = ByteRange::of(full.start, citation.range.end());
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
        let locator = later::locator_alone(self.content.get(open + 1..close)?, quoted)?;
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
