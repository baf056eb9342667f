//! A Text with everything marked that later stages need.

use super::{ByteRange, Citation, Quotation, Sentence, Text, WordRange};
use super::{citations, quotations, sentences, words};

/// A Text, its words, sentences, quotations and citations.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MarkedText {
    /// The document as read.
    pub text: Text,
    /// Its words in order; page marks and code hold none.
    pub words: Vec<ByteRange>,
    /// Its sentences in order; they never cross a block.
    pub sentences: Vec<Sentence>,
    /// Its quotations in order of their start, outer before inner.
    pub quotations: Vec<Quotation>,
    /// Its citations in order.
    pub citations: Vec<Citation>,
}

/// Whether a form as written is a word of the language, for hyphens at line ends.
fn is_word(written: &str) -> bool {
    crate::wording::is_word(&crate::wording::normal_form(written))
}

impl MarkedText {
    /// Marks a Text in full.
    #[must_use]
    pub fn new(text: Text) -> Self {
        let words = words::words_with(&text, is_word);
        let sentences = sentences::sentences(&text, &words);
        let quotations = quotations::quotations(&text);
        let citations = citations::citations(&text);
        Self {
            text,
            words,
            sentences,
            quotations,
            citations,
        }
    }

    /// Marks what a comparison needs of a source: everything but its quotations, since whose words a
    /// source quotes makes no difference to whether a draft copies them.
    #[must_use]
    pub fn source(text: Text) -> Self {
        let words = words::words_with(&text, is_word);
        let sentences = sentences::sentences(&text, &words);
        let citations = citations::citations(&text);
        Self {
            text,
            words,
            sentences,
            quotations: Vec::new(),
            citations,
        }
    }

    /// The sentences that lie at least partly inside a stretch of bytes.
    #[must_use]
    pub(crate) fn sentences_in(&self, range: ByteRange) -> &[Sentence] {
        let behind = |sentence: &Sentence| sentence.range.end() <= range.start();
        let before = |sentence: &Sentence| sentence.range.start() < range.end();
        let from = self.sentences.partition_point(behind);
        let to = self.sentences.partition_point(before);
        self.sentences.get(from..to).unwrap_or_default()
    }

    /// The words that lie at least partly inside a stretch of bytes.
    #[must_use]
    pub fn words_in(&self, range: ByteRange) -> WordRange {
        let start = self
            .words
            .partition_point(|word| word.end() <= range.start());
        let end = self
            .words
            .partition_point(|word| word.start() < range.end());
        WordRange::of(start, end)
    }
}
