//! The desk: a review on a page in a browser, live. This is its engine, the same whether a program serves the page on this
//! machine ([`crate::commands`], `ownwords desk`) or the page carries the engine inside, as WebAssembly (`src/desk/module`).
//!
//! 1. Files lie in a folder on the disk or were put on the desk and are held in memory ([`store`]); what each is for is
//!    recognised ([`roles`], [`shelf`]).
//! 2. A [`Desk`] keeps one [`Session`] on them and the report of each draft, and makes only those anew that have to be.
//! 3. A page asks with a [`Request`] and gets an [`Answer`]: JSON, with HTML in it that [`crate::report`] wrote ([`asked`]). Files to
//!    take away are made by [`take`].
//!
//! Nothing of the writer's files is changed. Decisions go to `decisions.toml` of the review, on the disk or in memory.

mod asked;
mod class;
mod deciding;
mod demo;
mod listing;
mod roles;
mod shelf;
mod store;
mod take;

#[cfg(feature = "disk")]
use std::path::Path;
use std::path::PathBuf;
use std::sync::Arc;

pub use asked::{Answer, Request};
pub use roles::Role;
pub use store::Hearer;
pub use take::Taken;

use shelf::Shelf;
use store::Store;

use crate::Session;
use crate::findings::{CheckReport, NotesReport, Versions};
use crate::reading::{FileKind, Files};
use crate::review::{DECISIONS_FILE, Decisions, Options, Review, Value};

/// Why something that was asked of the desk could not be done: a sentence for the page.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct Failed(String);

impl Failed {
    fn new(why: &str) -> Self {
        Self(why.to_owned())
    }
}

macro_rules! failed_from {
    ($($error:ty),*) => {
        $(impl From<$error> for Failed {
            fn from(why: $error) -> Self {
                Self(why.to_string())
            }
        })*
    };
}

failed_from!(
    std::io::Error,
    crate::review::ReviewError,
    crate::review::DecisionsError,
    crate::findings::CheckError,
    crate::findings::DecidingError,
    crate::findings::NotesError,
    crate::reading::ReadError
);

/// What is known of the files as they were last read.
#[derive(Debug)]
struct Opened {
    session: Arc<Session>,
    /// Of all drafts in order; `None` where there are none.
    report: Option<CheckReport>,
    /// Made when they are first asked for.
    notes: Option<NotesReport>,
}

/// A desk.
#[derive(Debug)]
pub struct Desk {
    store: Arc<Store>,
    root: PathBuf,
    /// What was put on it; empty where the review lies on the disk.
    shelf: Shelf,
    decisions: Decisions,
    opened: Option<Opened>,
    /// Why the review can't be opened, where it can't.
    closed: Option<String>,
    /// Counts what the page has to look at again.
    revision: u64,
}

/// What has changed among the files.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Changed {
    /// Drafts alone: what they are compared with stays.
    Drafts,
    /// Anything else.
    Review,
}

impl Desk {
    /// An empty desk, whose files are put on it and held in memory.
    #[must_use]
    pub fn empty(hearer: Hearer) -> Self {
        Self::on(Store::in_memory(hearer), PathBuf::from("."))
    }

    /// The desk of a review in a folder on the disk.
    #[cfg(feature = "disk")]
    #[must_use]
    pub fn of_folder(root: &Path, hearer: Hearer) -> Self {
        let mut desk = Self::on(Store::on_disk(hearer), root.to_owned());
        desk.look_again(Changed::Review);
        desk
    }

    fn on(store: Store, root: PathBuf) -> Self {
        Self {
            store: Arc::new(store),
            root,
            shelf: Shelf::default(),
            decisions: Decisions::default(),
            opened: None,
            closed: None,
            revision: 0,
        }
    }

    /// Whether the review lies in a folder on the disk.
    #[must_use]
    pub fn is_folder(&self) -> bool {
        self.store.is_folder()
    }

    /// How often something has changed.
    #[must_use]
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// The drafts that were checked, as they are opened from here.
    #[must_use]
    pub fn drafts(&self) -> Vec<PathBuf> {
        let opened = self.opened.as_ref();
        let drafts = opened.and_then(|opened| opened.session.review.drafts());
        drafts.map(|drafts| drafts.files).unwrap_or_default()
    }

    /// Reads and compares again what has changed. Why it can't be done is kept for the page.
    pub fn look_again(&mut self, changed: Changed) {
        self.revision += 1;
        let looked = match (changed, self.opened.take()) {
            (Changed::Drafts, Some(opened)) => self.checked(opened.session, opened.notes),
            _ => self.open(),
        };
        match looked {
            Ok(opened) => (self.opened, self.closed) = (Some(opened), None),
            Err(why) => (self.opened, self.closed) = (None, Some(why.to_string())),
        }
    }

    fn open(&mut self) -> Result<Opened, Failed> {
        self.store.say("reading your files");
        let mut options = Options::default();
        let references = self.shelf.references();
        if !references.is_empty() {
            options = options.with("references", Value::List(references));
        }
        let files: Arc<dyn Files> = self.store.clone();
        let review = Review::open_from(files, &self.root, &options)?;
        self.decisions = review.decisions.clone();
        self.store.say("getting ready to compare");
        self.checked(Session::new(review), None)
    }

    /// The drafts checked in a session.
    fn checked(&self, session: Arc<Session>, notes: Option<NotesReport>) -> Result<Opened, Failed> {
        let drafts = session.review.drafts();
        let files = drafts.map(|drafts| drafts.files).unwrap_or_default();
        let report = if files.is_empty() {
            None
        } else {
            self.store.say("comparing");
            let mut report = session.check_under(&files, &self.decisions)?;
            self.compare_versions(&session, &files, &mut report);
            Some(report)
        };
        Ok(Opened {
            session,
            report,
            notes,
        })
    }

    /// Sets the drafts against those of the folder `earlier`, where there is one.
    fn compare_versions(
        &self,
        session: &Arc<Session>,
        files: &[PathBuf],
        report: &mut CheckReport,
    ) {
        let folder = self.root.join(Role::Earlier.folder());
        if session.review.files.kind(&folder) != Some(FileKind::Folder) {
            return;
        }
        // Without a version of any of these drafts there is nothing to say.
        if let Ok(versions) = Versions::find(&session.review, files, &folder) {
            // Drafts without an earlier version are no news here.
            let known = report.left_out.len();
            let _ = session.compare_versions(report, &versions);
            report.left_out.truncate(known);
        }
    }

    /// Looks whether the decisions on the disk are other than those that are known; if so, drafts are checked under them.
    #[cfg(feature = "disk")]
    pub fn look_at_decisions(&mut self) -> bool {
        let limit_mb = crate::reading::Limits::default().file_mb;
        match Decisions::open(&*self.store, &self.root, limit_mb) {
            Ok(now) if now != self.decisions => {
                self.decisions = now;
                if let Some(opened) = &mut self.opened {
                    opened.notes = None;
                }
                self.look_again(Changed::Drafts);
                true
            }
            // What can't be read now was understood before, and stays until it can.
            _ => false,
        }
    }

    fn opened(&self) -> Result<&Opened, Failed> {
        let nothing = "nothing has been put on the desk yet; add your draft and what you have read";
        self.opened
            .as_ref()
            .ok_or_else(|| Failed(self.closed.clone().unwrap_or_else(|| nothing.to_owned())))
    }

    fn report(&self) -> Result<&CheckReport, Failed> {
        let report = self.opened()?.report.as_ref();
        report.ok_or_else(|| Failed::new("there is no draft on the desk yet; add one"))
    }

    /// The notes, checked now if they were not before.
    fn notes(&mut self) -> Result<&NotesReport, Failed> {
        self.opened()?;
        let opened = self.opened.as_mut();
        let opened = opened.ok_or_else(|| Failed::new("there are no notes on the desk yet"))?;
        if opened.notes.is_none() {
            self.store.say("checking the notes");
            let mut notes = opened.session.check_notes(None)?;
            deciding::settle_in(&mut notes, &self.decisions);
            opened.notes = Some(notes);
        }
        let notes = opened.notes.as_ref();
        notes.ok_or_else(|| Failed::new("there are no notes on the desk yet"))
    }

    fn decisions_path(&self) -> PathBuf {
        self.root.join(DECISIONS_FILE)
    }
}

#[cfg(test)]
mod tests;
