//! Likeness: how much likelier it is that one stretch rewords another than that it was written independently.
//!
//! 1. A writer who rewords goes through the source, mostly from word to word, but at times skips, goes back
//!    or leaps. The writer keeps a word, uses another form or a synonym, replaces it, or adds words. This is
//!    the hidden Markov model of word alignment (Vogel, Ney & Tillmann 1996, *COLING*) with a separate state
//!    beside each word for what is added (Och & Ney 2003, *Computational Linguistics* 29(1)).
//! 2. A kept word gains its weight in the lexicon less a constant; a replaced or added word loses a little, a
//!    leap more. The best way through the source (Viterbi) gives the logarithm of a likelihood ratio, in
//!    nats.
//! 3. It is taken in both directions, so that neither stretch may hold much that the other lacks. It is then
//!    compared with the weight of all the words: a long stretch has to share more than a short one.
//!
//! Function words count here although each weighs little: words of all kinds in the same order and
//! neighbourhood are what chance does not produce.
//!
//! The numbers of the model were set on verse translations and independent prose (see DEVELOPERS.md),
//! 2026-11-26.

use rustc_hash::FxHashSet;

use super::alignment::Alignment;
use super::lexicon::{FormId, Lexicon, StemId};
use super::scale::Counterpart;
use super::ways::Pairs;
use crate::wording::{Nearness, Senses};

/// A stretch of words as it is compared.
#[derive(Debug, Clone, Default)]
pub(crate) struct WeighedWords {
    words: Vec<Word>,
}

#[derive(Debug, Clone, Copy)]
struct Word {
    form: FormId,
    stem: StemId,
    /// Its weight in nats; `None` for a word that is nobody's wording.
    weight: Option<f32>,
    is_content: bool,
    senses: Senses,
}

impl WeighedWords {
    /// The words of a stretch. Those for which `is_fixed` holds are nobody's wording: they neither gain nor
    /// lose.
    #[must_use]
    pub(crate) fn new(
        forms: &[FormId],
        is_fixed: impl Fn(usize) -> bool,
        lexicon: &Lexicon,
    ) -> Self {
        let word = |(at, form): (usize, &FormId)| {
            let stem = lexicon.stem(*form);
            Word {
                form: *form,
                stem,
                weight: (!is_fixed(at)).then(|| lexicon.weight(stem)),
                is_content: lexicon.is_content(*form),
                senses: lexicon.senses(stem),
            }
        };
        Self {
            words: forms.iter().enumerate().map(word).collect(),
        }
    }

    /// The same words, of which a content word tells once however often it stands: a passage that repeats the term of its
    /// field shows its topic, not its source.
    #[must_use]
    pub(crate) fn without_repeats(mut self) -> Self {
        let mut seen = FxHashSet::default();
        for word in self.words.iter_mut().filter(|word| word.is_content) {
            if !seen.insert(word.stem) {
                word.weight = None;
            }
        }
        self
    }

    /// The number of words.
    #[must_use]
    pub(crate) fn len(&self) -> usize {
        self.words.len()
    }

    /// Whether there are no words.
    #[must_use]
    pub(crate) fn is_empty(&self) -> bool {
        self.words.is_empty()
    }

    /// The weight of each word, in nats.
    pub(super) fn weights(&self) -> impl Iterator<Item = f32> {
        self.words.iter().map(|word| word.weight.unwrap_or(0.0))
    }

    /// These words paired with those of another stretch.
    pub(super) fn pairs(&self, other: &Self) -> Pairs {
        let gains = gains(&self.words, &other.words, (0, 0), &Alignment::default());
        Pairs::new(costs(&self.words), costs(&other.words), gains)
    }

    /// The weight of all words together, in nats.
    #[must_use]
    pub(crate) fn weight(&self) -> f32 {
        self.weights().sum()
    }
}

/// What a word that is kept unchanged loses from its weight, in nats.
const KEPT: f32 = -1.6;

/// The same for a function word.
const KEPT_FUNCTION: f32 = -0.7;

/// What another form of the word, or a misspelling, loses.
const OTHER_FORM: f32 = -2.0;

/// What a synonym loses, and the share of the lighter word's weight that it gains: it may well be the
/// writer's own choice. In the calibration a word one step away came out no weaker.
const SYNONYM: f32 = -1.7;
const SYNONYM_SHARE: f32 = 0.5;
const STEP_SHARE: f32 = 0.6;

/// What a replaced word loses.
const REPLACED: f32 = -1.15;

/// Nats are divided by this power of the stretch's weight. Dividing by the weight itself would make short
/// stretches too sure, and not dividing would make long ones so.
const LENGTH_POWER: f32 = 0.9;

/// Nats added to the weight of the stretch.
const LENGTH_PRIOR: f32 = 8.0;

/// Weight from which on a heavier stretch need not show more, in nats: some forty words. What is taken over
/// several sentences adds up; what is alike by chance does not. Our own calibration, 2026-12-01.
const MOST_WEIGHT: f32 = 200.0;

/// The value that one in two hundred sentences of the same register reaches by chance, and how fast sureness
/// grows around it.
const EVEN: f32 = 0.17;
const SPREAD: f32 = 0.12;

/// Most pairs of words that are compared at once. Longer stretches are cut where their alignment allows it.
const MOST_PAIRS_AT_ONCE: usize = 1 << 16;

/// How likely it is that one stretch rewords the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Likeness {
    /// Logarithm of the likelihood ratio, in nats; negative where the stretch is likelier to have been
    /// written independently.
    pub forth: f32,
    /// The same in the other direction: how well the source would follow from the rewording.
    pub back: f32,
    /// The weight of all words of the rewording, in nats.
    pub weight: f32,
}

impl Likeness {
    /// The mean of both directions, in nats.
    #[must_use]
    pub(crate) fn nats(&self) -> f32 {
        f32::midpoint(self.forth, self.back)
    }

    /// Compares a rewording with what it may have been made from.
    #[must_use]
    pub(crate) fn of(ours: &WeighedWords, theirs: &WeighedWords) -> Self {
        Self::aligned(ours, theirs, &Alignment::default())
    }

    /// The same where an alignment is known, which shows misspellings and where long stretches can be cut.
    #[must_use]
    pub(crate) fn aligned(
        ours: &WeighedWords,
        theirs: &WeighedWords,
        alignment: &Alignment,
    ) -> Self {
        let (forth, back) = both_ways(&ours.words, &theirs.words, (0, 0), alignment);
        Self {
            forth,
            back,
            weight: ours.weight(),
        }
    }
}

/// Nats in favour of a rewording, relative to the weight of the heavier stretch, so that neither a short
/// rewording of a long stretch nor the reverse looks likelier than it is.
#[must_use]
pub(super) fn value(nats: f32, ours: f32, theirs: f32) -> f32 {
    let weight = (ours.max(theirs) + LENGTH_PRIOR).min(MOST_WEIGHT);
    nats / weight.powf(LENGTH_POWER)
}

/// How sure it is that one stretch rewords the other, 0 to 1, at a [`value`]: 1/2 at the value that one in
/// two hundred sentences of the same register reaches by chance (see DEVELOPERS.md).
#[must_use]
pub(super) fn sureness(value: f32) -> f64 {
    1.0 / (1.0 + f64::from((EVEN - value) / SPREAD).exp())
}

/// The nats of our stretch as a rewording of theirs, and the reverse. In their alignment the two begin at
/// `from`.
fn both_ways(
    ours: &[Word],
    theirs: &[Word],
    from: (usize, usize),
    alignment: &Alignment,
) -> (f32, f32) {
    if ours.is_empty() || theirs.is_empty() {
        let weighed = |words: &[Word]| words.iter().filter(|word| word.weight.is_some()).count();
        return (
            REPLACED * weighed(ours) as f32,
            REPLACED * weighed(theirs) as f32,
        );
    }
    if ours.len().saturating_mul(theirs.len()) > MOST_PAIRS_AT_ONCE
        && ours.len() > 1
        && theirs.len() > 1
    {
        let (a, b) = alignment.cut(from, (ours.len(), theirs.len()));
        let first = both_ways(&ours[..a], &theirs[..b], from, alignment);
        let rest = both_ways(
            &ours[a..],
            &theirs[b..],
            (from.0 + a, from.1 + b),
            alignment,
        );
        return (first.0 + rest.0, first.1 + rest.1);
    }
    let pairs = Pairs::new(
        costs(ours),
        costs(theirs),
        gains(ours, theirs, from, alignment),
    );
    let back = pairs.back(0, theirs.len()).pop().unwrap_or_default();
    (pairs.forth(0, theirs.len()), back)
}

/// For each word, whether adding it costs anything.
fn costs(words: &[Word]) -> Vec<bool> {
    words.iter().map(|word| word.weight.is_some()).collect()
}

/// What each pair of words gains, one row for each word of ours.
fn gains(ours: &[Word], theirs: &[Word], from: (usize, usize), alignment: &Alignment) -> Vec<f32> {
    let mut gains: Vec<f32> = ours
        .iter()
        .flat_map(|a| theirs.iter().map(move |b| gain(a, b)))
        .collect();
    for single in &alignment.singles {
        let place = (
            single.draft.checked_sub(from.0),
            single.source.checked_sub(from.1),
        );
        let (Some(a), Some(b)) = place else { continue };
        let (Some(ours), true) = (ours.get(a), b < theirs.len()) else {
            continue;
        };
        if let (Counterpart::Misspelling, Some(weight)) = (single.by, ours.weight) {
            // The weight of a misspelling shows how rare it is, not how telling.
            let lighter = theirs[b].weight.map_or(weight, |theirs| theirs.min(weight));
            gains[a * theirs.len() + b] = lighter + OTHER_FORM;
        }
    }
    gains
}

fn gain(a: &Word, b: &Word) -> f32 {
    let (Some(weight), Some(other)) = (a.weight, b.weight) else {
        return 0.0;
    };
    let kept = if a.is_content { KEPT } else { KEPT_FUNCTION };
    if a.form == b.form {
        weight + kept
    } else if a.stem == b.stem {
        (weight + OTHER_FORM).max(REPLACED)
    } else if a.is_content && b.is_content {
        let share = match a.senses.nearness(&b.senses) {
            Some(Nearness::SameSense) => SYNONYM_SHARE,
            Some(Nearness::OneHop) => STEP_SHARE,
            None => return REPLACED,
        };
        (share * weight.min(other) + SYNONYM).max(REPLACED)
    } else {
        REPLACED
    }
}

#[cfg(test)]
mod tests;
