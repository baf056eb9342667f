//! Unique links, after Keck (2006, *Journal of Second Language Writing* 15(4)): words and strings that a
//! rewrite shares with the excerpt it was made from and that stand nowhere else in the source. They can only
//! have come from this place.

use rustc_hash::FxHashMap;

use super::alignment::Alignment;
use super::lexicon::{FormId, Lexicon};
use super::positions::StreamRange;

/// Where each word of a source stands, so that one excerpt after another can be asked what stands outside of it.
#[derive(Debug, Clone, Default)]
pub(crate) struct Places {
    of_form: FxHashMap<FormId, Occurrences>,
    /// For each word of the source, where the same word stood last; [`NOWHERE`] for the first.
    previous: Vec<u32>,
}

#[derive(Debug, Clone, Copy)]
struct Occurrences {
    first: u32,
    last: u32,
    count: u32,
}

const NOWHERE: u32 = u32::MAX;

impl Places {
    /// The places in a source. Words beyond the 32nd bit, which no file has, are left out.
    pub(crate) fn of(source: &[FormId]) -> Self {
        let mut places = Self::default();
        for (at, form) in (0..NOWHERE).zip(source) {
            let new = Occurrences {
                first: at,
                last: NOWHERE,
                count: 0,
            };
            let occurrences = places.of_form.entry(*form).or_insert(new);
            places.previous.push(occurrences.last);
            occurrences.last = at;
            occurrences.count += 1;
        }
        places
    }

    /// Whether a word stands outside of an excerpt.
    fn is_outside(&self, form: FormId, excerpt: StreamRange) -> bool {
        let occurrences = self.of_form.get(&form);
        occurrences.is_some_and(|of_form| {
            (of_form.first as usize) < excerpt.start() || of_form.last as usize >= excerpt.end()
        })
    }

    /// Whether a string stands before or behind an excerpt as a whole. Only the places of its rarest word are looked at.
    fn has_outside(&self, words: &[FormId], source: &[FormId], excerpt: StreamRange) -> bool {
        let counted = words.iter().enumerate().map(|(offset, form)| {
            let of_form = self.of_form.get(form);
            (of_form.map_or(0, |of_form| of_form.count), offset, of_form)
        });
        let Some((_, offset, of_form)) = counted.min_by_key(|(count, offset, _)| (*count, *offset))
        else {
            return false;
        };
        let Some(of_form) = of_form else {
            return false;
        };
        let mut at = of_form.last;
        while at != NOWHERE {
            let from = (at as usize).checked_sub(offset);
            let there = from.map(|from| (from, from + words.len()));
            let outside =
                there.filter(|(from, to)| *to <= excerpt.start() || *from >= excerpt.end());
            if outside.is_some_and(|(from, to)| source.get(from..to) == Some(words)) {
                return true;
            }
            at = self.previous.get(at as usize).copied().unwrap_or(NOWHERE);
        }
        false
    }
}

/// Share of the rewrite's words that lie in unique links. `source` is the whole source with its places, `excerpt` the
/// stretch of it with which the rewrite is aligned.
#[must_use]
pub(crate) fn unique_share(
    draft: &[FormId],
    alignment: &Alignment,
    (source, places): (&[FormId], &Places),
    excerpt: StreamRange,
    lexicon: &Lexicon,
) -> f64 {
    if draft.is_empty() {
        return 0.0;
    }
    let is_unique_word =
        |form: FormId| lexicon.is_content(form) && !places.is_outside(form, excerpt);
    let mut linked = 0;
    for tile in &alignment.tiles {
        let words = draft.get(tile.draft.as_range()).unwrap_or_default();
        let by_word = words.iter().any(|form| is_unique_word(*form));
        if by_word || !places.has_outside(words, source, excerpt) {
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn what_is_outside_is_found_as_by_looking_at_every_place(
            source in prop::collection::vec(0..4_u32, 0..30),
            words in prop::collection::vec(0..4_u32, 0..4),
            (from, to) in (0..31_usize, 0..31_usize),
        ) {
            let forms = |words: &[u32]| words.iter().map(|word| FormId(*word)).collect::<Vec<_>>();
            let (source, words) = (forms(&source), forms(&words));
            let end = from.max(to).min(source.len());
            let excerpt = StreamRange::of(from.min(to).min(end), end);
            let places = Places::of(&source);
            let outside = [&source[..excerpt.start()], &source[end..]];
            for word in &words {
                let there = outside.iter().any(|part| part.contains(word));
                prop_assert_eq!(places.is_outside(*word, excerpt), there);
            }
            let there = outside.iter().any(|part| part.windows(words.len().max(1)).any(|window| window == words));
            if !words.is_empty() {
                prop_assert_eq!(places.has_outside(&words, &source, excerpt), there);
            }
        }
    }
}
