//! The bibliography as a word processor's file (Office Open XML, ECMA-376): a zip package of the few parts that
//! a document must have. Styles carry the look, so that a writer can change it in one place.

use std::io::{self, Cursor, Seek, Write};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

use super::{Bibliography, Paragraph, Styled, heading};
use crate::report::escape::{harmless, in_xml};
use crate::review::PartKind;

const HEAD: &str = r#"<?xml version="1.0" encoding="UTF-8" standalone="yes"?>"#;

const CONTENT_TYPES: &str = r#"<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/word/document.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"/><Override PartName="/word/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.styles+xml"/></Types>"#;

const PACKAGE_RELS: &str = r#"<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="word/document.xml"/></Relationships>"#;

const DOCUMENT_RELS: &str = r#"<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles" Target="styles.xml"/></Relationships>"#;

const NAMESPACE: &str = "http://schemas.openxmlformats.org/wordprocessingml/2006/main";

/// Styles: identifier, name, paragraph properties, run properties. Lengths are twentieths of a point.
const STYLES: [(&str, &str, &str, &str); 7] = [
    (
        "Normal",
        "Normal",
        r#"<w:spacing w:after="120" w:line="276" w:lineRule="auto"/>"#,
        r#"<w:sz w:val="24"/>"#,
    ),
    (
        "Title",
        "Title",
        r#"<w:spacing w:after="360"/>"#,
        r#"<w:sz w:val="36"/>"#,
    ),
    (
        "Bibliography",
        "Bibliography",
        r#"<w:keepNext/><w:spacing w:before="360" w:after="120"/><w:ind w:left="720" w:hanging="720"/>"#,
        "",
    ),
    (
        "PartHeading",
        "Part Heading",
        r#"<w:keepNext/><w:spacing w:before="120" w:after="40"/><w:ind w:left="720"/>"#,
        "<w:i/>",
    ),
    ("Summary", "Entry Summary", r#"<w:ind w:left="720"/>"#, ""),
    (
        "Quotations",
        "Entry Quotations",
        r#"<w:pBdr><w:left w:val="double" w:sz="6" w:space="8" w:color="auto"/></w:pBdr><w:ind w:left="1080"/>"#,
        "",
    ),
    (
        "Comments",
        "Entry Comments",
        r#"<w:pBdr><w:top w:val="dashed" w:sz="4" w:space="4" w:color="auto"/><w:left w:val="dashed" w:sz="4" w:space="4" w:color="auto"/><w:bottom w:val="dashed" w:sz="4" w:space="4" w:color="auto"/><w:right w:val="dashed" w:sz="4" w:space="4" w:color="auto"/></w:pBdr><w:ind w:left="800"/>"#,
        "",
    ),
];

/// Writes it. The same bibliography gives the same bytes.
///
/// # Errors
/// What the writer refuses.
pub fn write(bibliography: &Bibliography, out: &mut impl Write) -> io::Result<()> {
    let mut package = Cursor::new(Vec::new());
    pack(bibliography, &mut package)?;
    out.write_all(package.get_ref())
}

fn pack(bibliography: &Bibliography, to: &mut (impl Write + Seek)) -> io::Result<()> {
    let mut zip = ZipWriter::new(to);
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .last_modified_time(DateTime::default());
    let parts = [
        ("[Content_Types].xml", CONTENT_TYPES.to_owned()),
        ("_rels/.rels", PACKAGE_RELS.to_owned()),
        ("word/_rels/document.xml.rels", DOCUMENT_RELS.to_owned()),
        ("word/document.xml", document(bibliography)),
        ("word/styles.xml", styles()),
    ];
    for (name, content) in parts {
        zip.start_file(name, options)?;
        zip.write_all(HEAD.as_bytes())?;
        zip.write_all(content.as_bytes())?;
    }
    zip.finish()?;
    Ok(())
}

fn styles() -> String {
    let mut out = format!(r#"<w:styles xmlns:w="{NAMESPACE}">"#);
    for (at, (id, name, paragraph, run)) in STYLES.iter().enumerate() {
        let usual = if at == 0 { r#" w:default="1""# } else { "" };
        let based = if at == 0 {
            ""
        } else {
            r#"<w:basedOn w:val="Normal"/>"#
        };
        out.push_str(&format!(
            r#"<w:style w:type="paragraph"{usual} w:styleId="{id}"><w:name w:val="{name}"/>{based}<w:pPr>{paragraph}</w:pPr><w:rPr>{run}</w:rPr></w:style>"#
        ));
    }
    out.push_str("</w:styles>");
    out
}

fn document(bibliography: &Bibliography) -> String {
    let mut out = format!(r#"<w:document xmlns:w="{NAMESPACE}"><w:body>"#);
    paragraph(&mut out, "Title", &[plain(&bibliography.title)]);
    for entry in &bibliography.entries {
        paragraph(&mut out, "Bibliography", &entry.reference);
        for (part, paragraphs) in &entry.parts {
            paragraph(&mut out, "PartHeading", &[plain(heading(*part))]);
            for one in paragraphs {
                paragraph(&mut out, style_of(*part), &[plain(&shown(one))]);
            }
        }
    }
    out.push_str(r#"<w:sectPr><w:pgSz w:w="11906" w:h="16838"/><w:pgMar w:top="1440" w:right="1440" w:bottom="1440" w:left="1440" w:header="720" w:footer="720" w:gutter="0"/></w:sectPr></w:body></w:document>"#);
    out
}

fn style_of(part: PartKind) -> &'static str {
    match part {
        PartKind::Reference | PartKind::Summary => "Summary",
        PartKind::Quotations => "Quotations",
        PartKind::Comments => "Comments",
    }
}

fn shown(paragraph: &Paragraph) -> String {
    if paragraph.item {
        format!("• {}", paragraph.text)
    } else {
        paragraph.text.clone()
    }
}

fn plain(text: &str) -> Styled {
    Styled {
        text: text.to_owned(),
        ..Styled::default()
    }
}

fn paragraph(out: &mut String, style: &str, runs: &[Styled]) {
    out.push_str(&format!(
        r#"<w:p><w:pPr><w:pStyle w:val="{style}"/></w:pPr>"#
    ));
    for run in runs {
        let bold = if run.bold { "<w:b/>" } else { "" };
        let italic = if run.italic { "<w:i/>" } else { "" };
        let raised = if run.raised {
            r#"<w:vertAlign w:val="superscript"/>"#
        } else {
            ""
        };
        let text = in_xml(&harmless(&run.text));
        out.push_str(&format!(
            r#"<w:r><w:rPr>{bold}{italic}{raised}</w:rPr><w:t xml:space="preserve">{text}</w:t></w:r>"#
        ));
    }
    out.push_str("</w:p>");
}

#[cfg(test)]
mod tests {
    use super::super::tests::sample;
    use super::*;
    use std::io::Read;

    #[test]
    fn the_package_holds_well_formed_parts_and_the_same_bytes_each_time() {
        let written = || {
            let mut out = Vec::new();
            write(&sample(), &mut out).unwrap();
            out
        };
        let bytes = written();
        assert_eq!(bytes, written());
        let mut package = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
        assert_eq!(package.len(), 5);
        for at in 0..package.len() {
            let mut content = String::new();
            package
                .by_index(at)
                .unwrap()
                .read_to_string(&mut content)
                .unwrap();
            let mut reader = quick_xml::Reader::from_str(&content);
            loop {
                match reader.read_event() {
                    Ok(quick_xml::events::Event::Eof) => break,
                    Ok(_) => {}
                    Err(error) => panic!("{error}: {content}"),
                }
            }
        }
        let mut document = String::new();
        package
            .by_name("word/document.xml")
            .unwrap()
            .read_to_string(&mut document)
            .unwrap();
        assert!(
            document.contains(
                "<w:i/></w:rPr><w:t xml:space=\"preserve\">Lamps &amp; &lt;moths&gt;</w:t>"
            ),
            "{document}"
        );
    }
}
