//! reStructuredText (published: the reStructuredText markup specification, from memory). Sections,
//! paragraphs, lists, indented block quotations, literal blocks, tables, footnotes and inline markup.
//! Comments and directives are left out, except directives whose content is prose.

mod inline;

use super::assembly::Assembly;
use super::lines::{Line, lines};
use crate::text::{BlockKind, Origin, Text};

/// Directives whose content is a quotation (`.. epigraph::`).
const QUOTATIONS: [&str; 3] = ["epigraph", "pull-quote", "highlights"];

/// Directives whose content is ordinary prose.
const PROSE: [&str; 12] = [
    "note",
    "warning",
    "tip",
    "hint",
    "important",
    "caution",
    "attention",
    "danger",
    "admonition",
    "topic",
    "sidebar",
    "container",
];

/// Directives whose content is program code.
const CODE: [&str; 5] = [
    "code",
    "code-block",
    "sourcecode",
    "parsed-literal",
    "literalinclude",
];

/// Reads reStructuredText.
pub(super) fn read(content: &str, origin: &Origin) -> Text {
    let lines = lines(content);
    let mut reader = Reader {
        out: Assembly::default(),
        lines: &lines,
        at: 0,
        signs: Vec::new(),
        list: None,
        automatic: 0,
        called: 0,
    };
    while reader.at < reader.lines.len() {
        let before = reader.at;
        reader.block();
        reader.at = reader.at.max(before + 1);
    }
    reader.out.finish(origin)
}

struct Reader<'a> {
    out: Assembly,
    lines: &'a [Line<'a>],
    at: usize,
    /// The signs that underline headings, in the order of their first use, which gives the level.
    signs: Vec<(char, bool)>,
    /// The column of the text of the open list item.
    list: Option<usize>,
    /// Automatically numbered notes so far.
    automatic: usize,
    /// Calls of such notes so far.
    called: usize,
}

impl<'a> Reader<'a> {
    fn line(&self, ahead: usize) -> Option<Line<'a>> {
        self.lines.get(self.at + ahead).copied()
    }

    /// Reads the element that begins at the current line.
    fn block(&mut self) {
        let Some(line) = self.line(0) else { return };
        if line.is_blank() {
            self.out.end_block();
            self.at += 1;
            return;
        }
        if line.text.starts_with("..") && (line.text.len() == 2 || line.text.starts_with(".. ")) {
            return self.explicit(line);
        }
        if self.heading() || self.table(line) {
            self.list = None;
            return;
        }
        let indent = line.indent();
        if let Some(length) = bullet(line.trimmed().text) {
            self.list = Some(indent + length);
            self.out.block(BlockKind::ListItem);
            let sign = line.trimmed().text.trim_start_matches('(');
            if sign.starts_with(|c: char| c.is_ascii_digit() || c == '#') {
                self.out.number();
            }
            let lead = line.text.len() - line.text.trim_start().len();
            return self.paragraph(line.behind(lead + length), indent + length);
        }
        let base = self.list.filter(|list| indent >= *list).unwrap_or(0);
        if indent > base {
            return self.set_off(base);
        }
        self.list = self.list.filter(|_| base > 0);
        self.out.block(if base > 0 {
            BlockKind::ListItem
        } else {
            BlockKind::Paragraph
        });
        self.paragraph(line, indent);
    }

    /// A paragraph whose lines begin at a column. After `::` a literal block follows.
    fn paragraph(&mut self, first: Line<'a>, column: usize) {
        let mut words: Vec<Line<'a>> = vec![first];
        self.at += 1;
        while let Some(line) = self.line(0)
            && !line.is_blank()
            && line.indent() >= column
            && !(line.indent() == column && bullet(line.trimmed().text).is_some())
        {
            words.push(line.trimmed());
            self.at += 1;
        }
        let literal = words
            .last()
            .is_some_and(|line| line.text.trim_end().ends_with("::"));
        let count = words.len();
        for (number, mut line) in words.into_iter().enumerate() {
            if number + 1 == count && literal {
                // One of the two colons is part of the prose, if it has any.
                let kept = line.text.trim_end();
                line.text = kept.strip_suffix("::").unwrap_or(kept);
                self.inline(line);
                if !line.text.trim_end().is_empty() && !line.text.ends_with(' ') {
                    self.out.flow(":", None);
                }
            } else {
                self.inline(line);
                self.out.flow("\n", None);
            }
        }
        self.out.end_block();
        if literal {
            self.literal(column);
        }
    }

    /// The indented lines below, unchanged.
    fn literal(&mut self, column: usize) {
        self.out.block(BlockKind::Code);
        while let Some(line) = self.line(0)
            && (line.is_blank() || line.indent() > column)
        {
            self.out.verbatim(line.text, Some(line.start));
            self.out.verbatim("\n", None);
            self.at += 1;
        }
        self.out.end_block();
    }

    /// Paragraphs set off by an indent.
    fn set_off(&mut self, base: usize) {
        self.out.enter_quotation();
        self.paragraphs(base);
        self.out.leave_quotation();
    }

    /// Paragraphs that are indented beyond a column.
    fn paragraphs(&mut self, base: usize) {
        while let Some(line) = self.line(0)
            && (line.is_blank() || line.indent() > base)
        {
            if line.is_blank() {
                self.out.end_block();
            } else {
                self.inline(line.trimmed());
                self.out.flow("\n", None);
            }
            self.at += 1;
        }
    }

    fn heading(&mut self) -> bool {
        let (Some(first), Some(second)) = (self.line(0), self.line(1)) else {
            return false;
        };
        let over = underline(first);
        let (sign, title, taken) = match (over, underline(second)) {
            (Some(sign), _) if self.line(2).and_then(underline) == Some(sign) => {
                ((sign, true), second, 3)
            }
            (None, Some(sign)) if first.indent() == 0 && width(second) + 2 >= width(first) => {
                ((sign, false), first, 2)
            }
            _ => {
                if over.is_some() && second.is_blank() {
                    // A line between paragraphs.
                    self.at += 1;
                    self.out.end_block();
                    return true;
                }
                return false;
            }
        };
        let level = self.signs.iter().position(|known| *known == sign);
        let level = level.unwrap_or_else(|| {
            self.signs.push(sign);
            self.signs.len() - 1
        });
        let level = u8::try_from(level + 1).unwrap_or(6).min(6);
        self.out.block(BlockKind::Heading { level });
        self.inline(title.trimmed());
        self.out.end_block();
        self.at += taken;
        true
    }

    /// Grid tables and simple tables: each row becomes a line, with tabs between its cells. A row of a grid goes on to the
    /// next border, whatever lines its cells take.
    fn table(&mut self, line: Line<'a>) -> bool {
        let border = |text: &str| {
            let text = text.trim();
            let grid = text.starts_with("+-") || text.starts_with("+=");
            grid || (text.starts_with("==")
                && text.contains(' ')
                && text.chars().all(|c| c == '=' || c == ' '))
        };
        if !border(line.text) {
            return false;
        }
        let simple = !line.trimmed().text.starts_with('+');
        let blank_lines = |text: &str| text.trim().is_empty();
        self.out.block(BlockKind::Table);
        let mut first = true;
        let mut grid: Vec<String> = Vec::new();
        while let Some(line) = self.line(0) {
            let next_blank = self.line(1).is_none_or(|next| blank_lines(next.text));
            self.at += 1;
            if border(line.text) {
                first &= grid.is_empty();
                self.row(&mut grid);
                if simple && next_blank && !first {
                    break;
                }
                continue;
            }
            if line.is_blank() {
                break;
            }
            if !simple {
                if grid.is_empty() && !first {
                    self.out.verbatim("\n", None);
                }
                add_line(&mut grid, line.trimmed().text);
                continue;
            }
            if !first {
                self.out.verbatim("\n", None);
            }
            first = false;
            let row = line.trimmed();
            let cells = row.text.split("  ").map(str::trim);
            let cells: Vec<&str> = cells.filter(|cell| !cell.is_empty()).collect();
            self.out.verbatim(&cells.join("\t"), None);
        }
        self.row(&mut grid);
        self.out.end_block();
        true
    }

    /// Writes a row of a grid and empties it.
    fn row(&mut self, cells: &mut Vec<String>) {
        if !cells.is_empty() {
            self.out.verbatim(&cells.join("\t"), None);
            cells.clear();
        }
    }

    /// Elements that begin with two dots: footnotes, directives, comments.
    fn explicit(&mut self, line: Line<'a>) {
        let rest = line.behind(3.min(line.text.len()));
        self.at += 1;
        if let Some((name, length)) = inline::definition(rest.text) {
            let name = match name {
                "#" => {
                    self.automatic += 1;
                    format!(" {}", self.automatic)
                }
                name => name.to_owned(),
            };
            self.out.enter_note(&name);
            self.inline(rest.behind(length).trimmed());
            self.out.flow("\n", None);
            self.paragraphs(0);
            return self.out.leave_note();
        }
        let name = rest.text.split_once("::").map(|(name, _)| name.trim());
        let name = name.unwrap_or_default();
        // The options of a directive.
        while self
            .line(0)
            .is_some_and(|line| line.indent() > 0 && line.text.trim().starts_with(':'))
        {
            self.at += 1;
        }
        if QUOTATIONS.contains(&name) {
            self.set_off(0);
        } else if PROSE.contains(&name) {
            self.out.block(BlockKind::Paragraph);
            self.paragraphs(0);
            self.out.end_block();
        } else if CODE.contains(&name) {
            self.literal(0);
        } else {
            while self
                .line(0)
                .is_some_and(|line| line.is_blank() || line.indent() > 0)
            {
                self.at += 1;
            }
        }
    }
}

/// The sign of which a line consists, if it can underline a heading.
fn underline(line: Line<'_>) -> Option<char> {
    let text = line.text.trim_end();
    let sign = text.chars().next()?;
    let all = text.chars().all(|c| c == sign);
    (sign.is_ascii_punctuation() && all && text.len() >= 3).then_some(sign)
}

fn width(line: Line<'_>) -> usize {
    line.text.trim().chars().count()
}

/// How many bytes the sign of a list item has.
fn bullet(text: &str) -> Option<usize> {
    if ["- ", "* ", "+ ", "• "]
        .iter()
        .any(|sign| text.starts_with(sign))
    {
        return text.find(' ').map(|blank| blank + 1);
    }
    let (number, _) = text.split_once(' ')?;
    let inner = number.trim_start_matches('(');
    let ended = inner.strip_suffix('.').or(inner.strip_suffix(')'))?;
    let digits = !ended.is_empty() && ended.len() <= 3 && ended.chars().all(|c| c.is_ascii_digit());
    (digits || ended == "#").then_some(number.len() + 1)
}

/// Adds one line of a grid's row to its cells.
fn add_line(cells: &mut Vec<String>, line: &str) {
    for (at, part) in line.trim_matches('|').split('|').map(str::trim).enumerate() {
        match cells.get_mut(at) {
            Some(cell) if cell.is_empty() || part.is_empty() => cell.push_str(part),
            Some(cell) => {
                cell.push(' ');
                cell.push_str(part);
            }
            None => cells.push(part.to_owned()),
        }
    }
}

#[cfg(test)]
mod tests;
