use std::io::Write as _;

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

use super::*;

/// A package of the given members.
pub(crate) fn zipped(members: &[(&str, &[u8])]) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default().compression_method(CompressionMethod::Deflated);
    for (name, content) in members {
        writer.start_file(*name, options).unwrap();
        writer.write_all(content).unwrap();
    }
    writer.finish().unwrap().into_inner()
}

/// Elements in any order but rightly nested: `moves` open the element of that number, a number beyond the
/// last closes the one opened last.
pub(crate) fn nested(elements: &[&str], moves: &[usize]) -> String {
    let mut body = String::new();
    let mut open: Vec<&str> = Vec::new();
    for at in moves {
        match elements.get(*at) {
            Some(tag) if tag.ends_with("/>") || !tag.starts_with('<') || tag.contains("</") => {
                body.push_str(tag);
            }
            Some(tag) => {
                body.push_str(tag);
                open.push(tag);
            }
            None => close(&mut body, &mut open),
        }
    }
    while !open.is_empty() {
        close(&mut body, &mut open);
    }
    body
}

fn close(body: &mut String, open: &mut Vec<&str>) {
    if let Some(tag) = open.pop() {
        let name = tag
            .trim_matches(['<', '>'])
            .split(' ')
            .next()
            .unwrap_or_default();
        body.push_str(&format!("</{name}>"));
    }
}

fn open(bytes: Vec<u8>, limits: Room) -> Result<Package, Unreadable> {
    Package::open(bytes, "Word (.docx)", limits)
}

#[track_caller]
fn assert_refused(read: Result<impl Sized, Unreadable>, expected: &str) {
    let Err(error) = read else {
        panic!("should be refused: {expected}");
    };
    let message = error.to_string();
    assert!(
        message.contains(expected),
        "{message:?} should say {expected:?}"
    );
}

#[test]
fn parts_are_read_and_the_rest_leads_nowhere() {
    let inner = zipped(&[("word/document.xml", b"<inner/>")]);
    let bytes = zipped(&[
        ("word/document.xml", "\u{FEFF}<ä/>".as_bytes()),
        ("/etc/passwd", b"absolute"),
        ("../up.xml", b"up"),
        ("word/../../up.xml", b"up"),
        ("C:\\up.xml", b"drive"),
        ("inner.docx", &inner),
        ("latin.xml", b"<caf\xE9/>"),
        ("wide.xml", b"\xFF\xFE<\0a\0/\0>\0"),
    ]);
    let mut package = open(bytes, Room::of(&Limits::default())).unwrap();
    assert_eq!(
        package.part("word/document.xml").unwrap().unwrap(),
        "\u{FEFF}<ä/>"
    );
    assert_eq!(package.part("wide.xml").unwrap().unwrap(), "<a/>");
    for name in [
        "none.xml",
        "../up.xml",
        "word/../../up.xml",
        "/etc/passwd",
        "C:\\up.xml",
        "",
        "inner.docx/word/document.xml",
    ] {
        assert_eq!(package.part(name), Ok(None), "{name}");
    }
    assert_refused(package.part("latin.xml"), "not UTF-8");
    let names = package.names();
    assert_eq!(
        names,
        ["word/document.xml", "inner.docx", "latin.xml", "wide.xml"]
    );
}

#[test]
fn targets_of_relationships_by_case() {
    let cases = [
        ("word/document.xml", "styles.xml", Some("word/styles.xml")),
        (
            "word/document.xml",
            "/word/styles.xml",
            Some("word/styles.xml"),
        ),
        (
            "word/document.xml",
            "../customXml/item1.xml",
            Some("customXml/item1.xml"),
        ),
        ("word/document.xml", "../../../etc/passwd", None),
        ("word/document.xml", "http://example.org/x", None),
        ("", "word/document.xml", Some("word/document.xml")),
        ("word/document.xml", "", Some("word")),
    ];
    for (from, written, expected) in cases {
        assert_eq!(target(from, written).as_deref(), expected, "{written}");
    }
}

#[test]
fn packages_that_cost_too_much_are_refused() {
    let blank = vec![b' '; 3_000_000];
    let bytes = zipped(&[("bomb.xml", &blank), ("small.xml", b"<a/>")]);
    let limits = |part_bytes, all_bytes, ratio| Room {
        members: 10,
        part_bytes,
        all_bytes,
        ratio,
        ratio_from: 1_000_000,
    };
    let part = |limits: Room| open(bytes.clone(), limits).unwrap().part("bomb.xml");
    assert_refused(part(limits(2_000_000, 9_000_000, 5000)), "unpacks from");
    assert_refused(part(limits(9_000_000, 2_000_000, 5000)), "unpacks from");
    assert_refused(part(limits(9_000_000, 9_000_000, 100)), "unpacks from");
    assert!(part(limits(9_000_000, 9_000_000, 5000)).is_ok());
    let mut package = open(bytes.clone(), limits(9_000_000, 4_000_000, 5000)).unwrap();
    assert!(package.part("bomb.xml").is_ok());
    assert_refused(package.part("bomb.xml"), "unpacks from");

    let names: Vec<String> = (0..20).map(|number| format!("{number}.xml")).collect();
    let many: Vec<(&str, &[u8])> = names.iter().map(|name| (name.as_str(), &b""[..])).collect();
    assert_refused(open(zipped(&many), limits(1, 1, 1)), "20 members");
}

#[test]
fn a_claimed_size_is_not_trusted() {
    let bytes = zipped(&[("bomb.xml", &vec![b' '; 3_000_000])]);
    let claimed = 3_000_000_u32.to_le_bytes();
    let small = 5_u32.to_le_bytes();
    let mut lying = bytes.clone();
    let places: Vec<usize> = memchr::memmem::find_iter(&bytes, &claimed).collect();
    assert!(!places.is_empty());
    for place in places {
        lying[place..place + 4].copy_from_slice(&small);
    }
    let limits = Room {
        part_bytes: 1_000_000,
        ..Room::of(&Limits::default())
    };
    let read = open(lying, limits).and_then(|mut package| package.part("bomb.xml"));
    assert!(read.is_err() || read.unwrap().unwrap().len() <= 1_000_000);
}

#[test]
fn other_files_are_named() {
    let locked: Vec<u8> = "EncryptedPackage"
        .encode_utf16()
        .flat_map(u16::to_le_bytes)
        .collect();
    let cases: [(Vec<u8>, &str); 6] = [
        (Vec::new(), "it is empty"),
        (b"%PDF-1.7".to_vec(), "PDF"),
        (b"{\\rtf1".to_vec(), "RTF"),
        (b"lamps".to_vec(), "not a zip package"),
        ([&COMPOUND_FILE[..], &locked].concat(), "password"),
        (COMPOUND_FILE.to_vec(), ".doc"),
    ];
    for (bytes, expected) in cases {
        assert_refused(open(bytes, Room::of(&Limits::default())), expected);
    }
    assert_refused(
        open(b"PK\x03\x04lamps".to_vec(), Room::of(&Limits::default())),
        "damaged",
    );
}

mod xml {
    use super::super::xml::{Node, Space, Xml};
    use super::*;

    fn events(content: &str) -> Result<String, Unreadable> {
        let mut xml = Xml::new("part.xml", content);
        let mut seen = Vec::new();
        loop {
            match xml.next()? {
                Node::End => return Ok(seen.join(" ")),
                Node::Open {
                    name,
                    place,
                    element,
                } => {
                    let tag = &content[place.as_range()];
                    let value = element.get("val").unwrap_or_default();
                    seen.push(format!("{:?}:{}={value}[{tag}]", name.space, name.local));
                }
                Node::Close { name, .. } => seen.push(format!("/{}", name.local)),
                Node::Characters {
                    content: text,
                    place,
                } => {
                    seen.push(format!("{text:?}[{}]", &content[place.as_range()]));
                }
            }
        }
    }

    #[test]
    fn elements_are_identified_by_namespace_with_their_places() {
        let word = "http://schemas.openxmlformats.org/wordprocessingml/2006/main";
        let content = format!(
            "\u{FEFF}<?xml version=\"1.0\"?><x:p xmlns:x=\"{word}\" x:val=\"a&amp;b\">ö &amp; &#8217;<y/><![CDATA[<]]></x:p>"
        );
        let seen = events(&content).unwrap();
        assert_eq!(
            seen,
            format!(
                "Word:p=a&b[<x:p xmlns:x=\"{word}\" x:val=\"a&amp;b\">] \"ö \"[ö ] \"&\"[&amp;] \" \"[ ] \"’\"[&#8217;] Other:y=[<y/>] /y \"<\"[<![CDATA[<]]>] /p"
            )
        );
        assert_eq!(Space::Word, Space::Word);
    }

    #[test]
    fn unsound_parts_are_refused() {
        let deep = format!("{}x", "<a>".repeat(100_000));
        let cases = [
            (
                "<!DOCTYPE a [<!ENTITY b \"bbb\"><!ENTITY c \"&b;&b;\">]><a>&c;</a>",
                "entities",
            ),
            (deep.as_str(), "deep inside"),
            ("<a><b></a>", "damaged"),
            ("<a>", "too early"),
            ("</a>", "damaged"),
            ("<a", "damaged"),
        ];
        for (content, expected) in cases {
            assert_refused(events(content), expected);
        }
        assert_eq!(
            events("<a>&unknown;</a>").unwrap(),
            "Other:a=[<a>] \"&unknown;\"[&unknown;] /a"
        );
    }
}
