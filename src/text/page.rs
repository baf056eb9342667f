//! Pages. A Text knows where each page begins if its file says so; pages are never invented. A page
//! is named by its printed label, which need not be a number (`xiv`, `A-3`).

use super::ByteRange;

/// The printed name of a page, such as `113` or `xiv`, trimmed.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PageLabel(String);

impl PageLabel {
    /// The label as printed, without blank space around it.
    #[must_use]
    pub fn new(label: &str) -> Self {
        Self(label.trim().to_owned())
    }

    /// The label as printed.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The page number, if the label is an Arabic number.
    #[must_use]
    pub fn number(&self) -> Option<u32> {
        self.0.parse().ok()
    }
}

impl std::fmt::Display for PageLabel {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(&self.0)
    }
}

/// The place where a page begins.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PageStart {
    /// The page that begins here.
    pub label: PageLabel,
    /// The mark itself (`[p. 113]`) where the Text shows one: it is not prose. Empty where the page
    /// break is known from the file's structure.
    pub mark: ByteRange,
}

/// Where a sheet of the file begins in the Text. Sheets are counted as a reading program counts them. They
/// are not page numbers, but a reference's page range can turn them into page numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SheetStart {
    /// The byte position.
    pub at: usize,
    /// The number of the sheet, from 1. A sheet begins again where its footnotes stand after text of the next.
    pub sheet: u32,
}

/// The pages of a Text, in the order of the text.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Pages {
    starts: Vec<PageStart>,
}

impl Pages {
    /// The pages that begin at the given places; put in order of their position.
    #[must_use]
    pub fn new(mut starts: Vec<PageStart>) -> Self {
        starts.sort_by_key(|start| start.mark);
        Self { starts }
    }

    /// All page starts in order.
    #[must_use]
    pub fn starts(&self) -> &[PageStart] {
        &self.starts
    }

    /// Whether the file named no page.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.starts.is_empty()
    }

    /// The page a position lies on; `None` before the first known page.
    #[must_use]
    pub fn at(&self, position: usize) -> Option<&PageLabel> {
        let behind = self
            .starts
            .partition_point(|start| start.mark.start() <= position);
        behind
            .checked_sub(1)
            .and_then(|index| self.starts.get(index))
            .map(|start| &start.label)
    }

    /// The page marks that lie at least partly inside a range, in order; page breaks without a mark
    /// are left out. Readers give marks that don't overlap.
    pub fn marks_in(&self, range: ByteRange) -> impl Iterator<Item = ByteRange> + '_ {
        let from = self
            .starts
            .partition_point(|start| start.mark.end() <= range.start());
        self.starts
            .iter()
            .skip(from)
            .map(|start| start.mark)
            .take_while(move |mark| mark.start() < range.end())
            .filter(|mark| !mark.is_empty())
    }

    /// The stretches of a range between the page marks inside it, in order; none is empty.
    pub fn between_marks(&self, range: ByteRange) -> impl Iterator<Item = ByteRange> + '_ {
        let mut at = range.start();
        self.marks_in(range)
            .map(|mark| (mark.start(), mark.end()))
            .chain(std::iter::once((range.end(), range.end())))
            .filter_map(move |(start, end)| {
                let stretch = ByteRange::of(at, start);
                at = end.max(at);
                (!stretch.is_empty()).then_some(stretch)
            })
    }

    /// The first and the last page of a range (the same label twice where it stays on one page).
    #[must_use]
    pub fn of(&self, range: ByteRange) -> Option<(&PageLabel, &PageLabel)> {
        let last = range.end().saturating_sub(1).max(range.start());
        Some((self.at(range.start())?, self.at(last)?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_position_is_on_the_page_that_began_last() {
        let start = |label: &str, from, to| PageStart {
            label: PageLabel::new(label),
            mark: ByteRange::new(from, to),
        };
        let pages = Pages::new(vec![start("14", 40, 47), start("xiii", 10, 10)]);
        let label = |position| pages.at(position).map(PageLabel::as_str);
        assert_eq!(label(9), None);
        assert_eq!(label(10), Some("xiii"));
        assert_eq!(label(39), Some("xiii"));
        assert_eq!(label(40), Some("14"));
        let (first, last) = pages.of(ByteRange::new(30, 60)).unwrap();
        assert_eq!((first.as_str(), last.as_str()), ("xiii", "14"));
        assert!(pages.of(ByteRange::new(0, 60)).is_none());
        let between: Vec<_> = pages.between_marks(ByteRange::new(5, 60)).collect();
        assert_eq!(between, [ByteRange::new(5, 40), ByteRange::new(47, 60)]);
        let inside: Vec<_> = pages.between_marks(ByteRange::new(42, 47)).collect();
        assert!(inside.is_empty());
    }
}
