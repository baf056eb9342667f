//! The pages of a quotation: those on which the source has its words, held against those that are cited.
//!
//! Published (from memory): a quotation that runs over a page takes both pages, `pp. 12-13` (APA 7, 8.25;
//! Chicago 17, 9.60 and 14.148; MLA 9, 6.18).

use crate::findings::session::Session;
use crate::text::{Block, ByteRange, Locator, LocatorUnit, MarkedText, PageLabel, Quotation};

use super::{Looked, Match};

/// What is to be said of the page that is cited.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PageCheck {
    /// The source has the words there.
    Right,
    /// The source has some of the words there, the others on another page.
    Partly,
    /// The source has the words elsewhere.
    Wrong,
    /// No page or other place is cited.
    Missing,
    /// The source doesn't show its pages, does not have the words, or is cited by something else than pages.
    Unknown,
}

impl PageCheck {
    /// Every one, in order.
    pub const ALL: [Self; 5] = [
        Self::Right,
        Self::Partly,
        Self::Wrong,
        Self::Missing,
        Self::Unknown,
    ];

    /// The name in reports for programs.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Right => "right",
            Self::Partly => "partly",
            Self::Wrong => "wrong",
            Self::Missing => "missing",
            Self::Unknown => "unknown",
        }
    }
}

/// First and last page of a stretch.
pub(super) type Pages = (PageLabel, PageLabel);

impl Looked<'_> {
    /// First and last page of every place where the source has the words; empty where it has no pages.
    /// Of a quotation from several places the pages of each piece.
    pub(crate) fn pages(&self, session: &Session) -> Vec<Pages> {
        let Some((document, found)) = &self.found else {
            return Vec::new();
        };
        let Some(stored) = session.library.documents.get(*document) else {
            return Vec::new();
        };
        let pages = stored.text.text.pages();
        found
            .places()
            .iter()
            .filter_map(|place| pages.of(stored.stream.bytes(&stored.text, *place)))
            .map(|(first, last)| (first.clone(), last.clone()))
            .collect()
    }

    /// The cited page held against the source's.
    pub(crate) fn page_check(&self, session: &Session) -> PageCheck {
        let Some(locator) = &self.locator else {
            return PageCheck::Missing;
        };
        let pages = self.pages(session);
        let key = self
            .found
            .as_ref()
            .and_then(|(document, _)| Some(&session.source(*document)?.key));
        let cites_it = key.is_some_and(|key| self.cited.contains(key));
        if locator.unit != LocatorUnit::Page || pages.is_empty() || !cites_it {
            return PageCheck::Unknown;
        }
        let joined = matches!(self.found, Some((_, Match::Joined(_))));
        check(locator, &pages, joined)
    }
}

/// `joined`: all of the places are needed, not one of them.
fn check(locator: &Locator, pages: &[Pages], joined: bool) -> PageCheck {
    let covers = |(first, last): &Pages| locator.pages_cover(first, last);
    let touches = |(first, last): &Pages| {
        locator.pages_cover(first, first) || locator.pages_cover(last, last)
    };
    let right = if joined {
        pages.iter().all(covers)
    } else {
        pages.iter().any(covers)
    };
    match (right, pages.iter().any(touches)) {
        (true, _) => PageCheck::Right,
        (false, true) => PageCheck::Partly,
        (false, false) => PageCheck::Wrong,
    }
}

/// `p. 113` or `pp. 113–114`.
pub(super) fn page_words((first, last): &Pages) -> String {
    if first == last {
        format!("p. {first}")
    } else {
        format!("pp. {first}–{last}")
    }
}

/// The page that stands beside a quotation without a work, as notes have it: in brackets inside it at its
/// end or right behind it, else plain behind it, else at the start of its line.
pub(super) fn beside(text: &MarkedText, quotation: &Quotation) -> Option<Locator> {
    let content = &text.text;
    let block = content.block_at(quotation.outer.start());
    let block = block.map_or(quotation.outer, |Block { range, .. }| *range);
    let at_end = content.slice(quotation.inner).trim_end();
    let at_end = at_end
        .strip_suffix([')', ']'])
        .and_then(|open| open.rsplit_once(['(', '[']))
        .and_then(|(_, inside)| Locator::parse(inside));
    at_end
        .or_else(|| behind(content.slice(ByteRange::of(quotation.outer.end(), block.end()))))
        .or_else(|| {
            let start = block.start().min(quotation.outer.start());
            before(content.slice(ByteRange::of(start, quotation.outer.start())))
        })
}

fn behind(rest: &str) -> Option<Locator> {
    let rest = rest.trim_start_matches(|c: char| c.is_whitespace() || ".,;:—–-".contains(c));
    if let Some(open) = rest.strip_prefix(['(', '[']) {
        let inside = open.split([')', ']']).next()?;
        let parts = [inside, inside.split([',', ';']).next().unwrap_or_default()];
        return parts.into_iter().find_map(Locator::parse);
    }
    let line = rest.lines().next().unwrap_or_default();
    // A bare number in running text is no page.
    let named = |text: &str| text.starts_with(|c: char| c.is_alphabetic() || c == '§');
    let ends = [line, line.split([';', '.']).next().unwrap_or_default()];
    let mut cuts: Vec<&str> = ends.to_vec();
    // `p. 12`: two parts between blanks, `p.12` one.
    let words: Vec<usize> = line.match_indices(' ').map(|(at, _)| at).take(2).collect();
    cuts.extend(words.iter().rev().filter_map(|at| line.get(..*at)));
    cuts.into_iter()
        .filter(|text| named(text))
        .find_map(|text| Locator::parse(text.trim_end_matches([',', ';', ':', ')'])))
}

fn before(lead: &str) -> Option<Locator> {
    let line = lead.lines().last().unwrap_or_default();
    let line = line.trim_matches(|c: char| c.is_whitespace() || ":-–—*>()[]".contains(c));
    Locator::parse(line)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::Text;

    #[test]
    fn cited_pages_against_the_sources() {
        let label = |pages: &str| {
            let (first, last) = pages.split_once('-').unwrap_or((pages, pages));
            (PageLabel::new(first), PageLabel::new(last))
        };
        let table = [
            ("p. 12", "12", PageCheck::Right),
            ("p. 12", "13", PageCheck::Wrong),
            ("p. 12", "12-13", PageCheck::Partly),
            ("p. 13", "12-13", PageCheck::Partly),
            ("pp. 12–13", "12-13", PageCheck::Right),
            ("pp. 12–14", "13", PageCheck::Right),
            ("pp. 12, 13", "12-13", PageCheck::Right),
            ("p. 12f.", "12-13", PageCheck::Right),
            ("p. xii", "xii-xiii", PageCheck::Partly),
            ("p. 12", "4 12", PageCheck::Right),
        ];
        for (cited, found, wanted) in table {
            let pages: Vec<Pages> = found.split(' ').map(label).collect();
            let locator = Locator::parse(cited).unwrap();
            assert_eq!(check(&locator, &pages, false), wanted, "{cited} {found}");
        }
        let both = [label("4"), label("12")];
        for (cited, wanted) in [
            ("pp. 4, 12", PageCheck::Right),
            ("p. 12", PageCheck::Partly),
            ("p. 5", PageCheck::Wrong),
        ] {
            let locator = Locator::parse(cited).unwrap();
            assert_eq!(check(&locator, &both, true), wanted, "{cited}");
        }
    }

    #[test]
    fn pages_beside_quotations_in_notes() {
        let table = [
            ("\"one two three\" (p. 12)", Some("p. 12")),
            ("\"one two three\" (pp. 12–13).", Some("pp. 12–13")),
            ("\"one two three\" (12)", Some("12")),
            ("\"one two three\" [p. 12]", Some("p. 12")),
            ("\"one two three\" (p. 12, emphasis added)", Some("p. 12")),
            ("\"one two three,\" p. 12", Some("p. 12")),
            ("\"one two three\" — p. 12 good", Some("p. 12")),
            ("\"one two three\", p. 12; see there", Some("p. 12")),
            ("p. 12: \"one two three\"", Some("p. 12")),
            ("(p. 12) \"one two three\"", Some("p. 12")),
            ("\"one two three\"", None),
            ("\"one two three\" and 12 more", None),
            ("\"one two three\" (said twice)", None),
        ];
        for (line, wanted) in table {
            let text = MarkedText::new(Text::paragraph(line));
            let quotation = text.quotations.first().unwrap();
            let found = beside(&text, quotation).map(|locator| locator.written);
            assert_eq!(found.as_deref(), wanted, "{line}");
        }
    }
}
