//! Small documents, built here, and what is read from them.

use proptest::prelude::*;

use crate::reading::package::tests::{nested, zipped};
use crate::reading::{Format, ReadFile, Unreadable, from_bytes};
use crate::text::{CiteTarget, Text};

const DECLARED: &str = r#"xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0" xmlns:draw="urn:oasis:names:tc:opendocument:xmlns:drawing:1.0" xmlns:fo="urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0" xmlns:svg="urn:oasis:names:tc:opendocument:xmlns:svg-compatible:1.0" xmlns:dc="http://purl.org/dc/elements/1.1/""#;

const STYLES: &str = r#"
<style:style style:name="Standard" style:family="paragraph"/>
<style:style style:name="Quotations" style:family="paragraph" style:parent-style-name="Standard"/>
<style:style style:name="My_20_quotes" style:display-name="My own" style:family="paragraph" style:parent-style-name="Quotations"/>
<style:style style:name="Bibliography_20_1" style:display-name="Bibliography 1" style:family="paragraph"/>
<style:style style:name="In" style:family="paragraph"><style:paragraph-properties fo:margin-left="0.5in"/></style:style>
<style:style style:name="B" style:family="text"><style:text-properties fo:font-weight="bold"/></style:style>
<style:style style:name="Hid" style:family="text"><style:text-properties text:display="none"/></style:style>
<style:style style:name="First" style:family="paragraph" style:master-page-name="Standard"><style:paragraph-properties style:page-number="113"/></style:style>"#;

/// A document with the given text and master page.
fn document(body: &str, master: &str) -> Vec<u8> {
    let content = format!(
        "<office:document-content {DECLARED}><office:automatic-styles/><office:body><office:text>{body}</office:text></office:body></office:document-content>"
    );
    let styles = format!(
        "<office:document-styles {DECLARED}><office:styles>{STYLES}</office:styles><office:master-styles><style:master-page style:name=\"Standard\">{master}</style:master-page></office:master-styles></office:document-styles>"
    );
    zipped(&[
        ("mimetype", b"application/vnd.oasis.opendocument.text"),
        ("content.xml", content.as_bytes()),
        ("styles.xml", styles.as_bytes()),
    ])
}

fn read(body: &str) -> ReadFile {
    from_bytes(document(body, ""), Format::Odt).expect("the document is sound")
}

fn shown(text: &Text) -> Vec<String> {
    let block =
        |block: &crate::text::Block| format!("{}: {}", block.kind.name(), text.slice(block.range));
    text.blocks().iter().map(block).collect()
}

#[track_caller]
fn assert_read(body: &str, expected: &[&str]) {
    assert_eq!(shown(&read(body).text), expected, "{body}");
}

#[test]
fn characters_by_case() {
    let cases = [
        ("  a \n  b<text:s/>c<text:s text:c=\"2\"/>d ", "a b c  d"),
        ("a<text:span> </text:span> b", "a b"),
        ("a<text:tab/>b<text:line-break/>c", "a\tb\nc"),
        ("a &amp; &#8217;b", "a & ’b"),
        (
            "<text:span text:style-name=\"Hid\">no</text:span>yes",
            "yes",
        ),
        ("<text:a>link</text:a>", "link"),
        (
            "a<office:annotation><dc:creator>X</dc:creator><text:p>remark</text:p></office:annotation>b<office:annotation-end/>",
            "ab",
        ),
        (
            "<text:ruby><text:ruby-base>base</text:ruby-base><text:ruby-text>above</text:ruby-text></text:ruby>",
            "base",
        ),
        (
            "a<x:content-control xmlns:x=\"urn:x\">in</x:content-control>b",
            "ainb",
        ),
        (
            "a<x:content-control xmlns:x=\"urn:x\" x:showing-place-holder=\"true\">Click here</x:content-control>b",
            "ab",
        ),
        ("n<m:math xmlns:m=\"urn:m\"><m:mi>x</m:mi></m:math>m", "nm"),
        ("a<text:change-start/>in<text:change-end/>", "ain"),
        (
            "<draw:frame><draw:image/><svg:title>picture</svg:title></draw:frame>x",
            "x",
        ),
    ];
    for (inside, expected) in cases {
        let file = read(&format!("<text:p>{inside}</text:p>"));
        assert_eq!(file.text.content(), expected, "{inside}");
    }
    let many = read("<text:p>a<text:s text:c=\"99999999\"/>b</text:p>");
    assert!(many.text.content().len() < 2000);
}

#[test]
fn blocks_by_style_and_place() {
    let deleted = "<text:tracked-changes><text:changed-region><text:deletion><text:p>gone</text:p></text:deletion></text:changed-region></text:tracked-changes>";
    let body = [
        deleted,
        "<text:h text:outline-level=\"2\">Lamps</text:h>",
        "<text:p text:style-name=\"My_20_quotes\">One quotation</text:p>",
        "<text:p text:style-name=\"Quotations\">of two paragraphs</text:p>",
        "<text:list><text:list-item><text:p>an item</text:p></text:list-item></text:list>",
        "<text:p text:style-name=\"Bibliography_20_1\">Harrow, A. (2014). Lamps.</text:p>",
        "<table:table><table:table-header-rows><table:table-row><table:table-cell><text:p>species</text:p></table:table-cell><table:table-cell><text:p>count</text:p></table:table-cell></table:table-row></table:table-header-rows><table:table-row><table:table-cell><text:p>moth</text:p></table:table-cell><table:covered-table-cell><text:p>x</text:p></table:covered-table-cell></table:table-row></table:table>",
        "<text:table-of-content><text:table-of-content-source><text:p>template</text:p></text:table-of-content-source><text:index-body><text:p>Lamps 3</text:p></text:index-body></text:table-of-content>",
        "<text:p>Around<draw:frame><draw:text-box><text:p>In the box.</text:p></draw:text-box></draw:frame> it.</text:p>",
        "<text:section text:name=\"X_BIBL {} CSL_BIBLIOGRAPHY\"><text:p>Okoro, B. (2016). Moths.</text:p></text:section>",
        "<text:section text:display=\"none\"><text:p>hidden</text:p></text:section>",
        "<text:p><text:span text:style-name=\"B\">Meadow flowers</text:span></text:p>",
        "<text:p>Thanks.</text:p>",
    ]
    .concat();
    let file = read(&body);
    assert_eq!(
        shown(&file.text),
        [
            "heading: Lamps",
            "block quotation: One quotation\n\nof two paragraphs",
            "list item: an item",
            "reference: Harrow, A. (2014). Lamps.",
            "table: species\tcount\nmoth",
            "table: Lamps 3",
            "paragraph: Around it.",
            "paragraph: In the box.",
            "reference: Okoro, B. (2016). Moths.",
            "heading: Meadow flowers",
            "paragraph: Thanks.",
        ]
    );
    assert_eq!(file.remarks.len(), 1, "{:?}", file.remarks);
}

#[test]
fn indented_paragraphs_are_block_quotations() {
    let long =
        "The lamps were switched off at midnight, and in the morning the moths were counted.";
    let body = format!(
        "<text:p>{long}</text:p><text:p text:style-name=\"In\">{long}</text:p><text:p>{long}</text:p>"
    );
    let kinds: Vec<_> = read(&body)
        .text
        .blocks()
        .iter()
        .map(|block| block.kind.name())
        .collect();
    assert_eq!(kinds, ["paragraph", "block quotation", "paragraph"]);
}

#[test]
fn notes_and_citations() {
    let stored = r#"X_ITEM CSL_CITATION {"citationItems":[{"id":7,"itemData":{"id":7,"title":"Lamps"},"locator":"3"}]} RNDabc"#;
    let name = stored.replace('"', "&quot;");
    let body = format!(
        "<text:p>Lamps<text:note text:note-class=\"footnote\"><text:note-citation>1</text:note-citation><text:note-body><text:p>A note.</text:p></text:note-body></text:note> glow <text:reference-mark-start text:name=\"{name}\"/>(Harrow, 2014, p. 3)<text:reference-mark-end text:name=\"{name}\"/> and <text:bibliography-mark text:identifier=\"okoro2016\" text:bibliography-type=\"book\" text:author=\"Okoro, Ben; Survey\" text:title=\"Moths\" text:year=\"2016\">[okoro2016]</text:bibliography-mark>.</text:p>"
    );
    let file = read(&body);
    assert_eq!(
        shown(&file.text),
        [
            "paragraph: Lamps glow (Harrow, 2014, p. 3) and [okoro2016].",
            "footnote: A note."
        ]
    );
    let [call] = file.text.note_calls() else {
        panic!("there is one call");
    };
    assert_eq!((call.at, file.text.slice(call.note)), (5, "A note."));
    let recorded: Vec<_> = file
        .text
        .recorded()
        .iter()
        .map(|citation| {
            (
                file.text.slice(citation.range),
                citation.cites[0].target.clone(),
            )
        })
        .collect();
    let key = |key: &str| CiteTarget::Key(key.to_owned());
    assert_eq!(
        recorded,
        [
            ("(Harrow, 2014, p. 3)", key("7")),
            ("[okoro2016]", key("okoro2016"))
        ]
    );
    assert_eq!(file.carried.len(), 2);
    assert!(file.carried[1].csl_json.contains("\"raw\":\"2016\""));
}

#[test]
fn an_ordered_list_numbers_the_references() {
    let styles = |style: &str| {
        let level = |number: u8, kind: &str| {
            format!("<text:list-level-style-{kind} text:level=\"{number}\"")
        };
        format!(
            "<text:list-style style:name=\"L\">{} style:num-format=\"1\" style:num-suffix=\".\"/>{} style:num-format=\"a\"/>\
             {} text:bullet-char=\"–\"/></text:list-style>{style}",
            level(1, "number"),
            level(2, "number"),
            level(3, "bullet"),
        )
    };
    let items = "<text:list-item><text:p>Harrow, A. (2014). Lamps.</text:p></text:list-item>\
                 <text:list-item><text:p text:style-name=\"Bibliography_20_1\">Okoro, B. (2016). Moths.</text:p></text:list-item>";
    let list = |name: &str, inside: &str| format!("<text:list{name}>{inside}</text:list>");
    let named = " text:style-name=\"L\"";
    let inner = |inside: &str| list(named, &format!("<text:list-item>{inside}</text:list-item>"));
    for (list, highest) in [
        (list(named, items), Some(2)),
        (list("", items), None),
        (inner(&list("", items)), None),
        (inner(&inner(&list("", items))), None),
    ] {
        let body = format!("<text:h>References</text:h>{list}");
        let text = from_bytes(document(&body, &styles("")), Format::Odt);
        assert_eq!(text.unwrap().text.highest_reference(), highest, "{list}");
    }
}

#[test]
fn pages_only_where_they_are_recorded_and_numbered() {
    let breaks = "<text:p>one<text:soft-page-break/>two</text:p>";
    let page = |body: &str, master: &str| {
        let file = from_bytes(document(body, master), Format::Odt).unwrap();
        let at = file.text.content().find("two").unwrap();
        file.text
            .pages()
            .at(at)
            .map(|page| page.as_str().to_owned())
    };
    let footer =
        "<style:footer><text:p><text:page-number>1</text:page-number></text:p></style:footer>";
    assert_eq!(page(breaks, footer).as_deref(), Some("2"));
    assert_eq!(page(breaks, ""), None);
    let stated = breaks.replace("<text:p>", "<text:p text:style-name=\"First\">");
    assert_eq!(page(&stated, "").as_deref(), Some("114"));
    assert_eq!(
        page("<text:p>one</text:p><text:p>two</text:p>", footer),
        None
    );
}

#[test]
fn broken_documents_are_refused() {
    let refusal = |members: &[(&str, &[u8])]| {
        from_bytes(zipped(members), Format::Odt)
            .map(|_| ())
            .unwrap_err()
    };
    let kind: (&str, &[u8]) = ("mimetype", b"application/vnd.oasis.opendocument.text");
    assert!(matches!(refusal(&[kind]), Unreadable::Damaged(_)));
    assert!(matches!(
        refusal(&[(
            "mimetype",
            b"application/vnd.oasis.opendocument.spreadsheet"
        )]),
        Unreadable::OtherFormat { .. }
    ));
    assert!(matches!(
        refusal(&[("word/document.xml", b"<a/>")]),
        Unreadable::OtherFormat { .. }
    ));
    let manifest = b"<m:manifest xmlns:m=\"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0\"><m:file-entry><m:encryption-data/></m:file-entry></m:manifest>";
    assert_eq!(
        refusal(&[
            kind,
            ("META-INF/manifest.xml", manifest),
            ("content.xml", b"\x01\x02")
        ]),
        Unreadable::Protected
    );
    assert_read("", &[]);
}

/// What holds of every package, however broken.
mod promises {
    use super::*;

    fn assert_sound(text: &Text) -> Result<(), TestCaseError> {
        let mut behind = 0;
        for block in text.blocks() {
            prop_assert!(block.range.start() >= behind, "blocks overlap");
            prop_assert!(!text.slice(block.range).is_empty(), "a block is empty");
            behind = block.range.end();
        }
        for call in text.note_calls() {
            prop_assert!(!text.slice(call.note).is_empty(), "a call leads nowhere");
        }
        Ok(())
    }

    /// Elements of documents in any nesting.
    fn body() -> impl Strategy<Value = String> {
        let closing = ELEMENTS.len() + ELEMENTS.len() / 2;
        prop::collection::vec(0..closing, 0..60).prop_map(|moves| nested(ELEMENTS, &moves))
    }

    const ELEMENTS: &[&str] = &[
        "<text:p>",
        "<text:h text:outline-level=\"99\">",
        "lamp é&amp; ",
        "<text:s text:c=\"3\"/>",
        "<text:note text:note-class=\"endnote\">",
        "<text:note-body>",
        "<draw:frame>",
        "<table:table>",
        "<table:table-row>",
        "<table:table-cell>",
        "<text:list>",
        "<text:soft-page-break/>",
        "<text:span>",
        "\n",
        "<text:reference-mark-start text:name=\"CSL_CITATION {&quot;citationItems&quot;:[{&quot;id&quot;:1,&quot;itemData&quot;:{&quot;id&quot;:1}}]}\"/>",
        "<text:reference-mark-end text:name=\"CSL_CITATION {&quot;citationItems&quot;:[{&quot;id&quot;:1,&quot;itemData&quot;:{&quot;id&quot;:1}}]}\"/>",
    ];

    proptest! {
        #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn any_body_is_read(body in body()) {
            let file = from_bytes(document(&body, ""), Format::Odt);
            assert_sound(&file.expect("the package is sound").text)?;
        }

        #[test]
        fn cut_and_flipped_packages_do_no_harm(cut in 0_usize..3000, place in 0_usize..3000, byte: u8) {
            let mut bytes = document("<text:p>Lamps<text:note><text:note-body><text:p>x</text:p></text:note-body></text:note></text:p>", "");
            if let Some(spoilt) = bytes.get_mut(place) {
                *spoilt = byte;
            }
            bytes.truncate(cut.max(10));
            for format in [Format::Odt, Format::Docx] {
                if let Ok(file) = from_bytes(bytes.clone(), format) {
                    assert_sound(&file.text)?;
                }
            }
        }
    }
}
