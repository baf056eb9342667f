//! Unique links, after Keck (2006, *Journal of Second Language Writing* 15(4)): words and strings that a
//! rewrite shares with the excerpt it was made from and that stand nowhere else in the source. They can only
//! have come from this place.

use rustc_hash::FxHashSet;

use super::alignment::Alignment;
use super::lexicon::{FormId, Lexicon};
use super::positions::StreamRange;

/// Share of the rewrite's words that lie in unique links. `source` is the whole source, `excerpt` the stretch
/// of it with which the rewrite is aligned.
#[must_use]
pub(crate) fn unique_share(
    draft: &[FormId],
    alignment: &Alignment,
    source: &[FormId],
    excerpt: StreamRange,
    lexicon: &Lexicon,
) -> f64 {
    if draft.is_empty() {
        return 0.0;
    }
    let outside = [
        source.get(..excerpt.start()).unwrap_or_default(),
        source.get(excerpt.end()..).unwrap_or_default(),
    ];
    let elsewhere: FxHashSet<FormId> = outside
        .iter()
        .flat_map(|part| part.iter().copied())
        .collect();
    let is_unique_word = |form: FormId| lexicon.is_content(form) && !elsewhere.contains(&form);
    let mut linked = 0;
    for tile in &alignment.tiles {
        let words = draft.get(tile.draft.as_range()).unwrap_or_default();
        let by_word = words.iter().any(|form| is_unique_word(*form));
        let is_in = |part: &&[FormId]| {
            part.windows(words.len().max(1))
                .any(|window| window == words)
        };
        if by_word || !outside.iter().any(is_in) {
            linked += words.len();
        }
    }
    linked += alignment
        .singles
        .iter()
        .filter(|single| single.by == super::Counterpart::Form)
        .filter(|single| {
            draft
                .get(single.draft)
                .is_some_and(|form| is_unique_word(*form))
        })
        .count();
    linked as f64 / draft.len() as f64
}
