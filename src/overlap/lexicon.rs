//! The lexicon: every distinct normal form of the library and the drafts as a small number.
//!
//! Comparing numbers is what makes the rest fast, and everything that depends on a word alone (its
//! stem, its class, how common it is) is looked up once a form instead of once a word.
//!
//! 1. Groups of documents are interned side by side, each into numbers of its own.
//! 2. The groups' forms are merged in order of the documents. A form's number is thus the order of
//!    its first appearance in the library, whatever the number of threads.
//! 3. Stems, classes and counts are worked out for the merged forms.

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use crate::text::MarkedText;
use crate::wording::{self, Senses};

/// A distinct normal form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FormId(pub(super) u32);

/// A distinct stem.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct StemId(pub(super) u32);

/// What a word does in a sentence, as far as telling wording apart needs it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum WordClass {
    /// Articles, prepositions, auxiliaries and the like: they say little about where wording comes from.
    Function,
    /// Everything else but numbers.
    Content,
    /// Numbers: they count as content, but are nobody's wording.
    Number,
}

/// Whether words add to the counts that tell how common a stem is in the review.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Counted {
    /// They do: sources and notes.
    Yes,
    /// They don't: drafts.
    No,
}

/// Words of general English that weigh as much as one word of the review when the two counts of a
/// stem are put together: Dirichlet prior smoothing (Zhai & Lafferty 2001, *SIGIR*; the size of the
/// prior is our own choice, about a long article).
const PRIOR_WORDS: f64 = 20_000.0;

/// All distinct forms and their stems.
#[derive(Debug, Default)]
pub struct Lexicon {
    ids: FxHashMap<Box<str>, FormId>,
    forms: Vec<Box<str>>,
    stem_of: Vec<StemId>,
    class_of: Vec<WordClass>,
    stem_ids: FxHashMap<Box<str>, StemId>,
    stems: Vec<Stem>,
    /// The weight of each stem, kept because it is asked for at every word.
    weights: Vec<f32>,
    words: u64,
}

#[derive(Debug)]
struct Stem {
    text: Box<str>,
    count: u32,
    per_million: f32,
    senses: Senses,
}

/// What one group of documents interned: local numbers, merged later.
#[derive(Default)]
struct Group {
    ids: FxHashMap<Box<str>, u32>,
    forms: Vec<Box<str>>,
    counts: Vec<u32>,
}

impl Group {
    fn intern(&mut self, text: &MarkedText) -> Vec<FormId> {
        let mut form = String::new();
        let mut intern_one = |word: &str| {
            form.clear();
            wording::push_normal_form(word, &mut form);
            let id = match self.ids.get(form.as_str()) {
                Some(id) => *id,
                None => {
                    // A lexicon of 2^32 distinct forms would need more text than ranges can name.
                    let id = u32::try_from(self.forms.len()).unwrap_or(u32::MAX);
                    self.ids.insert(form.as_str().into(), id);
                    self.forms.push(form.as_str().into());
                    self.counts.push(0);
                    id
                }
            };
            if let Some(count) = self.counts.get_mut(id as usize) {
                *count += 1;
            }
            FormId(id)
        };
        text.words
            .iter()
            .map(|word| intern_one(text.text.slice(*word)))
            .collect()
    }
}

/// Documents a group holds; small enough to keep every core busy, large enough to share most forms.
const GROUP_DOCUMENTS: usize = 16;

impl Lexicon {
    /// Interns all documents; returns their words as forms, one list a document, in order.
    ///
    /// Drafts are interned without being counted, so that what is found in one draft does not hang on
    /// which others were checked before it.
    pub fn intern_all(&mut self, documents: &[&MarkedText], counted: Counted) -> Vec<Vec<FormId>> {
        let groups: Vec<(Group, Vec<Vec<FormId>>)> = documents
            .par_chunks(GROUP_DOCUMENTS)
            .map(|chunk| {
                let mut group = Group::default();
                let words = chunk.iter().map(|text| group.intern(text)).collect();
                (group, words)
            })
            .collect();
        let known = self.forms.len();
        let maps: Vec<Vec<FormId>> = groups.iter().map(|(group, _)| self.merge(group)).collect();
        self.describe_from(known);
        if counted == Counted::Yes {
            for ((group, _), map) in groups.iter().zip(&maps) {
                self.count(group, map);
            }
        }
        self.weigh_all();
        groups
            .into_par_iter()
            .zip(maps)
            .flat_map_iter(|((_, documents), map)| {
                documents.into_iter().map(move |mut words| {
                    for word in &mut words {
                        // Proof: every local number indexes the map made from its own group.
                        *word = map[word.0 as usize];
                    }
                    words
                })
            })
            .collect()
    }

    fn merge(&mut self, group: &Group) -> Vec<FormId> {
        let mut merge_one = |form: &str| match self.ids.get(form) {
            Some(id) => *id,
            None => {
                let id = FormId(u32::try_from(self.forms.len()).unwrap_or(u32::MAX));
                self.ids.insert(form.into(), id);
                self.forms.push(form.into());
                id
            }
        };
        group.forms.iter().map(|form| merge_one(form)).collect()
    }

    /// Works out stem and class of every form from number `known` on.
    fn describe_from(&mut self, known: usize) {
        let new = self.forms.get(known..).unwrap_or_default();
        let described: Vec<(Box<str>, WordClass)> = new
            .par_iter()
            .map(|form| (Box::from(&*wording::stem(form)), class_of(form)))
            .collect();
        let first_new_stem = self.stems.len();
        for (stem, class) in described {
            let id = match self.stem_ids.get(&stem) {
                Some(id) => *id,
                None => {
                    let id = StemId(u32::try_from(self.stems.len()).unwrap_or(u32::MAX));
                    self.stem_ids.insert(stem.clone(), id);
                    self.stems.push(Stem {
                        text: stem,
                        count: 0,
                        per_million: 0.0,
                        senses: Senses::default(),
                    });
                    id
                }
            };
            self.stem_of.push(id);
            self.class_of.push(class);
        }
        let new_stems = self.stems.get_mut(first_new_stem..).unwrap_or_default();
        new_stems.par_iter_mut().for_each(|stem| {
            stem.per_million = wording::per_million(&stem.text);
            stem.senses = wording::senses(&stem.text);
        });
    }

    fn count(&mut self, group: &Group, map: &[FormId]) {
        for (id, count) in map.iter().zip(&group.counts) {
            let stem = self.stem(*id);
            if let Some(stem) = self.stems.get_mut(stem.0 as usize) {
                stem.count = stem.count.saturating_add(*count);
            }
            self.words += u64::from(*count);
        }
    }

    /// The number of a normal form, if any document or draft has it.
    #[must_use]
    pub fn find(&self, form: &str) -> Option<FormId> {
        self.ids.get(form).copied()
    }

    /// The normal form itself.
    #[must_use]
    pub fn form(&self, id: FormId) -> &str {
        self.forms.get(id.0 as usize).map_or("", |form| form)
    }

    /// The stem of a form.
    #[must_use]
    pub fn stem(&self, id: FormId) -> StemId {
        self.stem_of
            .get(id.0 as usize)
            .copied()
            .unwrap_or(StemId(u32::MAX))
    }

    /// The senses of a stem, for telling synonyms.
    #[must_use]
    pub fn senses(&self, id: StemId) -> Senses {
        self.stems
            .get(id.0 as usize)
            .map_or(Senses::default(), |stem| stem.senses)
    }

    /// The class of a form.
    #[must_use]
    pub fn class(&self, id: FormId) -> WordClass {
        self.class_of
            .get(id.0 as usize)
            .copied()
            .unwrap_or(WordClass::Function)
    }

    /// Whether the form is a content word or a number.
    #[must_use]
    pub fn is_content(&self, id: FormId) -> bool {
        self.class(id) != WordClass::Function
    }

    /// How many distinct stems there are.
    #[must_use]
    pub fn stem_count(&self) -> usize {
        self.stems.len()
    }

    /// How telling a stem is: the negative natural logarithm of its share of all words, the review's
    /// own count smoothed by general English. About 5 for a word that stands in every paragraph,
    /// 13 for one met once in a long book.
    #[must_use]
    pub fn weight(&self, id: StemId) -> f32 {
        self.weights.get(id.0 as usize).copied().unwrap_or(0.0)
    }

    fn weigh_all(&mut self) {
        let words = self.words as f64;
        let weight = |stem: &Stem| {
            let general = f64::from(stem.per_million).max(0.01) / 1e6;
            let share = (f64::from(stem.count) + PRIOR_WORDS * general) / (words + PRIOR_WORDS);
            // In steps of 1/256, so that sums are exact in any order.
            ((-share.ln()).max(0.0) * 256.0).round() as f32 / 256.0
        };
        self.weights = self.stems.par_iter().map(weight).collect();
    }
}

fn class_of(form: &str) -> WordClass {
    if wording::is_function_word(form) {
        WordClass::Function
    } else if wording::is_number(form) {
        WordClass::Number
    } else {
        WordClass::Content
    }
}
