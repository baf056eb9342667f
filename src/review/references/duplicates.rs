//! Works that stand in the bibliography twice. The second of two equal keys is left out; of two keys for one
//! work (the same DOI, or the same authors, year and title) both stay, since a draft may cite either.

use std::collections::BTreeMap;

use super::files::Found;
use super::names::fold;
use super::{Doi, Key, Reference};

/// Where a reference stands.
#[derive(Debug, Clone)]
struct Place {
    key: Key,
    file: String,
    line: usize,
}

/// What makes two references one work: folded authors, year and folded title.
type Work = (Vec<String>, Option<i32>, String);

/// A key that came a second time, its line, and the line of the first.
type Again = (Key, usize, usize);

/// The references so far.
#[derive(Debug, Default)]
pub(super) struct Seen {
    keys: BTreeMap<Key, Place>,
    dois: BTreeMap<Doi, Place>,
    works: BTreeMap<Work, Place>,
    /// By file and file of the first: keys that came a second time, with their lines.
    again: BTreeMap<(String, String), Vec<Again>>,
    /// By file: what else is to be reported.
    reported: Vec<(String, String)>,
}

/// More repeated keys of one file than that are reported in one sentence: two exports of the same library
/// repeat them all.
const TOLD_ONE_BY_ONE: usize = 3;

impl Seen {
    /// Takes a reference of a file; `false` where its key is taken.
    pub(super) fn take(&mut self, file: &str, found: &Found) -> bool {
        let key = &found.reference.key;
        if let Some(first) = self.keys.get(key) {
            self.again
                .entry((file.to_owned(), first.file.clone()))
                .or_default()
                .push((key.clone(), found.line, first.line));
            return false;
        }
        let place = Place {
            key: key.clone(),
            file: file.to_owned(),
            line: found.line,
        };
        let doi = found.reference.doi.as_ref();
        let work = work(&found.reference);
        let same_doi = doi.and_then(|doi| self.dois.get(doi));
        let same_work = work.as_ref().and_then(|work| self.works.get(work));
        let twin = same_doi
            .map(|first| (first, "the same DOI"))
            .or_else(|| same_work.map(|first| (first, "the same authors, year and title")));
        if let Some((first, what)) = twin {
            let why = format!(
                "line {}: {key} has {what} as {} ({}, line {}); if they are one work, keep one of them",
                found.line, first.key, first.file, first.line
            );
            self.reported.push((file.to_owned(), why));
        }
        if let Some(doi) = doi {
            self.dois
                .entry(doi.clone())
                .or_insert_with(|| place.clone());
        }
        if let Some(work) = work {
            self.works.entry(work).or_insert_with(|| place.clone());
        }
        self.keys.insert(key.clone(), place);
        true
    }

    /// What is to be reported: the file, and why.
    pub(super) fn reported(self) -> Vec<(String, String)> {
        let mut reported = Vec::new();
        for ((file, first_file), keys) in self.again {
            if let ([(first, ..), .., (last, ..)], true) =
                (keys.as_slice(), keys.len() > TOLD_ONE_BY_ONE)
            {
                let why = format!(
                    "{} keys appear a second time and were left out, from {first} to {last}; the first ones are in {first_file}",
                    keys.len()
                );
                reported.push((file, why));
                continue;
            }
            for (key, line, first_line) in keys {
                let why = format!(
                    "line {line}: the key {key} appears a second time and was left out; the first is in {first_file}, line {first_line}"
                );
                reported.push((file.clone(), why));
            }
        }
        reported.extend(self.reported);
        reported
    }
}

/// A reference without authors or with a title of one word (`Introduction`, `Editorial`) is no evidence.
fn work(reference: &Reference) -> Option<Work> {
    let title = fold(&reference.title);
    if reference.authors.is_empty() || !title.contains(' ') {
        return None;
    }
    let families = reference.authors.iter().map(|person| fold(&person.family));
    Some((families.collect(), reference.year, title))
}

#[cfg(test)]
mod tests {
    use super::super::tests::reference;
    use super::*;

    fn found(key: &str, authors: &str, title: &str, doi: Option<&str>) -> Found {
        Found {
            reference: Reference {
                doi: doi.and_then(Doi::parse),
                ..reference(key, authors, Some(2014), title)
            },
            line: 7,
            more: super::super::csl_items::More::default(),
        }
    }

    fn reported(list: &[Found]) -> Vec<String> {
        let mut seen = Seen::default();
        for found in list {
            seen.take("a.bib", found);
        }
        seen.reported().into_iter().map(|(_, why)| why).collect()
    }

    #[test]
    fn works_that_stand_twice_are_reported() {
        let first = || found("one", "Lindqvist, Ada", "Moths at Lamps", Some("10.1/ab"));
        let cases = [
            (
                found("one", "Okoro, Ben", "Streets by night", None),
                "second time",
            ),
            (
                found(
                    "two",
                    "Okoro, Ben",
                    "Streets by night",
                    Some("https://doi.org/10.1/AB"),
                ),
                "same DOI",
            ),
            (
                found("two", "Lindqvist, A.", "Moths at lamps.", None),
                "same authors",
            ),
            (
                found("two", "Lindqvist, A.", "Moths at lamps", Some("10.1/xy")),
                "same authors",
            ),
            (
                found(
                    "two",
                    "Lindqvist, A.",
                    "Lamps of the street",
                    Some("10.1/xy"),
                ),
                "",
            ),
            (found("two", "Okoro, Ben", "Moths at lamps", None), ""),
            (
                found("two", "Lindqvist, Ada", "Moths at Lamps: a reply", None),
                "",
            ),
        ];
        for (second, wanted) in cases {
            let key = second.reference.key.clone();
            let reported = reported(&[first(), second]);
            match wanted {
                "" => assert!(reported.is_empty(), "{key}: {reported:?}"),
                wanted => assert!(
                    matches!(reported.as_slice(), [why] if why.contains(wanted)),
                    "{key}: {reported:?}"
                ),
            }
        }
    }

    /// Decomposed accents are the same letters.
    #[test]
    fn accents_make_no_other_work() {
        let reported = reported(&[
            found("one", "Ödegård, Ada", "Müde Falter", None),
            found(
                "two",
                "O\u{308}dega\u{30a}rd, Ada",
                "Mu\u{308}de Falter",
                None,
            ),
        ]);
        assert_eq!(reported.len(), 1, "{reported:?}");
    }

    #[test]
    fn a_second_export_is_reported_in_one_sentence() {
        let list = || (0..5).map(|number| found(&format!("key{number}"), "", "", None));
        let reported = reported(&list().chain(list()).collect::<Vec<_>>());
        assert_eq!(reported.len(), 1, "{reported:?}");
        assert!(reported[0].contains("5 keys") && reported[0].contains("from key0 to key4"));
    }
}
