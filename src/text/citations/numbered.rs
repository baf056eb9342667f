//! Numbers of the draft's own reference list: `[12]`, `[3, 7, 9–11]`, `[12, p. 4]` (common practice
//! of the Vancouver and IEEE styles).

use super::author_year::MOST_CITES;
use super::tokens::{Kind, Token};
use super::{ByteRange, Cite, CiteTarget};
use crate::text::locator::{Bare, Locator, locator_at};

/// A longer range is no citation.
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

/// One number, or two with a dash between; returns the token behind.
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
        // The numbers between the two ends stand nowhere: they get the place of the dash.
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
