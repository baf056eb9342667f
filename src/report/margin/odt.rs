//! Comments in an OpenDocument text: an annotation where the passage begins and its end where it ends
//! (OpenDocument 1.3, part 3, sections 14.1 and 14.2). Both may stand anywhere among characters, so nothing
//! is cut.

use std::collections::{BTreeMap, BTreeSet};

use super::anchor::{Anchor, anchor, main_part};
use super::ranges::holding;
use super::sound::{self, Changed};
use super::splice::Splice;
use super::{AUTHOR, MarginError, words};
use crate::findings::Finding;
use crate::reading::Limits;
use crate::reading::package::xml::{Node, Space, Xml};
use crate::reading::package::{Package, Room};
use crate::report::escape::in_xml;
use crate::text::{ByteRange, Text};

/// The package with a comment for each finding.
pub(super) fn annotate(
    bytes: Vec<u8>,
    text: &Text,
    findings: &[&Finding],
    limits: &Limits,
) -> Result<Vec<u8>, MarginError> {
    let mut package = Package::open(bytes, "OpenDocument text (.odt)", Room::of(limits))?;
    let main = main_part(text)?.to_owned();
    let Some(content) = package.part(&main)? else {
        return Err(MarginError::OtherFile);
    };
    if findings.is_empty() {
        return Ok(package.with(BTreeMap::new())?);
    }
    let frames = Frames::of(&main, &content)?;
    // Ends come before starts at the same place.
    let (mut ends, mut starts) = (Vec::new(), Vec::new());
    let mut names = BTreeSet::new();
    let mut number = 0;
    for finding in findings {
        let Some(anchor) = anchor(text, finding)? else {
            continue;
        };
        let place = match anchor {
            Anchor::Call(tag) => frames.note_at(tag.start()).ok_or(MarginError::OtherFile)?,
            Anchor::Passage(range) => frames.outside(range),
        };
        let name = loop {
            number += 1;
            let name = format!("{AUTHOR}-{number}");
            if !content.contains(&name) {
                break name;
            }
        };
        starts.push((place.start(), annotation(&name, finding)));
        let end = format!("<office:annotation-end{OFFICE} office:name=\"{name}\"/>");
        names.insert(name);
        ends.push((place.end(), place.is_empty(), end));
    }
    let mut splice = Splice::default();
    for (at, empty, end) in &ends {
        if !empty {
            splice.put(*at, end);
        }
    }
    for ((at, start), (_, empty, end)) in starts.iter().zip(&ends) {
        splice.put(*at, start);
        if *empty {
            splice.put(*at, end);
        }
    }
    let after = splice.apply(&content);
    let changed = BTreeMap::from([(main, Changed::of(content, after))]);
    sound::copy(package, changed, &|name, element| {
        let of_comments = matches!(name.local, "annotation" | "annotation-end");
        let named = || {
            element
                .get("name")
                .is_some_and(|known| names.contains(&known))
        };
        name.space == Space::Office && of_comments && named()
    })
}

/// Declared on each element, since a document may use other prefixes.
const OFFICE: &str = " xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\"";

fn annotation(name: &str, finding: &Finding) -> String {
    let paragraphs: String = words::paragraphs(finding)
        .iter()
        .map(|text| format!("<text:p>{}</text:p>", in_xml(text)))
        .collect();
    format!(
        "<office:annotation{OFFICE} xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" office:name=\"{name}\"><dc:creator>{AUTHOR}</dc:creator>{paragraphs}</office:annotation>"
    )
}

/// What comments have to stay out of.
struct Frames {
    /// Notes, whole.
    notes: Vec<ByteRange>,
    /// The outermost drawings, whole.
    drawings: Vec<ByteRange>,
    /// Fields, whole: elements among the characters that hold nothing but characters of their own.
    fields: Vec<ByteRange>,
}

/// Elements of text that may hold comments among their characters.
const AROUND_CHARACTERS: [&str; 7] = ["p", "h", "span", "a", "ruby-base", "meta", "meta-field"];

impl Frames {
    fn of(part: &str, content: &str) -> Result<Self, MarginError> {
        let mut xml = Xml::new(part, content);
        // With each element, whether it holds characters itself.
        let mut open: Vec<(ByteRange, bool)> = Vec::new();
        let mut found = Self {
            notes: Vec::new(),
            drawings: Vec::new(),
            fields: Vec::new(),
        };
        let mut drawing = None;
        loop {
            match xml.next()? {
                Node::End => break,
                Node::Characters { content, .. } => {
                    if let Some((_, holds)) = open.last_mut() {
                        *holds |= !content.trim().is_empty();
                    }
                }
                Node::Open { name, place, .. } => {
                    open.push((place, false));
                    if name.space == Space::Draw {
                        drawing.get_or_insert(open.len());
                    }
                }
                Node::Close { name, place } => {
                    let depth = open.len();
                    let Some((start, holds)) = open.pop() else {
                        continue;
                    };
                    let whole = start.hull(place);
                    let around = AROUND_CHARACTERS.contains(&name.local);
                    if name.space == Space::Text && holds && !around {
                        found.fields.push(whole);
                    }
                    if name.space == Space::Text && name.local == "note" {
                        found.notes.push(whole);
                    }
                    if drawing == Some(depth) {
                        drawing = None;
                        found.drawings.push(whole);
                    }
                }
            }
        }
        found.notes.sort_unstable();
        found.drawings.sort_unstable();
        found.fields.sort_unstable();
        Ok(found)
    }

    /// The note whose tag begins at a place.
    fn note_at(&self, start: usize) -> Option<ByteRange> {
        let at = self.notes.binary_search_by_key(&start, |note| note.start());
        self.notes.get(at.ok()?).copied()
    }

    /// A range, widened over the fields that it begins or ends in, or the drawing that holds it.
    fn outside(&self, range: ByteRange) -> ByteRange {
        let last = range.end().saturating_sub(1).max(range.start());
        if let Some(drawing) = holding(&self.drawings, range.start()) {
            return drawing;
        }
        let first = holding(&self.fields, range.start());
        let end = holding(&self.fields, last);
        first.into_iter().chain(end).fold(range, ByteRange::hull)
    }
}
