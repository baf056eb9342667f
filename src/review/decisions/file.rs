//! Reads `decisions.toml`.
//!
//! What `settle` writes is a small part of TOML: headers, and texts on one line. [`plain`] reads just
//! that, several times faster than a whole TOML reader could; at anything else it gives up and leaves
//! the file to [`whole`], which knows all of TOML and says what is wrong. A property test holds the two
//! to each other.

use std::path::Path;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::{Decision, Decisions, DecisionsError, SCHEME};

/// The fields of a block, in the order in which they are written.
pub(super) const FIELDS: [&str; 5] = ["kind", "draft", "on", "because", "text"];

/// Parses the content of the file; an empty one holds no decisions.
pub(super) fn parse(path: &Path, content: &str) -> Result<Decisions, DecisionsError> {
    match plain(content) {
        Some(decisions) => Ok(decisions),
        None => whole(path, content),
    }
}

/// Reads the plain form; `None` at the first line that is anything else.
pub(super) fn plain(content: &str) -> Option<Decisions> {
    let mut decisions: Vec<Decision> = Vec::new();
    let mut seen: u8 = 0;
    let mut scheme = None;
    for line in content.lines() {
        let line = line.trim_ascii();
        if line.is_empty() || (line.starts_with('#') && is_shown(line)) {
            continue;
        }
        if let Some(header) = line.strip_prefix('[') {
            if !decisions.is_empty() && seen != 0b1_1111 {
                return None;
            }
            let (id, place) = header.strip_suffix(']')?.split_once('.')?;
            if !is_name(id) || !is_name(place) {
                return None;
            }
            seen = 0;
            decisions.push(Decision {
                id: id.to_owned(),
                place: place.to_owned(),
                kind: String::new(),
                draft: String::new(),
                on: String::new(),
                because: String::new(),
                text: String::new(),
            });
            continue;
        }
        let (name, value) = line.split_once(" = ")?;
        let value = value.strip_prefix('"')?.strip_suffix('"')?;
        if !is_shown(value) || value.contains(['"', '\\']) {
            return None;
        }
        let Some(decision) = decisions.last_mut() else {
            if name != "scheme" || scheme.replace(value).is_some() {
                return None;
            }
            continue;
        };
        let index = FIELDS.iter().position(|field| *field == name)?;
        if seen & (1 << index) != 0 {
            return None;
        }
        seen |= 1 << index;
        *field(decision, index) = value.to_owned();
    }
    let complete = decisions.is_empty() || (seen == 0b1_1111 && scheme == Some(SCHEME));
    if !complete || scheme.is_some_and(|scheme| scheme != SCHEME) {
        return None;
    }
    let decisions = Decisions::new(decisions);
    let twice = decisions
        .sorted
        .windows(2)
        .any(|pair| matches!(pair, [a, b] if a.id == b.id && a.place == b.place));
    // Of a block that stands there twice the whole reader can name the line.
    (!twice).then_some(decisions)
}

fn field(decision: &mut Decision, index: usize) -> &mut String {
    match index {
        0 => &mut decision.kind,
        1 => &mut decision.draft,
        2 => &mut decision.on,
        3 => &mut decision.because,
        _ => &mut decision.text,
    }
}

/// Whether a text holds no character that TOML needs escaped.
fn is_shown(text: &str) -> bool {
    text.bytes()
        .all(|byte| byte == b'\t' || (byte >= 0x20 && byte != 0x7f))
}

/// Whether a name needs no quotation marks in a header.
pub(super) fn is_name(name: &str) -> bool {
    !name.is_empty()
        && name
            .bytes()
            .all(|byte| byte.is_ascii_alphanumeric() || byte == b'-' || byte == b'_')
}

/// Where a block stands in the content: from its header to the end of its last field.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Span {
    pub(super) start: usize,
    pub(super) end: usize,
}

/// Reads any TOML.
pub(super) fn whole(path: &Path, content: &str) -> Result<Decisions, DecisionsError> {
    let blocks = blocks(path, content)?;
    Ok(Decisions::new(
        blocks.into_iter().map(|(decision, _)| decision).collect(),
    ))
}

/// Reads any TOML, and where each block stands.
pub(super) fn blocks(path: &Path, content: &str) -> Result<Vec<(Decision, Span)>, DecisionsError> {
    let reader = Reader { path, content };
    reader.merge_marks()?;
    let document = DeTable::parse(content).map_err(|error| {
        let at = error.span().map_or(0, |span| span.start);
        let problem = error.message().replace('\n', ", ");
        reader.broken(
            at,
            format!("{problem}; mend the line, or take the block out and settle the finding again"),
        )
    })?;
    let mut found = Vec::new();
    let mut scheme = None;
    // In the order of the file, so that the first mistake is reported first.
    for (id, value) in in_order(document.get_ref()) {
        match (id.get_ref().as_ref(), value.get_ref()) {
            ("scheme", DeValue::String(written)) => scheme = Some((written, id.span().start)),
            (name, DeValue::Table(places)) if is_name(name) => {
                for (place, block) in in_order(places) {
                    found.push(reader.block(name, place, block)?);
                }
            }
            (name, _) => {
                let problem = format!(
                    "{name:?} is neither a decision nor the scheme; a decision begins with a line such as [uc-1a2b3c4d.5e6f7a8b]"
                );
                return Err(reader.broken(id.span().start, problem));
            }
        }
    }
    match scheme {
        Some((written, _)) if written == SCHEME => {}
        None if found.is_empty() => {}
        None => {
            let problem = format!("the line scheme = {SCHEME:?} is missing; put it at the top");
            return Err(reader.broken(0, problem));
        }
        Some((written, at)) => {
            let problem = format!(
                "decisions of the scheme {written:?} can't be used, this ownwords knows {SCHEME:?}; a newer ownwords may know them"
            );
            return Err(reader.broken(at, problem));
        }
    }
    found.sort_by_key(|(_, span)| span.start);
    Ok(found)
}

type Field<'t, 'c> = (
    &'t Spanned<std::borrow::Cow<'c, str>>,
    &'t Spanned<DeValue<'c>>,
);

fn in_order<'t, 'c>(table: &'t DeTable<'c>) -> Vec<Field<'t, 'c>> {
    let mut fields: Vec<Field<'t, 'c>> = table.iter().collect();
    fields.sort_by_key(|(name, _)| name.span().start);
    fields
}

struct Reader<'a> {
    path: &'a Path,
    content: &'a str,
}

impl Reader<'_> {
    fn broken(&self, position: usize, problem: String) -> DecisionsError {
        let before = self.content.as_bytes().get(..position).unwrap_or_default();
        DecisionsError::Broken {
            path: self.path.to_owned(),
            line: 1 + memchr::memchr_iter(b'\n', before).count(),
            problem,
        }
    }

    /// The marks that version control leaves where two sides could not be merged.
    fn merge_marks(&self) -> Result<(), DecisionsError> {
        let mut at = 0;
        for line in self.content.split_inclusive('\n') {
            let marks = ["<<<<<<<", "|||||||", "=======", ">>>>>>>"];
            if marks.iter().any(|mark| line.starts_with(mark)) {
                let problem = "this is a mark of an unfinished merge; keep the blocks of both sides, of one that stands \
                    there twice the one you want, and take the marks out";
                return Err(self.broken(at, problem.to_owned()));
            }
            at += line.len();
        }
        Ok(())
    }

    fn block(
        &self,
        id: &str,
        place: &Spanned<std::borrow::Cow<'_, str>>,
        block: &Spanned<DeValue<'_>>,
    ) -> Result<(Decision, Span), DecisionsError> {
        let at = place.span().start;
        let DeValue::Table(table) = block.get_ref() else {
            let problem = format!(
                "{:?} is no field of a decision; a decision begins with a line such as [{id}.5e6f7a8b]",
                place.get_ref()
            );
            return Err(self.broken(at, problem));
        };
        let mut decision = Decision {
            id: id.to_owned(),
            place: place.get_ref().to_string(),
            kind: String::new(),
            draft: String::new(),
            on: String::new(),
            because: String::new(),
            text: String::new(),
        };
        let mut end = place.span().end;
        let mut missing = FIELDS.to_vec();
        for (name, value) in in_order(table) {
            let written = name.get_ref().as_ref();
            let Some(index) = FIELDS.iter().position(|field| *field == written) else {
                let problem = format!(
                    "a decision has no field {written:?}; its fields are {}",
                    FIELDS.join(", ")
                );
                return Err(self.broken(name.span().start, problem));
            };
            let DeValue::String(text) = value.get_ref() else {
                let problem = format!("{written} takes a text in \"quotation marks\"");
                return Err(self.broken(value.span().start, problem));
            };
            missing.retain(|field| field != &written);
            *field(&mut decision, index) = text.to_string();
            end = end.max(value.span().end);
        }
        if let [first, ..] = missing.as_slice() {
            let problem = format!(
                "the decision on {} has no field {first:?}; put it in, or take the block out and settle the finding again",
                decision.id
            );
            return Err(self.broken(at, problem));
        }
        let before = self.content.get(..at).unwrap_or_default();
        let start = before.rfind('\n').map_or(0, |newline| newline + 1);
        Ok((decision, Span { start, end }))
    }
}
