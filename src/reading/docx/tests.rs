//! Small documents, built here, and what is read from them.

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
fn told(text: &Text) -> Vec<String> {
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
    assert_eq!(told(&read(body).text), expected, "{body}");
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
    assert_eq!(told(&file.text), ["paragraph: The lamps glow."]);
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
fn what_is_set_in_from_the_body_is_a_block_quotation() {
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
    // Two in a row are one quotation; a few words are an address; a document set in as a whole is none.
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

/// A field written in runs.
fn field(instruction: &[&str], result: &str) -> String {
    let sign = |kind: &str| format!("<w:r><w:fldChar w:fldCharType=\"{kind}\"/></w:r>");
    let escaped = |text: &&str| text.replace('&', "&amp;").replace('<', "&lt;");
    let instruction: String = instruction
        .iter()
        .map(escaped)
        .map(|part| format!("<w:r><w:instrText xml:space=\"preserve\">{part}</w:instrText></w:r>"))
        .collect();
    format!(
        "{}{instruction}{}<w:r><w:t>{result}</w:t></w:r>{}",
        sign("begin"),
        sign("separate"),
        sign("end")
    )
}

const ITEM: &str = r#"{"id":7,"itemData":{"id":7,"title":"Lamps","author":[{"family":"Harrow"}],"issued":{"date-parts":[[2014]]}},"locator":"113","prefix":"see "}"#;

#[test]
fn fields_show_their_result() {
    let cases = [
        (field(&[" PAGEREF _x "], "12"), "12"),
        (field(&[" IF ", " 1 "], "yes"), "yes"),
        ("<w:fldSimple w:instr=\" SEQ Figure \"><w:r><w:t>3</w:t></w:r></w:fldSimple>".to_owned(), "3"),
        ("<w:r><w:fldChar w:fldCharType=\"begin\"/></w:r><w:r><w:instrText>XE \"moth\"</w:instrText></w:r><w:r><w:fldChar w:fldCharType=\"end\"/></w:r><w:r><w:t>x</w:t></w:r>".to_owned(), "x"),
        ("<w:r><w:fldChar w:fldCharType=\"end\"/></w:r><w:r><w:t>x</w:t></w:r>".to_owned(), "x"),
        ("<w:r><w:fldChar w:fldCharType=\"begin\"/></w:r></w:p><w:p><w:r><w:t>not lost</w:t></w:r>".to_owned(), "not lost"),
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
fn stored_citations_are_recorded_with_their_references() {
    let whole = format!(" ADDIN X_ITEM CSL_CITATION {{\"citationItems\":[{ITEM}]}} ");
    let (first, rest) = whole.split_at(whole.len() / 2);
    let nested = field(&[first, rest], "(see Harrow &amp; Okoro, 2014, p. 113)");
    let tag = |inside: &str| {
        format!(
            "<w:sdt><w:sdtPr><w:tag w:val=\"CITATION_v3_{inside}\"/></w:sdtPr><w:sdtContent><w:r><w:t>(see Harrow &amp; Okoro, 2014, p. 113)</w:t></w:r></w:sdtContent></w:sdt>"
        )
    };
    let in_tag = tag(&format!("{{\"citationItems\":[{ITEM}]}}").replace('"', "&quot;"));
    for citation in [nested, in_tag] {
        let body = format!(
            "<w:p><w:r><w:t xml:space=\"preserve\">Lamps glow </w:t></w:r>{citation}<w:r><w:t>.</w:t></w:r></w:p>"
        );
        let file = read(&body);
        assert_eq!(
            file.text.content(),
            "Lamps glow (see Harrow & Okoro, 2014, p. 113)."
        );
        let [recorded] = file.text.recorded() else {
            panic!("one citation is recorded in {body}");
        };
        assert_eq!(
            file.text.slice(recorded.range),
            "(see Harrow & Okoro, 2014, p. 113)"
        );
        assert_eq!(recorded.cites[0].target, CiteTarget::Key("7".to_owned()));
        assert_eq!(
            recorded.cites[0].locator.as_ref().unwrap().stretches,
            [("113".to_owned(), "113".to_owned())]
        );
        assert_eq!(file.carried.len(), 1);
    }
    // Without the reference itself its number says nothing.
    let bare = field(
        &[" ADDIN CSL_CITATION {\"citationItems\":[{\"id\":7}]}"],
        "(Harrow, 2014)",
    );
    let file = read(&format!("<w:p>{bare}</w:p>"));
    assert!(file.text.recorded().is_empty() && file.carried.is_empty());
}

#[test]
fn a_list_of_references_may_be_a_field_or_a_content_control() {
    let entries = [
        p("Harrow, A. (2014). Lamps."),
        p("Okoro, B. (2016). Moths."),
    ]
    .concat();
    let control = format!(
        "<w:sdt><w:sdtPr><w:bibliography/></w:sdtPr><w:sdtContent>{entries}</w:sdtContent></w:sdt>"
    );
    let begin = "<w:r><w:fldChar w:fldCharType=\"begin\"/></w:r><w:r><w:instrText>ADDIN X_BIBL {} CSL_BIBLIOGRAPHY</w:instrText></w:r><w:r><w:fldChar w:fldCharType=\"separate\"/></w:r>";
    let end = "<w:r><w:fldChar w:fldCharType=\"end\"/></w:r>";
    let spanning = entries.replacen("<w:p>", &format!("<w:p>{begin}"), 1);
    let spanning = format!("{}{end}</w:p>", spanning.strip_suffix("</w:p>").unwrap());
    for body in [control, spanning] {
        let all = format!("{}{body}{}", p("Lamps."), p("Thanks."));
        assert_read(
            &all,
            &[
                "paragraph: Lamps.",
                "reference: Harrow, A. (2014). Lamps.",
                "reference: Okoro, B. (2016). Moths.",
                "paragraph: Thanks.",
            ],
        );
    }
}

#[test]
fn a_list_of_references_in_a_table_is_numbered() {
    let row = |number: u8, entry: &str| {
        let cell = |text: &str| format!("<w:tc>{}</w:tc>", p(text));
        format!(
            "<w:tr>{}{}</w:tr>",
            cell(&format!("[{number}]")),
            cell(entry)
        )
    };
    let body = format!(
        "<w:sdt><w:sdtPr><w:bibliography/></w:sdtPr><w:sdtContent><w:tbl>{}{}</w:tbl></w:sdtContent></w:sdt>",
        row(1, "A. Harrow, Lamps, 2014."),
        row(2, "B. Okoro, Moths, 2016.")
    );
    let text = read(&body).text;
    assert_eq!(
        told(&text),
        [
            "reference: [1]\tA. Harrow, Lamps, 2014.",
            "reference: [2]\tB. Okoro, Moths, 2016."
        ]
    );
    assert_eq!(text.highest_reference(), Some(2));
}

#[test]
fn notes_stand_behind_the_text_in_order_of_their_calls() {
    let call = |kind: &str, id: u32| format!("<w:r><w:{kind}Reference w:id=\"{id}\"/></w:r>");
    let body = format!(
        "<w:p><w:r><w:t>Lamps</w:t></w:r>{}<w:r><w:t xml:space=\"preserve\"> glow.</w:t></w:r>{}</w:p>{}<w:p>{}</w:p>",
        call("footnote", 3),
        call("endnote", 2),
        p("More."),
        call("footnote", 2)
    );
    let footnotes = format!(
        "<w:footnote w:type=\"separator\" w:id=\"0\">{}</w:footnote><w:footnote w:id=\"2\">{}</w:footnote><w:footnote w:id=\"3\"><w:p><w:r><w:footnoteRef/></w:r><w:r><w:t>First &amp; foremost.</w:t></w:r></w:p>{}</w:footnote>",
        p("line"),
        p("Third."),
        p("On and on.")
    );
    let endnotes = format!("<w:endnote w:id=\"2\">{}</w:endnote>", p("Second."));
    let file = read_file(document(&body, &footnotes, &endnotes, ""));
    let text = &file.text;
    assert_eq!(
        told(text),
        [
            "paragraph: Lamps glow.",
            "paragraph: More.",
            "footnote: First & foremost.",
            "footnote: On and on.",
            "footnote: Second.",
            "footnote: Third.",
        ]
    );
    let calls: Vec<(&str, &str)> = text
        .note_calls()
        .iter()
        .map(|call| (&text.content()[..call.at], text.slice(call.note)))
        .collect();
    assert_eq!(
        calls,
        [
            ("Lamps", "First & foremost.\n\nOn and on."),
            ("Lamps glow.", "Second."),
            ("Lamps glow.\n\nMore.", "Third."),
        ]
    );
    // Each stretch leads back to the part it stood in.
    let at = text.content().find("& foremost").unwrap();
    let found: Vec<_> = text
        .origin()
        .part_ranges(crate::text::ByteRange::of(at, at + 4))
        .collect();
    assert!(
        found.iter().all(|found| found.part == "word/footnotes.xml"),
        "{found:?}"
    );
    let Origin::Package { parts, .. } = text.origin() else {
        panic!("the origin is a package");
    };
    assert_eq!(
        parts,
        &[
            "word/document.xml",
            "word/footnotes.xml",
            "word/endnotes.xml"
        ]
    );
}

#[test]
fn pages_only_where_they_are_recorded_and_numbered() {
    let run = |inside: &str| format!("<w:p><w:r>{inside}</w:r></w:p>");
    let recorded = run("<w:lastRenderedPageBreak/><w:t>two</w:t>");
    let typed = format!(
        "{}{}",
        run("<w:br w:type=\"page\"/>"),
        run("<w:lastRenderedPageBreak/><w:t>three</w:t>")
    );
    let body = [p("one"), recorded.clone(), typed].concat();
    let footer = "<w:p><w:r><w:instrText> PAGE </w:instrText></w:r></w:p>";
    let pages = |body: &str, footer: &str| {
        let file = read_file(document(body, "", "", footer));
        let text = &file.text;
        let label = |word: &str| {
            let at = text.content().find(word)?;
            text.pages().at(at).map(|page| page.as_str().to_owned())
        };
        ["one", "two", "three"]
            .map(|word| label(word).unwrap_or_default())
            .join(",")
    };
    let start = |number: u32, kind: &str| {
        format!("<w:sectPr><w:pgNumType w:start=\"{number}\" w:fmt=\"{kind}\"/></w:sectPr>")
    };
    assert_eq!(pages(&body, footer), "1,2,3");
    assert_eq!(pages(&body, ""), ",,");
    assert_eq!(
        pages(&format!("{body}{}", start(113, "decimal")), ""),
        "113,114,115"
    );
    assert_eq!(
        pages(&format!("{body}{}", start(9, "lowerRoman")), footer),
        "ix,x,xi"
    );
    // Typed breaks alone leave the others unknown.
    assert_eq!(
        pages(
            &[p("one"), run("<w:br w:type=\"page\"/><w:t>two</w:t>")].concat(),
            footer
        ),
        ",,"
    );
    // A section of its own numbering.
    let preface = format!(
        "<w:p><w:pPr>{}</w:pPr><w:r><w:t>one</w:t></w:r></w:p>",
        start(1, "lowerRoman")
    );
    let own = [
        preface,
        recorded,
        run("<w:lastRenderedPageBreak/><w:t>three</w:t>"),
        start(1, "decimal"),
    ]
    .concat();
    assert_eq!(pages(&own, footer), "i,1,2");
}

#[test]
fn marks_of_pages_that_somebody_typed_are_pages() {
    let file = read(
        &[
            p("[p. 113]"),
            p("Lamps glow."),
            p("[p. 114]"),
            p("Moths come."),
        ]
        .concat(),
    );
    let at = file.text.content().find("Moths").unwrap();
    assert_eq!(file.text.pages().at(at).unwrap().as_str(), "114");
}

#[test]
fn broken_documents_are_told() {
    let told = |bytes: Vec<u8>| from_bytes(bytes, Format::Docx).map(|_| ()).unwrap_err();
    let types: (&str, &[u8]) = ("[Content_Types].xml", b"<Types/>");
    assert!(matches!(told(zipped(&[types])), Unreadable::Damaged(_)));
    assert!(matches!(
        told(zipped(&[("content.xml", b"<a/>")])),
        Unreadable::OtherFormat { .. }
    ));
    assert!(matches!(
        told(zipped(&[types, ("word/document.xml", b"<a><b>")])),
        Unreadable::Damaged(_)
    ));
    let bomb: (&str, &[u8]) = (
        "word/document.xml",
        b"<!DOCTYPE a [<!ENTITY b \"b\">]><a>&b;</a>",
    );
    assert!(matches!(
        told(zipped(&[types, bomb])),
        Unreadable::Excessive(_)
    ));
    // The main part alone is enough.
    let alone = format!(
        "<w:document {DECLARED}><w:body>{}</w:body></w:document>",
        p("Lamps.")
    );
    let file = read_file(zipped(&[("word/document.xml", alone.as_bytes())]));
    assert_eq!(told_alone(&file), ["paragraph: Lamps."]);
}

fn told_alone(file: &ReadFile) -> Vec<String> {
    told(&file.text)
}

#[test]
fn a_hundred_thousand_paragraphs_are_read_in_good_time() {
    let started = std::time::Instant::now();
    let file = read(&p("The lamps were switched off at midnight.").repeat(100_000));
    assert_eq!(file.text.blocks().len(), 100_000);
    assert!(started.elapsed().as_secs() < 30, "{:?}", started.elapsed());
}

/// What holds of every document, however broken.
mod promises {
    use proptest::prelude::*;

    use super::*;
    use crate::text::ByteRange;

    fn assert_sound(text: &Text) -> Result<(), TestCaseError> {
        let mut behind = 0;
        for block in text.blocks() {
            prop_assert!(block.range.start() >= behind, "blocks overlap");
            prop_assert!(!text.slice(block.range).is_empty(), "a block is empty");
            behind = block.range.end();
        }
        for citation in text.recorded() {
            prop_assert!(
                !text.slice(citation.range).is_empty(),
                "a citation is empty"
            );
        }
        Ok(())
    }

    /// Elements of documents in any nesting.
    fn body() -> impl Strategy<Value = String> {
        let closing = ELEMENTS.len() + ELEMENTS.len() / 2;
        prop::collection::vec(0..closing, 0..60).prop_map(|moves| nested(ELEMENTS, &moves))
    }

    const ELEMENTS: &[&str] = &[
        "<w:p>",
        "<w:r>",
        "<w:t>lamp é&amp; </w:t>",
        "<w:tab/>",
        "<w:br w:type=\"page\"/>",
        "<w:pPr><w:rPr><w:del/></w:rPr></w:pPr>",
        "<w:pPr><w:sectPr/></w:pPr>",
        "<w:tbl>",
        "<w:tr>",
        "<w:tc>",
        "<w:fldChar w:fldCharType=\"begin\"/>",
        "<w:fldChar w:fldCharType=\"separate\"/>",
        "<w:fldChar w:fldCharType=\"end\"/>",
        "<w:instrText>CSL_CITATION {\"citationItems\":[{\"id\":1,\"itemData\":{\"id\":1}}]}</w:instrText>",
        "<w:txbxContent>",
        "<w:sdt>",
        "<w:sdtPr><w:bibliography/></w:sdtPr>",
        "<w:footnoteReference w:id=\"1\"/>",
        "<mc:AlternateContent>",
        "<mc:Choice>",
        "<w:lastRenderedPageBreak/>",
        "<w:ins>",
    ];

    proptest! {
        #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn any_body_is_read(body in body()) {
            let note = format!("<w:footnote w:id=\"1\">{}</w:footnote>", p("A note."));
            let file = from_bytes(document(&body, &note, "", ""), Format::Docx);
            assert_sound(&file.expect("the package is sound").text)?;
        }

        /// Every word leads back to bytes of the part that spell it.
        #[test]
        fn characters_lead_back_to_their_part(words in prop::collection::vec("[a-zé&<’]{1,6}", 1..20), breaks in prop::collection::vec(0_usize..3, 20)) {
            let runs: String = words
                .iter()
                .zip(&breaks)
                .map(|(word, kind)| {
                    let escaped = word.replace('&', "&amp;").replace('<', "&lt;").replace('’', "&#8217;");
                    let next = ["", "</w:t></w:r><w:r><w:t xml:space=\"preserve\">", "</w:t></w:r></w:p><w:p><w:r><w:t xml:space=\"preserve\">"][*kind];
                    format!("{escaped} {next}")
                })
                .collect();
            let body = format!("<w:p><w:r><w:t xml:space=\"preserve\">{runs}</w:t></w:r></w:p>");
            let part = format!("<w:document {DECLARED}><w:body>{body}</w:body></w:document>");
            let file = from_bytes(zipped(&[("word/document.xml", part.as_bytes())]), Format::Docx).unwrap();
            let content = file.text.content();
            let mut at = 0;
            for word in &words {
                let start = at + content[at..].find(word.as_str()).expect("every word is read");
                at = start + word.len();
                let ranges = file.text.origin().part_ranges(ByteRange::of(start, at));
                let spelled: String = ranges.map(|found| &part[found.range.as_range()]).collect();
                let spelled = spelled.replace("&amp;", "&").replace("&lt;", "<").replace("&#8217;", "’");
                prop_assert_eq!(&spelled, word);
            }
        }
    }
}
