//! LaTeX. The Text is the prose of the document without its markup:
//!
//! 1. The preamble is passed over; only its own commands (`\newcommand`) and the title are kept.
//! 2. The body is read from command to command ([`reader`]): text is copied with its place in the file,
//!    a command known to print a sign prints it ([`signs`]), one known to take arguments that are no prose
//!    loses them, and any other vanishes while its arguments are read on ([`commands`]).
//! 3. Citations are written in Pandoc's form, quotation commands with quotation marks ([`cites`], [`quotes`]).
//! 4. Footnotes stand behind the running text, in order of their calls.
//! 5. Left out: mathematics that is more than plain signs, drawings, comments, cross-references.
//!    Tables are kept as tables, captions as paragraphs.
//! 6. Files named by `\input` and `\include` are read in their place, through a function that looks for
//!    them in the document's own folder only. Places in them are counted on behind the document's own.
//!
//! It is a reader of prose and no typesetter: commands that compute are not followed.

mod cites;
mod commands;
mod environments;
mod macros;
mod quotes;
mod reader;
mod scan;
mod signs;
#[cfg(test)]
mod tests;

use super::includes::Include;
use crate::text::{Origin, Text};

/// Finds a file by the name that the document gives it; `None` where it can't be read.
pub(super) type Load<'a> = &'a dyn Fn(&str) -> Option<Include>;

/// Reads LaTeX. Gives the Text and remarks on what could not be followed.
pub(super) fn read(content: &str, origin: &Origin, load: Load<'_>) -> (Text, Vec<String>) {
    let mut reader = reader::Reader::new(load, content);
    reader.document(content);
    reader.finish(origin)
}
