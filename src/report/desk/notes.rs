//! The entries of the notes: what each holds, whether anything is open there, and the findings in full.

use maud::{Markup, html};
use serde_json::{Value, json};

use crate::findings::{EntryReport, NotesReport};
use crate::paths::portable;
use crate::report::english::{counted, listed};
use crate::report::escape::on_page;
use crate::report::page::pieces;
use crate::report::terminal::notes::holds;

/// The entries as HTML, and what is drawn on their leaves, in the order of these.
pub(crate) fn notes(report: &NotesReport) -> Value {
    let findings = report.entries.iter().flat_map(|entry| &entry.findings);
    let drawn: Vec<Value> = findings.map(pieces::drawn).collect();
    let mut number = 0;
    let page = html! {
        p.extent { (headline(report)) }
        @for entry in &report.entries { (shown(entry, &mut number)) }
        (others(report))
    };
    json!({ "html": page.into_string(), "drawn": drawn })
}

fn headline(report: &NotesReport) -> String {
    let entries = counted(report.entries.len(), "entry", "entries");
    let open = report.entries.iter().flat_map(EntryReport::open).count();
    match open {
        0 => format!("{entries}, nothing to look at."),
        some => format!(
            "{entries}, {}.",
            counted(some, "place to look at", "places to look at")
        ),
    }
}

fn shown(entry: &EntryReport, number: &mut usize) -> Markup {
    let open = entry.open().count();
    let state = match open {
        0 => "clean".to_owned(),
        some => counted(some, "place to look at", "places to look at"),
    };
    html! {
        details.entry.clean[open == 0] open[open > 0] {
            summary {
                strong { (on_page(&entry.name)) } " " span.state { (state) }
            }
            p.extent { (on_page(&portable(&entry.path))) ", line " (entry.line) ": " (holds(entry)) }
            @for finding in &entry.findings {
                @let label = if finding.settled.is_some() { "s".to_owned() } else { *number += 1; number.to_string() };
                div.noted data-id=(finding.id) data-settled=[finding.settled.as_ref().map(|settled| settled.decision.as_str())] {
                    blockquote.src.own { (on_page(&finding.draft.text)) }
                    (pieces::leaf_of(finding, &label))
                }
            }
        }
    }
}

/// What is no entry, and what has none.
fn others(report: &NotesReport) -> Markup {
    let without = report
        .without_entry
        .iter()
        .map(|one| on_page(&one.name).into_owned());
    html! {
        @if !report.not_entries.is_empty() {
            h2 { "Not read as part of an entry" }
            ul {
                @for one in &report.not_entries {
                    li { (on_page(&portable(&one.path))) ", line " (one.line) ": “" (on_page(&one.start)) "...”, " (counted(one.words, "word", "words")) }
                }
            }
            p { "Give such a text a heading with its key, or its author and year, and it becomes an entry." }
        }
        @if !report.without_entry.is_empty() {
            h2 { "References without an entry" }
            p { (listed(&without.collect::<Vec<_>>())) }
        }
    }
}
