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

/// Share of the name's other words that stand in the title: a name says little besides. Our own choice.
const MOST_OF_NAME: f32 = 0.7;

/// Telling words of a title below which it shows no work, unless the title, or beside the year the name, has no others.
const LEAST_TITLE_WORDS: usize = 2;

/// The names of files in a field: paths, with types and labels around them (`:lamps.pdf:PDF`,
/// `Full text:files/12/lamps.pdf:application/pdf`), several parted by semicolons; signs that LaTeX knows may have a backslash before
/// them.
pub(super) fn files_in_field(field: &str) -> Vec<String> {
    let mut field = field.replace(['{', '}'], "");
    for sign in [':', ';', '_', '&', '#', '%'] {
        field = field.replace(&format!("\\{sign}"), &sign.to_string());
    }
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

/// How well a reference fits the words of a name, up to 2; `None` where it doesn't.
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
        let mut parts = authors.iter().flat_map(|name| name.split(' '));
        parts.any(|part| part == word)
    };
    let is_telling = |word: &&&str| {
        let word = **word;
        !is_author(word)
            && year(word).is_none()
            && word.len() > 1
            && !matches!(word, "et" | "al")
            && !is_function_word(word)
    };
    let others: Vec<&str> = words.iter().filter(is_telling).copied().collect();
    if others.is_empty() {
        return (dated && !authors.is_empty()).then_some(2.0);
    }
    let telling = |title: &str| -> Vec<String> {
        let folded = names::fold(title);
        let words = folded.split_whitespace();
        let telling = words.filter(|word| !is_function_word(word));
        telling.map(str::to_owned).collect()
    };
    let whole = telling(&reference.title);
    let main = telling(reference.title.split([':', '?']).next().unwrap_or_default());
    // The last word of a cut title is cut too.
    let stands_in = |title: &[String], at: usize, word: &str| {
        let is_last = at + 1 == others.len();
        let same = |known: &String| known == word || (is_last && known.starts_with(word));
        title.iter().any(same)
    };
    let of_name = others.iter().enumerate();
    let of_name = of_name.filter(|(at, word)| stands_in(&whole, *at, word));
    let there = main.iter().filter(|known| {
        let mut others = others.iter().enumerate();
        others.any(|(at, word)| stands_in(std::slice::from_ref(*known), at, word))
    });
    let (of_name, there) = (of_name.count(), there.count());
    let (of_name_share, share) = (
        of_name as f32 / others.len() as f32,
        there as f32 / main.len().max(1) as f32,
    );
    let is_whole = of_name == others.len() && there == main.len();
    let least = if dated { MOST_WITH_YEAR } else { MOST_WITHOUT };
    let is_enough = if authors.is_empty() {
        is_whole
    } else {
        let all_of_name = dated && of_name == others.len();
        let is_shown = of_name >= LEAST_TITLE_WORDS || is_whole || all_of_name;
        of_name_share >= MOST_OF_NAME && share >= least && is_shown
    };
    is_enough.then_some(share + of_name_share)
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
    fn fields_name_files() {
        for (field, wanted) in [
            (r"C\:\\Users\\me\\Scan one.TXT", &["scan one.txt"][..]),
            (r":C\:\\me\\a\_b.txt:TXT", &["a_b.txt"]),
            ("files/1/x -- y.pdf;b/z.pdf", &["x -- y.pdf", "z.pdf"]),
            ("{Kerbs.pdf}", &["kerbs.pdf"]),
            ("", &[]),
        ] {
            assert_eq!(files_in_field(field), wanted, "{field}");
        }
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
            // A cut title and not the shorter one; a word in common is not enough; nor is a name somewhere.
            ("Thornevik - 2009 - Light signals and dark har", None),
            ("Thornevik - 2009 - Minutes of the light board.pdf", None),
            ("Lund - 2016 - Quill and the counting of sheep.pdf", None),
            (
                "Thornevik - 2016 - Small islands and their coun.pdf",
                Some("thorn2016b"),
            ),
            (".pdf", None),
        ] {
            let found = list.of_file(name).map(|found| match found {
                FileMatch::Named(key) | FileMatch::Described(key) => key.to_string(),
            });
            assert_eq!(found.as_deref(), wanted, "{name}");
        }
    }
}
