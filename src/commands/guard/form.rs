//! The forms that can be written, and the endings that fit each.

use std::path::Path;

use crate::commands::Failure;

/// The form of what is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::commands) enum Form {
    Text,
    Lines,
    Page,
    Markdown,
    Json,
    Sarif,
    Csv,
    Docx,
    Odt,
    Manual,
    Script,
}

/// Endings that say what a file is. Others say nothing, and go with every form.
const TELLING: [&str; 31] = [
    "txt", "text", "md", "markdown", "docx", "docm", "odt", "pdf", "tex", "ltx", "latex", "html",
    "htm", "xhtml", "epub", "rtf", "rst", "rest", "org", "bib", "bibtex", "ris", "toml", "json",
    "jsonl", "ndjson", "sarif", "csv", "doc", "xlsx", "ods",
];

impl Form {
    /// What a reader calls it, and the endings that fit; the first is proposed.
    fn names(self) -> (&'static str, &'static [&'static str]) {
        match self {
            Self::Text => ("a report in plain text", &["txt", "text"]),
            Self::Lines => ("a report in lines", &["txt", "text"]),
            Self::Page => ("a page", &["html", "htm", "xhtml"]),
            Self::Markdown => ("a report in Markdown", &["md", "markdown", "txt", "text"]),
            Self::Json => ("a report in JSON", &["json", "jsonl", "ndjson"]),
            Self::Sarif => ("a report in SARIF", &["sarif", "json"]),
            Self::Csv => ("a table of comma-separated values", &["csv", "txt"]),
            Self::Docx => ("a Word document", &["docx", "docm"]),
            Self::Odt => ("an OpenDocument text", &["odt"]),
            Self::Manual => ("a manual page", &["1", "txt"]),
            Self::Script => ("a completion script", &["sh", "txt"]),
        }
    }

    /// Refuses a name whose ending says that it is something else.
    pub(super) fn fits(self, path: &Path) -> Result<(), Failure> {
        let Some(ending) = path.extension() else {
            return Ok(());
        };
        let ending = ending.to_string_lossy().to_lowercase();
        let (what, fitting) = self.names();
        if fitting.contains(&ending.as_str()) || !TELLING.contains(&ending.as_str()) {
            return Ok(());
        }
        Err(Failure::Ending {
            path: path.to_owned(),
            ending: format!(".{ending}"),
            what,
            wanted: fitting
                .first()
                .map(|ending| format!(".{ending}"))
                .unwrap_or_default(),
        })
    }
}
