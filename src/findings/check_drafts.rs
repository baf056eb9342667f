//! Several drafts at once: read, laid on the session side by side, and reported in the order named.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use rayon::prelude::*;

use super::account::Account;
use super::laid::LaidDraft;
use super::repeats::Chapters;
use super::session::Session;
use super::{CheckReport, DraftReport};
use crate::paths::portable;
use crate::review::{Decisions, DraftError, DraftFile, LeftOut, Why};

/// Why a check could not be done at all.
#[derive(Debug, thiserror::Error)]
pub enum CheckError {
    /// None of the named drafts could be read; the message names each, a line a draft.
    #[error("{0}")]
    NoDraft(String),
}

/// Drafts as read, and why others were not.
struct Drafts {
    read: Vec<DraftFile>,
    unread: Vec<DraftError>,
}

impl Session {
    /// Checks drafts. One that can't be read is named in the report's [`left_out`](CheckReport::left_out) and
    /// [`unread`](CheckReport::unread) as long as another one can.
    ///
    /// # Errors
    /// [`CheckError`] where no draft could be read.
    pub fn check(self: &Arc<Self>, paths: &[PathBuf]) -> Result<CheckReport, CheckError> {
        self.check_under(paths, &self.review.decisions)
    }

    /// Checks drafts under other decisions than those that were there when the review was opened: a session that is kept for
    /// hours sees findings settled and opened again.
    ///
    /// # Errors
    /// As for [`Session::check`].
    pub fn check_under(
        self: &Arc<Self>,
        paths: &[PathBuf],
        decisions: &Decisions,
    ) -> Result<CheckReport, CheckError> {
        let read = self.read(paths, "check", |path| self.review.read_draft(path));
        self.report(read, decisions)
    }

    /// The same, and each report keeps the bytes of its draft, so that what was checked is what is copied.
    ///
    /// # Errors
    /// As for [`Session::check`].
    pub fn check_for_copies(
        self: &Arc<Self>,
        paths: &[PathBuf],
    ) -> Result<CheckReport, CheckError> {
        let read = |path: &Path| self.review.read_draft_for_copy(path);
        self.report(self.read(paths, "check", read), &self.review.decisions)
    }

    fn report(
        self: &Arc<Self>,
        drafts: Drafts,
        decisions: &Decisions,
    ) -> Result<CheckReport, CheckError> {
        let Drafts { read, unread } = drafts;
        if read.is_empty() {
            return Err(none_read(&unread));
        }
        let chapters = Chapters::new(&self.review, &read);
        let report = |(number, file): (usize, &DraftFile)| -> DraftReport {
            let laid: LaidDraft = self.lay(file);
            let chapter = chapters.as_ref().map(|chapters| chapters.chapter(number));
            laid.report_under(chapter, decisions)
        };
        Ok(CheckReport {
            review: self.review.root.clone(),
            sources: self.review.sources.len(),
            source_words: self.source_words(),
            compared: self.compared(),
            entries: self.review.entries.len(),
            drafts: read.par_iter().enumerate().map(report).collect(),
            left_out: self.left_out(&read, &unread),
            unread: unread.iter().map(ToString::to_string).collect(),
        })
    }

    /// Makes the account of all quotations in the notes and in drafts. One that can't be read is named in
    /// [`left_out`](Account::left_out) and [`unread`](Account::unread).
    ///
    /// # Errors
    /// [`CheckError`] where drafts were named and none could be read.
    pub fn quotations(self: &Arc<Self>, paths: &[PathBuf]) -> Result<Account, CheckError> {
        let Drafts { read, unread } =
            self.read(paths, "account for", |path| self.review.read_draft(path));
        if read.is_empty() && !paths.is_empty() {
            return Err(none_read(&unread));
        }
        Ok(Account {
            left_out: self.left_out(&read, &unread),
            unread: unread.iter().map(ToString::to_string).collect(),
            ..self.account(&read)
        })
    }

    /// Reads drafts, in the order named.
    fn read(
        &self,
        paths: &[PathBuf],
        to_do: &str,
        read: impl Fn(&Path) -> Result<DraftFile, DraftError> + Sync,
    ) -> Drafts {
        let mut drafts = Drafts {
            read: Vec::new(),
            unread: Vec::new(),
        };
        let read = paths.par_iter().map(|path| read(path));
        for file in read.collect::<Vec<_>>() {
            match file {
                Ok(mut file) => {
                    if file.text.words.is_empty() {
                        file.remarks.push(format!(
                            "no words stand in this file, so there was nothing to {to_do}; is it the one you meant?"
                        ));
                    }
                    drafts.read.push(file);
                }
                Err(error) => drafts.unread.push(error),
            }
        }
        drafts
    }

    /// What is to be reported of the review and of the reading of drafts.
    fn left_out(&self, read: &[DraftFile], unread: &[DraftError]) -> Vec<LeftOut> {
        let mut left_out = self.review.left_out.clone();
        // Drafts that carry their references bring what a bibliography file would have held, each its own.
        if !read.is_empty() && read.iter().all(|file| file.carries_references) {
            left_out.retain(|left| left.why != Why::NoBibliography);
        }
        left_out.extend(unread.iter().map(|error| LeftOut {
            what: portable(error.path()),
            why: Why::Unread(error.why()),
        }));
        left_out
    }
}

fn none_read(unread: &[DraftError]) -> CheckError {
    let messages: Vec<String> = unread.iter().map(ToString::to_string).collect();
    CheckError::NoDraft(messages.join("\n"))
}
