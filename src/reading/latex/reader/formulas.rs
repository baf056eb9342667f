//! Mathematics, of which only plain characters are read, and characters that are printed unchanged.

use super::super::{scan, signs};
use super::Reader;

/// The longest inline mathematics, in bytes. A dollar sign without a partner within that length is money.
const LONGEST_MATH: usize = 1000;

/// Most escaped dollar signs in mathematics.
const MOST_ESCAPED: usize = 100;

impl Reader<'_> {
    /// `$ ... $`, `$$ ... $$`.
    pub(super) fn dollar(&mut self, text: &str, at: usize) -> usize {
        let rest = text.get(at..).unwrap_or_default();
        let sign = if rest.starts_with("$$") { "$$" } else { "$" };
        let inside = rest.get(sign.len()..).unwrap_or_default();
        let (mut from, mut escaped) = (0, 0);
        while let Some(end) = inside.get(from..).and_then(|rest| rest.find(sign)) {
            let end = from + end;
            let math = inside.get(..end).unwrap_or_default();
            if (end > LONGEST_MATH && sign == "$") || escaped > MOST_ESCAPED {
                break;
            }
            if math.ends_with('\\') {
                from = end + 1;
                escaped += 1;
                continue;
            }
            if sign == "$" && math.contains("\n\n") {
                break;
            }
            if sign == "$"
                && let Some(plain) = signs::plain_math(math)
            {
                self.out.flow(&plain, None);
            }
            return at + sign.len() + end + sign.len();
        }
        self.put(sign, at + sign.len())
    }

    /// `\( ... \)`, `\[ ... \]`.
    pub(super) fn display(&mut self, text: &str, at: usize, open: &str) -> usize {
        let close = if open == "(" { "\\)" } else { "\\]" };
        let rest = text.get(at..).unwrap_or_default();
        let Some(end) = rest.find(close) else {
            return text.len();
        };
        if open == "("
            && let Some(plain) = rest.get(..end).and_then(signs::plain_math)
        {
            self.out.flow(&plain, None);
        }
        at + end + close.len()
    }

    /// `\verb|...|`.
    pub(super) fn verb(&mut self, text: &str, at: usize, base: Option<usize>) -> usize {
        let at = scan::skip_options(text, at);
        let rest = text.get(at..).unwrap_or_default();
        let Some(sign) = rest.chars().next() else {
            return at;
        };
        let close = if sign == '{' { '}' } else { sign };
        let start = at + sign.len_utf8();
        let inside = text.get(start..).unwrap_or_default();
        let end = inside.find([close, '\n']).unwrap_or(inside.len());
        self.out.flow(
            inside.get(..end).unwrap_or_default(),
            base.map(|base| base + start),
        );
        start + end + close.len_utf8()
    }
}
