//! The lexicon: every distinct normal form of the library and of a draft as a small number.
//!
//! Comparing numbers makes the rest fast. Whatever depends on a word alone (its stem, its class, how common
//! it is) is looked up once for each form instead of once for each word.
//!
//! 1. Batches of documents are interned in parallel, each into numbers of its own.
//! 2. The batches' forms are merged in order of the documents. A form's number is thus the order of its first
//!    appearance in the library, whatever the number of threads.
//! 3. Stems, classes and counts are worked out for the merged forms.
//!
//! A library's lexicon is never changed once it is made. A draft has a lexicon of its own
//! [`above`](Lexicon::above) it: a form that the library has keeps its number, and forms that only the draft
//! has are numbered from there on. So many drafts can be laid on one library at the same time, and none of
//! them changes it.

use std::sync::Arc;

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

/// What a word does in a sentence, as far as the comparison of wording needs it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum WordClass {
    /// Articles, prepositions, auxiliaries and the like: they say little about where wording comes from.
    Function,
    /// Everything else except numbers.
    Content,
    /// Numbers: they count as content, but belong to nobody's wording.
    Number,
}

/// Whether words add to the counts that show how common a stem is in the review.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Counted {
    /// They do: sources.
    Yes,
    /// They don't: notes and drafts.
    No,
}

/// Words of general English that weigh as much as one word of the review when the two counts of a
/// stem are put together: Dirichlet prior smoothing (Zhai & Lafferty 2001, *SIGIR*; the size of the
/// prior is our own choice, about a long article).
const PRIOR_WORDS: f64 = 20_000.0;

/// All distinct forms and their stems.
#[derive(Debug, Default)]
pub struct Lexicon {
    /// The lexicon below this one, whose numbers come first.
    below: Option<Arc<Lexicon>>,
    /// How many forms and stems the lexicon below has.
    forms_below: u32,
    stems_below: u32,
    ids: FxHashMap<Box<str>, FormId>,
    forms: Vec<Box<str>>,
    stem_of: Vec<StemId>,
    class_of: Vec<WordClass>,
    stem_ids: FxHashMap<Box<str>, StemId>,
    stems: Vec<Stem>,
    /// The weight of each stem, kept because every word needs it.
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

/// What one batch of documents interned: local numbers, merged later.
#[derive(Default)]
struct Batch {
    ids: FxHashMap<Box<str>, u32>,
    forms: Vec<Box<str>>,
    counts: Vec<u32>,
}

impl Batch {
    fn intern(&mut self, text: &MarkedText) -> Vec<FormId> {
        let mut form = String::new();
        let mut intern_one = |word: &str| {
            form.clear();
            wording::push_normal_form(word, &mut form);
            let id = match self.ids.get(form.as_str()) {
                Some(id) => *id,
                None => {
                    // A lexicon of 2^32 distinct forms would need more text than a range can address.
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

/// Documents in a batch: few enough to keep every core busy, enough to share most forms.
const BATCH_DOCUMENTS: usize = 16;

impl Lexicon {
    /// An empty lexicon above another, whose numbers and weights stay the same.
    #[must_use]
    pub fn above(below: &Arc<Self>) -> Self {
        Self {
            forms_below: below.form_count(),
            stems_below: below.stem_count(),
            words: below.words,
            below: Some(Arc::clone(below)),
            ..Self::default()
        }
    }

    /// Interns all documents and returns their words as forms, one list for each document, in order.
    ///
    /// Drafts are interned without being counted, so that what is found in one draft does not depend on which
    /// others are checked with it.
    pub fn intern_all(&mut self, documents: &[&MarkedText], counted: Counted) -> Vec<Vec<FormId>> {
        let batches: Vec<(Batch, Vec<Vec<FormId>>)> = documents
            .par_chunks(BATCH_DOCUMENTS)
            .map(|chunk| {
                let mut batch = Batch::default();
                let words = chunk.iter().map(|text| batch.intern(text)).collect();
                (batch, words)
            })
            .collect();
        let described = self.forms.len();
        let maps: Vec<Vec<FormId>> = batches.iter().map(|(batch, _)| self.merge(batch)).collect();
        self.describe_from(described);
        if counted == Counted::Yes {
            for ((batch, _), map) in batches.iter().zip(&maps) {
                self.count(batch, map);
            }
        }
        self.weigh_all();
        batches
            .into_par_iter()
            .zip(maps)
            .flat_map_iter(|((_, documents), map)| {
                documents.into_iter().map(move |mut words| {
                    for word in &mut words {
                        // Proof: every local number indexes the map made from its own batch.
                        *word = map[word.0 as usize];
                    }
                    words
                })
            })
            .collect()
    }

    fn merge(&mut self, batch: &Batch) -> Vec<FormId> {
        let mut merge_one = |form: &str| {
            if let Some(id) = self.find(form) {
                return id;
            }
            let id = FormId(self.form_count());
            self.ids.insert(form.into(), id);
            self.forms.push(form.into());
            id
        };
        batch.forms.iter().map(|form| merge_one(form)).collect()
    }

    /// Works out the stem and class of every own form, starting with the one at `from`.
    fn describe_from(&mut self, from: usize) {
        let new = self.forms.get(from..).unwrap_or_default();
        let described: Vec<(Box<str>, WordClass)> = new
            .par_iter()
            .map(|form| (Box::from(&*wording::stem(form)), class_of(form)))
            .collect();
        let first_new_stem = self.stems.len();
        for (stem, class) in described {
            let id = match self.find_stem(&stem) {
                Some(id) => id,
                None => {
                    let id = StemId(self.stem_count());
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

    fn count(&mut self, batch: &Batch, map: &[FormId]) {
        for (id, count) in map.iter().zip(&batch.counts) {
            let own = self.stem(*id).0.checked_sub(self.stems_below);
            if let Some(stem) = own.and_then(|own| self.stems.get_mut(own as usize)) {
                stem.count = stem.count.saturating_add(*count);
            }
            self.words += u64::from(*count);
        }
    }

    /// How many distinct forms there are, those below included. 2^32 of them would need more text than a
    /// range can address.
    fn form_count(&self) -> u32 {
        self.forms_below + u32::try_from(self.forms.len()).unwrap_or(u32::MAX)
    }

    /// How many distinct stems there are, those below included.
    #[must_use]
    pub fn stem_count(&self) -> u32 {
        self.stems_below + u32::try_from(self.stems.len()).unwrap_or(u32::MAX)
    }

    /// The number of a normal form, if the library or the draft has it.
    #[must_use]
    pub fn find(&self, form: &str) -> Option<FormId> {
        let below = self.below.as_ref().and_then(|below| below.find(form));
        below.or_else(|| self.ids.get(form).copied())
    }

    fn find_stem(&self, stem: &str) -> Option<StemId> {
        let below = self.below.as_ref().and_then(|below| below.find_stem(stem));
        below.or_else(|| self.stem_ids.get(stem).copied())
    }

    /// The lexicon that has a form, and its place there.
    #[inline]
    fn of_form(&self, id: FormId) -> (&Self, usize) {
        match (&self.below, id.0.checked_sub(self.forms_below)) {
            (Some(below), None) => (below, id.0 as usize),
            (_, own) => (self, own.unwrap_or(u32::MAX) as usize),
        }
    }

    /// The lexicon that has a stem, and its place there.
    #[inline]
    fn of_stem(&self, id: StemId) -> (&Self, usize) {
        match (&self.below, id.0.checked_sub(self.stems_below)) {
            (Some(below), None) => (below, id.0 as usize),
            (_, own) => (self, own.unwrap_or(u32::MAX) as usize),
        }
    }

    /// The normal form itself.
    #[must_use]
    pub fn form(&self, id: FormId) -> &str {
        let (lexicon, at) = self.of_form(id);
        lexicon.forms.get(at).map_or("", |form| form)
    }

    /// The stem of a form.
    #[must_use]
    #[inline]
    pub fn stem(&self, id: FormId) -> StemId {
        let (lexicon, at) = self.of_form(id);
        let stem = lexicon.stem_of.get(at).copied();
        stem.unwrap_or(StemId(u32::MAX))
    }

    /// The senses of a stem, for recognising synonyms.
    #[must_use]
    #[inline]
    pub fn senses(&self, id: StemId) -> Senses {
        let (lexicon, at) = self.of_stem(id);
        let stem = lexicon.stems.get(at);
        stem.map_or(Senses::default(), |stem| stem.senses)
    }

    /// The class of a form.
    #[must_use]
    #[inline]
    pub fn class(&self, id: FormId) -> WordClass {
        let (lexicon, at) = self.of_form(id);
        let class = lexicon.class_of.get(at).copied();
        class.unwrap_or(WordClass::Function)
    }

    /// Whether the form is a content word or a number.
    #[must_use]
    #[inline]
    pub fn is_content(&self, id: FormId) -> bool {
        self.class(id) != WordClass::Function
    }

    /// How telling a stem is: the negative natural logarithm of its share of all words, the review's
    /// own count smoothed by general English. About 5 for a word that stands in every paragraph,
    /// 13 for one met once in a long book.
    #[must_use]
    #[inline]
    pub fn weight(&self, id: StemId) -> f32 {
        let (lexicon, at) = self.of_stem(id);
        lexicon.weights.get(at).copied().unwrap_or(0.0)
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
