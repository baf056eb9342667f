//! Small documents, built here, and what is read from them.

mod fields;
mod notes_and_pages;
mod promises;

use crate::reading::package::tests::{nested, zipped};
use crate::reading::{Format, ReadFile, Unreadable, from_bytes};
use crate::text::{BlockKind, CiteTarget, Origin, Text};

const DECLARED: &str = r#"xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main" xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" xmlns:v="urn:schemas-microsoft-com:vml" xmlns:m="http://schemas.openxmlformats.org/officeDocument/2006/math""#;

const STYLES: &str = r#"
<w:style w:type="paragraph" w:default="1" w:styleId="Normal"><w:name w:val="Normal"/></w:style>
<w:style w:type="paragraph" w:styleId="T"><w:name w:val="Title"/></w:style>
<w:style w:type="paragraph" w:styleId="H1"><w:name w:val="heading 1"/></w:style>
<w:style w:type="paragraph" w:styleId="Q"><w:name w:val="Quote"/></w:style>
<w:style w:type="paragraph" w:styleId="Bib"><w:name w:val="Bibliography"/></w:style>
<w:style w:type="paragraph" w:styleId="L"><w:name w:val="List Bullet"/><w:pPr><w:numPr><w:numId w:val="1"/></w:numPr></w:pPr></w:style>
<w:style w:type="paragraph" w:styleId="In"><w:name w:val="Set in"/><w:pPr><w:ind w:left="720"/></w:pPr></w:style>
<w:style w:type="character" w:styleId="Hid"><w:name w:val="Hid"/><w:rPr><w:vanish/></w:rPr></w:style>"#;

/// A document with the given body, footnotes, endnotes and footer.
fn document(body: &str, footnotes: &str, endnotes: &str, footer: &str) -> Vec<u8> {
    let part = |root: &str, inside: &str| {
        format!("<?xml version=\"1.0\"?><w:{root} {DECLARED}>{inside}</w:{root}>")
    };
    let kind = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    let related = |pairs: &[(&str, &str)]| {
        let each = pairs.iter().enumerate().map(|(number, (name, target))| {
            format!(r#"<Relationship Id="r{number}" Type="{kind}/{name}" Target="{target}"/>"#)
        });
        let all: String = each.collect();
        format!(
            r#"<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">{all}</Relationships>"#
        )
    };
    let parts = [
        (
            "[Content_Types].xml",
            "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"/>"
                .to_owned(),
        ),
        (
            "_rels/.rels",
            related(&[("officeDocument", "word/document.xml")]),
        ),
        (
            "word/_rels/document.xml.rels",
            related(&[
                ("styles", "styles.xml"),
                ("footnotes", "footnotes.xml"),
                ("endnotes", "endnotes.xml"),
                ("footer", "footer1.xml"),
            ]),
        ),
        ("word/styles.xml", part("styles", STYLES)),
        (
            "word/document.xml",
            part("document", &format!("<w:body>{body}</w:body>")),
        ),
        ("word/footnotes.xml", part("footnotes", footnotes)),
        ("word/endnotes.xml", part("endnotes", endnotes)),
        ("word/footer1.xml", part("ftr", footer)),
    ];
    let members: Vec<(&str, &[u8])> = parts
        .iter()
        .map(|(name, content)| (*name, content.as_bytes()))
        .collect();
    zipped(&members)
}

fn read_file(bytes: Vec<u8>) -> ReadFile {
    from_bytes(bytes, Format::Docx).expect("the document is sound")
}

fn read(body: &str) -> ReadFile {
    read_file(document(body, "", "", ""))
}

/// The blocks as `kind: text`.
fn shown(text: &Text) -> Vec<String> {
    let block =
        |block: &crate::text::Block| format!("{}: {}", block.kind.name(), text.slice(block.range));
    text.blocks().iter().map(block).collect()
}

/// A paragraph of one run.
fn p(text: &str) -> String {
    format!("<w:p><w:r><w:t>{text}</w:t></w:r></w:p>")
}

/// A paragraph with properties.
fn pp(properties: &str, text: &str) -> String {
    format!("<w:p><w:pPr>{properties}</w:pPr><w:r><w:t>{text}</w:t></w:r></w:p>")
}

#[track_caller]
fn assert_read(body: &str, expected: &[&str]) {
    assert_eq!(shown(&read(body).text), expected, "{body}");
}

#[test]
fn characters_by_case() {
    let cases = [
        (
            r#"<w:r><w:t xml:space="preserve">a </w:t></w:r><w:r><w:t>b &amp; &#8217;c</w:t></w:r>"#,
            "a b & ’c",
        ),
        ("<w:r><w:t> a </w:t></w:r><w:r><w:t>b</w:t></w:r>", "ab"),
        (
            "<w:r><w:t>a</w:t><w:tab/><w:t>b</w:t><w:br/><w:t>c</w:t><w:cr/><w:t>d</w:t></w:r>",
            "a\tb\nc\nd",
        ),
        (
            "<w:r><w:t>non</w:t><w:noBreakHyphen/><w:t>stop light</w:t><w:softHyphen/><w:t>ing</w:t></w:r>",
            "non\u{2011}stop lighting",
        ),
        (
            r#"<w:r><w:sym w:font="Symbol" w:char="F061"/><w:t>-moth</w:t></w:r>"#,
            "α-moth",
        ),
        (
            r#"<w:r><w:rPr><w:vanish/></w:rPr><w:t>no</w:t></w:r><w:r><w:t>yes</w:t></w:r>"#,
            "yes",
        ),
        (
            r#"<w:r><w:rPr><w:rStyle w:val="Hid"/></w:rPr><w:t>no</w:t></w:r><w:r><w:t>yes</w:t></w:r>"#,
            "yes",
        ),
        (
            r#"<w:hyperlink w:anchor="x"><w:r><w:t>link</w:t></w:r></w:hyperlink>"#,
            "link",
        ),
        (
            "<w:smartTag><w:r><w:t>smart</w:t></w:r></w:smartTag>",
            "smart",
        ),
        (
            "<w:sdt><w:sdtPr><w:tag w:val=\"x\"/></w:sdtPr><w:sdtContent><w:r><w:t>control</w:t></w:r></w:sdtContent></w:sdt>",
            "control",
        ),
        (
            "<w:sdt><w:sdtPr><w:showingPlcHdr/></w:sdtPr><w:sdtContent><w:r><w:t>Click here</w:t></w:r></w:sdtContent></w:sdt><w:r><w:t>x</w:t></w:r>",
            "x",
        ),
        (
            "<w:r><w:ruby><w:rubyPr/><w:rt><w:r><w:t>above</w:t></w:r></w:rt><w:rubyBase><w:r><w:t>base</w:t></w:r></w:rubyBase></w:ruby></w:r>",
            "base",
        ),
        (
            "<w:r><w:t>n</w:t></w:r><m:oMath><m:r><m:t>x+1</m:t></m:r></m:oMath><w:r><w:t>m</w:t></w:r>",
            "nm",
        ),
        ("<w:r><w:t><![CDATA[a<b]]></w:t></w:r>", "a<b"),
        ("<w:r><w:t>a\nb</w:t></w:r>", "a b"),
    ];
    for (runs, expected) in cases {
        assert_eq!(
            read(&format!("<w:p>{runs}</w:p>")).text.content(),
            expected,
            "{runs}"
        );
    }
}

#[test]
fn tracked_changes_by_case() {
    let cases = [
        (
            "<w:ins><w:r><w:t>in</w:t></w:r></w:ins><w:del><w:r><w:delText>out</w:delText></w:r></w:del>",
            "in",
        ),
        (
            "<w:moveFrom><w:r><w:t>away</w:t></w:r></w:moveFrom><w:moveTo><w:r><w:t>here</w:t></w:r></w:moveTo>",
            "here",
        ),
        (
            "<w:r><w:rPr><w:b/><w:rPrChange><w:rPr><w:vanish/></w:rPr></w:rPrChange></w:rPr><w:t>shown</w:t></w:r>",
            "shown",
        ),
    ];
    for (runs, expected) in cases {
        let file = read(&format!("<w:p>{runs}</w:p>"));
        assert_eq!(file.text.content(), expected, "{runs}");
    }
    let deleted_mark = "<w:p><w:pPr><w:rPr><w:del/></w:rPr></w:pPr><w:r><w:t xml:space=\"preserve\">The lamps </w:t></w:r></w:p>";
    let file = read(&format!("{deleted_mark}{}", p("glow.")));
    assert_eq!(shown(&file.text), ["paragraph: The lamps glow."]);
    assert_eq!(file.remarks.len(), 1, "{:?}", file.remarks);
    assert!(read(&p("x")).remarks.is_empty());
}

#[test]
fn styles_and_properties_say_what_a_paragraph_is() {
    let style = |id: &str| format!("<w:pStyle w:val=\"{id}\"/>");
    let cases = [
        (style("T"), "heading"),
        (style("H1"), "heading"),
        ("<w:outlineLvl w:val=\"1\"/>".to_owned(), "heading"),
        (style("Q"), "block quotation"),
        (style("L"), "list item"),
        (
            "<w:numPr><w:numId w:val=\"4\"/></w:numPr>".to_owned(),
            "list item",
        ),
        (
            format!("{}<w:numPr><w:numId w:val=\"0\"/></w:numPr>", style("L")),
            "paragraph",
        ),
        (style("Bib"), "reference"),
        (style("Quote"), "block quotation"),
        (style("Unknown"), "paragraph"),
        (
            "<w:pPrChange><w:pPr><w:pStyle w:val=\"H1\"/></w:pPr></w:pPrChange>".to_owned(),
            "paragraph",
        ),
    ];
    for (properties, expected) in cases {
        let file = read(&pp(&properties, "Moths come to the lamps."));
        let kinds: Vec<_> = file
            .text
            .blocks()
            .iter()
            .map(|block| block.kind.name())
            .collect();
        assert_eq!(kinds, [expected], "{properties}");
    }
    let bold = |text: &str| format!("<w:p><w:r><w:rPr><w:b/></w:rPr><w:t>{text}</w:t></w:r></w:p>");
    assert_read(
        &[
            bold("Lamps and moths"),
            bold("Lamps draw moths."),
            p("References"),
            p("Harrow, A. (2014). Lamps."),
        ]
        .concat(),
        &[
            "heading: Lamps and moths",
            "paragraph: Lamps draw moths.",
            "heading: References",
            "reference: Harrow, A. (2014). Lamps.",
        ],
    );
}

#[test]
fn paragraphs_indented_from_the_body_are_block_quotations() {
    let body = p(
        "The lamps were switched off at midnight, and in the morning the moths were counted again in the meadow.",
    );
    let words = "the moths returned to the meadow within a week of the change";
    let cases = [
        ("<w:ind w:left=\"720\"/>", true),
        ("<w:pStyle w:val=\"In\"/>", true),
        ("<w:ind w:left=\"400\" w:right=\"400\"/>", true),
        ("<w:ind w:left=\"1cm\"/>", true),
        ("<w:ind w:left=\"400\"/>", false),
        ("<w:ind w:left=\"720\" w:hanging=\"720\"/>", false),
        ("<w:ind w:firstLine=\"720\"/>", false),
        ("<w:ind w:left=\"720\"/><w:jc w:val=\"center\"/>", false),
        ("<w:pStyle w:val=\"In\"/><w:ind w:left=\"0\"/>", false),
    ];
    for (properties, expected) in cases {
        let file = read(&format!("{body}{}{body}", pp(properties, words)));
        let kind = file.text.blocks()[1].kind;
        assert_eq!(kind == BlockKind::BlockQuotation, expected, "{properties}");
    }
    // Two in a row are one quotation; a few words are an address; a document indented as a whole is not one.
    let set_in = |text: &str| pp("<w:ind w:left=\"720\"/>", text);
    let file = read(
        &[
            body.clone(),
            set_in(words),
            set_in("and stayed"),
            body.clone(),
            set_in("Lamp Street 4"),
        ]
        .concat(),
    );
    let kinds: Vec<_> = file
        .text
        .blocks()
        .iter()
        .map(|block| block.kind.name())
        .collect();
    assert_eq!(
        kinds,
        ["paragraph", "block quotation", "paragraph", "paragraph"]
    );
    let file = read(&[set_in(words), set_in(words), p("Lamps")].concat());
    assert!(
        file.text
            .blocks()
            .iter()
            .all(|block| block.kind == BlockKind::Paragraph)
    );
}

#[test]
fn tables_and_text_boxes() {
    let cell = |inside: &str| format!("<w:tc><w:tcPr/>{inside}</w:tc>");
    let table = format!(
        "<w:tbl><w:tblPr/><w:tr>{}{}</w:tr><w:tr>{}{}</w:tr></w:tbl>",
        cell(&p("species")),
        cell(&p("count")),
        cell(&p("hawk-moth")),
        cell(&p("3"))
    );
    assert_read(
        &[p("Before."), table, p("Behind.")].concat(),
        &[
            "paragraph: Before.",
            "table: species\tcount\nhawk-moth\t3",
            "paragraph: Behind.",
        ],
    );
    let long =
        "The lamps were switched off at midnight and the moths came back to the meadow ".repeat(3);
    let layout = format!(
        "<w:tbl><w:tr>{}{}</w:tr></w:tbl>",
        cell(&p("Summary")),
        cell(&p(&long))
    );
    assert_read(
        &layout,
        &["paragraph: Summary", &format!("paragraph: {}", long.trim())],
    );
    let text_box = "<w:txbxContent><w:p><w:r><w:t>In the box.</w:t></w:r></w:p></w:txbxContent>";
    let twice = format!(
        "<w:p><w:r><w:t>Around</w:t></w:r><w:r><mc:AlternateContent><mc:Choice Requires=\"wps\">{text_box}</mc:Choice><mc:Fallback><w:pict><v:textbox>{text_box}</v:textbox></w:pict></mc:Fallback></mc:AlternateContent></w:r><w:r><w:t> it.</w:t></w:r></w:p>"
    );
    let twice = twice.replace("<w:t> it.", "<w:t xml:space=\"preserve\"> it.");
    assert_read(&twice, &["paragraph: Around it.", "paragraph: In the box."]);
}

#[test]
fn broken_documents_are_refused() {
    let refusal = |bytes: Vec<u8>| from_bytes(bytes, Format::Docx).map(|_| ()).unwrap_err();
    let types: (&str, &[u8]) = ("[Content_Types].xml", b"<Types/>");
    assert!(matches!(refusal(zipped(&[types])), Unreadable::Damaged(_)));
    assert!(matches!(
        refusal(zipped(&[("content.xml", b"<a/>")])),
        Unreadable::OtherFormat { .. }
    ));
    assert!(matches!(
        refusal(zipped(&[types, ("word/document.xml", b"<a><b>")])),
        Unreadable::Damaged(_)
    ));
    let bomb: (&str, &[u8]) = (
        "word/document.xml",
        b"<!DOCTYPE a [<!ENTITY b \"b\">]><a>&b;</a>",
    );
    assert!(matches!(
        refusal(zipped(&[types, bomb])),
        Unreadable::Excessive(_)
    ));
    // The main part alone is enough.
    let alone = format!(
        "<w:document {DECLARED}><w:body>{}</w:body></w:document>",
        p("Lamps.")
    );
    let file = read_file(zipped(&[("word/document.xml", alone.as_bytes())]));
    assert_eq!(shown_blocks(&file), ["paragraph: Lamps."]);
}

fn shown_blocks(file: &ReadFile) -> Vec<String> {
    shown(&file.text)
}

#[test]
fn a_hundred_thousand_paragraphs_are_read_quickly() {
    let started = std::time::Instant::now();
    let file = read(&p("The lamps were switched off at midnight.").repeat(100_000));
    assert_eq!(file.text.blocks().len(), 100_000);
    assert!(started.elapsed().as_secs() < 30, "{:?}", started.elapsed());
}
