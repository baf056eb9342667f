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
//! 5. [`findings`] holds the rules: what of it is to be looked at, and what is not.
//! 6. [`report`] writes the findings for people or programs; [`commands`] are the command line.
//!
//! Files of the writer are read and never changed, and nothing is sent anywhere.

// Outside tests a panic needs a proof beside it that it can't happen.
#![cfg_attr(
    not(test),
    deny(clippy::unwrap_used, clippy::expect_used, clippy::panic)
)]

pub mod commands;
pub mod findings;
pub mod overlap;
pub mod reading;
pub mod report;
pub mod review;
pub mod text;
pub mod wording;

use std::path::PathBuf;

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

/// Checks drafts against a review. A draft that can't be read is told in the report's
/// [`left_out`](CheckReport::left_out) and [`unread`](CheckReport::unread) as long as another one can.
///
/// # Errors
/// [`CheckError`] where no draft could be read.
pub fn check(review: &Review, drafts: &[PathBuf]) -> Result<CheckReport, CheckError> {
    let mut left_out = review.left_out.clone();
    let mut unread = Vec::new();
    let mut read = Vec::new();
    for path in drafts {
        match reading::read(path, review.settings.max_file_mb) {
            Ok(file) => {
                if !file.carried.is_empty() {
                    // The draft brings what a bibliography file would have told.
                    left_out.retain(|left| left.what != "references");
                }
                let joined = review.join(&file.carried);
                let text = MarkedText::new(joined.rekey(file.text));
                let mut remarks = file.remarks;
                if text.words.is_empty() {
                    remarks.push(
                        "no words stand in this file, so there was nothing to check; is it the one you meant?"
                            .to_owned(),
                    );
                }
                read.push((path, text, remarks, joined.references));
            }
            Err(error) => {
                left_out.push(LeftOut {
                    why: error.why(path),
                    what: path.display().to_string(),
                });
                unread.push(error.to_string());
            }
        }
    }
    if read.is_empty() {
        return Err(CheckError::NoDraft(unread.join("\n")));
    }
    let mut shelf = Shelf::new(review);
    let phrases = Phrases::new(review);
    let mut drafts: Vec<DraftReport> = Vec::with_capacity(read.len());
    let mut earlier: Vec<Chapter<'_>> = Vec::new();
    for (path, text, remarks, references) in &read {
        shelf.references = references.clone();
        let remarks = remarks.clone();
        let named: &PathBuf = path;
        let report = check_draft(&mut shelf, &phrases, named.clone(), text, remarks, &earlier);
        drafts.push(report);
        earlier.push(Chapter { path: named, text });
    }
    Ok(CheckReport {
        review: review.root.clone(),
        sources: review.sources.len(),
        source_words: review
            .sources
            .iter()
            .map(|source| source.text.words.len())
            .sum(),
        entries: review.entries.len(),
        drafts,
        left_out,
        unread,
    })
}
