//! The library: all documents that a draft is compared with, as streams over one lexicon. It is made once and
//! never changed; any number of drafts can be laid on it at the same time.

use std::sync::{Arc, OnceLock};

use rayon::prelude::*;

use super::lexicon::{Counted, FormId, Lexicon};
use super::likeness::WeighedWords;
use super::positions::StreamRange;
use super::profile::Profile;
use super::stream::{Compared, Stream};
use super::unique::Places;
use crate::text::{ByteRange, MarkedText, QuotationForm};

/// A document of the library: a text, or a stretch of one (a part of an entry in a file of notes).
#[derive(Debug, Clone)]
pub(crate) struct Document {
    /// The text it is a stretch of.
    pub text: Arc<MarkedText>,
    /// Its compared words.
    pub stream: Stream,
    /// How many of these stand in front of its wording: its title and the names of its authors. Who rewords them only says
    /// what work is spoken of.
    pub head: usize,
    places: OnceLock<Places>,
}

impl Document {
    /// Says at which byte of the text the wording begins.
    pub(crate) fn begin_wording(&mut self, at: usize) {
        self.head = self.stream.within(&self.text, ByteRange::of(0, at)).len();
    }

    /// Where each of its words stands; made when it is first asked for.
    pub(super) fn places(&self) -> &Places {
        self.places.get_or_init(|| Places::of(&self.stream.forms))
    }
}

/// All documents and their lexicon.
#[derive(Debug)]
pub(crate) struct Library {
    /// Every form and stem of the documents.
    pub lexicon: Arc<Lexicon>,
    /// The documents in the order given.
    pub documents: Vec<Document>,
}

impl Library {
    /// A library of texts, each with those of its stretches that are documents of their own. How telling a
    /// word is depends on its count in the first `sources` texts alone: notes repeat words of the sources and
    /// of the draft, which makes these words no commoner.
    #[must_use]
    pub(crate) fn new(texts: &[(Arc<MarkedText>, Vec<ByteRange>)], sources: usize) -> Self {
        let mut lexicon = Lexicon::default();
        let marked: Vec<&MarkedText> = texts.iter().map(|(text, _)| &**text).collect();
        let (counted, others) = marked.split_at(sources.min(marked.len()));
        let mut forms = lexicon.intern_all(counted, Counted::Yes);
        forms.extend(lexicon.intern_all(others, Counted::No));
        let documents = texts
            .par_iter()
            .zip(forms)
            .flat_map_iter(|((text, stretches), forms)| {
                stretches.iter().map(move |within| Document {
                    text: Arc::clone(text),
                    stream: Stream::new(text, &forms, *within, Compared::AllText),
                    head: 0,
                    places: OnceLock::new(),
                })
            })
            .collect();
        Self {
            lexicon: Arc::new(lexicon),
            documents,
        }
    }

    /// A library of whole texts, all of which are counted.
    #[must_use]
    pub(crate) fn of_whole(texts: &[Arc<MarkedText>]) -> Self {
        let whole = |text: &Arc<MarkedText>| {
            let all = ByteRange::of(0, text.text.content().len());
            (Arc::clone(text), vec![all])
        };
        let texts: Vec<_> = texts.iter().map(whole).collect();
        Self::new(&texts, texts.len())
    }
}

/// A draft as it is compared.
#[derive(Debug)]
pub(crate) struct Draft {
    /// The text.
    pub text: Arc<MarkedText>,
    /// The library's lexicon with the draft's own words above it.
    pub lexicon: Lexicon,
    /// Its running prose.
    pub stream: Stream,
    /// For each word of the stream, whether it stands in a marked quotation.
    pub quoted: Vec<bool>,
    /// For each word of the stream, whether it belongs to a fixed expression and is therefore no evidence.
    pub fixed: Vec<bool>,
    /// For each word of the stream, whether it only names the authors of a cited work.
    named: Vec<bool>,
    profiles: OnceLock<Vec<Profile>>,
}

impl Draft {
    /// Prepares a draft. Marked strings of fewer than `quotation_words` words are terms or scare
    /// quotes and count as the writer's own.
    #[must_use]
    pub(crate) fn new(text: &Arc<MarkedText>, library: &Library, quotation_words: usize) -> Self {
        let mut lexicon = Lexicon::above(&library.lexicon);
        let mut forms = lexicon.intern_all(&[text], Counted::No);
        let forms: Vec<FormId> = forms.pop().unwrap_or_default();
        let whole = ByteRange::of(0, text.text.content().len());
        let stream = Stream::new(text, &forms, whole, Compared::Prose);
        let quoted = quoted_words(text, &stream, quotation_words);
        Self {
            text: Arc::clone(text),
            lexicon,
            fixed: vec![false; stream.len()],
            named: vec![false; stream.len()],
            stream,
            quoted,
            profiles: OnceLock::new(),
        }
    }

    /// The same text as one unit, not divided into sentences.
    #[must_use]
    pub(crate) fn into_one(mut self) -> Self {
        let whole = StreamRange::of(0, self.stream.len());
        self.stream.sentences = vec![whole];
        self.stream.blocks.truncate(1);
        self.profiles = OnceLock::new();
        self
    }

    /// For each sentence of the stream, the telling words outside quotations and fixed expressions.
    #[must_use]
    pub(crate) fn profiles(&self) -> &[Profile] {
        if let Some(profiles) = self.profiles.get() {
            return profiles;
        }
        // Outside of the lock: threads that wait for it could otherwise be those that the work needs.
        let sentences = self.stream.sentences.par_iter();
        let profiles = sentences.map(|words| self.profile(*words)).collect();
        self.profiles.get_or_init(|| profiles)
    }

    /// Marks words as parts of fixed expressions; they count as wording but not as evidence.
    pub(crate) fn fix(&mut self, fixed: Vec<bool>) {
        self.fixed = fixed;
        self.fixed.resize(self.stream.len(), false);
        self.profiles = OnceLock::new();
    }

    /// Sets aside words that name the authors of a cited work, so that they are not taken for wording of a source that has
    /// its authors' names on its first page.
    pub(crate) fn set_names_aside(&mut self, names: &[usize]) {
        for at in names {
            if let Some(named) = self.named.get_mut(*at) {
                *named = true;
            }
        }
        self.profiles = OnceLock::new();
    }

    /// Whether a word is compared as the writer's wording: it stands in no marked quotation and doesn't name the authors of
    /// a cited work.
    #[must_use]
    pub(crate) fn is_own(&self, at: usize) -> bool {
        let is_set = |words: &[bool]| words.get(at).copied().unwrap_or(false);
        !is_set(&self.quoted) && !is_set(&self.named)
    }

    /// A stretch without quotations, ready to be compared; fixed expressions count for nothing.
    #[must_use]
    pub(crate) fn stretch(&self, words: StreamRange) -> WeighedWords {
        let own: Vec<usize> = words.as_range().filter(|at| self.is_own(*at)).collect();
        let forms: Vec<_> = own.iter().map(|at| self.stream.forms[*at]).collect();
        WeighedWords::new(&forms, |at| self.fixed[own[at]], &self.lexicon)
    }

    /// The telling words of a stretch, without quotations and fixed expressions.
    #[must_use]
    pub(crate) fn profile(&self, words: StreamRange) -> Profile {
        let telling = words
            .as_range()
            .filter(|at| self.is_own(*at) && !self.fixed[*at]);
        Profile::of(telling.map(|at| self.stream.forms[at]), &self.lexicon)
    }
}

/// For each word of a stream, whether it stands in a marked quotation of at least `quotation_words` words.
fn quoted_words(text: &MarkedText, stream: &Stream, quotation_words: usize) -> Vec<bool> {
    let mut quoted = vec![false; stream.len()];
    let outer = text.quotations.iter().filter(|one| one.depth == 0);
    for quotation in outer {
        let words = stream.within(text, quotation.inner);
        if quotation.form == QuotationForm::Block || words.len() >= quotation_words {
            quoted[words.as_range()].fill(true);
        }
    }
    quoted
}
