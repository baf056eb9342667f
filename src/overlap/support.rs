//! Support: how much telling wording two stretches share once they are aligned, and how sure it therefore is
//! that one comes from the other.

use super::alignment::Alignment;
use super::gathered::{Gathered, gathered};
use super::lexicon::{FormId, Lexicon};
use super::likeness::{Likeness, WeighedWords};
use super::profile::{Profile, closeness};
use super::scale::Counterpart;

/// What a synonym counts, where the word itself counts 1: it may well be the writer's own choice.
pub(crate) const SYNONYM: f32 = 0.5;

/// A function word is no evidence by itself. Within a shared string of this many words it is, because then
/// the turn of phrase is the same ...
pub(crate) const STRING_WORDS: usize = 3;

/// ... and counts this much, in nats.
pub(crate) const IN_STRING: f32 = 1.5;

/// How much two stretches share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Support {
    /// Weight (nats) of the telling words that have a counterpart, each stem once, synonyms half.
    pub weight: f32,
    /// Closeness, 0 to 1, that follows from it: see [`super::profile`].
    pub closeness: f32,
    /// How likely it is that the one rewords the other.
    pub likeness: Likeness,
    /// The same without regard to order.
    pub gathered: Gathered,
    /// Content words that were compared.
    pub content_words: usize,
}

/// How sure it is that a stretch comes from its source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Sureness {
    /// It may be chance or a common topic.
    Doubtful,
    /// Likely.
    Likely,
    /// Chance can be ruled out.
    Certain,
}

/// Fewest content words of a stretch that can be judged.
pub(crate) const LEAST_CONTENT: usize = 5;

/// Strength (nats, see [`Support::strength`]) from which a stretch is likely, and certain, to come from its
/// source. Our own calibration on independent prose and on planted translations, 2026-11-26; see
/// DEVELOPERS.md.
pub(crate) const LIKELY: f32 = 20.0;
/// See [`LIKELY`].
pub(crate) const CERTAIN: f32 = 28.0;

/// Share of a stretch's weight that is added to its likeness. The model of rewording undervalues long
/// stretches, since it does not allow for a writer who follows the source over several sentences. Same
/// calibration.
const WEIGHT_SHARE: f32 = 0.05;

/// Least shared weight (nats) that is any evidence: about two rare words.
pub(crate) const LEAST_WEIGHT: f32 = 20.0;

/// Share of a text's weight from which on it shares telling wording with another. Our own calibration on modern prose,
/// 2026-12-01: what two authors wrote independently on one narrow topic shares up to 0.15, a heavy revision
/// 0.23 and more.
pub(crate) const TELLING_SHARE: f32 = 0.18;

impl Support {
    /// What a rewrite shares with its source, both as forms, under their alignment. Words for which
    /// `is_fixed` holds count for nothing.
    #[must_use]
    pub(crate) fn of(
        draft: &[FormId],
        is_fixed: impl Fn(usize) -> bool,
        source: &[FormId],
        alignment: &Alignment,
        lexicon: &Lexicon,
    ) -> Self {
        let telling = (0..draft.len()).filter(|at| !is_fixed(*at));
        let telling: Vec<FormId> = telling.map(|at| draft[at]).collect();
        let ours = Profile::of(telling.iter().copied(), lexicon);
        let theirs = Profile::of(source.iter().copied(), lexicon);
        let mut weight = ours.shared_weight(&theirs);
        for tile in alignment
            .tiles
            .iter()
            .filter(|tile| tile.draft.len() >= STRING_WORDS)
        {
            let words = draft.get(tile.draft.as_range()).unwrap_or_default();
            let function_words = words
                .iter()
                .filter(|form| !lexicon.is_content(**form))
                .count();
            weight += IN_STRING * function_words as f32;
        }
        for single in alignment
            .singles
            .iter()
            .filter(|single| !is_fixed(single.draft))
        {
            let (Some(a), Some(b)) = (draft.get(single.draft), source.get(single.source)) else {
                continue;
            };
            let lighter = lexicon
                .weight(lexicon.stem(*a))
                .min(lexicon.weight(lexicon.stem(*b)));
            match single.by {
                Counterpart::String | Counterpart::Form | Counterpart::Stem => {}
                Counterpart::Misspelling => weight += lighter,
                Counterpart::Synonym => weight += lighter * SYNONYM,
            }
        }
        Self {
            weight,
            closeness: closeness(weight, ours.weight, theirs.weight),
            likeness: Likeness::aligned(
                &WeighedWords::new(draft, &is_fixed, lexicon).without_repeats(),
                &WeighedWords::new(source, |_| false, lexicon).without_repeats(),
                alignment,
            ),
            gathered: gathered(&ours, &theirs),
            content_words: telling
                .iter()
                .filter(|form| lexicon.is_content(**form))
                .count(),
        }
    }

    /// The strength of the evidence that the one comes from the other, in nats.
    #[must_use]
    pub(crate) fn strength(&self) -> f32 {
        self.likeness.nats() + WEIGHT_SHARE * self.likeness.weight
    }

    /// Whether the two share telling wording, and not just a topic.
    #[must_use]
    pub(crate) fn shares_telling(&self) -> bool {
        let share = TELLING_SHARE * self.likeness.weight;
        self.weight > 0.0 && (self.weight >= share || self.strength() >= LIKELY)
    }

    /// How sure it is that the one comes from the other.
    #[must_use]
    pub(crate) fn sureness(&self) -> Sureness {
        if self.content_words < LEAST_CONTENT || self.weight < LEAST_WEIGHT {
            return Sureness::Doubtful;
        }
        let strength = self.strength();
        let in_order = if strength < LIKELY {
            Sureness::Doubtful
        } else if strength < CERTAIN {
            Sureness::Likely
        } else {
            Sureness::Certain
        };
        in_order.max(self.gathered.sureness())
    }
}
