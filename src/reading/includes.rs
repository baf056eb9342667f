//! Files that a document names to be read in its place, as LaTeX's `\input` does. Only files in the
//! document's own folder and below are read, whatever the name says, and all of them together stay within the limit
//! for one file.

use std::cell::Cell;
use std::path::{Path, PathBuf};

use super::{bytes, decode};

/// The folder of a document, from which it may name files.
pub(super) struct Includes {
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
            folder: folder.canonicalize().ok(),
            limit_mb,
            left: Cell::new(limit_mb.saturating_mul(1_000_000)),
        }
    }

    /// Nothing: the document came without a place.
    pub(super) fn none() -> Self {
        Self {
            folder: None,
            limit_mb: 0,
            left: Cell::new(0),
        }
    }

    /// The content of a file by the name that the document gives it, with `.tex` behind it or not.
    pub(super) fn load(&self, name: &str) -> Option<String> {
        let folder = self.folder.as_deref()?;
        let named = [format!("{name}.tex"), name.to_owned()];
        let path = named
            .iter()
            .filter_map(|name| folder.join(name).canonicalize().ok())
            .find(|path| path.is_file() && path.starts_with(folder))?;
        let bytes = bytes(&path, self.limit_mb).ok()?;
        let left = self.left.get().checked_sub(bytes.len() as u64)?;
        self.left.set(left);
        Some(decode::decode(bytes)?.content)
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
        assert_eq!(includes.load("parts/one").as_deref(), Some("one"));
        assert_eq!(includes.load("parts/one.tex").as_deref(), Some("one"));
        assert_eq!(includes.load("two").as_deref(), Some("two"));
        assert_eq!(includes.load("../secret"), None);
        let absolute = folder.path().join("secret.tex");
        assert_eq!(includes.load(&absolute.display().to_string()), None);
        assert_eq!(includes.load("parts"), None);
        assert_eq!(Includes::none().load("two"), None);
    }
}
