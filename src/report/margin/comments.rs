//! The comments of a Word document: the part that holds them, and what leads to it.
//!
//! Where there is such a part, comments are put in behind those of others. Where there is none, a new one is made, the
//! document is related to it, and the list of content types says what it is.

use std::collections::BTreeMap;

use super::relations::Relations;
use super::runs::Runs;
use super::sound::Changed;
use super::splice::Splice;
use super::{AUTHOR, MarginError, unusual};
use crate::reading::package::Package;
use crate::reading::package::xml::{Element, Name, Node, Space, Xml};
use crate::report::escape::in_xml;
use crate::text::ByteRange;

const TYPES: &str = "[Content_Types].xml";

/// The type of a part with comments.
const COMMENTS_TYPE: &str =
    "application/vnd.openxmlformats-officedocument.wordprocessingml.comments+xml";

/// A comment's number and paragraphs.
type Comment = (u32, Vec<String>);

/// The comments of a document: those that are there, and new ones.
pub(super) struct Comments {
    relations: Relations,
    /// The part with the comments of others, by its name.
    known: Option<(String, String)>,
    /// The number of the first new one.
    first: u32,
    new: Vec<Comment>,
}

impl Comments {
    /// Those that are there.
    pub(super) fn of(package: &mut Package, main: &str, runs: &Runs) -> Result<Self, MarginError> {
        let relations = Relations::of(package, main)?;
        let known = match &relations.comments {
            Some(name) => package.part(name)?.map(|content| (name.clone(), content)),
            None => None,
        };
        let mut largest = runs.comments.iter().copied().max();
        if let Some((name, content)) = &known {
            largest = largest.max(largest_number(name, content)?);
        }
        Ok(Self {
            relations,
            known,
            first: largest.map_or(0, |largest| largest.saturating_add(1)),
            new: Vec::new(),
        })
    }

    /// One more, and its number.
    pub(super) fn add(&mut self, paragraphs: Vec<String>) -> u32 {
        let count = u32::try_from(self.new.len()).unwrap_or(u32::MAX);
        let number = self.first.saturating_add(count);
        self.new.push((number, paragraphs));
        number
    }

    /// The parts that differ with the new ones, and what was added to them.
    pub(super) fn written(
        self,
        package: &mut Package,
        main: &str,
        runs: &Runs,
    ) -> Result<(BTreeMap<String, Changed>, Added), MarginError> {
        let first = self.first;
        if let Some((name, before)) = self.known {
            let after = with_comments(&name, &before, &self.new)?;
            let changed = BTreeMap::from([(name, Changed::of(before, after))]);
            return Ok((changed, Added { first, part: None }));
        }
        let Some((prefix, address)) = &runs.namespace else {
            return Err(unusual("its namespace has no prefix"));
        };
        let Some(types) = package.part(TYPES)? else {
            return Err(unusual("it has no list of content types"));
        };
        let name = beside(main, "comments.xml", package);
        let listed = with_type(&types, &name)?;
        let (id, related) = self.relations.with_comments(main, &name)?;
        let relations = Changed {
            before: self.relations.content,
            after: related,
        };
        let comments = Changed {
            before: None,
            after: part(prefix, address, &self.new),
        };
        let changed = BTreeMap::from([
            (name.clone(), comments),
            (TYPES.to_owned(), Changed::of(types, listed)),
            (self.relations.name, relations),
        ]);
        let part = Some((name, id));
        Ok((changed, Added { first, part }))
    }
}

/// What is added to a document.
pub(super) struct Added {
    /// The number of the first new comment.
    first: u32,
    /// The new part with them, where there was none, and the id of the relationship that leads to it.
    part: Option<(String, String)>,
}

impl Added {
    /// Whether an element of the copy is one of these.
    pub(super) fn has(&self, name: Name<'_>, element: &Element<'_>) -> bool {
        let part = self.part.as_ref();
        match (name.space, name.local) {
            (
                Space::Word,
                "comment" | "commentRangeStart" | "commentRangeEnd" | "commentReference",
            ) => {
                let number = element.get("id").and_then(|id| id.parse::<u32>().ok());
                number.is_some_and(|number| number >= self.first)
            }
            (_, "Override") => part.is_some_and(|(part, _)| {
                element.get("PartName").as_deref() == Some(&format!("/{part}"))
            }),
            (_, "Relationship") => {
                part.is_some_and(|(_, id)| element.get("Id").as_ref() == Some(id))
            }
            _ => false,
        }
    }
}

/// The largest number of the comments in a part.
fn largest_number(name: &str, content: &str) -> Result<Option<u32>, MarginError> {
    let mut largest = None;
    let mut xml = Xml::new(name, content);
    loop {
        match xml.next()? {
            Node::End => return Ok(largest),
            Node::Open { name, element, .. } if name.word() == "comment" => {
                largest = largest.max(element.get("id").and_then(|id| id.parse().ok()));
            }
            _ => {}
        }
    }
}

/// The comments as elements.
fn elements(prefix: &str, comments: &[Comment]) -> String {
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
fn part(prefix: &str, address: &str, comments: &[Comment]) -> String {
    let inside = elements(prefix, comments);
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n<{prefix}:comments xmlns:{prefix}=\"{address}\">{inside}</{prefix}:comments>"
    )
}

/// The part of comments with more behind those that are there.
fn with_comments(name: &str, content: &str, comments: &[Comment]) -> Result<String, MarginError> {
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
