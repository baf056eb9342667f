//! The index of references: by folded first name and by folded key, so that resolving a citation does
//! not walk the whole list.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use super::{Doi, Key, Reference, names};
use crate::wording::SlipIndex;

#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Index {
    /// Forms of the first author's name (see [`names::forms`]) to the keys, in order.
    first_author: BTreeMap<String, Vec<Key>>,
    /// Keys in lower case to the keys, in order.
    folded_key: BTreeMap<String, Vec<Key>>,
    /// The first author's family name without particles, folded, and the key; for near misses.
    cores: Vec<(String, Key)>,
    /// References without authors, which are cited by title: folded title and key, in this order.
    titled: Vec<(String, Key)>,
    /// By DOI.
    dois: BTreeMap<Doi, Vec<Key>>,
    /// By the names of files that references give, in small letters.
    files: BTreeMap<String, Vec<Key>>,
    /// By folded title, in order.
    whole_title: BTreeMap<String, Vec<Key>>,
    /// The `cores`, and the keys in lower case in their order, by what a slip leaves of them.
    slips: Slips,
}

/// Made when the first near miss is looked for.
#[derive(Debug, Clone, Default)]
struct Slips {
    cores: OnceLock<SlipIndex>,
    keys: OnceLock<(SlipIndex, Vec<Key>)>,
}

impl PartialEq for Slips {
    /// They follow from the rest of the index.
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl Eq for Slips {}

impl Index {
    /// The index of references that come in order of their keys.
    pub(super) fn of<'r>(references: impl Iterator<Item = &'r Reference>) -> Self {
        let mut index = Self::default();
        for reference in references {
            let key = &reference.key;
            index
                .folded_key
                .entry(key.as_str().to_lowercase())
                .or_default()
                .push(key.clone());
            if let Some(doi) = &reference.doi {
                let same = index.dois.entry(doi.clone()).or_default();
                same.push(key.clone());
            }
            for file in &reference.files {
                let same = index.files.entry(file.clone()).or_default();
                same.push(key.clone());
            }
            let title = names::fold(&reference.title);
            let same = index.whole_title.entry(title.clone()).or_default();
            same.push(key.clone());
            match reference.authors.first() {
                Some(first) => {
                    let family = names::Family::of(&first.family);
                    index.cores.push((family.core, key.clone()));
                    for form in names::forms(first) {
                        index
                            .first_author
                            .entry(form)
                            .or_default()
                            .push(key.clone());
                    }
                }
                None => index.titled.push((title, key.clone())),
            }
        }
        index.titled.sort_unstable();
        index
    }

    /// The keys that are the same but for upper and lower case.
    pub(super) fn same_key(&self, key: &str) -> &[Key] {
        self.folded_key
            .get(&key.to_lowercase())
            .map_or(&[], Vec::as_slice)
    }

    /// The keys of the works with a DOI.
    pub(super) fn with_doi(&self, doi: &Doi) -> &[Key] {
        self.dois.get(doi).map_or(&[], Vec::as_slice)
    }

    /// The keys of the works that name a file, given in small letters.
    pub(super) fn with_file(&self, name: &str) -> &[Key] {
        self.files.get(name).map_or(&[], Vec::as_slice)
    }

    /// The keys of the works of a folded title.
    pub(super) fn with_title(&self, folded: &str) -> &[Key] {
        self.whole_title.get(folded).map_or(&[], Vec::as_slice)
    }

    /// The keys whose first author, or title where there is none, may be meant by a cited name.
    pub(super) fn named(&self, cited: &str) -> Vec<Key> {
        let forms = names::lookups(cited);
        let mut keys: Vec<Key> = forms
            .iter()
            .filter_map(|form| self.first_author.get(form))
            .flatten()
            .cloned()
            .collect();
        let title = names::fold(cited);
        let from = self.titled.partition_point(|(whole, _)| *whole < title);
        let titled = self.titled.iter().skip(from);
        let titled = titled
            .take_while(|(whole, _)| whole.starts_with(&title))
            .filter(|(whole, _)| begins(whole, &title));
        keys.extend(titled.map(|(_, key)| key.clone()));
        keys.sort_unstable();
        keys.dedup();
        keys
    }
}

impl Index {
    /// The keys whose first author's name, without particles and folded, may have at most so many slips against another;
    /// with the name.
    pub(super) fn near_cores(
        &self,
        core: &str,
        slips: usize,
    ) -> impl Iterator<Item = (&str, &Key)> {
        let index = self.slips.cores.get_or_init(|| {
            let cores = self.cores.iter().map(|(core, _)| core.as_str());
            SlipIndex::of(cores)
        });
        let near = index.like(core, slips).into_iter();
        near.filter_map(|number| {
            let (core, key) = self.cores.get(number as usize)?;
            Some((core.as_str(), key))
        })
    }

    /// The keys that may have at most so many slips against another in lower case.
    pub(super) fn near_keys(&self, folded: &str, slips: usize) -> impl Iterator<Item = &Key> {
        let (index, keys) = self.slips.keys.get_or_init(|| {
            let same = self.folded_key.iter();
            let pairs: Vec<(&str, &Key)> = same
                .flat_map(|(folded, keys)| keys.iter().map(|key| (folded.as_str(), key)))
                .collect();
            let index = SlipIndex::of(pairs.iter().map(|(folded, _)| *folded));
            (
                index,
                pairs.into_iter().map(|(_, key)| key.clone()).collect(),
            )
        });
        let near = index.like(folded, slips).into_iter();
        near.filter_map(|number| keys.get(number as usize))
    }
}

/// Whether a folded title is cited by its first words: whole words, and not just one short one.
pub(super) fn begins(whole: &str, cited: &str) -> bool {
    cited.len() >= 4
        && whole
            .strip_prefix(cited)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
}
