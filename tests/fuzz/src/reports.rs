//! What is written is read again by another reader than the one that the library uses.

use std::io;

use ownwords::CheckReport;
use ownwords::findings::{Account, NotesReport};
use ownwords::report::{
    Colours, Look, json, lines, markdown, page, quotations as account, sarif, spreadsheet, terminal,
};
use ownwords::review::Review;
use scraper::{Html, Selector};

use crate::sound::inside;

/// The bytes that are written.
fn bytes(write: impl FnOnce(&mut Vec<u8>) -> io::Result<()>) -> Vec<u8> {
    let mut out = Vec::new();
    write(&mut out).expect("memory takes it");
    out
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
            let Some(place) = &finding.source else {
                continue;
            };
            let source = review
                .sources
                .iter()
                .find(|source| source.path == place.path);
            if let Some(source) = source {
                inside(source.text.text.content(), place.range);
            }
        }
    }
    let look = Look::new(80, Colours::Off);
    let json = bytes(|out| json::write(report, out));
    let sarif = bytes(|out| sarif::write(report, out));
    let page = bytes(|out| page::write(report, out));
    let shown = terminal::Shown {
        explained: true,
        settled: true,
    };
    let terminal = bytes(|out| terminal::write(report, &look, shown, out));
    let markdown = bytes(|out| markdown::write(report, out));
    let lines = bytes(|out| lines::write(report, out));
    let table = bytes(|out| spreadsheet::write(report, out));
    json_again(&json);
    json_again(&sarif);
    page_again(&page);
    harmless(&terminal);
    harmless(&lines);
    vec![json, sarif, page, terminal, markdown, lines, table]
}

fn page_again(page: &[u8]) {
    let page = std::str::from_utf8(page).expect("a page is UTF-8");
    let read = Html::parse_document(page);
    assert!(read.errors.is_empty(), "{:?}", read.errors);
    let count = |selector: &str| {
        let selector = Selector::parse(selector).expect("a selector of ours");
        read.select(&selector).count()
    };
    // Text that looks like markup has become none.
    for name in [
        "head title",
        "iframe",
        "object",
        "embed",
        "base",
        "form",
        "img",
        "link",
        "style",
    ] {
        let most = usize::from(["head title", "style", "form"].contains(&name));
        assert!(count(name) <= most, "{} of {name}", count(name));
    }
    // The page's own, and its data.
    assert!(count("script") <= 2, "a script of somebody else's");
}

fn harmless(bytes: &[u8]) {
    let text = std::str::from_utf8(bytes).expect("a report is text");
    let harmful = |c: char| c.is_control() && c != '\n';
    assert!(!text.contains(harmful), "a control character in a report");
}

/// The account of quotations.
pub(crate) fn quotations(report: &Account) -> Vec<Vec<u8>> {
    let look = Look::new(80, Colours::Off);
    let json = bytes(|out| account::json::write(report, out));
    let terminal = bytes(|out| account::terminal::write(report, &look, out));
    let table = bytes(|out| account::spreadsheet::write(report, out));
    json_again(&json);
    harmless(&terminal);
    vec![json, terminal, table]
}

/// The check of the notes.
pub(crate) fn notes(report: &NotesReport) -> Vec<u8> {
    let json = bytes(|out| json::notes::write(report, out));
    json_again(&json);
    json
}
