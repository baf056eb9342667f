//! ownwords compares a draft with the writer's own stored sources and notes, and says passage by
//! passage where wording comes from, how close it still is, and what would mend it.
//!
//! The whole way of the data, one direction only; each stage knows just the ones before it:
//!
//! 1. [`reading`] turns a file into a [`text::Text`]: its characters, blocks, pages, and the way back
//!    to the bytes of the file.
//! 2. [`text`] marks words, sentences, quotations and citations.
//! 3. [`review`] reads the writer's folder: settings, references, sources, entries.
//! 4. [`overlap`] finds what two texts share and places it on the scale; it uses [`wording`], which
//!    knows the language.
//! 5. [`findings`] holds the rules: what of it is to be looked at, and what is not ([`check`] for drafts,
//!    [`findings::notes::check_notes`] for the notes).
//! 6. [`report`] writes the findings for people or programs; `commands` are the command line.
//!
//! Files of the writer are read and never changed, and nothing is sent anywhere.

// Outside tests a panic needs a proof beside it that it can't happen.
#![cfg_attr(
    not(test),
    deny(clippy::unwrap_used, clippy::expect_used, clippy::panic)
)]

#[cfg(feature = "cli")]
pub mod commands;
pub mod findings;
pub mod overlap;
pub mod reading;
pub mod report;
pub mod review;
pub mod text;
pub mod wording;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use findings::account::{self, Account};
use findings::draft::check_draft;
use findings::fixed::Phrases;
use findings::material::Shelf;
use findings::repeats::Chapter;
use findings::{CheckReport, DraftReport};
use review::{LeftOut, Review};
use text::MarkedText;

/// Why a check could not be done at all.
#[derive(Debug, thiserror::Error)]
pub enum CheckError {
    /// None of the named drafts could be read; the message names each, a line a draft.
    #[error("{0}")]
    NoDraft(String),
}

/// Drafts as read, and what is to be told of the reading.
struct Drafts {
    read: Vec<account::Read>,
    left_out: Vec<LeftOut>,
    unread: Vec<String>,
}

/// Reads and marks drafts, in the order named.
fn read_drafts(review: &Review, paths: &[PathBuf], to_do: &str) -> Drafts {
    let mut drafts = Drafts {
        read: Vec::new(),
        left_out: review.left_out.clone(),
        unread: Vec::new(),
    };
    for path in paths {
        if let Some(why) = why_not_a_draft(review, path) {
            let what = path.display().to_string();
            drafts.unread.push(format!("{what}: {why}"));
            drafts.left_out.push(LeftOut { what, why });
            continue;
        }
        match review.read(path) {
            Ok(file) => {
                if !file.carried.is_empty() {
                    // The draft brings what a bibliography file would have told.
                    drafts.left_out.retain(|left| left.what != "references");
                }
                let joined = review.join(&file.carried);
                let text = Arc::new(MarkedText::new(joined.rekey(file.text)));
                let mut remarks = file.remarks;
                if text.words.is_empty() {
                    remarks.push(format!(
                        "no words stand in this file, so there was nothing to {to_do}; is it the one you meant?"
                    ));
                }
                drafts.read.push(account::Read {
                    path: path.clone(),
                    text,
                    remarks,
                    references: joined.references,
                });
            }
            Err(error) => {
                drafts.left_out.push(LeftOut {
                    why: error.why(path),
                    what: path.display().to_string(),
                });
                drafts.unread.push(error.to_string());
            }
        }
    }
    drafts
}

/// Checks drafts against a review. A draft that can't be read is told in the report's
/// [`left_out`](CheckReport::left_out) and [`unread`](CheckReport::unread) as long as another one can.
///
/// # Errors
/// [`CheckError`] where no draft could be read.
pub fn check(review: &Review, drafts: &[PathBuf]) -> Result<CheckReport, CheckError> {
    let Drafts {
        read,
        left_out,
        unread,
    } = read_drafts(review, drafts, "check");
    if read.is_empty() {
        return Err(CheckError::NoDraft(unread.join("\n")));
    }
    let mut shelf = Shelf::new(review);
    let compared = shelf.compared();
    let phrases = Phrases::new(review);
    let mut drafts: Vec<DraftReport> = Vec::with_capacity(read.len());
    let mut earlier: Vec<Chapter<'_>> = Vec::new();
    for draft in &read {
        shelf.references = draft.references.clone();
        drafts.push(check_draft(
            &mut shelf,
            &phrases,
            draft.path.clone(),
            &draft.text,
            draft.remarks.clone(),
            &earlier,
        ));
        earlier.push(Chapter {
            path: &draft.path,
            text: &draft.text,
        });
    }
    Ok(CheckReport {
        review: review.root.clone(),
        sources: review.sources.len(),
        source_words: review
            .sources
            .iter()
            .map(|source| source.text.words.len())
            .sum(),
        compared,
        entries: review.entries.len(),
        drafts,
        left_out,
        unread,
    })
}

/// Why a file is no draft: the notes and the sources of the review are what a draft is compared with, and
/// one of them named by mistake would be found to be a copy of itself.
fn why_not_a_draft(review: &Review, path: &Path) -> Option<String> {
    let relative = review.relative(path);
    let of_notes = review.note_files.iter().any(|file| file.path == relative);
    let of_sources = review.sources.iter().any(|source| source.path == relative);
    if of_notes {
        let why = "this is a file of your notes, not a draft; check the notes with `ownwords notes`, or one entry with `ownwords notes --entry KEY`";
        return Some(why.to_owned());
    }
    of_sources
        .then(|| "this is a stored source, not a draft; name the text that you wrote".to_owned())
}

/// Makes the account of all quotations in the notes and in drafts. A draft that can't be read is told in
/// [`left_out`](Account::left_out) and [`unread`](Account::unread).
///
/// # Errors
/// [`CheckError`] where drafts were named and none could be read.
pub fn quotations(review: &Review, drafts: &[PathBuf]) -> Result<Account, CheckError> {
    let Drafts {
        read,
        left_out,
        unread,
    } = read_drafts(review, drafts, "account for");
    if read.is_empty() && !drafts.is_empty() {
        return Err(CheckError::NoDraft(unread.join("\n")));
    }
    // Drafts go by the names that notes and sources go by.
    let read: Vec<account::Read> = read
        .into_iter()
        .map(|draft| account::Read {
            path: review.relative(&draft.path),
            ..draft
        })
        .collect();
    let account = account::account(review, read);
    Ok(Account {
        left_out,
        unread,
        ..account
    })
}
