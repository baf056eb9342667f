//! Page numbers of word processors' files.
//!
//! A word processor's file is not a sequence of pages: where they break is worked out on the screen. At most
//! it records where they broke when it was last laid out. Pages are named only
//! 1. if there is such a record (a typed page break says nothing about the pages that broke automatically),
//!    and
//! 2. if the pages carry numbers: a header or footer prints them, or the file says at which number they
//!    begin. A page without a printed number can't be the page that somebody cites.
//!
//! The first page then has the number that the file gives, or else 1, as the word processor prints it.

use crate::text::PageLabel;

/// A place where a page ends and the next begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::reading) struct PageBreak {
    /// The position in the story.
    pub at: usize,
    /// Whether it is a record of the last layout, and was not put in by the writer.
    pub recorded: bool,
}

/// How page numbers are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(in crate::reading) enum Numerals {
    /// 1, 2, 3
    #[default]
    Arabic,
    /// i, ii, iii
    SmallRoman,
    /// I, II, III
    Roman,
    /// a, b, c
    SmallLetters,
    /// A, B, C
    Letters,
}

/// A stretch of the document with numbering of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::reading) struct Section {
    /// Where it ends in the running text.
    pub end: usize,
    /// The number of its first page where the file gives one; otherwise it continues from the page before.
    pub first: Option<u32>,
    /// The form of its numbers.
    pub numerals: Numerals,
}

/// What the file says about page numbers.
#[derive(Debug, Clone, Default)]
pub(in crate::reading) struct Numbering {
    /// The sections in order.
    pub sections: Vec<Section>,
    /// Whether a header or footer prints the number.
    pub printed: bool,
}

impl Numbering {
    /// The pages of a running text with the given breaks: where each begins and its label.
    pub(super) fn pages(&self, text: &str, breaks: &[PageBreak]) -> Vec<(usize, PageLabel)> {
        let stated = self.sections.first().and_then(|section| section.first);
        let recorded = breaks.iter().any(|page| page.recorded);
        if !recorded || !(self.printed || stated.is_some()) {
            return Vec::new();
        }
        let mut number = stated.unwrap_or(1);
        let mut current = 0;
        let mut pages = vec![(0, self.label(0, number))];
        for at in distinct(text, breaks) {
            let section = self.sections.partition_point(|section| section.end <= at);
            let section = section.min(self.sections.len().saturating_sub(1));
            let restarted = self
                .sections
                .get(section)
                .and_then(|section| section.first)
                .filter(|_| section != current);
            current = section;
            number = restarted.unwrap_or(number.saturating_add(1));
            // Two breaks at one place leave an empty page between.
            if pages.last().is_some_and(|(last, _)| *last == at) {
                pages.pop();
            }
            pages.push((at, self.label(section, number)));
        }
        pages
    }

    fn label(&self, section: usize, number: u32) -> PageLabel {
        let numerals = self.sections.get(section).map(|section| section.numerals);
        PageLabel::new(&numerals.unwrap_or_default().write(number))
    }
}

/// The places of breaks. A break that the writer put in and the record of it count as one.
fn distinct(text: &str, breaks: &[PageBreak]) -> Vec<usize> {
    let mut places: Vec<usize> = Vec::with_capacity(breaks.len());
    let mut last: Option<PageBreak> = None;
    for page in breaks {
        let same = last.is_some_and(|last| {
            let between = text.get(last.at..page.at);
            last.recorded != page.recorded
                && between.is_some_and(|between| between.trim().is_empty())
        });
        if !same {
            places.push(page.at);
        }
        // Neither of the pair is matched with a third.
        last = (!same).then_some(*page);
    }
    places
}

impl Numerals {
    /// A number as written.
    fn write(self, number: u32) -> String {
        match self {
            Self::Arabic => number.to_string(),
            Self::SmallRoman => roman(number).unwrap_or_else(|| number.to_string()),
            Self::Roman => roman(number).map_or_else(|| number.to_string(), |n| n.to_uppercase()),
            Self::SmallLetters => letters(number),
            Self::Letters => letters(number).to_uppercase(),
        }
    }
}

/// Roman numerals up to 3999; there is no zero.
fn roman(mut number: u32) -> Option<String> {
    const STEPS: [(u32, &str); 13] = [
        (1000, "m"),
        (900, "cm"),
        (500, "d"),
        (400, "cd"),
        (100, "c"),
        (90, "xc"),
        (50, "l"),
        (40, "xl"),
        (10, "x"),
        (9, "ix"),
        (5, "v"),
        (4, "iv"),
        (1, "i"),
    ];
    if !(1..4000).contains(&number) {
        return None;
    }
    let mut numeral = String::new();
    for (value, sign) in STEPS {
        while number >= value {
            numeral.push_str(sign);
            number -= value;
        }
    }
    Some(numeral)
}

/// a to z, then aa to zz, as word processors do it.
fn letters(number: u32) -> String {
    let Some(from_zero) = number.checked_sub(1) else {
        return number.to_string();
    };
    let times = (from_zero / 26 + 1).min(10);
    let letter = char::from(b'a' + (from_zero % 26) as u8);
    std::iter::repeat_n(letter, times as usize).collect()
}
