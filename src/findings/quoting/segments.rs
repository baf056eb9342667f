//! The words of a quotation as its source must have them: without the writer's bracketed insertions,
//! cut where the writer left words out.
//!
//! Published rules (APA 7, 8.30-8.31; Chicago 17, 13.50-13.62; MLA 9, 6.54-6.66; section numbers from
//! memory): words may be left out where an ellipsis says so, words may be put in between square
//! brackets, the initial capital may be changed, with or without brackets (`[T]he`), and remarks on the
//! quotation (`[sic]`, `[emphasis added]`) replace nothing.

use crate::text::{ByteRange, Locator, LocatorUnit, MarkedText, Text};
use crate::wording::normal_form;

use super::remarks::is_remark;

/// What the writer says stands between a stretch and the one before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Gap {
    /// A bracket: words of the writer's own, which may stand for a few of the source's.
    Bracket,
    /// An ellipsis: words were left out.
    Ellipsis,
}

/// A stretch of the quotation that must stand in the source word for word.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Segment {
    /// What stands before it; of no meaning for the first.
    pub gap: Gap,
    /// Its words as written.
    pub written: Vec<String>,
    /// Their normal forms.
    pub forms: Vec<String>,
}

/// A piece of the quotation's characters and what stands before it.
type Piece = (Gap, String);

/// Cuts a stretch of the draft into segments; citations inside it are no part of the quotation, nor is
/// a page in brackets at its end.
#[must_use]
pub(super) fn segments(text: &MarkedText, inner: ByteRange) -> Vec<Segment> {
    let mut pieces: Vec<Piece> = vec![(Gap::Bracket, String::new())];
    let mut at = inner.start();
    let inside = text
        .citations
        .partition_point(|citation| citation.aside.start() < inner.start());
    let citations = text.citations.iter().skip(inside);
    for citation in citations
        .take_while(|citation| citation.aside.start() < inner.end())
        .filter(|citation| inner.covers(citation.aside))
    {
        let before = ByteRange::of(at, citation.aside.start());
        cut(text.text.slice(before), &mut pieces);
        at = citation.aside.end();
    }
    let rest = text.text.slice(ByteRange::of(at, inner.end()));
    cut(without_page(rest), &mut pieces);
    let mut segments: Vec<Segment> = Vec::new();
    let mut gap = Gap::Bracket;
    for (before, piece) in pieces {
        gap = gap.max(before);
        let (written, forms) = words(&piece);
        if !forms.is_empty() {
            segments.push(Segment {
                gap,
                written,
                forms,
            });
            gap = Gap::Bracket;
        }
    }
    segments
}

/// A quotation without the `(p. 12)` at its end, as block quotations and notes have it.
fn without_page(quotation: &str) -> &str {
    let trimmed = quotation.trim_end();
    let bracket = trimmed
        .strip_suffix([')', ']'])
        .and_then(|open| open.rsplit_once(['(', '[']));
    match bracket {
        Some((before, inside)) if Locator::parse(inside).is_some_and(|at| is_page(&at)) => before,
        _ => quotation,
    }
}

/// Whether a locator names a page or paragraph with its unit: `p. 12`, not a bare `12`.
fn is_page(locator: &Locator) -> bool {
    let unit = matches!(locator.unit, LocatorUnit::Page | LocatorUnit::Paragraph);
    unit && locator.written.starts_with(|c: char| !c.is_ascii_digit())
}

fn words(piece: &str) -> (Vec<String>, Vec<String>) {
    let text = MarkedText::source(Text::paragraph(piece));
    let written: Vec<String> = text
        .words
        .iter()
        .map(|word| text.text.slice(*word).to_owned())
        .collect();
    let forms = written
        .iter()
        .map(|word| normal_form(word).into_owned())
        .collect();
    (written, forms)
}

/// The normal forms of a string's words.
#[must_use]
pub(super) fn forms(string: &str) -> Vec<String> {
    words(string).1
}

/// Appends `text` to the last piece, beginning a new one at each omission or insertion.
fn cut(text: &str, pieces: &mut Vec<Piece>) {
    let mut rest = text;
    while let Some(next) = rest.chars().next() {
        let len = next.len_utf8();
        let skipped = match next {
            '[' => bracket(rest, pieces),
            '(' => round_bracket(rest),
            '…' => {
                pieces.push((Gap::Ellipsis, String::new()));
                len
            }
            '.' => ellipsis(rest, pieces),
            _ => 0,
        };
        let step = if skipped > 0 { skipped } else { len };
        if skipped == 0
            && let Some((_, piece)) = pieces.last_mut()
        {
            piece.push(next);
        }
        rest = rest.get(step..).unwrap_or_default();
    }
}

/// Longest bracket that is taken for an insertion, in bytes.
const LONGEST_BRACKET: usize = 200;

/// What stands in the bracket at the start of `rest`, and the bytes it takes; `None` where it never
/// closes.
fn inside(rest: &str, close: char) -> Option<(&str, usize)> {
    let end = rest.find(close).filter(|end| *end <= LONGEST_BRACKET)?;
    Some((rest.get(1..end)?, end + 1))
}

/// Reads a square bracket at the start of `rest`; returns the bytes it takes, 0 where it never closes.
fn bracket(rest: &str, pieces: &mut Vec<Piece>) -> usize {
    let Some((inside, taken)) = inside(rest, ']') else {
        return 0;
    };
    let joins = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
    let before = pieces.last().and_then(|(_, piece)| piece.chars().last());
    let after = rest.get(taken..).and_then(|rest| rest.chars().next());
    let is_letters = !inside.is_empty() && inside.chars().all(char::is_alphabetic);
    if is_letters && (joins(before) || joins(after)) {
        // A changed letter or ending: `[T]he`, `moth[s]`.
        if let Some((_, piece)) = pieces.last_mut() {
            piece.push_str(inside);
        }
    } else if is_omission(inside) {
        pieces.push((Gap::Ellipsis, String::new()));
    } else if !is_remark(inside) {
        pieces.push((Gap::Bracket, String::new()));
    }
    taken
}

/// Whether a bracket holds nothing but an ellipsis.
fn is_omission(inside: &str) -> bool {
    let mut signs = inside.chars().filter(|c| !c.is_whitespace()).peekable();
    signs.peek().is_some() && signs.all(|c| matches!(c, '.' | '…'))
}

/// Reads a remark in round brackets, `(emphasis added)`; returns the bytes it takes, 0 where it is none:
/// round brackets are the source's.
fn round_bracket(rest: &str) -> usize {
    match inside(rest, ')') {
        Some((inside, taken)) if is_remark(inside) => taken,
        _ => 0,
    }
}

/// Reads three or more full stops, close or spaced, at the start of `rest`; returns the bytes they take.
fn ellipsis(rest: &str, pieces: &mut Vec<Piece>) -> usize {
    let mut dots = 0;
    let mut end = 0;
    for (at, c) in rest.char_indices() {
        match c {
            '.' => {
                dots += 1;
                end = at + 1;
            }
            // A line may end between spaced dots.
            c if c.is_whitespace() => {}
            _ => break,
        }
    }
    if dots < 3 {
        return 0;
    }
    pieces.push((Gap::Ellipsis, String::new()));
    end
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn cuts_to(quotation: &str, expected: &str) {
        let text = MarkedText::new(Text::paragraph(quotation));
        let found = segments(&text, ByteRange::of(0, quotation.len()));
        let mut shown = String::new();
        for (number, segment) in found.iter().enumerate() {
            shown += match segment.gap {
                _ if number == 0 => "",
                Gap::Bracket => " [ ",
                Gap::Ellipsis => " | ",
            };
            shown += &segment.forms.join(" ");
        }
        assert_eq!(shown, expected, "{quotation}");
    }

    #[test]
    fn omissions_and_insertions_cut() {
        cuts_to("the lamps were dark", "the lamps were dark");
        cuts_to("[T]he lamps were dark", "the lamps were dark");
        cuts_to("the lamp[s] were dark", "the lamps were dark");
        cuts_to("the lamps ... were dark", "the lamps | were dark");
        cuts_to("the lamps . . . . Dark fell", "the lamps | dark fell");
        cuts_to("the lamps … were dark", "the lamps | were dark");
        cuts_to("the lamps [...] were dark", "the lamps | were dark");
        cuts_to("the lamps […] were dark", "the lamps | were dark");
        cuts_to("the lamps [. . .] were dark", "the lamps | were dark");
        cuts_to("the lamps .\n. . were dark", "the lamps | were dark");
        cuts_to("... the lamps were dark . . .", "the lamps were dark");
        cuts_to("they [the moths] were gone", "they [ were gone");
        cuts_to("they [the moths] ... were gone", "they | were gone");
        cuts_to("they ... [the moths] were gone", "they | were gone");
        cuts_to("the moth's [sic] were gone", "the moth's were gone");
        cuts_to("the moth's [*sic*!] were gone", "the moth's were gone");
        cuts_to("they never [italics mine] came", "they never came");
        cuts_to("they never (emphasis added) came", "they never came");
        cuts_to("they (all of them) came", "they all of them came");
        cuts_to("they all came. (pp. 3-4)", "they all came");
        cuts_to("they all came in (1903)", "they all came in 1903");
        cuts_to("an unclosed [bracket stays", "an unclosed bracket stays");
        cuts_to("It ended. Then it began", "it ended then it began");
    }
}
