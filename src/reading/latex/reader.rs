//! Going through a LaTeX document from command to command.

mod formulas;
mod notes;

use std::collections::HashSet;

use super::commands::{self, Environment};
use super::environments::Open;
use super::macros::Macros;
use super::{Load, cites, scan, signs};
use crate::reading::assembly::Assembly;
use crate::text::{BlockKind, Origin, Text};

/// How deep arguments may be nested. Anything deeper is left out.
const DEEPEST: usize = 60;

/// A note's text, which is written after the running text.
pub(super) struct Note {
    pub(super) name: String,
    pub(super) text: String,
    pub(super) base: Option<usize>,
}

/// Reads one document.
pub(super) struct Reader<'a> {
    pub(super) out: Assembly,
    load: Load<'a>,
    /// The files being read, so that none is read inside itself.
    files: Vec<String>,
    pub(super) missing: Vec<String>,
    /// The position of the next file's first byte: after those of all files so far.
    next: usize,
    macros: Macros,
    pub(super) notes: Vec<Note>,
    called: usize,
    depth: usize,
    pub(super) environments: Vec<Open>,
    /// Environments whose end was not found.
    pub(super) endless: HashSet<String>,
    /// How many quotation commands are open.
    pub(super) quotes: usize,
    chapters: bool,
    title: Option<(String, Option<usize>)>,
}

impl<'a> Reader<'a> {
    pub(super) fn new(load: Load<'a>, content: &str) -> Self {
        Self {
            out: Assembly::default(),
            load,
            files: Vec::new(),
            missing: Vec::new(),
            next: content.len() + 1,
            macros: Macros::new(content.len()),
            notes: Vec::new(),
            called: 0,
            depth: 0,
            environments: Vec::new(),
            endless: HashSet::new(),
            quotes: 0,
            chapters: content.contains("\\chapter"),
            title: None,
        }
    }

    /// Reads a whole document: its preamble for definitions, its body as prose. A file without
    /// `\begin{document}` is all body.
    pub(super) fn document(&mut self, content: &str) {
        let content = &*scan::balanced(content);
        let begin = "\\begin{document}";
        let first = |needle| scan::uncommented(content, needle).unwrap_or(content.len());
        let start = first(begin);
        // A chapter that shows an example document is not itself a document.
        if start == content.len() || first("\\chapter").min(first("\\section")) < start {
            return self.run(content, Some(0));
        }
        self.preamble(content.get(..start).unwrap_or_default());
        let start = start + begin.len();
        let body = content.get(start..).unwrap_or_default();
        let end = scan::document_end(body);
        self.run(body.get(..end).unwrap_or_default(), Some(start));
    }

    fn preamble(&mut self, text: &str) {
        let mut at = 0;
        while let Some(next) = text
            .get(at..)
            .and_then(|rest| rest.find(['\\', '%']))
            .map(|next| at + next)
        {
            if text.as_bytes().get(next) == Some(&b'%') {
                at = scan::line_end(text, next);
                continue;
            }
            let (name, behind) = scan::name(text, next + 1);
            at = self.macros.define(name, text, behind).unwrap_or(behind);
            if name == "title"
                && let Some((range, end)) = scan::group(text, scan::skip_options(text, behind))
            {
                self.title = Some((
                    text.get(range.clone()).unwrap_or_default().to_owned(),
                    Some(range.start),
                ));
                at = end;
            }
            at = at.max(next + 1);
        }
    }

    /// Writes the notes and returns the Text.
    pub(super) fn finish(mut self, origin: &Origin) -> (Text, Vec<String>) {
        self.environments.clear();
        // A note may hold a note, and so on, down to a depth that nobody writes.
        for _ in 0..DEEPEST {
            for note in std::mem::take(&mut self.notes) {
                self.out.enter_note(&note.name);
                self.run(&note.text, note.base);
                self.out.leave_note();
            }
        }
        let mut remarks = Vec::new();
        for name in &self.missing {
            remarks.push(format!(
                "{name} is named in this file but could not be read beside it, so its text is missing"
            ));
        }
        (self.out.finish(origin), remarks)
    }

    /// Reads a stretch of LaTeX. `base` is the position of its first byte in the file, if it is copied from
    /// there.
    pub(super) fn run(&mut self, text: &str, base: Option<usize>) {
        if self.depth >= DEEPEST {
            return;
        }
        self.depth += 1;
        let mut at = 0;
        while at < text.len() {
            let rest = text.get(at..).unwrap_or_default();
            let plain = rest.find(is_special).unwrap_or(rest.len());
            self.out.flow(
                rest.get(..plain).unwrap_or_default(),
                base.map(|base| base + at),
            );
            at += plain;
            if at < text.len() {
                at = self.special(text, at, base).max(at + 1);
            }
        }
        self.depth -= 1;
    }

    /// Reads the sign at `at` and returns the position after everything that belongs to it.
    fn special(&mut self, text: &str, at: usize, base: Option<usize>) -> usize {
        let bytes = text.as_bytes();
        let rest = text.get(at..).unwrap_or_default();
        // Counting to four is enough.
        let many = |sign: u8| {
            let signs = bytes.iter().skip(at).take(4);
            signs.take_while(|b| **b == sign).count()
        };
        match bytes.get(at) {
            Some(b'\\') => self.command(text, at, base),
            Some(b'%') => {
                let end = scan::line_end(text, at);
                // The rest of the line end neither joins nor separates anything, unless a blank line follows.
                match bytes.get(end) {
                    Some(b'\n') if !scan::blank_line(bytes, end) => behind_indent(bytes, end + 1),
                    _ => end,
                }
            }
            Some(b'\n') => {
                if scan::blank_line(bytes, at) {
                    self.paragraph();
                } else {
                    // In a table a line end of the text divides rows.
                    let open = self.environments.last();
                    let in_table = open.is_some_and(|open| open.what == Environment::Table);
                    let blank = if in_table { " " } else { "\n" };
                    self.out.flow(blank, base.map(|base| base + at));
                }
                at + 1
            }
            Some(b'$') => self.dollar(text, at),
            Some(b'~') => self.put("\u{A0}", at + 1),
            Some(b'&') => {
                self.out.trim();
                self.out.verbatim("\t", None);
                at + 1
            }
            Some(b'-') => match many(b'-') {
                2 => self.put("–", at + 2),
                3 => self.put("—", at + 3),
                _ => {
                    self.out.flow("-", base.map(|base| base + at));
                    at + 1
                }
            },
            Some(b'`') if rest.starts_with("``") => self.put("“", at + 2),
            Some(b'`') => self.put("‘", at + 1),
            Some(b'\'') if rest.starts_with("''") => self.put("”", at + 2),
            Some(b'\'') => self.put("’", at + 1),
            // The arguments of an unknown command are usually separate in print: a key and its value, a word
            // of an edition and its variant.
            Some(b'}') if bytes.get(at + 1) == Some(&b'{') => {
                let empty = bytes.get(at + 2) == Some(&b'}')
                    || at.checked_sub(1).and_then(|before| bytes.get(before)) == Some(&b'{');
                self.put(if empty { "" } else { " " }, at + 1)
            }
            // Braces group and print nothing.
            _ => at + 1,
        }
    }

    pub(super) fn put(&mut self, text: &str, behind: usize) -> usize {
        self.out.flow(text, None);
        behind
    }

    /// Ends the paragraph. The environment decides the kind of the next one.
    pub(super) fn paragraph(&mut self) {
        let kind = self.environments.iter().rev().find_map(Open::kind);
        self.out.block(kind.unwrap_or(BlockKind::Paragraph));
    }

    fn command(&mut self, text: &str, start: usize, base: Option<usize>) -> usize {
        let (name, behind) = scan::name(text, start + 1);
        if let Some((written, end)) = self.macros.expand(name, text, behind) {
            self.run(&written, None);
            return end;
        }
        let star = text.get(behind..).is_some_and(|rest| rest.starts_with('*'));
        let at = behind + usize::from(star && name.len() > 1);
        match name {
            "\\" | "newline" | "linebreak" | "tabularnewline" => {
                self.out.trim();
                self.out.verbatim("\n", None);
                return scan::skip_options(text, at + usize::from(star && name.len() == 1));
            }
            "par" | "newpage" | "clearpage" | "cleardoublepage" | "bigskip" | "medskip"
            | "smallskip" => {
                self.paragraph();
                return at;
            }
            "(" | "[" => return self.display(text, at, name),
            "begin" => return self.begin(text, at, base),
            "end" => return self.end(text, at, base),
            "item" => return self.item(text, at, base),
            "bibitem" => {
                self.paragraph();
                let at = scan::skip_options(text, at);
                return scan::group(text, at).map_or(at, |(_, end)| end);
            }
            "verb" | "lstinline" => return self.verb(text, at, base),
            "input" | "include" | "subfile" => return self.input(text, at),
            "footnote" | "endnote" | "thanks" | "footnotetext" | "footnotemark" | "sidenote" => {
                return self.note(text, at, base, name);
            }
            "maketitle" => {
                if let Some((title, base)) = self.title.take() {
                    self.headed(1, &title, base);
                }
                return at;
            }
            "title" => {
                let Some((range, end)) = scan::group(text, scan::skip_options(text, at)) else {
                    return at;
                };
                let base = base.map(|base| base + range.start);
                self.title = Some((text.get(range).unwrap_or_default().to_owned(), base));
                return end;
            }
            "author" => return scan::group(text, at).map_or(at, |(_, end)| end),
            "caption" => {
                self.out.block(BlockKind::Paragraph);
                let at = scan::skip_options(text, at);
                return self.argument_as_paragraph(text, at, base);
            }
            "iffalse" => {
                let rest = text.get(at..).unwrap_or_default();
                // Without an end everything that follows is hidden, as it is in print.
                return rest.find("\\fi").map_or(text.len(), |end| at + end + 3);
            }
            "url" | "nolinkurl" | "path" => return self.address(text, at, base),
            _ => {}
        }
        self.other(text, name, behind, at, base)
    }

    fn other(
        &mut self,
        text: &str,
        name: &str,
        behind: usize,
        at: usize,
        base: Option<usize>,
    ) -> usize {
        if let Some(end) = self.macros.define(name, text, behind) {
            return end;
        }
        if let Some(accent) = signs::accent(name)
            && let Some((range, end)) = scan::argument(text, behind)
        {
            let base = text.get(range).unwrap_or_default();
            return self.put(&signs::accented(base, accent), end);
        }
        if let Some(sign) = signs::sign(name) {
            let word = name.starts_with(|c: char| c.is_ascii_alphabetic());
            return self.put(
                sign,
                if word {
                    scan::skip_blank(text, behind)
                } else {
                    behind
                },
            );
        }
        if let Some((style, several)) = cites::style(name) {
            return self.cite(text, at, base, style, several);
        }
        if let Some(end) = self.quote(text, name, at, base) {
            return end;
        }
        if let Some(level) = commands::heading(name, self.chapters) {
            let at = scan::skip_options(text, at);
            if let Some((range, end)) = scan::group(text, at) {
                let base = base.map(|base| base + range.start);
                self.headed(level, text.get(range).unwrap_or_default(), base);
                return end;
            }
            return at;
        }
        let mut at = scan::skip_options(text, at);
        if let Some(groups) = commands::left_out(name) {
            for _ in 0..groups {
                at = scan::skip_options(text, at);
                at = scan::argument(text, at).map_or(at, |(_, end)| end);
            }
            return at;
        }
        // `\bfseries Text`: the blank after a command's name is part of the command.
        if at == behind {
            at = scan::skip_blank(text, at);
        }
        at
    }

    fn headed(&mut self, level: u8, text: &str, base: Option<usize>) {
        self.out.block(BlockKind::Heading { level });
        self.run(text, base);
        self.paragraph();
    }

    fn argument_as_paragraph(&mut self, text: &str, at: usize, base: Option<usize>) -> usize {
        let Some((range, end)) = scan::group(text, at) else {
            return at;
        };
        let base = base.map(|base| base + range.start);
        self.run(text.get(range).unwrap_or_default(), base);
        self.paragraph();
        end
    }

    fn address(&mut self, text: &str, at: usize, base: Option<usize>) -> usize {
        let Some((range, end)) = scan::group(text, at) else {
            return at;
        };
        let base = base.map(|base| base + range.start);
        self.out.flow(text.get(range).unwrap_or_default(), base);
        end
    }

    /// The innermost environment that says what its paragraphs are.
    pub(super) fn innermost(&self) -> Option<Environment> {
        self.environments.last().map(|open| open.what)
    }
}

fn is_special(c: char) -> bool {
    matches!(
        c,
        '\\' | '%' | '\n' | '$' | '~' | '&' | '-' | '`' | '\'' | '{' | '}'
    )
}

/// The position after the blanks at the start of a line.
fn behind_indent(bytes: &[u8], mut at: usize) -> usize {
    while matches!(bytes.get(at), Some(b' ' | b'\t')) {
        at += 1;
    }
    at
}
