//! Near misses between what is cited and what is listed: a slip in a year or in a name keeps the two from
//! being the same work, and naming it saves the search.

use crate::review::is_slip_of;
use crate::text::CiteTarget;

/// The beginning of a line of references, of a heading, or of a reference in words: the words among
/// which the first author stands, and the years.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Line<'w> {
    /// Its words in normal form.
    pub(super) words: &'w [String],
    /// Words from its start within which the first author must stand.
    pub(super) author_within: usize,
}

/// A work as cited: the first author's name and the year.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) struct Work {
    /// The words of the name in normal form.
    name: Vec<String>,
    /// The year.
    year: i32,
}

/// What keeps two from being the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Slip {
    /// The year there.
    Year(i32),
    /// The name there, in normal form.
    Name(String),
}

impl Slip {
    /// As a clause: `with the year 2018`.
    pub(super) fn clause(&self) -> String {
        match self {
            Self::Year(year) => format!("with the year {year}"),
            Self::Name(name) => format!("with the name spelled \"{name}\""),
        }
    }
}

impl Work {
    /// The work that a citation by author and year names.
    pub(super) fn cited(
        target: &CiteTarget,
        normal_words: fn(&str) -> Vec<String>,
    ) -> Option<Self> {
        let CiteTarget::Author { names, year, .. } = target else {
            return None;
        };
        Self::new(normal_words(names.first()?), year.as_ref()?.number)
    }

    /// A work of this author and year.
    pub(super) fn new(name: Vec<String>, year: Option<i32>) -> Option<Self> {
        (!name.is_empty()).then_some(Self { name, year: year? })
    }

    /// The words of the name.
    pub(super) fn name(&self) -> &[String] {
        &self.name
    }

    /// The one slip between this work and a line; `None` where there is none or more than one.
    pub(super) fn slip(&self, line: &Line<'_>) -> Option<Slip> {
        let start = line.words.get(..line.author_within).unwrap_or(line.words);
        let years: Vec<i32> = line.words.iter().filter_map(|word| year(word)).collect();
        let same_year = years.contains(&self.year);
        let same_name = self.name.iter().all(|word| start.contains(word));
        match (same_name, same_year) {
            (true, false) => years
                .into_iter()
                .find(|there| is_year_slip(self.year, *there))
                .map(Slip::Year),
            (false, true) => self.misspelt(start).map(Slip::Name),
            _ => None,
        }
    }

    /// The name in a line of which one word is spelled a little differently.
    fn misspelt(&self, start: &[String]) -> Option<String> {
        let missing: Vec<&String> = self
            .name
            .iter()
            .filter(|word| !start.contains(word))
            .collect();
        let [missing] = missing.as_slice() else {
            return None;
        };
        start.iter().find(|word| is_slip_of(missing, word)).cloned()
    }
}

/// The year that a word begins with: `2019`, `2019a`.
fn year(word: &str) -> Option<i32> {
    let (digits, rest) = word.split_at_checked(4)?;
    let is_letter = rest.len() <= 1 && rest.bytes().all(|byte| byte.is_ascii_lowercase());
    let year = digits.parse().ok()?;
    ((1000..2100).contains(&year) && is_letter).then_some(year)
}

/// Off by one, or two neighbouring digits changed places: slips of memory and of typing.
fn is_year_slip(one: i32, other: i32) -> bool {
    let (a, b) = (one.to_string(), other.to_string());
    let swapped = strsim::damerau_levenshtein(&a, &b) == 1 && strsim::levenshtein(&a, &b) == 2;
    one.abs_diff(other) == 1 || swapped
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::words::bare_words;

    fn slip(name: &str, year: i32, line: &str) -> Option<Slip> {
        let words =
            |text: &str| -> Vec<String> { bare_words(text).map(str::to_lowercase).collect() };
        let line = words(line);
        let line = Line {
            words: &line,
            author_within: 6,
        };
        Work::new(words(name), Some(year))?.slip(&line)
    }

    #[test]
    fn one_slip_is_reported_and_anything_else_is_another_work() {
        let line = "Harrow, A. (2019a). Campion after eleven, 1850 to 1903. Annals, 4, 113-114.";
        let table = [
            ("Harrow", 2019, None),
            ("Harrow", 2018, Some(Slip::Year(2019))),
            ("Harrow", 2020, Some(Slip::Year(2019))),
            ("Harrow", 2091, Some(Slip::Year(2019))),
            ("Harrow", 2014, None),
            ("Harow", 2019, Some(Slip::Name("harrow".to_owned()))),
            ("Harrwo", 2019, Some(Slip::Name("harrow".to_owned()))),
            ("Harow", 2018, None),
            ("Barlow", 2019, None),
            ("Campion", 2018, Some(Slip::Year(2019))),
        ];
        for (name, year, wanted) in table {
            assert_eq!(slip(name, year, line), wanted, "{name} {year}");
        }
        assert_eq!(slip("", 2018, line), None);
        assert_eq!(
            slip("Lee", 2019, "Lea, B. (2019). Moths."),
            None,
            "short names are told apart by every letter"
        );
        assert_eq!(
            slip(
                "Friends of the Evening Garden",
                2021,
                "Friends of the Evening Garden (2022). Moths."
            ),
            Some(Slip::Year(2022))
        );
    }
}
