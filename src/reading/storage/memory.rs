//! Files in memory: a sorted map of paths to bytes. Folders exist through the paths of the files in them.

use std::collections::BTreeMap;
use std::io;
use std::ops::Bound;
use std::path::{Component, Path, PathBuf};

use super::{FileKind, Files, Listed, Listing, too_large};
use crate::reading::ReadError;

/// Files in memory. All paths start from one top folder, whether they begin with `/` or not, and `..` leads
/// no higher.
#[derive(Debug, Clone, Default)]
pub struct Memory {
    files: BTreeMap<PathBuf, Vec<u8>>,
}

impl Memory {
    /// No files.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            files: BTreeMap::new(),
        }
    }

    /// Adds a file, replacing any with the same path.
    pub fn insert(&mut self, path: impl AsRef<Path>, bytes: impl Into<Vec<u8>>) {
        self.files.insert(plain(path.as_ref()), bytes.into());
    }

    /// Takes a file out; `None` where there is none.
    pub fn remove(&mut self, path: impl AsRef<Path>) -> Option<Vec<u8>> {
        self.files.remove(&plain(path.as_ref()))
    }

    /// All files in order of their paths.
    pub fn iter(&self) -> impl Iterator<Item = (&Path, &[u8])> {
        let files = self.files.iter();
        files.map(|(path, bytes)| (path.as_path(), bytes.as_slice()))
    }
}

impl<P: AsRef<Path>, B: Into<Vec<u8>>> FromIterator<(P, B)> for Memory {
    fn from_iter<I: IntoIterator<Item = (P, B)>>(files: I) -> Self {
        let mut memory = Self::new();
        for (path, bytes) in files {
            memory.insert(path, bytes);
        }
        memory
    }
}

/// A path from the top folder without `.` and `..`.
fn plain(path: &Path) -> PathBuf {
    let mut plain = PathBuf::new();
    for part in path.components() {
        match part {
            Component::Normal(name) => plain.push(name),
            Component::ParentDir => {
                plain.pop();
            }
            Component::CurDir | Component::RootDir | Component::Prefix(_) => {}
        }
    }
    plain
}

impl Memory {
    /// The files below a folder, with their paths relative to it.
    fn below<'a>(&'a self, folder: &'a Path) -> impl Iterator<Item = &'a Path> {
        // Paths are compared part by part, so the contents of a folder follow one another, right after its
        // own name.
        self.files
            .range::<Path, _>((Bound::Included(folder), Bound::Unbounded))
            .map_while(move |(path, _)| path.strip_prefix(folder).ok())
            .filter(|rest| !rest.as_os_str().is_empty())
    }
}

impl Files for Memory {
    fn kind(&self, path: &Path) -> Option<FileKind> {
        let path = plain(path);
        if self.files.contains_key(&path) {
            return Some(FileKind::File);
        }
        // The top folder exists even when it is empty.
        let is_folder = path.as_os_str().is_empty() || self.below(&path).next().is_some();
        is_folder.then_some(FileKind::Folder)
    }

    fn list(&self, folder: &Path) -> io::Result<Listing<'_>> {
        match self.kind(folder) {
            Some(FileKind::Folder) => {}
            Some(_) => return Err(io::ErrorKind::NotADirectory.into()),
            None => return Err(io::ErrorKind::NotFound.into()),
        }
        let folder = plain(folder);
        let mut entries: Vec<Listed> = Vec::new();
        for rest in self.below(&folder) {
            let mut parts = rest.components();
            let Some(name) = parts.next() else { continue };
            let name = name.as_os_str().to_owned();
            let kind = match parts.next() {
                None => FileKind::File,
                Some(_) => FileKind::Folder,
            };
            // Files of one folder follow one another, so this folder is either new or the last one.
            if entries.last().is_none_or(|last| last.name != name) {
                entries.push(Listed {
                    name,
                    kind: Some(kind),
                    is_link: false,
                });
            }
        }
        Ok(Box::new(entries.into_iter()))
    }

    fn read(&self, path: &Path, limit_mb: u64) -> Result<Vec<u8>, ReadError> {
        let Some(bytes) = self.files.get(&plain(path)) else {
            let path = path.to_owned();
            return Err(match self.kind(&path) {
                Some(_) => ReadError::Folder { path },
                None => ReadError::Io {
                    path,
                    cause: io::ErrorKind::NotFound.into(),
                },
            });
        };
        let size = bytes.len() as u64;
        if size > limit_mb.saturating_mul(1_000_000) {
            return Err(too_large(path, size, limit_mb));
        }
        Ok(bytes.clone())
    }

    fn real(&self, path: &Path) -> Option<PathBuf> {
        self.kind(path).map(|_| plain(path))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn folders_are_what_the_paths_say() {
        let files: Memory = [
            ("./a/deep/x.txt", "x"),
            ("/a/b.txt", "b"),
            ("a/../a.txt", "a"),
            ("a-b/y.txt", "y"),
        ]
        .into_iter()
        .collect();
        let names = |folder: &str| -> Vec<String> {
            let listed = files.list(Path::new(folder)).unwrap();
            listed
                .map(|one| format!("{} {:?}", one.name.display(), one.kind.unwrap()))
                .collect()
        };
        assert_eq!(names(""), ["a Folder", "a-b Folder", "a.txt File"]);
        assert_eq!(names("a/"), ["b.txt File", "deep Folder"]);
        for (path, kind) in [
            ("", Some(FileKind::Folder)),
            ("..", Some(FileKind::Folder)),
            ("a/deep", Some(FileKind::Folder)),
            ("a/deep/../b.txt", Some(FileKind::File)),
            ("../a.txt", Some(FileKind::File)),
            ("a/dee", None),
            ("a.txt/b", None),
        ] {
            assert_eq!(files.kind(Path::new(path)), kind, "{path}");
            assert_eq!(files.real(Path::new(path)).is_some(), kind.is_some());
        }
        assert!(files.list(Path::new("a.txt")).is_err());
        assert!(files.list(Path::new("b")).is_err());
    }

    #[test]
    fn bytes_come_within_the_limit() {
        let files: Memory = [
            ("large.txt", vec![b'a'; 1_000_001]),
            ("small.txt", vec![b'a'; 1_000_000]),
            ("folder/x.txt", Vec::new()),
        ]
        .into_iter()
        .collect();
        let read = |path: &str| files.read(Path::new(path), 1);
        assert_eq!(read("small.txt").unwrap().len(), 1_000_000);
        assert!(matches!(read("large.txt"), Err(ReadError::TooLarge { .. })));
        assert!(matches!(read("folder"), Err(ReadError::Folder { .. })));
        assert!(matches!(read("gone"), Err(ReadError::Io { .. })));
    }
}
