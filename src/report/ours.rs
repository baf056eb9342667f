//! Whether a file is a report of ours, judged by how it begins and ends. A report that is written again may take the
//! place of the old one; anything else in a review may be the writer's and stays.
//!
//! What a writer would go on working in is not known again on purpose, even where it was ours: a commented copy of a
//! draft, a bibliography in Markdown, the bare text of a file.

use super::bibliography::{Bibliography, docx};
use super::cautions::CAUTIONS;
use super::quotations::{self, terminal::BEAR_IN_MIND};
use super::spreadsheet;

/// Bytes that are looked at, at each end of a file.
pub(crate) const ENDS: usize = 4096;

/// Whether a file that begins and ends with these bytes, [`ENDS`] of each or the whole, is a report of ours.
pub(crate) fn is_report(beginning: &[u8], end: &[u8]) -> bool {
    is_bibliography(beginning) || {
        let beginning = String::from_utf8_lossy(beginning);
        let end = String::from_utf8_lossy(end);
        is_page(&beginning)
            || is_json(&beginning)
            || is_sarif(&beginning, &end)
            || is_table(&beginning)
            || is_for_reading(&end)
    }
}

fn is_page(beginning: &str) -> bool {
    let head = beginning.split("<title>").next().unwrap_or_default();
    head.starts_with("<!DOCTYPE html>")
        && head.contains(r#"<meta name="generator" content="ownwords">"#)
}

/// Our documents name their contract first; so do the contracts themselves. Rewrites on the scale are a line each.
fn is_json(beginning: &str) -> bool {
    let mut lines = beginning.lines();
    let head: String = lines.by_ref().take(3).collect();
    let head: String = head.split_whitespace().collect();
    let names = [
        r#"{"format":"ownwords-"#,
        r#"{"$schema":"https://json-schema.org/draft/2020-12/schema","$id":"urn:ownwords:"#,
    ];
    let placed = [r#""degree":""#, r#""position":"#, r#""measures":{"words":"#];
    names.iter().any(|name| head.starts_with(name))
        || (head.starts_with(r#"{"id":"#) && placed.iter().all(|part| head.contains(part)))
}

fn is_sarif(beginning: &str, end: &str) -> bool {
    let head: String = beginning.lines().take(2).map(str::trim).collect();
    head.starts_with(r#"{"$schema": "https://json.schemastore.org/sarif-"#)
        && end.contains(env!("CARGO_PKG_DESCRIPTION"))
}

fn is_table(beginning: &str) -> bool {
    let tables = [
        quotations::spreadsheet::COLUMNS.join(","),
        spreadsheet::COLUMNS.join(","),
    ];
    let first = beginning.lines().next().unwrap_or_default();
    tables.iter().any(|head| head == first)
}

/// What a person reads ends with what to bear in mind.
fn is_for_reading(end: &str) -> bool {
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let end = words(end);
    let [.., of_passage, last] = CAUTIONS;
    [of_passage, last, BEAR_IN_MIND]
        .iter()
        .any(|foot| end.ends_with(&words(foot)))
}

/// The first two parts of the package are the same in every bibliography; another program that saves the file writes
/// others.
fn is_bibliography(beginning: &[u8]) -> bool {
    let mut empty = Vec::new();
    if docx::write(&Bibliography::default(), &mut empty).is_err() {
        return false;
    }
    let third = memchr::memmem::find_iter(&empty, b"PK\x03\x04").nth(2);
    third
        .and_then(|third| empty.get(..third))
        .is_some_and(|constant| beginning.starts_with(constant))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_may_be_the_writers_is_none_of_ours() {
        for content in [
            "",
            "# Chapter 3\n\nMoths.",
            "<!DOCTYPE html><html><head><title>x</title></head><body>&lt;meta name=\"generator\" content=\"ownwords\"></body>",
            "<!DOCTYPE html><html><head><title><meta name=\"generator\" content=\"ownwords\">",
            "{\"format\": \"thesis\"}",
            "{\"id\": 1, \"title\": \"degree\"}",
            "source,reference\n",
            "I cite the report: so a report without findings is no clearance. But more has to be said.",
            "PK\u{3}\u{4}",
        ] {
            assert!(
                !is_report(content.as_bytes(), content.as_bytes()),
                "{content}"
            );
        }
    }
}
