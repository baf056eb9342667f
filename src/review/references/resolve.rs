//! Which reference a citation points at.
//!
//! Author-year citations are matched in three steps: the index gives the works whose first author may
//! be meant; names, number of authors, initials, year and letter throw out those that don't fit; of the
//! rest the best fit wins. A fit is worse the more the citation leaves to be guessed: co-authors left
//! out, particles left out, the letter behind the year left out.

use super::names::{fit, fold, initials_allow};
use super::{Key, NearMiss, Reference, References, index, near};
use crate::text::{CiteTarget, Year};

/// What a citation points at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Resolved {
    /// One reference.
    One(Key),
    /// Several references fit equally well, in order of their keys.
    Several(Vec<Key>),
    /// No reference.
    None {
        /// References that come near, the nearest first; at most three.
        near: Vec<NearMiss>,
    },
}

impl Resolved {
    /// The reference, where there is just one.
    #[must_use]
    pub fn one(&self) -> Option<&Key> {
        match self {
            Self::One(key) => Some(key),
            _ => None,
        }
    }

    /// Every reference that may be meant.
    #[must_use]
    pub fn keys(&self) -> &[Key] {
        match self {
            Self::One(key) => std::slice::from_ref(key),
            Self::Several(keys) => keys,
            Self::None { .. } => &[],
        }
    }

    fn of(mut keys: Vec<Key>, near: impl FnOnce() -> Vec<NearMiss>) -> Self {
        match keys.len() {
            0 => Self::None { near: near() },
            1 => Self::One(keys.remove(0)),
            _ => Self::Several(keys),
        }
    }
}

impl References {
    /// The reference or references that a citation may point at. A number points at none: it needs the
    /// draft's own list.
    #[must_use]
    pub fn resolve(&self, target: &CiteTarget) -> Resolved {
        match target {
            CiteTarget::Key(key) => self.resolve_key(key),
            CiteTarget::Number(_) => Resolved::None { near: Vec::new() },
            CiteTarget::Author {
                names,
                initials,
                et_al,
                year,
            } => {
                let cited = Cited {
                    names,
                    initials,
                    et_al: *et_al,
                    year: year.as_ref(),
                };
                let found = self.best(&cited);
                Resolved::of(found, || {
                    near::near_works(self, names, initials, year.as_ref())
                })
            }
        }
    }

    /// The reference of a key as cited: exactly, else upper and lower case aside.
    #[must_use]
    pub fn resolve_key(&self, key: &str) -> Resolved {
        let exact = Key::new(key);
        if self.get(&exact).is_some() {
            return Resolved::One(exact);
        }
        let same = self.index.same_key(key).to_vec();
        Resolved::of(same, || near::near_keys(self, key))
    }

    /// The keys of the best fit, in order.
    fn best(&self, cited: &Cited<'_>) -> Vec<Key> {
        let Some(first) = cited.names.first() else {
            return Vec::new();
        };
        let mut candidates = self.index.named(first);
        if cited.names.len() > 1 {
            candidates.extend(self.index.named(&cited.joined()));
            candidates.sort_unstable();
            candidates.dedup();
        }
        let fits: Vec<(Fit, Key)> = candidates
            .into_iter()
            .filter_map(|key| Some((cited.fit(self.get(&key)?)?, key)))
            .collect();
        let best = fits.iter().map(|(fit, _)| *fit).min();
        fits.into_iter()
            .filter(|(fit, _)| Some(*fit) == best)
            .map(|(_, key)| key)
            .collect()
    }
}

/// How much a citation leaves to be guessed: co-authors, particles or acronyms, the letter behind the
/// year. Compared in this order; the smallest is best.
type Fit = (u8, u8, u8);

struct Cited<'c> {
    names: &'c [String],
    initials: &'c [String],
    et_al: bool,
    year: Option<&'c Year>,
}

impl Cited<'_> {
    fn fit(&self, reference: &Reference) -> Option<Fit> {
        let letter = year_fit(reference, self.year)?;
        let (authors, particles) = self.authors_fit(reference)?;
        Some((authors, particles, letter))
    }

    /// The names as one: a group's name may hold an *and* (`Parks and Gardens`).
    fn joined(&self) -> String {
        match self.names.split_last() {
            Some((last, before)) if !before.is_empty() => {
                format!("{} and {last}", before.join(", "))
            }
            _ => self.names.concat(),
        }
    }

    fn authors_fit(&self, reference: &Reference) -> Option<(u8, u8)> {
        let authors = reference.authors.as_slice();
        if authors.is_empty() {
            let title = fold(&reference.title);
            return index::begins(&title, &fold(&self.joined())).then_some((0, 0));
        }
        if let ([group], true) = (authors, self.names.len() > 1) {
            return Some((0, fit(group, &self.joined())?));
        }
        // `others` stands for two authors at least, so that the list counts as three and more
        let count = authors.len() + usize::from(reference.has_others());
        let number = number_fit(self.names.len(), self.et_al, count)?;
        let mut worst = 0;
        for (position, (name, author)) in self.names.iter().zip(authors).enumerate() {
            let initials = self.initials.get(position).map_or("", String::as_str);
            if !initials_allow(&author.given, initials) {
                return None;
            }
            worst = worst.max(fit(author, name)?);
        }
        Some((number, worst))
    }
}

/// How well the number of cited names fits the number of authors. *et al.* needs more authors than
/// names, three at best; a single name without it means one author at best, but writers do leave out
/// co-authors; two names and more have to be all.
fn number_fit(cited: usize, et_al: bool, authors: usize) -> Option<u8> {
    match (et_al, cited, authors) {
        (true, _, 3..) if authors > cited => Some(0),
        (true, 1, 2) => Some(1),
        (false, _, _) if cited == authors => Some(0),
        (false, 1, 2..) => Some(2),
        _ => None,
    }
}

/// How well the cited year fits: 0 to the letter (or no year is cited), 1 where the letter is left out.
pub(super) fn year_fit(reference: &Reference, cited: Option<&Year>) -> Option<u8> {
    let Some(cited) = cited else { return Some(0) };
    if cited.number != reference.year {
        return None;
    }
    let lower = |letter: Option<char>| letter.map(|letter| letter.to_ascii_lowercase());
    match (lower(cited.suffix), lower(reference.suffix)) {
        (cited, listed) if cited == listed => Some(0),
        (None, Some(_)) => Some(1),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::reference;
    use super::super::{Difference, letters};
    use super::*;

    fn list() -> References {
        let mut works = vec![
            reference(
                "harrow2019a",
                "Harrow, Anna",
                Some(2019),
                "Moths at the lamp",
            ),
            reference("harrow2019b", "Harrow, Anna", Some(2019), "Plants at night"),
            reference("harrow2014", "Harrow, Anna; Okoro, Ben", Some(2014), "Two"),
            reference(
                "harrow2014team",
                "Harrow, Anna; Okoro, Ben; Lind, Eva",
                Some(2014),
                "Three",
            ),
            reference("harrow2014solo", "Harrow, Anna", Some(2014), "Alone"),
            reference("berg2010", "van der Berg, Jo", Some(2010), "Streets"),
            reference("berg2011", "Berg, Kim", Some(2011), "Lanes"),
            reference("vdberg2011", "van der Berg, Jo", Some(2011), "Roads"),
            reference("muller2012", "Müller-Ort, Ida", Some(2012), "Glow"),
            reference("obrien2013", "O’Brien, Pat", Some(2013), "Dusk"),
            reference("nls2020", "National Lighting Survey", Some(2020), "Census"),
            reference(
                "parks2015",
                "Department of Parks and Gardens",
                Some(2015),
                "Beds",
            ),
            reference("lind2016e", "Lind, Eva", Some(2016), "Pollen"),
            reference("lind2016m", "Lind, Mats", Some(2016), "Nectar"),
            reference("tarn", "Tarn, Lee", None, "Undated"),
            reference(
                "leaflet2001",
                "",
                Some(2001),
                "Switch off at midnight: a leaflet",
            ),
            reference("stone2003", "Stone, Ida; others", Some(2003), "Pebbles"),
            reference("Quill1999", "Quill, Ada; Rook, Bo", Some(1999), "Feathers"),
        ];
        for work in &mut works {
            if work.suffix.is_none() {
                work.suffix = letters::letter_of_key(work.key.as_str(), work.year);
            }
        }
        References::new(works)
    }

    /// `Harrow & Okoro 2014`, `A. Harrow et al. 2014a`, `Tarn n.d.`, `Harrow` as a target.
    fn target(written: &str) -> CiteTarget {
        let (names, year) = match written.rsplit_once(' ') {
            Some((names, year))
                if year == "n.d." || year.starts_with(|c: char| c.is_ascii_digit()) =>
            {
                (names, Some(year))
            }
            _ => (written, None),
        };
        let (names, et_al) = match names.strip_suffix(" et al.") {
            Some(names) => (names, true),
            None => (names, false),
        };
        let (initials, names) = names
            .split(" & ")
            .map(|name| match name.split_once(". ") {
                Some((initials, name)) => (format!("{initials}."), name.to_owned()),
                None => (String::new(), name.to_owned()),
            })
            .unzip();
        CiteTarget::Author {
            names,
            initials,
            et_al,
            year: year.map(|year| {
                let (number, suffix) = letters::year_and_letter(year);
                Year {
                    number,
                    suffix,
                    written: year.to_owned(),
                }
            }),
        }
    }

    #[test]
    fn citations_find_their_references() {
        let list = list();
        let cases: &[(&str, &[&str])] = &[
            ("Harrow 2019a", &["harrow2019a"]),
            ("Harrow 2019b", &["harrow2019b"]),
            ("HARROW 2019A", &["harrow2019a"]),
            ("Harrow 2019", &["harrow2019a", "harrow2019b"]),
            ("Harrow 2019c", &[]),
            ("Harrow 2014", &["harrow2014solo"]),
            ("Harrow & Okoro 2014", &["harrow2014"]),
            ("Harrow et al. 2014", &["harrow2014team"]),
            ("Harrow & Okoro et al. 2014", &["harrow2014team"]),
            ("Harrow & Lind 2014", &[]),
            ("Harrow & Okoro & Lind 2014", &["harrow2014team"]),
            ("Harrow & Okoro & Lind & Tarn 2014", &[]),
            ("Okoro 2014", &[]),
            ("Quill 1999", &["Quill1999"]),
            ("Quill et al. 1999", &["Quill1999"]),
            ("Tarn et al. n.d.", &[]),
            ("Stone et al. 2003", &["stone2003"]),
            ("Stone 2003", &["stone2003"]),
            ("Stone & Pike 2003", &[]),
            ("Berg 2010", &["berg2010"]),
            ("Van der Berg 2010", &["berg2010"]),
            ("Berg 2011", &["berg2011"]),
            ("van der Berg 2011", &["vdberg2011"]),
            ("Muller‐Ort 2012", &["muller2012"]),
            ("O'Brien 2013", &["obrien2013"]),
            ("NLS 2020", &["nls2020"]),
            ("National Lighting Survey [NLS] 2020", &["nls2020"]),
            ("Department of Parks & Gardens 2015", &["parks2015"]),
            ("Lind 2016", &["lind2016e", "lind2016m"]),
            ("E. Lind 2016", &["lind2016e"]),
            ("B. Lind 2016", &[]),
            ("Tarn n.d.", &["tarn"]),
            ("Tarn 2001", &[]),
            ("Tarn", &["tarn"]),
            ("Quill", &["Quill1999"]),
            ("Switch off at midnight 2001", &["leaflet2001"]),
            ("Switch 2002", &[]),
            ("Nobody 2019", &[]),
            ("", &[]),
        ];
        for (written, wanted) in cases {
            let resolved = list.resolve(&target(written));
            let keys: Vec<&str> = resolved.keys().iter().map(Key::as_str).collect();
            assert_eq!(&keys, wanted, "{written}");
        }
    }

    #[test]
    fn keys_are_found_exactly_then_in_any_case() {
        let mut works: Vec<Reference> = list().iter().cloned().collect();
        works.push(reference("quill1999", "Quill, Ada", Some(1999), "Copy"));
        let list = References::new(works);
        let keys = |key: &str| list.resolve(&CiteTarget::Key(key.to_owned()));
        assert_eq!(keys("Quill1999").one().map(Key::as_str), Some("Quill1999"));
        assert_eq!(keys("BERG2010").one().map(Key::as_str), Some("berg2010"));
        assert_eq!(keys("QUILL1999").keys().len(), 2);
        assert_eq!(
            list.resolve(&CiteTarget::Number(1)),
            Resolved::None { near: vec![] }
        );
    }

    #[test]
    fn near_misses_say_what_differs() {
        let list = list();
        let cases = [
            ("Tarn 2001", "tarn", "n.d. in the references, 2001 here"),
            ("Berg 2012", "berg2011", "2011 in the references, 2012 here"),
            (
                "Harow 2019a",
                "harrow2019a",
                "name is Harrow in the references, Harow here",
            ),
            (
                "Harrow 2019c",
                "harrow2019a",
                "2019a in the references, 2019c here",
            ),
            (
                "Harrow & Lind 2014",
                "harrow2014",
                "authors are Harrow, Okoro",
            ),
            ("B. Lind 2016", "lind2016e", "given name is Eva"),
        ];
        for (written, key, words) in cases {
            let Resolved::None { near } = list.resolve(&target(written)) else {
                panic!("{written} was found")
            };
            let first = near
                .first()
                .unwrap_or_else(|| panic!("nothing near {written}"));
            assert_eq!(first.key.as_str(), key, "{written}");
            assert!(
                first.difference.to_string().contains(words),
                "{}",
                first.difference
            );
            assert!(list.hint(&near).unwrap().starts_with("did you mean "));
        }
        assert_eq!(
            list.resolve(&target("Nobody 2019")),
            Resolved::None { near: vec![] }
        );
        let Resolved::None { near } = list.resolve_key("harow2014") else {
            panic!("found")
        };
        assert_eq!(near[0].key.as_str(), "harrow2014");
        assert!(matches!(near[0].difference, Difference::Key { .. }));
    }

    proptest::proptest! {
        #[test]
        fn every_reference_is_found_by_its_own_name(at in 0usize..18, upper: bool) {
            let list = list();
            let work = list.iter().nth(at).unwrap();
            let shout = |name: &str| if upper { name.to_uppercase() } else { name.to_owned() };
            let names: Vec<String> = work.authors.iter().map(|person| shout(&person.family)).collect();
            let initials = work.authors.iter().map(|person| person.given.clone()).collect();
            let year = Year { number: work.year, suffix: work.suffix, written: work.dated() };
            let target = CiteTarget::Author { names, initials, et_al: false, year: Some(year) };
            if !work.authors.is_empty() && !work.has_others() {
                proptest::prop_assert_eq!(list.resolve(&target), Resolved::One(work.key.clone()));
            }
        }

        #[test]
        fn any_citation_resolves_without_panic(names in proptest::collection::vec("\\PC{0,8}", 0..4), et_al: bool, number: Option<i32>) {
            let year = Some(Year { number, suffix: None, written: String::new() });
            let _ = list().resolve(&CiteTarget::Author { initials: names.clone(), names, et_al, year });
        }
    }
}
