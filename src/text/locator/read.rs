//! Reading a locator at the start of a string.
//!
//! 1. A unit word (`pp.`, `§`, `Table`), or none where a bare number may be a page. A part named by its heading has its
//!    unit behind it (`Introduction section`) or, where the heading is in quotation marks, before it.
//! 2. A label: digits, a Roman numeral, letters with digits, `3.2` for sections.
//! 3. A dash and a second label, whose missing leading digits are taken from the first; or `f.`,
//!    `ff.`.
//! 4. Further stretches after commas and *and*.
//! 5. A further locator with a unit of its own (`chap. 3, p. 12`); of several the page counts.
//!
//! Plain string work: the reader only ever advances, so a locator costs time in proportion to its
//! length.

mod section;

use super::cover::roman;
use super::units::unit_named;
use super::{Locator, LocatorUnit};

/// Whether a number without a unit word is a locator.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::text) enum Bare {
    /// It is a page: `(Lindqvist, 2014, 45)`.
    Pages,
    /// It is not.
    None,
}

/// The longest locator at the start of a string, and where it ends.
pub(in crate::text) fn locator_at(text: &str, bare: Bare) -> Option<(Locator, usize)> {
    let mut reader = Reader { text, at: 0 };
    let (mut unit, mut stretches) = reader.unit_and_stretches(bare)?;
    let mut end = reader.at;
    while reader.skip_separator()
        && let Some((next_unit, next)) = reader.unit_and_stretches(Bare::None)
    {
        if next_unit == LocatorUnit::Page && unit != LocatorUnit::Page {
            (unit, stretches) = (next_unit, next);
        }
        end = reader.at;
    }
    let written = text.get(..end)?.to_owned();
    let locator = Locator {
        unit,
        stretches,
        written,
    };
    Some((locator, end))
}

/// A place in the string; `at` always lies on a character boundary.
struct Reader<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Reader<'a> {
    fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn next(&self) -> Option<char> {
        self.rest().chars().next()
    }

    fn skip_blanks(&mut self) {
        let rest = self.rest();
        self.at += rest.len() - rest.trim_start().len();
    }

    fn take(&mut self, wanted: char) -> bool {
        let found = self.next() == Some(wanted);
        if found {
            self.at += wanted.len_utf8();
        }
        found
    }

    /// The characters for which the condition holds; may be empty.
    fn take_while(&mut self, fits: impl Fn(char) -> bool) -> &'a str {
        let rest = self.rest();
        let end = rest.find(|c| !fits(c)).unwrap_or(rest.len());
        self.at += end;
        rest.get(..end).unwrap_or_default()
    }

    /// A comma between a locator and the next.
    fn skip_separator(&mut self) -> bool {
        self.skip_blanks();
        let found = self.take(',');
        self.skip_blanks();
        found
    }

    fn unit_and_stretches(&mut self, bare: Bare) -> Option<(LocatorUnit, Vec<(String, String)>)> {
        let start = self.at;
        let unit = self.unit();
        let result = match unit {
            Some(unit) => self
                .quoted_heading(unit)
                .or_else(|| self.stretches(Some(unit)))
                .map(|stretches| (unit, stretches)),
            None => self.named_section().or_else(|| match bare {
                Bare::Pages => self.bare(),
                Bare::None => None,
            }),
        };
        if result.is_none() {
            self.at = start;
        }
        result
    }

    /// A unit word with its full stop and the blanks after it.
    fn unit(&mut self) -> Option<LocatorUnit> {
        let start = self.at;
        let sign = self.take_while(|c| c == '§' || c == '¶');
        let unit = match sign.chars().next() {
            Some('§') => Some(LocatorUnit::Section),
            Some(_) => Some(LocatorUnit::Paragraph),
            None => {
                let word = self.take_while(char::is_alphabetic);
                self.take('.');
                unit_named(word)
            }
        };
        if unit.is_none() {
            self.at = start;
        }
        self.skip_blanks();
        unit
    }

    /// Pages without a unit word, or `2:345` (volume and page), or a time stamp.
    fn bare(&mut self) -> Option<(LocatorUnit, Vec<(String, String)>)> {
        let start = self.at;
        if let Some(found) = self.with_colon() {
            return Some(found);
        }
        self.at = start;
        let label = self.label(None)?;
        let small_roman = label.len() > 1 && roman(&label).is_some_and(|value| value < 200);
        if !label.starts_with(|c: char| c.is_ascii_digit()) && !small_roman {
            return None;
        }
        self.at = start;
        let stretches = self.stretches(None)?;
        Some((LocatorUnit::Page, stretches))
    }

    /// `2:345–347` is page 345 of volume 2. Two digits below 60 alone (`2:45`) may as well be a
    /// time stamp (published: APA 7 section 8.28, from memory), so no page is read from them.
    fn with_colon(&mut self) -> Option<(LocatorUnit, Vec<(String, String)>)> {
        let digits = |c: char| c.is_ascii_digit();
        let start = self.at;
        let volume = self.take_while(digits);
        if volume.is_empty() || volume.len() > 4 || !self.take(':') {
            return None;
        }
        if !self.next().is_some_and(digits) {
            return None;
        }
        let stretches = self.stretches(None)?;
        let clock = stretches
            .iter()
            .all(|(first, last)| first == last && first.len() == 2 && first.as_str() < "60");
        if !clock && self.next() != Some(':') {
            return Some((LocatorUnit::Page, stretches));
        }
        let dash_or_clock = |c: char| c.is_ascii_digit() || c == ':' || is_dash(c);
        self.at = start;
        let stamp = self.take_while(dash_or_clock).to_owned();
        Some((LocatorUnit::Other, vec![(stamp.clone(), stamp)]))
    }

    fn stretches(&mut self, unit: Option<LocatorUnit>) -> Option<Vec<(String, String)>> {
        let mut stretches = vec![self.stretch(unit)?];
        loop {
            let before = self.at;
            let next = self.list_sign().then(|| self.stretch(unit)).flatten();
            match next {
                Some(stretch) if !looks_like_year(&stretch, &stretches) => stretches.push(stretch),
                _ => {
                    self.at = before;
                    return Some(stretches);
                }
            }
        }
    }

    /// A comma, *and* or both, with the blanks around them.
    fn list_sign(&mut self) -> bool {
        self.skip_blanks();
        let comma = self.take(',');
        self.skip_blanks();
        let start = self.at;
        let word = self.take_while(|c| c.is_alphabetic() || c == '&');
        if matches!(word, "and" | "&" | "und" | "et" | "y" | "og" | "och") {
            self.skip_blanks();
            return true;
        }
        self.at = start;
        comma
    }

    /// One label, or two with a dash between. Without a unit word a counted noun must not follow
    /// (`2014, 12 sites`).
    fn stretch(&mut self, unit: Option<LocatorUnit>) -> Option<(String, String)> {
        let first = self.label(unit)?;
        let mut last = first.clone();
        let before = self.at;
        self.skip_blanks();
        let dashes = self.take_while(is_dash);
        if !dashes.is_empty() && dashes.len() <= 6 {
            self.skip_blanks();
            match self.label(unit) {
                Some(end) => last = filled_up(&first, &end),
                None => self.at = before,
            }
        } else {
            self.at = before;
            if let Some(open) = self.following() {
                last = open.map_or_else(String::new, |count| one_on(&first, count));
            }
        }
        if unit.is_none() {
            let behind = self.rest().trim_start();
            let counted = |c: char| c.is_alphanumeric() || matches!(c, '%' | '°' | '=' | '@' | '×');
            let linked = ["and ", "as ", "quoted ", "qtd", "in ", "emphasis ", "& "];
            let linked = linked.iter().any(|link| behind.starts_with(link));
            if behind.starts_with(counted) && !linked {
                return None;
            }
        }
        Some((first, last))
    }

    /// `f.` (one page on: `Some(Some(1))`) or `ff.` (open: `Some(None)`) after a label.
    fn following(&mut self) -> Option<Option<u32>> {
        let start = self.at;
        self.skip_blanks();
        let word = self.take_while(char::is_alphanumeric);
        let open = match word {
            "f" | "sq" => Some(Some(1)),
            "ff" | "sqq" => Some(None),
            _ => None,
        };
        match open {
            Some(_) => {
                self.take('.');
            }
            None => self.at = start,
        }
        open
    }

    /// One page label or, with units that number in steps, `3.2.1`.
    fn label(&mut self, unit: Option<LocatorUnit>) -> Option<String> {
        let start = self.at;
        let letters = self.take_while(char::is_alphabetic).to_owned();
        let dotted = !matches!(unit, None | Some(LocatorUnit::Page));
        let label = if letters.is_empty() {
            self.number(dotted)
        } else {
            self.lettered(&letters, dotted)
        };
        if label.is_none() {
            self.at = start;
        }
        label
    }

    /// Digits, with a letter or a note number after (`12a`, `12n3`).
    fn number(&mut self, dotted: bool) -> Option<String> {
        let digits = |c: char| c.is_ascii_digit();
        let mut label = self.take_while(digits).to_owned();
        if label.is_empty() || label.len() > 6 {
            return None;
        }
        if label.len() == 1 && !dotted {
            label.push_str(self.thousands());
        }
        while dotted && self.rest().starts_with('.') && self.digit_behind() {
            self.at += 1;
            label.push('.');
            label.push_str(self.take_while(digits));
        }
        let start = self.at;
        let tail = self.take_while(char::is_alphanumeric);
        let note = |c: char| c == 'n' || digits(c);
        match tail {
            "" => {}
            "f" | "ff" => self.at = start,
            _ if tail.len() == 1 && tail.starts_with(|c: char| c.is_ascii_lowercase()) => {
                label.push_str(tail);
            }
            _ if tail.starts_with('n') && tail.chars().all(note) => {}
            _ => return None,
        }
        Some(label)
    }

    fn digit_behind(&self) -> bool {
        self.rest()
            .chars()
            .nth(1)
            .is_some_and(|c| c.is_ascii_digit())
    }

    /// `,203` after a single digit without a blank: `1,203` is one number.
    fn thousands(&mut self) -> &'a str {
        let start = self.at;
        let group = if self.take(',') {
            self.take_while(|c| c.is_ascii_digit())
        } else {
            ""
        };
        if group.len() != 3 {
            self.at = start;
            return "";
        }
        group
    }

    /// A Roman numeral, letters with digits (`S12`, `A-3`), or one letter where steps are numbered.
    fn lettered(&mut self, letters: &str, dotted: bool) -> Option<String> {
        let hyphen = letters.len() == 1 && self.rest().starts_with('-') && self.digit_behind();
        let short = letters.len() <= 2 && letters.is_ascii();
        let capital = letters.starts_with(|c: char| c.is_ascii_uppercase());
        let mut label = letters.to_owned();
        if hyphen && capital {
            self.at += 1;
            label.push('-');
        }
        let digits = self.take_while(|c| c.is_ascii_digit());
        if self.next().is_some_and(char::is_alphanumeric) || digits.len() > 6 {
            return None;
        }
        label.push_str(digits);
        let alone = digits.is_empty();
        let fits = if alone {
            roman(letters).is_some() || (dotted && letters.len() == 1 && capital)
        } else {
            short
        };
        fits.then_some(label)
    }
}

fn is_dash(c: char) -> bool {
    matches!(c, '-' | '‐' | '‑' | '‒' | '–' | '—' | '−')
}

/// A four-digit year after a page far below it is the next work's year: `45, 2015`.
fn looks_like_year(stretch: &(String, String), before: &[(String, String)]) -> bool {
    let year = matches!(stretch.0.parse(), Ok(1500..=2099)) && stretch.0 == stretch.1;
    let page = before.last().map(|(first, _)| first.parse::<u32>());
    year && !matches!(page, Some(Ok(1000..)))
}

/// The end of a range with the leading digits (or letters) that were left out: `113–14` means 114,
/// `S12–14` means S14. Where the filled end lies before the start (`199–01`), the next higher number
/// with those final digits is meant.
fn filled_up(first: &str, end: &str) -> String {
    let letters: usize = first
        .chars()
        .take_while(|c| !c.is_ascii_digit())
        .map(char::len_utf8)
        .sum();
    let (letters, digits) = first.split_at(letters);
    let (Ok(from), Ok(to)) = (digits.parse::<u64>(), end.parse::<u64>()) else {
        return end.to_owned();
    };
    if to >= from || end.len() >= digits.len() {
        return format!("{letters}{end}");
    }
    // At most six digits, or seven with the thousands: no power here comes near the width of u64.
    let step = 10_u64.pow(u32::try_from(end.len()).unwrap_or(6).min(7));
    let filled = from - from % step + to;
    let filled = if filled < from { filled + step } else { filled };
    format!("{letters}{filled}")
}

/// The label so many pages later, or the same label where it is not a number.
fn one_on(first: &str, count: u32) -> String {
    match first.parse::<u32>() {
        Ok(number) => number.saturating_add(count).to_string(),
        Err(_) => first.to_owned(),
    }
}
