//! Files that a document names to be read in its place, as LaTeX's `\input` does. Only files in the
//! document's own folder and below are read, whatever the name says, and all of them together stay within the limit
//! for one file.

use std::cell::Cell;
use std::path::{Path, PathBuf};

use super::{bytes, decode};
use crate::text::{FileLines, Origin};

/// A file that a document names.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Include {
    /// Where it lies, from where the document's own path starts.
    pub path: PathBuf,
    /// Its characters.
    pub content: String,
    /// Its lines.
    pub lines: FileLines,
    /// How many bytes of the file stand before the first character; `None` where the file is in an encoding
    /// in which bytes are no places.
    pub skipped: Option<u32>,
}

/// The folder of a document, from which it may name files.
pub(super) struct Includes {
    /// As the document's path has it.
    shown: PathBuf,
    /// As the file system has it.
    folder: Option<PathBuf>,
    limit_mb: u64,
    /// Bytes that may still be read.
    left: Cell<u64>,
}

impl Includes {
    /// What lies beside a document.
    pub(super) fn beside(document: &Path, limit_mb: u64) -> Self {
        let folder = match document.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder,
            _ => Path::new("."),
        };
        Self {
            shown: document.parent().unwrap_or(Path::new("")).to_owned(),
            folder: folder.canonicalize().ok(),
            limit_mb,
            left: Cell::new(limit_mb.saturating_mul(1_000_000)),
        }
    }

    /// Nothing: the document came without a place.
    pub(super) fn none() -> Self {
        Self {
            shown: PathBuf::new(),
            folder: None,
            limit_mb: 0,
            left: Cell::new(0),
        }
    }

    /// A file by the name that the document gives it, with `.tex` behind it or not.
    pub(super) fn load(&self, name: &str) -> Option<Include> {
        let folder = self.folder.as_deref()?;
        let named = [format!("{name}.tex"), name.to_owned()];
        let path = named
            .iter()
            .filter_map(|name| folder.join(name).canonicalize().ok())
            .find(|path| path.is_file() && path.starts_with(folder))?;
        let bytes = bytes(&path, self.limit_mb).ok()?;
        let left = self.left.get().checked_sub(bytes.len() as u64)?;
        self.left.set(left);
        let lines = FileLines::of(&bytes);
        let decoded = decode::decode(bytes)?;
        Some(Include {
            path: self.shown.join(path.strip_prefix(folder).ok()?),
            content: decoded.content,
            lines,
            skipped: match decoded.origin {
                Origin::Same { skipped } => Some(skipped),
                _ => None,
            },
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_documents_own_folder_is_read() {
        let folder = tempfile::tempdir().unwrap();
        let inner = folder.path().join("inner");
        std::fs::create_dir_all(inner.join("parts")).unwrap();
        std::fs::write(folder.path().join("secret.tex"), "secret").unwrap();
        std::fs::write(inner.join("parts/one.tex"), "one").unwrap();
        std::fs::write(inner.join("two"), "two").unwrap();
        let includes = Includes::beside(&inner.join("draft.tex"), 1);
        let content = |name: &str| includes.load(name).map(|file| file.content);
        assert_eq!(content("parts/one").as_deref(), Some("one"));
        assert_eq!(content("parts/one.tex").as_deref(), Some("one"));
        assert_eq!(content("two").as_deref(), Some("two"));
        let path = includes.load("parts/../parts/one").map(|file| file.path);
        assert_eq!(path, Some(inner.join("parts/one.tex")));
        assert_eq!(includes.load("../secret"), None);
        let absolute = folder.path().join("secret.tex");
        assert_eq!(includes.load(&absolute.display().to_string()), None);
        assert_eq!(includes.load("parts"), None);
        assert_eq!(Includes::none().load("two"), None);
    }
}
