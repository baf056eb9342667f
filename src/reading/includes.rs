//! Files that a document includes, as LaTeX's `\input` does. Only files in the document's own folder and
//! below are read, whatever the name says, and all of them together stay within the limit for one file.

use std::cell::Cell;
use std::path::{Path, PathBuf};

use super::{FileKind, Files, Format, decode, markup_limit};
use crate::text::{FileLines, Origin};

/// A file that a document includes.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Include {
    /// Its path, relative to where the document's own path starts.
    pub path: PathBuf,
    /// Its characters.
    pub content: String,
    /// Its lines.
    pub lines: FileLines,
    /// How many bytes that its lines count come before the first character.
    pub skipped: u32,
}

/// The folder of a document, from which it may include files.
pub(super) struct Includes<'a> {
    /// As it is written in the document's path.
    shown: PathBuf,
    /// Where the files come from, and the folder's unique name there.
    place: Option<(&'a dyn Files, PathBuf)>,
    limit_mb: u64,
    /// Line ends and signs of markup that may still be read.
    marks_left: Cell<usize>,
    /// Bytes that may still be read.
    left: Cell<u64>,
    /// Files that may still be included.
    names_left: Cell<usize>,
}

/// Most files that a document and its included files may name; one that is named twice counts twice. In a
/// chain of files each of which names the next one twice, the last would be read far too often.
pub(super) const MOST_NAMES: usize = 2000;

impl<'a> Includes<'a> {
    /// The folder of a document.
    pub(super) fn beside(
        files: &'a dyn Files,
        document: &Path,
        limit_mb: u64,
        most_marks: usize,
    ) -> Self {
        let folder = match document.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder,
            _ => Path::new("."),
        };
        Self {
            shown: document.parent().unwrap_or(Path::new("")).to_owned(),
            place: files.real(folder).map(|folder| (files, folder)),
            limit_mb,
            marks_left: Cell::new(most_marks),
            left: Cell::new(limit_mb.saturating_mul(1_000_000)),
            names_left: Cell::new(MOST_NAMES),
        }
    }

    /// No files: the document has no known place.
    pub(super) fn none() -> Self {
        Self {
            shown: PathBuf::new(),
            place: None,
            limit_mb: 0,
            marks_left: Cell::new(0),
            left: Cell::new(0),
            names_left: Cell::new(0),
        }
    }

    /// The remark on files that were not included.
    pub(super) fn remark(&self) -> Option<String> {
        let exhausted = self.place.is_some() && self.names_left.get() == 0;
        exhausted.then(|| {
            format!("more than {MOST_NAMES} included files are named; the text of those named later is missing")
        })
    }

    /// A file by the name that the document gives it, with or without `.tex` at its end.
    pub(super) fn load(&self, name: &str) -> Option<Include> {
        let (files, folder) = self.place.as_ref()?;
        self.names_left.set(self.names_left.get().checked_sub(1)?);
        let named = [format!("{name}.tex"), name.to_owned()];
        let path = named
            .iter()
            .filter_map(|name| files.real(&folder.join(name)))
            .find(|path| path.starts_with(folder) && files.kind(path) == Some(FileKind::File))?;
        let bytes = files.read(&path, self.limit_mb).ok()?;
        let left = self.left.get().checked_sub(bytes.len() as u64)?;
        self.left.set(left);
        let decoded = decode::decode(bytes)?;
        let marks = markup_limit::count(&decoded.content, Format::Latex);
        self.marks_left
            .set(self.marks_left.get().checked_sub(marks)?);
        Some(Include {
            path: self.shown.join(path.strip_prefix(folder).ok()?),
            lines: decoded.lines(),
            skipped: match decoded.origin {
                Origin::Same { skipped } => skipped,
                _ => 0,
            },
            content: decoded.content,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Disk, Memory};
    use super::*;

    #[track_caller]
    fn only_the_documents_own_folder(files: &dyn Files, top: &Path) {
        let inner = top.join("inner");
        let includes = Includes::beside(files, &inner.join("draft.tex"), 1, 100);
        let content = |name: &str| includes.load(name).map(|file| file.content);
        assert_eq!(content("parts/one").as_deref(), Some("one"));
        assert_eq!(content("parts/one.tex").as_deref(), Some("one"));
        assert_eq!(content("two").as_deref(), Some("two"));
        let path = includes.load("parts/../parts/one").map(|file| file.path);
        assert_eq!(path, Some(inner.join("parts/one.tex")));
        assert_eq!(includes.load("../secret"), None);
        let absolute = top.join("secret.tex");
        assert_eq!(includes.load(&absolute.display().to_string()), None);
        assert_eq!(includes.load("parts"), None);
        assert_eq!(Includes::none().load("two"), None);
    }

    const FILES: [(&str, &str); 3] = [
        ("secret.tex", "secret"),
        ("inner/parts/one.tex", "one"),
        ("inner/two", "two"),
    ];

    #[test]
    fn only_the_documents_own_folder_is_read() {
        only_the_documents_own_folder(&FILES.into_iter().collect::<Memory>(), Path::new("/"));
        let folder = tempfile::tempdir().unwrap();
        for (name, content) in FILES {
            let path = folder.path().join(name);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(path, content).unwrap();
        }
        let disk = Disk::new();
        only_the_documents_own_folder(&disk, folder.path());
        assert!(disk.is_kept(&folder.path().join("inner/parts/one.tex")));
        assert!(!disk.is_kept(&folder.path().join("secret.tex")));
    }
}
