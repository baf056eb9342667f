//! What holds of every document, however broken.

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
