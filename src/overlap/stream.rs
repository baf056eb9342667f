//! A stream: the words of a document that are compared, in order. It leaves out what is nobody's wording: the
//! insides of citation brackets, lists of references, code.
//!
//! A shared string may therefore run on across a citation that stands in only one of the two texts.

use super::lexicon::FormId;
use super::positions::StreamRange;
use crate::text::{BlockKind, ByteRange, MarkedText};

/// The compared words of one document.
#[derive(Debug, Clone, Default)]
pub(crate) struct Stream {
    /// The words as forms.
    pub forms: Vec<FormId>,
    /// For each, its number in [`MarkedText::words`].
    words: Vec<u32>,
    /// The sentences, as ranges of this stream, none empty. A source's long sentence is split into several
    /// pieces at its clauses (see [`LONG_SENTENCE`]).
    pub sentences: Vec<StreamRange>,
    /// For each of these, the number of its block in the Text.
    pub blocks: Vec<u32>,
    /// For each of these, whether a sentence of the Text begins with it: of a sentence in several pieces only
    /// the first.
    pub begins: Vec<bool>,
}

/// A source's sentence of more words than this is split into pieces between its clauses. Wording is taken
/// over clause by clause, and what comes from one clause should not be measured against ten.
pub(crate) const LONG_SENTENCE: usize = 26;

/// Least words of a piece.
const LEAST_PIECE: usize = 8;

/// Which blocks of a document are compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Compared {
    /// Running prose and the cells of tables: the part of a draft that is checked.
    Prose,
    /// All but code and reference lists: whatever wording may have come from.
    AllText,
}

/// What separates two consecutive words, the strongest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Seam {
    /// A sentence ends between them.
    Sentence,
    /// A semicolon, a colon or an em dash.
    Clause,
    /// A comma, a bracket or an en dash.
    Comma,
    /// Nothing.
    None,
}

impl Stream {
    /// The stream of a stretch of a document. `forms` are the normal forms of the document's words.
    #[must_use]
    pub(crate) fn new(
        text: &MarkedText,
        forms: &[FormId],
        within: ByteRange,
        compared: Compared,
    ) -> Self {
        let mut stream = Self::default();
        // An aside lies in one block; a stretch that begins inside one begins with a word of it.
        let from = text
            .citations
            .partition_point(|citation| citation.aside.end() <= within.start());
        let mut asides = text
            .citations
            .iter()
            .skip(from)
            .map(|citation| citation.aside)
            .peekable();
        for sentence in text.sentences_in(within) {
            if !within.covers(sentence.range) || !is_compared(text, sentence.block, compared) {
                continue;
            }
            let first = stream.forms.len();
            for word in sentence.words.as_range() {
                let (Some(range), Some(form)) = (text.words.get(word), forms.get(word)) else {
                    continue;
                };
                while asides
                    .next_if(|aside| aside.end() <= range.start())
                    .is_some()
                {}
                if asides.peek().is_some_and(|aside| aside.overlaps(*range)) {
                    continue;
                }
                stream.forms.push(*form);
                stream.words.push(u32::try_from(word).unwrap_or(u32::MAX));
            }
            let words = StreamRange::of(first, stream.forms.len());
            let piece = stream.sentences.len();
            match compared {
                Compared::AllText => stream.cut_into_pieces(text, words),
                Compared::Prose if words.is_empty() => {}
                Compared::Prose => stream.sentences.push(words),
            }
            stream.blocks.resize(stream.sentences.len(), sentence.block);
            stream.begins.resize(stream.sentences.len(), false);
            if let Some(begins) = stream.begins.get_mut(piece) {
                *begins = true;
            }
        }
        stream
    }

    /// Adds a sentence. A long one is split between its clauses: at stronger marks before weaker ones, and as
    /// near to its middle as possible.
    fn cut_into_pieces(&mut self, text: &MarkedText, sentence: StreamRange) {
        if sentence.is_empty() {
            return;
        }
        let mut rest = vec![sentence];
        while let Some(piece) = rest.pop() {
            match self.best_cut(text, piece) {
                Some(cut) => {
                    rest.push(StreamRange::of(cut, piece.end()));
                    rest.push(StreamRange::of(piece.start(), cut));
                }
                None => self.sentences.push(piece),
            }
        }
    }

    fn best_cut(&self, text: &MarkedText, piece: StreamRange) -> Option<usize> {
        if piece.len() <= LONG_SENTENCE {
            return None;
        }
        let middle = piece.start() + piece.len() / 2;
        (piece.start() + LEAST_PIECE..=piece.end() - LEAST_PIECE)
            .map(|at| (self.mark_before(text, at), at.abs_diff(middle), at))
            .filter(|(seam, ..)| *seam < Seam::None)
            .min()
            .map(|(.., at)| at)
    }

    /// The seam before a word, or at the end.
    #[must_use]
    pub(crate) fn seam(&self, text: &MarkedText, position: usize) -> Seam {
        let sentence = self.sentence_of(position);
        let starts = |range: &StreamRange| range.start() == position;
        let begins = self.begins.get(sentence) == Some(&true)
            && self.sentences.get(sentence).is_some_and(starts);
        if begins || position == 0 || position >= self.len() {
            Seam::Sentence
        } else {
            self.mark_before(text, position)
        }
    }

    fn mark_before(&self, text: &MarkedText, position: usize) -> Seam {
        match self.between(text, position) {
            marks if marks.contains([';', ':', '\u{2014}']) => Seam::Clause,
            marks if marks.contains([',', '(', ')', '\u{2013}']) => Seam::Comma,
            _ => Seam::None,
        }
    }

    /// What stands between a word and the one before it.
    fn between<'t>(&self, text: &'t MarkedText, position: usize) -> &'t str {
        let Some(before) = position.checked_sub(1) else {
            return "";
        };
        let end = self.word_bytes(text, before).end();
        let range = ByteRange::of(end, self.word_bytes(text, position).start());
        text.text.slice(range)
    }

    /// The number of words compared.
    #[must_use]
    pub(crate) fn len(&self) -> usize {
        self.forms.len()
    }

    /// The forms of a stretch.
    #[must_use]
    pub(crate) fn slice(&self, range: StreamRange) -> &[FormId] {
        self.forms.get(range.as_range()).unwrap_or_default()
    }

    /// The bytes of one word of the stream.
    #[must_use]
    pub(crate) fn word_bytes(&self, text: &MarkedText, position: usize) -> ByteRange {
        self.words
            .get(position)
            .and_then(|word| text.words.get(*word as usize))
            .copied()
            .unwrap_or_default()
    }

    /// The bytes from the first to the last word of a stretch; empty for an empty stretch.
    #[must_use]
    pub(crate) fn bytes(&self, text: &MarkedText, range: StreamRange) -> ByteRange {
        if range.is_empty() {
            return ByteRange::default();
        }
        let first = self.word_bytes(text, range.start());
        first.hull(self.word_bytes(text, range.end() - 1))
    }

    /// The stretch of the stream whose words lie in a stretch of bytes.
    #[must_use]
    pub(crate) fn within(&self, text: &MarkedText, bytes: ByteRange) -> StreamRange {
        let words = text.words_in(bytes);
        let start = self
            .words
            .partition_point(|word| (*word as usize) < words.start());
        let end = self
            .words
            .partition_point(|word| (*word as usize) < words.end());
        StreamRange::of(start, end)
    }

    /// The number of the block in which a word stands.
    #[must_use]
    pub(crate) fn block_of(&self, position: usize) -> Option<u32> {
        self.blocks.get(self.sentence_of(position)).copied()
    }

    /// Whether a comma, colon, semicolon, dash or bracket stands between a word and the one before it.
    #[must_use]
    pub(crate) fn has_clause_mark_before(&self, text: &MarkedText, position: usize) -> bool {
        let marks = [',', ':', ';', '(', ')', '\u{2013}', '\u{2014}'];
        self.between(text, position).contains(marks)
    }

    /// The number of the stream's sentence that holds a word, and that of the last sentence for a
    /// position after the end.
    #[must_use]
    pub(crate) fn sentence_of(&self, position: usize) -> usize {
        let behind = self
            .sentences
            .partition_point(|sentence| sentence.start() <= position);
        behind.saturating_sub(1)
    }
}

fn is_compared(text: &MarkedText, block: u32, compared: Compared) -> bool {
    let Some(block) = text.text.blocks().get(block as usize) else {
        return false;
    };
    match compared {
        Compared::Prose => block.kind.is_prose() || block.kind == BlockKind::Table,
        Compared::AllText => !matches!(block.kind, BlockKind::Code | BlockKind::ReferenceListItem),
    }
}
