//! The words of a quotation as its source must have them: without the writer's bracketed insertions,
//! cut where the writer left words out.
//!
//! Published rules (APA 7, 8.30-8.31; the other author-date styles agree): words may be left out
//! where an ellipsis says so, words may be put in between square brackets, and the initial capital
//! may be changed, with or without brackets (`[T]he`).

use crate::text::{ByteRange, MarkedText, Text};
use crate::wording::normal_form;

/// A stretch of the quotation that must stand in the source word for word.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Segment {
    /// Its words as written.
    pub written: Vec<String>,
    /// Their normal forms.
    pub forms: Vec<String>,
}

/// Cuts a stretch of the draft into segments; citations inside it are no part of the quotation.
#[must_use]
pub fn segments(text: &MarkedText, inner: ByteRange) -> Vec<Segment> {
    let mut pieces: Vec<String> = vec![String::new()];
    let mut at = inner.start();
    for citation in text
        .citations
        .iter()
        .filter(|citation| inner.covers(citation.aside))
    {
        let before = ByteRange::of(at, citation.aside.start());
        cut(text.text.slice(before), &mut pieces);
        at = citation.aside.end();
    }
    cut(text.text.slice(ByteRange::of(at, inner.end())), &mut pieces);
    pieces
        .iter()
        .map(|piece| segment(piece))
        .filter(|segment| !segment.forms.is_empty())
        .collect()
}

fn segment(piece: &str) -> Segment {
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
    Segment { written, forms }
}

/// The normal forms of a string's words.
#[must_use]
pub fn forms(string: &str) -> Vec<String> {
    segment(string).forms
}

/// Appends `text` to the last piece, beginning a new one at each omission or insertion.
fn cut(text: &str, pieces: &mut Vec<String>) {
    let mut rest = text;
    while let Some(next) = rest.chars().next() {
        let len = next.len_utf8();
        let skipped = match next {
            '[' => bracket(rest, pieces),
            '…' => {
                pieces.push(String::new());
                len
            }
            '.' => ellipsis(rest, pieces),
            _ => 0,
        };
        if skipped > 0 {
            rest = &rest[skipped..];
            continue;
        }
        if let Some(piece) = pieces.last_mut() {
            piece.push(next);
        }
        rest = &rest[len..];
    }
}

/// Longest bracket that is taken for an insertion, in bytes.
const LONGEST_BRACKET: usize = 200;

/// Reads a bracket at the start of `rest`; returns the bytes it takes, 0 where it never closes.
fn bracket(rest: &str, pieces: &mut Vec<String>) -> usize {
    let Some(end) = rest.find(']').filter(|end| *end <= LONGEST_BRACKET) else {
        return 0;
    };
    let inside = &rest[1..end];
    let joins = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
    let before = pieces.last().and_then(|piece| piece.chars().last());
    let after = rest[end + 1..].chars().next();
    if inside.chars().all(char::is_alphabetic)
        && !inside.is_empty()
        && (joins(before) || joins(after))
    {
        // A changed letter or ending: `[T]he`, `moth[s]`.
        if let Some(piece) = pieces.last_mut() {
            piece.push_str(inside);
        }
    } else if inside.trim().eq_ignore_ascii_case("sic")
        || inside.trim().to_lowercase().starts_with("emphasis")
    {
        // Nothing of the source is replaced.
    } else {
        pieces.push(String::new());
    }
    end + 1
}

/// Reads three or more full stops, close or spaced, at the start of `rest`; returns the bytes they take.
fn ellipsis(rest: &str, pieces: &mut Vec<String>) -> usize {
    let mut dots = 0;
    let mut end = 0;
    for (at, c) in rest.char_indices() {
        match c {
            '.' => {
                dots += 1;
                end = at + 1;
            }
            ' ' | '\u{a0}' => {}
            _ => break,
        }
    }
    if dots < 3 {
        return 0;
    }
    pieces.push(String::new());
    end
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn cuts_to(quotation: &str, expected: &str) {
        let text = MarkedText::new(Text::paragraph(quotation));
        let found: Vec<String> = segments(&text, ByteRange::of(0, quotation.len()))
            .into_iter()
            .map(|segment| segment.forms.join(" "))
            .collect();
        assert_eq!(found.join(" | "), expected, "{quotation}");
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
        cuts_to("they [the moths] were gone", "they | were gone");
        cuts_to("the moth's [sic] were gone", "the moth's were gone");
        cuts_to("an unclosed [bracket stays", "an unclosed bracket stays");
        cuts_to("It ended. Then it began", "it ended then it began");
    }
}
