//! Writing citations and quotations: commands of LaTeX, natbib, biblatex and csquotes.

use super::cites::{self, Style};
use super::reader::Reader;
use super::scan;

/// A block quotation command sets off what is longer than about three lines (published: the csquotes manual's
/// default threshold, from memory); here it is counted in words.
const SET_OFF_WORDS: usize = 36;

impl Reader<'_> {
    /// A citation; `at` is the position after its name.
    pub(super) fn cite(
        &mut self,
        text: &str,
        at: usize,
        base: Option<usize>,
        style: Style,
        several: bool,
    ) -> usize {
        let start = at;
        let (mut lists, mut at) = (Vec::new(), at);
        if several {
            // The notes of the whole citation.
            for _ in 0..2 {
                at = scan::round(text, at).map_or(at, |(_, end)| end);
            }
        }
        while let Some((list, end)) = self.key_list(text, at, base) {
            lists.push(list);
            at = end;
            if !several {
                break;
            }
        }
        let cites: Vec<String> = lists
            .iter()
            .flat_map(|list| list.cites(style == Style::WithoutAuthor))
            .collect();
        if cites.is_empty() {
            return at;
        }
        match style {
            Style::Footnote => {
                let cited = text.get(start..at).unwrap_or_default();
                let name = if several { "parencites" } else { "parencite" };
                self.note_of(format!("\\{name}{cited}."));
            }
            Style::Bracket | Style::WithoutAuthor => {
                self.out.flow(&format!("[{}]", cites.join("; ")), None);
            }
            Style::Narrative => {
                let narrative: Vec<String> = lists.iter().flat_map(KeyList::narrative).collect();
                self.out.flow(&narrative.join(" and "), None);
            }
        }
        at
    }

    /// `[pre][post]{keys}`.
    fn key_list(
        &mut self,
        text: &str,
        at: usize,
        _base: Option<usize>,
    ) -> Option<(KeyList, usize)> {
        let slice = |range| text.get(range).unwrap_or_default();
        let (mut before, mut behind, mut at) = ("", "", at);
        if let Some((first, end)) = scan::option(text, at) {
            (behind, at) = (slice(first), end);
            if let Some((second, end)) = scan::option(text, at) {
                (before, behind, at) = (behind, slice(second), end);
            }
        }
        let (keys, end) = scan::group(text, at)?;
        let keys = slice(keys).split(',').map(|key| key.trim().to_owned());
        let list = KeyList {
            keys: keys.filter(|key| !key.is_empty() && key != "*").collect(),
            before: self.plain(before),
            behind: cites::with_unit(&self.plain(behind)),
        };
        Some((list, end))
    }

    /// LaTeX as plain characters, for the inside of a citation.
    fn plain(&mut self, latex: &str) -> String {
        if latex.is_empty() {
            return String::new();
        }
        let plain = latex
            .replace('~', "\u{A0}")
            .replace("\\,", "\u{202F}")
            .replace("---", "—")
            .replace("--", "–")
            .replace("\\&", "&");
        plain
            .chars()
            .filter(|c| !matches!(c, '\\' | '{' | '}' | '[' | ']' | '%'))
            .collect()
    }

    /// A quotation command of csquotes; `None` for any other.
    pub(super) fn quote(
        &mut self,
        text: &str,
        name: &str,
        at: usize,
        base: Option<usize>,
    ) -> Option<usize> {
        let (name, at) = match name.strip_prefix("foreign").or(name.strip_prefix("hyphen")) {
            Some(rest) if rest.contains("quote") => (rest, scan::group(text, at)?.1),
            _ => (name, at),
        };
        match name {
            "enquote" | "quote" => {
                let (range, end) = scan::group(text, at)?;
                self.quoted(text, range, base);
                Some(end)
            }
            "textquote" | "blockquote" => {
                let (mut at, mut cite) = (at, String::new());
                if let Some((range, end)) = scan::option(text, at) {
                    cite = text.get(range)?.to_owned();
                    at = end;
                }
                self.quotation(text, at, base, &cite, name == "blockquote")
            }
            "textcquote" | "blockcquote" => {
                let start = at;
                let at = scan::skip_options(text, at);
                let (_, at) = scan::group(text, at)?;
                let cite = format!("\\parencite{}", text.get(start..at)?);
                self.quotation(text, at, base, &cite, name == "blockcquote")
            }
            _ => None,
        }
    }

    /// `[punct]{text}` followed by a citation.
    fn quotation(
        &mut self,
        text: &str,
        at: usize,
        base: Option<usize>,
        cite: &str,
        block: bool,
    ) -> Option<usize> {
        let at = scan::skip_options(text, at);
        let (range, end) = scan::group(text, at)?;
        let words = text.get(range.clone())?.split_whitespace().count();
        let inner = base.map(|base| base + range.start);
        if block && words >= SET_OFF_WORDS {
            self.out.enter_quotation();
            self.run(text.get(range)?, inner);
            self.cited(cite);
            self.out.leave_quotation();
            self.paragraph();
        } else {
            self.quoted(text, range, base);
            self.cited(cite);
        }
        Some(end)
    }

    fn cited(&mut self, cite: &str) {
        if !cite.is_empty() {
            self.out.flow(" ", None);
            self.run(cite, None);
        }
    }

    /// A group in quotation marks, which are double and single by turns.
    fn quoted(&mut self, text: &str, range: std::ops::Range<usize>, base: Option<usize>) {
        let (open, close) = if self.quotes.is_multiple_of(2) {
            ("“", "”")
        } else {
            ("‘", "’")
        };
        let base = base.map(|base| base + range.start);
        self.out.flow(open, None);
        self.quotes += 1;
        self.run(text.get(range).unwrap_or_default(), base);
        self.quotes -= 1;
        self.out.flow(close, None);
    }
}

/// Keys with the text before and after them.
struct KeyList {
    keys: Vec<String>,
    before: String,
    behind: String,
}

impl KeyList {
    fn cites(&self, without_author: bool) -> Vec<String> {
        let last = self.keys.len().saturating_sub(1);
        let cite = |(index, key): (usize, &String)| {
            let sign = if without_author { "-" } else { "" };
            let mut cite = format!("{sign}{}", cites::key(key));
            if index == 0 && !self.before.is_empty() {
                cite = format!("{} {cite}", self.before);
            }
            if index == last && !self.behind.is_empty() {
                cite = format!("{cite}, {}", self.behind);
            }
            cite
        };
        self.keys.iter().enumerate().map(cite).collect()
    }

    fn narrative(&self) -> Vec<String> {
        let last = self.keys.len().saturating_sub(1);
        let cite = |(index, key): (usize, &String)| {
            let cite = cites::key(key);
            if index == last && !self.behind.is_empty() {
                format!("{cite} [{}]", self.behind)
            } else {
                cite
            }
        };
        self.keys.iter().enumerate().map(cite).collect()
    }
}
