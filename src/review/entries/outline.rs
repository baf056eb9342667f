//! The marks of a note file: headings, and lines that do the work of headings.

use super::super::references::fold;
use super::key::{self, Named};
use super::{PartKind, References, Settings, tables};
use crate::text::{Block, BlockKind, ByteRange, Text};

/// The names of part headings, folded.
#[derive(Debug, Clone)]
pub(super) struct PartHeadings {
    names: Vec<(String, PartKind)>,
}

impl PartHeadings {
    /// The names that the settings give; *Reference* itself always counts.
    pub(super) fn of(settings: &Settings) -> Self {
        let reference = ["Reference".to_owned(), "Full reference".to_owned()];
        let lists = [
            (settings.summary_headings.as_slice(), PartKind::Summary),
            (&settings.quotations_headings, PartKind::Quotations),
            (&settings.comments_headings, PartKind::Comments),
            (&reference, PartKind::Reference),
        ];
        let names = lists
            .into_iter()
            .flat_map(|(names, kind)| names.iter().map(move |name| (fold(name), kind)))
            .filter(|(name, _)| !name.is_empty())
            .collect();
        Self { names }
    }

    /// The part that a heading begins, numbering and punctuation aside.
    pub(super) fn part(&self, heading: &str) -> Option<PartKind> {
        let folded = fold(heading);
        let unnumbered = match folded.split_once(' ') {
            Some((number, rest)) if number.bytes().all(|byte| byte.is_ascii_digit()) => rest,
            _ => &folded,
        };
        let known = self.names.iter().find(|(name, _)| name == unnumbered);
        known.map(|(_, kind)| *kind)
    }
}

/// What a mark begins.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Role {
    /// An entry, or what is written like the heading of one.
    Entry(Named),
    /// A part of an entry.
    Part(PartKind),
    /// Neither.
    Other,
}

/// A heading, or a line that does the work of one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Mark {
    pub(super) role: Role,
    /// 1 to 6 as in the text; [`LABEL`] for a line that is no heading.
    pub(super) level: u8,
    /// The heading or label itself.
    pub(super) range: ByteRange,
    /// Without its markup.
    pub(super) text: String,
    /// Whether it is a line of prose that does the work of a heading.
    pub(super) is_line: bool,
}

/// The level of a label: below every heading.
pub(super) const LABEL: u8 = 7;

/// Longest line that may be an entry's heading in a file without headings, in words.
const HEADING_WORDS: usize = 12;

/// The marks of a text in order.
pub(super) fn outline(text: &Text, headings: &PartHeadings, references: &References) -> Vec<Mark> {
    let level = level_of_lines(text, headings);
    let mut marks = Vec::new();
    for block in text.blocks() {
        match block.kind {
            BlockKind::Heading { level } => {
                marks.push(heading(text, block, level, headings, references))
            }
            BlockKind::Paragraph | BlockKind::ListItem => {
                match heading_line(text, block, level, references) {
                    Some(mark) => marks.push(mark),
                    None => labels(text, block, headings, &mut marks),
                }
            }
            BlockKind::Table => {
                let found = tables::marks(text, block.range, level.0, headings, references);
                marks.extend(found);
            }
            _ => {}
        }
    }
    marks
}

fn heading(
    text: &Text,
    block: &Block,
    level: u8,
    headings: &PartHeadings,
    references: &References,
) -> Mark {
    let written = text.slice(block.range);
    let role = match headings.part(written) {
        Some(kind) => Role::Part(kind),
        None => match key::of_heading(written, references) {
            Named::Nothing => Role::Other,
            named => Role::Entry(named),
        },
    };
    Mark {
        role,
        level,
        range: block.range,
        text: bare(written),
        is_line: false,
    }
}

/// The level of lines that do the work of an entry's heading, and whether the file has headings besides: in a file
/// without them it is the highest, else just above those of parts, or below every heading.
fn level_of_lines(text: &Text, headings: &PartHeadings) -> (u8, bool) {
    let mut any = false;
    let mut of_parts: Option<u8> = None;
    for (number, block) in text.blocks().iter().enumerate() {
        if let BlockKind::Heading { level } = block.kind {
            any = true;
            // What the file begins with is its title, whatever it is called.
            if number > 0 && headings.part(text.slice(block.range)).is_some() {
                of_parts = Some(of_parts.map_or(level, |least| least.min(level)));
            }
        }
    }
    match (any, of_parts) {
        (false, _) => (1, false),
        (true, Some(level)) => (level.saturating_sub(1), true),
        (true, None) => (LABEL - 1, true),
    }
}

/// A paragraph of one short line that names a reference.
fn heading_line(
    text: &Text,
    block: &Block,
    (level, among_headings): (u8, bool),
    references: &References,
) -> Option<Mark> {
    let written = text.slice(block.range);
    if written.contains('\n') || written.split_whitespace().count() > HEADING_WORDS {
        return None;
    }
    // Among headings a line must look like one; others only mention a work.
    let is_bold = |signs: &str| written.starts_with(signs) && written.ends_with(signs);
    let is_heading = block.kind == BlockKind::Paragraph && (is_bold("**") || is_bold("__"));
    if among_headings && !is_heading {
        return None;
    }
    match key::of_heading(written, references) {
        Named::One(key) => Some(Mark {
            role: Role::Entry(Named::One(key)),
            level,
            range: block.range,
            text: bare(written),
            is_line: true,
        }),
        _ => None,
    }
}

/// The labels in a paragraph: a first line that is a part's name, or any line that begins with one and a
/// colon.
fn labels(text: &Text, block: &Block, headings: &PartHeadings, marks: &mut Vec<Mark>) {
    let mut start = block.range.start();
    for (number, line) in text.slice(block.range).split_inclusive('\n').enumerate() {
        let label = match line.split_once(':') {
            Some((label, rest)) => {
                let closing = rest.len() - rest.trim_start_matches(['*', '_']).len();
                Some((label, label.len() + 1 + closing))
            }
            None if number == 0 => Some((line, line.trim_end().len())),
            None => None,
        };
        if let Some((label, length)) = label
            && let Some(kind) = headings.part(label)
            && label
                .chars()
                .find(|letter| letter.is_alphabetic())
                .is_some_and(char::is_uppercase)
        {
            marks.push(Mark {
                role: Role::Part(kind),
                level: LABEL,
                range: ByteRange::of(start, start + length),
                text: bare(label),
                is_line: true,
            });
        }
        start += line.len();
    }
}

/// A heading without its markup: number signs, stars, attributes.
fn bare(written: &str) -> String {
    let without = written
        .split_once("{#")
        .map_or(written, |(before, _)| before);
    let bare =
        without.trim_matches(|letter: char| letter.is_whitespace() || "#*_:".contains(letter));
    let whole = if bare.is_empty() {
        written.trim()
    } else {
        bare
    };
    whole.split_whitespace().collect::<Vec<_>>().join(" ")
}
