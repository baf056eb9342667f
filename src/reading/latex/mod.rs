//! LaTeX. The Text is the prose of the document without its markup:
//!
//! 1. The preamble is passed over; only its own commands (`\newcommand`) and the title are kept.
//! 2. The body is read from command to command ([`reader`]). Text is copied with its position in the file. A
//!    command known to print a sign prints it ([`signs`]), one known to take arguments that are not prose
//!    loses them, and any other is dropped while its arguments are read ([`commands`]).
//! 3. Citations are written in Pandoc's form, quotation commands with quotation marks ([`cites`],
//!    [`quotes`]).
//! 4. Footnotes come after the running text, in order of their calls.
//! 5. Left out: mathematics beyond plain signs, drawings, comments, cross-references. Tables are kept as
//!    tables, captions as paragraphs.
//! 6. Files named by `\input` and `\include` are read in their place, through a function that looks for them
//!    only in the document's own folder. Positions in them are counted on after the document's own.
//!
//! It reads prose and does not typeset: commands that compute are not followed.

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

/// Reads LaTeX. Returns the Text and remarks on what could not be followed.
pub(super) fn read(content: &str, origin: &Origin, load: Load<'_>) -> (Text, Vec<String>) {
    let mut reader = reader::Reader::new(load, content);
    reader.document(content);
    reader.finish(origin)
}
