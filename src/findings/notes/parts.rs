//! What an entry lacks: `entry-incomplete` and `entry-without-reference`.

use crate::findings::{Kind, Observation, Weight};
use crate::review::{Entry, PartKind, Review};
use crate::text::ByteRange;

use super::{EntryReport, together};

/// The findings on an entry's parts, reported at its heading.
pub(super) fn judge(review: &Review, entry: &Entry, report: &EntryReport) -> Vec<Observation> {
    let at = heading(review, entry);
    let reported = |kind, weight, advice| {
        Observation::new(
            kind,
            weight,
            together::place(review, entry.file, at),
            advice,
        )
    };
    let mut findings = Vec::new();
    if entry.key.is_none() {
        let advice = without_reference(entry);
        findings.push(reported(Kind::EntryWithoutReference, Weight::Act, advice));
    }
    let missing = missing(review, entry, report);
    if !missing.is_empty() {
        let weight = match missing.as_slice() {
            ["quotations"] => Weight::Know,
            _ => Weight::Look,
        };
        let advice = format!(
            "The entry has no {}. Add what is missing while the text is at hand, or leave it if there is nothing to say.",
            missing.join(" and no ")
        );
        findings.push(reported(Kind::EntryIncomplete, weight, advice));
    }
    findings
}

/// The parts that an entry lacks. An annotation in a bibliography file is one part by its form.
fn missing(review: &Review, entry: &Entry, report: &EntryReport) -> Vec<&'static str> {
    let has = |kind: PartKind| {
        let parts = report.parts.iter();
        parts
            .filter(|part| part.kind == kind)
            .any(|part| part.words > 0)
    };
    if review.note_files[entry.file].in_bibliography {
        return Vec::new();
    }
    let mut missing = Vec::new();
    if !has(PartKind::Summary) {
        missing.push("summary");
    }
    if report.quotations == 0 {
        missing.push("quotations");
    }
    if !has(PartKind::Comments) {
        missing.push("comments");
    }
    missing
}

/// Where an entry's heading stands: the first line of the entry.
pub(super) fn heading(review: &Review, entry: &Entry) -> ByteRange {
    let text = &review.note_files[entry.file].text.text;
    let start = entry.range.start();
    match text.block_at(start) {
        Some(block) => block.range.intersection(entry.range),
        None => {
            let whole = text.slice(entry.range);
            let lead = whole.len() - whole.trim_start().len();
            let line = whole.trim_start().lines().next().unwrap_or_default();
            ByteRange::of(start + lead, start + lead + line.trim_end().len())
        }
    }
}

fn without_reference(entry: &Entry) -> String {
    let hint = entry.hint.as_deref().map_or_else(String::new, |hint| {
        let mut letters = hint.chars();
        let first = letters.next().map(|first| first.to_uppercase().to_string());
        let end = if hint.ends_with('?') { "" } else { "." };
        format!(" {}{}{end}", first.unwrap_or_default(), letters.as_str())
    });
    format!(
        "This heading does not say which reference is meant, so the entry could not be compared with its own source.{hint} Write the key into the heading, such as {{#key}}, or add the reference to the bibliography file."
    )
}
