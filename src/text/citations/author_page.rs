//! Author and page, without a year: `(Lindqvist 14)`, `(Lindqvist, “Night Lamps” 14; Okoro 3)`,
//! `(Lindqvist, p. 14)`.
//!
//! The form has so few marks that every cite of the bracket has to have it, from the first word to the last,
//! and that everything with a number after it which is not a name has to be known
//! ([`COUNTED`](super::vocabulary::COUNTED)).

use super::author_year::{MOST_CITES, target};
use super::chunk::is_group_head;
use super::lead::lead;
use super::names::{NameList, Setting, names_before};
use super::tokens::{Kind, Token};
use super::vocabulary::{DATES, listed};
use super::{ByteRange, Cite, CiteTarget};
use crate::text::locator::{Bare, Locator, LocatorUnit, locator_at};

/// The cites of a bracket that ends at the byte `end`.
pub(super) fn read(content: &str, tokens: &[Token<'_>], end: usize) -> Option<Vec<Cite>> {
    let mut cites = Vec::new();
    for segment in tokens.split(|token| token.kind == Kind::Semicolon) {
        let last = segment.last()?;
        let segment_end = last.end.min(end);
        cites.push(cite(content, segment, segment_end)?);
        if cites.len() > MOST_CITES {
            return None;
        }
    }
    (!cites.is_empty()).then_some(cites)
}

fn cite(content: &str, tokens: &[Token<'_>], end: usize) -> Option<Cite> {
    (1..tokens.len()).find_map(|at| {
        let locator = locator_to_end(content, tokens, at, end)?;
        let names = match tokens.get(..at)? {
            [names @ .., comma] if comma.kind == Kind::Comma => names,
            names => names,
        };
        let mut list = names_before(content, names, Setting::Bracket)?;
        let explicit = !locator.written.starts_with(|c: char| c.is_ascii_digit());
        if list.event || (list.counted && !explicit) || !is_plausible(&list, explicit) {
            return None;
        }
        let title = take_title(&mut list);
        let before = names.get(..list.first)?;
        let lead = lead(content, before, list.start);
        let clean = before.is_empty() || lead.prefix.is_some() || explicit;
        (clean && !lead.rest).then(|| Cite {
            range: ByteRange::of(lead.start, end),
            target: match title {
                Some(title) => titled(&list, title),
                None => target(&list, None),
            },
            prefix: lead.prefix,
            locator: Some(locator),
        })
    })
}

/// What follows the author after a comma is a short title (published: MLA 9 section 6.8, from memory).
fn take_title(list: &mut NameList) -> Option<String> {
    let authors = match list.joined {
        true if list.titled => list.names.len() - 1,
        true => return None,
        false => 1,
    };
    let title = list.names.get(authors..)?.join(", ");
    list.names.truncate(authors);
    list.initials.truncate(authors);
    (!title.is_empty()).then_some(title)
}

fn titled(list: &NameList, title: String) -> CiteTarget {
    CiteTarget::Work {
        names: list.names.clone(),
        initials: list.initials.clone(),
        et_al: list.et_al,
        title,
        year: None,
    }
}

/// The locator that begins at a token and reaches to the end. Without a unit word it has to follow
/// the name directly and must not look like a year.
fn locator_to_end(content: &str, tokens: &[Token<'_>], at: usize, end: usize) -> Option<Locator> {
    let (before, first) = (tokens.get(at.checked_sub(1)?)?, tokens.get(at)?);
    let direct = matches!(
        before.kind,
        Kind::Word | Kind::Dot | Kind::Quote | Kind::Close
    );
    let bare = match first.kind {
        Kind::Number if direct => Bare::Pages,
        Kind::Word | Kind::Other if direct || before.kind == Kind::Comma => Bare::None,
        _ => return None,
    };
    let (locator, length) = locator_at(content.get(first.start..end)?, bare)?;
    if first.start + length != end {
        return None;
    }
    let page = locator.unit == LocatorUnit::Page;
    let small = || {
        let number = |label: &str| label.parse::<u32>().ok();
        locator.stretches.iter().all(|(from, to)| {
            let year = from == to && matches!(number(from), Some(1500..=2099));
            number(from).is_some_and(|from| (1..=9999).contains(&from)) && !year
        })
    };
    // `Keeper 3, p. 1`: the number belongs to the name, since the page has its own sign.
    let mut more = locator.written.split(',').skip(1);
    let signed = more.any(|part| part.trim_start().starts_with(char::is_alphabetic));
    let fits = match bare {
        Bare::Pages => page && !signed && small(),
        Bare::None => page || matches!(locator.unit, LocatorUnit::Paragraph | LocatorUnit::Chapter),
    };
    fits.then_some(locator)
}

/// Whether these can be authors before a bare page number: surnames with small letters (`ISO 9001`
/// has none), at most three words unless it is a group, no date.
fn is_plausible(list: &NameList, explicit: bool) -> bool {
    list.names.iter().all(|name| {
        let last = name.rsplit(' ').next().unwrap_or_default();
        let words = name.split(' ').count();
        let named = explicit || last.chars().any(char::is_lowercase);
        named && !listed(DATES, last) && (words <= 3 || is_group_head(last))
    })
}
