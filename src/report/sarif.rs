//! SARIF 2.1.0 (OASIS Standard, 27 March 2020), which editors, version control and their services read.
//!
//! A finding is no error, so none is called one: `act` becomes a warning, the others are notes. The
//! finding's own name is its fingerprint. Settled findings are there, suppressed with the writer's reason. Where the
//! draft's file has no lines of its own (word processors, PDF), the region is left out and the message
//! quotes the words.

use std::fmt::Write as _;
use std::io::{self, Write};

use serde_json::{Value, json};

use super::file_place::Places;
use super::json::rounded;
use super::lines::message;
use super::said;
use crate::findings::since::Progress;
use crate::findings::{CheckReport, Finding, Kind, Weight};
use crate::paths::uri;
use crate::review::LeftOut;

/// The name of our fingerprint in SARIF: the scheme of the finding's ID and its version.
const FINGERPRINT: &str = "ownwordsFinding/v1";

/// Writes all findings.
///
/// # Errors
/// What the writer refuses.
pub fn write(report: &CheckReport, out: &mut impl Write) -> io::Result<()> {
    let results: Vec<Value> = report
        .drafts
        .iter()
        .flat_map(|draft| {
            let places = Places::of(draft);
            let each = draft.findings.iter().enumerate();
            each.map(move |(index, finding)| {
                let mut result = result(&places, report, finding);
                let since = draft.since.as_ref();
                if let Some(progress) = since.and_then(|since| since.progress.get(index)) {
                    result["baselineState"] = json!(baseline(progress));
                }
                result
            })
        })
        .collect();
    let document = json!({
        "$schema": "https://json.schemastore.org/sarif-2.1.0.json",
        "version": "2.1.0",
        "runs": [{
            "tool": { "driver": {
                "name": "ownwords",
                "semanticVersion": env!("CARGO_PKG_VERSION"),
                "shortDescription": { "text": env!("CARGO_PKG_DESCRIPTION") },
                "rules": Kind::ALL.iter().map(|kind| rule(*kind)).collect::<Vec<_>>(),
            }},
            "invocations": [{
                "executionSuccessful": report.unread.is_empty(),
                "toolExecutionNotifications": report.left_out.iter().map(notification).collect::<Vec<_>>(),
            }],
            "columnKind": "unicodeCodePoints",
            "results": results,
        }],
    });
    serde_json::to_writer_pretty(&mut *out, &document)?;
    writeln!(out)
}

fn rule(kind: Kind) -> Value {
    let about = kind.about();
    json!({
        "id": about.name,
        "shortDescription": { "text": about.short },
        "fullDescription": { "text": about.meaning },
        "help": { "text": about.mend },
        "defaultConfiguration": { "level": level(about.weight) },
    })
}

/// A finding against the earlier draft, in the standard's words (section 3.27.24). Findings of the earlier draft that are gone are left
/// out: they have no place in the files of this run.
fn baseline(progress: &Progress) -> &'static str {
    match progress {
        Progress::Still => "unchanged",
        Progress::Changed(_) => "updated",
        Progress::New => "new",
    }
}

fn level(weight: Weight) -> &'static str {
    match weight {
        Weight::Act => "warning",
        Weight::Look | Weight::Know => "note",
    }
}

fn notification(left: &LeftOut) -> Value {
    json!({
        "level": "note",
        "message": { "text": format!("{}: {}", left.what, left.why) },
    })
}

fn result(places: &Places<'_>, report: &CheckReport, finding: &Finding) -> Value {
    let place = places.place(finding.draft.range);
    let mut physical = json!({ "artifactLocation": { "uri": uri(place.file) } });
    if place.in_file {
        physical["region"] = json!({
            "startLine": place.lines.line,
            "startColumn": place.lines.column,
            "endLine": place.lines.end_line,
            "endColumn": place.lines.end_column,
            "snippet": { "text": finding.draft.text },
        });
    }
    let mut text = message(finding);
    if !place.in_file {
        let _ = write!(text, " The words: {}", finding.draft.text);
    }
    let mut result = json!({
        "ruleId": finding.kind.about().name,
        "ruleIndex": Kind::ALL.iter().position(|kind| *kind == finding.kind),
        "level": level(finding.weight),
        "message": { "text": text },
        "locations": [{ "physicalLocation": physical }],
        "partialFingerprints": { FINGERPRINT: finding.id },
        "properties": {
            "weight": finding.weight.name(),
            "degree": finding.degree.map(|degree| degree.name()),
            "position": finding.measures.as_ref().map(|measures| rounded(measures.position())),
        },
    });
    if let Some(source) = &finding.source {
        let words = format!("{}: {}", said::source_name(source), source.wording());
        result["relatedLocations"] = json!([{
            "id": 1,
            "message": { "text": words },
            "physicalLocation": { "artifactLocation": { "uri": uri(&report.review.join(&source.path)) } },
        }]);
    }
    if let Some(settled) = &finding.settled {
        result["suppressions"] = json!([{
            "kind": "external",
            "justification": format!("settled on {}: {}", settled.on, settled.because),
        }]);
    }
    result
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;

    #[test]
    fn paths_become_uri_references() {
        for (path, expected) in [
            ("drafts/chapter 1.md", "drafts/chapter%201.md"),
            ("./a/../b#c?.md", "a/../b%23c%3F.md"),
            ("/tmp/ä:b.md", "file:///tmp/%C3%A4%3Ab.md"),
            ("a:b.md", "a%3Ab.md"),
        ] {
            assert_eq!(uri(Path::new(path)), expected);
        }
    }
}
