//! The scale from verbatim copy to restructured wording.
//!
//! 1. An [`Alignment`] is counted into [`Measures`], each a plain count or share that a person can recount by
//!    hand.
//! 2. The measures give a position between 0 (verbatim) and 1 (nothing of the wording kept):
//!
//!    ```text
//!    position = 1 - the largest of
//!               sequence,
//!               string_share * 9/10 and
//!               (sequence + content) / 2 * 9/10
//!    content  = kept_content, at most 1/2 or sequence + 1/5, whichever is more
//!    ```
//!
//!    What is kept in sequence counts in full ([`super::sequence`]). A passage whose sentences and clauses change
//!    places keeps its strings. One that swaps words within a sentence's frame keeps the content words. Both stay close
//!    too, but a little less, since something was changed. Content words around which new sentences were built
//!    bring a passage only so close: however many they are, its wording was revised heavily.
//! 3. The position gives the [`Degree`] by the boundaries of [`BOUNDARIES`].

use super::alignment::Alignment;
use super::lexicon::{FormId, Lexicon};
use super::sequence::Sequence;

/// How a word of the draft corresponds to a word of the source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Counterpart {
    /// Same normal form, within a shared string of two words or more.
    String,
    /// Same normal form, outside such a string.
    Form,
    /// Same stem.
    Stem,
    /// A misspelling of it.
    Misspelling,
    /// A synonym.
    Synonym,
}

/// The five steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Degree {
    /// Word for word.
    Verbatim,
    /// Few words changed.
    NearCopy,
    /// Many words changed, the sentences kept.
    LightRevision,
    /// Most of the wording changed.
    HeavyRevision,
    /// Sentences of the writer's own.
    Restructured,
}

/// The largest position that still belongs to each degree; restructured has none.
///
/// Our own calibration on modern prose that was rewritten by the published definitions of the degrees, and on aligned
/// verse translations of one source, 2026-12-01 (see DEVELOPERS.md). Cut and paste and a formal revision should
/// fall at near copy; sentences that keep their order, with words exchanged or forms made new, at light revision; sentences
/// that were split, merged and reordered at heavy revision; what was written from understanding beyond.
pub(crate) const BOUNDARIES: [(Degree, f64); 4] = [
    (Degree::Verbatim, 0.01),
    (Degree::NearCopy, 0.19),
    (Degree::LightRevision, 0.52),
    (Degree::HeavyRevision, 0.73),
];

/// What wording counts that is kept out of sequence. Our own choice: sentences that change places should fall
/// at near copy. Counting it in full would put a passage that leaves words out as close as one that leaves
/// nothing out. It would also take 0.03 (single verses) and 0.06 (five verses) from how well a revision is
/// distinguished from a revision of it.
pub(crate) const ELSEWHERE: f64 = 0.9;

/// The share of content words kept that counts wherever they stand, and how much more than the sequence counts beyond it.
/// Set on the same modern prose: sentences that are reordered keep as many content words as sentences in which words are
/// exchanged, so that beyond this only order tells the two apart.
pub(crate) const ANYWHERE: f64 = 0.5;
/// See [`ANYWHERE`].
pub(crate) const BEYOND_SEQUENCE: f64 = 0.2;

impl Degree {
    /// All degrees in order.
    pub const ALL: [Self; 5] = [
        Self::Verbatim,
        Self::NearCopy,
        Self::LightRevision,
        Self::HeavyRevision,
        Self::Restructured,
    ];

    /// The name shown to people and programs: `near copy`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Verbatim => "verbatim",
            Self::NearCopy => "near copy",
            Self::LightRevision => "light revision",
            Self::HeavyRevision => "heavy revision",
            Self::Restructured => "restructured",
        }
    }

    /// The degree of a position.
    #[must_use]
    pub fn at(position: f64) -> Self {
        BOUNDARIES
            .into_iter()
            .find(|(_, last)| position <= *last)
            .map_or(Self::Restructured, |(degree, _)| degree)
    }

    /// The part of the line from 0 to 1 that the degree covers.
    #[must_use]
    pub fn span(self) -> (f64, f64) {
        let mut from = 0.0;
        for (degree, last) in BOUNDARIES {
            if degree == self {
                return (from, last);
            }
            from = last;
        }
        (from, 1.0)
    }
}

/// What a position is based on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Closest {
    /// The words kept in sequence.
    Sequence,
    /// The words in shared strings, wherever these stand.
    Strings,
    /// The mean of the words kept in sequence and the content words kept, as far as these count.
    Mean,
}

/// The measures behind a degree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measures {
    /// Words of the passage, without marked quotations and citations.
    pub words: usize,
    /// Share (0 to 1) of those words in shared strings of 2+ words with a content word.
    pub string_share: f64,
    /// Words of the longest shared string.
    pub longest_string: usize,
    /// Content words (numbers included) of the passage.
    pub content_words: usize,
    /// Share (0 to 1) of the content words that have a counterpart.
    pub kept_content: f64,
    /// Content words whose counterpart is a synonym.
    pub swapped: usize,
    /// Longest common subsequence of the content words' counterparts over their number (0 to 1);
    /// 0 where there are none.
    pub order: f64,
    /// Twice the words kept in sequence, another form of a word counting half, over the words of the passage and of the
    /// stretch (0 to 1).
    pub sequence: f64,
    /// Words of the source's stretch in which the sequence runs, from the first word kept to the last.
    pub stretch: usize,
    /// Share (0 to 1) of words in unique links; `None` where only the excerpt is known.
    pub unique_share: Option<f64>,
}

impl Measures {
    /// Counts an alignment of `draft` with `source`.
    #[must_use]
    pub fn count(
        draft: &[FormId],
        source: &[FormId],
        alignment: &Alignment,
        lexicon: &Lexicon,
    ) -> Self {
        let in_strings: usize = alignment.tiles.iter().map(|tile| tile.draft.len()).sum();
        let longest_string = alignment.tiles.iter().map(|tile| tile.draft.len()).max();
        let is_content = |at: usize| draft.get(at).is_some_and(|form| lexicon.is_content(*form));
        let mut kept: Vec<(usize, usize)> = alignment
            .tiles
            .iter()
            .flat_map(|tile| tile.draft.as_range().zip(tile.source.as_range()))
            .filter(|(draft, _)| is_content(*draft))
            .chain(
                alignment
                    .singles
                    .iter()
                    .map(|single| (single.draft, single.source)),
            )
            .collect();
        kept.sort_unstable();
        let swapped = alignment
            .singles
            .iter()
            .filter(|single| single.by == Counterpart::Synonym)
            .count();
        let content_words = (0..draft.len()).filter(|at| is_content(*at)).count();
        let in_order = longest_increasing(kept.iter().map(|(_, source)| *source));
        let sequence = Sequence::of(draft, source, alignment, lexicon);
        Self {
            words: draft.len(),
            string_share: share(in_strings, draft.len()),
            longest_string: longest_string.unwrap_or(0),
            content_words,
            kept_content: share(kept.len(), content_words),
            swapped,
            order: share(in_order, kept.len()),
            sequence: sequence.share(draft.len()),
            stretch: sequence.stretch.len(),
            unique_share: None,
        }
    }

    /// The position on the scale, from 0 (verbatim) to 1 (nothing of the wording kept). The formula is at the
    /// head of this module.
    #[must_use]
    pub fn position(&self) -> f64 {
        let (_, closeness) = self.closest();
        (1.0 - closeness).clamp(0.0, 1.0)
    }

    /// What brings the passage closest to its source, and how close, 0 to 1; of equal values the first.
    #[must_use]
    pub fn closest(&self) -> (Closest, f64) {
        let mean = f64::midpoint(self.sequence, self.content_counted());
        [
            (Closest::Strings, ELSEWHERE * self.string_share),
            (Closest::Mean, ELSEWHERE * mean),
        ]
        .into_iter()
        .fold((Closest::Sequence, self.sequence), |closest, other| {
            if other.1 > closest.1 { other } else { closest }
        })
    }

    /// The share of content words kept, as far as it counts for the position.
    #[must_use]
    pub fn content_counted(&self) -> f64 {
        let most = ANYWHERE.max(self.sequence + BEYOND_SEQUENCE);
        self.kept_content.min(most)
    }

    /// Words kept in sequence, in halves of a word.
    #[must_use]
    pub fn kept_in_sequence(&self) -> f64 {
        (self.sequence * (self.words + self.stretch) as f64).round() / 2.0
    }

    /// The degree of the position. Only a passage that stands in one string is verbatim: one whose words are
    /// all the source's, with others left out between them, is a near copy.
    #[must_use]
    pub fn degree(&self) -> Degree {
        match Degree::at(self.position()) {
            // Words of the source in its order, but with others left out between them.
            Degree::Verbatim if self.longest_string < self.words => Degree::NearCopy,
            degree => degree,
        }
    }
}

/// `part / whole`, or 0 where the whole is 0.
fn share(part: usize, whole: usize) -> f64 {
    if whole == 0 {
        0.0
    } else {
        part as f64 / whole as f64
    }
}

/// Length of the longest strictly increasing subsequence (patience sorting). Since every source word is the
/// counterpart of at most one draft word, this is the longest common subsequence of the counterparts.
fn longest_increasing(values: impl Iterator<Item = usize>) -> usize {
    let mut tops: Vec<usize> = Vec::new();
    for value in values {
        let pile = tops.partition_point(|top| *top < value);
        match tops.get_mut(pile) {
            Some(top) => *top = value,
            None => tops.push(value),
        }
    }
    tops.len()
}
