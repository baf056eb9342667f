//! Copies with comments: what is written is sound for another reader of XML, and differs in what was added alone.

use std::collections::BTreeMap;
use std::io::{Cursor, Read};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use ownwords::Session;
use ownwords::reading::{Format, Limits, Memory};
use ownwords::report::margin::annotate;
use ownwords::review::{Options, Review};
use roxmltree::{Document, Node};
use zip::ZipArchive;

use crate::packages::{open_document, word};

/// What the demand of the input for a format is: its first byte.
pub fn margin(data: &[u8]) {
    let Some((first, data)) = data.split_first() else {
        return;
    };
    let (format, name, made) = if *first == b'o' {
        (Format::Odt, "drafts/draft.odt", open_document(data))
    } else {
        (Format::Docx, "drafts/draft.docx", word(data))
    };
    let mut files = Memory::new();
    files.insert(
        "sources/harrow2019.txt",
        "[p. 7]\n\nThe keepers counted every moth that came to the quarry lamp before dawn.",
    );
    files.insert(
        "references.bib",
        "@book{harrow2019, author = {Harrow, Ann}, title = {Keepers}, date = {2019}}",
    );
    files.insert(name, made.bytes.clone());
    let review = Review::open_from(Arc::new(files), Path::new(""), &Options::default())
        .expect("a review with a source");
    let session = Session::new(review);
    let Ok(report) = session.check_for_copies(&[PathBuf::from(name)]) else {
        return;
    };
    for draft in &report.drafts {
        let text = &draft.text.text;
        if let Ok(copy) = annotate(
            made.bytes.clone(),
            format,
            text,
            &draft.findings,
            &Limits::USUAL,
        ) {
            same_but_for_comments(&made.bytes, &copy);
        }
    }
}

fn members(bytes: &[u8]) -> BTreeMap<String, Vec<u8>> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).expect("a package");
    let mut members = BTreeMap::new();
    for number in 0..archive.len() {
        let mut member = archive.by_index(number).expect("a member");
        let mut bytes = Vec::new();
        // What can't be unpacked was not changed either.
        if member.read_to_end(&mut bytes).is_ok() {
            let name = member.name().expect("a name").into_owned();
            members.insert(name, bytes);
        }
    }
    members
}

fn same_but_for_comments(before: &[u8], after: &[u8]) {
    let (before, after) = (members(before), members(after));
    for (name, bytes) in &before {
        let now = after
            .get(name)
            .unwrap_or_else(|| panic!("{name} is not in the copy"));
        if now == bytes {
            continue;
        }
        let now = std::str::from_utf8(now).expect("what is written is UTF-8");
        // What another reader refuses as it was is not held against the copy.
        let Ok(was) = std::str::from_utf8(bytes) else {
            continue;
        };
        let Ok(was) = Document::parse(was) else {
            continue;
        };
        let now =
            Document::parse(now).unwrap_or_else(|why| panic!("{name} is no longer sound: {why}"));
        assert_eq!(characters(&was), characters(&now), "characters of {name}");
        assert_eq!(elements(&was), elements(&now), "elements of {name}");
    }
    for (name, bytes) in &after {
        if !before.contains_key(name) {
            let part = std::str::from_utf8(bytes).expect("what is written is UTF-8");
            Document::parse(part).unwrap_or_else(|why| panic!("{name} is not sound: {why}"));
        }
    }
}

/// Names of elements that are put in, or split and so come more often.
const OURS: [&str; 12] = [
    "commentRangeStart",
    "commentRangeEnd",
    "commentReference",
    "comment",
    "annotation",
    "annotation-end",
    "r",
    "t",
    "delText",
    "rPr",
    "Relationship",
    "Override",
];

/// Whether an element is a comment that was put in, by its author.
fn is_put_in(node: &Node<'_, '_>) -> bool {
    match node.tag_name().name() {
        "comment" => {
            let mut attributes = node.attributes();
            attributes.any(|one| one.name() == "author" && one.value() == "ownwords")
        }
        "annotation" => {
            let mut creators = node
                .children()
                .filter(|child| child.tag_name().name() == "creator");
            creators.any(|creator| creator.text() == Some("ownwords"))
        }
        _ => false,
    }
}

/// All characters outside comments that were put in.
fn characters(document: &Document<'_>) -> String {
    let texts = document.descendants().filter(Node::is_text);
    let kept = texts.filter(|node| !node.ancestors().any(|above| is_put_in(&above)));
    kept.filter_map(|node| {
        let text = node.text()?;
        Some(if keeps_edges(&node) {
            text
        } else {
            text.trim()
        })
    })
    .collect()
}

/// Whether blank space at the edges of a text counts: in Word's text only where that is said.
fn keeps_edges(node: &Node<'_, '_>) -> bool {
    let in_word = node
        .parent()
        .is_some_and(|parent| parent.tag_name().name() == "t");
    let space = ("http://www.w3.org/XML/1998/namespace", "space");
    let said = node.ancestors().find_map(|above| above.attribute(space));
    !in_word || said == Some("preserve")
}

/// How often each element comes, but for those that are put in or split.
fn elements(document: &Document<'_>) -> BTreeMap<String, usize> {
    let mut count = BTreeMap::new();
    for node in document.descendants().filter(Node::is_element) {
        let inside = node
            .ancestors()
            .any(|above| is_put_in(&above) || above.tag_name().name() == "rPr");
        let name = node.tag_name().name();
        if !inside && !OURS.contains(&name) && name != "Default" {
            *count.entry(name.to_owned()).or_insert(0) += 1;
        }
    }
    count
}
