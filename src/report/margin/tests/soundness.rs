//! Copies are sound, or none is handed back.

use super::*;

/// The characters in UTF-16 with a byte-order mark.
fn wide(text: &str) -> Vec<u8> {
    let units = text.encode_utf16().flat_map(u16::to_le_bytes);
    [0xFF, 0xFE].into_iter().chain(units).collect()
}

/// The document with the bytes of some parts done anew.
fn with_parts(bytes: &[u8], change: impl Fn(&str, String) -> Option<Vec<u8>>) -> Vec<u8> {
    let mut package = Package::open(bytes.to_vec(), "test", Room::of(&Limits::default())).unwrap();
    let mut members = Vec::new();
    for name in package.names() {
        let bytes = match package.part(&name) {
            Ok(Some(content)) => change(&name, content.clone()).unwrap_or(content.into_bytes()),
            _ => b"picture".to_vec(),
        };
        members.push((name, bytes));
    }
    let members: Vec<(&str, &[u8])> = members
        .iter()
        .map(|(name, bytes)| (name.as_str(), bytes.as_slice()))
        .collect();
    zipped(&members)
}

const DECLARATION: &str = "<?xml version=\"1.0\" encoding=\"UTF-16\"?>";

#[test]
fn parts_in_utf16_become_utf8() {
    let others = format!(
        "<w:comments {DECLARED}><w:comment w:id=\"6\" w:author=\"B\"><w:p/></w:comment></w:comments>"
    );
    let body = "<w:p><w:r><w:t>Lämps glow</w:t></w:r></w:p>";
    for (bytes, format) in [
        (docx(body, None), Format::Docx),
        (docx(body, Some(&others)), Format::Docx),
        (odt("<text:p>Lämps glow</text:p>"), Format::Odt),
    ] {
        let bytes = with_parts(&bytes, |name, content| {
            let content = content.trim_start_matches("<?xml version=\"1.0\"?>");
            (name != "mimetype").then(|| wide(&format!("{DECLARATION}{content}")))
        });
        let (text, copy) = commented(&bytes, format, &["Lämps"]);
        assert_reads_the_same(&text, &copy, format);
        let mut changed = 0;
        let mut archive = zip::ZipArchive::new(std::io::Cursor::new(&copy)).unwrap();
        for index in 0..archive.len() {
            let mut content = Vec::new();
            std::io::Read::read_to_end(&mut archive.by_index(index).unwrap(), &mut content)
                .unwrap();
            // Whatever a part says it is in, it is in.
            if content.starts_with(&[0xFF, 0xFE]) {
                continue;
            }
            let Ok(content) = String::from_utf8(content) else {
                continue;
            };
            assert!(!content.contains("UTF-16"), "{content}");
            changed += usize::from(content.contains("encoding=\"UTF-8\""));
        }
        assert!(changed > 0);
    }
}

#[track_caller]
fn assert_refused(bytes: &[u8], format: Format, words: &str, expected: &str) {
    let text = from_bytes(bytes.to_vec(), format).unwrap().text;
    let findings = [finding(&text, words, "Mend it.")];
    let reported = annotate(bytes.to_vec(), format, &text, &findings).unwrap_err();
    let reported = reported.to_string();
    assert!(reported.contains(expected), "{reported}");
    assert!(
        reported.contains("--format page"),
        "{reported} says nothing to do"
    );
}

#[test]
fn parts_that_are_not_sound_are_not_changed() {
    let bytes = docx("<w:p><w:r><w:t>Lamps &eacute; glow</w:t></w:r></w:p>", None);
    let expected = "word/document.xml in it is no sound XML (&eacute; stands for nothing)";
    assert_refused(&bytes, Format::Docx, "Lamps", expected);
    let bytes = odt("<text:p>Lamps<x:y/> glow</text:p>");
    let expected = "content.xml in it is no sound XML (the prefix of x:y is not declared)";
    assert_refused(&bytes, Format::Odt, "Lamps", expected);

    let bytes = docx("<w:p><w:r><w:t>Lamps</w:t></w:r></w:p>", None);
    let broken = |broken: &str| {
        with_parts(&bytes, |name, content| {
            let end = content.rfind("</").filter(|_| name == broken)?;
            Some(format!("{}<a b=\"1\"c=\"2\"/>{}", &content[..end], &content[end..]).into_bytes())
        })
    };
    for name in ["[Content_Types].xml", "word/_rels/document.xml.rels"] {
        let expected = format!("{name} in it is no sound XML (the tag of a is broken)");
        assert_refused(&broken(name), Format::Docx, "Lamps", &expected);
    }
    // What is only copied may be as it is.
    commented(&broken("word/footnotes.xml"), Format::Docx, &["Lamps"]);

    let latin = with_parts(&bytes, |name, content| {
        let content = content.replace(
            "<?xml version=\"1.0\"?>",
            "<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?>",
        );
        (name == "word/document.xml").then(|| content.replace("Lamps", "Lämps").into_bytes())
    });
    let expected = "it says that it is in ISO-8859-1, and is in UTF-8";
    assert_refused(&latin, Format::Docx, "mps", expected);
}

#[test]
fn what_would_be_damaged_is_not_written() {
    // Characters inside of characters: a cut there would leave tags without their partners.
    let body =
        "<w:p><w:r><w:t>The <w:smartTag><w:t>lamps glow</w:t></w:smartTag> now</w:t></w:r></w:p>";
    let expected = "comments would have damaged word/document.xml";
    assert_refused(&docx(body, None), Format::Docx, "lamps", expected);
    // A run that has the prefix for something else.
    let body = "<w:p><w:r xmlns:w=\"urn:else\" xmlns:x=\"http://schemas.openxmlformats.org/wordprocessingml/2006/main\"/><x:r xmlns:w=\"urn:else\" xmlns:x=\"http://schemas.openxmlformats.org/wordprocessingml/2006/main\"><x:t>The lamps glow</x:t></x:r></w:p>";
    assert_refused(&docx(body, None), Format::Docx, "lamps", expected);
}
