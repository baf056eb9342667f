//! Numbers of the draft's own reference list: `[12]`, `[3, 7, 9–11]`, `[12, p. 4]` (common practice
//! of the Vancouver and IEEE styles).

use super::author_year::MOST_CITES;
use super::tokens::{Kind, Token};
use super::vocabulary::{PARTS, listed};
use super::{ByteRange, Citation, CitationForm, Cite, CiteTarget};
use crate::text::locator::{Bare, Locator, locator_at};

/// A longer range is not a citation.
const LONGEST_RANGE: u32 = 50;

/// Words before a bracket with numbers that make it an interval.
const INTERVALS: [&str; 9] = [
    "CI", "CrI", "HDI", "IQR", "interval", "range", "between", "bounds", "limits",
];

/// The cites of a square bracket that ends at the byte `end`; `before` is the text before it.
pub(super) fn read(
    content: &str,
    tokens: &[Token<'_>],
    end: usize,
    before: &str,
) -> Option<Vec<Cite>> {
    let word = before
        .trim_end()
        .rsplit(|c: char| !c.is_alphabetic())
        .next();
    if word.is_some_and(|word| INTERVALS.contains(&word)) {
        return None;
    }
    let mut cites = Vec::new();
    let mut at = 0;
    loop {
        at = stretch(tokens, at, &mut cites)?;
        let separator = tokens.get(at);
        match separator.map(|token| token.kind) {
            None => return Some(cites),
            Some(Kind::Comma | Kind::Semicolon | Kind::Colon) => {}
            Some(_) => return None,
        }
        let colon = separator.is_some_and(|token| token.kind == Kind::Colon);
        at += 1;
        if let Some(locator) = locator_to_end(content, tokens, at, end, colon) {
            let last = cites.last_mut()?;
            last.range = ByteRange::of(last.range.start(), end);
            last.locator = Some(locator);
            return Some(cites);
        }
        if colon {
            return None;
        }
    }
}

/// `[1]–[3]` (published: IEEE reference guide, from memory): the numbers between are cited as well. They
/// get the place of the dash.
pub(super) fn bridge(content: &str, before: &Citation, open: usize, cites: &mut Vec<Cite>) {
    let joint = content.get(before.range.end()..open).unwrap_or_default();
    let dash = matches!(joint.trim(), "-" | "‐" | "‑" | "–" | "—" | "−");
    let number = |cite: Option<&Cite>| match cite.map(|cite| &cite.target) {
        Some(CiteTarget::Number(number)) => Some(*number),
        _ => None,
    };
    let ends = (number(before.cites.last()), number(cites.first()));
    let (Some(from), Some(to)) = ends else {
        return;
    };
    if !dash || before.form != CitationForm::Numbered || to.saturating_sub(from) > LONGEST_RANGE {
        return;
    }
    let place = ByteRange::of(open, open);
    let between = (from + 1..to).map(|number| plain(place, number));
    cites.splice(0..0, between);
}

/// Whether a number in round brackets may be one of the list, by the text before and after it. It
/// follows a word directly: `moths circle (12)`, but not `equation (2)`, nor a sign or *and*, as the
/// items of `(1) lamps and (2) moths` do.
pub(super) fn may_be_cited(before: &str, behind: &str) -> bool {
    const NOT_BEHIND: [&str; 13] = [
        "and", "are", "by", "either", "from", "in", "is", "of", "or", "than", "that", "to", "with",
    ];
    let word = before.trim_end();
    let last = word.rsplit(|c: char| !c.is_alphabetic()).next();
    let last = last.unwrap_or_default();
    let closes = word.ends_with(['”', '’', '"', '»', ')', ']']);
    let counted = listed(PARTS, last) || last.chars().count() < 2;
    let fits = closes || !(last.is_empty() || counted || NOT_BEHIND.contains(&last));
    fits && !behind.starts_with(|c: char| c.is_alphanumeric() || c == '(')
}

/// Whether all numbers stand in a list that ends with the given one.
pub(super) fn are_listed(cites: &[Cite], highest: u32) -> bool {
    cites.iter().all(|cite| match cite.target {
        CiteTarget::Number(number) => (1..=highest).contains(&number),
        _ => false,
    })
}

/// Numbers in superscript after a word (`lamps¹⁻³`), as far as they stand in a list that ends with the
/// given one. A unit has too few letters to be a word (`m²`).
pub(super) fn superscripts(
    content: &str,
    block: ByteRange,
    highest: u32,
) -> Vec<(ByteRange, Vec<Cite>)> {
    let text = content.get(block.as_range()).unwrap_or_default();
    let mut found = Vec::new();
    let mut characters = text.char_indices().peekable();
    while let Some((at, c)) = characters.next() {
        let Some(first) = superscript(c).filter(char::is_ascii_digit) else {
            continue;
        };
        let mut written = first.to_string();
        let mut end = at + c.len_utf8();
        while let Some((at, c)) = characters.peek().copied()
            && let Some(sign) = superscript(c)
        {
            written.push(sign);
            end = at + c.len_utf8();
            characters.next();
        }
        let before = text.get(..at).unwrap_or_default();
        let word = before.trim_end_matches(['.', ',', ';', ':', '”', '’', '"', '»', ')', '?', '!']);
        let letters = word.chars().rev().take_while(|c| c.is_alphabetic()).take(3);
        let range = ByteRange::of(block.start() + at, block.start() + end);
        if letters.count() == 3
            && let Some(cites) = listed_numbers(&written, range)
            && are_listed(&cites, highest)
        {
            found.push((range, cites));
        }
    }
    found
}

/// The ordinary sign of a superscript one.
fn superscript(c: char) -> Option<char> {
    Some(match c {
        '¹' => '1',
        '²' => '2',
        '³' => '3',
        '⁰' => '0',
        '⁴'..='⁹' => char::from_digit(u32::from(c) - 0x2070, 10)?,
        '⁻' | '–' | '-' => '-',
        ',' | '‚' | '˒' => ',',
        _ => return None,
    })
}

/// `1,3-5` as cites, all in one place.
fn listed_numbers(written: &str, range: ByteRange) -> Option<Vec<Cite>> {
    let mut cites = Vec::new();
    for part in written.trim_end_matches([',', '-']).split(',') {
        let (from, to) = part.split_once('-').unwrap_or((part, part));
        let (from, to): (u32, u32) = (from.parse().ok()?, to.parse().ok()?);
        if to.checked_sub(from)? > LONGEST_RANGE || cites.len() > MOST_CITES {
            return None;
        }
        cites.extend((from..=to).map(|number| plain(range, number)));
    }
    Some(cites)
}

fn plain(range: ByteRange, number: u32) -> Cite {
    Cite {
        range,
        target: CiteTarget::Number(number),
        prefix: None,
        locator: None,
    }
}

/// One number, or two with a dash between, and the token after them.
fn stretch(tokens: &[Token<'_>], at: usize, cites: &mut Vec<Cite>) -> Option<usize> {
    let first = tokens.get(at)?;
    let from = number(first)?;
    let dash = tokens
        .get(at + 1)
        .is_some_and(|token| token.kind == Kind::Dash);
    let (to, last, next) = if dash {
        let last = tokens.get(at + 2)?;
        (number(last)?, last, at + 3)
    } else {
        (from, first, at + 1)
    };
    let count = to.checked_sub(from)? as usize + 1;
    if to - from > LONGEST_RANGE || cites.len() + count > MOST_CITES {
        return None;
    }
    cites.extend((from..=to).map(|number| {
        // The numbers between the two ends are not written: they get the place of the dash.
        let range = match number {
            _ if number == from => ByteRange::of(first.start, first.end),
            _ if number == to => ByteRange::of(last.start, last.end),
            _ => ByteRange::of(first.end, first.end),
        };
        Cite {
            range,
            target: CiteTarget::Number(number),
            prefix: None,
            locator: None,
        }
    }));
    Some(next)
}

/// 1 to 999 without leading zero; four digits are a year.
fn number(token: &Token<'_>) -> Option<u32> {
    let short = token.text.len() <= 3 && !token.text.starts_with('0');
    token.text.parse().ok().filter(|_| short)
}

fn locator_to_end(
    content: &str,
    tokens: &[Token<'_>],
    at: usize,
    end: usize,
    colon: bool,
) -> Option<Locator> {
    let first = tokens.get(at)?;
    let bare = if colon { Bare::Pages } else { Bare::None };
    let (locator, length) = locator_at(content.get(first.start..end)?, bare)?;
    let rest = content.get(first.start + length..end)?;
    rest.trim().is_empty().then_some(locator)
}
