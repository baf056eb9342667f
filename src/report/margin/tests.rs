//! Comments put into small documents, built here, and read back from them.

mod copy;
mod fields;
mod marks;
mod odt;
mod promises;
mod soundness;

use super::*;
use crate::findings::{DraftPlace, Kind, Observation, Settled, Weight};
use crate::reading::from_bytes;
use crate::reading::package::tests::zipped;
use crate::reading::package::xml::{Node, Space, Xml};
use crate::reading::package::{Package, Room};
use crate::text::ByteRange;

const DECLARED: &str = r#"xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main" xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" xmlns:v="urn:schemas-microsoft-com:vml""#;

const TYPES: &str = r#"<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>"#;

const RELATED: &str = r#"<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/footnotes" Target="footnotes.xml"/>COMMENTS</Relationships>"#;

/// Comments within the usual limits.
fn annotate(
    bytes: Vec<u8>,
    format: Format,
    text: &Text,
    findings: &[Finding],
) -> Result<Vec<u8>, MarginError> {
    super::annotate(bytes, format, text, findings, &Limits::default())
}

/// A Word document with a body, and comments of somebody else where there are any.
fn docx(body: &str, comments: Option<&str>) -> Vec<u8> {
    let relation = comments.map_or("", |_| {
        r#"<Relationship Id="r2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/comments" Target="/word/comments.xml"/>"#
    });
    let related = RELATED.replace("COMMENTS", relation);
    let document = format!(
        "<?xml version=\"1.0\"?><w:document {DECLARED}><w:body>{body}</w:body></w:document>"
    );
    let notes = format!(
        "<w:footnotes {DECLARED}><w:footnote w:id=\"2\"><w:p><w:r><w:t>A note on the lamps.</w:t></w:r></w:p></w:footnote></w:footnotes>"
    );
    let mut members: Vec<(&str, &[u8])> = vec![
        ("[Content_Types].xml", TYPES.as_bytes()),
        ("word/document.xml", document.as_bytes()),
        ("word/_rels/document.xml.rels", related.as_bytes()),
        ("word/footnotes.xml", notes.as_bytes()),
        ("word/media/picture.png", b"\x89PNG"),
    ];
    let comments = comments.map(str::to_owned);
    if let Some(comments) = &comments {
        members.push(("word/comments.xml", comments.as_bytes()));
    }
    zipped(&members)
}

fn odt(body: &str) -> Vec<u8> {
    let urn = |name: &str, word: &str| {
        format!("xmlns:{name}=\"urn:oasis:names:tc:opendocument:xmlns:{word}:1.0\"")
    };
    let declared = [
        urn("office", "office"),
        urn("text", "text"),
        urn("draw", "drawing"),
    ]
    .join(" ");
    let content = format!(
        "<office:document-content {declared}><office:body><office:text>{body}</office:text></office:body></office:document-content>"
    );
    zipped(&[
        ("mimetype", b"application/vnd.oasis.opendocument.text"),
        ("content.xml", content.as_bytes()),
        ("Pictures/picture.png", b"\x89PNG"),
    ])
}

/// A run of characters.
fn t(text: &str) -> String {
    format!("<w:r><w:t xml:space=\"preserve\">{text}</w:t></w:r>")
}

/// The marks of comment 0.
const START: &str = "<w:commentRangeStart w:id=\"0\"/>";
const END: &str = "<w:commentRangeEnd w:id=\"0\"/>";
const SIGN: &str = "<w:r><w:commentReference w:id=\"0\"/></w:r>";

/// A finding on the first place of some words.
fn finding(text: &Text, words: &str, advice: &str) -> Finding {
    let start = text
        .content()
        .find(words)
        .expect("the words stand in the draft");
    on(text, ByteRange::of(start, start + words.len()), advice)
}

fn on(text: &Text, range: ByteRange, advice: &str) -> Finding {
    let place = DraftPlace {
        range,
        line: text.line(range.start()),
        page: None,
        text: text.slice(range).to_owned(),
    };
    Observation::new(Kind::UnmarkedCopy, Weight::Act, place, advice.to_owned()).into_finding(
        String::new(),
        String::new(),
        None,
    )
}

fn part(bytes: &[u8], name: &str) -> String {
    let mut package = Package::open(bytes.to_vec(), "test", Room::of(&Limits::default())).unwrap();
    package.part(name).unwrap().expect("the part is there")
}

/// The characters between the marks of each comment, in order of its number.
fn anchored(document: &str) -> Vec<(String, String)> {
    let mut xml = Xml::new("document.xml", document);
    let mut open: Vec<(String, String)> = Vec::new();
    let mut done = Vec::new();
    loop {
        match xml.next().expect("the copy is well formed") {
            Node::End => {
                assert!(open.is_empty(), "a comment does not end: {document}");
                done.sort();
                return done;
            }
            Node::Open { name, element, .. } => match (name.space, name.local) {
                (Space::Word, "commentRangeStart") => {
                    open.push((element.get("id").unwrap(), String::new()))
                }
                (Space::Office, "annotation") => {
                    open.push((element.get("name").unwrap(), String::new()));
                    xml.skip().unwrap();
                }
                (Space::Word, "commentRangeEnd") | (Space::Office, "annotation-end") => {
                    let id = element.get("id").or_else(|| element.get("name")).unwrap();
                    let at = open
                        .iter()
                        .position(|(known, _)| *known == id)
                        .expect("its start comes before");
                    done.push(open.remove(at));
                }
                (Space::Word, "del" | "instrText") => xml.skip().unwrap(),
                _ => {}
            },
            Node::Characters { content, .. } => {
                for (_, text) in &mut open {
                    text.push_str(&content);
                }
            }
            Node::Close { .. } => {}
        }
    }
}

/// Holds a document to what the schema says of marks: where they may stand (ISO/IEC 29500-1, annex A,
/// groups `EG_PContent` and `EG_RunLevelElements`), properties first in their run, and a start, an end and a
/// sign for each number.
fn assert_marks_in_order(document: &str) {
    let around_runs = [
        "p",
        "ins",
        "moveTo",
        "hyperlink",
        "smartTag",
        "sdtContent",
        "fldSimple",
    ];
    let mut xml = Xml::new("document.xml", document);
    let mut open: Vec<(String, usize)> = Vec::new();
    let mut seen: std::collections::BTreeMap<String, Vec<String>> =
        std::collections::BTreeMap::new();
    loop {
        match xml.next().expect("the copy is well formed") {
            Node::End => break,
            Node::Characters { .. } => {}
            Node::Close { .. } => {
                open.pop();
            }
            Node::Open { name, element, .. } => {
                let parent = open.last_mut().map(|(parent, children)| {
                    *children += 1;
                    (parent.clone(), *children)
                });
                let (parent, place) = parent.unwrap_or_default();
                match name.local {
                    "commentRangeStart" | "commentRangeEnd" => {
                        assert!(around_runs.contains(&parent.as_str()), "a mark in {parent}");
                    }
                    "commentReference" => assert_eq!(parent, "r"),
                    "r" => assert!(
                        around_runs.contains(&parent.as_str()) || parent == "del",
                        "a run in {parent}"
                    ),
                    "rPr" | "pPr" => assert_eq!(place, 1, "properties come first in {parent}"),
                    "t" => assert_eq!(parent, "r"),
                    _ => {}
                }
                if name.local.starts_with("comment") {
                    let id = element.get("id").unwrap();
                    seen.entry(id).or_default().push(name.local.to_owned());
                }
                open.push((name.local.to_owned(), 0));
            }
        }
    }
    for (id, marks) in seen {
        let expected = ["commentRangeStart", "commentRangeEnd", "commentReference"];
        assert_eq!(marks, expected, "comment {id}");
    }
}

/// The copy with comments on some words, and what was read before.
fn commented(bytes: &[u8], format: Format, words: &[&str]) -> (Text, Vec<u8>) {
    let text = from_bytes(bytes.to_vec(), format).unwrap().text;
    let findings: Vec<Finding> = words
        .iter()
        .map(|words| finding(&text, words, "Mend it."))
        .collect();
    let copy = annotate(bytes.to_vec(), format, &text, &findings).unwrap();
    (text, copy)
}

/// Whether a copy reads as the draft did, block by block, note by note.
#[track_caller]
fn assert_reads_the_same(text: &Text, copy: &[u8], format: Format) {
    let again = from_bytes(copy.to_vec(), format).unwrap().text;
    assert_eq!(again.content(), text.content());
    assert_eq!(again.blocks(), text.blocks());
    assert_eq!(again.note_calls(), text.note_calls());
}
