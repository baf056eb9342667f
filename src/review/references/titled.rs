//! Which reference a note means by author and title, as footnotes cite works: *Lindqvist, “Moths,” 47*.
//!
//! The author must fit as in an author-year citation, except that notes write given names out and leave
//! co-authors away. The title may be shortened (Chicago 17 section 14.33, from memory: up to four key words,
//! in their order), so its words have to stand in the reference's title in their order. Where the note gives
//! the year, that has to fit too; a title with a slip in it then still finds the work.

use super::resolve::{Cited, year_fit};
use super::{Key, Reference, References, names};

/// How well a title fits; the smallest is best.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum TitleFit {
    /// The whole title, or all before its colon.
    Whole,
    /// Its first words.
    Beginning,
    /// Some of its words in order.
    Words,
    /// Half of the words and more.
    Half,
}

impl References {
    /// The keys that fit best, in order.
    pub(super) fn titled(&self, cited: &Cited<'_>, title: &str) -> Vec<Key> {
        let title = names::fold(title);
        let Some((first, others)) = cited.names.split_first() else {
            return Vec::new();
        };
        let mut name = first.as_str();
        loop {
            let names = [&[name.to_owned()], others].concat();
            let found = self.titled_as(
                &Cited {
                    names: &names,
                    ..*cited
                },
                &title,
            );
            match name.split_once(' ') {
                // `Ada Lindqvist`: the given name goes first.
                Some((_, shorter)) if found.is_empty() => name = shorter,
                _ => return found,
            }
        }
    }

    fn titled_as(&self, cited: &Cited<'_>, title: &str) -> Vec<Key> {
        let Some(first) = cited.names.first() else {
            return Vec::new();
        };
        let candidates = self.index.named(first).into_iter();
        let mut fits: Vec<((TitleFit, u8, u8), Key)> = candidates
            .filter_map(|key| {
                let reference = self.get(&key)?;
                let authors = cited.surnames().authors_fit(reference)?;
                let title = title_fit(reference, title)?;
                let dated = year_fit(reference, cited.year).is_some();
                // A slip in the title is forgiven where the year vouches for the work.
                let sure = match (title, cited.year) {
                    (TitleFit::Half, None) => false,
                    (_, None) => true,
                    (_, Some(_)) => dated,
                };
                sure.then_some(((title, authors.0, authors.1), key))
            })
            .collect();
        let best = fits.iter().map(|(fit, _)| *fit).min();
        fits.retain(|(fit, _)| Some(*fit) == best);
        fits.into_iter().map(|(_, key)| key).collect()
    }
}

impl Cited<'_> {
    /// Notes of several authors write their given names out; only the first name is compared then.
    fn surnames(&self) -> Cited<'_> {
        let spelt = self.names.iter().skip(1).any(|name| name.contains(' '));
        if !spelt {
            return *self;
        }
        Cited {
            names: self.names.get(..1).unwrap_or_default(),
            initials: self.initials.get(..1).unwrap_or_default(),
            ..*self
        }
    }
}

fn title_fit(reference: &Reference, cited: &str) -> Option<TitleFit> {
    let main = reference.title.split([':', '.', '?']).next();
    let main = names::fold(main.unwrap_or_default());
    let whole = names::fold(&reference.title);
    let (main, whole) = (without_article(&main), without_article(&whole));
    let cited = without_article(cited);
    if cited.is_empty() {
        return None;
    }
    if cited == main || cited == whole {
        return Some(TitleFit::Whole);
    }
    let begins = |long: &str, short: &str| {
        long.strip_prefix(short)
            .is_some_and(|rest| rest.starts_with(' '))
    };
    // A note may give the subtitle that the reference leaves out.
    if begins(whole, cited) || (!main.is_empty() && main.contains(' ') && begins(cited, main)) {
        return Some(TitleFit::Beginning);
    }
    let mut rest = whole.split(' ');
    if cited.split(' ').all(|word| rest.any(|other| other == word)) {
        return Some(TitleFit::Words);
    }
    let words: Vec<&str> = cited.split(' ').collect();
    let known: Vec<&str> = whole.split(' ').collect();
    let there = words.iter().filter(|word| known.contains(word)).count();
    (there * 2 >= words.len().max(known.len())).then_some(TitleFit::Half)
}

fn without_article(title: &str) -> &str {
    ["a ", "an ", "the "]
        .iter()
        .find_map(|article| title.strip_prefix(article))
        .unwrap_or(title)
}

#[cfg(test)]
mod tests {
    use super::super::tests::reference;
    use super::super::{Key, References};
    use crate::text::{CiteTarget, Year};

    fn resolve(names: &[&str], title: &str, year: Option<i32>) -> Vec<String> {
        let list = References::new([
            reference(
                "lind2014",
                "Lindqvist, Ada",
                Some(2014),
                "The Dark Street: A History of Lamps",
            ),
            reference(
                "lind2016",
                "Lindqvist, Ada; Okoro, Ben",
                Some(2016),
                "Moths at Lamps",
            ),
            reference("lind2018", "Lindqvist, Ada", Some(2018), "Streets of Light"),
            reference("lindb", "Lindqvist, Bo", Some(2014), "The dark harbour"),
            reference(
                "berg",
                "van der Berg, Jo",
                Some(2010),
                "Glühlampen und Café",
            ),
        ]);
        let target = CiteTarget::Work {
            names: names.iter().map(|name| (*name).to_owned()).collect(),
            initials: names.iter().map(|_| String::new()).collect(),
            et_al: false,
            title: title.to_owned(),
            year: year.map(|number| Year {
                number: Some(number),
                suffix: None,
                written: number.to_string(),
            }),
        };
        let keys = list.resolve(&target);
        keys.keys().iter().map(Key::to_string).collect()
    }

    /// Names, title and year as cited, and the keys found.
    type Case<'c> = (&'c [&'c str], &'c str, Option<i32>, &'c [&'c str]);

    #[test]
    fn notes_find_their_references() {
        let cases: &[Case<'_>] = &[
            (&["Lindqvist"], "Dark Street", None, &["lind2014"]),
            (
                &["Ada Lindqvist"],
                "The Dark Street",
                Some(2014),
                &["lind2014"],
            ),
            (&["Lindqvist"], "History of Lamps", None, &["lind2014"]),
            (&["Lindqvist"], "Moths", None, &["lind2016"]),
            (
                &["Ada Lindqvist", "Ben Okoro"],
                "Moths at Lamps",
                Some(2016),
                &["lind2016"],
            ),
            (&["Lindqvist", "Okoro"], "Moths", None, &["lind2016"]),
            (&["Lindqvist", "Vane"], "Moths", None, &[]),
            (&["Lindqvist"], "Dark", None, &["lind2014", "lindb"]),
            (&["Lindqvist"], "Streets", None, &["lind2018"]),
            (&["Lindqvist"], "Plants", None, &[]),
            (&["Ada Lindqvist"], "The Dark Street", Some(2015), &[]),
            (
                &["Ada Lindqvist"],
                "Moths and Lamps",
                Some(2016),
                &["lind2016"],
            ),
            (&["Vane"], "Dark Street", None, &[]),
            // Decomposed accents, and the particle left out.
            (&["Berg"], "Glu\u{308}hlampen", None, &["berg"]),
            (
                &["Jo van der Berg"],
                "Glühlampen und Cafe\u{301}",
                Some(2010),
                &["berg"],
            ),
        ];
        for (names, title, year, wanted) in cases {
            assert_eq!(resolve(names, title, *year), *wanted, "{names:?} {title}");
        }
    }
}
