//! What stands after a stop, and whether it lets the sentence end there.

use super::abbreviations::{self, Reach};
use super::stop::Stop;
use super::{BlockView, Gap};

/// How far after a stop the rules look, in bytes: longer than any citation or reporting clause.
const SIGHT: usize = 300;

impl BlockView<'_> {
    /// The end of the sentence if this stop ends it: after the stop, or after the citation that
    /// belongs to it. `start` is where the sentence starts.
    pub(super) fn ends_sentence(&self, stop: &Stop, start: usize) -> Option<usize> {
        let gap = self.gap(stop.end);
        if gap.end >= self.content.len() {
            return Some(stop.end);
        }
        let blank = gap.end > stop.end;
        if !blank && !stop.wide {
            return self.citation_behind(stop.end);
        }
        if self.is_aside(stop) || self.is_list_number(stop, start) {
            return None;
        }
        let single = stop.dots == 1 && !stop.loud;
        if let Some(end) = self.citation_behind(gap.end) {
            let short_form = single && self.reach(stop) != Reach::None;
            return (!short_form).then_some(end);
        }
        let next = self.next_word(&gap)?;
        if next.starts_with(char::is_lowercase) || (single && !self.allows(stop, &gap, next)) {
            return None;
        }
        let spaced = self
            .char_before(stop.start)
            .is_some_and(char::is_whitespace);
        if stop.dots == 3 && !stop.loud && spaced && !abbreviations::starts_sentence(next) {
            return None;
        }
        if stop.closes_quotation && stop.loud && self.reports(gap.end) {
            return None;
        }
        Some(stop.end)
    }

    fn reach(&self, stop: &Stop) -> Reach {
        abbreviations::reach(self.token_before(stop.start))
    }

    /// `[...]`, `(?)`, `[!]`: an omission or a remark, no end.
    fn is_aside(&self, stop: &Stop) -> bool {
        matches!(self.char_before(stop.start), Some('[' | '('))
    }

    /// Whether the sentence so far is nothing but the number or letter of a list item.
    fn is_list_number(&self, stop: &Stop, start: usize) -> bool {
        let long = stop.start.saturating_sub(start) > 40;
        if long || stop.dots > 1 || stop.loud || stop.closes_quotation {
            return false;
        }
        let start = self.gap(start).end;
        let so_far = self.content.get(start..stop.start).unwrap_or_default();
        let so_far = so_far.trim_matches(|c: char| !c.is_alphanumeric());
        let numeral = |c: char| matches!(c.to_ascii_lowercase(), 'i' | 'v' | 'x');
        so_far.len() <= 8
            && (so_far.chars().all(|c| c.is_ascii_digit() || c == '.')
                || so_far.chars().all(numeral)
                || so_far.chars().count() == 1)
    }

    /// The text from the first letter or digit after a gap, without the opening marks before it. `None` where
    /// other punctuation follows, since then the sentence continues.
    fn next_word(&self, gap: &Gap) -> Option<&str> {
        let rest = self.sight(gap.end);
        let rest = rest
            .strip_prefix("[...]")
            .or_else(|| rest.strip_prefix("[…]"))
            .or_else(|| rest.strip_prefix("[. . .]"))
            .unwrap_or(rest);
        let word = rest.trim_start_matches(|c: char| c.is_whitespace() || opens(c));
        word.starts_with(char::is_alphanumeric).then_some(word)
    }

    /// Whether what stands before a single full stop lets the sentence end there.
    fn allows(&self, stop: &Stop, gap: &Gap, next: &str) -> bool {
        let token = self.token_before(stop.start);
        let reach = abbreviations::reach(token);
        if reach == Reach::None {
            return true;
        }
        if stop.closes_bracket && !stop.closes_quotation {
            return false; // the full stop is the abbreviation's: `(ed.)`
        }
        let upper = next.starts_with(char::is_uppercase);
        // A bracket or quotation mark between says nothing about the word's capital letter.
        let direct = self.sight(gap.end).len() == next.len();
        match reach {
            Reach::None => true,
            Reach::Always => false,
            Reach::Number => !abbreviations::is_number(next, token),
            Reach::SmallLetter => upper && (direct || abbreviations::starts_sentence(next)),
            Reach::Name => upper && abbreviations::starts_sentence(next),
        }
    }

    /// The letters, digits and inner full stops right before a position, at most a few.
    fn token_before(&self, at: usize) -> &str {
        let before = self.content.get(self.start..at).unwrap_or_default();
        let token = before
            .char_indices()
            .rev()
            .take(12)
            .take_while(|(_, c)| c.is_alphanumeric() || *c == '.')
            .last();
        token.map_or("", |(start, _)| before.get(start..).unwrap_or_default())
    }

    /// The end of a citation in brackets at a position, with a full stop directly after, if another sentence
    /// or the end of the block follows it. A whole sentence in brackets has its end mark inside them and is
    /// not a citation.
    fn citation_behind(&self, at: usize) -> Option<usize> {
        let rest = self.sight(at);
        let close = match rest.chars().next()? {
            '(' => ')',
            '[' => ']',
            _ => return None,
        };
        let length = rest.find(close)?;
        let inner = rest.get(1..length)?;
        if !is_citation(inner, close) {
            return None;
        }
        let mut end = at + length + 1;
        end += usize::from(self.char_at(end) == Some('.'));
        let gap = self.gap(end);
        let goes_on = self
            .next_word(&gap)
            .is_some_and(|next| !next.starts_with(char::is_lowercase));
        (gap.end >= self.content.len() || (gap.end > end && goes_on)).then_some(end)
    }

    /// Whether a reporting clause stands at a position: a name or pronoun, a verb of saying and
    /// then the clause's end (`Harrow asked.`, `the authors (2014) ask.`).
    fn reports(&self, at: usize) -> bool {
        let mut in_bracket = false;
        let mut names = 0;
        let mut tokens = self.sight(at).split_whitespace().peekable();
        while let Some(token) = tokens.next() {
            in_bracket |= token.starts_with('(');
            if in_bracket {
                in_bracket = !token.contains(')');
                continue;
            }
            let word = token.trim_end_matches(|c: char| !c.is_alphanumeric());
            let ended = word.len() < token.len();
            if abbreviations::is_verb_of_saying(word) {
                return ended || tokens.peek().is_none_or(|next| next.starts_with('('));
            }
            names += 1;
            if ended || names > 4 {
                return false;
            }
        }
        false
    }

    /// A short stretch from a position on.
    fn sight(&self, at: usize) -> &str {
        let rest = self.rest(at);
        let end = (0..=SIGHT).rev().find(|end| rest.is_char_boundary(*end));
        rest.get(..end.unwrap_or_default()).unwrap_or_default()
    }
}

fn opens(c: char) -> bool {
    matches!(
        c,
        '“' | '‘'
            | '"'
            | '\''
            | '«'
            | '»'
            | '‹'
            | '›'
            | '„'
            | '‚'
            | '('
            | '['
            | '{'
            | '*'
            | '_'
            | '¿'
            | '¡'
            | '—'
            | '–'
            | '-'
            | '`'
            | '•'
            | '…'
            | '「'
            | '『'
    )
}

/// Whether the inside of a bracket looks like a citation: it holds a year or a page, or only
/// numbers in square brackets, or a key.
fn is_citation(inner: &str, close: char) -> bool {
    let bytes = inner.as_bytes();
    let year = bytes.windows(4).enumerate().any(|(at, four)| {
        let beside = |byte: Option<&u8>| byte.is_some_and(u8::is_ascii_digit);
        four.iter().all(u8::is_ascii_digit)
            && matches!(four, [b'1', b'4'..=b'9', ..] | [b'2', b'0', ..])
            && !beside(bytes.get(at + 4))
            && !beside(at.checked_sub(1).and_then(|before| bytes.get(before)))
    });
    let place = ["p. ", "pp. ", "p.\u{A0}", "pp.\u{A0}", "para. ", "@", "-@"]
        .iter()
        .any(|start| inner.starts_with(start));
    let undated = ["n.d.", "in press", "forthcoming", "ibid."]
        .iter()
        .any(|date| inner.ends_with(date));
    let numbers = close == ']'
        && inner.starts_with(|c: char| c.is_ascii_digit())
        && inner
            .chars()
            .all(|c| c.is_ascii_digit() || ",;–- ".contains(c));
    let whole_sentence = inner.ends_with(['.', '!', '?']);
    undated || (!whole_sentence && (year || place || numbers))
}
