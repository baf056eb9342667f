//! A copy of the draft with each open finding as a comment in the margin, at exactly its passage.
//!
//! 1. [`anchor`] leads a finding's range back to places in the package. A passage in a footnote or in a
//!    text box, where word processors take no comments, is anchored at the note's call or at the box; one that
//!    touches a field, at all of the field.
//! 2. [`words`] puts the finding into less than sixty words.
//! 3. [`docx`], with [`comments`], and [`odt`] put marks and comments into the parts that need them. They are put
//!    in between the bytes that are there ([`splice`]); every other part of the package is copied as it is, and
//!    so are tracked changes, fields, styles and the comments of others.
//! 4. [`sound`] opens the copy again: it is well-formed and differs in what was added and nothing else, or nothing is
//!    handed back but the reason.

mod anchor;
mod comments;
mod docx;
mod fields;
mod odt;
mod ranges;
mod relations;
mod runs;
mod sameness;
mod sound;
mod splice;
#[cfg(test)]
mod tests;
mod well_formed;
mod words;

use crate::findings::Finding;
use crate::reading::{Format, Limits, Unreadable};
use crate::text::Text;

/// The name that comments are signed with.
const AUTHOR: &str = "ownwords";

/// Why a draft can't be given comments.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum MarginError {
    /// The format has no margin.
    #[error(
        "comments in the margin need a Word (.docx) or OpenDocument (.odt) draft; for this one use --format page, or save it as one of these first"
    )]
    NoMargin,
    /// The findings are not of these bytes.
    #[error(
        "the findings are those of another file than this one; check this file, and comment what was found in it"
    )]
    OtherFile,
    /// The package can't be read or is built in a way that comments can't be put in.
    #[error(transparent)]
    Unreadable(#[from] Unreadable),
    /// The document does not declare what comments need.
    #[error(
        "comments can't be put into this file ({0}); save it again in the word processor, or use --format page"
    )]
    Unusual(String),
    /// A part that would have to change is not sound itself.
    #[error(
        "comments can't be put into this file, since {part} in it is no sound XML ({fault}); open it in the word processor, save it again and use that file, or use --format page"
    )]
    Broken {
        /// The part.
        part: String,
        /// What is wrong with it.
        fault: String,
    },
    /// The copy would not be sound.
    #[error(
        "no copy was written, since comments would have damaged {part} in it ({fault}); open the file in the word processor, save it again and use that file, or use --format page"
    )]
    Unsound {
        /// The part.
        part: String,
        /// What would be wrong with it.
        fault: String,
    },
}

fn unusual(why: &str) -> MarginError {
    MarginError::Unusual(why.to_owned())
}

/// The bytes of a draft with its open findings as comments. `text` is what was read from the same bytes;
/// findings refer to it.
///
/// # Errors
/// [`MarginError`] where the format has no comments or the file is not as it was when it was read.
pub fn annotate(
    bytes: Vec<u8>,
    format: Format,
    text: &Text,
    findings: &[Finding],
    limits: &Limits,
) -> Result<Vec<u8>, MarginError> {
    let open: Vec<&Finding> = findings
        .iter()
        .filter(|finding| finding.settled.is_none())
        .collect();
    match format {
        Format::Docx => docx::annotate(bytes, text, &open, limits),
        Format::Odt => odt::annotate(bytes, text, &open, limits),
        _ => Err(MarginError::NoMargin),
    }
}
