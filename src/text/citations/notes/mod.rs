//! Citations in footnotes, where no bracket marks them.
//!
//! 1. A note is cut into pieces, a work each, at semicolons and between sentences ([`pieces`](mod@pieces)).
//! 2. A piece is read as, in this order: *ibid.* and the like; a name with *op. cit.*; what would stand in a
//!    bracket (`Lindqvist 2014, 45`); a full or short note with author and title ([`titled`]).
//! 3. What takes up an earlier note is left to the caller, who knows the notes before it ([`Note`]).
//!
//! The forms are those of Chicago 17 sections 14.19 to 14.36 (notes, short notes, *ibid.*), of MHRA and
//! of the humanities in neighbouring languages, from memory.

mod pieces;
mod titled;

pub(super) use pieces::pieces;
pub(super) use titled::{contains_words, plain_words};

use super::names::{NameList, Setting, is_and, names_before};
use super::tokens::{Kind, Token, tokens};
use super::{ByteRange, CitationForm, Cite, CiteTarget, author_page, author_year};
use crate::text::locator::{Bare, Locator, locator_at};

/// What a piece of a footnote is.
#[derive(Debug)]
pub(super) enum Note {
    /// A work with its title, named in full (with its year) or in short.
    Work(Cite),
    /// `Lindqvist, Dark Street.` without page or year: a citation only where an earlier note has the
    /// work.
    Perhaps(Cite),
    /// Author and year, or author and page, as in a bracket.
    Plain(CitationForm, Vec<Cite>),
    /// *Ibid.*: the work of the note before, with another locator if one is given; and where it ends.
    Again(Option<Locator>, usize),
    /// *Op. cit.*, *loc. cit.*, `(n 4)`: the last work cited from this author; with `same_place` its locator
    /// too.
    Before {
        /// The author.
        cite: Cite,
        /// Whether it was *loc. cit.*
        same_place: bool,
    },
}

/// Words for *in the same place* at the beginning of a note (`Ibid.`, `Ebd.`, `Id.`).
const AGAIN: [&str; 10] = [
    "Ebd", "Ebenda", "Ibid", "Ibidem", "Id", "Idem", "ebd", "ebenda", "ibid", "ibidem",
];

/// A longer piece is a remark, in bytes; also bounds the work.
const LONGEST_PIECE: usize = 1500;

/// Reads a piece of a footnote.
pub(super) fn read(content: &str, piece: ByteRange) -> Option<Note> {
    if piece.len() > LONGEST_PIECE {
        return None;
    }
    let tokens = tokens(content, piece.start(), piece.end());
    if !tokens.iter().any(|token| token.kind == Kind::Word) {
        return None;
    }
    again(content, &tokens, piece.end())
        .or_else(|| before(content, &tokens, piece))
        .or_else(|| as_in_a_bracket(content, &tokens, piece))
        .or_else(|| titled::read(content, &tokens, piece))
        .or_else(|| {
            let cites = author_page::read(content, &tokens, piece.end())?;
            let explicit = |cite: &Cite| {
                let written = cite
                    .locator
                    .as_ref()
                    .map(|locator| locator.written.as_str());
                written.is_some_and(|written| !written.starts_with(|c: char| c.is_ascii_digit()))
            };
            let all = cites.iter().all(explicit);
            all.then_some(Note::Plain(CitationForm::AuthorPage, cites))
        })
}

/// `Ibid.`, `Ibid., 48.`, `See ibid., p. 48`
fn again(content: &str, tokens: &[Token<'_>], end: usize) -> Option<Note> {
    let tokens = match tokens {
        [cue, rest @ ..] if is_see(cue) => rest,
        tokens => tokens,
    };
    let (first, rest) = tokens.split_first()?;
    if !AGAIN.iter().any(|word| first.is_word(word)) {
        return None;
    }
    let sign = |token: &&Token<'_>| matches!(token.kind, Kind::Dot | Kind::Comma | Kind::Colon);
    let Some(next) = rest.iter().find(|token| !sign(token)) else {
        return Some(Note::Again(None, end));
    };
    let (locator, behind) = locator_at(content.get(next.start..end)?, Bare::Pages)?;
    let behind = next.start + behind;
    ends(content.get(behind..end)?).then_some(Note::Again(Some(locator), behind))
}

fn is_see(token: &Token<'_>) -> bool {
    ["See", "see", "Cf", "cf", "Vgl", "vgl", "Siehe", "Voir"]
        .iter()
        .any(|cue| token.is_word(cue))
}

/// Whether the text after a locator allows it to be one.
pub(super) fn ends(rest: &str) -> bool {
    let rest = rest.trim_start();
    rest.is_empty() || rest.starts_with([',', '.', '(', ';', '[', ':'])
}

/// `Lindqvist, op. cit., 47`, `Lindqvist, loc. cit.`, `Lindqvist, a. a. O., S. 47`, `Lindqvist (n 4) 47`
fn before(content: &str, tokens: &[Token<'_>], piece: ByteRange) -> Option<Note> {
    let (at, behind, same_place) = (1..tokens.len().min(16)).find_map(|at| {
        let (length, same_place) = sign_at(tokens.get(at..)?)?;
        Some((at, at + length, same_place))
    })?;
    let names = match tokens.get(..at)? {
        [names @ .., comma] if comma.kind == Kind::Comma => names,
        names => names,
    };
    let list = names_before(content, names, Setting::Bracket)?;
    let lead = super::lead::lead(content, names.get(..list.first)?, list.start);
    if lead.rest && lead.prefix.is_none() {
        return None;
    }
    let next = tokens
        .get(behind..)?
        .iter()
        .find(|token| !matches!(token.kind, Kind::Dot | Kind::Comma | Kind::Colon));
    let (locator, end) = match next {
        None => (None, piece.end()),
        Some(next) => {
            let rest = content.get(next.start..piece.end())?;
            let (locator, length) = locator_at(rest, Bare::Pages)?;
            ends(rest.get(length..)?).then_some(())?;
            (Some(locator), next.start + length)
        }
    };
    Some(Note::Before {
        cite: Cite {
            range: ByteRange::of(lead.start, end),
            target: author_year::target(&single(list), None),
            prefix: lead.prefix,
            locator,
        },
        same_place,
    })
}

/// The length in tokens of *op. cit.* and the like at the beginning, and whether the place is the
/// same too.
fn sign_at(tokens: &[Token<'_>]) -> Option<(usize, bool)> {
    let text = |index: usize| tokens.get(index).map_or("", |token: &Token<'_>| token.text);
    match (text(0), text(1), text(2), text(3), text(4)) {
        ("op" | "art", ".", "cit", ..) => Some((3, false)),
        ("loc" | "l", ".", "cit" | "c", ..) => Some((3, true)),
        ("a", ".", "a", ".", "O") => Some((5, false)),
        ("(", "n" | "note", number, ")", _) if is_number(number) => Some((4, false)),
        ("(", "see" | "above", "n" | "note", number, ")") if is_number(number) => Some((5, false)),
        _ => None,
    }
}

fn is_number(text: &str) -> bool {
    text.len() <= 4 && text.bytes().all(|byte| byte.is_ascii_digit()) && !text.is_empty()
}

/// `Lindqvist, Ada` is one person, not two.
fn single(mut list: NameList) -> NameList {
    if !list.joined {
        list.names.truncate(1);
        list.initials.truncate(1);
    }
    list
}

/// `Vgl. Lindqvist 2014, S. 45`: the whole piece is what a bracket would hold.
fn as_in_a_bracket(content: &str, tokens: &[Token<'_>], piece: ByteRange) -> Option<Note> {
    let reading = author_year::read(content, tokens, piece.end(), None)?;
    let (first, last) = (reading.cites.first()?, reading.cites.last()?);
    let whole = first.range.start() <= piece.start()
        && ends(content.get(last.range.end()..piece.end())?)
        && reading.from.is_none();
    // Commas alone connect title and publisher to the name as well: `Lindqvist, Dark Street, Lamp Press,
    // 2014`.
    let authors = reading.cites.iter().all(|cite| match &cite.target {
        CiteTarget::Author { names, et_al, .. } => {
            let inside = |token: &&Token<'_>| cite.range.contains(token.start);
            names.len() == 1 || *et_al || tokens.iter().filter(inside).any(is_and)
        }
        _ => false,
    });
    (whole && authors).then_some(Note::Plain(CitationForm::AuthorYear, reading.cites))
}
