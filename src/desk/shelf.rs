//! What was put on the desk, file by file: where it lies in the review that is made of it, what it is for, and whether the
//! writer should say so.

use std::collections::BTreeMap;
use std::io::{Cursor, Read as _};
use std::path::{Path, PathBuf};

use super::roles::{Role, recognise};
use super::store::Store;
use super::{Changed, Desk, demo};
use crate::paths::portable;
use crate::review::{DECISIONS_FILE, SETTINGS_FILE, TERMS_FILE};

/// What a zip package may unpack to, in files and in bytes.
const MOST_FILES: usize = 5_000;
const MOST_BYTES: u64 = 1_000_000_000;

/// A file on the desk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct OnDesk {
    /// Where it lies in the review.
    pub path: PathBuf,
    /// What it is for.
    pub role: Role,
    /// Whether the writer is asked.
    pub asked: bool,
}

/// The files on the desk, by the names they were put down under.
#[derive(Debug, Default)]
pub(super) struct Shelf {
    pub files: BTreeMap<String, OnDesk>,
    /// Whether a review with settings was put down: these name its references.
    has_settings: bool,
}

impl Shelf {
    /// The bibliography files by name, where no settings name them.
    pub(super) fn references(&self) -> Vec<String> {
        if self.has_settings {
            return Vec::new();
        }
        let files = self.files.values();
        let named = files.filter(|file| file.role == Role::References);
        named.map(|file| portable(&file.path)).collect()
    }

    /// A path in the folder of a role that no other file has.
    fn path_for(&self, name: &str, role: Role) -> PathBuf {
        let file = name.rsplit('/').next().unwrap_or(name);
        let (stem, ending) = file.rsplit_once('.').unwrap_or((file, ""));
        let dot = if ending.is_empty() { "" } else { "." };
        let folder = Path::new(role.folder());
        let mut path = folder.join(file);
        let mut count = 1;
        while self.files.values().any(|other| other.path == path) {
            count += 1;
            path = folder.join(format!("{stem} {count}{dot}{ending}"));
        }
        path
    }
}

impl Desk {
    /// Puts files on the desk, each by the name it has with the folders it was put down with. One that was there under this name
    /// is replaced. Where one of them holds the settings of a review, those beside it lie as they lay.
    pub fn put(&mut self, files: Vec<(String, Vec<u8>)>) {
        let mut all = Vec::new();
        for (name, bytes) in files {
            let name = name.replace('\\', "/");
            if name.to_lowercase().ends_with(".zip") {
                let inside = unpacked(&bytes).into_iter();
                all.extend(inside.map(|(inner, bytes)| (format!("{name}/{inner}"), bytes)));
            } else {
                all.push((name, bytes));
            }
        }
        all.retain(|(name, _)| is_meant(name));
        let review = all
            .iter()
            .filter_map(|(name, _)| Some(name.strip_suffix(SETTINGS_FILE)?.to_owned()))
            .filter(|folder| folder.is_empty() || folder.ends_with('/'));
        let review = review.min_by_key(String::len);
        if let Some(review) = &review {
            self.shelf.has_settings = true;
            self.store.say(&format!("opening the review {review}"));
        }
        let mut changed = Changed::Drafts;
        for (name, bytes) in all {
            let inside = review
                .as_ref()
                .and_then(|review| name.strip_prefix(review.as_str()));
            let placed = match (self.shelf.files.get(&name), inside) {
                (Some(there), _) => there.clone(),
                (None, Some(inside)) => self.in_free_place(in_review(inside)),
                (None, None) => self.placed(&name, &bytes),
            };
            if placed.role != Role::Draft {
                changed = Changed::Review;
            }
            // What was decided on the desk since outlives a file of decisions that is put down again.
            let is_decided = placed.path == Path::new(DECISIONS_FILE)
                && !self.decisions.all().is_empty()
                && self.shelf.files.contains_key(&name);
            if !is_decided {
                self.store.with(|files| files.insert(&placed.path, bytes));
            }
            self.shelf.files.insert(name, placed);
        }
        self.look_again(changed);
    }

    /// A file of a review, where another one that was put down under another name has its place: beside it, so that neither is
    /// lost; of what a review has only one the newer one stays.
    fn in_free_place(&mut self, placed: OnDesk) -> OnDesk {
        let mut files = self.shelf.files.iter();
        let taken = files.find(|(_, other)| other.path == placed.path);
        let Some(taken) = taken.map(|(name, _)| name.clone()) else {
            return placed;
        };
        if matches!(placed.role, Role::Review | Role::References) {
            self.shelf.files.remove(&taken);
            return placed;
        }
        OnDesk {
            path: self.shelf.path_for(&portable(&placed.path), placed.role),
            ..placed
        }
    }

    fn placed(&self, name: &str, bytes: &[u8]) -> OnDesk {
        let (role, is_sure) = recognise(name, bytes);
        OnDesk {
            path: self.shelf.path_for(name, role),
            role,
            asked: !is_sure,
        }
    }

    /// Says what a file is for.
    pub(super) fn give_role(&mut self, name: &str, role: Role) {
        let Some(old) = self.shelf.files.remove(name) else {
            return;
        };
        let new = OnDesk {
            path: self.shelf.path_for(name, role),
            role,
            asked: false,
        };
        move_file(&self.store, &old.path, &new.path);
        self.shelf.files.insert(name.to_owned(), new);
        self.look_again(Changed::Review);
    }

    /// Takes a file off the desk.
    pub(super) fn remove(&mut self, name: &str) {
        if let Some(old) = self.shelf.files.remove(name) {
            self.store.with(|files| files.remove(&old.path));
            self.look_again(Changed::Review);
        }
    }

    /// Clears the desk.
    pub(super) fn clear(&mut self) {
        self.shelf = Shelf::default();
        self.store
            .with(|files| *files = crate::reading::Memory::new());
        self.decisions = crate::review::Decisions::default();
        (self.opened, self.closed) = (None, None);
        self.revision += 1;
    }

    /// Puts the demo review on the desk in place of what is there.
    pub(super) fn open_demo(&mut self) {
        self.clear();
        let files = demo::FILES.iter();
        self.put(
            files
                .map(|(path, bytes)| ((*path).to_owned(), bytes.to_vec()))
                .collect(),
        );
    }
}

fn move_file(store: &Store, old: &Path, new: &Path) {
    store.with(|files| {
        if let Some(bytes) = files.remove(old) {
            files.insert(new, bytes);
        }
    });
}

/// A file of a review, by the folder it lies in there.
fn in_review(inside: &str) -> OnDesk {
    let folder = inside.split('/').next().unwrap_or_default();
    let role = match folder {
        "drafts" => Role::Draft,
        "sources" => Role::Source,
        "notes" => Role::Notes,
        "earlier" => Role::Earlier,
        SETTINGS_FILE | DECISIONS_FILE | TERMS_FILE => Role::Review,
        _ if inside.starts_with("references.") => Role::References,
        _ => Role::Unused,
    };
    OnDesk {
        path: PathBuf::from(inside),
        role,
        asked: false,
    }
}

/// Hidden files and what word processors lay beside an open document are nobody's.
fn is_meant(name: &str) -> bool {
    let mut parts = name.split('/');
    parts.all(|part| !part.is_empty() && !part.starts_with('.') && !part.starts_with("~$"))
        && !name.starts_with("__MACOSX/")
}

/// The files of a zip package, within limits; none where it is no such package.
fn unpacked(bytes: &[u8]) -> Vec<(String, Vec<u8>)> {
    let Ok(mut zip) = zip::ZipArchive::new(Cursor::new(bytes)) else {
        return Vec::new();
    };
    let mut files = Vec::new();
    let mut room = MOST_BYTES;
    for at in 0..zip.len().min(MOST_FILES) {
        let Ok(file) = zip.by_index(at) else { continue };
        let Some(name) = file.enclosed_name().filter(|_| file.is_file()) else {
            continue;
        };
        let mut content = Vec::new();
        let is_read = file.take(room + 1).read_to_end(&mut content).is_ok();
        // A file that was cut short would be compared as if it were whole.
        if is_read && content.len() as u64 <= room {
            room -= content.len() as u64;
            files.push((portable(&name), content));
        }
    }
    files
}
