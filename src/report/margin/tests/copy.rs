//! The copy as a file: what stays as it was, what is left out, what is refused.

use super::*;

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
        let mut reported = String::new();
        loop {
            match xml.next().expect("it is well formed") {
                Node::End => break,
                Node::Characters { content, .. } => reported.push_str(&content),
                _ => {}
            }
        }
        // Marks that turn the direction of writing are spelled out.
        assert!(
            reported.contains(
                "</w:t></w:r><script>&amp;]]>\\u{0}\\u{202e}\"' <office:annotation-end/>"
            ),
            "{reported}"
        );
    }
}

#[test]
fn what_can_not_be_commented_is_reported() {
    let bytes = docx("<w:p><w:r><w:t>Lamps</w:t></w:r></w:p>", None);
    let text = from_bytes(bytes.clone(), Format::Docx).unwrap().text;
    let other = Text::paragraph("Moths");
    let reported = |bytes: Vec<u8>, format, text: &Text, finding: Finding| {
        annotate(bytes, format, text, &[finding]).unwrap_err()
    };
    let found = finding(&other, "Moths", "x");
    assert_eq!(
        reported(bytes.clone(), Format::Docx, &text, found.clone()),
        MarginError::OtherFile
    );
    assert_eq!(
        reported(bytes.clone(), Format::Plain, &other, found),
        MarginError::NoMargin
    );
    let without_prefix = "<document xmlns=\"http://schemas.openxmlformats.org/wordprocessingml/2006/main\"><body><p><r><t>Lamps</t></r></p></body></document>";
    let bytes = zipped(&[("word/document.xml", without_prefix.as_bytes())]);
    let text = from_bytes(bytes.clone(), Format::Docx).unwrap().text;
    let found = finding(&text, "Lamps", "x");
    assert!(matches!(
        reported(bytes, Format::Docx, &text, found),
        MarginError::Unusual(_)
    ));
}
