//! `ownwords check --format margin`: a copy of the draft with its findings as comments.

use std::io::{self, Write};
use std::path::PathBuf;

use super::Failure;
use super::args::OutArgs;
use crate::findings::CheckReport;
use crate::reading::{self, Files, Format, Limits};
use crate::report::margin::{MarginError, annotate};

/// Whether the copy that was asked for can be written at all: said before the work is done.
pub(super) fn can_be_asked(drafts: &[PathBuf], out: &OutArgs) -> Result<(), Failure> {
    let [draft] = drafts else {
        return Err(Failure::MarginOfOne);
    };
    if !matches!(Format::of(draft)?, Format::Docx | Format::Odt) {
        return Err(Failure::Margin {
            path: draft.clone(),
            cause: MarginError::NoMargin,
        });
    }
    if out.out.is_none() {
        let stem = draft.file_stem().unwrap_or_default().to_string_lossy();
        let ending = draft.extension().unwrap_or_default().to_string_lossy();
        let name = PathBuf::from(format!("{stem}-commented.{ending}"));
        return Err(Failure::MarginNeedsOut { name });
    }
    Ok(())
}

/// The bytes of the draft with the findings of its report as comments.
pub(super) fn comment(
    files: &dyn Files,
    report: &CheckReport,
    limits: &Limits,
) -> Result<Vec<u8>, Failure> {
    let Some(draft) = report.drafts.first() else {
        return Ok(Vec::new());
    };
    let path = draft.path.clone();
    let bytes = files.read(&path, limits.file_mb)?;
    let format = Format::of(&path)?;
    let annotated = reading::from_bytes_within(bytes.clone(), format, limits)
        .map_err(MarginError::from)
        .and_then(|file| annotate(bytes, format, &file.text, &draft.findings, limits));
    annotated.map_err(|cause| Failure::Margin { path, cause })
}

/// Writes the copy.
pub(super) fn write(copy: &[u8], out: &mut dyn Write) -> io::Result<()> {
    out.write_all(copy)
}
