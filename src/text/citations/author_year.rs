//! Author and year: `(see Lindqvist & Okoro, 2014a, 2014b, p. 3; Vane, n.d.)`.
//!
//! The reader goes from year to year. The names are read backwards from each year; what stands
//! before them must be a prefix, or there must be some other sign that this is a citation. A year
//! without names before it repeats the names of the cite before (in a narrative citation, of the
//! sentence).

use super::lead::{Lead, lead};
use super::names::{NameList, Setting, names_before};
use super::tokens::{Kind, Token};
use super::year::{YearAt, year_at};
use super::{ByteRange, Cite, CiteTarget, Locator, Year};
use crate::text::locator::{Bare, locator_at};

/// What a bracket holds.
pub(super) struct Reading {
    pub cites: Vec<Cite>,
    /// Where the citation begins, if it is not the bracket's beginning: after other prose.
    pub from: Option<usize>,
    /// Where it ends, if prose follows.
    pub to: Option<usize>,
}

/// A bracket with more cites is not a citation that a person wrote; bounds memory.
pub(super) const MOST_CITES: usize = 100;

/// A bracket with more words than this before its first cite is a remark that holds a citation.
const REMARK_BEFORE: usize = 5;
/// As many words may follow the last cite (`emphasis in original, my translation`).
const REMARK_BEHIND: usize = 8;

/// Several volumes appear over some years, a life lasts longer: `(Vane, 1920–1984)` is not a citation.
const LONGEST_SPAN: std::ops::RangeInclusive<i32> = 1..=15;

/// Reads the tokens of a bracket that ends at the byte `end`. `narrative` are the names before the
/// bracket, where it begins with a year.
pub(super) fn read(
    content: &str,
    tokens: &[Token<'_>],
    end: usize,
    narrative: Option<&NameList>,
) -> Option<Reading> {
    let mut reader = Reader {
        content,
        tokens,
        end,
        from: 0,
        author: narrative.cloned(),
        narrative: narrative.is_some(),
        cites: Vec::new(),
    };
    let mut at = 0;
    while let Some(token) = tokens.get(at)
        && reader.cites.len() < MOST_CITES
    {
        at = match year_at(content, tokens, at) {
            Some(year) => reader.take(at, &year),
            None => at + 1,
        };
        if token.kind == Kind::Semicolon {
            reader.from = at;
        }
    }
    reader.finish()
}

struct Reader<'t, 'a> {
    content: &'a str,
    tokens: &'t [Token<'a>],
    end: usize,
    /// The first token after the last cite or semicolon.
    from: usize,
    author: Option<NameList>,
    narrative: bool,
    cites: Vec<Cite>,
}

impl Reader<'_, '_> {
    /// Takes the cite whose year stands at a token, if it is one, and returns the token to continue with.
    fn take(&mut self, at: usize, found: &YearAt) -> usize {
        let mut years = vec![found.year.clone()];
        let mut behind = self.more_letters(found, &mut years);
        let year_end = self.token_end(behind);
        let locator = self.locator_behind(behind, year_end);
        let Some((start, prefix)) = self.names_at(at, found, locator.is_some()) else {
            return found.next;
        };
        let cite_end = locator.as_ref().map_or(year_end, |(_, end)| *end);
        while self
            .tokens
            .get(behind)
            .is_some_and(|token| token.start < cite_end)
        {
            behind += 1;
        }
        let Some(author) = self.author.clone() else {
            return found.next;
        };
        let year_end = self.tokens.get(at).map_or(cite_end, |token| token.end);
        self.push(&author, years, prefix, [start, year_end, cite_end]);
        if let (Some(last), Some((locator, _))) = (self.cites.last_mut(), locator) {
            last.locator = Some(locator);
        }
        self.from = behind;
        behind
    }

    /// One cite a year. Of `2019a, b` the first ends where its year ends and the others share what
    /// follows: empty places, and the rest for the last.
    fn push(
        &mut self,
        author: &NameList,
        years: Vec<Year>,
        mut prefix: Option<String>,
        [start, year_end, end]: [usize; 3],
    ) {
        let last = years.len().saturating_sub(1);
        for (index, year) in years.into_iter().enumerate() {
            let from = if index == 0 { start } else { year_end };
            let to = if index == last { end } else { year_end };
            self.cites.push(Cite {
                range: ByteRange::of(from, to),
                target: target(author, Some(year)),
                prefix: prefix.take(),
                locator: None,
            });
        }
    }

    fn token_end(&self, next: usize) -> usize {
        next.checked_sub(1)
            .and_then(|index| self.tokens.get(index))
            .map_or(self.end, |token| token.end)
    }

    /// `2019a, b`, `2019a–c`: adds the years that are given by their letter alone and returns the first token
    /// after them.
    fn more_letters(&self, found: &YearAt, years: &mut Vec<Year>) -> usize {
        let mut next = found.next;
        let (Some(number), Some(mut last)) = (found.year.number, found.year.suffix) else {
            return next;
        };
        while let Some([joint, letter]) = self.tokens.get(next..next + 2)
            && let Some(to) = lone_letter(letter).filter(|letter| *letter > last)
            && self.tokens.get(next + 2).is_none_or(ends_years)
        {
            let from = match joint.kind {
                Kind::Comma | Kind::Amp => to,
                Kind::Word if joint.text == "and" => to,
                Kind::Dash => char::from_u32(last as u32 + 1).unwrap_or(to),
                _ => break,
            };
            years.extend((from..=to).map(|letter| Year {
                number: Some(number),
                suffix: Some(letter),
                written: format!("{number}{letter}"),
            }));
            last = to;
            next += 2;
        }
        next
    }

    /// The locator after a year, and the byte where it ends.
    fn locator_behind(&self, next: usize, year_end: usize) -> Option<(Locator, usize)> {
        let rest = self.content.get(year_end..self.end)?;
        let mut text = rest.trim_start();
        let mut bare = Bare::None;
        if let Some(behind) = text.strip_prefix(':') {
            (text, bare) = (behind.trim_start(), Bare::Pages);
        } else if let Some(behind) = text.strip_prefix(',') {
            text = behind.trim_start();
            let year = year_at(self.content, self.tokens, next + 1);
            // `n.d., n.d.-b` and `in press, n.d.` are two works without a year.
            if year.as_ref().is_some_and(|year| year.year.number.is_none()) {
                return None;
            }
            // `2014, 2015` are two years, `2014, 1503–1510` is a year and pages.
            if year.is_none_or(|year| year.span.is_some()) {
                bare = Bare::Pages;
            }
        }
        for word in ["at ", "esp. ", "especially ", "here ", "in ", "on ", "see "] {
            if let Some(behind) = text.strip_prefix(word) {
                text = behind.trim_start();
                bare = if word == "at " {
                    Bare::Pages
                } else {
                    Bare::None
                };
            }
        }
        let (locator, length) = locator_at(text, bare)?;
        Some((locator, self.end - text.len() + length))
    }

    /// Finds the names for the year at a token and keeps them as the current author. Returns where
    /// the cite begins and its prefix.
    fn names_at(
        &mut self,
        at: usize,
        found: &YearAt,
        located: bool,
    ) -> Option<(usize, Option<String>)> {
        let head = self.tokens.get(self.from..at)?;
        let (names, comma) = match head {
            [names @ .., last] if last.kind == Kind::Comma => (names, true),
            _ => (head, false),
        };
        let Some(list) = names_before(self.content, names, Setting::Bracket) else {
            let separators = head.iter().all(is_separator);
            let repeated = separators && self.author.is_some() && is_likely(found, false);
            return repeated.then(|| (self.tokens.get(at).map_or(self.end, |t| t.start), None));
        };
        let before = names.get(..list.first)?;
        let before = match before {
            [first, rest @ ..] if !self.cites.is_empty() && is_separator(first) => rest,
            _ => before,
        };
        let lead = lead(self.content, before, list.start);
        if !is_likely(found, comma) || ((list.event || list.counted) && !comma) {
            return None;
        }
        if self.cites.is_empty() && !is_believable(&lead, &list, located) {
            return None;
        }
        self.author = Some(list);
        Some((lead.start, lead.prefix))
    }

    fn finish(self) -> Option<Reading> {
        let (first, last) = (self.cites.first()?, self.cites.last()?);
        let behind = self.tokens.get(self.from..).unwrap_or_default();
        let sure = self.cites.len() > 1
            || last.locator.is_some()
            || (!self.narrative && self.author.as_ref().is_some_and(|author| author.joined));
        if !sure && !may_follow(behind, self.narrative) {
            return None;
        }
        let words = |tokens: &[Token<'_>]| tokens.iter().filter(|t| t.kind == Kind::Word).count();
        let before = self
            .tokens
            .partition_point(|token| token.start < first.range.start());
        let before = words(self.tokens.get(..before).unwrap_or_default());
        Some(Reading {
            from: (before > REMARK_BEFORE).then(|| first.range.start()),
            to: (words(behind) > REMARK_BEHIND).then(|| last.range.end()),
            cites: self.cites,
        })
    }
}

/// What a cite with these names points at.
pub(super) fn target(author: &NameList, year: Option<Year>) -> CiteTarget {
    CiteTarget::Author {
        names: author.names.clone(),
        initials: author.initials.clone(),
        et_al: author.et_al,
        year,
    }
}

/// Whether a number is likely to be a year of publication. Early years and spans of years are, but only after
/// a name and a comma.
fn is_likely(found: &YearAt, comma: bool) -> bool {
    let early = found.year.number.is_some_and(|year| year < 1500);
    let span = found
        .span
        .is_none_or(|span| comma && LONGEST_SPAN.contains(&span));
    span && (comma || !early)
}

/// Whether the words before the first cite leave it a citation. Words that are not a prefix
/// (`held in Stockholm, 2014`) need some other sign: a cue, several authors, a locator.
fn is_believable(lead: &Lead, list: &NameList, located: bool) -> bool {
    !lead.place && (!lead.rest || lead.prefix.is_some() || list.joined || located)
}

/// Whether what follows a sole cite may follow a citation: `, emphasis added` may, `lamps were
/// counted` and `to 2016` may not.
fn may_follow(behind: &[Token<'_>], narrative: bool) -> bool {
    const LINKING: [&str; 10] = [
        "also", "among", "and", "but", "for", "in", "on", "which", "who", "with",
    ];
    let counted = behind
        .get(1)
        .is_some_and(|token| token.kind == Kind::Number);
    match behind.first() {
        None => true,
        Some(first) => match first.kind {
            Kind::Word => !narrative && LINKING.contains(&first.text),
            Kind::Number | Kind::Dash => false,
            _ => !(narrative && counted),
        },
    }
}

fn is_separator(token: &Token<'_>) -> bool {
    matches!(token.kind, Kind::Comma | Kind::Amp | Kind::Semicolon)
        || ["and", "und", "et", "y", "og", "och"].contains(&token.text)
}

fn lone_letter(token: &Token<'_>) -> Option<char> {
    let mut letters = token.text.chars();
    let letter = letters.next().filter(char::is_ascii_lowercase)?;
    letters.next().is_none().then_some(letter)
}

fn ends_years(token: &Token<'_>) -> bool {
    matches!(
        token.kind,
        Kind::Comma | Kind::Semicolon | Kind::Colon | Kind::Dash | Kind::Amp
    ) || token.is_word("and")
}
