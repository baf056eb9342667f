//! What was found, in a form for people or for programs: one tree of results, several writers.
//!
//! Each writer takes the result and an [`std::io::Write`] and nothing else, so that a test prints into
//! a `Vec<u8>` and the same bytes come out wherever they go. Nothing here reads files, looks at the
//! terminal or decides anything: that is done before ([`Session::check`](crate::Session::check)) or around it (the commands).
//!
//! - [`terminal`]: a draft's findings for reading, at any width from 60 to 100 columns;
//! - [`page`]: the same as a page to look at, with the draft itself;
//! - [`json`]: the same for programs, under a schema; both write the check of the notes as well;
//! - [`markdown`]: the same for pasting into a message;
//! - [`lines`], [`sarif`]: places for editors and version control;
//! - [`margin`]: a copy of the draft with the findings as comments;
//! - [`place`]: rewrites of one passage side by side on the scale; [`handout`]: the same for a class;
//! - [`quotations`]: the account of all quotations, for reading, for programs and as a table;
//! - [`bibliography`]: the annotated bibliography as Markdown, HTML or a word processor's file;
//! - [`desk`]: what stands on the desk in a browser, piece by piece;
//! - [`decisions`]: what the writer has settled;
//! - [`text`]: what was read from a file;
//! - [`explain`]: what kinds, degrees, thresholds and settings mean.

pub mod bibliography;
mod cautions;
pub mod decisions;
pub mod desk;
mod english;
mod escape;
pub mod explain;
mod file_place;
pub mod handout;
pub mod json;
pub mod lines;
pub mod margin;
pub mod markdown;
#[cfg(feature = "cli")]
pub(crate) mod ours;
pub mod page;
pub mod place;
pub mod quotations;
pub(crate) mod said;
pub mod sarif;
pub mod spreadsheet;
pub mod terminal;
pub mod text;

#[cfg(test)]
mod samples;

pub use escape::harmless;
pub use terminal::{Colours, Look};
