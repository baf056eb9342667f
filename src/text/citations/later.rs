//! A bracket with just a locator, which takes up the citation before it: `Lindqvist (2014) holds that
//! “...” (p. 3)` (published: APA 7 section 8.25, from memory), and *ibid.* (common practice). Also
//! finding the words before the quotation that a bracket closes.

use super::tokens::{Kind, Token, is_quote};
use super::{Citation, Cite};
use crate::text::locator::{Bare, Locator, LocatorUnit, locator_at};

/// How far back the citation may lie, in bytes; also bounds the work.
pub(super) const FARTHEST: usize = 2000;

/// The locator that is all a bracket holds. A bare number is one only where `quoted` says that the
/// bracket closes a quotation, and never where it looks like a year.
pub(super) fn locator_alone(inside: &str, quoted: bool) -> Option<Locator> {
    let bare = if quoted { Bare::Pages } else { Bare::None };
    let inside = inside.trim();
    let (locator, end) = locator_at(inside, bare)?;
    if !inside.get(end..)?.trim_end_matches(['.', ' ']).is_empty() {
        return None;
    }
    let unit = matches!(locator.unit, LocatorUnit::Page | LocatorUnit::Paragraph);
    let number = inside.starts_with(|c: char| c.is_ascii_digit());
    let year = number
        && locator
            .stretches
            .iter()
            .any(|(from, _)| matches!(from.parse(), Ok(1000..=2099)));
    (unit && !year).then_some(locator)
}

/// The page behind the speaker who is quoted, in a bracket that closes a quotation: `(a teacher, p. 2)`, `(Teacher 3,
/// p. 2)`, `(teacher quoted on p. 2)` (common practice where a source quotes people without names).
pub(super) fn locator_of_speaker(inside: &str) -> Option<Locator> {
    let inside = inside.trim();
    let words = inside.match_indices(' ').take(MOST_SPEAKER_WORDS);
    let (speaker, place) = words
        .filter_map(|(at, _)| inside.split_at_checked(at + 1))
        .find(|(_, place)| locator_at(place, Bare::None).is_some())?;
    let is_small = |c: char| c.is_lowercase() || matches!(c, ' ' | ',' | '-' | '’' | '\'');
    let speaker = speaker.trim_end();
    let named = speaker.ends_with(',') || speaker.ends_with(" on");
    // `Teacher 3`, `Participant 12`: whoever speaks is counted.
    let is_number = |word: &str| word.chars().all(|c| c.is_ascii_digit());
    let counted = speaker
        .strip_suffix(',')
        .and_then(|speaker| speaker.split_once(' '))
        .is_some_and(|(who, number)| who.chars().all(char::is_alphabetic) && is_number(number));
    if !named || !(counted || speaker.chars().all(is_small)) {
        return None;
    }
    let (locator, end) = locator_at(place, Bare::None)?;
    let ends = place.get(end..)?.trim_matches(['.', ' ']).is_empty();
    (ends && locator.unit == LocatorUnit::Page).then_some(locator)
}

/// The page in the words behind a narrative citation: `Lindqvist (2014) observes on page 42 that` (common practice).
/// Nothing but small words may stand between.
pub(super) fn locator_in_prose(behind: &str) -> Option<Locator> {
    let mut rest = behind;
    for _ in 0..=MOST_WORDS_BETWEEN {
        rest = rest.trim_start();
        let end = rest.find(char::is_whitespace)?;
        let (word, behind) = rest.split_at_checked(end)?;
        if matches!(word, "on" | "at")
            && let Some((locator, end)) = locator_at(behind.trim_start(), Bare::None)
            && locator.unit == LocatorUnit::Page
        {
            // The page of something else: `on page 7 of the Gazette`.
            let after = behind.trim_start().get(end..)?.trim_start();
            let words: Vec<&str> = locator.written.split_whitespace().collect();
            let written = words.join(" ");
            let locator = Locator { written, ..locator };
            return (!after.starts_with("of ")).then_some(locator);
        }
        if !word.trim_end_matches(',').chars().all(char::is_lowercase) {
            return None;
        }
        rest = behind;
    }
    None
}

/// Words of which the speaker of a quotation may have a few, and words between a citation and its page.
const MOST_SPEAKER_WORDS: usize = 6;
const MOST_WORDS_BETWEEN: usize = 6;

/// `ibid.`, `ibid., p. 3`: the locator, if one is given.
pub(super) fn same_place(
    content: &str,
    tokens: &[Token<'_>],
    end: usize,
) -> Option<Option<Locator>> {
    let [first, rest @ ..] = tokens else {
        return None;
    };
    if !["ibid", "Ibid", "ebd", "Ebd"]
        .iter()
        .any(|word| first.is_word(word))
    {
        return None;
    }
    let Some(next) = rest
        .iter()
        .find(|token| !matches!(token.kind, Kind::Dot | Kind::Comma | Kind::Colon))
    else {
        return Some(None);
    };
    let text = content.get(next.start..end)?.trim_end();
    let (locator, length) = locator_at(text, Bare::Pages)?;
    (length == text.len()).then_some(Some(locator))
}

/// The cites of the citation before, with another locator.
pub(super) fn taken_up(latest: &Citation, range: super::ByteRange, locator: &Locator) -> Vec<Cite> {
    let again = |cite: &Cite| Cite {
        range,
        target: cite.target.clone(),
        prefix: None,
        locator: Some(locator.clone()),
    };
    let mut cites: Vec<Cite> = latest.cites.iter().map(again).collect();
    cites.dedup_by(|a, b| a.target == b.target);
    cites
}

/// Whether the text ends with a closing quotation mark, perhaps with a point or comma around it.
pub(super) fn closes_quotation(before: &str) -> bool {
    let text = before.trim_end();
    let text = text.strip_suffix(['.', ',', ';']).unwrap_or(text);
    text.ends_with(|c: char| is_quote(c) && !matches!(c, '„' | '‚'))
}

/// Whether the text from the end of a citation to a bracket begins at most one new sentence. A quotation that
/// the bracket closes counts as one stretch, however many sentences it holds.
pub(super) fn at_most_next_sentence(between: &str) -> bool {
    if between.len() > FARTHEST {
        return false;
    }
    let introduction = if closes_quotation(between) {
        before_quotation(between)
    } else {
        None
    };
    let text = introduction.unwrap_or(between);
    sentence_ends(text) <= 1
}

/// The text before the quotation that ends the given text.
pub(super) fn before_quotation(text: &str) -> Option<&str> {
    let end = text.trim_end().trim_end_matches(['.', ',', ';']);
    let close = end.chars().next_back()?;
    let inside = end.get(..end.len() - close.len_utf8())?;
    let at = match close {
        '”' => inside.rfind(['“', '„', '”']),
        '“' => inside.rfind('„'),
        '»' => inside.rfind('«'),
        '«' => inside.rfind('»'),
        '›' => inside.rfind('‹'),
        '’' => inside.rfind('‘'),
        other => inside.rfind(other),
    }?;
    inside.get(..at)
}

/// How often a full stop, question mark or exclamation mark is followed by a blank and a word that
/// may begin a sentence. Counts to two.
fn sentence_ends(text: &str) -> usize {
    let mut count = 0;
    let mut words = text.split_whitespace().peekable();
    while let Some(word) = words.next()
        && count < 2
    {
        let bare = word.trim_end_matches(|c: char| is_quote(c) || c == ')' || c == ']');
        let ends = bare.ends_with(['.', '?', '!', '…']) && !is_abbreviation(bare);
        let begins = words.peek().is_some_and(|next| {
            let mut letters = next
                .trim_start_matches(|c: char| is_quote(c) || c == '(')
                .chars();
            letters.next().is_some_and(|c| !c.is_lowercase())
        });
        count += usize::from(ends && begins);
    }
    count
}

/// Single letters and the short forms that stand before names and numbers.
fn is_abbreviation(word: &str) -> bool {
    const SHORT: [&str; 12] = [
        "al.", "cf.", "ch.", "e.g.", "fig.", "i.e.", "no.", "p.", "pp.", "vol.", "dr.", "st.",
    ];
    let word = word.trim_start_matches(|c: char| is_quote(c) || c == '(' || c == '[');
    let letters = word.chars().filter(|c| c.is_alphabetic()).count();
    letters == 1 || (word.len() < 6 && SHORT.contains(&word.to_lowercase().as_str()))
}
