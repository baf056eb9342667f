//! A Word document of a few parts, for drafts that no other format can carry.

use std::io::{Cursor, Write as _};

use zip::ZipWriter;
use zip::write::SimpleFileOptions;

const WORD: &str = "http://schemas.openxmlformats.org/wordprocessingml/2006/main";
const BIBLIOGRAPHY: &str = "http://schemas.openxmlformats.org/officeDocument/2006/bibliography";
const RELATION: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

/// A run of text, which may hold references such as `&amp;`.
pub fn t(text: &str) -> String {
    format!("<w:r><w:t xml:space=\"preserve\">{text}</w:t></w:r>")
}

/// A paragraph of runs.
pub fn p(runs: &str) -> String {
    format!("<w:p>{runs}</w:p>")
}

/// A field with its instruction and its result.
pub fn field(instruction: &str, result: &str) -> String {
    let sign = |kind: &str| format!("<w:r><w:fldChar w:fldCharType=\"{kind}\"/></w:r>");
    let instruction =
        format!("<w:r><w:instrText xml:space=\"preserve\">{instruction}</w:instrText></w:r>");
    format!(
        "{}{instruction}{}{}{}",
        sign("begin"),
        sign("separate"),
        t(result),
        sign("end")
    )
}

/// A document of the given body; each further part is `footnotes` or `comments` and what it holds.
pub fn document(body: &str, parts: &[(&str, &str)]) -> Vec<u8> {
    with_sources(body, parts, None)
}

/// The same, with the sources of the word processor's own citations.
pub fn with_sources(body: &str, parts: &[(&str, &str)], sources: Option<&str>) -> Vec<u8> {
    let root = |name: &str, inside: &str| {
        format!(
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?><w:{name} xmlns:w=\"{WORD}\">{inside}</w:{name}>"
        )
    };
    let rels = |inside: &str| {
        format!(
            "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">{inside}</Relationships>"
        )
    };
    let relation = |name: &str, target: &str| {
        format!("<Relationship Id=\"r{name}\" Type=\"{RELATION}/{name}\" Target=\"{target}\"/>")
    };
    let kind = |part: &str, word: &str| {
        format!(
            "<Override PartName=\"/word/{part}.xml\" ContentType=\"application/vnd.openxmlformats-officedocument.wordprocessingml.{word}+xml\"/>"
        )
    };
    let kinds: String = parts.iter().map(|(name, _)| kind(name, name)).collect();
    let related: String = parts
        .iter()
        .map(|(name, _)| relation(name, &format!("{name}.xml")))
        .collect();
    let custom = sources.map(|_| relation("customXml", "../customXml/item1.xml"));
    let related = format!("{related}{}", custom.unwrap_or_default());
    let mut members = vec![
        (
            "[Content_Types].xml".to_owned(),
            format!(
                "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"><Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>{}{kinds}</Types>",
                kind("document", "document.main")
            ),
        ),
        (
            "_rels/.rels".to_owned(),
            rels(&relation("officeDocument", "word/document.xml")),
        ),
        ("word/_rels/document.xml.rels".to_owned(), rels(&related)),
        (
            "word/document.xml".to_owned(),
            root("document", &format!("<w:body>{body}<w:sectPr/></w:body>")),
        ),
    ];
    members.extend(
        parts
            .iter()
            .map(|(name, inside)| (format!("word/{name}.xml"), root(name, inside))),
    );
    members.extend(sources.map(|sources| {
        let part = format!("<b:Sources xmlns:b=\"{BIBLIOGRAPHY}\">{sources}</b:Sources>");
        ("customXml/item1.xml".to_owned(), part)
    }));
    let members: Vec<(&str, &str)> = members
        .iter()
        .map(|(name, content)| (name.as_str(), content.as_str()))
        .collect();
    raw(&members)
}

/// A Word document with wording of the source in every place that a document has.
pub fn intricate() -> Vec<u8> {
    let body = [
        // split over runs, with a tracked deletion and an insertion
        p(&format!(
            "{}<w:r><w:rPr><w:i/></w:rPr><w:t>campion</w:t></w:r>{}<w:ins w:id=\"101\" w:author=\"A\">{}</w:ins><w:del w:id=\"102\" w:author=\"A\"><w:r><w:delText xml:space=\"preserve\"> gone</w:delText></w:r></w:del>{}",
            t("Under the burning lamp the "), t(" received one visit for every "), t("four that it received"), t(" in the dark, I am told.")
        )),
        // a link, and a field in the middle
        p(&format!(
            "{}<w:hyperlink w:anchor=\"x\">{}</w:hyperlink>{}{}",
            t("Some say that hawk moths, by contrast, "), t("left the lamp after some minutes"), t(" and went back to the honeysuckle"), field(" REF x ", ", as they do.")
        )),
        // a content control around a paragraph
        format!("<w:sdt><w:sdtPr><w:alias w:val=\"Part\"/></w:sdtPr><w:sdtContent>{}</w:sdtContent></w:sdt>", p(&t("Older residents remembered the gas, which had also gone out at midnight, they said."))),
        // a content control inside a paragraph, with a note behind
        p(&format!(
            "{}<w:sdt><w:sdtPr><w:alias w:val=\"Word\"/></w:sdtPr><w:sdtContent>{}</w:sdtContent></w:sdt>{}<w:r><w:footnoteReference w:id=\"2\"/></w:r>",
            t("What people feared was not theft "), t("but stumbling"), t(".")
        )),
        // a comment of somebody else's around wording of the source
        p(&format!(
            "<w:commentRangeStart w:id=\"3\"/>{}<w:commentRangeEnd w:id=\"3\"/><w:r><w:commentReference w:id=\"3\"/></w:r>",
            t("The council mended the kerb in the second winter, and I cannot say more.")
        )),
        // a cell with prose
        format!(
            "<w:tbl><w:tblPr><w:tblW w:w=\"0\" w:type=\"auto\"/></w:tblPr><w:tblGrid><w:gridCol w:w=\"9000\"/></w:tblGrid><w:tr><w:tc><w:tcPr><w:tcW w:w=\"9000\" w:type=\"dxa\"/></w:tcPr>{}</w:tc></w:tr></w:tbl>",
            p(&t("My own reading of this is narrow, and it leaves the budgets of councils to people who know them. Councils choose the hour by counting the last buses, so much is plain, and the rest is a guess of mine &amp; nobody else."))
        ),
        p(&t("The end.")),
    ]
    .concat();
    let notes = format!(
        "<w:footnote w:id=\"2\"><w:p><w:r><w:footnoteRef/></w:r>{}</w:p></w:footnote>",
        t("Seed set followed the visits, though not in step, I think.")
    );
    let comments = format!(
        "<w:comment w:id=\"3\" w:author=\"A. Reader\">{}</w:comment>",
        p(&t("Which winter was that, I wonder?"))
    );
    document(&body, &[("footnotes", &notes), ("comments", &comments)])
}

/// Characters in UTF-16 with a byte-order mark.
pub fn wide(text: &str) -> Vec<u8> {
    let units = text.encode_utf16().flat_map(u16::to_le_bytes);
    [0xFF, 0xFE].into_iter().chain(units).collect()
}

/// An OpenDocument text of the given body, its content in the encoding that it says it is in.
pub fn odt(body: &str, encoding: &str) -> Vec<u8> {
    const URN: &str = "urn:oasis:names:tc:opendocument:xmlns";
    let content = format!(
        "<?xml version=\"1.0\" encoding=\"{encoding}\"?><office:document-content xmlns:office=\"{URN}:office:1.0\" xmlns:text=\"{URN}:text:1.0\" office:version=\"1.2\"><office:body><office:text>{body}</office:text></office:body></office:document-content>"
    );
    let content = match encoding {
        "UTF-16" => wide(&content),
        _ => content.into_bytes(),
    };
    let entry = |path: &str, kind: &str| {
        format!(
            "<manifest:file-entry manifest:full-path=\"{path}\" manifest:media-type=\"{kind}\"/>"
        )
    };
    let kind = "application/vnd.oasis.opendocument.text";
    let manifest = format!(
        "<manifest:manifest xmlns:manifest=\"{URN}:manifest:1.0\">{}{}</manifest:manifest>",
        entry("/", kind),
        entry("content.xml", "text/xml")
    );
    raw(&[
        ("mimetype", kind.as_bytes()),
        ("META-INF/manifest.xml", manifest.as_bytes()),
        ("content.xml", &content),
    ])
}

/// A zip package of any members.
pub fn raw(members: &[(&str, impl AsRef<[u8]>)]) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, content) in members {
        writer
            .start_file(*name, SimpleFileOptions::default())
            .unwrap();
        writer.write_all(content.as_ref()).unwrap();
    }
    writer.finish().unwrap().into_inner()
}
