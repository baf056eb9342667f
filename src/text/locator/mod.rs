//! Locators: the page or paragraph that a citation names (`p. 12`, `pp. 113–114`, `para. 4`).
//!
//! 1. `read` takes the longest locator at the start of a string: a unit word, then labels, ranges and lists
//!    of them. A shortened end is completed there, so that later stages see whole labels.
//! 2. `cover` decides whether the stretches name the pages on which some words stand.
//!
//! The words a locator was read from stay with it, because reports show what the writer wrote.

mod cover;
mod read;
#[cfg(test)]
mod tests;
mod units;

use super::PageLabel;
pub(super) use read::{Bare, locator_at};

/// What a locator counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LocatorUnit {
    /// Pages.
    Page,
    /// Paragraphs.
    Paragraph,
    /// Chapters.
    Chapter,
    /// Sections.
    Section,
    /// Anything else that leads to a place: line, verse, figure, table, time stamp.
    Other,
}

/// A parsed locator that keeps the words it was read from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Locator {
    /// What it counts. Where several places are named (`chap. 3, p. 12`), the page if there is one,
    /// else the first.
    pub unit: LocatorUnit,
    /// First and last label of each stretch: `pp. 3, 7–9` gives (3,3), (7,9). A shortened end is completed:
    /// `113–14` gives (113,114). The last label is empty where the end is open: `12ff.` gives (12,).
    pub stretches: Vec<(String, String)>,
    /// As it stands in the text, such as `pp. 113–14`.
    pub written: String,
}

/// Whether the word is a Roman numeral in its canonical spelling, in either case.
pub(super) fn is_roman(word: &str) -> bool {
    cover::roman(word).is_some()
}

impl Locator {
    /// Reads a string that holds only a locator. A number or a small Roman numeral without a unit counts
    /// pages.
    ///
    /// ```
    /// use ownwords::text::{Locator, LocatorUnit};
    /// let locator = Locator::parse("pp. 113–14").unwrap();
    /// assert_eq!(locator.unit, LocatorUnit::Page);
    /// assert_eq!(locator.stretches, [("113".to_owned(), "114".to_owned())]);
    /// assert!(Locator::parse("chiefly").is_none());
    /// ```
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let text = text.trim();
        let (locator, end) = locator_at(text, Bare::Pages)?;
        let rest = text.get(end..)?.trim_end_matches(['.', ' ']);
        rest.is_empty().then_some(locator)
    }

    /// Reads the locator with which a string begins; a number without a unit is not one.
    #[must_use]
    pub fn at_start(text: &str) -> Option<Self> {
        locator_at(text, Bare::None).map(|(locator, _)| locator)
    }

    /// Whether the locator names every page from `first` to `last`, the pages on which the words stand.
    /// Arabic numbers are compared with Arabic numbers, Roman with Roman, numbers after the same letters
    /// (`S12`) with each other; other labels must be the same apart from case. Always false for a locator
    /// that counts something other than pages.
    #[must_use]
    pub fn pages_cover(&self, first: &PageLabel, last: &PageLabel) -> bool {
        self.unit == LocatorUnit::Page
            && cover::covers(&self.stretches, first.as_str(), last.as_str())
    }
}

impl std::fmt::Display for Locator {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(&self.written)
    }
}
