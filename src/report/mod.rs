//! What was found, in a form for people or for programs: one tree of results, several writers.
//!
//! Each writer takes the result and an [`std::io::Write`] and nothing else, so that a test prints into
//! a `Vec<u8>` and the same bytes come out wherever they go. Nothing here reads files, looks at the
//! terminal or decides anything: that is done before ([`crate::check`]) or around it (the commands).
//!
//! - [`terminal`]: a draft's findings for reading, at any width from 60 to 100 columns;
//! - [`json`]: the same for programs, under a schema;
//! - [`place`]: rewrites of one passage side by side on the scale;
//! - [`bibliography`]: the annotated bibliography as Markdown, HTML or a word processor's file;
//! - [`decisions`]: what the writer has settled;
//! - [`text`]: what was read from a file;
//! - [`explain`]: what kinds, degrees, thresholds and settings mean.

pub mod bibliography;
mod cautions;
pub mod decisions;
mod english;
mod escape;
pub mod explain;
pub mod json;
pub mod place;
pub mod terminal;
pub mod text;

#[cfg(test)]
mod samples;

pub use escape::harmless;
pub use terminal::{Colours, Look};
