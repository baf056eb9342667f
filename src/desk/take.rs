//! What is taken away from the desk: the reports that the command line writes too, and the review itself, each as one file.

use std::io::Write as _;
use std::path::Path;

use super::Failed;
use crate::findings::{Account, CheckReport, PlaceReport};
use crate::reading::{Format, Memory};
use crate::report::bibliography;
use crate::report::handout::{self, Sheet};
use crate::report::margin::annotate;
use crate::report::{page, quotations, spreadsheet};
use crate::review::Review;

/// A file to be saved by the browser.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taken {
    /// Its name.
    pub name: String,
    /// Its type, for the browser.
    pub kind: &'static str,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

const HTML: &str = "text/html";
const CSV: &str = "text/csv";
const DOCX: &str = "application/vnd.openxmlformats-officedocument.wordprocessingml.document";
const ODT: &str = "application/vnd.oasis.opendocument.text";
const ZIP: &str = "application/zip";

fn taken(name: impl Into<String>, kind: &'static str, bytes: Vec<u8>) -> Taken {
    Taken {
        name: name.into(),
        kind,
        bytes,
    }
}

/// The page report.
pub(super) fn page(report: &CheckReport) -> Result<Taken, Failed> {
    let mut bytes = Vec::new();
    page::write(report, &mut bytes)?;
    Ok(taken("report.html", HTML, bytes))
}

/// The findings as a table.
pub(super) fn table(report: &CheckReport) -> Result<Taken, Failed> {
    let mut bytes = Vec::new();
    spreadsheet::write(report, &mut bytes)?;
    Ok(taken("findings.csv", CSV, bytes))
}

/// The quotations as a table.
pub(super) fn quotations(account: &Account) -> Result<Taken, Failed> {
    let mut bytes = Vec::new();
    quotations::spreadsheet::write(account, &mut bytes)?;
    Ok(taken("quotations.csv", CSV, bytes))
}

/// A copy of a word processor's draft with the findings in its margin.
pub(super) fn margin(
    review: &Review,
    report: &CheckReport,
    number: usize,
) -> Result<Taken, Failed> {
    let draft = report.drafts.get(number);
    let draft = draft.ok_or_else(|| Failed::new("there is no such draft; open it again"))?;
    let format = Format::of(&draft.path)?;
    let kind = match format {
        Format::Docx => DOCX,
        Format::Odt => ODT,
        _ => {
            return Err(Failed::new(
                "only a Word or OpenDocument draft has a margin; take the page report of this one",
            ));
        }
    };
    let limits = &review.settings.limits;
    let bytes = review.files.read(&draft.path, limits.file_mb)?;
    let copy = annotate(bytes, format, &draft.text.text, &draft.findings, limits)
        .map_err(|why| Failed::new(&why.to_string()))?;
    let stem = draft.path.file_stem().unwrap_or_default().to_string_lossy();
    let ending = draft.path.extension().unwrap_or_default().to_string_lossy();
    Ok(taken(format!("{stem}-commented.{ending}"), kind, copy))
}

/// The annotated bibliography for a word processor.
#[cfg(feature = "styles")]
pub(super) fn bibliography(review: &Review) -> Result<Taken, Failed> {
    use bibliography::style::USUAL_STYLE;
    if review.entries.is_empty() {
        return Err(Failed::new(
            "the notes hold no entry yet, so there is no bibliography to write",
        ));
    }
    let styles =
        bibliography::Styles::named(USUAL_STYLE).map_err(|why| Failed::new(&why.to_string()))?;
    let (made, _) = bibliography::of_review(review, &styles, "Annotated bibliography");
    let mut bytes = Vec::new();
    bibliography::docx::write(&made, &mut bytes)?;
    Ok(taken("bibliography.docx", DOCX, bytes))
}

/// Without styles there is none.
#[cfg(not(feature = "styles"))]
pub(super) fn bibliography(_: &Review) -> Result<Taken, Failed> {
    let _ = bibliography::Bibliography::default();
    Err(Failed::new("this build has no styles of references"))
}

/// The sheet for a class, with answers or without.
pub(super) fn sheet(report: &PlaceReport, answers: bool) -> Result<Taken, Failed> {
    let (name, sheet) = match answers {
        true => ("handout.html", Sheet::Answers),
        false => ("exercise.html", Sheet::Exercise),
    };
    let mut bytes = Vec::new();
    handout::write(report, sheet, &mut bytes)?;
    Ok(taken(name, HTML, bytes))
}

/// The whole review as a zip package: a folder that the command line opens too.
pub(super) fn review(files: &Memory) -> Result<Taken, Failed> {
    let mut zip = zip::ZipWriter::new(std::io::Cursor::new(Vec::new()));
    // Without a day: the same review makes the same package.
    let options = zip::write::SimpleFileOptions::default()
        .compression_method(zip::CompressionMethod::Deflated)
        .last_modified_time(zip::DateTime::default());
    let refused = |why: zip::result::ZipError| Failed::new(&why.to_string());
    for (path, bytes) in files.iter() {
        let name = crate::paths::portable(&Path::new("review").join(path));
        zip.start_file(name, options).map_err(refused)?;
        zip.write_all(bytes)?;
    }
    let bytes = zip.finish().map_err(refused)?.into_inner();
    Ok(taken("review.zip", ZIP, bytes))
}
