//! Words that are a slip or two away from a word, without comparing it with all of them.
//!
//! Each word is kept by what is left of its beginning when no letter, one, or two are left out. Two words with no more than `n`
//! slips between them (a letter more, less, another, or two that changed places) have such a rest in common with at most `n`
//! letters left out on either side: each slip costs either beginning one letter at most. (The method of the spelling corrector
//! SymSpell, Garbe 2012.) What is found is to be compared letter by letter: others may have a rest in common too.

use std::hash::Hasher as _;

use rustc_hash::FxHasher;

/// The index; words have the numbers of their order.
#[derive(Debug, Clone, Default)]
pub(crate) struct SlipIndex {
    /// For each number of letters left out: the rests as hashes, with the words they are of, in order.
    rests: [Vec<(u64, u32)>; MOST_SLIPS + 1],
}

/// Most slips that are looked for: names of seven letters and more may have two.
const MOST_SLIPS: usize = 2;

/// Letters of a word's beginning. Fewer would find too much, more would cost more; nothing hangs on it.
const BEGINNING: usize = 7;

impl SlipIndex {
    /// The index of words.
    pub(crate) fn of<'w>(words: impl IntoIterator<Item = &'w str>) -> Self {
        let mut index = Self::default();
        for (number, word) in (0..).zip(words) {
            each_rest(word, MOST_SLIPS, |left_out, rest| {
                index.rests[left_out].push((rest, number));
            });
        }
        for rests in &mut index.rests {
            rests.sort_unstable();
            rests.dedup();
        }
        index
    }

    /// The numbers of all words that may have at most so many slips against a word, in order. Slips are [`MOST_SLIPS`] at most.
    pub(crate) fn like(&self, word: &str, slips: usize) -> Vec<u32> {
        let slips = slips.min(MOST_SLIPS);
        let mut found = Vec::new();
        each_rest(word, slips, |_, rest| {
            for rests in &self.rests[..=slips] {
                let from = rests.partition_point(|(other, _)| *other < rest);
                let same = rests[from..].iter().take_while(|(other, _)| *other == rest);
                found.extend(same.map(|(_, number)| *number));
            }
        });
        found.sort_unstable();
        found.dedup();
        found
    }
}

/// The beginning of a word with up to so many letters left out: how many, and a hash of the rest.
fn each_rest(word: &str, most: usize, mut take: impl FnMut(usize, u64)) {
    let letters: Vec<char> = word.chars().take(BEGINNING).collect();
    let rest = |without: &[usize]| {
        let mut hasher = FxHasher::default();
        let kept = letters.iter().enumerate();
        kept.filter(|(at, _)| !without.contains(at))
            .for_each(|(_, letter)| hasher.write_u32(u32::from(*letter)));
        hasher.finish()
    };
    take(0, rest(&[]));
    for one in 0..letters.len() {
        if most >= 1 {
            take(1, rest(&[one]));
        }
        for other in one + 1..letters.len() {
            if most >= 2 {
                take(2, rest(&[one, other]));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn no_word_within_the_slips_is_missed(words in prop::collection::vec("[abé]{0,10}", 1..40), word in "[abé]{0,10}") {
            let index = SlipIndex::of(words.iter().map(String::as_str));
            for slips in 0..=MOST_SLIPS {
                let found = index.like(&word, slips);
                for (number, other) in (0..).zip(&words) {
                    if strsim::damerau_levenshtein(&word, other) <= slips {
                        prop_assert!(found.contains(&number), "{word} {other} {slips}");
                    }
                }
            }
        }
    }

    #[test]
    fn most_other_words_are_left_aside() {
        let index = SlipIndex::of(["harrow", "lindqvist", "harow", "okoro", "lindkvist"]);
        assert_eq!(index.like("harrow", 1), [0, 2]);
        assert_eq!(index.like("lindqvist", 2), [1, 4]);
        assert_eq!(index.like("harrow", 0), [0]);
    }
}
