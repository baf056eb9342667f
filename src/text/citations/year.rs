//! Years of publication: `2014`, `2019a`, `1898/2014`, `[1898] 2014`, `n.d.`, `in press`.

use super::Year;
use super::tokens::{Kind, Token};

/// A year found at a token.
#[derive(Debug, Clone)]
pub(super) struct YearAt {
    pub year: Year,
    /// The first token after it.
    pub next: usize,
    /// For `1959–1963` how many years it spans.
    pub span: Option<i32>,
}

/// Reads a year at a token. `1898/2014` and `[1898] 2014` name the original and the edition used. The later
/// of the two is the year that a reference list gives (APA 7 section 8.15, from memory).
pub(super) fn year_at(content: &str, tokens: &[Token<'_>], at: usize) -> Option<YearAt> {
    let found = bracketed_original(tokens, at)
        .or_else(|| about(tokens, at))
        .or_else(|| number(tokens, at))
        .or_else(|| undated(tokens, at))?;
    let (first, last) = (tokens.get(at)?, tokens.get(found.next.checked_sub(1)?)?);
    Some(YearAt {
        year: Year {
            number: found.number,
            suffix: found.suffix,
            written: content.get(first.start..last.end)?.to_owned(),
        },
        next: found.next,
        span: found.span,
    })
}

struct Reading {
    number: Option<i32>,
    suffix: Option<char>,
    next: usize,
    span: Option<i32>,
}

/// Four digits from 1000 to 2099 and at most one small letter.
fn plain(token: &Token<'_>) -> Option<(i32, Option<char>)> {
    let (digits, letter) = token.text.split_at_checked(4)?;
    if token.kind != Kind::Number || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let number = digits
        .parse()
        .ok()
        .filter(|year| (1000..2100).contains(year))?;
    let mut letters = letter.chars();
    match (letters.next(), letters.next()) {
        (None, _) => Some((number, None)),
        (Some(suffix), None) if suffix.is_ascii_lowercase() => Some((number, Some(suffix))),
        _ => None,
    }
}

/// `[1898] 2014`
fn bracketed_original(tokens: &[Token<'_>], at: usize) -> Option<Reading> {
    let [open, original, close, edition] = tokens.get(at..at + 4)? else {
        return None;
    };
    if open.kind != Kind::Open || close.kind != Kind::Close {
        return None;
    }
    let ((original, _), (edition, suffix)) = (plain(original)?, plain(edition)?);
    Some(Reading {
        number: Some(original.max(edition)),
        suffix,
        next: at + 4,
        span: None,
    })
}

/// `ca. 1898`, `c. 1898`
fn about(tokens: &[Token<'_>], at: usize) -> Option<Reading> {
    let word = tokens.get(at)?;
    if !["ca", "c", "circa"].iter().any(|about| word.is_word(about)) {
        return None;
    }
    let dot = tokens
        .get(at + 1)
        .is_some_and(|next| next.kind == Kind::Dot);
    number(tokens, at + 1 + usize::from(dot))
}

fn number(tokens: &[Token<'_>], at: usize) -> Option<Reading> {
    let first = tokens.get(at)?;
    let (year, suffix) = plain(first)?;
    let mut reading = Reading {
        number: Some(year),
        suffix,
        next: at + 1,
        span: None,
    };
    let (Some(joint), Some(second)) = (tokens.get(at + 1), tokens.get(at + 2)) else {
        return Some(reading);
    };
    let closed = tokens
        .get(at + 3)
        .is_some_and(|next| next.kind == Kind::Close);
    match (joint.kind, plain(second)) {
        (Kind::Slash, Some((other, letter))) => {
            reading.number = Some(year.max(other));
            reading.suffix = suffix.or(letter);
            reading.next = at + 3;
        }
        (Kind::Open, Some((other, _))) if closed => {
            reading.number = Some(year.max(other));
            reading.next = at + 4;
        }
        (Kind::Dash, Some((other, _))) => {
            reading.span = Some(other - year);
            reading.next = at + 3;
        }
        // `SI 2014/123` is the number of a law.
        (Kind::Slash, None) if second.kind == Kind::Number && second.text.len() > 2 => return None,
        (Kind::Dash | Kind::Slash, None) => {
            if let Some(end) = short_end(year, second) {
                reading.span = (joint.kind == Kind::Dash).then_some(end - year);
                reading.next = at + 3;
            }
        }
        _ => {}
    }
    Some(reading)
}

/// The `15` of `2014-15`.
fn short_end(year: i32, token: &Token<'_>) -> Option<i32> {
    let short = token.kind == Kind::Number && token.text.len() == 2;
    let end: i32 = token.text.parse().ok().filter(|_| short)?;
    let end = year - year % 100 + end;
    (end > year).then_some(end)
}

/// *n.d.* and *in press*, with their equivalents in neighbouring languages, and a letter after them
/// (`n.d.-a`; APA 7 sections 8.19 and 9.46, from memory).
fn undated(tokens: &[Token<'_>], at: usize) -> Option<Reading> {
    let next = abbreviated(tokens, at)
        .or_else(|| two_words(tokens, at))
        .or_else(|| one_word(tokens, at))?;
    let last = tokens.get(next.checked_sub(1)?)?;
    let suffix = lettered(last.text).1;
    let behind = tokens.get(next..next + 2).and_then(|behind| match behind {
        [dash, letter] if dash.kind == Kind::Dash => single_letter(letter.text),
        _ => None,
    });
    Some(Reading {
        number: None,
        suffix: suffix.or(behind),
        next: if behind.is_some() { next + 2 } else { next },
        span: None,
    })
}

fn single_letter(text: &str) -> Option<char> {
    let mut letters = text.chars();
    let first = letters.next().filter(char::is_ascii_lowercase)?;
    letters.next().is_none().then_some(first)
}

/// `press-a` as `press` and `a`.
fn lettered(word: &str) -> (&str, Option<char>) {
    match word.rsplit_once('-') {
        Some((word, letter)) if single_letter(letter).is_some() => (word, single_letter(letter)),
        _ => (word, None),
    }
}

/// `n.d.`, `o. J.`, `s.f.`, `s.d.`
fn abbreviated(tokens: &[Token<'_>], at: usize) -> Option<usize> {
    const PAIRS: [(&str, &str); 5] = [("n", "d"), ("o", "J"), ("s", "f"), ("s", "d"), ("s", "a")];
    let [first, dot, second] = tokens.get(at..at + 3)? else {
        return None;
    };
    let fits = dot.kind == Kind::Dot
        && PAIRS
            .iter()
            .any(|(a, b)| first.is_word(a) && second.is_word(b));
    let closing = tokens
        .get(at + 3)
        .is_some_and(|token| token.kind == Kind::Dot);
    fits.then_some(at + 3 + usize::from(closing))
}

fn two_words(tokens: &[Token<'_>], at: usize) -> Option<usize> {
    const PAIRS: [(&str, &str); 8] = [
        ("en", "prensa"),
        ("im", "Druck"),
        ("im", "Erscheinen"),
        ("in", "preparation"),
        ("in", "press"),
        ("in", "print"),
        ("no", "date"),
        ("sous", "presse"),
    ];
    let [first, second] = tokens.get(at..at + 2)? else {
        return None;
    };
    PAIRS
        .iter()
        .any(|(a, b)| first.is_word(a) && lettered(second.text).0 == *b)
        .then_some(at + 2)
}

fn one_word(tokens: &[Token<'_>], at: usize) -> Option<usize> {
    let word = tokens.get(at)?;
    ["forthcoming", "nd"]
        .iter()
        .any(|undated| lettered(word.text).0 == *undated)
        .then_some(at + 1)
}
