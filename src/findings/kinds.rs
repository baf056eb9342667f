//! The registry of kinds of findings: name, meaning, advice, origin of the threshold. Help,
//! `explain`, the JSON schema and the README's table come from it.

/// How much a finding matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Weight {
    /// Mend it.
    Act,
    /// Look at it.
    Look,
    /// Good to know.
    Know,
}

impl Weight {
    /// `act`, `look`, `know`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Act => "act",
            Self::Look => "look",
            Self::Know => "know",
        }
    }
}

/// A kind of finding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// See [`Kind::about`].
    UnmarkedCopy,
    /// See [`Kind::about`].
    LostQuotationMarks,
    /// See [`Kind::about`].
    CloseParaphrase,
    /// See [`Kind::about`].
    UncreditedParaphrase,
    /// See [`Kind::about`].
    CreditElsewhere,
    /// See [`Kind::about`].
    QuotationWithoutPage,
    /// See [`Kind::about`].
    QuotationWithoutCredit,
    /// See [`Kind::about`].
    AlteredQuotation,
    /// See [`Kind::about`].
    PageMismatch,
    /// See [`Kind::about`].
    QuotationNotFound,
    /// See [`Kind::about`].
    LongQuotationInline,
    /// See [`Kind::about`].
    HeavilyQuoted,
    /// See [`Kind::about`].
    CitedNotListed,
    /// See [`Kind::about`].
    ListedNotCited,
    /// See [`Kind::about`].
    CitedWithoutEntry,
}

/// What is to be said of a kind, wherever it is said.
#[derive(Debug, Clone, Copy)]
pub struct About {
    /// The kind.
    pub kind: Kind,
    /// Its name in reports and JSON: `unmarked-copy`.
    pub name: &'static str,
    /// One line for tables and summaries.
    pub short: &'static str,
    /// What it means, a short paragraph.
    pub meaning: &'static str,
    /// What would mend it.
    pub mend: &'static str,
    /// Where the threshold comes from: *published*, *common practice* or *our own calibration*.
    pub origin: &'static str,
    /// An invented example, draft against source.
    pub example: &'static str,
}

impl Kind {
    /// The registry's entry of this kind.
    #[must_use]
    pub fn about(self) -> &'static About {
        unimplemented!("filled by the registry")
    }
}
