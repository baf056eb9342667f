//! The library: all documents a draft is compared with, as streams over one lexicon.

use rayon::prelude::*;

use super::candidates::{Candidate, MOST_CANDIDATES, SentenceIndex, keep_best};
use super::lexicon::{Counted, FormId, Lexicon};
use super::likeness::Stretch;
use super::profile::Profile;
use super::stream::{Compared, Stream};
use super::strings::{Run, StringIndex};
use crate::text::{ByteRange, MarkedText, QuotationForm, WordRange};

/// A document of the library: a text, or a stretch of one (a part of an entry in a file of notes).
#[derive(Debug, Clone)]
pub struct Document<'a> {
    /// The text it is a stretch of.
    pub text: &'a MarkedText,
    /// Its compared words.
    pub stream: Stream,
}

/// All documents and their lexicon.
#[derive(Debug)]
pub struct Library<'a> {
    /// Every form and stem of the documents, and of the drafts compared so far.
    pub lexicon: Lexicon,
    /// The documents in the order given.
    pub documents: Vec<Document<'a>>,
}

impl<'a> Library<'a> {
    /// A library of texts, each with the stretches that are documents of their own. How much a word tells is counted in
    /// the first `sources` of them: notes repeat the sources' words and the draft's, which makes these no commoner.
    #[must_use]
    pub fn new(texts: &[(&'a MarkedText, Vec<ByteRange>)], sources: usize) -> Self {
        let mut lexicon = Lexicon::default();
        let marked: Vec<&MarkedText> = texts.iter().map(|(text, _)| *text).collect();
        let (counted, others) = marked.split_at(sources.min(marked.len()));
        let mut forms = lexicon.intern_all(counted, Counted::Yes);
        forms.extend(lexicon.intern_all(others, Counted::No));
        let documents = texts
            .par_iter()
            .zip(forms)
            .flat_map_iter(|((text, stretches), forms)| {
                stretches.iter().map(move |within| Document {
                    text,
                    stream: Stream::new(text, &forms, *within, Compared::AllText),
                })
            })
            .collect();
        Self { lexicon, documents }
    }
}

/// A draft as it is compared.
#[derive(Debug)]
pub struct Draft<'a> {
    /// The text.
    pub text: &'a MarkedText,
    /// Its running prose.
    pub stream: Stream,
    /// For each word of the stream, whether it stands in a marked quotation.
    pub quoted: Vec<bool>,
    /// For each word of the stream, whether it belongs to a fixed expression and so tells nothing.
    pub fixed: Vec<bool>,
    /// For each sentence of the stream, the telling words outside quotations and fixed expressions.
    pub profiles: Vec<Profile>,
}

/// Everything that a draft and the library have in common, before it is weighed.
#[derive(Debug, Default)]
pub struct Overlap {
    /// Shared strings by document, each list in order of the draft.
    pub runs: Vec<Vec<Run>>,
    /// The best candidates of each sentence of the draft, best first.
    pub candidates: Vec<Vec<Candidate>>,
}

impl<'a> Draft<'a> {
    /// Prepares a draft. Marked strings of fewer than `quotation_words` words are terms or scare
    /// quotes and count as the writer's own.
    #[must_use]
    pub fn new(text: &'a MarkedText, library: &mut Library<'_>, quotation_words: usize) -> Self {
        let forms = library
            .lexicon
            .intern_all(&[text], Counted::No)
            .pop()
            .unwrap_or_default();
        Self::of_forms(text, &forms, &library.lexicon, quotation_words)
    }

    /// Prepares many texts at once, in their order.
    #[must_use]
    pub fn many(
        texts: &'a [MarkedText],
        library: &mut Library<'_>,
        quotation_words: usize,
    ) -> Vec<Self> {
        let all: Vec<&MarkedText> = texts.iter().collect();
        let forms = library.lexicon.intern_all(&all, Counted::No);
        let lexicon = &library.lexicon;
        texts
            .par_iter()
            .zip(forms)
            .map(|(text, forms)| Self::of_forms(text, &forms, lexicon, quotation_words))
            .collect()
    }

    /// The same text as one unit, its sentences not told apart.
    #[must_use]
    pub fn as_one(mut self, lexicon: &Lexicon) -> Self {
        let whole = WordRange::of(0, self.stream.len());
        self.stream.sentences = vec![whole];
        self.stream.blocks.truncate(1);
        self.profiles = self.sentence_profiles(lexicon);
        self
    }

    fn of_forms(
        text: &'a MarkedText,
        forms: &[FormId],
        lexicon: &Lexicon,
        quotation_words: usize,
    ) -> Self {
        let whole = ByteRange::of(0, text.text.content().len());
        let stream = Stream::new(text, forms, whole, Compared::Prose);
        let mut quoted = vec![false; stream.len()];
        for quotation in text
            .quotations
            .iter()
            .filter(|quotation| quotation.depth == 0)
        {
            let words = stream.within(text, quotation.inner);
            if quotation.form == QuotationForm::Block || words.len() >= quotation_words {
                quoted[words.as_range()].fill(true);
            }
        }
        let mut draft = Self {
            text,
            fixed: vec![false; stream.len()],
            stream,
            quoted,
            profiles: Vec::new(),
        };
        draft.profiles = draft.sentence_profiles(lexicon);
        draft
    }

    /// Marks words as parts of fixed expressions; they count as wording but not as evidence.
    pub fn fix(&mut self, fixed: Vec<bool>, lexicon: &Lexicon) {
        self.fixed = fixed;
        self.fixed.resize(self.stream.len(), false);
        self.profiles = self.sentence_profiles(lexicon);
    }

    fn sentence_profiles(&self, lexicon: &Lexicon) -> Vec<Profile> {
        self.stream
            .sentences
            .iter()
            .map(|words| self.profile(*words, lexicon))
            .collect()
    }

    /// A stretch without quotations, ready to be compared; fixed expressions count for nothing.
    #[must_use]
    pub fn stretch(&self, words: WordRange, lexicon: &Lexicon) -> Stretch {
        let own: Vec<usize> = words.as_range().filter(|at| !self.quoted[*at]).collect();
        let forms: Vec<_> = own.iter().map(|at| self.stream.forms[*at]).collect();
        Stretch::new(&forms, |at| self.fixed[own[at]], lexicon)
    }

    /// The telling words of a stretch, without quotations and fixed expressions.
    #[must_use]
    pub fn profile(&self, words: WordRange, lexicon: &Lexicon) -> Profile {
        let telling = words
            .as_range()
            .filter(|at| !self.quoted[*at] && !self.fixed[*at]);
        Profile::of(telling.map(|at| self.stream.forms[at]), lexicon)
    }
}

impl Library<'_> {
    /// Finds all shared strings of `seed` words and more and all candidates.
    #[must_use]
    pub fn overlap(&self, draft: &Draft<'_>, seed: usize) -> Overlap {
        let strings = StringIndex::new(&draft.stream.forms, seed);
        let sentences = SentenceIndex::of_draft(&draft.profiles, &self.lexicon);
        let found: Vec<_> = self
            .documents
            .par_iter()
            .enumerate()
            .map(|(number, document)| {
                let runs = strings.shared_runs(&document.stream.forms);
                let candidates = sentences.candidates(number, &document.stream, &self.lexicon);
                (runs, candidates)
            })
            .collect();
        let mut overlap = Overlap {
            runs: Vec::with_capacity(found.len()),
            candidates: vec![Vec::new(); draft.profiles.len()],
        };
        for (runs, candidates) in found {
            overlap.runs.push(runs);
            for (sentence, of_document) in candidates {
                for candidate in of_document {
                    keep_best(
                        &mut overlap.candidates[sentence],
                        candidate,
                        MOST_CANDIDATES,
                    );
                }
            }
        }
        overlap
    }
}
