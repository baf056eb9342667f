//! What comes near to a citation that points at no reference, so that a message can help.

use super::names::{Family, fit, initials_allow};
use super::resolve::year_fit;
use super::{Key, Reference, References};
use crate::text::Year;

use std::fmt;

/// What keeps a reference from being the one that is cited.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Difference {
    /// Another letter behind the year, or one too many.
    Letter {
        /// Year and letter as cited.
        cited: String,
        /// Year and letter of the reference.
        listed: String,
    },
    /// Another year.
    Year {
        /// As cited.
        cited: String,
        /// Of the reference.
        listed: String,
    },
    /// A name spelled a little differently.
    Spelling {
        /// As cited.
        cited: String,
        /// In the reference.
        listed: String,
    },
    /// More, fewer or other authors beside the first.
    Authors {
        /// The authors of the reference.
        listed: String,
    },
    /// Another given name.
    Initials {
        /// As cited.
        cited: String,
        /// Given names in the reference.
        listed: String,
    },
    /// A key spelled a little differently.
    Key {
        /// As cited.
        cited: String,
    },
}

impl fmt::Display for Difference {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Letter { cited, listed } | Self::Year { cited, listed } => {
                write!(out, "the year is {listed} in the references, {cited} here")
            }
            Self::Spelling { cited, listed } => {
                write!(out, "the name is {listed} in the references, {cited} here")
            }
            Self::Authors { listed } => write!(out, "its authors are {listed}"),
            Self::Initials { cited, listed } => {
                write!(
                    out,
                    "the given name is {listed} in the references, {cited} here"
                )
            }
            Self::Key { cited } => write!(out, "the key is spelled {cited} here"),
        }
    }
}

/// A reference that is nearly the one cited.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NearMiss {
    /// Its key.
    pub key: Key,
    /// What differs.
    pub difference: Difference,
}

/// How many near misses are offered.
const OFFERED: usize = 3;

impl References {
    /// The near misses as words for a message: `did you mean Harrow (2019), key harrow2019: the year is
    /// 2019 in the references, 2018 here?`; `None` where there are none.
    #[must_use]
    pub fn hint(&self, near: &[NearMiss]) -> Option<String> {
        let offered: Vec<String> = near
            .iter()
            .filter_map(|miss| {
                let name = self.get(&miss.key)?.name();
                Some(format!("{name}, key {} ({})", miss.key, miss.difference))
            })
            .collect();
        (!offered.is_empty()).then(|| format!("did you mean {}?", offered.join(", or ")))
    }
}

/// Keys within one slip of the cited one (two where it is long).
pub(super) fn near_keys(references: &References, cited: &str) -> Vec<NearMiss> {
    let folded = cited.to_lowercase();
    let allowed = slips_allowed(&folded).max(1);
    let mut found: Vec<(usize, NearMiss)> = references
        .index
        .near_keys(&folded, allowed)
        .filter_map(|key| {
            let slips = slips(&folded, &key.as_str().to_lowercase(), allowed)?;
            let difference = Difference::Key {
                cited: cited.to_owned(),
            };
            Some((
                slips,
                NearMiss {
                    key: key.clone(),
                    difference,
                },
            ))
        })
        .collect();
    found.sort_by(|(one, a), (other, b)| one.cmp(other).then_with(|| a.key.cmp(&b.key)));
    found
        .into_iter()
        .map(|(_, miss)| miss)
        .take(OFFERED)
        .collect()
}

/// References that differ in one thing from an author-year citation. The nearest first: letter, year
/// off by one, spelling, authors, initials, any other year; then in order of the keys.
pub(super) fn near_works(
    references: &References,
    names: &[String],
    initials: &[String],
    year: Option<&Year>,
) -> Vec<NearMiss> {
    let Some(first) = names.first() else {
        return Vec::new();
    };
    let initials = initials.first().map_or("", String::as_str);
    let cited = Family::of(first);
    let allowed = slips_allowed(&cited.core);
    let mut keys = references.index.named(first);
    if allowed > 0 {
        let near = references.index.near_cores(&cited.core, allowed);
        let like = near.filter(|(core, _)| slips(&cited.core, core, allowed).is_some());
        keys.extend(like.map(|(_, key)| key.clone()));
    }
    keys.sort_unstable();
    keys.dedup();
    let mut found: Vec<(u32, NearMiss)> = keys
        .into_iter()
        .filter_map(|key| {
            let reference = references.get(&key)?;
            let (rank, difference) = differs(reference, first, initials, year)?;
            Some((rank, NearMiss { key, difference }))
        })
        .collect();
    found.sort_by(|(one, a), (other, b)| one.cmp(other).then_with(|| a.key.cmp(&b.key)));
    found
        .into_iter()
        .map(|(_, miss)| miss)
        .take(OFFERED)
        .collect()
}

/// The one thing in which a reference differs whose first author is named nearly as cited, with its
/// rank; `None` where it is too far off.
fn differs(
    reference: &Reference,
    first: &str,
    initials: &str,
    year: Option<&Year>,
) -> Option<(u32, Difference)> {
    let author = reference.authors.first()?;
    let same_year = year.is_none_or(|year| year.number == reference.year);
    if fit(author, first).is_none() {
        return same_year.then(|| {
            let difference = Difference::Spelling {
                cited: first.to_owned(),
                listed: author.family.clone(),
            };
            (2, difference)
        });
    }
    if !initials_allow(&author.given, initials) {
        return same_year.then(|| {
            let difference = Difference::Initials {
                cited: initials.to_owned(),
                listed: author.given.clone(),
            };
            (4, difference)
        });
    }
    let Some(year) = year.filter(|year| !fits_letter(year, reference)) else {
        let names: Vec<&str> = reference
            .authors
            .iter()
            .map(|person| person.family.as_str())
            .collect();
        return Some((
            3,
            Difference::Authors {
                listed: names.join(", "),
            },
        ));
    };
    let (cited, listed) = (year.written.clone(), reference.dated());
    if same_year {
        return Some((0, Difference::Letter { cited, listed }));
    }
    let off = match (year.number, reference.year) {
        (Some(cited), Some(listed)) => cited.abs_diff(listed),
        _ => 2,
    };
    let rank = if off == 1 { 1 } else { off.saturating_add(10) };
    Some((rank, Difference::Year { cited, listed }))
}

/// Whether year and letter are those of the reference, a letter left out included.
fn fits_letter(year: &Year, reference: &Reference) -> bool {
    year_fit(reference, Some(year)).is_some()
}

/// Whether a word is another one with a slip or two in it, as many as its length forgives; equal words
/// are not.
#[must_use]
pub(crate) fn is_slip_of(one: &str, other: &str) -> bool {
    let allowed = slips_allowed(one).min(slips_allowed(other));
    one != other && allowed > 0 && slips(one, other, allowed).is_some()
}

/// Slips forgiven in a name: none in short ones, where every letter distinguishes names.
fn slips_allowed(name: &str) -> usize {
    match name.chars().count() {
        0..=3 => 0,
        4..=6 => 1,
        _ => 2,
    }
}

/// The slips between two words, if they are no more than allowed; lengths that differ too much are
/// never compared letter by letter.
fn slips(one: &str, other: &str, allowed: usize) -> Option<usize> {
    let (long, short) = (one.chars().count(), other.chars().count());
    if long.abs_diff(short) > allowed {
        return None;
    }
    Some(strsim::damerau_levenshtein(one, other)).filter(|&slips| slips <= allowed)
}
