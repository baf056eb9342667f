//! What holds of any runs and any passages.

use proptest::prelude::*;

use super::*;

/// What begins a field.
fn begin(instruction: &str) -> String {
    let sign = |kind: &str| format!("<w:r><w:fldChar w:fldCharType=\"{kind}\"/></w:r>");
    format!(
        "{}<w:r><w:instrText>{instruction}</w:instrText></w:r>{}",
        sign("begin"),
        sign("separate")
    )
}

const END_OF_FIELD: &str = "<w:r><w:fldChar w:fldCharType=\"end\"/></w:r>";

/// Holds the marks to stand outside of all fields but links, by the text of the part alone.
fn assert_marks_around_fields(document: &str) {
    let mut in_field = false;
    for tag in document.split('<').skip(1) {
        if tag.starts_with("w:instrText>REF") || tag.starts_with("w:fldSimple") {
            in_field = true;
        } else if tag.contains("\"end\"") || tag.starts_with("/w:fldSimple") {
            in_field = false;
        } else if tag.starts_with("w:comment") {
            assert!(!in_field, "a mark in a field: {document}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever the runs and the passages, the copy reads as the draft does and marks just the passages.
    #[test]
    fn any_passages_of_any_runs(
        pieces in prop::collection::vec(("[a-c&é ]{0,4}", 0_usize..11), 1..12),
        places in prop::collection::vec((0_usize..40, 1_usize..12), 1..6),
    ) {
        let mut body = String::from("<w:p>");
        for (text, kind) in &pieces {
            let text = text.replace('&', "&amp;");
            let run = format!("<w:r><w:rPr><w:b/></w:rPr><w:t xml:space=\"preserve\">{text}</w:t></w:r>");
            body.push_str(&match kind {
                0 => format!("<w:ins w:id=\"1\">{run}</w:ins>"),
                1 => format!("<w:hyperlink>{run}{run}</w:hyperlink>"),
                2 => format!("<w:r><w:t>{text}</w:t><w:tab/><w:t> x </w:t></w:r>"),
                3 => format!("</w:p><w:p>{run}"),
                4 => format!("<w:del w:id=\"2\"><w:r><w:delText>gone</w:delText></w:r></w:del>{run}"),
                5 => format!("<w:sdt><w:sdtContent>{run}</w:sdtContent></w:sdt>"),
                6 => format!("{}{run}{}", begin("REF x"), END_OF_FIELD),
                7 => format!("<w:fldSimple w:instr=\"REF x\">{run}</w:fldSimple>"),
                8 => format!("{}{run}</w:p><w:p>{run}{}", begin("HYPERLINK x"), END_OF_FIELD),
                _ => run,
            });
        }
        body.push_str("</w:p>");
        let bytes = docx(&body, None);
        let text = from_bytes(bytes.clone(), Format::Docx).unwrap().text;
        let characters: Vec<usize> = text.content().char_indices().map(|(at, _)| at).chain([text.content().len()]).collect();
        let findings: Vec<Finding> = places
            .iter()
            .filter_map(|(from, length)| {
                let start = *characters.get(*from)?;
                let end = *characters.get(from + length)?;
                let range = ByteRange::of(start, end);
                // A passage begins and ends with characters of the file.
                (!text.slice(range).trim().is_empty()).then(|| on(&text, range, "Mend it."))
            })
            .collect();
        let copy = annotate(bytes, Format::Docx, &text, &findings).unwrap();
        let again = from_bytes(copy.clone(), Format::Docx).unwrap().text;
        prop_assert_eq!(again.content(), text.content());
        if !findings.is_empty() {
            let bare = |text: &str| -> String { text.split_whitespace().collect() };
            let found: Vec<String> = anchored(&part(&copy, "word/document.xml")).iter().map(|(_, text)| bare(text)).collect();
            let wanted = findings.iter().map(|finding| bare(&finding.draft.text));
            // Comments are numbered in order of the findings. One that touches a field stands at all of it.
            let has_fields = pieces.iter().any(|(_, kind)| matches!(kind, 6 | 7));
            for (found, wanted) in found.iter().zip(wanted) {
                prop_assert!(*found == wanted || (has_fields && found.contains(&wanted)), "{} at {}", wanted, found);
            }
            prop_assert_eq!(found.len(), findings.len());
            assert_marks_in_order(&part(&copy, "word/document.xml"));
            assert_marks_around_fields(&part(&copy, "word/document.xml"));
        }
    }
}
