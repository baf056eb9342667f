//! References that a draft carries with its citations, joined to those of the review for this draft.
//!
//! A work that both know has two keys, the reference manager's and the review's. It is recognised by
//! 1. its DOI;
//! 2. its key, where author or title agree;
//! 3. its title, where the year agrees or one has none;
//! 4. first author, number of authors and year, where just one work of the review fits.
//!
//! A work that no bibliography file holds joins under the key of a stored source, if a source's name says
//! that it is this work (`harrow2014.txt`), else under its own. So credit leads to the review's key
//! whichever way it was cited, and a review without a bibliography file works too.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::references::{self, fold};
use super::{Key, Reference, References, Review};
use crate::reading::CarriedReference;
use crate::text::{CiteTarget, RecordedCitation, Text, Year};

/// The references for one draft.
#[derive(Debug)]
pub(crate) struct Joined {
    /// The review's references, and those that only the draft carries.
    pub references: Arc<References>,
    /// The key of the joined references for each key that the draft uses.
    keys: BTreeMap<String, Key>,
}

impl Review {
    /// Joins the references that a draft carries to those of the review.
    pub(crate) fn join(&self, carried: &[CarriedReference]) -> Joined {
        let mut keys = BTreeMap::new();
        let mut added: Vec<Reference> = Vec::new();
        let mut taken: BTreeSet<Key> = BTreeSet::new();
        for item in carried {
            let Some(mut reference) = references::from_csl_json(&item.csl_json) else {
                continue;
            };
            if let Some(known) = same_work(&self.references, &reference) {
                keys.insert(item.key.clone(), known);
                continue;
            }
            if let Some(source) = self.source_named_for(&reference) {
                reference.key = source;
            }
            // Two works can't have one key.
            if self.references.get(&reference.key).is_some() || !taken.insert(reference.key.clone())
            {
                reference.key = Key::new(&item.key);
            }
            keys.insert(item.key.clone(), reference.key.clone());
            added.push(reference);
        }
        let references = match added.is_empty() {
            true => Arc::clone(&self.references),
            false => Arc::new(References::new(
                self.references.iter().cloned().chain(added),
            )),
        };
        Joined { references, keys }
    }

    /// The key of the one stored source without a reference whose name is the key of this work, or its
    /// first author and year.
    fn source_named_for(&self, reference: &Reference) -> Option<Key> {
        let unknown = self
            .sources
            .iter()
            .map(|source| &source.key)
            .filter(|key| self.references.get(key).is_none());
        let own = reference.key.as_str().to_lowercase();
        let named: BTreeSet<&Key> = unknown
            .filter(|key| {
                let name = key.as_str().to_lowercase();
                name == own || says_author_and_year(&name, reference)
            })
            .collect();
        match named.into_iter().collect::<Vec<_>>().as_slice() {
            [one] => Some((*one).clone()),
            _ => None,
        }
    }
}

impl Joined {
    /// The text with the keys of its recorded citations turned into those of the references.
    pub(crate) fn rekey(&self, text: Text) -> Text {
        let mut recorded: Vec<RecordedCitation> = text.recorded().to_vec();
        if recorded.is_empty() {
            return text;
        }
        let cites = recorded.iter_mut().flat_map(|citation| &mut citation.cites);
        for cite in cites {
            if let CiteTarget::Key(key) = &mut cite.target
                && let Some(known) = self.keys.get(key)
            {
                *key = known.to_string();
            }
        }
        text.with_recorded(recorded)
    }
}

/// The review's key of a work.
fn same_work(references: &References, carried: &Reference) -> Option<Key> {
    let same_doi = carried
        .doi
        .as_ref()
        .and_then(|doi| references.with_doi(doi));
    if let Some(known) = same_doi {
        return Some(known.key.clone());
    }
    let title = fold(&carried.title);
    let first = |reference: &Reference| {
        let author = reference.authors.first();
        author
            .map(|author| fold(&author.family))
            .unwrap_or_default()
    };
    let years_agree = |known: &Reference| {
        known.year == carried.year || known.year.is_none() || carried.year.is_none()
    };
    let same_key = references.of_key(carried.key.as_str());
    let same_key = same_key.filter(|key| {
        references.get(key).is_some_and(|known| {
            let same_title = fold(&known.title) == title;
            same_title || (first(known) == first(carried) && years_agree(known))
        })
    });
    let by_title = || {
        let same = references.with_title(&title).iter();
        let mut same = same
            .filter_map(|key| references.get(key))
            .filter(|known| !title.is_empty() && years_agree(known));
        let one = same.next()?;
        // Two works of one title (`Introduction`) say nothing without their author.
        let alone = same.next().is_none() && (first(one) == first(carried) || title.contains(' '));
        alone.then(|| one.key.clone())
    };
    same_key
        .or_else(by_title)
        .or_else(|| by_author_and_year(references, carried))
}

/// The one work of the review with these authors and this year, if its title does not speak against it.
fn by_author_and_year(references: &References, carried: &Reference) -> Option<Key> {
    let year = carried.year?;
    let names: Vec<String> = carried
        .authors
        .iter()
        .map(|person| person.family.clone())
        .collect();
    let target = CiteTarget::Author {
        initials: vec![String::new(); names.len()],
        names,
        et_al: false,
        year: Some(Year {
            number: Some(year),
            suffix: None,
            written: year.to_string(),
        }),
    };
    let key = references.resolve(&target).one()?.clone();
    let known = references.get(&key)?;
    let (one, other) = (fold(&known.title), fold(&carried.title));
    // A short title, or one without its subtitle, is the beginning of the other.
    (one.starts_with(&other) || other.starts_with(&one)).then_some(key)
}

/// Whether a name of a file is made of the first author and the year: `harrow2014`, `harrow_2014_lamps`.
fn says_author_and_year(name: &str, reference: &Reference) -> bool {
    let (Some(author), Some(year)) = (reference.authors.first(), reference.year) else {
        return false;
    };
    let plain =
        |text: &str| -> String { fold(text).chars().filter(|c| c.is_alphanumeric()).collect() };
    let family = plain(&author.family);
    let Some(rest) = plain(name).strip_prefix(&family).map(str::to_owned) else {
        return false;
    };
    !family.is_empty() && rest.contains(&year.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::references::tests::reference;
    use crate::review::{Doi, Settings, start};

    fn carried(key: &str, json: &str) -> CarriedReference {
        CarriedReference {
            key: key.to_owned(),
            csl_json: format!(r#"{{"id":"{key}","citation-key":"{key}",{json}}}"#),
        }
    }

    #[test]
    fn a_work_is_recognised_whatever_its_key() {
        let references = References::new([
            reference(
                "harrow2014",
                "Harrow, Anna",
                Some(2014),
                "Lamps and moths at night",
            ),
            reference("okoro2016a", "Okoro, Ben", Some(2016), "Introduction"),
            reference(
                "okoro2016b",
                "Okoro, Ben",
                Some(2016),
                "Meadow flowers after dark",
            ),
        ]);
        let references = References::new(references.iter().cloned().map(|mut known| {
            if known.key.as_str() == "okoro2016b" {
                known.doi = Doi::parse("10.1234/dusk");
            }
            known
        }));
        let harrow = r#""author":[{"family":"Harrow"}],"issued":{"date-parts":[[2014]]}"#;
        let cases = [
            (
                carried(
                    "7",
                    &format!(r#"{harrow},"title":"Lamps and Moths at Night""#),
                ),
                Some("harrow2014"),
            ),
            (
                carried("7", &format!(r#"{harrow},"title":"Lamps and moths""#)),
                Some("harrow2014"),
            ),
            (
                carried("7", &format!(r#"{harrow},"title":"Something else""#)),
                None,
            ),
            (
                carried(
                    "harrow2014",
                    &format!(r#"{harrow},"title":"Something else""#),
                ),
                Some("harrow2014"),
            ),
            (
                carried("okoro2016a", r#""title":"Lamps and moths at night""#),
                Some("harrow2014"),
            ),
            (
                carried("8", r#""title":"Introduction","author":[{"family":"Ash"}]"#),
                None,
            ),
            (
                carried(
                    "harrow2014",
                    r#""title":"Wiesenblumen","DOI":"https://doi.org/10.1234/DUSK""#,
                ),
                Some("okoro2016b"),
            ),
        ];
        for (item, expected) in cases {
            let carried = references::from_csl_json(&item.csl_json).unwrap();
            let found = same_work(&references, &carried);
            let found = found.as_ref().map(Key::as_str);
            assert_eq!(found, expected, "{item:?}");
        }
    }

    #[test]
    fn names_of_files_say_author_and_year() {
        let work = reference("7", "van der Berg, Jo", Some(2014), "Moths");
        for name in ["vanderberg2014", "van_der_berg-2014-moths"] {
            assert!(says_author_and_year(name, &work), "{name}");
        }
        for name in ["berg2014", "vanderberg2015", "2014", ""] {
            assert!(!says_author_and_year(name, &work), "{name}");
        }
    }

    #[test]
    fn without_a_bibliography_works_join_under_the_names_of_sources() {
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path().join("review");
        start(&root).unwrap();
        let mut review = Review::open(&root).unwrap();
        assert!(!review.sources.is_empty(), "{:?}", Settings::default());
        review.sources[0].key = Key::new("ash2011");
        review.references = Arc::default();
        let items = [
            carried(
                "7",
                r#""title":"Lamps","author":[{"family":"Ash"}],"issued":{"date-parts":[[2011]]}"#,
            ),
            carried("8", r#""title":"Moths","author":[{"family":"Elm"}]"#),
        ];
        let joined = review.join(&items);
        let keys: Vec<_> = joined
            .references
            .iter()
            .map(|known| known.key.as_str())
            .collect();
        assert_eq!(keys, ["8", "ash2011"]);
        assert_eq!(joined.keys["7"].as_str(), "ash2011");
    }
}
