//! The files that a folder stands for: those directly in it that can be read, in order of their names.

use std::cmp::Ordering;
use std::path::{Path, PathBuf};

use super::{FileKind, Files, Format, Limits, ReadError};

/// What a folder holds.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Folder {
    /// Files that can be read, in order of their names. Numbers in names are ordered by value: `chapter-2`
    /// comes before `chapter-10`.
    pub readable: Vec<PathBuf>,
    /// What was passed over: files of other formats and folders, in the same order. Hidden files and files
    /// that editors leave behind are not listed.
    pub passed_over: Vec<PathBuf>,
}

/// Lists a folder, but not the folders in it, which hold old versions and pictures more often than chapters.
///
/// # Errors
/// [`ReadError`] where the folder can't be listed or holds more than the limits allow.
pub fn folder(files: &dyn Files, path: &Path, limits: &Limits) -> Result<Folder, ReadError> {
    let entries = files.list(path).map_err(|cause| ReadError::Io {
        path: path.to_owned(),
        cause,
    })?;
    let mut found = Folder::default();
    for (count, entry) in entries.enumerate() {
        if count >= limits.files {
            return Err(ReadError::TooManyFiles {
                path: path.to_owned(),
                limit: limits.files,
            });
        }
        let shown = entry.name.to_string_lossy();
        if shown.starts_with(['.', '~', '#']) || shown.ends_with('~') {
            continue;
        }
        let file = path.join(&entry.name);
        if Format::of(&file).is_ok() && entry.kind == Some(FileKind::File) {
            found.readable.push(file);
        } else {
            found.passed_over.push(file);
        }
    }
    found.readable.sort_by(|a, b| in_order(a, b));
    found.passed_over.sort_by(|a, b| in_order(a, b));
    Ok(found)
}

/// Ignores case and orders numbers by value; names that are then equal are compared exactly.
fn in_order(one: &Path, other: &Path) -> Ordering {
    let name = |path: &Path| {
        path.file_name()
            .map(|name| name.to_string_lossy().to_lowercase())
    };
    let (a, b) = (
        name(one).unwrap_or_default(),
        name(other).unwrap_or_default(),
    );
    parts(&a).cmp(&parts(&b)).then_with(|| one.cmp(other))
}

/// A part of a name; a number comes before anything else.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
enum Part {
    Number(u64),
    Letter(char),
}

fn parts(name: &str) -> Vec<Part> {
    let mut parts = Vec::new();
    let mut number: Option<u64> = None;
    for c in name.chars() {
        match c.to_digit(10) {
            Some(digit) => {
                let before = number.unwrap_or(0);
                number = Some(before.saturating_mul(10).saturating_add(u64::from(digit)));
            }
            None => {
                parts.extend(number.take().map(Part::Number));
                parts.push(Part::Letter(c));
            }
        }
    }
    parts.extend(number.map(Part::Number));
    parts
}

#[cfg(test)]
mod tests {
    use super::super::Memory;
    use super::*;

    #[test]
    fn readable_files_in_order_of_names_and_numbers() {
        let names = [
            "chapter-10.md",
            "Chapter-2.txt",
            "chapter-1.md",
            ".hidden.md",
            "~$chapter-1.md",
            "chapter-1.md~",
            "figure.png",
            "appendix.md",
            "old.md/x",
        ];
        let files: Memory = names
            .iter()
            .map(|name| (format!("drafts/{name}"), "x"))
            .collect();
        let drafts = Path::new("drafts");
        let mut limits = Limits::default();
        let found = folder(&files, drafts, &limits).unwrap();
        let names_of = |files: &[PathBuf]| -> Vec<String> {
            let name = |file: &PathBuf| file.file_name().unwrap().to_string_lossy().into_owned();
            files.iter().map(name).collect()
        };
        let wanted = [
            "appendix.md",
            "chapter-1.md",
            "Chapter-2.txt",
            "chapter-10.md",
        ];
        assert_eq!(names_of(&found.readable), wanted);
        assert_eq!(names_of(&found.passed_over), ["figure.png", "old.md"]);
        assert!(folder(&files, Path::new("missing"), &limits).is_err());
        limits.files = names.len();
        assert!(folder(&files, drafts, &limits).is_ok());
        limits.files -= 1;
        let refused = folder(&files, drafts, &limits).unwrap_err();
        assert!(matches!(refused, ReadError::TooManyFiles { .. }));
    }
}
