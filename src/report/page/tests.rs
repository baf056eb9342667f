//! The parts of a page that the demo has no case of.

use std::sync::Arc;

use proptest::prelude::*;
use scraper::{ElementRef, Html, Selector};

use super::*;
use crate::findings::{DraftReport, Finding};
use crate::report::samples;
use crate::text::{Block, BlockKind, ByteRange, MarkedText, NoteCall, Origin, Pages, Text};

fn printed(report: &CheckReport) -> Html {
    let mut out = Vec::new();
    write(report, &mut out).unwrap();
    Html::parse_document(&String::from_utf8(out).unwrap())
}

/// A report on one draft of the given blocks with the given findings.
fn report_of(
    content: &str,
    blocks: &[(BlockKind, ByteRange)],
    findings: Vec<Finding>,
) -> CheckReport {
    let blocks = blocks
        .iter()
        .map(|(kind, range)| Block {
            kind: *kind,
            range: *range,
        })
        .collect();
    let origin = Origin::Same { skipped: 0 };
    let text = Text::new(content.to_owned(), blocks, Pages::default(), origin);
    with_text(text, findings)
}

fn with_text(text: Text, findings: Vec<Finding>) -> CheckReport {
    let mut report = samples::report();
    let draft = DraftReport {
        findings,
        text: Arc::new(MarkedText::new(text)),
        ..report.drafts[0].clone()
    };
    report.drafts = vec![draft];
    report
}

/// A finding on a stretch of a content.
fn finding(content: &str, from: usize, to: usize) -> Finding {
    let mut finding = samples::cited_not_listed();
    let words = content.get(from..to).unwrap_or_default();
    finding.id = format!("cnl-{from}-{to}");
    finding.draft = samples::draft_place(words, 1, from);
    finding.draft.range = ByteRange::of(from, to);
    finding
}

fn all<'a>(page: &'a Html, selector: &str) -> Vec<ElementRef<'a>> {
    page.select(&Selector::parse(selector).unwrap()).collect()
}

fn text(element: ElementRef<'_>) -> String {
    element.text().collect()
}

/// The words that are marked for a finding.
fn marked(page: &Html, number: usize) -> String {
    let marks = all(page, &format!(".text .m[data-f='{number}']"));
    let words = marks.into_iter().flat_map(|mark| {
        mark.descendants().filter_map(|node| {
            let parent = node.parent().and_then(ElementRef::wrap)?;
            let is_own = parent
                .attr("class")
                .is_some_and(|class| class.starts_with("m "));
            is_own
                .then(|| node.value().as_text().map(|text| text.to_string()))
                .flatten()
        })
    });
    words.collect()
}

#[test]
fn findings_that_overlap_are_each_marked_whole() {
    let content = "alpha beta gamma delta";
    let whole = ByteRange::of(0, content.len());
    let findings = vec![
        finding(content, 0, 16),
        finding(content, 6, 22),
        finding(content, 6, 10),
    ];
    let report = report_of(content, &[(BlockKind::Paragraph, whole)], findings);
    let page = printed(&report);
    assert_eq!(marked(&page, 0), "alpha beta gamma");
    assert_eq!(marked(&page, 1), "beta gamma delta");
    assert_eq!(marked(&page, 2), "beta");
    // Lines below each other: the third finding's is the third.
    assert_eq!(all(&page, ".m.d3[data-f='2']").len(), 1);
    assert_eq!(all(&page, ".m.d2[data-f='1']").len(), 2);
    assert_eq!(all(&page, ".text .r").len(), 3);
}

#[test]
fn what_is_settled_says_why_and_can_be_chosen() {
    let page = printed(&samples::report());
    let leaf = text(all(&page, "#f00d-0001")[0]);
    assert!(leaf.starts_with("s1 "), "{leaf}");
    assert!(
        leaf.contains("Settled on 2026-03-02: the name of the scheme"),
        "{leaf}"
    );
    assert!(text(all(&page, "a.n.set")[0]).contains("settled by the writer"));
    assert_eq!(all(&page, "#settled").len(), 1);
    let data: serde_json::Value = serde_json::from_str(&text(all(&page, "#data")[0])).unwrap();
    let settled: Vec<i64> = data
        .as_array()
        .unwrap()
        .iter()
        .map(|row| row[3].as_i64().unwrap())
        .collect();
    assert_eq!(settled, [0, 0, 0, 1]);
    let glance = text(all(&page, "main")[0]);
    assert!(
        glance.contains("please mend: 1") && glance.contains("worth a look: 2"),
        "{glance}"
    );
}

#[test]
fn the_trail_has_the_degree_of_each_step() {
    let page = printed(&samples::report());
    let steps: Vec<String> = all(&page, ".trail li").into_iter().map(text).collect();
    let stayed = samples::close_paraphrase().stayed_close().unwrap().said();
    assert_eq!(steps[0], format!("this draft: {stayed}"));
    assert!(
        steps[1].starts_with("near copy (0.18) from notes/lamps.md, summary of harrow2019: "),
        "{}",
        steps[1]
    );
    assert_eq!(steps[2], "verbatim (0.01) from Harrow (2019), pp. 14-15");
}

#[test]
fn tables_lists_code_and_footnotes_are_what_they_are() {
    let content = "one\ttwo\nthree\tfour\nitem\nanother\nlet x;\nSaid so.\nA note.";
    let place = |words: &str| {
        let at = content.find(words).unwrap();
        ByteRange::of(at, at + words.len())
    };
    let blocks = [
        (BlockKind::Table, place("one\ttwo\nthree\tfour")),
        (BlockKind::ListItem, place("item")),
        (BlockKind::ListItem, place("another")),
        (BlockKind::Code, place("let x;")),
        (BlockKind::Paragraph, place("Said so.")),
        (BlockKind::Footnote, place("A note.")),
    ];
    let blocks = blocks.map(|(kind, range)| Block { kind, range }).to_vec();
    let text_read = Text::new(
        content.to_owned(),
        blocks,
        Pages::default(),
        Origin::Same { skipped: 0 },
    )
    .with_note_calls(vec![NoteCall {
        at: place("Said so.").start() + 4,
        note: place("A note."),
    }]);
    let four = place("four");
    let page = printed(&with_text(
        text_read,
        vec![finding(content, four.start(), four.end())],
    ));
    let cells: Vec<String> = all(&page, ".text td").into_iter().map(text).collect();
    assert_eq!(cells, ["one", "two", "three", "1four end of 1 "]);
    assert_eq!(all(&page, ".text ul.rows > li").len(), 2);
    assert_eq!(text(all(&page, ".text pre code")[0]), "let x;");
    let call = all(&page, ".text a.call")[0];
    let note = call.attr("href").unwrap().trim_start_matches('#');
    assert_eq!(
        text(all(&page, &format!("[id='{note}']"))[0]),
        "Footnote: A note."
    );
    let paragraph = text(
        call.parent()
            .and_then(|up| up.parent())
            .and_then(ElementRef::wrap)
            .unwrap(),
    );
    assert_eq!(paragraph, "Saidfootnote 1 so.");
}

#[test]
fn findings_outside_every_block_are_reported_all_the_same() {
    let page = printed(&report_of("", &[], vec![finding("", 7, 9)]));
    assert_eq!(all(&page, ".leaf").len(), 1);
    assert_eq!(all(&page, "a.n").len(), 1);
}

proptest! {
    #[test]
    fn no_marks_change_the_draft(
        content in "[a-dé< \n]{1,80}",
        places in proptest::collection::vec((0usize..90, 0usize..40), 0..7),
    ) {
        let mut findings: Vec<Finding> = places
            .into_iter()
            .map(|(from, length)| finding(&content, from, from + length))
            .collect();
        findings.sort_by_key(|finding| finding.draft.range);
        let half = content.char_indices().nth(content.chars().count() / 2).map_or(0, |(at, _)| at);
        let blocks = [
            (BlockKind::Paragraph, ByteRange::of(0, half)),
            (BlockKind::Paragraph, ByteRange::of(half, content.len())),
        ];
        let report = report_of(&content, &blocks, findings);
        let page = printed(&report);
        let mut words = String::new();
        for block in all(&page, ".text .t") {
            for node in block.descendants() {
                let parent = node.parent().and_then(ElementRef::wrap);
                let class = parent.and_then(|parent| parent.attr("class")).unwrap_or_default();
                if let Some(text) = node.value().as_text().filter(|_| class != "v" && !class.starts_with("r ")) {
                    words.push_str(text);
                }
            }
        }
        prop_assert_eq!(words, content.clone());
        prop_assert_eq!(all(&page, ".leaf").len(), report.drafts[0].findings.len());
        for (number, finding) in report.drafts[0].findings.iter().enumerate() {
            // One that begins or ends within a character is marked as far as the characters go.
            if content.get(finding.draft.range.as_range()).is_some() {
                prop_assert_eq!(marked(&page, number), finding.draft.text.clone());
            }
        }
    }
}
