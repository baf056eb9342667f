//! Pandoc keys: `[see @harrow2019a, pp. 3-4; @b]`, `[-@a]`, `@a [p. 12]`, `@{key with:odd}`.
//!
//! A key begins with a letter, digit or underscore; single signs of `:.#$%&-+?<>~/` may stand inside
//! it (published: Pandoc user's guide, "Citation syntax").

use super::author_year::MOST_CITES;
use super::chunk::one_line;
use super::find::LONGEST_BRACKET;
use super::{ByteRange, Citation, CitationForm, Cite, CiteTarget, Locator};
use crate::text::locator::{Bare, locator_at};

/// A longer key is not one; bounds the work.
const LONGEST_KEY: usize = 200;

/// Cross-references to a draft's own figures, tables and so on have the same shape.
const CROSS_REFERENCES: [&str; 14] = [
    "fig-", "fig:", "tbl-", "tbl:", "sec-", "sec:", "eq-", "eq:", "lst-", "lst:", "thm-", "lem-",
    "exm-", "cor-",
];

/// A key found at an `@`.
struct Key<'a> {
    name: &'a str,
    /// The byte after the key.
    end: usize,
}

/// The cites of a square bracket whose inside is `content[start..end]`; every part up to a semicolon
/// holds at most one key, the first does.
pub(super) fn read(content: &str, start: usize, end: usize) -> Option<Vec<Cite>> {
    let inside = content.get(start..end)?;
    let mut cites = Vec::new();
    let mut at = start;
    for part in inside.split(';') {
        match cite(content, at, at + part.len()) {
            Some(cite) => cites.push(cite),
            None if cites.is_empty() => return None,
            // `; emphasis added` after a cite.
            None => {}
        }
        at += part.len() + 1;
        if cites.len() > MOST_CITES {
            return None;
        }
    }
    Some(cites)
}

fn cite(content: &str, start: usize, end: usize) -> Option<Cite> {
    let part = content.get(start..end)?;
    let key = memchr::memchr_iter(b'@', part.as_bytes())
        .take(8)
        .find_map(|at| key_at(content, start + at, end))?;
    let sign = key.end.checked_sub(key.name.len())?;
    let sign = content.get(start..sign)?.rfind('@')? + start;
    let before = content.get(start..sign)?;
    let prefix = before.strip_suffix('-').unwrap_or(before);
    let prefix = one_line(prefix.trim().trim_end_matches(','));
    let blank = before.len() - before.trim_start().len();
    let (locator, behind) = match locator_behind(content, key.end, end) {
        Some((locator, behind)) => (Some(locator), behind),
        None => (None, key.end),
    };
    Some(Cite {
        range: ByteRange::of(start + blank, behind),
        target: CiteTarget::Key(key.name.to_owned()),
        prefix: (!prefix.is_empty()).then_some(prefix),
        locator,
    })
}

/// `, p. 3`, ` 12`, `{ii}` or `, {pp. 3}` after a key, and where it ends.
fn locator_behind(content: &str, start: usize, end: usize) -> Option<(Locator, usize)> {
    let mut text = content.get(start..end)?.trim_start();
    text = text.strip_prefix(',').unwrap_or(text).trim_start();
    let braced = text.strip_prefix('{');
    text = braced.unwrap_or(text).trim_start();
    let (locator, length) = locator_at(text, Bare::Pages)?;
    let mut behind = end - text.len() + length;
    if braced.is_some()
        && let Some(brace) = content.get(behind..end)?.find('}')
    {
        behind += brace + 1;
    }
    Some((locator, behind))
}

/// The citation at an `@` outside a bracket that is not part of an address.
pub(super) fn bare(content: &str, sign: usize, floor: usize, end: usize) -> Option<Citation> {
    let key = key_at(content, sign, end)?;
    let before = content.get(floor..sign)?;
    let hidden = before
        .strip_suffix('-')
        .filter(|before| before.chars().next_back().is_none_or(is_outside));
    let start = hidden.map_or(sign, |_| sign - 1);
    let (locator, behind) = match bracket_behind(content, key.end, end) {
        Some((locator, behind)) => (Some(locator), behind),
        None => (None, key.end),
    };
    let range = ByteRange::of(start, behind);
    Some(Citation {
        form: CitationForm::Key,
        range,
        aside: range,
        narrative: true,
        cites: vec![Cite {
            range,
            target: CiteTarget::Key(key.name.to_owned()),
            prefix: None,
            locator,
        }],
    })
}

/// ` [p. 12]` after a bare key; what follows the locator in the bracket belongs to it.
fn bracket_behind(content: &str, start: usize, end: usize) -> Option<(Locator, usize)> {
    let rest = content.get(start..end)?;
    let text = rest.trim_start();
    let inside = text.strip_prefix('[')?;
    let close = memchr::memchr2(
        b'[',
        b']',
        inside.as_bytes().get(..LONGEST_BRACKET.min(inside.len()))?,
    )?;
    let open = end - inside.len();
    let inside = inside.get(..close)?;
    let (locator, length) = locator_at(inside.trim_start(), Bare::Pages)?;
    let closed = content.get(open + close..end)?.starts_with(']');
    let behind = inside.trim_start().get(length..)?.trim_start();
    let clean = behind.is_empty() || behind.starts_with([',', ';']);
    (closed && clean && !inside.contains('@')).then_some((locator, open + close + 1))
}

/// The key after the `@` at a byte.
fn key_at(content: &str, sign: usize, end: usize) -> Option<Key<'_>> {
    let before = content.get(..sign)?.chars().next_back();
    let after_hyphen = before == Some('-')
        && content
            .get(..sign - 1)?
            .chars()
            .next_back()
            .is_none_or(is_outside);
    if !(before.is_none_or(is_outside) || after_hyphen) {
        return None;
    }
    let start = sign + 1;
    let rest = content.get(start..end)?;
    if let Some(braced) = rest.strip_prefix('{') {
        let close = braced
            .bytes()
            .take(LONGEST_KEY)
            .position(|byte| byte == b'}')?;
        let name = braced.get(..close).filter(|name| !name.trim().is_empty())?;
        return Some(Key {
            name,
            end: start + close + 2,
        });
    }
    let length = key_length(rest);
    let name = rest.get(..length).filter(|name| !name.is_empty())?;
    let other = CROSS_REFERENCES.iter().any(|begin| name.starts_with(begin));
    let long = length > LONGEST_KEY;
    // `@host.example/path` is hardly a key, but `@a/b` may be one; an address `a@b` is known by
    // what stands before the sign.
    (!other && !long).then_some(Key {
        name,
        end: start + length,
    })
}

/// Characters before which an `@` may open a key: blank space, brackets, quotation marks, dashes.
fn is_outside(c: char) -> bool {
    !c.is_alphanumeric() && !matches!(c, '_' | '.' | '+' | '-' | '%' | '@' | '/' | ':' | '\\')
}

fn key_length(text: &str) -> usize {
    let mut length = 0;
    let mut signs = 0;
    for (at, c) in text.char_indices() {
        if at > LONGEST_KEY {
            return at;
        }
        let accent = length > 0 && matches!(c, '\u{300}'..='\u{36f}');
        if c.is_alphanumeric() || c == '_' || accent {
            length = at + c.len_utf8();
            signs = 0;
        } else if length > 0 && signs == 0 && ":.#$%&-+?<>~/".contains(c) {
            signs = 1;
        } else {
            break;
        }
    }
    length
}
