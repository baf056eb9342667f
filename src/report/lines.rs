//! One line for each open finding in the form that editors and other programs take to a place:
//! `file:line:column: what (weight): where from: what would mend it`.

use std::io::{self, Write};

use super::file_place::Places;
use super::{harmless, said};
use crate::findings::{CheckReport, Finding};
use crate::paths::portable;

/// Writes a line for each finding that is not settled.
///
/// # Errors
/// What the writer refuses.
pub fn write(report: &CheckReport, out: &mut impl Write) -> io::Result<()> {
    for draft in &report.drafts {
        let places = Places::of(draft);
        for (finding, progress) in said::open_and_progress(draft) {
            let place = places.place(finding.draft.range);
            let (line, column) = (place.lines.line, place.lines.column);
            let path = portable(place.file);
            let path = harmless(&path);
            let since = progress.map_or(String::new(), |progress| {
                format!("[{}] ", said::progress(progress))
            });
            writeln!(out, "{path}:{line}:{column}: {since}{}", message(finding))?;
        }
    }
    Ok(())
}

/// `Words of a source without quotation marks (please mend, uc-1a2b): Harrow (2019), p. 14: ...`.
pub(super) fn message(finding: &Finding) -> String {
    let about = finding.kind.about();
    let request = finding.weight.request();
    let id = harmless(&finding.id);
    let source = match &finding.source {
        Some(source) => format!(": {}", said::source_and_key(source)),
        None => String::new(),
    };
    let degree = match finding.degree {
        Some(degree) => format!(", {}", degree.name()),
        None => String::new(),
    };
    format!(
        "{} ({request}, {id}){source}{degree}. {}",
        about.short,
        harmless(&finding.advice)
    )
}
