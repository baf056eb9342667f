//! Single counterparts of the content words outside the tiles.
//!
//! In short stretches each free word is compared with each; in long ones, where that would cost the square of their length, the
//! words that may correspond are looked up by what makes them correspond. Both find the same.

use std::borrow::Borrow;

use rustc_hash::FxHashMap;

use super::{Single, Work};
use crate::overlap::lexicon::FormId;
use crate::overlap::scale::Counterpart;
use crate::wording::{self, MisspellingIndex, Nearness};

/// Words between a counterpart one step away in meaning and its expected position.
const HOP_REACH: usize = 4;

/// Words between any counterpart and its expected position: so many for each word of the rewrite, and so many
/// besides. A book has every common word somewhere; a word a chapter away is not a model for this one.
const REACH_PER_WORD: usize = 2;
const REACH: usize = 40;

/// Free words of the source up to which each is compared: about where looking words up costs as much.
pub(super) const FEW_WORDS: usize = 300;

impl Work<'_> {
    pub(super) fn pair_singles(&mut self) {
        let lexicon = self.lexicon;
        self.pair_by(Counterpart::Form, |form| form.0);
        self.pair_by(Counterpart::Stem, |form| lexicon.stem(form).0);
        self.pair_misspellings();
        self.pair_synonyms();
    }

    /// Pairs free content words that have the same `value`.
    fn pair_by(&mut self, by: Counterpart, value: impl Fn(FormId) -> u32) {
        let places = self.places_by(|form| [value(form)]);
        let mut expected = Expected::default();
        for draft in self.free_draft() {
            let candidates = places.get(&value(self.draft[draft]));
            self.pair(draft, &mut expected, candidates, by);
        }
    }

    fn pair_misspellings(&mut self) {
        let (lexicon, by) = (self.lexicon, Counterpart::Misspelling);
        let near = |a: FormId, b: FormId| wording::is_misspelling(lexicon.form(a), lexicon.form(b));
        if self.source.len() <= self.few_words {
            return self.pair_near(by, self.reach(), near);
        }
        let places = self.places_by(|form| [form.0]);
        let mut forms: Vec<FormId> = places.keys().map(|form| FormId(*form)).collect();
        forms.sort_unstable();
        let words: Vec<&str> = forms.iter().map(|form| lexicon.form(*form)).collect();
        let index = MisspellingIndex::of(&words);
        let mut known: FxHashMap<FormId, Vec<&Vec<usize>>> = FxHashMap::default();
        let mut expected = Expected::default();
        for draft in self.free_draft() {
            let form = self.draft[draft];
            let candidates = known.entry(form).or_insert_with(|| {
                let may = index.like(lexicon.form(form)).into_iter();
                let like = may.filter_map(|number| forms.get(number as usize));
                like.filter(|other| near(form, **other))
                    .filter_map(|other| places.get(&other.0))
                    .collect()
            });
            self.pair(draft, &mut expected, candidates.iter().copied(), by);
        }
    }

    fn pair_synonyms(&mut self) {
        let (lexicon, by) = (self.lexicon, Counterpart::Synonym);
        let senses = |form: FormId| lexicon.senses(lexicon.stem(form));
        let nearness = |a: FormId, b: FormId| senses(a).nearness(&senses(b));
        if self.source.len() <= self.few_words {
            let same = |a, b| nearness(a, b) == Some(Nearness::SameSense);
            self.pair_near(by, self.reach(), same);
        } else {
            let places = self.places_by(|form| senses(form).ids());
            let mut expected = Expected::default();
            for draft in self.free_draft() {
                let own = senses(self.draft[draft]).ids();
                let candidates = own.filter_map(|sense| places.get(&sense));
                self.pair(draft, &mut expected, candidates, by);
            }
        }
        // A word one step away counts only near its expected position.
        self.pair_near(by, HOP_REACH, |a, b| nearness(a, b).is_some());
    }

    /// The free content words of the source, in order, by each of the values of a word.
    fn places_by<V: IntoIterator<Item = u32>>(
        &self,
        values: impl Fn(FormId) -> V,
    ) -> FxHashMap<u32, Vec<usize>> {
        let mut places: FxHashMap<u32, Vec<usize>> = FxHashMap::default();
        for source in self.free_source() {
            for value in values(self.source[source]) {
                places.entry(value).or_default().push(source);
            }
        }
        places
    }

    /// Pairs free content words for which `near` holds and whose counterpart is at most `reach` words from
    /// its expected position.
    fn pair_near(&mut self, by: Counterpart, reach: usize, near: impl Fn(FormId, FormId) -> bool) {
        let free = self.free_source();
        let mut expected = Expected::default();
        for draft in self.free_draft() {
            let form = self.draft[draft];
            let place = expected.at(draft, &self.answer);
            let from = free.partition_point(|source| source + reach < place);
            let to = free.partition_point(|source| *source <= place + reach);
            let within = free.get(from..to).unwrap_or_default().iter().copied();
            let candidates: Vec<usize> = within
                .filter(|source| near(form, self.source[*source]))
                .collect();
            self.pair(draft, &mut expected, [candidates], by);
        }
    }

    /// Gives a word of the rewrite the free candidate nearest to the position that the counterparts of its
    /// neighbours suggest, of two equally near the first. Each list of candidates is in order.
    fn pair<L: Borrow<Vec<usize>>>(
        &mut self,
        draft: usize,
        expected: &mut Expected,
        candidates: impl IntoIterator<Item = L>,
        by: Counterpart,
    ) {
        let (expected, reach) = (expected.at(draft, &self.answer), self.reach());
        let nearest = candidates
            .into_iter()
            .filter_map(|list| self.nearest(list.borrow(), expected, reach));
        let best = nearest.min_by_key(|source| (source.abs_diff(expected), *source));
        if let Some(source) = best {
            self.answer[draft] = Some(source);
            self.used[source] = true;
            self.alignment.singles.push(Single { draft, source, by });
        }
    }

    /// The place of a list that is nearest to the expected one and free, within reach.
    fn nearest(&self, places: &[usize], expected: usize, reach: usize) -> Option<usize> {
        let behind = places.partition_point(|source| *source < expected);
        let free = |source: &&usize| !self.used[**source];
        let before = places.get(..behind)?.iter().rev();
        let after = places.get(behind..)?.iter();
        let mut after = after.take_while(|source| *source - expected <= reach);
        let after = after.find(free).copied();
        // What is farther than the one behind is not looked at.
        let reach = after.map_or(reach, |after| after - expected);
        let mut before = before.take_while(|source| expected - *source <= reach);
        before.find(free).copied().or(after)
    }

    /// How far a counterpart may be from its expected position.
    fn reach(&self) -> usize {
        REACH_PER_WORD * self.draft.len() + REACH
    }
}

/// Where the counterpart of a word would be if it kept its distance from the last paired word before it,
/// or else from the first paired word after it. Asked of words in order, while none before the last asked gets a counterpart.
#[derive(Default)]
struct Expected {
    /// Words of the rewrite that were looked at.
    seen: usize,
    /// The last paired one of them.
    before: Option<(usize, usize)>,
    /// The first paired word of all, as long as there is none before; `None` until it was looked for.
    behind: Option<Option<(usize, usize)>>,
}

impl Expected {
    fn at(&mut self, draft: usize, answer: &[Option<usize>]) -> usize {
        while self.seen < draft {
            if let Some(Some(source)) = answer.get(self.seen) {
                self.before = Some((self.seen, *source));
            }
            self.seen += 1;
        }
        if let Some((at, source)) = self.before {
            return source + (draft - at);
        }
        let first = || {
            let paired = answer.iter().enumerate();
            paired
                .skip(draft + 1)
                .find_map(|(at, answer)| Some((at, (*answer)?)))
        };
        let behind = *self.behind.get_or_insert_with(first);
        behind.map_or(draft, |(at, source)| source.saturating_sub(at - draft))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::{Alignment, Work};
    use crate::overlap::lexicon::{Counted, Lexicon};
    use crate::text::{MarkedText, Text};

    /// Words with inflected forms, synonyms and misspellings of one another, and a function word.
    const WORDS: &[&str] = &[
        "lamp",
        "lamps",
        "light",
        "lights",
        "lightning",
        "house",
        "home",
        "dwelling",
        "begin",
        "start",
        "commenced",
        "recieve",
        "receive",
        "receiving",
        "government",
        "goverment",
        "the",
        "rnoths",
        "moths",
        "quick",
        "fast",
        "zorb",
    ];

    fn aligned(texts: &[Vec<&str>; 2], few_words: usize) -> Alignment {
        let texts = texts
            .clone()
            .map(|words| MarkedText::source(Text::paragraph(&words.join(" "))));
        let mut lexicon = Lexicon::default();
        let forms = lexicon.intern_all(&[&texts[0], &texts[1]], Counted::Yes);
        let mut work = Work::new(&forms[1], &forms[0], &lexicon);
        work.few_words = few_words;
        work.lay_tiles();
        work.pair_singles();
        work.alignment
    }

    proptest! {
        #[test]
        fn words_that_are_looked_up_are_those_found_by_comparing_each(
            source in prop::collection::vec(prop::sample::select(WORDS), 0..60),
            rewrite in prop::collection::vec(prop::sample::select(WORDS), 0..40),
        ) {
            let texts = [source, rewrite];
            prop_assert_eq!(aligned(&texts, 0), aligned(&texts, usize::MAX));
        }
    }
}
