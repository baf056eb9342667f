//! Words kept in sequence: how far a rewrite goes through a stretch of its source word by word.
//!
//! 1. A word of the rewrite keeps a word of the source: all of it where it is the same word, half of it where it is another
//!    form, a misspelling or a synonym. Function words count as well: they are the frame of a sentence.
//! 2. The most that can be kept without going back is the longest common subsequence, each pair counting what it keeps.
//! 3. It is set beside the words of the rewrite and of the stretch of the source from the first word kept to the last:
//!    twice what is kept over the words of both (Dice 1945, *Ecology* 26(3)). Of all stretches the one with the largest
//!    value counts, so that what stands before and behind it in the source makes no difference.
//!
//! That stretch is found by the method of Dinkelbach (1967, *Management Science* 13(7)) for ratios: the best sequence
//! when each word of its stretch costs half the value reached so far is at least as good as the one before, and the
//! best of all once it is no better. With a cost a word this is local alignment (Smith & Waterman 1981, *Journal of Molecular
//! Biology* 147(1)) in which words of the rewrite are passed over freely: they are all counted anyway.

use rustc_hash::FxHashMap;

use super::alignment::Alignment;
use super::lexicon::{FormId, Lexicon, StemId};
use super::scale::Counterpart;
use crate::text::WordRange;

/// What the same word keeps of a word.
const SAME: f32 = 1.0;

/// What another form, a misspelling or a synonym keeps of it. Our own choice; verse translations set no better
/// value for the one or the other (see DEVELOPERS.md).
const IN_PART: f32 = 0.5;

/// Pairs of words that are compared at once at most, some 0.1 s; longer texts are cut where their alignment lets them,
/// and their stretch is not narrowed.
const MOST_PAIRS: usize = 1 << 24;

/// Rounds in which the stretch is narrowed at most; three or four are the rule.
const MOST_ROUNDS: usize = 12;

/// The best sequence in which a rewrite goes through a source.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Sequence {
    /// Words kept, in halves of a word.
    pub kept: f32,
    /// Where in the source, from the first word kept to the last.
    pub stretch: WordRange,
}

impl Sequence {
    /// The best sequence of the words of a rewrite in those of a source; `alignment` tells which are synonyms and misspellings.
    #[must_use]
    pub fn of(
        ours: &[FormId],
        theirs: &[FormId],
        alignment: &Alignment,
        lexicon: &Lexicon,
    ) -> Self {
        if is_long(ours, theirs) {
            return in_parts(ours, theirs, (0, 0), alignment, lexicon);
        }
        let kept = kept(ours, theirs, (0, 0), alignment, lexicon);
        let mut best = Self::default();
        for _ in 0..MOST_ROUNDS {
            let reached = best.share(ours.len());
            let next = best_at_cost(&kept, theirs.len(), (reached / 2.0) as f32);
            if next.share(ours.len()) <= reached {
                break;
            }
            best = next;
        }
        best
    }

    /// Twice what is kept over the `words` of the rewrite and those of the stretch, 0 to 1.
    #[must_use]
    pub fn share(&self, words: usize) -> f64 {
        match words + self.stretch.len() {
            0 => 0.0,
            both => 2.0 * f64::from(self.kept) / both as f64,
        }
    }

    /// Both, one behind the other in the source.
    fn and(self, next: Self) -> Self {
        let stretch = if self.stretch.is_empty() {
            next.stretch
        } else if next.stretch.is_empty() {
            self.stretch
        } else {
            self.stretch.hull(next.stretch)
        };
        let kept = self.kept + next.kept;
        Self { kept, stretch }
    }
}

fn is_long(ours: &[FormId], theirs: &[FormId]) -> bool {
    ours.len().saturating_mul(theirs.len()) > MOST_PAIRS && ours.len() > 1 && theirs.len() > 1
}

/// The best sequence of long texts: those of the parts that begin at `from`, in a row.
fn in_parts(
    ours: &[FormId],
    theirs: &[FormId],
    from: (usize, usize),
    alignment: &Alignment,
    lexicon: &Lexicon,
) -> Sequence {
    if is_long(ours, theirs) {
        let (a, b) = alignment.cut(from, (ours.len(), theirs.len()));
        let behind = (from.0 + a, from.1 + b);
        let first = in_parts(&ours[..a], &theirs[..b], from, alignment, lexicon);
        return first.and(in_parts(
            &ours[a..],
            &theirs[b..],
            behind,
            alignment,
            lexicon,
        ));
    }
    let kept = kept(ours, theirs, from, alignment, lexicon);
    let part = best_at_cost(&kept, theirs.len(), 0.0);
    let (start, end) = (part.stretch.start(), part.stretch.end());
    Sequence {
        stretch: WordRange::of(start + from.1, end + from.1),
        ..part
    }
}

/// A place of the source, and what a word keeps of the word there.
type Keeps = (usize, f32);

/// For each of our words the places of theirs of which it keeps something; the two begin at `from` in their alignment.
fn kept(
    ours: &[FormId],
    theirs: &[FormId],
    from: (usize, usize),
    alignment: &Alignment,
    lexicon: &Lexicon,
) -> Vec<Vec<Keeps>> {
    let mut places: FxHashMap<StemId, Vec<usize>> = FxHashMap::default();
    for (at, form) in theirs.iter().enumerate() {
        places.entry(lexicon.stem(*form)).or_default().push(at);
    }
    let keeps = |ours: FormId, theirs: FormId| if ours == theirs { SAME } else { IN_PART };
    let of_word = |form: &FormId| {
        let places = places.get(&lexicon.stem(*form)).into_iter().flatten();
        places.map(|at| (*at, keeps(*form, theirs[*at]))).collect()
    };
    let mut kept: Vec<Vec<Keeps>> = ours.iter().map(of_word).collect();
    for single in &alignment.singles {
        let place = (
            single.draft.checked_sub(from.0),
            single.source.checked_sub(from.1),
        );
        if let (Some(a), Some(b)) = place
            && let Some(row) = kept.get_mut(a)
            && b < theirs.len()
            && matches!(single.by, Counterpart::Misspelling | Counterpart::Synonym)
        {
            row.push((b, IN_PART));
        }
    }
    kept
}

/// A sequence up to some word of the source; it begins at `start`, if it gains anything.
#[derive(Debug, Clone, Copy, Default)]
struct Path {
    gain: f32,
    start: usize,
}

impl Path {
    fn or(self, other: Self) -> Self {
        if other.gain > self.gain { other } else { self }
    }
}

/// The sequence that keeps most when each of the words of its stretch costs `cost`. `kept` says what each word of the
/// rewrite keeps of which of the `source` words.
fn best_at_cost(kept: &[Vec<Keeps>], source: usize, cost: f32) -> Sequence {
    // The best path up to each word of the source, by the words of the rewrite so far.
    let mut paths = vec![Path::default(); source];
    let mut keeps = vec![0.0; source];
    let (mut most, mut stretch) = (0.0, WordRange::default());
    for row in kept.iter().filter(|row| !row.is_empty()) {
        for (at, keep) in row {
            keeps[*at] = *keep;
        }
        let (mut before, mut here) = (Path::default(), Path::default());
        for (at, path) in paths.iter_mut().enumerate() {
            let passed_over = Path {
                gain: (here.gain - cost).max(0.0),
                ..here
            };
            here = path.or(passed_over);
            if keeps[at] > 0.0 {
                let start = if before.gain > 0.0 { before.start } else { at };
                let gain = before.gain + keeps[at] - cost;
                here = here.or(Path { gain, start });
                if gain > most {
                    (most, stretch) = (gain, WordRange::of(start, at + 1));
                }
            }
            before = std::mem::replace(path, here);
        }
        for (at, _) in row {
            keeps[*at] = 0.0;
        }
    }
    // Every keep is half a word or a whole one: what the costs left of it is rounded back.
    let kept = (2.0 * (most + cost * stretch.len() as f32)).round() / 2.0;
    Sequence { kept, stretch }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::alignment::align;
    use super::super::lexicon::Counted;
    use super::*;
    use crate::text::{MarkedText, Text};

    /// Words kept and the stretch of the best sequence, and the value.
    fn sequence(source: &str, rewrite: &str) -> (f32, (usize, usize), f64) {
        let texts = [source, rewrite].map(|text| MarkedText::source(Text::paragraph(text)));
        let mut lexicon = Lexicon::default();
        let forms = lexicon.intern_all(&[&texts[0], &texts[1]], Counted::Yes);
        let (theirs, ours) = (&forms[0], &forms[1]);
        let alignment = align(ours, theirs, &lexicon);
        let best = Sequence::of(ours, theirs, &alignment, &lexicon);
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
    fn nothing_shared_and_nothing_at_all_are_no_error() {
        assert_eq!(
            sequence("Moths circle.", "Ledgers balance."),
            (0.0, (0, 0), 0.0)
        );
        assert_eq!(sequence("", ""), (0.0, (0, 0), 0.0));
    }

    #[test]
    fn long_texts_are_cut_and_their_copy_stays_whole() {
        let words: Vec<String> = (0..5_000)
            .map(|number| format!("word{}", number % 4_999))
            .collect();
        let text = words.join(" ");
        assert_eq!(sequence(&text, &text), (5_000.0, (0, 5_000), 1.0));
    }

    /// The value by trying every stretch of the source with the textbook table.
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
            // Words that are no forms, synonyms or misspellings of each other.
            let spelled = |words: &[u8]| {
                let words = words.iter().map(|word| ["moth", "harbour", "ledger", "the", "quarry", "of"][usize::from(*word)]);
                words.collect::<Vec<_>>().join(" ")
            };
            let found = sequence(&spelled(&theirs), &spelled(&ours)).2;
            prop_assert!((found - by_hand(&ours, &theirs)).abs() < 1e-9, "{found}");
        }
    }
}
