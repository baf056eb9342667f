//! The content of a line of Org: links, footnotes, citations, emphasis.

use super::emphasis::Emphasis;
use super::{Line, Reader};

/// Most brackets nested in a note or a citation. No closing bracket is searched for beyond that depth, so
/// that a run of opening ones costs no more than its length.
const DEEPEST: usize = 50;

/// A footnote's definition at the start of a line (`[fn:name] text`): its name and the bytes before the text.
pub(super) fn definition(text: &str) -> Option<(&str, usize)> {
    let rest = text.strip_prefix("[fn:")?;
    let end = rest.find(']')?;
    let name = rest.get(..end)?;
    (!name.is_empty() && !name.contains(':')).then_some((name, 4 + end + 1))
}

impl<'a> Reader<'a> {
    /// Writes a line.
    pub(super) fn inline(&mut self, line: Line<'a>) {
        let text = line.text;
        let mut emphasis = Emphasis::of(text);
        let mut at = 0;
        while at < text.len() {
            let rest = text.get(at..).unwrap_or_default();
            let plain = rest
                .find(['[', '*', '/', '_', '+', '=', '~', '\\', '@'])
                .unwrap_or(rest.len());
            self.out
                .flow(rest.get(..plain).unwrap_or_default(), Some(line.start + at));
            at += plain;
            if at < text.len() {
                at += self.special(text, at, line.start, &mut emphasis).max(1);
            }
        }
    }

    /// Reads the sign at `at` and returns how many bytes belong to it.
    fn special(
        &mut self,
        text: &'a str,
        at: usize,
        start: usize,
        emphasis: &mut Emphasis<'_>,
    ) -> usize {
        let rest = text.get(at..).unwrap_or_default();
        if emphasis.last_link_end > Some(at)
            && let Some(length) = self.link(rest, start + at)
        {
            return length;
        }
        if let Some(length) = self.note(rest, start + at) {
            return length;
        }
        if let Some(length) = self.citation(rest) {
            return length;
        }
        if rest.starts_with("\\\\") {
            self.out.flow("\n", None);
            return 2;
        }
        if rest.starts_with("@@") {
            // A snippet for one output format.
            let end = rest.get(2..).and_then(|inner| inner.find("@@"));
            return end.map_or(2, |end| end + 4);
        }
        if emphasis.opens(at) || emphasis.closes(at) {
            return 1;
        }
        let sign = rest.chars().next().unwrap_or(' ');
        let length = sign.len_utf8();
        self.out
            .flow(rest.get(..length).unwrap_or_default(), Some(start + at));
        length
    }

    /// `[[target][words]]`, `[[target]]`
    fn link(&mut self, rest: &'a str, start: usize) -> Option<usize> {
        let inner = rest.strip_prefix("[[")?;
        let end = inner.find("]]")?;
        let inner = inner.get(..end)?;
        let (lead, words) = match inner.split_once("][") {
            Some((target, words)) => (2 + target.len() + 2, words),
            None => (2, inner),
        };
        self.out.flow(words, Some(start + lead));
        Some(2 + end + 2)
    }

    /// `[fn:name]`, `[fn:name: text]`, `[fn:: text]`
    fn note(&mut self, rest: &'a str, start: usize) -> Option<usize> {
        let inner = rest.strip_prefix("[fn:")?;
        let end = closing(inner)?;
        let inner = inner.get(..end)?;
        match inner.split_once(':') {
            Some((name, text)) => {
                self.notes += 1;
                let name = match name {
                    "" => format!(" {}", self.notes),
                    name => name.to_owned(),
                };
                self.out.call(&name);
                let place = start + 4 + inner.len() - text.len();
                self.later.push((name, text, place));
            }
            None => self.out.call(inner),
        }
        Some(4 + end + 1)
    }

    /// `[cite:see @key p. 12; @other]`, `[cite/t:@key]`: written in Pandoc's form.
    fn citation(&mut self, rest: &str) -> Option<usize> {
        let inner = rest.strip_prefix("[cite")?;
        let end = closing(inner)?;
        let inner = inner.get(..end)?;
        let (style, cites) = inner.split_once(':')?;
        let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '/' | '-' | '_');
        if !style.chars().all(plain) {
            return None;
        }
        let cites: Vec<String> = cites.split(';').map(with_comma).collect();
        let narrative = style.starts_with("/t") && cites.len() == 1;
        let written = match cites.first() {
            Some(only) if narrative => match only.split_once(", ") {
                Some((key, locator)) => format!("{key} [{locator}]"),
                None => only.clone(),
            },
            _ => format!("[{}]", cites.join("; ")),
        };
        self.out.flow(&written, None);
        Some("[cite".len() + end + 1)
    }
}

/// A cite with the comma that Pandoc's form has before a locator.
fn with_comma(cite: &str) -> String {
    let cite = cite.trim();
    let Some(key) = cite.find('@') else {
        return cite.to_owned();
    };
    let (before, rest) = cite.split_at(key);
    match rest.split_once(' ') {
        Some((key, locator)) => {
            format!("{before}{}, {}", key.trim_end_matches(','), locator.trim())
        }
        None => cite.to_owned(),
    }
}

/// The position of the bracket that closes one opened before the text.
fn closing(text: &str) -> Option<usize> {
    let mut depth = 0_usize;
    for (at, byte) in text.bytes().enumerate() {
        match byte {
            b'[' if depth == DEEPEST => return None,
            b'[' => depth += 1,
            b']' if depth == 0 => return Some(at),
            b']' => depth -= 1,
            _ => {}
        }
    }
    None
}
