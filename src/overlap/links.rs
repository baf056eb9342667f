//! Links: each candidate of a draft's sentence, with the few sentences of the document around it that
//! correspond to the whole sentence, and how likely it is that the sentence rewords them.

use rayon::prelude::*;

use super::candidates::Candidate;
use super::lexicon::StemId;
use super::library::{Draft, Library};
use super::likeness::{Likeness, WeighedWords};
use super::positions::{SentenceRange, StreamRange};
use super::profile::closeness;

/// Sentences of the draft and the corresponding sentences of a document.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Group {
    /// The document's number.
    pub document: usize,
    /// Sentences of the draft's stream.
    pub draft: SentenceRange,
    /// Sentences of the document's stream.
    pub source: SentenceRange,
    /// Closeness of the two as wholes.
    pub closeness: f32,
    /// Weight they share, in nats.
    pub shared: f32,
    /// How much likelier it is that the one rewords the other, in nats, summed over the draft's sentences.
    pub nats: f32,
}

/// Links less close than this are dropped: that saves a third of the work and loses one passage in three
/// hundred. Our own calibration on planted translations, 2026-11-26, like the nats below.
const LEAST_CLOSENESS: f32 = 0.2;

/// The same for the single sentence of the document with which a link begins, since more sentences may make
/// it closer.
const LEAST_SCORE: f32 = 0.12;

/// Links below this, in nats, join no group. They are likelier to have been written independently, but next
/// to sentences taken from the same place they may still have been taken.
pub(super) const LEAST_NATS: f32 = -4.0;

/// Sentences of a document (or pieces of long ones) that can correspond to any single sentence of the draft,
/// and words of that sentence for which one more can.
const WINDOW_SENTENCES: usize = 4;
const WORDS_FOR_ONE_MORE: usize = 8;

/// Most sentences of a window, however long a sentence of the draft is. Without a limit, an endless sentence
/// would cost the square of its length.
const MOST_WINDOW_SENTENCES: usize = 32;

/// Most sentences or pieces by which such a window is widened at once.
const LOOK_AHEAD: usize = 3;

/// Share of a draft sentence's weight that a single sentence of the document must cover to be taken for its
/// only origin.
const ENOUGH_COVERED: f32 = 0.8;

/// The draft's sentences, ready to be compared, and what they are compared with.
pub(super) struct Linker<'o> {
    pub draft: &'o Draft,
    pub library: &'o Library,
    stretches: Vec<WeighedWords>,
}

impl<'o> Linker<'o> {
    pub(super) fn new(draft: &'o Draft, library: &'o Library) -> Self {
        let stretches = draft.stream.sentences.par_iter();
        let stretches = stretches.map(|words| draft.stretch(*words)).collect();
        Self {
            draft,
            library,
            stretches,
        }
    }

    /// All links to some of the documents, the likeliest first.
    pub(super) fn links(
        &self,
        candidates: &[Vec<Candidate>],
        among: &std::ops::Range<usize>,
    ) -> Vec<Group> {
        let candidates = candidates.par_iter().enumerate();
        let mut links: Vec<Group> = candidates
            .flat_map_iter(|(sentence, candidates)| {
                let counted = candidates.iter().filter(|candidate| {
                    among.contains(&candidate.document) && candidate.score >= LEAST_SCORE
                });
                let mut links: Vec<Group> = counted
                    .map(|candidate| self.link(sentence, candidate))
                    .filter(|link| link.closeness >= LEAST_CLOSENESS)
                    .map(|link| self.judged(link))
                    .collect();
                links.retain(|link| link.nats >= LEAST_NATS);
                links
            })
            .collect();
        links.sort_by(|a, b| {
            (b.nats.total_cmp(&a.nats))
                .then_with(|| (a.document, a.draft, a.source).cmp(&(b.document, b.draft, b.source)))
        });
        links
    }

    /// A candidate with the window of the document that is closest to the sentence. Its likelihood is not
    /// computed yet.
    pub(super) fn link(&self, sentence: usize, candidate: &Candidate) -> Group {
        let document = candidate.document;
        let last = self.library.documents[document].stream.sentences.len();
        let profile = &self.draft.profiles()[sentence];
        let mut stems = Vec::new();
        let mut judge = |source: SentenceRange| self.close(document, sentence, source, &mut stems);
        let mut best = judge(SentenceRange::of(
            candidate.sentence,
            candidate.sentence + 1,
        ));
        let words = self.draft.stream.sentences[sentence].len();
        let most = (words / WORDS_FOR_ONE_MORE).clamp(WINDOW_SENTENCES, MOST_WINDOW_SENTENCES);
        while best.source.len() < most && best.shared < ENOUGH_COVERED * profile.weight {
            let (start, end) = (best.source.start(), best.source.end());
            // A piece that contributes nothing may stand before one that does.
            let closest = (1..=LOOK_AHEAD)
                .flat_map(|by| {
                    let before = start
                        .checked_sub(by)
                        .map(|start| SentenceRange::of(start, end));
                    let behind = (end + by <= last).then(|| SentenceRange::of(start, end + by));
                    [before, behind]
                })
                .flatten()
                .map(&mut judge)
                .fold(None, |closest: Option<Group>, next| match closest {
                    Some(closest) if closest.closeness >= next.closeness => Some(closest),
                    _ => Some(next),
                });
            match closest {
                Some(wider) if wider.closeness > best.closeness => best = wider,
                _ => break,
            }
        }
        best
    }

    /// A sentence of the draft compared with sentences of a document. The likelihood is not computed yet.
    /// `stems` is working space.
    pub(super) fn close(
        &self,
        document: usize,
        sentence: usize,
        source: SentenceRange,
        stems: &mut Vec<StemId>,
    ) -> Group {
        let profile = &self.draft.profiles()[sentence];
        let stream = &self.library.documents[document].stream;
        let words = stream.slice(sentence_words(&stream.sentences, source));
        let (shared, theirs) = profile.set_against(words, &self.draft.lexicon, stems);
        Group {
            document,
            draft: SentenceRange::of(sentence, sentence + 1),
            source,
            closeness: closeness(shared, profile.weight, theirs),
            shared,
            nats: f32::NEG_INFINITY,
        }
    }

    /// The same link of a single sentence, with its likelihood.
    pub(super) fn judged(&self, link: Group) -> Group {
        let nats = self
            .likeness(link.document, link.draft.start(), link.source)
            .nats();
        Group { nats, ..link }
    }

    /// How likely it is that a sentence of the draft rewords sentences of a document.
    pub(super) fn likeness(
        &self,
        document: usize,
        sentence: usize,
        source: SentenceRange,
    ) -> Likeness {
        let stream = &self.library.documents[document].stream;
        let words = sentence_words(&stream.sentences, source);
        let theirs = WeighedWords::new(stream.slice(words), |_| false, &self.draft.lexicon);
        Likeness::of(&self.stretches[sentence], &theirs)
    }
}

/// The words of a stretch of sentences.
#[must_use]
pub(crate) fn sentence_words(sentences: &[StreamRange], stretch: SentenceRange) -> StreamRange {
    match sentences.get(stretch.as_range()) {
        Some([only]) => *only,
        Some([first, .., last]) => first.hull(*last),
        _ => StreamRange::default(),
    }
}
