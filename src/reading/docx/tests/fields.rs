//! Fields, stored citations and lists of references.

use super::*;

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
        shown(&text),
        [
            "reference: [1]\tA. Harrow, Lamps, 2014.",
            "reference: [2]\tB. Okoro, Moths, 2016."
        ]
    );
    assert_eq!(text.highest_reference(), Some(2));
}
