//! Decisions in the report on a draft: findings that are settled, and decisions whose passage has changed
//! since.

use std::io::{self, Write};

use super::place_of;
use super::sheet::{INDENT, Sheet};
use crate::findings::DraftReport;
use crate::findings::applying_decisions::settled;
use crate::report::english::counted;
use crate::report::harmless;

/// Writes the settled findings, or how many there are.
pub(super) fn write_settled<W: Write>(
    sheet: &mut Sheet<'_, W>,
    draft: &DraftReport,
    show: bool,
) -> io::Result<()> {
    let count = settled(draft).count();
    if count == 0 {
        return Ok(());
    }
    if !show {
        let findings = counted(count, "finding is", "findings are");
        let text =
            format!("{findings} settled and not shown; --show-settled lists what was decided.");
        sheet.paragraph(INDENT, &text)?;
        return sheet.blank();
    }
    sheet.heading(INDENT, "Settled by you")?;
    for (finding, decision) in settled(draft) {
        let text = format!(
            "{}, {}, {}: {} (ID {})",
            place_of(&draft.path, &finding.draft),
            finding.kind.name(),
            harmless(&decision.on),
            harmless(&decision.because),
            harmless(&finding.id),
        );
        sheet.hanging(INDENT + 2, "   -", &text)?;
    }
    sheet.blank()
}

/// Writes which decisions hold no longer because their passage has changed.
pub(super) fn write_lapsed<W: Write>(
    sheet: &mut Sheet<'_, W>,
    draft: &DraftReport,
) -> io::Result<()> {
    if draft.lapsed.is_empty() {
        return Ok(());
    }
    sheet.heading(0, "Settled once, changed since")?;
    for lapsed in &draft.lapsed {
        let text = format!(
            "The passage settled on {} has changed; look again at {}. It was \"{}\" ({}), settled because: {}",
            harmless(&lapsed.on),
            harmless(&lapsed.now),
            harmless(&lapsed.text),
            harmless(&lapsed.kind),
            harmless(&lapsed.because),
        );
        sheet.hanging(INDENT, " -", &text)?;
    }
    sheet.blank()
}
