//! The annotated bibliography: the entries in alphabetical order, each with its reference in a published
//! author-date style, and with summary, quotations and comments kept visibly apart.
//!
//! 1. `style` formats the references.
//! 2. [`Bibliography`] is the one tree of results.
//! 3. [`markdown`], [`html`] and [`docx`] write it.

pub mod docx;
pub mod html;
pub mod markdown;
#[cfg(feature = "styles")]
mod of_review;
#[cfg(feature = "styles")]
pub mod style;

use crate::review::PartKind;

#[cfg(feature = "styles")]
pub use of_review::of_review;
#[cfg(feature = "styles")]
pub use style::{Styles, UnknownStyle};

/// The bibliography.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Bibliography {
    /// What it is headed.
    pub title: String,
    /// The style's name for readers.
    pub style: String,
    /// In alphabetical order.
    pub entries: Vec<BibliographyEntry>,
}

/// One entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BibliographyEntry {
    /// The reference, formatted; the entry's heading where it leads to no reference.
    pub reference: Vec<Styled>,
    /// Its parts in the order summary, quotations, comments; empty ones are left out.
    pub parts: Vec<(PartKind, Vec<Paragraph>)>,
}

/// A stretch of a formatted reference.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Styled {
    /// Its characters.
    pub text: String,
    /// Whether it is italic.
    pub italic: bool,
    /// Whether it is bold.
    pub bold: bool,
    /// Whether it is raised.
    pub raised: bool,
    /// Where it leads.
    pub link: Option<String>,
}

/// A paragraph of a part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Paragraph {
    /// Whether it is an item of a list.
    pub item: bool,
    /// Whether it is a quotation set off.
    pub quotation: bool,
    /// Its words, on one line.
    pub text: String,
}

/// The heading of a part, which says whose words stand below.
fn heading(part: PartKind) -> &'static str {
    match part {
        PartKind::Reference => "Reference",
        PartKind::Summary => "Summary",
        PartKind::Quotations => "Quotations",
        PartKind::Comments => "My comments",
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    /// An entry with everything that has to be escaped.
    pub(in crate::report) fn sample() -> Bibliography {
        let styled = |text: &str, italic| Styled {
            text: text.to_owned(),
            italic,
            ..Styled::default()
        };
        let paragraph = |text: &str, item, quotation| Paragraph {
            text: text.to_owned(),
            item,
            quotation,
        };
        Bibliography {
            title: "Annotated bibliography".to_owned(),
            style: "APA".to_owned(),
            entries: vec![BibliographyEntry {
                reference: vec![
                    styled("Harrow, A. (2019). ", false),
                    styled("Lamps & <moths>", true),
                    styled(". Annals_of_*stars*, 1. #x", false),
                ],
                parts: vec![
                    (
                        PartKind::Summary,
                        vec![paragraph("Moths < lamps & \"dark\".", false, false)],
                    ),
                    (
                        PartKind::Quotations,
                        vec![
                            paragraph("“they circle” (p. 14)", true, false),
                            paragraph("Set off at length.", false, true),
                        ],
                    ),
                    (
                        PartKind::Comments,
                        vec![paragraph("1. Compare *Okoro*.", false, false)],
                    ),
                ],
            }],
        }
    }
}
