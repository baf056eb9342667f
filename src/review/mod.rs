//! The writer's review folder: settings, references, sources and entries.
//!
//! 1. [`Settings`] come from `ownwords.toml` over the documented defaults.
//! 2. [`References`] come from the bibliography files.
//! 3. [`Source`]s are the files in `sources/`, each named by its reference key.
//! 4. [`Entry`]s are the annotated-bibliography entries in the files of `notes/`.
//! 5. [`Decisions`] on findings come from `decisions.toml`, further fixed expressions from `terms.txt`.
//!
//! What can't be used is reported in [`LeftOut`]s and never stops the rest.

mod carried;
mod decisions;
mod drafts;
mod entries;
mod files;
mod left_out;
mod own_pages;
mod references;
mod settings;
mod sources;
#[cfg(feature = "disk")]
mod start;
mod terms;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use files::Here;

#[cfg(feature = "disk")]
pub use decisions::change;
pub use decisions::changed as changed_decisions;
pub use decisions::{DECISIONS_FILE, Decision, Decisions, DecisionsError, SCHEME};
pub use drafts::{DraftError, DraftFile, Drafts, NamedDrafts, NamedDraftsError, NoDraft};
pub use entries::{Entry, NotAnEntry, NoteFile, Part, PartKind};
pub use left_out::{LeftOut, Why};
pub use references::{Doi, Key, Person, Reference, ReferenceKind, References, Resolved};
pub(crate) use references::{ListPlace, NearMiss, is_slip_of};
pub use settings::{
    AboutSetting, Field, Given, Options, Place, SETTINGS_FILE, Settings, SettingsError, Shape,
    Value,
};
pub use sources::Source;
#[cfg(feature = "disk")]
pub use start::{StartError, start};
#[cfg(feature = "disk")]
pub use terms::add_terms;
pub use terms::{Expression, TERMS_FILE, TermError};

use crate::reading::{self, FileKind, Files, ReadError, ReadFile};

/// Why a review can't be used at all.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum ReviewError {
    /// No such folder.
    #[error("{}: no such folder; name the folder that holds ownwords.toml, or make one with `ownwords start`", path.display())]
    Missing {
        /// The folder as named.
        path: PathBuf,
    },
    /// No review folder was named and none found upward.
    #[error("{}: no ownwords.toml here or in any folder above; name the review with --review DIR, or make one with `ownwords start DIR`", from.display())]
    NotFound {
        /// Where the search began.
        from: PathBuf,
    },
    /// Neither sources nor notes could be read.
    #[error("{}: nothing to compare with; put source texts into {}, each named by its reference key", path.display(), sources.display())]
    Empty {
        /// The review folder.
        path: PathBuf,
        /// Its folder of sources.
        sources: PathBuf,
    },
    /// Nothing could be read, since a folder holds too much.
    #[error(transparent)]
    TooMany(ReadError),
    /// The settings can't be used.
    #[error(transparent)]
    Settings(#[from] SettingsError),
}

/// A review folder as read.
#[derive(Debug)]
pub struct Review {
    /// The folder.
    pub root: PathBuf,
    /// Its settings.
    pub settings: Settings,
    /// The bibliography files, relative to the folder.
    pub bibliography: Vec<PathBuf>,
    /// All references, by key.
    pub references: Arc<References>,
    /// The stored source texts in order of their keys (then of their paths).
    pub sources: Vec<Source>,
    /// The files of notes in order of their paths.
    pub note_files: Vec<NoteFile>,
    /// The entries in order of file and position.
    pub entries: Vec<Entry>,
    /// Prose in the notes that belongs to no entry, in order of file and position.
    pub not_entries: Vec<NotAnEntry>,
    /// What the writer has settled; empty where the file is broken, which `left_out` says.
    pub decisions: Decisions,
    /// The shared list of fixed expressions; they stand among the settings' `terms` too.
    pub shared_terms: Vec<String>,
    /// What could not be used, sorted.
    pub left_out: Vec<LeftOut>,
    /// Where its files come from, and the drafts as well.
    pub files: Arc<dyn Files>,
}

impl Review {
    /// Reads a review folder on the disk.
    ///
    /// # Errors
    /// As for [`Review::open_from`].
    #[cfg(feature = "disk")]
    pub fn open(root: &Path) -> Result<Self, ReviewError> {
        Self::open_from(Arc::new(reading::Disk::new()), root, &Options::default())
    }

    /// Reads a review folder wherever its files come from, with some settings laid over those of its file, as the
    /// command line does.
    ///
    /// ```
    /// use std::path::Path;
    /// use std::sync::Arc;
    /// use ownwords::reading::Memory;
    /// use ownwords::review::{Options, Review};
    ///
    /// let files: Memory = [
    ///     ("sources/harrow2014.txt", "Moths that came near turned towards the lantern."),
    ///     ("references.bib", "@book{harrow2014, title = {After dark}}"),
    /// ]
    /// .into_iter()
    /// .collect();
    /// let review = Review::open_from(Arc::new(files), Path::new(""), &Options::default())?;
    /// assert_eq!(review.sources.len(), 1);
    /// # Ok::<(), ownwords::review::ReviewError>(())
    /// ```
    ///
    /// # Errors
    /// [`ReviewError`] where the folder or its settings can't be used; a bad source, note or
    /// reference is no error but a [`LeftOut`].
    pub fn open_from(
        files: Arc<dyn Files>,
        root: &Path,
        overrides: &Options,
    ) -> Result<Self, ReviewError> {
        if files.kind(root) != Some(FileKind::Folder) {
            return Err(ReviewError::Missing {
                path: root.to_owned(),
            });
        }
        let here = Here {
            files: &*files,
            root,
        };
        let mut settings = Settings::open(here.files, root, overrides)?;
        let mut left_out = Vec::new();
        let shared_terms = shared_terms(here, &settings, &mut left_out);
        settings.terms.extend(shared_terms.iter().cloned());
        let decisions = decisions(here, &settings, &mut left_out);
        let bibliography = bibliography(here, &settings);
        if bibliography.is_empty() {
            left_out.push(LeftOut {
                what: "references".to_owned(),
                why: Why::NoBibliography,
            });
        }
        let (references, annotations, reported) =
            References::from_files(here, &bibliography, settings.limits.file_mb);
        left_out.extend(reported);
        let sources = sources::read(here, &settings, &references, &annotations, &mut left_out);
        let notes = entries::read(here, &settings, &references, &annotations, &mut left_out);
        if sources.is_empty() && notes.files.is_empty() {
            return Err(nothing_in(here, &settings));
        }
        left_out.sort();
        left_out.dedup();
        Ok(Self {
            root: root.to_owned(),
            bibliography,
            settings,
            references: Arc::new(references),
            sources,
            note_files: notes.files,
            entries: notes.entries,
            not_entries: notes.not_entries,
            decisions,
            shared_terms,
            left_out,
            files,
        })
    }

    /// The nearest folder upward from `from` (a folder or a file in one) that holds `ownwords.toml`, on the disk.
    ///
    /// # Errors
    /// [`ReviewError::NotFound`] where there is none.
    #[cfg(feature = "disk")]
    pub fn find(from: &Path) -> Result<PathBuf, ReviewError> {
        let not_found = || ReviewError::NotFound {
            from: from.to_owned(),
        };
        let start = std::path::absolute(from).map_err(|_| not_found())?;
        start
            .ancestors()
            // Whatever it is: that it can't be read is reported on reading.
            .find(|folder| folder.join(SETTINGS_FILE).exists())
            .map(Path::to_owned)
            .ok_or_else(not_found)
    }

    /// The nearest review upward from the current folder, or else from the first of some drafts.
    ///
    /// # Errors
    /// [`ReviewError::NotFound`] where there is none.
    #[cfg(feature = "disk")]
    pub fn find_for(drafts: &[PathBuf]) -> Result<PathBuf, ReviewError> {
        let here = Self::find(Path::new("."));
        if here.is_ok() {
            return here;
        }
        match drafts.first().and_then(|draft| draft.parent()) {
            Some(folder) if !folder.as_os_str().is_empty() => Self::find(folder).or(here),
            _ => here,
        }
    }

    /// Reads a draft within the limits of the review. Its path is not relative to the review.
    ///
    /// # Errors
    /// As for [`reading::read`].
    pub fn read(&self, path: &Path) -> Result<ReadFile, ReadError> {
        reading::read(&*self.files, path, &self.settings.limits)
    }

    /// The folder and where its files come from.
    fn here(&self) -> Here<'_> {
        Here {
            files: &*self.files,
            root: &self.root,
        }
    }

    /// A draft's file as decisions name it: relative to the review where it lies inside, else its name
    /// alone, since the way to it differs from machine to machine. Forward slashes on every system.
    #[must_use]
    pub fn name_of(&self, path: &Path) -> String {
        let inside = self.relative(path);
        let named = if inside.is_relative() && !inside.starts_with("..") {
            Some(inside.as_os_str())
        } else {
            inside.file_name()
        };
        crate::paths::portable(Path::new(named.unwrap_or_default()))
    }

    /// A path as the review names it: relative to its folder where it lies inside, else as given.
    #[must_use]
    pub fn relative(&self, path: &Path) -> PathBuf {
        let plain = |inside: &&Path| {
            inside
                .components()
                .all(|part| matches!(part, std::path::Component::Normal(_)))
        };
        if let Some(inside) = path.strip_prefix(&self.root).ok().filter(plain) {
            return inside.to_owned();
        }
        // links and `..` are resolved only where the plain way fails, since it costs a look at the disk
        let inside = || {
            let (root, path) = (self.files.real(&self.root)?, self.files.real(path)?);
            Some(path.strip_prefix(root).ok()?.to_owned())
        };
        inside().unwrap_or_else(|| path.to_owned())
    }
}

/// Why there is nothing to compare with.
fn nothing_in(here: Here<'_>, settings: &Settings) -> ReviewError {
    let overfull = [&settings.sources, &settings.notes]
        .into_iter()
        .find_map(|folder| here.overfull(folder, &settings.limits));
    match overfull {
        Some(error) => ReviewError::TooMany(error),
        None => ReviewError::Empty {
            path: here.root.to_owned(),
            sources: here.root.join(&settings.sources),
        },
    }
}

/// The decisions; none where the file can't be used.
fn decisions(here: Here<'_>, settings: &Settings, left_out: &mut Vec<LeftOut>) -> Decisions {
    let decisions = Decisions::open(here.files, here.root, settings.limits.file_mb);
    decisions.unwrap_or_else(|error| {
        left_out.push(LeftOut {
            what: DECISIONS_FILE.to_owned(),
            why: Why::NoDecisions(error.why()),
        });
        Decisions::default()
    })
}

/// The expressions of the shared list, where there is one.
fn shared_terms(here: Here<'_>, settings: &Settings, left_out: &mut Vec<LeftOut>) -> Vec<String> {
    if here.files.kind(&here.root.join(TERMS_FILE)).is_none() {
        return Vec::new();
    }
    match here.text_of(Path::new(TERMS_FILE), settings.limits.file_mb) {
        Ok((content, _)) => terms::parse(&content),
        Err(why) => {
            left_out.push(LeftOut {
                what: TERMS_FILE.to_owned(),
                why: Why::Unread(why),
            });
            Vec::new()
        }
    }
}

/// The bibliography files: those that the settings name, else every `references.*` of a known ending in
/// the review folder, in order of their names.
fn bibliography(here: Here<'_>, settings: &Settings) -> Vec<PathBuf> {
    if !settings.references.is_empty() {
        return settings.references.clone();
    }
    ["bib", "json", "ris"]
        .iter()
        .map(|ending| PathBuf::from(format!("references.{ending}")))
        .filter(|name| here.files.kind(&here.root.join(name)) == Some(FileKind::File))
        .collect()
}

#[cfg(test)]
mod tests;
