//! Where the marks of a comment stand in Word documents.

use super::*;

#[track_caller]
pub(super) fn assert_marked(body: &str, words: &[&str], expected: &str) {
    let (text, copy) = commented(&docx(body, None), Format::Docx, words);
    let document = part(&copy, "word/document.xml");
    let inside = document
        .split("<w:body>")
        .nth(1)
        .unwrap()
        .split("</w:body>")
        .next()
        .unwrap();
    assert_eq!(inside, expected);
    let found: Vec<String> = anchored(&document)
        .into_iter()
        .map(|(_, text)| text)
        .collect();
    assert_eq!(found, words);
    assert_marks_in_order(&document);
    assert_reads_the_same(&text, &copy, Format::Docx);
}

#[test]
fn a_run_is_cut_in_two_that_look_the_same() {
    let run = |text: &str| {
        format!(
            "<w:r w:rsidR=\"00A1\"><w:rPr><w:i/></w:rPr><w:t xml:space=\"preserve\">{text}</w:t></w:r>"
        )
    };
    assert_marked(
        &format!("<w:p>{}</w:p>", run("The lamps glow at night.")),
        &["lamps glow"],
        &format!(
            "<w:p>{}{START}{}{END}{SIGN}{}</w:p>",
            run("The "),
            run("lamps glow"),
            run(" at night.")
        ),
    );
    // Blanks that did not count before do not count now.
    assert_marked(
        "<w:p><w:r><w:t> The lamps glow. </w:t></w:r></w:p>",
        &["lamps"],
        &format!(
            "<w:p><w:r><w:t xml:space=\"preserve\">The </w:t></w:r>{START}<w:r><w:t xml:space=\"preserve\">lamps</w:t></w:r>{END}{SIGN}<w:r><w:t xml:space=\"preserve\"> glow.</w:t></w:r></w:p>"
        ),
    );
}

#[test]
fn whole_runs_are_not_cut() {
    let runs = "<w:r><w:t>The</w:t></w:r><w:r><w:t xml:space=\"preserve\"> lamps</w:t><w:t> </w:t></w:r><w:r><w:t>glow</w:t></w:r>";
    assert_marked(
        &format!("<w:p>{runs}</w:p>").replace("<w:t> </w:t>", ""),
        &["The lamps"],
        &format!(
            "<w:p>{START}<w:r><w:t>The</w:t></w:r><w:r><w:t xml:space=\"preserve\"> lamps</w:t></w:r>{END}{SIGN}<w:r><w:t>glow</w:t></w:r></w:p>"
        ),
    );
}

#[test]
fn a_passage_may_begin_between_the_elements_of_a_run() {
    assert_marked(
        "<w:p><w:r><w:rPr><w:b/></w:rPr><w:t>one</w:t><w:tab/><w:t>two</w:t></w:r></w:p>",
        &["two"],
        &format!(
            "<w:p><w:r><w:rPr><w:b/></w:rPr><w:t>one</w:t><w:tab/></w:r>{START}<w:r><w:rPr><w:b/></w:rPr><w:t>two</w:t></w:r>{END}{SIGN}</w:p>"
        ),
    );
}

#[test]
fn in_links_and_tracked_insertions_the_sign_stands_behind_them() {
    for wrapper in ["ins", "hyperlink", "moveTo", "smartTag"] {
        let around = |inside: &str| format!("<w:p><w:{wrapper}>{inside}</w:{wrapper}>");
        assert_marked(
            &format!("{}{}</w:p>", around(&t("lamps glow")), t("!")),
            &["lamps"],
            &format!(
                "{}{SIGN}{}</w:p>",
                around(&format!("{START}{}{END}{}", t("lamps"), t(" glow"))),
                t("!")
            ),
        );
    }
}

#[test]
fn passages_may_touch_overlap_and_span_paragraphs() {
    let p = |text: &str| format!("<w:p><w:r><w:t>{text}</w:t></w:r></w:p>");
    let body = [
        p("The lamps glow &amp; the moths"),
        "<w:tbl><w:tr><w:tc>".to_owned(),
        p("come"),
        "</w:tc></w:tr></w:tbl>".to_owned(),
        p("to them."),
    ]
    .concat();
    let bytes = docx(&body, None);
    let words = [
        "The lamps",
        "lamps glow & the moths",
        " glow",
        "moths\n\ncome\n\nto",
    ];
    let (text, copy) = commented(&bytes, Format::Docx, &words);
    let found: Vec<String> = anchored(&part(&copy, "word/document.xml"))
        .into_iter()
        .map(|(_, text)| text)
        .collect();
    assert_eq!(
        found,
        [
            "The lamps",
            "lamps glow & the moths",
            " glow",
            "mothscometo"
        ]
    );
    assert_reads_the_same(&text, &copy, Format::Docx);
}

#[test]
fn where_no_comment_may_stand_the_call_or_the_box_is_marked() {
    let call = "<w:r><w:footnoteReference w:id=\"2\"/></w:r>";
    assert_call(
        &format!("<w:p><w:r><w:t>Lamps glow.</w:t></w:r>{call}</w:p>"),
        "on the lamps",
        &format!("<w:p><w:r><w:t>Lamps glow.</w:t></w:r>{START}{call}{END}{SIGN}</w:p>"),
    );
    let text_box = "<w:r><mc:AlternateContent><mc:Choice><w:txbxContent><w:p><w:r><w:t>In the box.</w:t></w:r></w:p></w:txbxContent></mc:Choice><mc:Fallback/></mc:AlternateContent></w:r>";
    assert_call(
        &format!("<w:p><w:r><w:t>Lamps.</w:t></w:r>{text_box}</w:p>"),
        "the box",
        &format!("<w:p><w:r><w:t>Lamps.</w:t></w:r>{START}{text_box}{END}{SIGN}</w:p>"),
    );
}

#[track_caller]
pub(super) fn assert_call(body: &str, words: &str, expected: &str) {
    let (text, copy) = commented(&docx(body, None), Format::Docx, &[words]);
    let document = part(&copy, "word/document.xml");
    assert!(document.contains(expected), "{document}");
    assert_reads_the_same(&text, &copy, Format::Docx);
}

#[test]
fn the_sign_stands_outside_of_content_controls_around_paragraphs() {
    let p = |inside: &str| format!("<w:p><w:pPr><w:jc w:val=\"left\"/></w:pPr>{inside}</w:p>");
    let control = |inside: &str| format!("<w:sdt><w:sdtContent>{inside}</w:sdtContent></w:sdt>");
    let marked = format!("{START}{}{END}", t("lamps"));
    assert_marked(
        &[control(&p(&t("lamps"))), p(&t("Behind."))].concat(),
        &["lamps"],
        &[control(&p(&marked)), p(&format!("{SIGN}{}", t("Behind.")))].concat(),
    );
    // Inside the last one it can only stand before; LibreOffice needs no more than that.
    let bytes = docx(&[p(&t("Before.")), control(&p(&t("lamps")))].concat(), None);
    let (text, copy) = commented(&bytes, Format::Docx, &["lamps"]);
    let document = part(&copy, "word/document.xml");
    assert!(
        document.contains(&p(&format!("{SIGN}{}", t("Before.")))),
        "{document}"
    );
    assert_reads_the_same(&text, &copy, Format::Docx);
}
