//! Synonyms: words with different stems and nearly the same sense.
//!
//! The table comes from WordNet 3.1 and from a list of our own (`data/own_synonyms.txt`, pairs that learned prose
//! exchanges freely). Each stem carries two sorted lists of senses: those it has, and those one hop away. Two stems
//! that have a sense in common are [`Nearness::SameSense`]; when one has a sense that lies one hop from the other,
//! they are [`Nearness::OneHop`]: a broader or narrower term, a similar adjective, a verb of the same group, a
//! derived word (`explain`, `explanation`). Rare senses are left out, since they connect words that nobody exchanges; so are
//! terms so broad that they say nothing. The numbers are in the head of `data/make_tables.py`.
//!
//! A sense is three letters of the table's text, and the lists are compared where they lie: looking up a stem
//! allocates nothing.

use super::lexicon;

/// How near two words stand that have different stems.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Nearness {
    /// They share a sense: `begin`, `start`.
    SameSense,
    /// One is a step away from a sense of the other: `cottage`, `house`.
    OneHop,
}

/// The senses of one stem, looked up once and compared often.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Senses {
    same: &'static [u8],
    hop: &'static [u8],
    /// A bit for each sense of the two lists. Lists without a bit in common have no sense in common, and that is the rule.
    same_bits: u64,
    hop_bits: u64,
}

/// The senses of a stem as [`super::stem`] gives it; empty for unknown words and function words.
pub(crate) fn senses(stem: &str) -> Senses {
    lexicon::entry(stem).map_or(Senses::default(), |entry| {
        let (same, hop) = (entry.same.as_bytes(), entry.hop.as_bytes());
        Senses {
            same,
            hop,
            same_bits: bits(same),
            hop_bits: bits(hop),
        }
    })
}

/// How near two stems stand; `None` when they don't, and for one stem with itself only what its senses say.
#[cfg(test)]
pub(crate) fn nearness(stem_a: &str, stem_b: &str) -> Option<Nearness> {
    senses(stem_a).nearness(&senses(stem_b))
}

impl Senses {
    /// Whether there is nothing to compare.
    pub fn is_empty(&self) -> bool {
        self.same.is_empty() && self.hop.is_empty()
    }

    /// How near the two words stand. The order of the two makes no difference.
    pub fn nearness(&self, other: &Senses) -> Option<Nearness> {
        let may = |one: u64, other: u64| one & other != 0;
        if may(self.same_bits, other.same_bits) && meet(self.same, other.same) {
            Some(Nearness::SameSense)
        } else if may(self.same_bits, other.hop_bits) && meet(self.same, other.hop)
            || may(self.hop_bits, other.same_bits) && meet(self.hop, other.same)
        {
            Some(Nearness::OneHop)
        } else {
            None
        }
    }

    /// Numbers of the senses this stem has, so that a caller can index words by sense instead of trying all pairs.
    pub fn ids(&self) -> impl Iterator<Item = u32> + use<> {
        numbers(self.same)
    }

    /// Numbers of the senses one hop away.
    pub fn hop_ids(&self) -> impl Iterator<Item = u32> + use<> {
        numbers(self.hop)
    }
}

/// The three letters of each sense, packed. The numbers are names: only their equality means something.
fn numbers(letters: &'static [u8]) -> impl Iterator<Item = u32> {
    letters.chunks_exact(3).map(|id| {
        id.iter()
            .fold(0, |number, byte| number << 8 | u32::from(*byte))
    })
}

/// A bit for each sense of a list, by its number (Fibonacci hashing, Knuth, *The Art of Computer Programming* 3, 6.4).
fn bits(letters: &'static [u8]) -> u64 {
    let bit = |number: u32| 1_u64 << (number.wrapping_mul(0x9E37_79B9) >> 26);
    numbers(letters).fold(0, |bits, number| bits | bit(number))
}

/// Whether two ascending lists of three-letter senses have one in common.
fn meet(a: &'static [u8], b: &'static [u8]) -> bool {
    let (mut a, mut b) = (numbers(a), numbers(b));
    let (mut left, mut right) = (a.next(), b.next());
    while let (Some(x), Some(y)) = (left, right) {
        match x.cmp(&y) {
            std::cmp::Ordering::Less => left = a.next(),
            std::cmp::Ordering::Greater => right = b.next(),
            std::cmp::Ordering::Equal => return true,
        }
    }
    false
}

#[cfg(test)]
#[path = "synonyms_tests.rs"]
mod tests;
