//! Files of the review: their names as shown, the folders they lie in, and the plain text of those that are read
//! whole.

use std::path::{Path, PathBuf};

use super::{LeftOut, Why};
use crate::paths::portable;
use crate::reading::{self, FileKind, Files, Limits, ReadError};
use crate::text::Text;

/// Folders in folders that are looked into. Nobody keeps texts so deep; a loop of mounts would go on for ever.
const DEPTH: usize = 32;

/// A path relative to the review folder, with forward slashes on every system, as reports show it.
pub(super) fn shown(root: &Path, path: &Path) -> String {
    let relative = path.strip_prefix(root).unwrap_or(path);
    portable(relative)
}

/// The review folder and where its files come from. Paths are relative to it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Here<'a> {
    pub(super) files: &'a dyn Files,
    pub(super) root: &'a Path,
}

/// What a walk through a folder found.
#[derive(Debug, Default, PartialEq, Eq)]
struct Walk {
    files: Vec<PathBuf>,
    /// Folders that were not looked into, and why.
    closed: Vec<(PathBuf, String)>,
}

impl Here<'_> {
    /// A path as reports show it.
    pub(super) fn shown(&self, path: &Path) -> String {
        shown(self.root, path)
    }

    /// The text of a small file: UTF-8, or UTF-16 with a byte-order mark, else Windows-1252, which gives every byte a
    /// character; the second value is a remark about that.
    pub(super) fn text_of(
        &self,
        path: &Path,
        limit_mb: u64,
    ) -> Result<(String, Option<String>), String> {
        let full = self.root.join(path);
        let bytes = self.files.read(&full, limit_mb);
        bytes.map(decoded).map_err(|error| error.why(&full))
    }

    /// A document of the review and the remarks of its reader; an error says why it can't be used, without
    /// the file's name, which is shown beside it.
    pub(super) fn read_text(
        &self,
        path: &Path,
        limits: &Limits,
    ) -> Result<(Text, Vec<String>), String> {
        let full = self.root.join(path);
        let read = reading::read(self.files, &full, limits).map_err(|error| error.why(&full))?;
        if read.text.content().trim().is_empty() {
            return Err(
                "holds no text that can be read; if it is a scan, have its text recognised first, else leave the file out"
                    .to_owned(),
            );
        }
        Ok((read.text, read.remarks))
    }

    /// The files of a folder and its sub-folders, sorted; `None` where there is no such folder. What could not be
    /// looked into is reported.
    pub(super) fn files_in(
        &self,
        folder: &Path,
        limits: &Limits,
        left_out: &mut Vec<LeftOut>,
    ) -> Option<Vec<PathBuf>> {
        match self.walk(folder, limits) {
            Ok(walk) => {
                let walk = walk?;
                let closed = walk.closed.into_iter();
                left_out.extend(closed.map(|(folder, why)| LeftOut {
                    what: self.shown(&folder),
                    why: Why::Unread(why),
                }));
                Some(walk.files)
            }
            Err(error) => {
                left_out.push(LeftOut {
                    what: self.shown(folder),
                    why: Why::Unread(error.why(folder)),
                });
                Some(Vec::new())
            }
        }
    }

    /// Whether a folder holds more than the limits allow.
    pub(super) fn overfull(&self, folder: &Path, limits: &Limits) -> Option<ReadError> {
        self.walk(folder, limits).err()
    }

    /// Walks a folder. Hidden files, leftovers of editors, pipes and links to folders are passed over: a link may
    /// lead back up, and then the walk would not end.
    ///
    /// # Errors
    /// [`ReadError::TooManyFiles`], the same whatever the order in which the system lists a folder.
    fn walk(&self, top: &Path, limits: &Limits) -> Result<Option<Walk>, ReadError> {
        let mut walk = Walk::default();
        let mut count = 0;
        let mut folders = vec![(top.to_owned(), 0)];
        while let Some((folder, depth)) = folders.pop() {
            if depth > DEPTH {
                let why = format!(
                    "lies more than {DEPTH} folders deep, so it was not looked into; move it up"
                );
                walk.closed.push((folder, why));
                continue;
            }
            let entries = match self.files.list(&self.root.join(&folder)) {
                Ok(entries) => entries,
                Err(_) if depth == 0 => return Ok(None),
                Err(cause) => {
                    let why = format!("could not be listed ({cause}); check that you may open it");
                    walk.closed.push((folder, why));
                    continue;
                }
            };
            for entry in entries {
                count += 1;
                if count > limits.files {
                    return Err(ReadError::TooManyFiles {
                        path: top.to_owned(),
                        limit: limits.files,
                    });
                }
                let name = entry.name.to_string_lossy();
                if name.starts_with('.') || name.starts_with("~$") || name.ends_with('~') {
                    continue;
                }
                let path = folder.join(&entry.name);
                match entry.kind {
                    Some(FileKind::File) => walk.files.push(path),
                    Some(FileKind::Folder) if !entry.is_link => folders.push((path, depth + 1)),
                    // A link that leads nowhere is kept, so that its reader reports it.
                    None if entry.is_link => walk.files.push(path),
                    _ => {}
                }
            }
        }
        walk.files.sort();
        walk.closed.sort();
        Ok(Some(walk))
    }
}

fn decoded(bytes: Vec<u8>) -> (String, Option<String>) {
    if let Some((encoding, _)) = encoding_rs::Encoding::for_bom(&bytes) {
        let (text, _) = encoding.decode_with_bom_removal(&bytes);
        return (with_line_feeds(text.into_owned()), None);
    }
    match String::from_utf8(bytes) {
        Ok(text) => (with_line_feeds(text), None),
        Err(error) => {
            let (text, _) = encoding_rs::WINDOWS_1252.decode_without_bom_handling(error.as_bytes());
            let remark =
                "this is no UTF-8; it was read as Windows-1252, so check the accents in names"
                    .to_owned();
            (with_line_feeds(text.into_owned()), Some(remark))
        }
    }
}

/// CRLF, CR and NEL become line feeds, which are what lines are counted by.
fn with_line_feeds(text: String) -> String {
    if !text.contains(['\r', '\u{85}']) {
        return text;
    }
    text.replace("\r\n", "\n").replace(['\r', '\u{85}'], "\n")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::{Disk, Memory};

    #[test]
    fn folders_are_walked_in_order_without_hidden_files() {
        let root = tempfile::tempdir().unwrap();
        let sources = root.path().join("sources");
        std::fs::create_dir_all(sources.join("b/deep")).unwrap();
        for name in [
            "z.txt",
            "a.txt",
            "b/x.txt",
            "b/deep/y.md",
            ".hidden",
            "~$a.docx",
            "a.txt~",
        ] {
            std::fs::write(sources.join(name), "x").unwrap();
        }
        #[cfg(unix)]
        {
            std::os::unix::fs::symlink(&sources, sources.join("loop")).unwrap();
            std::os::unix::fs::symlink(sources.join("a.txt"), sources.join("link.txt")).unwrap();
            std::os::unix::fs::symlink("nowhere", sources.join("gone.txt")).unwrap();
        }
        let disk = Disk::new();
        let here = Here {
            files: &disk,
            root: root.path(),
        };
        let mut reported = Vec::new();
        let mut found =
            |folder: &str| here.files_in(Path::new(folder), &Limits::default(), &mut reported);
        let files = found("sources").unwrap();
        let shown: Vec<_> = files.iter().map(|path| here.shown(path)).collect();
        let mut wanted = vec![
            "sources/a.txt",
            "sources/b/deep/y.md",
            "sources/b/x.txt",
            "sources/gone.txt",
            "sources/link.txt",
            "sources/z.txt",
        ];
        if !cfg!(unix) {
            wanted.retain(|name| !name.contains("link") && !name.contains("gone"));
        }
        assert_eq!(shown, wanted);
        assert_eq!(found("none"), None);
        assert_eq!(reported, []);
    }

    #[test]
    fn walks_have_an_end() {
        let deep = |levels: usize| format!("notes/{}x.md", "a/".repeat(levels));
        let files: Memory = [
            (deep(DEPTH), "x"),
            (deep(DEPTH + 1), "too deep"),
            ("notes/b/y.md".to_owned(), "y"),
        ]
        .into_iter()
        .collect();
        let here = Here {
            files: &files,
            root: Path::new(""),
        };
        let walked = |most: usize| {
            let limits = Limits {
                files: most,
                ..Limits::default()
            };
            let mut reported = Vec::new();
            let files = here.files_in(Path::new("notes"), &limits, &mut reported);
            (files.unwrap(), reported)
        };
        let (found, reported) = walked(100);
        assert_eq!(
            found,
            [deep(DEPTH), "notes/b/y.md".to_owned()].map(PathBuf::from)
        );
        let [reported] = reported.as_slice() else {
            panic!("{reported:?}")
        };
        assert!(
            reported.why.to_string().contains("32 folders deep"),
            "{}",
            reported.why
        );
        // The folders on the way down, two files, the folder beside, and what is too deep.
        let all = DEPTH + 1 + 2 + 1;
        assert_eq!(walked(all).0.len(), 2);
        let (found, reported) = walked(all - 1);
        assert_eq!(found, [""; 0].map(PathBuf::from));
        assert_eq!(reported[0].what, "notes");
        assert!(
            reported[0].why.to_string().contains("max_files"),
            "{}",
            reported[0].why
        );
    }
}
