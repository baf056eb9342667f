//! Drafts: the files of the review's own folder for them, those that were named, and reading one.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::{LeftOut, References, Review, Why};
use crate::paths::portable;
use crate::reading::{self, FileKind, Format, ReadError, ReadFile};
use crate::text::{MarkedText, Text};

/// A draft as read.
#[derive(Debug, Clone)]
pub struct DraftFile {
    /// The file as named.
    pub path: PathBuf,
    /// Its text, marked.
    pub text: Arc<MarkedText>,
    /// Remarks of its reader.
    pub remarks: Vec<String>,
    /// The review's references, and those that the draft carries.
    pub references: Arc<References>,
    /// Whether it carries any.
    pub carries_references: bool,
    /// The bytes that it was read from, where a copy of it is to be made.
    pub bytes: Option<Arc<[u8]>>,
}

/// A file as read, and its bytes where they are kept.
type Stored = (ReadFile, Option<Arc<[u8]>>);

/// Why a file can't be checked as a draft.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum DraftError {
    /// It is what drafts are compared with, and would be found to be a copy of itself.
    #[error("{}: {why}", path.display())]
    NoDraft {
        /// The file as named.
        path: PathBuf,
        /// What it is.
        why: NoDraft,
    },
    /// It could not be read.
    #[error("{error}")]
    Unread {
        /// The file as named.
        path: PathBuf,
        /// Why.
        error: ReadError,
    },
}

/// What a file is that is no draft.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NoDraft {
    /// A file of notes.
    #[error(
        "this is a file of your notes, not a draft; check the notes with `ownwords notes`, or one entry with `ownwords notes --entry KEY`"
    )]
    Notes,
    /// A stored source.
    #[error("this is a stored source, not a draft; name the text that you wrote")]
    Source,
}

impl DraftError {
    /// The file as named.
    #[must_use]
    pub fn path(&self) -> &Path {
        match self {
            Self::NoDraft { path, .. } | Self::Unread { path, .. } => path,
        }
    }

    /// The message without the name of the file.
    #[must_use]
    pub fn why(&self) -> String {
        match self {
            Self::NoDraft { why, .. } => why.to_string(),
            Self::Unread { path, error } => error.why(path),
        }
    }
}

/// The folder that `ownwords start` lays out for drafts.
const DRAFTS: &str = "drafts";

/// What the folder of drafts holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drafts {
    /// The folder, relative to the review.
    pub folder: PathBuf,
    /// Its files.
    pub files: Vec<PathBuf>,
    /// Folders in it that could not be looked into.
    pub left_out: Vec<LeftOut>,
}

/// The files that were named as drafts: a file is itself, a folder stands for the chapters in it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct NamedDrafts {
    /// The files, in the order named; those of a folder in the order of their names.
    pub files: Vec<PathBuf>,
    /// What in the folders was passed over.
    pub left_out: Vec<LeftOut>,
}

/// Why drafts that were named can't be found.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum NamedDraftsError {
    /// A folder can't be listed.
    #[error(transparent)]
    Folder(#[from] ReadError),
    /// The review has no drafts of its own.
    #[error("{}: no drafts were found here; name the draft", folder.display())]
    NoDrafts {
        /// The folder of drafts.
        folder: PathBuf,
    },
    /// A folder of chapters without any.
    #[error("{}: no file in this folder can be read as a chapter; name the files themselves, or another folder", path.display())]
    NoChapters {
        /// The folder.
        path: PathBuf,
    },
}

impl Review {
    /// The review's own folder of drafts, as it can be opened from here.
    ///
    /// # Errors
    /// [`NamedDraftsError`] where there is none, or it holds nothing that can be read.
    pub fn drafts_folder(&self) -> Result<PathBuf, NamedDraftsError> {
        let folder = self.root.join(DRAFTS);
        let found = reading::folder(&*self.files, &folder, &self.settings.limits);
        match found.is_ok_and(|found| !found.readable.is_empty()) {
            true => Ok(folder),
            false => Err(NamedDraftsError::NoDrafts { folder }),
        }
    }

    /// Puts the readable files of each named folder in its place, and reports what in it was passed over.
    ///
    /// # Errors
    /// [`NamedDraftsError`] where a folder can't be listed or holds no chapter.
    pub fn named_drafts(&self, named: &[PathBuf]) -> Result<NamedDrafts, NamedDraftsError> {
        let is_folder = |path: &Path| self.files.kind(path) == Some(FileKind::Folder);
        let mut drafts = NamedDrafts::default();
        for path in named {
            if !is_folder(path) {
                drafts.files.push(path.clone());
                continue;
            }
            let found = reading::folder(&*self.files, path, &self.settings.limits)?;
            if found.readable.is_empty() {
                return Err(NamedDraftsError::NoChapters { path: path.clone() });
            }
            drafts.files.extend(found.readable);
            let passed_over = found.passed_over.into_iter().map(|path| LeftOut {
                why: match is_folder(&path) {
                    true => Why::NotSearched,
                    false => Why::NoChapter,
                },
                what: portable(&path),
            });
            drafts.left_out.extend(passed_over);
        }
        Ok(drafts)
    }

    /// The files of the review's folder `drafts/` and its sub-folders, in order of their paths, each as it
    /// can be opened from here, and what of it could not be looked into; `None` where there is no such folder.
    #[must_use]
    pub fn drafts(&self) -> Option<Drafts> {
        let mut left_out = Vec::new();
        let folder = Path::new(DRAFTS);
        let limits = &self.settings.limits;
        let files = self.here().files_in(folder, limits, &mut left_out)?;
        // A review that is the current folder is named by nothing, so that paths stay short.
        let here = Path::new(".");
        let at = |path: PathBuf| {
            if self.root == here {
                path
            } else {
                self.root.join(path)
            }
        };
        Some(Drafts {
            folder: folder.to_owned(),
            files: files.into_iter().map(at).collect(),
            left_out,
        })
    }

    /// Reads a draft and joins the references that it carries to those of the review.
    ///
    /// # Errors
    /// [`DraftError`] where it can't be read, or is one of the review's own sources or notes.
    pub fn read_draft(&self, path: &Path) -> Result<DraftFile, DraftError> {
        self.draft_by(path, || self.read(path).map(|file| (file, None)))
    }

    /// The same, and the bytes of a word processor's file are kept: a copy made of them is one of what was read,
    /// whatever happens to the file since.
    ///
    /// # Errors
    /// As for [`Review::read_draft`].
    pub fn read_draft_for_copy(&self, path: &Path) -> Result<DraftFile, DraftError> {
        self.draft_by(path, || match Format::of(path)? {
            format @ (Format::Docx | Format::Odt) => self.read_with_bytes(path, format),
            _ => self.read(path).map(|file| (file, None)),
        })
    }

    /// Reads a word processor's file, which names no others to be read in its place.
    fn read_with_bytes(&self, path: &Path, format: Format) -> Result<Stored, ReadError> {
        let limits = &self.settings.limits;
        let bytes = self.files.read(path, limits.file_mb)?;
        let file = reading::from_bytes_within(bytes.clone(), format, limits);
        let file = file.map_err(|why| ReadError::Content {
            path: path.to_owned(),
            why,
        })?;
        Ok((file, Some(bytes.into())))
    }

    fn draft_by(
        &self,
        path: &Path,
        read: impl FnOnce() -> Result<Stored, ReadError>,
    ) -> Result<DraftFile, DraftError> {
        if let Some(why) = self.why_no_draft(path) {
            let path = path.to_owned();
            return Err(DraftError::NoDraft { path, why });
        }
        let unread = |error| DraftError::Unread {
            path: path.to_owned(),
            error,
        };
        let (file, bytes) = read().map_err(unread)?;
        let joined = self.join(&file.carried);
        Ok(DraftFile {
            path: path.to_owned(),
            text: Arc::new(MarkedText::new(joined.rekey(file.text))),
            remarks: file.remarks,
            references: joined.references,
            carries_references: !file.carried.is_empty(),
            bytes,
        })
    }

    /// A draft whose text is at hand. It carries no references.
    #[must_use]
    pub fn draft_of(&self, path: &Path, text: Text) -> DraftFile {
        DraftFile {
            path: path.to_owned(),
            text: Arc::new(MarkedText::new(text)),
            remarks: Vec::new(),
            references: Arc::clone(&self.references),
            carries_references: false,
            bytes: None,
        }
    }

    fn why_no_draft(&self, path: &Path) -> Option<NoDraft> {
        let relative = self.relative(path);
        if self.note_files.iter().any(|file| file.path == relative) {
            return Some(NoDraft::Notes);
        }
        let mut sources = self.sources.iter();
        sources
            .any(|source| source.path == relative)
            .then_some(NoDraft::Source)
    }
}
