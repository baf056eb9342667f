//! ownwords compares a draft with the writer's own stored sources and notes, and says passage by
//! passage where wording comes from, how close it still is, and what would mend it.
//!
//! The whole way of the data, one direction only; each stage knows just the ones before it:
//!
//! ```text
//! Files (disk | memory) --review--> Review --Session::new--> Session   (frozen, shared by threads)
//!                                                               |
//! bytes of a draft ------reading--> Text --Session::lay--> LaidDraft   (own words above the frozen ones)
//!                                                               |
//!                  findings · account of quotations · origin of rewrites · against an earlier version
//!                                                               |
//!                                                     report (writes, and nothing else)
//! ```
//!
//! 1. [`reading`] turns the bytes of a file into a [`text::Text`]: its characters, blocks, pages, and the way back
//!    to the bytes. [`reading::Files`] says where files come from, `paths` how a path is written down.
//! 2. [`text`] marks words, sentences, quotations and citations.
//! 3. [`review`] reads the writer's folder: settings, references, sources, entries, decisions.
//! 4. `overlap` finds what texts share and places it on the scale; it uses `wording`, which knows the language.
//! 5. [`findings`] holds the [`Session`] and the rules: what of the overlap is to be looked at, and what is not.
//! 6. [`report`] writes the results for people or programs; `commands` are the command line.
//!
//! What each command asks of a session:
//!
//! | command | reads | asks | writes |
//! | --- | --- | --- | --- |
//! | `check` | drafts | [`Session::check`] | `report::{terminal, json, page, markdown, spreadsheet, lines, sarif, margin}` |
//! | `check --since` | drafts and their earlier versions | [`Session::check`], [`Session::compare_versions`] | the same |
//! | `check --repeats` | drafts | [`Session::check`], with `repeated_words` set | the same |
//! | `notes` | nothing more | [`Session::check_notes`] | `report::{terminal, json}` |
//! | `quotations` | drafts | [`Session::quotations`] | `report::quotations` |
//! | `settle` | drafts | [`Session::check`], [`Session::check_notes`], [`findings::Candidates`] | `decisions.toml` |
//! | `place --review` | rewrites | [`Session::trace`] | `report::place` |
//! | `place --source` | two texts, no review | [`findings::PlacedRewrite::new`] | `report::{place, handout}` |
//! | `bibliography` | nothing more | the review alone | `report::bibliography` |
//! | `text` | one file | reading and marking alone | `report::text` |
//! | `desk` | drafts, a rewrite as it is typed | all of the above, through [`desk::Desk`] | `report::{desk, page, margin, ...}`, `decisions.toml` |
//! | `explain` | nothing | the registries of kinds, thresholds, settings | `report::explain` |
//!
//! To add
//!
//! - a format: a reader in [`reading`], named in [`reading::Format`], and its ending in `commands/guard/form.rs`;
//! - a kind of finding: its name and advice in `findings/registry`, its rule in a file of [`findings`] that `judging.rs` or
//!   `check_draft.rs` there asks;
//! - a report: a file in [`report`] that writes what a [`CheckReport`] holds, its name in `commands/args.rs` and its turn in
//!   `commands/check.rs`; `report/ours.rs` knows it again;
//! - a surface beside the command line: a [`Session`], which does all that the table asks. [`desk`] is one, `tests/wasm` a small one.
//!
//! The surface is what this page names and what that holds; everything else is the crate's own, and lints hold it to that.
//! `cargo doc --document-private-items` shows both.
//!
//! # Example
//!
//! ```
//! use ownwords::reading::{Format, Memory, from_bytes};
//! use ownwords::review::{Options, Review};
//! use ownwords::{Kind, Session};
//!
//! let stored = "[p. 7]\n\nThe keepers counted every moth that came to the quarry lamp before dawn.";
//! let files = Memory::from_iter([("sources/harrow2019.txt", stored)]);
//! let review = Review::open_from(std::sync::Arc::new(files), ".".as_ref(), &Options::default())?;
//! let session = Session::new(review);
//!
//! let written = "We know that the keepers counted every moth that came to the quarry lamp.";
//! let read = from_bytes(written.as_bytes().to_vec(), Format::Markdown)?;
//! let draft = session.review.draft_of("chapter.md".as_ref(), read.text);
//! let report = session.lay(&draft).report();
//! assert_eq!(report.findings[0].kind, Kind::UnmarkedCopy);
//! assert_eq!(report.findings[0].source.as_ref().map(|source| source.key.as_str()), Some("harrow2019"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! Files of the writer are read and never changed, and nothing is sent anywhere.
//!
//! # Panics
//!
//! Outside tests nothing unwraps, expects or panics by name without a proof beside it, and lints hold the library to that.
//! Places in texts and streams are ranges made by the library itself, which hold `start <= end` by construction;
//! where code indexes with them without a proof beside it, an index out of range would be a fault of ours. Property tests and
//! a shelf of hostile files look for such faults.

// Pages of the crate's own modules link to one another.
#![allow(rustdoc::private_intra_doc_links)]
// The surface is what can be named from outside; all else says that it is the crate's own.
#![deny(unreachable_pub)]
// Some of what the command line asks for nobody else asks for yet.
#![cfg_attr(not(feature = "cli"), allow(dead_code))]
// Outside tests a panic needs a proof beside it that it can't happen.
#![cfg_attr(
    not(test),
    deny(clippy::unwrap_used, clippy::expect_used, clippy::panic)
)]

#[cfg(feature = "cli")]
pub mod commands;
pub mod desk;
pub mod findings;
mod overlap;
mod paths;
pub mod reading;
pub mod report;
pub mod review;
pub mod text;
#[cfg(feature = "disk")]
mod unfinished;
mod wording;

pub use findings::{
    CheckError, CheckReport, DraftReport, Finding, Kind, LaidDraft, Session, Weight,
};
