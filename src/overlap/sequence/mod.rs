//! Words kept in sequence: how far a rewrite follows a stretch of its source word by word.
//!
//! 1. A word of the rewrite keeps a word of the source (`keeps`): all of it where it is the same word, half
//!    of it where it is another form, or what the alignment took for a misspelling or a synonym. Function
//!    words count as well, because they are the frame of a sentence.
//! 2. The most that can be kept without going back is the longest common subsequence, each pair counting what
//!    it keeps.
//! 3. This is compared with the words of the rewrite and of the stretch of the source from the first word
//!    kept to the last: twice what is kept over the words of both (Dice 1945, *Ecology* 26(3)). Of all
//!    stretches the one with the largest value counts, so that what stands before and after it in the source
//!    makes no difference.
//!
//! That stretch is found by the method of Dinkelbach (1967, *Management Science* 13(7)) for ratios: the best
//! sequence when each word of its stretch costs half the value reached so far is at least as good as the one
//! before, and the best of all once it is no better. With a cost for each word this is local alignment (Smith
//! & Waterman 1981, *Journal of Molecular Biology* 147(1)) in which words of the rewrite are passed over
//! freely, since they are all counted anyway.
//!
//! In texts too long to compare every pair of words, the shared strings lead the way (`long`).

mod keeps;
mod long;

use super::alignment::Alignment;
use super::lexicon::{FormId, Lexicon};
use crate::overlap::positions::ListRange;
use keeps::Keeps;

pub(crate) use keeps::IN_PART;

/// Most pairs of words that are compared at once; they take some 0.1 s.
const MOST_PAIRS_COMPARED: usize = 1 << 24;

/// Most rounds in which the stretch is narrowed; three or four are usual.
const MOST_ROUNDS: usize = 12;

/// The best sequence in which a rewrite follows a source.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Sequence {
    /// Words kept, in steps of half a word.
    pub kept: f32,
    /// Where in the source, from the first word kept to the last.
    pub stretch: ListRange,
}

impl Sequence {
    /// The best sequence of the words of a rewrite in those of a source. `alignment` shows which are synonyms
    /// and misspellings.
    #[must_use]
    pub(crate) fn of(
        ours: &[FormId],
        theirs: &[FormId],
        alignment: &Alignment,
        lexicon: &Lexicon,
    ) -> Self {
        Self::within(MOST_PAIRS_COMPARED, ours, theirs, alignment, lexicon)
    }

    fn within(
        most_pairs: usize,
        ours: &[FormId],
        theirs: &[FormId],
        alignment: &Alignment,
        lexicon: &Lexicon,
    ) -> Self {
        if let [tile] = alignment.tiles.as_slice()
            && tile.draft.len() == ours.len()
        {
            return Self {
                kept: ours.len() as f32,
                stretch: tile.source,
            };
        }
        let keeps = Keeps::new(ours, theirs, alignment, lexicon);
        if ours.len().saturating_mul(theirs.len()) > most_pairs {
            let steps = long::steps(&keeps, alignment, most_pairs);
            narrowed(ours.len(), |cost| long::best_at_cost(&steps, cost))
        } else {
            let all = (0..ours.len(), 0..theirs.len());
            narrowed(ours.len(), |cost| keeps.best_at_cost(all.clone(), cost))
        }
    }

    /// Twice what is kept over the `words` of the rewrite and those of the stretch, 0 to 1.
    #[must_use]
    pub(crate) fn share(&self, words: usize) -> f64 {
        match words + self.stretch.len() {
            0 => 0.0,
            both => 2.0 * f64::from(self.kept) / both as f64,
        }
    }
}

/// The sequence with the largest share of a rewrite of `words` words. `best_at_cost` finds the best sequence
/// at a given cost for each word of its stretch.
fn narrowed(words: usize, best_at_cost: impl Fn(f32) -> Sequence) -> Sequence {
    let mut best = Sequence::default();
    for _ in 0..MOST_ROUNDS {
        let reached = best.share(words);
        let next = best_at_cost((reached / 2.0) as f32);
        if next.share(words) <= reached {
            break;
        }
        best = next;
    }
    best
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::alignment::align;
    use super::super::lexicon::Counted;
    use super::*;
    use crate::text::{MarkedText, Text};

    /// Words kept and the stretch of the best sequence, and its value.
    fn sequence(source: &str, rewrite: &str) -> (f32, (usize, usize), f64) {
        sequence_within(MOST_PAIRS_COMPARED, source, rewrite)
    }

    /// The same, but texts with more pairs of words than this count as long.
    fn sequence_within(
        most_pairs: usize,
        source: &str,
        rewrite: &str,
    ) -> (f32, (usize, usize), f64) {
        let texts = [source, rewrite].map(|text| MarkedText::source(Text::paragraph(text)));
        let mut lexicon = Lexicon::default();
        let forms = lexicon.intern_all(&[&texts[0], &texts[1]], Counted::Yes);
        let (theirs, ours) = (&forms[0], &forms[1]);
        let alignment = align(ours, theirs, &lexicon);
        let best = Sequence::within(most_pairs, ours, theirs, &alignment, &lexicon);
        let stretch = (best.stretch.start(), best.stretch.end());
        (best.kept, stretch, best.share(ours.len()))
    }

    #[test]
    fn a_copy_keeps_everything_wherever_it_stands() {
        let source = "The lamps went out. Bats feed where the lamps hold the moths. The lamps hold nothing now.";
        assert_eq!(
            sequence(source, "Bats feed where the lamps hold the moths."),
            (8.0, (4, 12), 1.0)
        );
        assert_eq!(sequence(source, source).2, 1.0);
    }

    #[test]
    fn other_forms_synonyms_and_misspellings_keep_half() {
        let source = "The keeper began the count behind the cottage.";
        for rewrite in [
            "The keepers began the count behind the cottage.",
            "The keeper started the count behind the cottage.",
            "The keeper began the count behind the cotage.",
        ] {
            assert_eq!(sequence(source, rewrite).0, 7.5, "{rewrite}");
        }
        assert_eq!(
            sequence(source, "The keeper painted the count behind the cottage.").0,
            7.0
        );
    }

    #[test]
    fn what_goes_back_is_not_kept() {
        let source = "Moths circle the lamps while bats wait in the elms.";
        let (kept, stretch, share) = sequence(
            source,
            "Bats wait in the elms while moths circle the lamps.",
        );
        assert_eq!((kept, stretch), (5.0, (5, 10)));
        assert!((share - 10.0 / 15.0).abs() < 1e-9);
    }

    #[test]
    fn passing_over_much_of_the_source_is_not_worth_a_word() {
        let source = "Moths leave. Nobody among all those who were asked about the autumn had ever seen bats feed by the lamps.";
        let (kept, stretch, _) = sequence(source, "Moths and bats feed by the lamps.");
        assert_eq!((kept, stretch.1 - stretch.0), (5.0, 5));
    }

    #[test]
    fn nothing_shared_and_empty_texts_are_not_errors() {
        assert_eq!(
            sequence("Moths circle.", "Ledgers balance."),
            (0.0, (0, 0), 0.0)
        );
        assert_eq!(sequence("", ""), (0.0, (0, 0), 0.0));
    }

    /// Words with no common stem, from one number to another.
    fn words(numbers: std::ops::Range<usize>) -> Vec<String> {
        numbers.map(|number| format!("word{number}")).collect()
    }

    #[test]
    fn a_copy_out_of_a_long_text_is_whole() {
        let source = words(0..600).join(" ");
        let copied = |range: std::ops::Range<usize>| {
            let stretch = (range.start, range.end);
            let found = sequence_within(100, &source, &words(range.clone()).join(" "));
            assert_eq!(found, (range.len() as f32, stretch, 1.0));
        };
        copied(0..600);
        copied(300..340);
        copied(0..390);
        copied(590..600);
    }

    #[test]
    fn long_texts_keep_what_short_ones_keep() {
        let source = words(0..600);
        let mut changed = words(100..400);
        for at in (5..300).step_by(7) {
            changed[at] = format!("own{at}");
        }
        // A word from the end stands first, and words of the writer's own stand before and after.
        let mut moved = changed.clone();
        moved.insert(0, "word599".to_owned());
        let mut own: Vec<String> = (0..90).map(|number| format!("mine{number}")).collect();
        own.extend(changed.clone());
        own.extend(["and".to_owned(), "so".to_owned()]);
        for rewrite in [changed, moved, own] {
            let (source, rewrite) = (source.join(" "), rewrite.join(" "));
            let exact = sequence(&source, &rewrite);
            assert_eq!(exact.0, 257.0);
            assert_eq!(sequence_within(100, &source, &rewrite), exact);
        }
    }

    #[test]
    fn one_word_over_and_over_is_kept_as_often_as_it_stands() {
        let (ours, theirs) = ("bat ".repeat(300), "bat ".repeat(200));
        let (kept, stretch, _) = sequence(&theirs, &ours);
        assert_eq!((kept, stretch), (200.0, (0, 200)));
    }

    /// The value found by trying every stretch of the source with the textbook table.
    fn by_hand(ours: &[u8], theirs: &[u8]) -> f64 {
        let mut best = 0.0_f64;
        for start in 0..theirs.len() {
            for end in start + 1..=theirs.len() {
                let mut row = vec![0; end - start + 1];
                for word in ours {
                    let mut corner = 0;
                    for (at, other) in theirs[start..end].iter().enumerate() {
                        let with = if word == other { corner + 1 } else { 0 };
                        corner = row[at + 1];
                        row[at + 1] = row[at + 1].max(row[at]).max(with);
                    }
                }
                let both = ours.len() + end - start;
                best = best.max(2.0 * f64::from(row[end - start]) / both as f64);
            }
        }
        best
    }

    proptest! {
        #[test]
        fn no_stretch_has_a_larger_value(ours in prop::collection::vec(0..6_u8, 1..9), theirs in prop::collection::vec(0..6_u8, 1..12)) {
            // Words that are not forms, synonyms or misspellings of each other.
            let spelled = |words: &[u8]| {
                let words = words.iter().map(|word| ["moth", "harbour", "ledger", "the", "quarry", "of"][usize::from(*word)]);
                words.collect::<Vec<_>>().join(" ")
            };
            let found = sequence(&spelled(&theirs), &spelled(&ours)).2;
            prop_assert!((found - by_hand(&ours, &theirs)).abs() < 1e-9, "{found}");
            let long = sequence_within(10, &spelled(&theirs), &spelled(&ours)).2;
            prop_assert!(long < found + 1e-9, "{long} {found}");
        }
    }
}
