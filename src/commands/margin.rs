//! `ownwords check --format margin`: a copy of the draft with its findings as comments.

use std::io::{self, Write};
use std::path::PathBuf;

use super::Failure;
use super::args::OutArgs;
use crate::findings::CheckReport;
use crate::reading::{Format, Limits};
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

/// The bytes of the draft, as they were checked, with the findings of its report as comments.
pub(super) fn comment(report: &CheckReport, limits: &Limits) -> Result<Vec<u8>, Failure> {
    let Some(draft) = report.drafts.first() else {
        return Ok(Vec::new());
    };
    let format = Format::of(&draft.path)?;
    let annotated = match &draft.bytes {
        Some(bytes) => {
            let text = &draft.text.text;
            annotate(bytes.to_vec(), format, text, &draft.findings, limits)
        }
        None => Err(MarginError::NoMargin),
    };
    annotated.map_err(|cause| Failure::Margin {
        path: draft.path.clone(),
        cause,
    })
}

/// Writes the copy.
pub(super) fn write(copy: &[u8], out: &mut dyn Write) -> io::Result<()> {
    out.write_all(copy)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Session;
    use crate::reading::package::tests::zipped;
    use crate::review;

    fn document(words: &str) -> Vec<u8> {
        let content = format!(
            "<w:document xmlns:w=\"http://schemas.openxmlformats.org/wordprocessingml/2006/main\"><w:body><w:p><w:r><w:t>{words} \u{201c}lamps that burned until the small hours of the morning\u{201d}.</w:t></w:r></w:p></w:body></w:document>"
        );
        let types =
            "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"/>";
        zipped(&[
            ("[Content_Types].xml", types.as_bytes()),
            ("word/document.xml", content.as_bytes()),
        ])
    }

    #[test]
    fn what_was_checked_is_what_is_commented() {
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path().join("review");
        review::start(&root).unwrap();
        let draft = root.join("drafts/chapter.docx");
        let checked = document("Somebody called the winter of the lamps");
        std::fs::write(&draft, &checked).unwrap();
        let session = Session::open(&root).unwrap();
        let limits = &session.review.settings.limits;
        let report = session
            .check_for_copies(std::slice::from_ref(&draft))
            .unwrap();
        assert!(report.has_open());
        let expected = comment(&report, limits).unwrap();
        // Whatever becomes of the file now, nothing of it is looked at again.
        std::fs::write(&draft, document("Lamps")).unwrap();
        assert_eq!(comment(&report, limits).unwrap(), expected);
        std::fs::remove_file(&draft).unwrap();
        assert_eq!(comment(&report, limits).unwrap(), expected);
        assert_ne!(expected, checked);
    }

    #[test]
    fn bytes_are_kept_only_where_a_copy_is_to_be_made() {
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path().join("review");
        review::start(&root).unwrap();
        let word = root.join("drafts/chapter.docx");
        std::fs::write(&word, document("Lamps")).unwrap();
        let drafts = [word, root.join("drafts/example.md")];
        let session = Session::open(&root).unwrap();
        let kept = |report: CheckReport| {
            report
                .drafts
                .iter()
                .map(|draft| draft.bytes.is_some())
                .collect::<Vec<_>>()
        };
        assert_eq!(kept(session.check(&drafts).unwrap()), [false, false]);
        assert_eq!(
            kept(session.check_for_copies(&drafts).unwrap()),
            [true, false]
        );
    }
}
