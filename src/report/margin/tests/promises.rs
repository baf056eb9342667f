//! What holds of any runs and any passages.

use proptest::prelude::*;

use super::*;

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever the runs and the passages, the copy reads as the draft does and marks just the passages.
    #[test]
    fn any_passages_of_any_runs(
        pieces in prop::collection::vec(("[a-c&é ]{0,4}", 0_usize..8), 1..12),
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
            let mut wanted: Vec<String> = findings.iter().map(|finding| bare(&finding.draft.text)).collect();
            let mut found = found;
            found.sort();
            wanted.sort();
            prop_assert_eq!(found, wanted);
            assert_marks_in_order(&part(&copy, "word/document.xml"));
        }
    }
}
