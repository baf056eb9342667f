//! The names before a year or a bracket, read from their end towards their beginning.
//!
//! 1. *et al.* and the like are removed.
//! 2. The last name: initials, a chunk of capitalised words with the small words inside
//!    ([`chunk`](super::chunk)).
//! 3. A comma, *and* or `&`, and the next name, as long as there is one. In running prose a comma
//!    joins names only where *and* follows: in `In Harrow, Lindqvist (2014)` it does not.
//! 4. A group whose own name holds an *and* (`Department of Light and Roads`) is put together again.

use super::chunk::{Item, item_before, one_line};
use super::tokens::{Kind, Token};
use super::vocabulary::{ANDS, COUNTED, DATES, EVENTS, OTHERS, listed};

/// Where the names stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Setting {
    /// Inside a bracket, where every capitalised word belongs to the citation.
    Bracket,
    /// In running prose before a bracket.
    Prose,
}

/// A list of names in the order of the text.
#[derive(Debug, Clone)]
pub(super) struct NameList {
    /// The token at which the names begin.
    pub first: usize,
    /// The byte at which they begin.
    pub start: usize,
    pub names: Vec<String>,
    pub initials: Vec<String>,
    pub et_al: bool,
    /// Whether *and*, `&` or *et al.* shows that these are authors.
    pub joined: bool,
    /// Whether a comma stands before the last name and *and* before another: it may be a title.
    pub titled: bool,
    /// Whether it is a single name that ends like a law or an event.
    pub event: bool,
    /// Whether the names are all things that are numbered (`Day`, `Model`), which are not authors before a
    /// bare number.
    pub counted: bool,
}

/// More names in one place are not a list of authors; also bounds the work.
const MOST_NAMES: usize = 12;

/// How a name is connected to the one after it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Tie {
    Comma,
    And,
    Amp,
}

/// The names that end where the tokens end.
pub(super) fn names_before(
    content: &str,
    tokens: &[Token<'_>],
    setting: Setting,
) -> Option<NameList> {
    let tokens = without_possessive(tokens, setting);
    let (tokens, et_al, comma) = without_others(tokens);
    let mut items = vec![item_before(content, tokens, setting, et_al)?];
    let mut ties = Vec::new();
    let mut commas = setting == Setting::Bracket || comma;
    while let Some(first) = items.last().map(|item| item.first)
        && items.len() < MOST_NAMES
        && let Some((tie, before)) = tie_before(tokens, first)
        && (tie != Tie::Comma || commas)
        && (tie == Tie::Comma || ties.iter().all(|tie| *tie == Tie::Comma))
        && let Some(head) = tokens.get(..before)
        && let Some(item) = item_before(content, head, setting, false)
    {
        let place = setting == Setting::Prose && tie == Tie::Comma;
        if place && after_opening_preposition(tokens, item.first) {
            break;
        }
        commas |= tie != Tie::Comma;
        ties.push(tie);
        items.push(item);
    }
    items.reverse();
    ties.reverse();
    let joined = et_al || ties.iter().any(|tie| *tie != Tie::Comma);
    let titled = ties.len() > 1 && ties.last() == Some(&Tie::Comma) && joined;
    let items = groups_joined(content, tokens, items, &ties);
    let mut list = finish(tokens, items, et_al, joined)?;
    list.titled = titled && list.names.len() > 2;
    list.event |= is_opponent(tokens, list.first) || is_of_event(tokens, list.first);
    Some(list)
}

fn finish(tokens: &[Token<'_>], items: Vec<Item>, et_al: bool, joined: bool) -> Option<NameList> {
    let (first, last) = (items.first()?.first, items.last()?);
    let bare = |item: &Item| !et_al && item.initials.is_empty();
    // `March and April 2014`; `May-June 2014`; `Lindqvist, March 2014`.
    let date = |name: &str| name.split([' ', '-']).all(|word| listed(DATES, word));
    let dated = |item: &Item| bare(item) && date(&item.name);
    if items.iter().all(dated) || (!joined && dated(last)) {
        return None;
    }
    let last_word = |item: &Item| item.name.rsplit(' ').next().unwrap_or_default().to_owned();
    let counted = |item: &Item| bare(item) && !item.headed && listed(COUNTED, &last_word(item));
    Some(NameList {
        first,
        start: tokens.get(first)?.start,
        et_al,
        joined,
        titled: false,
        event: items.len() == 1 && !et_al && listed(EVENTS, &last_word(last)),
        counted: items.iter().all(counted),
        initials: items.iter().map(|item| item.initials.clone()).collect(),
        names: items.into_iter().map(|item| item.name).collect(),
    })
}

/// `the Treaty of Harbour (1898)`
fn is_of_event(tokens: &[Token<'_>], first: usize) -> bool {
    match tokens.get(..first).unwrap_or_default() {
        [.., event, of] => of.is_word("of") && event.is_capitalised() && listed(EVENTS, event.text),
        _ => false,
    }
}

/// `Harrow v Strand (2014)` is a case at law.
fn is_opponent(tokens: &[Token<'_>], first: usize) -> bool {
    let before = tokens.get(..first).unwrap_or_default();
    let versus = |token: &Token<'_>| is_any(token, &["v", "vs"]);
    match before {
        [.., v, dot] if dot.kind == Kind::Dot => versus(v),
        [.., v] => versus(v),
        [] => false,
    }
}

/// In prose `Lindqvist et al.’s (2014)` and `Jones’ (2014)`; `Lindqvist’s` is one token, see
/// [`item_before`].
fn without_possessive<'t, 'a>(tokens: &'t [Token<'a>], setting: Setting) -> &'t [Token<'a>] {
    if setting == Setting::Bracket {
        return tokens;
    }
    let apostrophe = |token: &Token<'_>| matches!(token.text, "'" | "’");
    match tokens {
        [before @ .., mark, s] if apostrophe(mark) && s.is_word("s") && mark.end == s.start => {
            before
        }
        [before @ .., mark] if apostrophe(mark) => match before.last() {
            Some(name) if name.text.ends_with('s') && name.end == mark.start => before,
            _ => tokens,
        },
        _ => tokens,
    }
}

/// The tokens without *et al.* or its like, whether there was one, and whether a comma stood before
/// it.
fn without_others<'t, 'a>(tokens: &'t [Token<'a>]) -> (&'t [Token<'a>], bool, bool) {
    let undotted = match tokens {
        [before @ .., dot] if dot.kind == Kind::Dot => before,
        _ => tokens,
    };
    let before = match undotted {
        [before @ .., et, al] if et.is_word("et") && is_any(al, &["al", "alii", "coll"]) => before,
        [before @ .., u, dot, a]
            if dot.kind == Kind::Dot && is_any(u, &["u", "e"]) && a.is_word("a") =>
        {
            before
        }
        [before @ .., m, dot, fl]
            if dot.kind == Kind::Dot && m.is_word("m") && fl.is_word("fl") =>
        {
            before
        }
        [before @ .., and, others] if is_and(and) && is_others(others.text) => before,
        [before @ .., and, own, others]
            if is_and(and) && is_any(own, &OWN) && is_others(others.text) =>
        {
            before
        }
        [before @ .., others] if is_any(others, &["ym", "mfl"]) => before,
        _ => return (tokens, false, false),
    };
    match before {
        [names @ .., comma] if comma.kind == Kind::Comma => (names, true, true),
        _ => (before, true, false),
    }
}

/// *His, her, their* before *colleagues*.
const OWN: [&str; 9] = [
    "haar", "her", "his", "ihre", "seine", "ses", "sus", "suoi", "their",
];

fn is_others(word: &str) -> bool {
    let word = word
        .strip_suffix("'s")
        .or_else(|| word.strip_suffix("’s"))
        .unwrap_or(word);
    OTHERS.binary_search(&word).is_ok()
}

fn is_any(token: &Token<'_>, words: &[&str]) -> bool {
    words.iter().any(|word| token.is_word(word))
}

pub(super) fn is_and(token: &Token<'_>) -> bool {
    token.kind == Kind::Amp || (token.kind == Kind::Word && ANDS.binary_search(&token.text).is_ok())
}

/// What connects the name at `first` to the one before it, and where that one ends.
fn tie_before(tokens: &[Token<'_>], first: usize) -> Option<(Tie, usize)> {
    let at = first.checked_sub(1)?;
    let token = tokens.get(at)?;
    let tie = match token.kind {
        Kind::Comma => return Some((Tie::Comma, at)),
        Kind::Amp => Tie::Amp,
        _ if is_and(token) => Tie::And,
        _ => return None,
    };
    let serial = at
        .checked_sub(1)
        .and_then(|index| tokens.get(index))
        .is_some_and(|token| token.kind == Kind::Comma);
    Some((tie, at - usize::from(serial)))
}

/// `In Sweden, Lindqvist and Okoro (2014)`: what follows an opening preposition is a place.
fn after_opening_preposition(tokens: &[Token<'_>], first: usize) -> bool {
    const OPENING: [&str; 9] = [
        "Across", "After", "At", "Before", "For", "From", "In", "Near", "Outside",
    ];
    first
        .checked_sub(1)
        .and_then(|index| tokens.get(index))
        .is_some_and(|token| is_any(token, &OPENING))
}

/// Puts the pieces of a group's name together again: an *and* whose left side holds *of* or *for*, or
/// whose right side alone ends in a group's head noun (`Light and Roads Authority`). `&` always
/// stands between authors.
fn groups_joined(content: &str, tokens: &[Token<'_>], items: Vec<Item>, ties: &[Tie]) -> Vec<Item> {
    let (Some(Tie::And), [first, .., last]) = (ties.last(), items.as_slice()) else {
        return items;
    };
    let small = |item: &Item| item.words <= 2 && !item.connected && item.initials.is_empty();
    let of_several = first.connected && items.iter().skip(1).all(small);
    let headed = items.len() == 2 && !first.headed && last.headed && first.words <= 2;
    let plain = items.iter().all(|item| item.initials.is_empty());
    // A lone surname before a group is an author, `Lindqvist and Harrow Institute`; a shared head
    // noun needs at least an adjective before it.
    if !(plain && (of_several || (headed && first.words == 2))) {
        return items;
    }
    let written = tokens
        .get(first.first)
        .zip(tokens.get(last.last))
        .and_then(|(from, to)| content.get(from.start..to.end));
    let Some(written) = written else {
        return items;
    };
    vec![Item {
        first: first.first,
        last: last.last,
        name: one_line(written),
        initials: String::new(),
        words: first.words + last.words,
        connected: true,
        headed: true,
    }]
}
