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
//! 5. [`findings`] holds the rules: what of it is to be looked at, and what is not ([`Session::check`] for drafts,
//!    [`Session::check_notes`] for the notes).
//! 6. [`report`] writes the findings for people or programs; `commands` are the command line.
//!
//! Whatever writes a path down has it from [`paths`]. Files of the writer are read and never changed, and
//! nothing is sent anywhere.

// Outside tests a panic needs a proof beside it that it can't happen.
#![cfg_attr(
    not(test),
    deny(clippy::unwrap_used, clippy::expect_used, clippy::panic)
)]

#[cfg(feature = "cli")]
pub mod commands;
pub mod findings;
pub mod overlap;
pub mod paths;
pub mod reading;
pub mod report;
pub mod review;
pub mod text;
pub mod wording;

pub use findings::checking::CheckError;
pub use findings::laid::LaidDraft;
pub use findings::session::Session;
