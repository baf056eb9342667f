//! Marks to entries.
//!
//! An entry begins at a heading that names its reference and reaches to the next heading of the same or
//! a higher level that does not begin a part of it. Parts begin at part headings or labels. What stands
//! before the first of them is the reference where it reads like one, else summary.

use super::super::references::fold;
use super::key::{self, Named};
use super::outline::{LABEL, Mark, PartHeadings, Role, outline};
use super::{Entry, Part, PartKind};
use crate::review::{Key, Reference, References, Resolved, Why};
use crate::text::{ByteRange, Text};

/// The entries of a note file in order. `stem` is the file's name without ending: where no heading names
/// a reference, the file as a whole may be one entry of that key. `report` takes what the reader has to
/// know.
pub(super) fn entries(
    text: &Text,
    stem: &str,
    headings: &PartHeadings,
    references: &References,
    report: &mut dyn FnMut(Why),
) -> Vec<Entry> {
    let marks = outline(text, headings, references);
    let named = marks
        .iter()
        .any(|mark| matches!(mark.role, Role::Entry(Named::One(_))));
    let whole = match named {
        true => Named::Nothing,
        false => key::of_heading(stem, references),
    };
    let whole = match whole {
        Named::One(key) => Some(key),
        _ => None,
    };
    let groups = match whole {
        Some(key) => vec![Group::whole(text, stem, key, &marks)],
        None => group(text, stem, &marks, references),
    };
    groups
        .into_iter()
        .map(|group| {
            if let Some(unknown) = &group.unknown {
                let line = text.line(group.range.start());
                report(Why::UnknownHeading {
                    line,
                    problem: unknown.why.clone(),
                });
            }
            group.entry(text, references)
        })
        .collect()
}

/// An entry in the making.
struct Group<'m> {
    key: Option<Key>,
    heading: String,
    /// The heading itself; empty where the file's name stands for it.
    heading_range: ByteRange,
    level: u8,
    /// Whether a line began it, and no heading.
    by_line: bool,
    range: ByteRange,
    parts: Vec<(PartKind, &'m Mark)>,
    /// Why it has no key, and what it may mean.
    unknown: Option<Unknown>,
}

/// Why a heading gives no key.
struct Unknown {
    /// What is the matter and what to do, with the hint.
    why: String,
    /// References that may be meant.
    hint: Option<String>,
}

impl<'m> Group<'m> {
    /// The whole file as one entry; a heading that it begins with is its title.
    fn whole(text: &Text, stem: &str, key: Key, marks: &'m [Mark]) -> Self {
        let parts = marks.iter().filter_map(|mark| match mark.role {
            Role::Part(kind) => Some((kind, mark)),
            _ => None,
        });
        let first = text.blocks().first();
        let title = marks.first().filter(|mark| {
            mark.role == Role::Other && first.is_some_and(|block| block.range == mark.range)
        });
        Self {
            key: Some(key),
            heading: title.map_or(stem, |mark| &mark.text).to_owned(),
            heading_range: title.map_or(ByteRange::default(), |mark| mark.range),
            level: 0,
            by_line: false,
            range: ByteRange::of(0, text.content().len()),
            parts: parts.collect(),
            unknown: None,
        }
    }

    fn begin(mark: &Mark, named: &Named, end: usize, references: &References) -> Self {
        let key = match named {
            Named::One(key) => Some(key.clone()),
            _ => None,
        };
        Self {
            unknown: unknown(&mark.text, named, references),
            key,
            heading: mark.text.clone(),
            heading_range: mark.range,
            level: mark.level,
            by_line: mark.is_line,
            range: ByteRange::of(mark.range.start(), end),
            parts: Vec::new(),
        }
    }

    fn end_at(&mut self, end: usize) {
        self.range = ByteRange::of(self.range.start(), end);
    }
}

/// Sorts the marks of a file into entries.
fn group<'m>(
    text: &Text,
    stem: &str,
    marks: &'m [Mark],
    references: &References,
) -> Vec<Group<'m>> {
    let length = text.content().len();
    let mut groups: Vec<Group<'m>> = Vec::new();
    let mut open: Option<Group<'m>> = None;
    // the last heading that belongs to no entry: where parts follow it, it was meant to begin one
    let mut stray: Option<&Mark> = None;
    for (position, mark) in marks.iter().enumerate() {
        // A line within an entry that a heading begins is no heading, however it looks.
        let inside = open.as_ref().is_some_and(|group| {
            let is_below = mark.level > group.level;
            is_below || (mark.is_line && mark.level < LABEL && !group.by_line)
        });
        let start = mark.range.start();
        match &mark.role {
            Role::Entry(_) if inside => {}
            Role::Entry(named) => {
                groups.extend(close(&mut open, start));
                open = Some(Group::begin(mark, named, length, references));
                stray = None;
            }
            Role::Part(kind) => {
                let same_level = open.as_ref().is_some_and(|group| mark.level == group.level);
                if !inside && !same_level {
                    groups.extend(close(&mut open, start));
                    if heads_entries(mark, marks.get(position + 1), position == 0) {
                        stray = Some(mark);
                        continue;
                    }
                    open = Some(meant(stray.take(), stem, start, length, references));
                }
                if let Some(group) = &mut open {
                    group.parts.push((*kind, mark));
                }
            }
            Role::Other if inside => {}
            Role::Other => {
                groups.extend(close(&mut open, start));
                stray = Some(mark);
            }
        }
    }
    groups.extend(close(&mut open, length));
    groups
}

fn close<'m>(open: &mut Option<Group<'m>>, end: usize) -> Option<Group<'m>> {
    let mut group = open.take()?;
    group.end_at(end);
    Some(group)
}

/// Whether a heading such as *Notes* stands above entries rather than inside one.
fn heads_entries(mark: &Mark, next: Option<&Mark>, is_first: bool) -> bool {
    let Some(next) = next else { return false };
    let begins_entry = matches!(next.role, Role::Entry(_));
    mark.level < LABEL && begins_entry && (is_first || next.level > mark.level)
}

/// The entry that parts without a named reference belong to.
fn meant<'m>(
    stray: Option<&Mark>,
    stem: &str,
    start: usize,
    end: usize,
    references: &References,
) -> Group<'m> {
    match stray {
        Some(mark) => match key::of_bare_name(&mark.text, references) {
            Some(key) => Group::begin(mark, &Named::One(key), end, references),
            None => Group::begin(mark, &Named::Nothing, end, references),
        },
        None => Group {
            key: None,
            heading: stem.to_owned(),
            heading_range: ByteRange::of(start, start),
            level: 0,
            by_line: false,
            range: ByteRange::of(start, end),
            parts: Vec::new(),
            unknown: unknown(stem, &Named::Nothing, references),
        },
    }
}

/// Why a heading gives no key, and what to do.
fn unknown(heading: &str, named: &Named, references: &References) -> Option<Unknown> {
    let near = match named {
        Named::One(_) => return None,
        Named::Several(keys) => {
            let names: Vec<&str> = keys.iter().map(Key::as_str).collect();
            let may_mean = names.join(" or ");
            return Some(Unknown {
                why: format!(
                    "the heading {heading:?} may mean {may_mean}, so its entry was read without a reference; write the key into the heading, such as {{#{}}}",
                    names.first().unwrap_or(&"key")
                ),
                hint: Some(format!("it may mean {may_mean}")),
            });
        }
        Named::Unknown(near) => near.clone(),
        Named::Nothing => match references.resolve_key(heading) {
            Resolved::None { near } => near,
            _ => Vec::new(),
        },
    };
    let hint = references.hint(&near);
    let behind = hint
        .as_deref()
        .map_or_else(String::new, |hint| format!("; {hint}"));
    Some(Unknown {
        why: format!(
            "the heading {heading:?} names no reference, so its entry was read without one; write the key into the heading, such as {{#key}}{behind}"
        ),
        hint,
    })
}

impl Group<'_> {
    fn entry(self, text: &Text, references: &References) -> Entry {
        let reference = self.key.as_ref().and_then(|key| references.get(key));
        let body_start = self.heading_range.end().max(self.range.start());
        let first_part = self
            .parts
            .first()
            .map_or(self.range.end(), |(_, mark)| mark.range.start());
        let mut parts = Vec::new();
        if reference.is_some_and(|work| names_work(text.slice(self.heading_range), work)) {
            parts.push(Part {
                kind: PartKind::Reference,
                range: self.heading_range,
            });
        }
        lead(
            text,
            ByteRange::of(body_start, first_part),
            reference,
            &mut parts,
        );
        for (position, (kind, mark)) in self.parts.iter().enumerate() {
            let end = self
                .parts
                .get(position + 1)
                .map_or(self.range.end(), |(_, next)| next.range.start());
            let range = fitted(text, ByteRange::of(mark.range.end(), end));
            parts.push(Part { kind: *kind, range });
        }
        let end = fitted(text, self.range).end().max(self.heading_range.end());
        Entry {
            key: self.key,
            hint: self.unknown.and_then(|unknown| unknown.hint),
            heading: self.heading,
            file: 0,
            range: ByteRange::of(self.range.start(), end),
            parts,
        }
    }
}

/// What stands before the first part heading: the block that reads like the reference is the reference,
/// the rest summary.
fn lead(text: &Text, range: ByteRange, reference: Option<&Reference>, parts: &mut Vec<Part>) {
    let mut add = |kind, from, to| {
        let range = fitted(text, ByteRange::of(from, to));
        if !range.is_empty() {
            parts.push(Part { kind, range });
        }
    };
    let inside = text
        .blocks_in(range)
        .map(|block| block.range.intersection(range));
    let found = inside
        .filter(|block| !block.is_empty())
        .find(|block| is_reference(text.slice(*block), reference));
    match found {
        Some(block) => {
            add(PartKind::Summary, range.start(), block.start());
            add(PartKind::Reference, block.start(), block.end());
            add(PartKind::Summary, block.end(), range.end());
        }
        None => add(PartKind::Summary, range.start(), range.end()),
    }
}

/// How far into a paragraph the year of a reference stands, in characters: author lists are long, but a
/// sentence that mentions a year in passing is longer.
const YEAR_WITHIN: usize = 300;

/// Whether a paragraph reads like the full reference: it names the work, or, where the work is not known,
/// it has a year in parentheses and a capital at its start, and goes on with a full stop.
fn is_reference(paragraph: &str, reference: Option<&Reference>) -> bool {
    match reference {
        Some(work) => names_work(paragraph, work),
        None => {
            let start: String = paragraph.chars().take(YEAR_WITHIN).collect();
            let year = |letters: &str| {
                letters.len() >= 4 && letters.bytes().take(4).all(|byte| byte.is_ascii_digit())
            };
            let capital = start
                .chars()
                .find(|letter| letter.is_alphabetic())
                .is_some_and(char::is_uppercase);
            let dated = start.match_indices(").").any(|(end, _)| {
                let before = start.get(..end).unwrap_or_default();
                before
                    .rsplit_once('(')
                    .is_some_and(|(_, inside)| year(inside))
            });
            capital && dated
        }
    }
}

/// How many words of the title have to stand in a reference: subtitles are often left out.
const TITLE_WORDS: usize = 5;

/// Whether a text gives year and family name of a work and the beginning of its title.
fn names_work(text: &str, work: &Reference) -> bool {
    let folded = format!(" {} ", fold(text));
    let has = |words: &str| words.is_empty() || folded.contains(&format!(" {words}"));
    let year = work
        .year
        .is_none_or(|year| folded.contains(&year.to_string()));
    let family = work
        .authors
        .first()
        .map(|person| fold(&person.family))
        .unwrap_or_default();
    let title: Vec<String> = fold(&work.title)
        .split(' ')
        .take(TITLE_WORDS)
        .map(str::to_owned)
        .collect();
    let title = title.join(" ");
    year && has(&family) && has(&title) && !(family.is_empty() && title.is_empty())
}

/// A stretch cut down to the blocks in it, without blank space at its ends; empty at its start where
/// there is nothing.
fn fitted(text: &Text, range: ByteRange) -> ByteRange {
    let mut blocks = text
        .blocks_in(range)
        .map(|block| block.range.intersection(range))
        .filter(|block| !block.is_empty());
    let Some(first) = blocks.next() else {
        return ByteRange::of(range.start(), range.start());
    };
    let whole = blocks.fold(first, ByteRange::hull);
    let slice = text.slice(whole);
    let start = whole.start() + slice.len() - slice.trim_start().len();
    ByteRange::of(start, start + slice.trim().len())
}
