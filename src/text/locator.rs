//! Locators: the page or paragraph that a citation names (`p. 12`, `pp. 113–114`, `para. 4`).

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
    /// What it counts.
    pub unit: LocatorUnit,
    /// First and last label of each stretch: `pp. 3, 7–9` gives (3,3), (7,9). A shortened end is
    /// filled up: `113–14` gives (113,114).
    pub stretches: Vec<(String, String)>,
    /// As it stands in the text, such as `pp. 113–14`.
    pub written: String,
}

impl Locator {
    /// stub
    #[must_use]
    pub fn pages_cover(&self, _: &super::PageLabel, _: &super::PageLabel) -> bool {
        false
    }
}
