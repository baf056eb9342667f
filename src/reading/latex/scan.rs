//! Arguments of commands: where a group, an option or a command's name begins and ends. Every search is
//! bounded, so that a file full of unclosed braces costs no more than its length.

use std::borrow::Cow;
use std::ops::Range;

/// The longest option that is searched for, in bytes. Groups need no such limit: see [`balanced`].
const LONGEST_OPTION: usize = 4000;

/// How deep brackets may be nested in an option.
const DEEPEST_OPTION: usize = 20;

/// How deep braces may be nested, since each is searched for from every command around it.
const DEEPEST_GROUP: usize = 64;

/// The text with a blank in place of every brace that has no partner or is nested too deep, so that no search
/// for the end of a group runs to the end of the file. Positions stay the same.
pub(super) fn balanced(text: &str) -> Cow<'_, str> {
    let bytes = text.as_bytes();
    let (mut open, mut alone) = (Vec::new(), Vec::new());
    let mut at = 0;
    while let Some(byte) = bytes.get(at) {
        match byte {
            b'\\' => at += 1,
            b'%' => at = line_end(text, at),
            b'{' => {
                if open.len() >= DEEPEST_GROUP {
                    alone.push(at);
                }
                open.push(at);
            }
            b'}' if open.pop().is_none() || open.len() >= DEEPEST_GROUP => alone.push(at),
            _ => {}
        }
        at += 1;
    }
    alone.append(&mut open);
    if alone.is_empty() {
        return Cow::Borrowed(text);
    }
    let mut mended = text.to_owned();
    for at in alone {
        // A brace and a blank are one byte each.
        mended.replace_range(at..=at, " ");
    }
    Cow::Owned(mended)
}

/// The name after a backslash at `at - 1` and the position after it: letters, or one other character. A star
/// is not part of it.
pub(super) fn name(text: &str, at: usize) -> (&str, usize) {
    let rest = text.get(at..).unwrap_or_default();
    let letters = rest
        .find(|c: char| !c.is_ascii_alphabetic() && c != '@')
        .unwrap_or(rest.len());
    let length = match letters {
        0 => rest.chars().next().map_or(0, char::len_utf8),
        letters => letters,
    };
    (rest.get(..length).unwrap_or_default(), at + length)
}

/// The position after blank space (one line end at most) and comments.
pub(super) fn skip_blank(text: &str, mut at: usize) -> usize {
    let bytes = text.as_bytes();
    let mut ends = 0;
    while let Some(byte) = bytes.get(at) {
        match byte {
            b' ' | b'\t' | b'\r' => at += 1,
            b'\n' if ends == 0 => {
                ends += 1;
                at += 1;
            }
            b'%' => {
                at = line_end(text, at);
                // Where a line ends in a comment, its line end is part of the comment.
                at += usize::from(bytes.get(at) == Some(&b'\n'));
            }
            _ => break,
        }
    }
    at
}

/// The position of the line end at or after `at`.
pub(super) fn line_end(text: &str, at: usize) -> usize {
    let rest = text.as_bytes().get(at..).unwrap_or_default();
    memchr::memchr(b'\n', rest).map_or(text.len(), |end| at + end)
}

/// The inside of a `{...}` that begins at or after `at`, and the position after it.
pub(super) fn group(text: &str, at: usize) -> Option<(Range<usize>, usize)> {
    let start = skip_blank(text, at);
    (text.as_bytes().get(start) == Some(&b'{')).then_some(())?;
    let end = matching(text, start + 1, b'}')?;
    Some((start + 1..end, end + 1))
}

/// The next argument: a group, or else one character or command.
pub(super) fn argument(text: &str, at: usize) -> Option<(Range<usize>, usize)> {
    group(text, at).or_else(|| {
        let start = skip_blank(text, at);
        let next = text.get(start..)?.chars().next()?;
        let end = match next {
            '\\' => name(text, start + 1).1,
            '{' | '}' | '\n' => return None,
            other => start + other.len_utf8(),
        };
        Some((start..end, end))
    })
}

/// The inside of a `[...]` that begins at or after `at`, and the position after it.
pub(super) fn option(text: &str, at: usize) -> Option<(Range<usize>, usize)> {
    bracketed(text, at, b'[', b']')
}

/// The inside of a `(...)`, which commands for several citations take.
pub(super) fn round(text: &str, at: usize) -> Option<(Range<usize>, usize)> {
    bracketed(text, at, b'(', b')')
}

fn bracketed(text: &str, at: usize, open: u8, close: u8) -> Option<(Range<usize>, usize)> {
    let start = skip_blank(text, at);
    (text.as_bytes().get(start) == Some(&open)).then_some(())?;
    let end = matching(text, start + 1, close)?;
    Some((start + 1..end, end + 1))
}

/// The position after all options that follow.
pub(super) fn skip_options(text: &str, mut at: usize) -> usize {
    while let Some((_, end)) = option(text, at) {
        at = end;
    }
    at
}

/// The position of the closing sign that belongs to an opening one before `at`. Braces inside are balanced;
/// escaped signs and comments are passed over. An option must end within its paragraph.
fn matching(text: &str, at: usize, close: u8) -> Option<usize> {
    let bytes = text.as_bytes();
    let (open, stop) = match close {
        b'}' => (b'{', text.len()),
        b']' => (b'[', text.len().min(at + LONGEST_OPTION)),
        _ => (b'(', text.len().min(at + LONGEST_OPTION)),
    };
    let (mut braces, mut brackets) = (0_usize, 0_usize);
    let mut here = at;
    while here < stop {
        match *bytes.get(here)? {
            b'\\' => here += 1,
            b'%' => here = line_end(text, here),
            byte if byte == close && braces == 0 && brackets == 0 => return Some(here),
            b'{' => braces += 1,
            b'}' if braces == 0 => return None,
            b'}' => braces -= 1,
            byte if byte == open && braces == 0 && close != b'}' => {
                brackets += 1;
                if brackets > DEEPEST_OPTION {
                    return None;
                }
            }
            byte if byte == close && braces == 0 => brackets -= 1,
            b'\n' if close != b'}' && blank_line(bytes, here) => return None,
            _ => {}
        }
        here += 1;
    }
    None
}

/// Whether the line after the line end at `at` is blank.
pub(super) fn blank_line(bytes: &[u8], at: usize) -> bool {
    bytes
        .get(at + 1..)
        .unwrap_or_default()
        .iter()
        .find(|byte| !matches!(byte, b' ' | b'\t' | b'\r'))
        .is_none_or(|byte| *byte == b'\n')
}

/// The first position of a needle outside comments.
pub(super) fn uncommented(text: &str, needle: &str) -> Option<usize> {
    let mut start = 0;
    for line in text.split_inclusive(['\n', '\r']) {
        if let Some(at) = without_comment(line).find(needle) {
            return Some(start + at);
        }
        start += line.len();
    }
    None
}

/// A line up to its comment.
fn without_comment(line: &str) -> &str {
    let comment = line.match_indices('%').map(|(at, _)| at).find(|at| {
        // An escaped sign is a character.
        !line.get(..*at).is_some_and(|before| before.ends_with('\\'))
    });
    line.get(..comment.unwrap_or(line.len())).unwrap_or(line)
}

/// Where the body of a document ends, in the text after its `\begin{document}`. Manuals show whole documents
/// in listings and name the command in their sentences, so a document that begins later must end before, and
/// the command in a sentence ends nothing.
pub(super) fn document_end(body: &str) -> usize {
    let (begin, end) = ("\\begin{document}", "\\end{document}");
    let (mut open, mut last, mut at) = (1_usize, None, 0);
    for line in body.split_inclusive('\n') {
        let code = without_comment(line);
        let trimmed = code.trim_start();
        open += usize::from(trimmed.starts_with(begin));
        open -= usize::from(trimmed.starts_with(end));
        if open == 0 {
            return at + code.len() - trimmed.len();
        }
        last = code.rfind(end).map(|found| at + found).or(last);
        at += line.len();
    }
    last.unwrap_or(body.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn arguments_by_case() {
        let inside = |text: &'static str| group(text, 0).map(|(range, _)| &text[range]);
        assert_eq!(inside("{a{b}c}d"), Some("a{b}c"));
        assert_eq!(inside(" {a\\}b}"), Some("a\\}b"));
        assert_eq!(inside("{a%}\nb}"), Some("a%}\nb"));
        assert_eq!(inside("{a"), None);
        assert_eq!(inside("a}"), None);
        let optional = |text: &'static str| option(text, 0).map(|(range, _)| &text[range]);
        assert_eq!(optional("[a{]}b]"), Some("a{]}b"));
        assert_eq!(optional("[a\n\nb]"), None);
        assert_eq!(optional("[a}b]"), None);
        assert_eq!(optional("[a[b]c]d]"), Some("a[b]c"));
        assert_eq!(balanced("a}{b{c}\\{%{\n{"), "a  b{c}\\{%{\n ");
        let deep = "{".repeat(66) + "a" + &"}".repeat(66);
        let kept = "{".repeat(64) + "  a  " + &"}".repeat(64);
        assert_eq!(balanced(&deep), kept);
        assert_eq!(uncommented("a%\\b\n c\\%\\b", "\\b"), Some(9));
        let body = "a\n\\begin{document}\nb\n  \\end{document}\nby \\verb|\\end{document}|\n%\\end{document}\n";
        assert_eq!(
            document_end(&format!("{body}\\end{{document}}c")),
            body.len()
        );
        // An example without an end, and no end at all.
        let open = "a\n\\begin{document}\nb\n";
        assert_eq!(
            document_end(&format!("{open}\\end{{document}}c")),
            open.len()
        );
        assert_eq!(document_end("abc"), 3);
        let one = |text: &'static str| argument(text, 0).map(|(range, _)| &text[range]);
        assert_eq!(one(" é"), Some("é"));
        assert_eq!(one("\\i x"), Some("\\i"));
        assert_eq!(one(""), None);
    }
}
