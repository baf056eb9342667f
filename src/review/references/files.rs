//! Bibliography files put together into one list of references.

use std::path::{Path, PathBuf};

use super::super::files::Here;
use super::super::{LeftOut, Why};
use super::csl_items::More;
use super::duplicates::Seen;
use super::{Key, Reference, References, bibtex, csl_json, ris};

/// A reference as found in a file.
#[derive(Debug)]
pub(super) struct Found {
    pub(super) reference: Reference,
    /// The line its entry begins on, counted from 1.
    pub(super) line: usize,
    /// What the file says beyond the reference; of BibTeX only where [`read_all`] read it.
    pub(super) more: More,
}

/// What a bibliography file says about a work beside its reference: the writer's notes on it and its
/// abstract, each a list of paragraphs, empty where there is none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::review) struct Annotation {
    /// The reference.
    pub(in crate::review) key: Key,
    /// The file, relative to the review; empty until the files are put together.
    pub(in crate::review) file: PathBuf,
    /// The line its entry begins on, counted from 1.
    pub(in crate::review) line: usize,
    /// The writer's notes, with the line on which they begin.
    pub(in crate::review) notes: Vec<(usize, String)>,
    /// The work's own abstract.
    pub(in crate::review) own_abstract: Vec<(usize, String)>,
}

/// Something in a file that could not be used.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Problem {
    /// The line, counted from 1.
    pub(super) line: usize,
    /// What is the matter and what to do.
    pub(super) why: String,
}

/// What a bibliography file gave.
#[derive(Debug, Default)]
pub(super) struct FileRead {
    pub(super) found: Vec<Found>,
    pub(super) annotations: Vec<Annotation>,
    pub(super) problems: Vec<Problem>,
}

impl References {
    /// The references of some bibliography files, distinguished by their endings (`.bib`, `.json`, `.ris`), what the
    /// files say about the works beside, and what could not be used. Files above `limit_mb` megabytes are left out. Of
    /// two references with the same key the first is kept.
    pub(in crate::review) fn from_files(
        here: Here<'_>,
        files: &[PathBuf],
        limit_mb: u64,
    ) -> (Self, Vec<Annotation>, Vec<LeftOut>) {
        let mut left_out = Vec::new();
        let mut seen = Seen::default();
        let mut annotations = Vec::new();
        let mut references = Vec::new();
        for file in files {
            let name = here.shown(file);
            let mut report = |why: Why| {
                left_out.push(LeftOut {
                    what: name.clone(),
                    why,
                })
            };
            let read = match read(here, file, limit_mb, bibtex::read, &mut report) {
                Ok(read) => read,
                Err(why) => {
                    report(Why::Unread(why));
                    continue;
                }
            };
            for problem in read.problems {
                report(Why::Remark(format!(
                    "line {}: {}",
                    problem.line, problem.why
                )));
            }
            let here = read.annotations.into_iter().map(|annotation| Annotation {
                file: file.clone(),
                ..annotation
            });
            annotations.extend(here);
            for found in read.found {
                if seen.take(&name, &found) {
                    references.push(found.reference);
                }
            }
        }
        let twice = seen.reported().into_iter();
        left_out.extend(twice.map(|(what, why)| LeftOut {
            what,
            why: Why::Remark(why),
        }));
        (Self::new(references), annotations, left_out)
    }
}

/// A file with everything that can be read of its references.
pub(super) fn read_all(here: Here<'_>, path: &Path, limit_mb: u64) -> Result<FileRead, String> {
    read(here, path, limit_mb, bibtex::read_all, &mut drop)
}

fn read(
    here: Here<'_>,
    path: &Path,
    limit_mb: u64,
    bibtex: fn(&str) -> FileRead,
    report: &mut impl FnMut(Why),
) -> Result<FileRead, String> {
    let ending = path
        .extension()
        .map(|ending| ending.to_string_lossy().to_lowercase())
        .unwrap_or_default();
    let reader = match ending.as_str() {
        "bib" | "bibtex" => bibtex,
        "json" => csl_json::read,
        "ris" => ris::read,
        _ => {
            return Err(
                "references are read from .bib, .json (CSL JSON) and .ris; export them as one of these".to_owned(),
            );
        }
    };
    let (content, remark) = here.text_of(path, limit_mb)?;
    remark.into_iter().map(Why::Remark).for_each(report);
    Ok(reader(&content))
}

/// First and last page of a page field such as `113–129`, as written; `None` where it is empty.
pub(super) fn pages(written: &str) -> Option<(String, String)> {
    let mut labels = written
        .split(|letter: char| {
            matches!(letter, '-' | '–' | '—' | '‐' | '‑' | ',' | ';') || letter.is_whitespace()
        })
        .map(|label| label.trim_end_matches('+'))
        .filter(|label| !label.is_empty());
    let first = labels.next()?;
    let last = labels.next_back().unwrap_or(first);
    Some((first.to_owned(), last.to_owned()))
}

#[cfg(test)]
mod tests {
    use super::super::Key;
    use super::*;
    use crate::reading::Memory;

    #[test]
    fn page_fields_give_first_and_last() {
        for (written, wanted) in [
            ("113–129", Some(("113", "129"))),
            ("113 - 29", Some(("113", "29"))),
            ("7", Some(("7", "7"))),
            ("1-5, 9-12", Some(("1", "12"))),
            ("12+", Some(("12", "12"))),
            ("xi–xiv", Some(("xi", "xiv"))),
            ("–", None),
            ("", None),
        ] {
            let wanted = wanted.map(|(first, last)| (first.to_owned(), last.to_owned()));
            assert_eq!(pages(written), wanted, "{written}");
        }
    }

    #[test]
    fn files_are_put_together_and_the_first_key_wins() {
        let memory: Memory = [
            (
                "a.bib",
                b"@misc{lind2016, title = {First}}\n@misc{bad\n" as &[u8],
            ),
            (
                "b.json",
                br#"[{"id": "lind2016", "title": "Second"}, {"id": "tarn"}]"#,
            ),
            (
                "c.ris",
                b"TY  - GEN\nID  - okoro\nTI  - Caf\xe9 light\nER  - \n",
            ),
            ("d.docx", b""),
        ]
        .into_iter()
        .collect();
        let files: Vec<PathBuf> = ["a.bib", "b.json", "c.ris", "d.docx", "gone.bib"]
            .iter()
            .map(PathBuf::from)
            .collect();
        let here = Here {
            files: &memory,
            root: Path::new(""),
        };
        let (references, _, left_out) = References::from_files(here, &files, 1);
        let title = |key: &str| {
            references
                .get(&Key::new(key))
                .map(|work| work.title.as_str())
        };
        assert_eq!(title("lind2016"), Some("First"));
        assert_eq!(title("okoro"), Some("Café light"));
        assert_eq!(references.len(), 3);
        let reported: Vec<_> = left_out
            .iter()
            .map(|left| (left.what.as_str(), left.why.to_string()))
            .collect();
        let wanted = [
            ("a.bib", "line 2: "),
            ("c.ris", "Windows-1252"),
            ("d.docx", ".bib"),
            ("gone.bib", "could not be read"),
            ("b.json", "the first is in a.bib, line 1"),
        ];
        assert_eq!(reported.len(), wanted.len(), "{reported:?}");
        for ((what, why), (file, part)) in reported.iter().zip(wanted) {
            assert!(*what == file && why.contains(part), "{what}: {why}");
        }
    }
}
