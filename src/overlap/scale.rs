//! The scale from verbatim copy to restructured wording.

/// How a draft word answers to a source word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Counterpart {
    /// Same normal form.
    Form,
    /// Same stem.
    Stem,
    /// A synonym.
    Synonym,
    /// A misspelling.
    Misspelling,
}

/// The five steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Degree {
    /// Word for word.
    Verbatim,
    /// A few words changed.
    NearCopy,
    /// Many words changed, the sentences kept.
    LightRevision,
    /// Most of the wording changed.
    HeavyRevision,
    /// Own sentences.
    Restructured,
}

impl Degree {
    /// All degrees in order.
    pub const ALL: [Self; 5] = [
        Self::Verbatim,
        Self::NearCopy,
        Self::LightRevision,
        Self::HeavyRevision,
        Self::Restructured,
    ];

    /// The name for people: `near copy`.
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
    /// Share (0 to 1) of content words with a counterpart.
    pub kept_content: f64,
    /// Content words whose counterpart is a synonym.
    pub swapped: usize,
    /// Longest common subsequence of counterparts over counterparts (0 to 1).
    pub order: f64,
    /// Share (0 to 1) of words in unique links; `None` where only the excerpt is known.
    pub unique_share: Option<f64>,
}

impl Measures {
    /// The place on the scale, 0 verbatim to 1 nothing of the wording kept.
    #[must_use]
    pub fn position(&self) -> f64 {
        1.0 - self.string_share
    }

    /// The degree that goes with the position.
    #[must_use]
    pub fn degree(&self) -> Degree {
        Degree::Restructured
    }
}
