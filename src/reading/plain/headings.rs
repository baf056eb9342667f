//! Headings in plain text.

use super::{Blocks, Line};
use crate::reading::pages::ends_sentence;
use crate::text::{BlockKind, ByteRange};

/// A single line longer than this, in characters, is a paragraph rather than a heading. Our own choice.
const LONGEST_HEADING: usize = 70;

impl Blocks<'_> {
    /// Adds the headings with `#` and the underlined headings that a paragraph begins with, and returns the
    /// remaining lines.
    pub(super) fn take_marked_headings<'l>(
        &mut self,
        paragraph: &'l [Line],
        next: Option<&[Line]>,
    ) -> &'l [Line] {
        let mut lines = paragraph;
        loop {
            let Some((first, rest)) = lines.split_first() else {
                return lines;
            };
            let below = rest.first().map(|line| self.slice(line));
            if let Some((level, lead)) = hashes(self.slice(first)) {
                let start = first.range.start() + lead;
                let range = ByteRange::of(start, first.range.end());
                self.push(BlockKind::Heading { level }, range);
                lines = rest;
            } else if let Some(level) = below.and_then(underline)
                && (rest.len() > 1 || next.is_some())
                && self.slice(first).chars().count() <= 2 * LONGEST_HEADING
            {
                self.push(BlockKind::Heading { level }, first.range);
                lines = rest.get(1..).unwrap_or_default();
            } else {
                return lines;
            }
        }
    }

    /// The level of a single line that looks like a heading: it is short, begins with a capital or a number,
    /// has no end mark, quotation mark or citation, and stands between a finished paragraph and one that
    /// begins a new sentence.
    pub(super) fn lone_heading(&self, line: &Line, next: Option<&[Line]>) -> Option<u8> {
        let text = self.slice(line);
        let below = next?.first()?;
        let next = self.slice(below);
        let fresh_below = !next.starts_with(char::is_lowercase) && !below.starts_page;
        let finished_above = self.found.last().is_none_or(|above| {
            let above_text = self.content.get(above.range.as_range()).unwrap_or_default();
            matches!(above.kind, BlockKind::Heading { .. }) || ends_sentence(above_text)
        });
        let numbered = level_of_number(text);
        let is_item = super::item_sign(text).is_some();
        let item_below = super::item_sign(next).is_some();
        let item_above = self
            .found
            .last()
            .is_some_and(|above| above.kind == BlockKind::ListItem);
        let listed = is_item && (numbered.is_none() || item_below || item_above);
        // A question may be a paragraph of its own; a numbered one is more likely a heading.
        let ends_like_one = text.ends_with(|c: char| c.is_alphanumeric() || c == ')' || c == '”')
            || (numbered.is_some() && text.ends_with('?'));
        let fits = line.indent < 4
            && text.chars().count() <= LONGEST_HEADING
            && text.starts_with(|c: char| c.is_uppercase() || c.is_ascii_digit())
            && text.chars().any(char::is_alphabetic)
            && ends_like_one
            && !(text.contains(['(', '[']) && text.contains(|c: char| c.is_ascii_digit()))
            && !text.contains('@')
            && !is_cut_off(text);
        (fits && fresh_below && finished_above && !listed).then_some(numbered.unwrap_or(2))
    }
}

/// Whether a line ends with a word that needs another after it, so that it is not a whole phrase.
fn is_cut_off(line: &str) -> bool {
    let last = line.rsplit(' ').next().unwrap_or_default();
    [
        "a", "an", "and", "as", "at", "by", "for", "from", "in", "into", "is", "of", "on", "or",
        "that", "the", "their", "to", "was", "were", "which", "with",
    ]
    .contains(&last)
}

/// The level of a heading written `## Heading`, and the length of the signs.
fn hashes(line: &str) -> Option<(u8, usize)> {
    let behind = line.trim_start_matches('#');
    let level = u8::try_from(line.len() - behind.len()).ok()?;
    let text = behind.trim_start();
    ((1..=6).contains(&level) && text.len() < behind.len() && !text.is_empty())
        .then_some((level, line.len() - text.len()))
}

fn underline(line: &str) -> Option<u8> {
    let all = |c: char| line.len() >= 3 && line.chars().all(|other| other == c);
    if all('=') {
        Some(1)
    } else {
        all('-').then_some(2)
    }
}

/// The level that a section number gives: `2 Methods` and `2. Methods` 2, `2.1 Lamps` 3.
fn level_of_number(line: &str) -> Option<u8> {
    let number = line.split_whitespace().next()?.trim_end_matches('.');
    let parts = number.split('.');
    let depth = parts.clone().count();
    let numeric =
        |part: &str| (1..=2).contains(&part.len()) && part.chars().all(|c| c.is_ascii_digit());
    (depth <= 5 && parts.clone().all(numeric)).then(|| u8::try_from(depth).map_or(6, |d| d + 1))
}
