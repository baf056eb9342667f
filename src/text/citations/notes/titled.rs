//! A footnote's citation by author and title.
//!
//! 1. The names end at a comma (or, family name first, at a colon). The commas are tried from the left, but
//!    those before *and* first, since a list of authors may hold some.
//! 2. The title is the text in quotation marks after the names, or else extends to a bracket with a year, to
//!    a year after a comma, or to the comma before a page.
//! 3. A citation with a year is a full note, one with only a page a short one.

use super::super::lead::lead;
use super::super::names::{NameList, Setting, is_and, names_before};
use super::super::tokens::{Kind, Token, is_quote};
use super::super::year::year_at;
use super::super::{ByteRange, Cite, CiteTarget, Year};
use super::{Note, ends, single};
use crate::text::locator::{Bare, Locator, locator_at};
use crate::text::words::bare_words;

/// Most commas of a piece that may end its names, since names come at its beginning. Also bounds the work.
const MOST_COMMAS: usize = 6;

/// The longest title in words.
const LONGEST_TITLE: usize = 60;

/// Reads a piece as a full or short note.
pub(super) fn read(content: &str, tokens: &[Token<'_>], piece: ByteRange) -> Option<Note> {
    // Text after a quoted title connects no names.
    let before_title = |token: &Token<'_>| token.kind != Kind::Quote || token.text == "’";
    let ties: Vec<usize> = tokens
        .iter()
        .take_while(|token| before_title(token))
        .enumerate()
        .filter(|(_, token)| matches!(token.kind, Kind::Comma | Kind::Colon))
        .map(|(index, _)| index)
        .take(MOST_COMMAS)
        .collect();
    let behind_and = |at: &usize| {
        let head = tokens.get(..*at).unwrap_or_default();
        head.iter().any(is_and)
    };
    let colon = |at: &usize| tokens.get(*at).is_some_and(|tie| tie.kind == Kind::Colon);
    // `Lindqvist, Ada: ...` before `Lindqvist, Ada ...`, and a list of authors before its first name.
    let mut orders: Vec<usize> = ties.iter().copied().filter(colon).take(1).collect();
    let commas = || ties.iter().copied().filter(|at| !colon(at));
    orders.extend(commas().filter(behind_and).take(1));
    orders.extend(commas().filter(|at| !behind_and(at)));
    orders
        .into_iter()
        .find_map(|at| at_tie(content, tokens, at, piece))
}

/// The citation whose names end at a token.
fn at_tie(content: &str, tokens: &[Token<'_>], at: usize, piece: ByteRange) -> Option<Note> {
    let list = names_before(content, tokens.get(..at)?, Setting::Bracket)?;
    let colon = tokens.get(at)?.kind == Kind::Colon;
    // Commas alone connect the names in `Lindqvist, Ada: ...` and nowhere else: `Lindqvist, Dark Street, 47`
    // has one author and a title.
    let inverted =
        matches!(list.names.as_slice(), [_, given] if !list.joined && !given.contains(' '));
    if colon != inverted || (list.names.len() > 1 && !list.joined && !inverted) || list.event {
        return None;
    }
    let lead = lead(content, tokens.get(..list.first)?, list.start);
    let behind = without_roles(tokens.get(at + 1..)?);
    let start = behind.first()?.start;
    let rest = Rest {
        content,
        tokens: behind,
        end: piece.end(),
    };
    let found = rest.quoted().or_else(|| rest.plain(start))?;
    let full = found.year.is_some();
    if lead.rest && lead.prefix.is_none() && !(full && found.bracketed) {
        return None;
    }
    let cite = Cite {
        range: ByteRange::of(lead.start, found.end),
        target: target(single(list), found.title, found.year),
        prefix: lead.prefix,
        locator: found.locator,
    };
    let sure = full || cite.locator.is_some();
    Some(if sure {
        Note::Work(cite)
    } else {
        Note::Perhaps(cite)
    })
}

fn target(list: NameList, title: String, year: Option<Year>) -> CiteTarget {
    CiteTarget::Work {
        names: list.names,
        initials: list.initials,
        et_al: list.et_al,
        title,
        year,
    }
}

/// The tokens after `ed.,`, `(ed.),`, `trans.,` and the like.
fn without_roles<'t, 'a>(tokens: &'t [Token<'a>]) -> &'t [Token<'a>] {
    let role = |token: &Token<'_>| {
        ["ed", "eds", "trans", "Hrsg", "Hg", "dir", "coord"]
            .iter()
            .any(|role| token.is_word(role))
    };
    let named = tokens.iter().take(2).any(role);
    let sign = |token: &Token<'_>| {
        role(token)
            || matches!(token.kind, Kind::Dot | Kind::Comma)
            || ["(", ")"].contains(&token.text)
    };
    let skipped = tokens
        .iter()
        .take_while(|token| named && sign(token))
        .count();
    tokens.get(skipped..).unwrap_or_default()
}

/// What follows the names.
struct Rest<'t, 'a> {
    content: &'a str,
    tokens: &'t [Token<'a>],
    end: usize,
}

/// A title, and what follows it.
struct Found {
    title: String,
    year: Option<Year>,
    /// Whether the year closes a bracket, which prose about a person seldom has.
    bracketed: bool,
    locator: Option<Locator>,
    /// Where all this ends; what follows is a remark.
    end: usize,
}

/// What follows a title.
struct Dated {
    year: Option<Year>,
    bracketed: bool,
    located: Option<Located>,
    /// Where the year ends, or the title where there is none.
    end: usize,
}

impl Dated {
    fn with(self, title: String) -> Found {
        let (locator, end) = match self.located {
            Some((locator, end)) => (Some(locator), end),
            None => (None, self.end),
        };
        Found {
            title,
            year: self.year,
            bracketed: self.bracketed,
            locator,
            end,
        }
    }
}

/// A locator and where it ends.
type Located = (Locator, usize);

impl<'a> Rest<'_, 'a> {
    /// A title in quotation marks: `“Moths,” 47`, `“Moths,” Night 12, no. 3 (2014): 45–47`.
    fn quoted(&self) -> Option<Found> {
        let (open, rest) = self.tokens.split_first()?;
        if open.kind != Kind::Quote {
            return None;
        }
        let close = rest.iter().position(|token| {
            let glued = self
                .content
                .get(token.end..)
                .is_some_and(|behind| behind.starts_with(char::is_alphabetic));
            closes(open.text, token) && !glued
        })?;
        let mark = rest.get(close)?;
        let title = title(self.content.get(open.end..mark.start)?)?;
        let behind = rest.get(close + 1..)?;
        if let Some(dated) = self.year(behind) {
            return Some(dated.with(title));
        }
        let located = match behind.iter().find(|token| token.kind != Kind::Comma) {
            None => None,
            Some(next) => Some(self.locator_to_end(next.start)?),
        };
        Some(
            Dated {
                year: None,
                bracketed: false,
                located,
                end: mark.end,
            }
            .with(title),
        )
    }

    /// A title without marks, which were italics in the file.
    fn plain(&self, start: usize) -> Option<Found> {
        let first = self.tokens.first()?;
        if !first.is_capitalised() || first.kind != Kind::Word {
            return None;
        }
        if let Some(dated) = self.year(self.tokens) {
            let end = self.title_end(dated.bracketed)?;
            let title = title(self.content.get(start..end)?)?;
            return Some(dated.with(title));
        }
        let commas = self.tokens.iter().enumerate();
        for (index, comma) in commas.filter(|(_, token)| token.kind == Kind::Comma) {
            if let Some(next) = self.tokens.get(index + 1)
                && let Some(located) = self.locator_to_end(next.start)
            {
                let title = title(self.content.get(start..comma.start)?)?;
                let end = located.1;
                let dated = Dated {
                    year: None,
                    bracketed: false,
                    located: Some(located),
                    end,
                };
                return Some(dated.with(title));
            }
        }
        let title = title(self.content.get(start..self.end)?)?;
        let short = title.split(' ').count() <= 6 && !title.contains(',');
        let end = self.end;
        short.then(|| {
            Dated {
                year: None,
                bracketed: false,
                located: None,
                end,
            }
            .with(title)
        })
    }

    fn locator_to_end(&self, from: usize) -> Option<Located> {
        let rest = self.content.get(from..self.end)?;
        let (locator, length) = locator_at(rest, Bare::Pages)?;
        let behind = rest.get(length..)?;
        // `40–60 (p. 45)` are the pages of the article and the page meant.
        if let Some(inside) = behind.trim_start().strip_prefix('(')
            && let Some((page, length)) = locator_at(inside, Bare::None)
            && inside.get(length..)?.starts_with(')')
        {
            let end = self.end - inside.len() + length + 1;
            return Some((page, end));
        }
        ends(behind).then_some((locator, from + length))
    }

    /// The year of a full note with the locator after it.
    fn year(&self, tokens: &[Token<'_>]) -> Option<Dated> {
        (0..tokens.len()).find_map(|at| {
            let token = tokens.get(at)?;
            let possible = token.kind == Kind::Number || token.kind == Kind::Word;
            let found = possible
                .then(|| year_at(self.content, tokens, at))
                .flatten()?;
            let next = tokens.get(found.next);
            let bracketed = next.is_some_and(|next| next.text == ")");
            let behind = if bracketed {
                found.next + 1
            } else {
                found.next
            };
            let alone = self.is_year_alone(tokens, at, behind);
            if !bracketed && !alone {
                return None;
            }
            let sign = |token: &&Token<'_>| matches!(token.kind, Kind::Comma | Kind::Colon);
            let next = tokens.get(behind..)?.iter().find(|token| !sign(token));
            Some(Dated {
                year: Some(found.year),
                bracketed,
                located: next.and_then(|next| self.locator_to_end(next.start)),
                end: tokens.get(behind.checked_sub(1)?)?.end,
            })
        })
    }

    /// `Harbour Press, 2014, p. 45` or `Hamburg 2014, S. 45`: outside a bracket a year is one after a
    /// place or publisher that has a comma before it, and before a comma or the end.
    fn is_year_alone(&self, tokens: &[Token<'_>], at: usize, behind: usize) -> bool {
        let head = tokens.get(..at).unwrap_or_default();
        let digits = tokens
            .get(at)
            .and_then(|token| token.text.get(..4)?.parse::<i32>().ok())
            .is_some_and(|year| (1500..2100).contains(&year));
        let comma = head.iter().position(|token| token.kind == Kind::Comma);
        let published = comma.is_some_and(|comma| {
            head.get(comma + 1..).is_some_and(|between| {
                between
                    .iter()
                    .any(|token| token.kind == Kind::Word && token.is_capitalised())
            })
        });
        let open = head.iter().filter(|token| token.text == "(").count()
            > head.iter().filter(|token| token.text == ")").count();
        let followed = tokens
            .get(behind)
            .is_none_or(|next| matches!(next.kind, Kind::Comma | Kind::Colon | Kind::Dot));
        digits && published && followed && !open
    }

    /// Where an unmarked title ends: at the first bracket, or at the first comma.
    fn title_end(&self, bracketed: bool) -> Option<usize> {
        let ends = |token: &&Token<'_>| {
            if bracketed {
                token.text == "("
            } else {
                token.kind == Kind::Comma
            }
        };
        self.tokens.iter().find(ends).map(|token| token.start)
    }
}

fn closes(open: &str, token: &Token<'_>) -> bool {
    let wanted: &[&str] = match open {
        "“" => &["”"],
        "„" => &["“", "”"],
        "‘" => &["’"],
        "‚" => &["‘", "’"],
        "«" => &["»"],
        "»" => &["«"],
        "‹" => &["›"],
        "›" => &["‹"],
        _ => &[open],
    };
    token.kind == Kind::Quote && (wanted.contains(&token.text) || token.text == open && open == "”")
}

/// A title in one line, without the comma at its end.
fn title(written: &str) -> Option<String> {
    let line = super::super::chunk::one_line(written);
    let line = line
        .trim_matches(|c: char| is_quote(c) || matches!(c, ',' | '.' | ' ' | '*' | '_'))
        .to_owned();
    let words = line.split(' ').count();
    (line.chars().any(char::is_alphabetic) && words <= LONGEST_TITLE).then_some(line)
}

/// The words of a title in small letters.
pub(in crate::text::citations) fn plain_words(title: &str) -> Vec<String> {
    bare_words(title).map(str::to_lowercase).collect()
}

/// Whether all words of a short title stand in a full one, in the same order.
pub(in crate::text::citations) fn contains_words(full: &[String], short: &[String]) -> bool {
    let mut rest = full.iter();
    !short.is_empty() && short.iter().all(|word| rest.any(|other| other == word))
}
