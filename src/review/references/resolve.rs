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

    /// The references that are meant; near ones are asked for where there are none.
    pub(crate) fn of(mut keys: Vec<Key>, near: impl FnOnce() -> Vec<NearMiss>) -> Self {
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
            CiteTarget::Work {
                names,
                initials,
                et_al,
                title,
                year,
            } => {
                let cited = Cited {
                    names,
                    initials,
                    et_al: *et_al,
                    year: year.as_ref(),
                };
                Resolved::of(self.titled(&cited, title), || {
                    near::near_works(self, names, initials, year.as_ref())
                })
            }
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
                let mut found = self.best(&cited);
                if found.is_empty() {
                    found = self.best_without_first_words(&cited);
                }
                Resolved::of(found, || {
                    near::near_works(self, names, initials, year.as_ref())
                })
            }
        }
    }

    /// The one reference of a key as cited, without looking for what comes near.
    #[must_use]
    pub(crate) fn of_key(&self, key: &str) -> Option<Key> {
        let exact = Key::new(key);
        if self.get(&exact).is_some() {
            return Some(exact);
        }
        match self.index.same_key(exact.as_str()) {
            [one] => Some(one.clone()),
            _ => None,
        }
    }

    /// The reference of a key as cited: exactly, else upper and lower case aside.
    #[must_use]
    pub fn resolve_key(&self, key: &str) -> Resolved {
        let exact = Key::new(key);
        if self.get(&exact).is_some() {
            return Resolved::One(exact);
        }
        let same = self.index.same_key(exact.as_str()).to_vec();
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

    /// The keys of the best fit for the family name alone, where more was taken for the first name: a given
    /// name (`Anna Harrow (2019)`) or the beginning of the sentence (`Read Harrow (2019)`). Without a year
    /// too much would fit.
    fn best_without_first_words(&self, cited: &Cited<'_>) -> Vec<Key> {
        let Some((first, others)) = cited.names.split_first() else {
            return Vec::new();
        };
        let mut rest = first.as_str();
        while let (Some((_, shorter)), Some(_)) = (rest.split_once(' '), cited.year) {
            rest = shorter;
            let names = [&[rest.to_owned()], others].concat();
            let found = self.best(&Cited {
                names: &names,
                ..*cited
            });
            if !found.is_empty() {
                return found;
            }
        }
        Vec::new()
    }
}

/// How much a citation leaves to be guessed: co-authors, particles or acronyms, the letter behind the
/// year. Compared in this order; the smallest is best.
type Fit = (u8, u8, u8);

#[derive(Clone, Copy)]
pub(super) struct Cited<'c> {
    pub(super) names: &'c [String],
    pub(super) initials: &'c [String],
    pub(super) et_al: bool,
    pub(super) year: Option<&'c Year>,
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

    pub(super) fn authors_fit(&self, reference: &Reference) -> Option<(u8, u8)> {
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
mod tests;
