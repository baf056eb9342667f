//! Which reference a stored file belongs to, where its name is not a key.
//!
//! 1. A reference may name its file (`file` in BibTeX, `L1` in RIS): then it is that one.
//! 2. Else the name may hold author, year and title as reference managers put them there, *Lindqvist - 2014 - The dark
//!    street.pdf*. The first author must stand in it, the year must not be another one, and the title's words must
//!    stand there for the most part; the title may be cut, and so are its last words.
//! 3. Author and year alone are enough where no other words stand in the name and only one work fits.
//!
//! Of several that fit equally none is taken: a text under the wrong work would be worse than one under none.

use super::{Key, Reference, References, names};
use crate::wording::is_function_word;

/// How a file was matched with its reference.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::review) enum FileMatch {
    /// The reference names the file.
    Named(Key),
    /// Author, title and, where given, year stand in its name.
    Described(Key),
}

/// Share of the title's telling words that stand in the name, with the year and without it. Our own choice: titles in
/// names of files are cut, but two works of one author and year share fewer words than this.
const MOST_WITH_YEAR: f32 = 0.5;
const MOST_WITHOUT: f32 = 0.8;

/// Telling words of a title below which it doesn't show a work without the year.
const LEAST_TITLE_WORDS: usize = 2;

/// The names of files in a field: paths, with types and labels around them (`:lamps.pdf:PDF`,
/// `Full text:files/12/lamps.pdf:application/pdf`), several parted by semicolons.
pub(super) fn files_in_field(field: &str) -> Vec<String> {
    let parts = field.split([';', ':']);
    let names = parts.map(|part| part.rsplit(['/', '\\']).next().unwrap_or_default().trim());
    names
        .filter(|name| name.contains('.') && !name.ends_with('.'))
        .map(str::to_lowercase)
        .collect()
}

impl References {
    /// The reference that a file belongs to by its name, with the ending; `None` where none or several may be meant.
    pub(in crate::review) fn of_file(&self, name: &str) -> Option<FileMatch> {
        let folded = name.to_lowercase();
        match self.index.with_file(&folded) {
            [only] => return Some(FileMatch::Named(only.clone())),
            [] => {}
            _ => return None,
        }
        let stem = name.rsplit_once('.').map_or(name, |(stem, _)| stem);
        self.described(stem).map(FileMatch::Described)
    }

    /// The one reference whose author, title and, where given, year stand in a few words.
    pub(in crate::review) fn described(&self, stem: &str) -> Option<Key> {
        let folded = names::fold(&stem.replace(['_', '-', '–', '—', '.', ',', '…', '/'], " "));
        let words: Vec<&str> = folded.split_whitespace().collect();
        let mut keys: Vec<Key> = words
            .iter()
            .flat_map(|word| self.index.named(word))
            .collect();
        keys.extend(
            words
                .windows(2)
                .flat_map(|pair| self.index.named(&pair.join(" "))),
        );
        keys.sort_unstable();
        keys.dedup();
        let mut fits: Vec<(f32, Key)> = keys
            .into_iter()
            .filter_map(|key| Some((fit(self.get(&key)?, &words)?, key)))
            .collect();
        fits.sort_by(|(one, a), (other, b)| other.total_cmp(one).then_with(|| a.cmp(b)));
        match fits.as_slice() {
            [(_, only)] => Some(only.clone()),
            [(best, key), (second, _), ..] if best > second => Some(key.clone()),
            _ => None,
        }
    }
}

/// How well a reference fits the words of a name, 0 to 1; `None` where it doesn't.
fn fit(reference: &Reference, words: &[&str]) -> Option<f32> {
    let years: Vec<i32> = words.iter().filter_map(|word| year(word)).collect();
    let dated = reference.year.is_some_and(|year| years.contains(&year));
    if !years.is_empty() && reference.year.is_some() && !dated {
        return None;
    }
    let authors: Vec<String> = reference
        .authors
        .iter()
        .flat_map(|author| [&author.family, &author.given])
        .map(|name| names::fold(name))
        .collect();
    let is_author = |word: &str| {
        authors
            .iter()
            .any(|name| name.split(' ').any(|part| part == word))
    };
    let others = words.iter().filter(|word| {
        !is_author(word)
            && year(word).is_none()
            && word.len() > 1
            && !matches!(**word, "and" | "et" | "al")
    });
    if others.count() == 0 {
        return dated.then_some(1.0);
    }
    let main = reference.title.split([':', '?']).next().unwrap_or_default();
    let title = names::fold(main);
    let title: Vec<&str> = title
        .split_whitespace()
        .filter(|word| !is_function_word(word))
        .collect();
    if title.is_empty() {
        return None;
    }
    let there = title.iter().filter(|word| words.contains(word)).count();
    let share = there as f32 / title.len() as f32;
    let is_enough = match dated {
        true => share >= MOST_WITH_YEAR,
        false => share >= MOST_WITHOUT && title.len() >= LEAST_TITLE_WORDS,
    };
    is_enough.then_some(share)
}

/// The year that a word is, perhaps with a letter.
fn year(word: &str) -> Option<i32> {
    let (digits, letter) = word.split_at_checked(4)?;
    let year: i32 = digits.parse().ok()?;
    let is_letter = letter.len() <= 1 && letter.bytes().all(|byte| byte.is_ascii_lowercase());
    ((1000..2100).contains(&year) && is_letter).then_some(year)
}

#[cfg(test)]
mod tests {
    use super::super::tests::reference;
    use super::*;

    fn list() -> References {
        let mut filed = reference("quill2016", "Quill, Bryn", Some(2016), "Kerbs");
        filed.files =
            files_in_field("Full text:files/12/Scan 7.PDF:application/pdf;:b/kerbs-final.pdf:PDF");
        References::new([
            reference(
                "thorn2016",
                "Thornevik, Arne",
                Some(2016),
                "The last boat home: Ferries at night",
            ),
            reference(
                "thorn2016b",
                "Thornevik, Arne",
                Some(2016),
                "Small islands and their councils",
            ),
            reference("thorn2009", "Thornevik, Arne", Some(2009), "Light signals"),
            reference(
                "berg2011",
                "van der Berg, Ida; Moen, Tor",
                Some(2011),
                "Tables that nobody reads",
            ),
            filed,
        ])
    }

    #[test]
    fn names_of_files_lead_to_works() {
        let list = list();
        for (name, wanted) in [
            (
                "Thornevik - 2016 - The last boat home Ferries at….pdf",
                Some("thorn2016"),
            ),
            ("Thornevik_2016_Small-islands.pdf", Some("thorn2016b")),
            ("Thornevik - 2009.pdf", Some("thorn2009")),
            ("thornevik 2009 light signals.pdf", Some("thorn2009")),
            (
                "2011 - van der Berg and Moen - Tables that nobody reads.docx",
                Some("berg2011"),
            ),
            ("van der Berg et al. (2011).pdf", Some("berg2011")),
            ("Berg - Tables that nobody reads.pdf", Some("berg2011")),
            ("scan 7.pdf", Some("quill2016")),
            ("Kerbs-Final.pdf", Some("quill2016")),
            // Two works fit, another year, another title, another author, no author.
            ("Thornevik 2016.pdf", None),
            ("Thornevik - 2012 - The last boat home.pdf", None),
            ("Thornevik - 2009 - Minutes of the harbour board.pdf", None),
            ("Lund - 2016 - The last boat home.pdf", None),
            ("The last boat home.pdf", None),
            ("2016.pdf", None),
            (".pdf", None),
        ] {
            let found = list.of_file(name).map(|found| match found {
                FileMatch::Named(key) | FileMatch::Described(key) => key.to_string(),
            });
            assert_eq!(found.as_deref(), wanted, "{name}");
        }
    }
}
