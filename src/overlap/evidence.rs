//! Evidence: how much telling wording two stretches share once they are aligned.

use super::alignment::Alignment;
use super::lexicon::{FormId, Lexicon};
use super::profile::{Profile, closeness};
use super::scale::Counterpart;

/// What a synonym counts beside the word itself: it may well be the writer's own choice.
const SYNONYM: f32 = 0.5;

/// The weight of the telling words that have a counterpart, and the closeness that follows from it.
/// Each stem counts once.
#[must_use]
pub fn weigh(
    draft: &[FormId],
    source: &[FormId],
    alignment: &Alignment,
    lexicon: &Lexicon,
) -> (f32, f32) {
    let ours = Profile::of(draft.iter().copied(), lexicon);
    let theirs = Profile::of(source.iter().copied(), lexicon);
    let mut shared = ours.shared_weight(&theirs);
    for single in &alignment.singles {
        let (Some(a), Some(b)) = (draft.get(single.draft), source.get(single.source)) else {
            continue;
        };
        let weight = lexicon
            .weight(lexicon.stem(*a))
            .min(lexicon.weight(lexicon.stem(*b)));
        match single.by {
            Counterpart::Form | Counterpart::Stem => {}
            Counterpart::Misspelling => shared += weight,
            Counterpart::Synonym => shared += weight * SYNONYM,
        }
    }
    (shared, closeness(shared, ours.weight, theirs.weight))
}
