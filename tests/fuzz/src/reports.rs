//! What is written is read again by another reader than the one that the library uses.

use ownwords::CheckReport;
use ownwords::findings::{Account, NotesReport};
use ownwords::report::{json, lines, markdown, page, quotations as account, sarif, spreadsheet, terminal, Colours, Look};
use ownwords::review::Review;
use scraper::{Html, Selector};

use crate::sound::inside;

/// The bytes of a report.
macro_rules! bytes {
    ($written:expr) => {{
        let mut out = Vec::new();
        #[allow(clippy::redundant_closure_call)]
        ($written)(&mut out).expect("memory takes it");
        out
    }};
}

#[track_caller]
fn json_again(bytes: &[u8]) {
    let text = std::str::from_utf8(bytes).expect("JSON is UTF-8");
    let json: Result<tinyjson::JsonValue, _> = text.parse();
    assert!(json.is_ok(), "{json:?}");
}

/// All reports of a check.
pub(crate) fn check(review: &Review, report: &CheckReport) -> Vec<Vec<u8>> {
    for draft in &report.drafts {
        let content = draft.text.text.content();
        for finding in &draft.findings {
            inside(content, finding.draft.range);
            let Some(place) = &finding.source else { continue };
            let source = review.sources.iter().find(|source| source.path == place.path);
            if let Some(source) = source {
                inside(source.text.text.content(), place.range);
            }
        }
    }
    let look = Look::new(80, Colours::Off);
    let json = bytes!(|out: &mut Vec<u8>| json::write(report, out));
    let sarif = bytes!(|out: &mut Vec<u8>| sarif::write(report, out));
    let page = bytes!(|out: &mut Vec<u8>| page::write(report, out));
    let shown = terminal::Shown { explained: true, settled: true };
    let terminal = bytes!(|out: &mut Vec<u8>| terminal::write(report, &look, shown, out));
    let markdown = bytes!(|out: &mut Vec<u8>| markdown::write(report, out));
    let lines = bytes!(|out: &mut Vec<u8>| lines::write(report, out));
    let table = bytes!(|out: &mut Vec<u8>| spreadsheet::write(report, out));
    json_again(&json);
    json_again(&sarif);
    page_again(&page, report);
    harmless(&terminal);
    harmless(&lines);
    vec![json, sarif, page, terminal, markdown, lines, table]
}

fn page_again(page: &[u8], report: &CheckReport) {
    let page = std::str::from_utf8(page).expect("a page is UTF-8");
    let read = Html::parse_document(page);
    assert!(read.errors.is_empty(), "{:?}", read.errors);
    let count = |selector: &str| {
        let selector = Selector::parse(selector).expect("a selector of ours");
        read.select(&selector).count()
    };
    // Text that looks like markup has become none.
    for (selector, most) in [("title", 1), ("iframe, object, embed, base, form, img", 0)] {
        assert!(count(selector) <= most, "{selector}");
    }
    let usual = 3;
    assert!(count("script") <= usual, "a script of somebody else's");
    let _ = report;
}

fn harmless(bytes: &[u8]) {
    let text = std::str::from_utf8(bytes).expect("a report is text");
    let harmful = |c: char| c.is_control() && c != '\n';
    assert!(!text.contains(harmful), "a control character in a report");
}

/// The account of quotations.
pub(crate) fn quotations(report: &Account) -> Vec<Vec<u8>> {
    let look = Look::new(80, Colours::Off);
    let json = bytes!(|out: &mut Vec<u8>| account::json::write(report, out));
    let terminal = bytes!(|out: &mut Vec<u8>| account::terminal::write(report, &look, out));
    let table = bytes!(|out: &mut Vec<u8>| account::spreadsheet::write(report, out));
    json_again(&json);
    harmless(&terminal);
    vec![json, terminal, table]
}

/// The check of the notes.
pub(crate) fn notes(report: &NotesReport) -> Vec<u8> {
    let json = bytes!(|out: &mut Vec<u8>| json::notes::write(report, out));
    json_again(&json);
    json
}
