//! Comments put into small documents, built here, and read back from them.

use proptest::prelude::*;

use super::*;
use crate::findings::{DraftPlace, Kind, Settled, Weight};
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
    Finding::new(Kind::UnmarkedCopy, Weight::Act, place, advice.to_owned())
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

#[track_caller]
fn assert_marked(body: &str, words: &[&str], expected: &str) {
    let (text, copy) = commented(&docx(body, None), Format::Docx, words);
    let document = part(&copy, "word/document.xml");
    let inside = document
        .split("<w:body>")
        .nth(1)
        .unwrap()
        .split("</w:body>")
        .next()
        .unwrap();
    assert_eq!(inside, expected);
    let found: Vec<String> = anchored(&document)
        .into_iter()
        .map(|(_, text)| text)
        .collect();
    assert_eq!(found, words);
    assert_marks_in_order(&document);
    assert_reads_the_same(&text, &copy, Format::Docx);
}

/// The marks of comment 0.
const START: &str = "<w:commentRangeStart w:id=\"0\"/>";
const END: &str = "<w:commentRangeEnd w:id=\"0\"/>";
const SIGN: &str = "<w:r><w:commentReference w:id=\"0\"/></w:r>";

#[test]
fn a_run_is_cut_in_two_that_look_the_same() {
    let run = |text: &str| {
        format!(
            "<w:r w:rsidR=\"00A1\"><w:rPr><w:i/></w:rPr><w:t xml:space=\"preserve\">{text}</w:t></w:r>"
        )
    };
    assert_marked(
        &format!("<w:p>{}</w:p>", run("The lamps glow at night.")),
        &["lamps glow"],
        &format!(
            "<w:p>{}{START}{}{END}{SIGN}{}</w:p>",
            run("The "),
            run("lamps glow"),
            run(" at night.")
        ),
    );
    // Blanks that did not count before do not count now.
    assert_marked(
        "<w:p><w:r><w:t> The lamps glow. </w:t></w:r></w:p>",
        &["lamps"],
        &format!(
            "<w:p><w:r><w:t xml:space=\"preserve\">The </w:t></w:r>{START}<w:r><w:t xml:space=\"preserve\">lamps</w:t></w:r>{END}{SIGN}<w:r><w:t xml:space=\"preserve\"> glow.</w:t></w:r></w:p>"
        ),
    );
}

#[test]
fn whole_runs_are_not_cut() {
    let runs = "<w:r><w:t>The</w:t></w:r><w:r><w:t xml:space=\"preserve\"> lamps</w:t><w:t> </w:t></w:r><w:r><w:t>glow</w:t></w:r>";
    assert_marked(
        &format!("<w:p>{runs}</w:p>").replace("<w:t> </w:t>", ""),
        &["The lamps"],
        &format!(
            "<w:p>{START}<w:r><w:t>The</w:t></w:r><w:r><w:t xml:space=\"preserve\"> lamps</w:t></w:r>{END}{SIGN}<w:r><w:t>glow</w:t></w:r></w:p>"
        ),
    );
}

#[test]
fn a_passage_may_begin_between_the_elements_of_a_run() {
    assert_marked(
        "<w:p><w:r><w:rPr><w:b/></w:rPr><w:t>one</w:t><w:tab/><w:t>two</w:t></w:r></w:p>",
        &["two"],
        &format!(
            "<w:p><w:r><w:rPr><w:b/></w:rPr><w:t>one</w:t><w:tab/></w:r>{START}<w:r><w:rPr><w:b/></w:rPr><w:t>two</w:t></w:r>{END}{SIGN}</w:p>"
        ),
    );
}

#[test]
fn in_links_and_tracked_insertions_the_sign_stands_behind_them() {
    for wrapper in ["ins", "hyperlink", "moveTo", "smartTag"] {
        let around = |inside: &str| format!("<w:p><w:{wrapper}>{inside}</w:{wrapper}>");
        let t = |text: &str| format!("<w:r><w:t xml:space=\"preserve\">{text}</w:t></w:r>");
        assert_marked(
            &format!("{}{}</w:p>", around(&t("lamps glow")), t("!")),
            &["lamps"],
            &format!(
                "{}{SIGN}{}</w:p>",
                around(&format!("{START}{}{END}{}", t("lamps"), t(" glow"))),
                t("!")
            ),
        );
    }
}

#[test]
fn passages_may_touch_overlap_and_span_paragraphs() {
    let p = |text: &str| format!("<w:p><w:r><w:t>{text}</w:t></w:r></w:p>");
    let body = [
        p("The lamps glow &amp; the moths"),
        "<w:tbl><w:tr><w:tc>".to_owned(),
        p("come"),
        "</w:tc></w:tr></w:tbl>".to_owned(),
        p("to them."),
    ]
    .concat();
    let bytes = docx(&body, None);
    let words = [
        "The lamps",
        "lamps glow & the moths",
        " glow",
        "moths\n\ncome\n\nto",
    ];
    let (text, copy) = commented(&bytes, Format::Docx, &words);
    let found: Vec<String> = anchored(&part(&copy, "word/document.xml"))
        .into_iter()
        .map(|(_, text)| text)
        .collect();
    assert_eq!(
        found,
        [
            "The lamps",
            "lamps glow & the moths",
            " glow",
            "mothscometo"
        ]
    );
    assert_reads_the_same(&text, &copy, Format::Docx);
}

#[test]
fn where_no_comment_may_stand_the_call_or_the_box_is_marked() {
    let call = "<w:r><w:footnoteReference w:id=\"2\"/></w:r>";
    assert_call(
        &format!("<w:p><w:r><w:t>Lamps glow.</w:t></w:r>{call}</w:p>"),
        "on the lamps",
        &format!("<w:p><w:r><w:t>Lamps glow.</w:t></w:r>{START}{call}{END}{SIGN}</w:p>"),
    );
    let text_box = "<w:r><mc:AlternateContent><mc:Choice><w:txbxContent><w:p><w:r><w:t>In the box.</w:t></w:r></w:p></w:txbxContent></mc:Choice><mc:Fallback/></mc:AlternateContent></w:r>";
    assert_call(
        &format!("<w:p><w:r><w:t>Lamps.</w:t></w:r>{text_box}</w:p>"),
        "the box",
        &format!("<w:p><w:r><w:t>Lamps.</w:t></w:r>{START}{text_box}{END}{SIGN}</w:p>"),
    );
}

#[track_caller]
fn assert_call(body: &str, words: &str, expected: &str) {
    let (text, copy) = commented(&docx(body, None), Format::Docx, &[words]);
    let document = part(&copy, "word/document.xml");
    assert!(document.contains(expected), "{document}");
    assert_reads_the_same(&text, &copy, Format::Docx);
}

#[test]
fn comments_of_others_stay_and_numbers_go_on() {
    let others = format!(
        "<w:comments {DECLARED}><w:comment w:id=\"6\" w:author=\"B\"><w:p/></w:comment></w:comments>"
    );
    let body = "<w:p><w:commentRangeStart w:id=\"6\"/><w:r><w:t>Lamps</w:t></w:r><w:commentRangeEnd w:id=\"6\"/><w:r><w:commentReference w:id=\"6\"/></w:r></w:p>";
    for others in [others.clone(), format!("<w:comments {DECLARED}/>")] {
        let bytes = docx(body, Some(&others));
        let (_, copy) = commented(&bytes, Format::Docx, &["amp"]);
        let comments = part(&copy, "word/comments.xml");
        assert!(
            comments.starts_with(
                others
                    .trim_end_matches("</w:comments>")
                    .trim_end_matches("/>")
            )
        );
        assert!(
            comments.contains("w:id=\"7\" w:author=\"ownwords\""),
            "{comments}"
        );
        let found = anchored(&part(&copy, "word/document.xml"));
        assert_eq!(
            found,
            [
                ("6".to_owned(), "Lamps".to_owned()),
                ("7".to_owned(), "amp".to_owned())
            ]
        );
        for name in ["[Content_Types].xml", "word/_rels/document.xml.rels"] {
            assert_eq!(part(&copy, name), part(&bytes, name));
        }
    }
}

/// The packed bytes of each member.
fn members(bytes: &[u8]) -> Vec<(String, Vec<u8>)> {
    let mut archive = zip::ZipArchive::new(std::io::Cursor::new(bytes)).unwrap();
    (0..archive.len())
        .map(|index| {
            let mut member = archive.by_index_raw(index).unwrap();
            let mut packed = Vec::new();
            std::io::Read::read_to_end(&mut member, &mut packed).unwrap();
            (member.name().unwrap().into_owned(), packed)
        })
        .collect()
}

#[test]
fn only_the_parts_that_must_differ_do() {
    let bytes = docx("<w:p><w:r><w:t>Lamps</w:t></w:r></w:p>", None);
    let (_, copy) = commented(&bytes, Format::Docx, &["Lamps"]);
    let (before, after) = (members(&bytes), members(&copy));
    let changed: Vec<&str> = after
        .iter()
        .filter(|member| !before.contains(member))
        .map(|(name, _)| name.as_str())
        .collect();
    assert_eq!(
        changed,
        [
            "[Content_Types].xml",
            "word/document.xml",
            "word/_rels/document.xml.rels",
            "word/comments.xml"
        ]
    );
    assert_eq!(before.len() + 1, after.len());
    let (_, again) = commented(&bytes, Format::Docx, &["Lamps"]);
    assert_eq!(copy, again, "the same draft gives the same bytes");

    let bytes = odt("<text:p>Lamps glow</text:p>");
    let (text, copy) = commented(&bytes, Format::Odt, &["amps", "Lamps", "glow"]);
    let (before, after) = (members(&bytes), members(&copy));
    let changed: Vec<&str> = after
        .iter()
        .filter(|member| !before.contains(member))
        .map(|(name, _)| name.as_str())
        .collect();
    assert_eq!(changed, ["content.xml"]);
    assert_eq!(after[0].0, "mimetype");
    assert_reads_the_same(&text, &copy, Format::Odt);
}

#[test]
fn settled_findings_are_left_out_and_nothing_found_is_the_draft_itself() {
    let bytes = docx("<w:p><w:r><w:t>Lamps glow</w:t></w:r></w:p>", None);
    let text = from_bytes(bytes.clone(), Format::Docx).unwrap().text;
    let mut settled = finding(&text, "Lamps", "Mend it.");
    settled.settled = Some(Settled {
        because: "a term".to_owned(),
        on: "2026-01-01".to_owned(),
        decision: "uc-1a2b3c4d.5e6f7a8b".to_owned(),
    });
    let copy = annotate(bytes.clone(), Format::Docx, &text, &[settled]).unwrap();
    assert_eq!(members(&copy), members(&bytes));
}

#[test]
fn hostile_text_stays_text() {
    let hostile = "</w:t></w:r><script>&amp;]]>\u{0}\u{202E}\"' <office:annotation-end/>";
    for (bytes, format, name) in [
        (
            docx("<w:p><w:r><w:t>Lamps</w:t></w:r></w:p>", None),
            Format::Docx,
            "word/comments.xml",
        ),
        (odt("<text:p>Lamps</text:p>"), Format::Odt, "content.xml"),
    ] {
        let text = from_bytes(bytes.clone(), format).unwrap().text;
        let copy = annotate(bytes, format, &text, &[finding(&text, "Lamps", hostile)]).unwrap();
        let content = part(&copy, name);
        let mut xml = Xml::new("comments", &content);
        let mut told = String::new();
        loop {
            match xml.next().expect("it is well formed") {
                Node::End => break,
                Node::Characters { content, .. } => told.push_str(&content),
                _ => {}
            }
        }
        // Marks that turn the direction of writing are spelled out.
        assert!(
            told.contains(
                "</w:t></w:r><script>&amp;]]>\\u{0}\\u{202e}\"' <office:annotation-end/>"
            ),
            "{told}"
        );
    }
}

#[test]
fn what_can_not_be_commented_is_told() {
    let bytes = docx("<w:p><w:r><w:t>Lamps</w:t></w:r></w:p>", None);
    let text = from_bytes(bytes.clone(), Format::Docx).unwrap().text;
    let other = Text::paragraph("Moths");
    let told = |bytes: Vec<u8>, format, text: &Text, finding: Finding| {
        annotate(bytes, format, text, &[finding]).unwrap_err()
    };
    let found = finding(&other, "Moths", "x");
    assert_eq!(
        told(bytes.clone(), Format::Docx, &text, found.clone()),
        MarginError::Changed
    );
    assert_eq!(
        told(bytes.clone(), Format::Plain, &other, found),
        MarginError::NoMargin
    );
    let without_prefix = "<document xmlns=\"http://schemas.openxmlformats.org/wordprocessingml/2006/main\"><body><p><r><t>Lamps</t></r></p></body></document>";
    let bytes = zipped(&[("word/document.xml", without_prefix.as_bytes())]);
    let text = from_bytes(bytes.clone(), Format::Docx).unwrap().text;
    let found = finding(&text, "Lamps", "x");
    assert!(matches!(
        told(bytes, Format::Docx, &text, found),
        MarginError::Unusual(_)
    ));
}

#[test]
fn odt_marks_stay_out_of_fields() {
    let mark =
        "<text:bibliography-mark text:identifier=\"k\">[Harrow2014]</text:bibliography-mark>";
    let body = format!("<text:p>So {mark} says.</text:p>");
    let (text, copy) = commented(&odt(&body), Format::Odt, &["Harrow2014"]);
    let content = part(&copy, "content.xml");
    assert!(
        content.contains(&format!("</office:annotation>{mark}<office:annotation-end")),
        "{content}"
    );
    assert_reads_the_same(&text, &copy, Format::Odt);
}

#[test]
fn odt_marks_stand_at_the_passage_and_stay_out_of_notes_and_boxes() {
    let note = "<text:note text:note-class=\"footnote\"><text:note-body><text:p>A note.</text:p></text:note-body></text:note>";
    let frame =
        "<draw:frame><draw:text-box><text:p>In the box.</text:p></draw:text-box></draw:frame>";
    let body = format!(
        "<text:p>The <text:span>lamps</text:span> glow &amp; fade{note}.{frame}</text:p><text:p>So it is.</text:p>"
    );
    let (text, copy) = commented(
        &odt(&body),
        Format::Odt,
        &["lamps glow & f", "note", "box", "."],
    );
    let content = part(&copy, "content.xml");
    let found: Vec<String> = anchored(&content)
        .into_iter()
        .map(|(_, text)| text)
        .collect();
    assert_eq!(found, ["lamps glow & f", "A note.", "In the box.", "."]);
    assert_reads_the_same(&text, &copy, Format::Odt);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever the runs and the passages, the copy reads as the draft does and marks just the passages.
    #[test]
    fn any_passages_of_any_runs(
        pieces in prop::collection::vec(("[a-c&é ]{0,4}", 0_usize..8), 1..12),
        places in prop::collection::vec((0_usize..40, 1_usize..12), 1..6),
    ) {
        let mut body = String::from("<w:p>");
        for (text, kind) in &pieces {
            let text = text.replace('&', "&amp;");
            let run = format!("<w:r><w:rPr><w:b/></w:rPr><w:t xml:space=\"preserve\">{text}</w:t></w:r>");
            body.push_str(&match kind {
                0 => format!("<w:ins w:id=\"1\">{run}</w:ins>"),
                1 => format!("<w:hyperlink>{run}{run}</w:hyperlink>"),
                2 => format!("<w:r><w:t>{text}</w:t><w:tab/><w:t> x </w:t></w:r>"),
                3 => format!("</w:p><w:p>{run}"),
                4 => format!("<w:del w:id=\"2\"><w:r><w:delText>gone</w:delText></w:r></w:del>{run}"),
                5 => format!("<w:sdt><w:sdtContent>{run}</w:sdtContent></w:sdt>"),
                _ => run,
            });
        }
        body.push_str("</w:p>");
        let bytes = docx(&body, None);
        let text = from_bytes(bytes.clone(), Format::Docx).unwrap().text;
        let characters: Vec<usize> = text.content().char_indices().map(|(at, _)| at).chain([text.content().len()]).collect();
        let findings: Vec<Finding> = places
            .iter()
            .filter_map(|(from, length)| {
                let start = *characters.get(*from)?;
                let end = *characters.get(from + length)?;
                let range = ByteRange::of(start, end);
                // A passage begins and ends with characters of the file.
                (!text.slice(range).trim().is_empty()).then(|| on(&text, range, "Mend it."))
            })
            .collect();
        let copy = annotate(bytes, Format::Docx, &text, &findings).unwrap();
        let again = from_bytes(copy.clone(), Format::Docx).unwrap().text;
        prop_assert_eq!(again.content(), text.content());
        if !findings.is_empty() {
            let bare = |text: &str| -> String { text.split_whitespace().collect() };
            let found: Vec<String> = anchored(&part(&copy, "word/document.xml")).iter().map(|(_, text)| bare(text)).collect();
            let mut wanted: Vec<String> = findings.iter().map(|finding| bare(&finding.draft.text)).collect();
            let mut found = found;
            found.sort();
            wanted.sort();
            prop_assert_eq!(found, wanted);
            assert_marks_in_order(&part(&copy, "word/document.xml"));
        }
    }
}

#[test]
fn the_sign_stands_outside_of_content_controls_around_paragraphs() {
    let p = |inside: &str| format!("<w:p><w:pPr><w:jc w:val=\"left\"/></w:pPr>{inside}</w:p>");
    let t = |text: &str| format!("<w:r><w:t xml:space=\"preserve\">{text}</w:t></w:r>");
    let control = |inside: &str| format!("<w:sdt><w:sdtContent>{inside}</w:sdtContent></w:sdt>");
    let marked = format!("{START}{}{END}", t("lamps"));
    assert_marked(
        &[control(&p(&t("lamps"))), p(&t("Behind."))].concat(),
        &["lamps"],
        &[control(&p(&marked)), p(&format!("{SIGN}{}", t("Behind.")))].concat(),
    );
    // Inside the last one it can only stand before; LibreOffice needs no more than that.
    let bytes = docx(&[p(&t("Before.")), control(&p(&t("lamps")))].concat(), None);
    let (text, copy) = commented(&bytes, Format::Docx, &["lamps"]);
    let document = part(&copy, "word/document.xml");
    assert!(
        document.contains(&p(&format!("{SIGN}{}", t("Before.")))),
        "{document}"
    );
    assert_reads_the_same(&text, &copy, Format::Docx);
}
