//! The content of a line of reStructuredText: emphasis, literals, roles, links, footnote calls.

use super::{Line, Reader};

/// Names of roles and footnotes are shorter. Their end is not searched for any further, so that a run of
/// signs that open one costs no more than its length.
const LONGEST_NAME: usize = 200;

/// The beginning of a text, up to the length of a name.
fn window(text: &str) -> &str {
    text.get(..text.floor_char_boundary(LONGEST_NAME))
        .unwrap_or_default()
}

/// A footnote or citation at the start of an explicit block (`[1] text`, `[#name] text`): its name and the
/// bytes before the text.
pub(super) fn definition(text: &str) -> Option<(&str, usize)> {
    let rest = text.strip_prefix('[')?;
    let end = window(rest).find(']')?;
    let name = rest.get(..end)?;
    let allowed =
        |c: char| c.is_alphanumeric() || matches!(c, '#' | '*' | '-' | '_' | '.' | ':' | '+');
    (!name.is_empty() && name.chars().all(allowed)).then_some((name, end + 2))
}

impl<'a> Reader<'a> {
    /// Writes a line.
    pub(super) fn inline(&mut self, line: Line<'a>) {
        let text = line.text;
        let mut at = 0;
        while at < text.len() {
            let rest = text.get(at..).unwrap_or_default();
            let plain = rest
                .find(['*', '`', '[', '|', '\\', ':', '_'])
                .unwrap_or(rest.len());
            self.out
                .flow(rest.get(..plain).unwrap_or_default(), Some(line.start + at));
            at += plain;
            if at < text.len() {
                at += self.special(text, at, line.start).max(1);
            }
        }
    }

    /// Reads the sign at `at` and returns how many bytes belong to it.
    fn special(&mut self, text: &'a str, at: usize, start: usize) -> usize {
        let rest = text.get(at..).unwrap_or_default();
        let place = start + at;
        let before = text.get(..at).and_then(|before| before.chars().next_back());
        let found = self
            .between(rest, "``", "``", place)
            .or_else(|| self.role(rest, place))
            .or_else(|| self.phrase(rest, place))
            .or_else(|| self.note(rest));
        if let Some(length) = found {
            return length;
        }
        if rest.starts_with("**") {
            return 2;
        }
        let sign = rest.chars().next().unwrap_or(' ');
        let next = rest.chars().nth(1);
        let length = sign.len_utf8();
        match sign {
            '\\' => {
                // It escapes the next sign; an escaped blank disappears.
                let kept = next.filter(|c| !c.is_whitespace());
                let taken = next.map_or(0, char::len_utf8);
                if let Some(kept) = kept {
                    self.out.flow(kept.encode_utf8(&mut [0; 4]), None);
                }
                return length + taken;
            }
            // An emphasis sign stands at the edge of a word.
            '*' if next.is_some_and(|c| !c.is_whitespace())
                || before.is_some_and(|c| !c.is_whitespace()) =>
            {
                return length;
            }
            // `name_`: a reference by name.
            '_' if before.is_some_and(char::is_alphanumeric)
                && next.is_none_or(|c| c.is_whitespace() || ".,;:!?)".contains(c)) =>
            {
                return length;
            }
            _ => {}
        }
        self.out
            .flow(rest.get(..length).unwrap_or_default(), Some(place));
        length
    }

    fn between(&mut self, rest: &'a str, open: &str, close: &str, place: usize) -> Option<usize> {
        let inner = rest.strip_prefix(open)?;
        let end = inner.find(close)?;
        self.out.flow(inner.get(..end)?, Some(place + open.len()));
        Some(open.len() + end + close.len())
    }

    /// `` :role:`text` ``
    fn role(&mut self, rest: &'a str, place: usize) -> Option<usize> {
        let inner = rest.strip_prefix(':')?;
        let end = window(inner).find(":`")?;
        let name = inner.get(..end)?;
        let allowed = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | ':' | '.');
        if name.is_empty() || !name.chars().all(allowed) {
            return None;
        }
        let lead = 1 + end + 1;
        Some(lead + self.phrase(rest.get(lead..)?, place + lead)?)
    }

    /// `` `words <target>`_ ``, `` `words` ``
    fn phrase(&mut self, rest: &'a str, place: usize) -> Option<usize> {
        let inner = rest.strip_prefix('`')?;
        let end = inner.find('`')?;
        let words = inner.get(..end)?;
        let shown = match words.split_once('<') {
            Some((shown, target)) if target.ends_with('>') && !shown.is_empty() => shown.trim_end(),
            _ => words,
        };
        self.out.flow(shown, Some(place + 1));
        let behind = rest.get(1 + end + 1..)?;
        let signs = behind.bytes().take_while(|b| *b == b'_').count().min(2);
        Some(1 + end + 1 + signs)
    }

    /// `[1]_`, `[#name]_`
    fn note(&mut self, rest: &str) -> Option<usize> {
        let (name, behind) = definition(rest)?;
        rest.get(behind..)?.strip_prefix('_')?;
        let name = match name {
            "#" => {
                self.called += 1;
                format!(" {}", self.called)
            }
            name => name.to_owned(),
        };
        self.out.trim();
        self.out.call(&name);
        Some(behind + 1)
    }
}
