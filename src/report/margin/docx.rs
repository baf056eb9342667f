//! Comments in a Word document: marks around the passage in the document's part, the comments in a part
//! of their own (ISO/IEC 29500-1, section 17.13.4).

use std::collections::BTreeMap;

use super::anchor::{Anchor, anchor, main_part};
use super::relations::Relations;
use super::runs::{Cut, Run, Runs};
use super::splice::Splice;
use super::{AUTHOR, MarginError, words};
use crate::findings::Finding;
use crate::reading::Limits;
use crate::reading::package::xml::{Node, Xml};
use crate::reading::package::{Package, Room};
use crate::report::escape::in_xml;
use crate::text::{ByteRange, Text};

const TYPES: &str = "[Content_Types].xml";

/// The type of a part with comments.
const COMMENTS_TYPE: &str =
    "application/vnd.openxmlformats-officedocument.wordprocessingml.comments+xml";

/// The package with a comment for each finding.
pub(super) fn annotate(
    bytes: Vec<u8>,
    text: &Text,
    findings: &[&Finding],
    limits: &Limits,
) -> Result<Vec<u8>, MarginError> {
    let mut package = Package::open(bytes, "Word (.docx)", Room::of(limits))?;
    if findings.is_empty() {
        return Ok(package.with(BTreeMap::new())?);
    }
    let main = main_part(text)?.to_owned();
    let Some(document) = package.part(&main)? else {
        return Err(MarginError::Changed);
    };
    let runs = Runs::of(&main, &document)?;
    let Some((prefix, address)) = runs.namespace.clone() else {
        return Err(unusual("its namespace has no prefix"));
    };
    if document.starts_with("<?xml")
        && document
            .get(..100)
            .is_some_and(|head| head.contains("UTF-16"))
    {
        return Err(unusual("it is in UTF-16"));
    }
    let mut relations = Relations::of(&mut package, &main)?;
    let known = match &relations.comments {
        Some(name) => package.part(name)?.map(|content| (name.clone(), content)),
        None => None,
    };
    let mut next = next_number(known.as_ref(), &runs)?;
    let mut marks = Marks::new(&document, &runs, &prefix);
    let mut comments = Vec::new();
    for finding in findings {
        let Some(Anchor::Passage(range) | Anchor::Call(range)) = anchor(text, finding)? else {
            continue;
        };
        marks.around(range, next)?;
        comments.push((next, words::paragraphs(finding)));
        next = next.saturating_add(1);
    }
    let mut parts = BTreeMap::from([(main.clone(), marks.apply())]);
    match known {
        Some((name, content)) => {
            parts.insert(name.clone(), added(&name, &content, &comments)?);
        }
        None => {
            let name = beside(&main, "comments.xml", &package);
            parts.insert(name.clone(), part(&prefix, &address, &comments));
            let Some(types) = package.part(TYPES)? else {
                return Err(unusual("it has no list of content types"));
            };
            parts.insert(TYPES.to_owned(), with_type(&types, &name)?);
            let (relations_name, content) = relations.with_comments(&main, &name)?;
            parts.insert(relations_name, content);
        }
    }
    Ok(package.with(parts)?)
}

fn unusual(why: &str) -> MarginError {
    MarginError::Unusual(why.to_owned())
}

/// Marks at the places of one part.
struct Marks<'a> {
    document: &'a str,
    runs: &'a Runs,
    prefix: &'a str,
    /// By place: what closes what is cut there, the marks, and what opens it again.
    places: BTreeMap<usize, Place>,
    splice: Splice,
}

/// The marks at one place.
#[derive(Default)]
struct Place {
    close: String,
    ends: String,
    references: String,
    starts: String,
    reopen: String,
}

impl<'a> Marks<'a> {
    fn new(document: &'a str, runs: &'a Runs, prefix: &'a str) -> Self {
        Self {
            document,
            runs,
            prefix,
            places: BTreeMap::new(),
            splice: Splice::default(),
        }
    }

    /// Marks a stretch as that of a comment.
    fn around(&mut self, range: ByteRange, number: u32) -> Result<(), MarginError> {
        let runs = self.runs;
        let last = range.end().saturating_sub(1).max(range.start());
        let (Some(first), Some(end)) = (runs.at(range.start()), runs.at(last)) else {
            return Err(unusual("some of its text stands in no run"));
        };
        let p = self.prefix;
        let start = first.before(range.start());
        let behind = if range.is_empty() {
            start
        } else {
            end.behind(last)
        };
        let mark = format!("<{p}:commentRangeStart {p}:id=\"{number}\"/>");
        self.place(start, first).starts.push_str(&mark);
        let mark = format!("<{p}:commentRangeEnd {p}:id=\"{number}\"/>");
        let reference = format!("<{p}:r><{p}:commentReference {p}:id=\"{number}\"/></{p}:r>");
        let lifted = runs.outside_control(end).or_else(|| runs.wrapper_end(end));
        let place = self.place(behind, end);
        if range.is_empty() {
            // The end of nothing comes behind its start.
            place.starts.push_str(&mark);
        } else {
            place.ends.push_str(&mark);
        }
        match lifted {
            // In a link or a tracked insertion the sign of the comment would become part of it; for one
            // inside a content control around paragraphs LibreOffice 7.4 drops the text before it.
            Some(at) => self
                .places
                .entry(at)
                .or_default()
                .references
                .push_str(&reference),
            None if range.is_empty() => place.starts.push_str(&reference),
            None => place.references.push_str(&reference),
        }
        Ok(())
    }

    /// The marks at a place, made ready to be cut there.
    fn place(&mut self, cut: Cut, run: &Run) -> &mut Place {
        let slice = |range: ByteRange| self.document.get(range.as_range()).unwrap_or_default();
        let properties = run.properties.map(slice).unwrap_or_default();
        let (p, tag) = (self.prefix, slice(run.tag));
        let (at, close, reopen) = match cut {
            Cut::Edge(at) => (at, String::new(), String::new()),
            Cut::Between(at) => (at, format!("</{p}:r>"), format!("{tag}{properties}")),
            Cut::Inside(at, child) => {
                if let Some((tag, content, keeps)) =
                    run.children.get(child).and_then(|child| child.text)
                {
                    self.keep_blanks(tag, content, keeps);
                }
                let reopen = format!("{tag}{properties}<{p}:t xml:space=\"preserve\">");
                (at, format!("</{p}:t></{p}:r>"), reopen)
            }
        };
        let place = self.places.entry(at).or_default();
        if !close.is_empty() {
            place.close = close;
            place.reopen = reopen;
        }
        place
    }

    /// Makes the blanks at the ends of characters count, which they do once these are cut in two; those
    /// that did not count before are left out.
    fn keep_blanks(&mut self, tag: ByteRange, content: ByteRange, keeps: bool) {
        if keeps {
            return;
        }
        let tag_text = self.document.get(tag.as_range()).unwrap_or_default();
        let name = tag_text.find(|c: char| c.is_ascii_whitespace() || c == '>');
        let plain = name
            .and_then(|name| tag_text.get(..name))
            .unwrap_or(tag_text);
        let behind_name = tag.start() + plain.len();
        self.splice.leave_out(ByteRange::of(behind_name, tag.end()));
        if !self.splice.has(behind_name) {
            self.splice.put(behind_name, " xml:space=\"preserve\">");
        }
        let text = self.document.get(content.as_range()).unwrap_or_default();
        let blank = |c: char| matches!(c, ' ' | '\t' | '\n' | '\r');
        let lead = text.len() - text.trim_start_matches(blank).len();
        let solid = text.trim_end_matches(blank).len().max(lead);
        self.splice
            .leave_out(ByteRange::of(content.start(), content.start() + lead));
        self.splice
            .leave_out(ByteRange::of(content.start() + solid, content.end()));
    }

    fn apply(mut self) -> String {
        for (at, place) in &self.places {
            for text in [
                &place.close,
                &place.ends,
                &place.references,
                &place.starts,
                &place.reopen,
            ] {
                self.splice.put(*at, text);
            }
        }
        self.splice.apply(self.document)
    }
}

/// The number of the first new comment.
fn next_number(known: Option<&(String, String)>, runs: &Runs) -> Result<u32, MarginError> {
    let mut largest = runs.comments.iter().copied().max();
    if let Some((name, content)) = known {
        let mut xml = Xml::new(name, content);
        loop {
            match xml.next()? {
                Node::End => break,
                Node::Open { name, element, .. } if name.word() == "comment" => {
                    largest = largest.max(element.get("id").and_then(|id| id.parse().ok()));
                }
                _ => {}
            }
        }
    }
    Ok(largest.map_or(0, |largest| largest.saturating_add(1)))
}

/// The comments as elements.
fn elements(prefix: &str, comments: &[(u32, Vec<String>)]) -> String {
    let p = prefix;
    let mut out = String::new();
    for (number, paragraphs) in comments {
        out.push_str(&format!(
            "<{p}:comment {p}:id=\"{number}\" {p}:author=\"{AUTHOR}\" {p}:initials=\"ow\">"
        ));
        for (index, paragraph) in paragraphs.iter().enumerate() {
            let sign = match index {
                0 => format!("<{p}:r><{p}:annotationRef/></{p}:r>"),
                _ => String::new(),
            };
            let text = in_xml(paragraph);
            out.push_str(&format!(
                "<{p}:p>{sign}<{p}:r><{p}:t xml:space=\"preserve\">{text}</{p}:t></{p}:r></{p}:p>"
            ));
        }
        out.push_str(&format!("</{p}:comment>"));
    }
    out
}

/// A new part of comments.
fn part(prefix: &str, address: &str, comments: &[(u32, Vec<String>)]) -> String {
    let inside = elements(prefix, comments);
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n<{prefix}:comments xmlns:{prefix}=\"{address}\">{inside}</{prefix}:comments>"
    )
}

/// The part of comments with more behind those that are there.
fn added(
    name: &str,
    content: &str,
    comments: &[(u32, Vec<String>)],
) -> Result<String, MarginError> {
    let namespace = Runs::of(name, content)?.namespace;
    let (prefix, _) =
        namespace.ok_or_else(|| unusual("the namespace of its comments has no prefix"))?;
    let inside = elements(&prefix, comments);
    into_root(name, content, &inside)
}

/// The content with elements put in at the end of its root.
pub(super) fn into_root(name: &str, content: &str, inside: &str) -> Result<String, MarginError> {
    let mut xml = Xml::new(name, content);
    let mut root = None;
    loop {
        match xml.next()? {
            Node::Open { place, .. } if root.is_none() => root = Some(place),
            Node::Close { place, .. } if xml.depth() == 0 => {
                let mut splice = Splice::default();
                let tag = root.and_then(|root| content.get(root.as_range()).map(|tag| (root, tag)));
                match tag {
                    // An empty root ends itself.
                    Some((root, tag)) if tag.ends_with("/>") => {
                        let name_end = tag.find(|c: char| c.is_ascii_whitespace() || c == '/');
                        let name = name_end.and_then(|end| tag.get(1..end)).unwrap_or_default();
                        splice.leave_out(ByteRange::of(root.end() - 2, root.end()));
                        splice.put(root.end() - 2, &format!(">{inside}</{name}>"));
                    }
                    _ => splice.put(place.start(), inside),
                }
                return Ok(splice.apply(content));
            }
            Node::End => return Err(unusual(&format!("{name} is empty"))),
            _ => {}
        }
    }
}

/// The list of content types with that of the new part.
fn with_type(types: &str, part: &str) -> Result<String, MarginError> {
    let part = in_xml(part);
    let inside = format!("<Override PartName=\"/{part}\" ContentType=\"{COMMENTS_TYPE}\"/>");
    into_root(TYPES, types, &inside)
}

/// A free name in the folder of another part.
fn beside(main: &str, name: &str, package: &Package) -> String {
    let names = package.names();
    let folder = main
        .rsplit_once('/')
        .map_or(String::new(), |(folder, _)| format!("{folder}/"));
    let (stem, ending) = name.rsplit_once('.').unwrap_or((name, "xml"));
    let numbered = (1..).map(|number| match number {
        1 => format!("{folder}{name}"),
        number => format!("{folder}{stem}{number}.{ending}"),
    });
    // A package has an end, so some name is free.
    let mut free =
        numbered.filter(|name| !names.iter().any(|known| known.eq_ignore_ascii_case(name)));
    free.next().unwrap_or_default()
}
