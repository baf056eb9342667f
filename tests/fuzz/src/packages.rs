//! Input made into files of formats that would else refuse it before anything happens. Parts are set apart by a zero
//! byte, which none of them may hold anyway, so that seeds can be read and changed as text.

use std::io::{Cursor, Write};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

/// The parts of the input, as many as are asked for; the last keeps what is left.
pub(crate) fn parts<const N: usize>(data: &[u8]) -> [&[u8]; N] {
    let mut given = data.splitn(N, |byte| *byte == 0);
    std::array::from_fn(|_| given.next().unwrap_or_default())
}

/// A package of members as they are, with the bytes of each.
#[derive(Default)]
pub(crate) struct Made {
    /// The package.
    pub(crate) bytes: Vec<u8>,
    /// Its members; none where the package is the input itself.
    pub(crate) members: Vec<(&'static str, Vec<u8>)>,
}

impl Made {
    fn of(members: Vec<(&'static str, Vec<u8>)>) -> Self {
        let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
        let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
        for (name, bytes) in &members {
            zip.start_file(*name, stored)
                .expect("a short list of short names");
            zip.write_all(bytes).expect("memory takes it");
        }
        let bytes = zip.finish().expect("memory takes it").into_inner();
        Self { bytes, members }
    }
}

/// The input itself where it says that it is a package.
fn as_it_is(data: &[u8]) -> Option<Made> {
    data.starts_with(b"PK").then(|| Made {
        bytes: data.to_vec(),
        members: Vec::new(),
    })
}

/// A part that is there as soon as anything is given for it, put between a beginning and an end unless it brings its own.
fn part(
    name: &'static str,
    given: &[u8],
    begin: &str,
    end: &str,
) -> Option<(&'static str, Vec<u8>)> {
    if given.is_empty() {
        return None;
    }
    let whole = given.starts_with(b"<?xml")
        || given.starts_with(&[0xFF, 0xFE])
        || given.starts_with(&[0xEF, 0xBB, 0xBF]);
    let bytes = if whole {
        given.to_vec()
    } else {
        [begin.as_bytes(), given, end.as_bytes()].concat()
    };
    Some((name, bytes))
}

const WORD: &str = "xmlns:w=\"http://schemas.openxmlformats.org/wordprocessingml/2006/main\" xmlns:r=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships\" xmlns:m=\"http://schemas.openxmlformats.org/officeDocument/2006/math\" xmlns:mc=\"http://schemas.openxmlformats.org/markup-compatibility/2006\" xmlns:wps=\"http://schemas.microsoft.com/office/word/2010/wordprocessingShape\" xmlns:wp=\"http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing\" xmlns:a=\"http://schemas.openxmlformats.org/drawingml/2006/main\" xmlns:w14=\"http://schemas.microsoft.com/office/word/2010/wordml\"";

/// A Word document of: the body, footnotes, endnotes, styles, numbering.
pub(crate) fn word(data: &[u8]) -> Made {
    if let Some(made) = as_it_is(data) {
        return made;
    }
    let [body, footnotes, endnotes, styles, numbering] = parts(data);
    let begin = format!("<w:document {WORD}><w:body>");
    let root = |element: &str| (format!("<w:{element} {WORD}>"), format!("</w:{element}>"));
    let mut members = vec![
        (
            "[Content_Types].xml",
            b"<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"><Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/><Default Extension=\"xml\" ContentType=\"application/xml\"/><Override PartName=\"/word/document.xml\" ContentType=\"application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml\"/></Types>".to_vec(),
        ),
        (
            "_rels/.rels",
            b"<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship Id=\"r1\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument\" Target=\"word/document.xml\"/></Relationships>".to_vec(),
        ),
    ];
    let document = part("word/document.xml", body, &begin, "</w:body></w:document>");
    members.push(document.unwrap_or((
        "word/document.xml",
        format!("{begin}</w:body></w:document>").into_bytes(),
    )));
    let mut relations = String::new();
    for (name, given) in [
        ("footnotes", footnotes),
        ("endnotes", endnotes),
        ("styles", styles),
        ("numbering", numbering),
    ] {
        let (begin, end) = root(name);
        let place = match name {
            "footnotes" => "word/footnotes.xml",
            "endnotes" => "word/endnotes.xml",
            "styles" => "word/styles.xml",
            _ => "word/numbering.xml",
        };
        if let Some(part) = part(place, given, &begin, &end) {
            members.push(part);
            relations.push_str(&format!("<Relationship Id=\"{name}\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/{name}\" Target=\"{name}.xml\"/>"));
        }
    }
    members.push(("word/_rels/document.xml.rels", format!("<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">{relations}</Relationships>").into_bytes()));
    Made::of(members)
}

const OPEN: &str = "xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\" xmlns:style=\"urn:oasis:names:tc:opendocument:xmlns:style:1.0\" xmlns:table=\"urn:oasis:names:tc:opendocument:xmlns:table:1.0\" xmlns:draw=\"urn:oasis:names:tc:opendocument:xmlns:drawing:1.0\" xmlns:fo=\"urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" xmlns:xlink=\"http://www.w3.org/1999/xlink\"";

/// An OpenDocument text of: the body, its automatic styles, the styles of `styles.xml`.
pub(crate) fn open_document(data: &[u8]) -> Made {
    if let Some(made) = as_it_is(data) {
        return made;
    }
    let [body, automatic, styles] = parts(data);
    let automatic = String::from_utf8_lossy(automatic);
    let begin = format!(
        "<office:document-content {OPEN} office:version=\"1.3\"><office:automatic-styles>{automatic}</office:automatic-styles><office:body><office:text>"
    );
    let end = "</office:text></office:body></office:document-content>";
    let content = part("content.xml", body, &begin, end);
    let mut members = vec![
        ("mimetype", b"application/vnd.oasis.opendocument.text".to_vec()),
        ("META-INF/manifest.xml", b"<manifest:manifest xmlns:manifest=\"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0\"><manifest:file-entry manifest:full-path=\"/\" manifest:media-type=\"application/vnd.oasis.opendocument.text\"/><manifest:file-entry manifest:full-path=\"content.xml\" manifest:media-type=\"text/xml\"/></manifest:manifest>".to_vec()),
        content.unwrap_or(("content.xml", format!("{begin}{end}").into_bytes())),
    ];
    let begin = format!("<office:document-styles {OPEN} office:version=\"1.3\"><office:styles>");
    members.extend(part(
        "styles.xml",
        styles,
        &begin,
        "</office:styles></office:document-styles>",
    ));
    Made::of(members)
}

/// A book of: two chapters, and further items of its listing.
pub(crate) fn book(data: &[u8]) -> Made {
    if let Some(made) = as_it_is(data) {
        return made;
    }
    let [first, second, listing] = parts(data);
    let listing = String::from_utf8_lossy(listing);
    let page = "<html xmlns=\"http://www.w3.org/1999/xhtml\" xmlns:epub=\"http://www.idpf.org/2007/ops\"><body>";
    let mut members = vec![
        ("mimetype", b"application/epub+zip".to_vec()),
        ("META-INF/container.xml", b"<container xmlns=\"urn:oasis:names:tc:opendocument:xmlns:container\"><rootfiles><rootfile full-path=\"o/c.opf\"/></rootfiles></container>".to_vec()),
        ("o/c.opf", format!("<package xmlns=\"http://www.idpf.org/2007/opf\"><manifest><item id=\"a\" href=\"a.xhtml\"/><item id=\"b\" href=\"b.xhtml\"/>{listing}</manifest><spine><itemref idref=\"a\"/><itemref idref=\"b\"/></spine></package>").into_bytes()),
    ];
    members.extend(part("o/a.xhtml", first, page, "</body></html>"));
    members.extend(part("o/b.xhtml", second, page, "</body></html>"));
    Made::of(members)
}

/// A PDF of: what its page draws, the map of its characters, further entries of its font and of its catalogue.
pub(crate) fn drawn(data: &[u8]) -> Vec<u8> {
    if data.starts_with(b"%PDF") {
        return data.to_vec();
    }
    let [content, map, font, catalogue] = parts(data);
    let mut pdf = b"%PDF-1.7\n".to_vec();
    let mut starts = Vec::new();
    let mut object = |pdf: &mut Vec<u8>, body: &[u8]| {
        starts.push(pdf.len());
        pdf.extend_from_slice(format!("{} 0 obj\n", starts.len()).as_bytes());
        pdf.extend_from_slice(body);
        pdf.extend_from_slice(b"\nendobj\n");
    };
    let stream = |bytes: &[u8]| {
        let head = format!("<</Length {}>>stream\n", bytes.len());
        [head.as_bytes(), bytes, b"\nendstream"].concat()
    };
    object(
        &mut pdf,
        &[b"<</Type/Catalog/Pages 2 0 R ".as_slice(), catalogue, b">>"].concat(),
    );
    object(
        &mut pdf,
        b"<</Type/Pages/Kids[3 0 R]/Count 1/MediaBox[0 0 595 842]>>",
    );
    object(&mut pdf, b"<</Type/Page/Parent 2 0 R/Contents 4 0 R/Resources<</Font<</F 5 0 R>>/XObject<</X 4 0 R>>>>>>");
    object(&mut pdf, &stream(content));
    let mapped: &[u8] = if map.is_empty() {
        b""
    } else {
        b"/ToUnicode 6 0 R"
    };
    object(
        &mut pdf,
        &[
            b"<</Type/Font/Subtype/Type1/BaseFont/Helvetica/Encoding/WinAnsiEncoding",
            mapped,
            font,
            b">>",
        ]
        .concat(),
    );
    object(&mut pdf, &stream(map));
    let table = pdf.len();
    pdf.extend_from_slice(
        format!("xref\n0 {}\n0000000000 65535 f \n", starts.len() + 1).as_bytes(),
    );
    for start in &starts {
        pdf.extend_from_slice(format!("{start:010} 00000 n \n").as_bytes());
    }
    pdf.extend_from_slice(
        format!(
            "trailer<</Size {}/Root 1 0 R>>\nstartxref\n{table}\n%%EOF\n",
            starts.len() + 1
        )
        .as_bytes(),
    );
    pdf
}
