//! The registry of kinds of findings: name, meaning, advice, origin of the threshold.
//!
//! Help, `ownwords explain` and the JSON schema all come from here, and a test
//! walks the whole registry, so that no text of a kind can be forgotten or drift away. The entries
//! are kept by family, as the rules are: [`copying`], [`paraphrase`], [`quoting`], [`credit`], [`notes`].
//! A new kind needs a variant, a place in [`Kind::ALL`], an arm in [`Kind::about`] and its entry.

mod copying;
mod credit;
mod notes;
mod paraphrase;
mod quoting;
mod repeats;

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
    /// All weights, the heaviest first.
    pub const ALL: [Self; 3] = [Self::Act, Self::Look, Self::Know];

    /// `act`, `look`, `know`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Act => "act",
            Self::Look => "look",
            Self::Know => "know",
        }
    }

    /// What the weight asks of the writer, as it stands in the head of a finding.
    #[must_use]
    pub fn request(self) -> &'static str {
        match self {
            Self::Act => "please mend",
            Self::Look => "worth a look",
            Self::Know => "good to know",
        }
    }

    /// What the weight means, in a sentence.
    #[must_use]
    pub fn meaning(self) -> &'static str {
        match self {
            Self::Act => {
                "Readers would take these words for yours, or could not find their place in the source. Mend it before the draft is handed on."
            }
            Self::Look => {
                "There may be a good reason for it. Read the two wordings side by side and decide."
            }
            Self::Know => "Nothing is wrong with the wording itself, but it helps to know.",
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
    /// See [`Kind::about`].
    OwnWordsRepeated,
    /// See [`Kind::about`].
    CommentCopiesSource,
    /// See [`Kind::about`].
    OwnVoiceInSummary,
    /// See [`Kind::about`].
    EntryWithoutReference,
    /// See [`Kind::about`].
    EntryIncomplete,
    /// See [`Kind::about`].
    EntryOrder,
}

/// What is to be said of a kind, wherever it is said.
#[derive(Debug, Clone, Copy)]
pub struct About {
    /// The kind.
    pub kind: Kind,
    /// Its name in reports and JSON: `unmarked-copy`.
    pub name: &'static str,
    /// One line for heads, tables and summaries; no full stop.
    pub short: &'static str,
    /// The weight it usually has; a rule may give another where the case asks for it.
    pub weight: Weight,
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
    /// Every kind, by family.
    pub const ALL: [Self; 21] = [
        Self::UnmarkedCopy,
        Self::LostQuotationMarks,
        Self::CloseParaphrase,
        Self::UncreditedParaphrase,
        Self::CreditElsewhere,
        Self::QuotationWithoutPage,
        Self::QuotationWithoutCredit,
        Self::AlteredQuotation,
        Self::PageMismatch,
        Self::QuotationNotFound,
        Self::LongQuotationInline,
        Self::HeavilyQuoted,
        Self::CitedNotListed,
        Self::ListedNotCited,
        Self::CitedWithoutEntry,
        Self::OwnWordsRepeated,
        Self::CommentCopiesSource,
        Self::OwnVoiceInSummary,
        Self::EntryWithoutReference,
        Self::EntryIncomplete,
        Self::EntryOrder,
    ];

    /// The registry's entry of this kind.
    #[must_use]
    pub fn about(self) -> &'static About {
        match self {
            Self::UnmarkedCopy => &copying::UNMARKED_COPY,
            Self::LostQuotationMarks => &copying::LOST_QUOTATION_MARKS,
            Self::CloseParaphrase => &paraphrase::CLOSE_PARAPHRASE,
            Self::UncreditedParaphrase => &paraphrase::UNCREDITED_PARAPHRASE,
            Self::CreditElsewhere => &paraphrase::CREDIT_ELSEWHERE,
            Self::QuotationWithoutPage => &quoting::QUOTATION_WITHOUT_PAGE,
            Self::QuotationWithoutCredit => &quoting::QUOTATION_WITHOUT_CREDIT,
            Self::AlteredQuotation => &quoting::ALTERED_QUOTATION,
            Self::PageMismatch => &quoting::PAGE_MISMATCH,
            Self::QuotationNotFound => &quoting::QUOTATION_NOT_FOUND,
            Self::LongQuotationInline => &quoting::LONG_QUOTATION_INLINE,
            Self::HeavilyQuoted => &quoting::HEAVILY_QUOTED,
            Self::CitedNotListed => &credit::CITED_NOT_LISTED,
            Self::ListedNotCited => &credit::LISTED_NOT_CITED,
            Self::CitedWithoutEntry => &credit::CITED_WITHOUT_ENTRY,
            Self::OwnWordsRepeated => &repeats::OWN_WORDS_REPEATED,
            Self::CommentCopiesSource => &notes::COMMENT_COPIES_SOURCE,
            Self::OwnVoiceInSummary => &notes::OWN_VOICE_IN_SUMMARY,
            Self::EntryWithoutReference => &notes::ENTRY_WITHOUT_REFERENCE,
            Self::EntryIncomplete => &notes::ENTRY_INCOMPLETE,
            Self::EntryOrder => &notes::ENTRY_ORDER,
        }
    }

    /// The name in reports and JSON: `unmarked-copy`.
    #[must_use]
    pub fn name(self) -> &'static str {
        self.about().name
    }

    /// The kind of a name; `None` where there is none of that name.
    #[must_use]
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_kind_has_a_full_entry_of_its_own() {
        let mut names = BTreeSet::new();
        let mut kinds = BTreeSet::new();
        for kind in Kind::ALL {
            let about = kind.about();
            assert_eq!(about.kind, kind, "{} leads to another entry", about.name);
            assert!(kinds.insert(kind), "{} is listed twice", about.name);
            assert!(names.insert(about.name), "{} is used twice", about.name);
            assert_eq!(Kind::from_name(about.name), Some(kind));
            let spelled = about
                .name
                .split('-')
                .all(|part| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_lowercase()));
            assert!(spelled, "{} is not in kebab-case", about.name);
            // A head line of 60 columns has to hold the short text beside the number.
            assert!((10..=56).contains(&about.short.len()), "{}", about.short);
            assert!(!about.short.ends_with('.'), "{}", about.short);
            for text in [about.meaning, about.mend, about.origin, about.example] {
                assert!(
                    text.len() > 40,
                    "{}: too little is said: {text:?}",
                    about.name
                );
                assert!(
                    !text.contains("  "),
                    "{}: two spaces in {text:?}",
                    about.name
                );
                assert_eq!(text, text.trim(), "{}", about.name);
            }
        }
    }

    #[test]
    fn every_origin_says_what_sort_it_is() {
        for kind in Kind::ALL {
            let origin = kind.about().origin;
            let sorts = ["Published:", "Common practice:", "Our own calibration:"];
            assert!(
                sorts.iter().any(|sort| origin.starts_with(sort)),
                "{origin}"
            );
        }
    }

    #[test]
    fn the_variants_are_in_the_order_of_the_list() {
        // Findings at one place are sorted by kind, so the list and the derived order must agree.
        assert!(Kind::ALL.is_sorted());
        assert!(Weight::ALL.is_sorted());
    }

    #[test]
    fn unknown_names_are_no_kind() {
        for name in ["", "unmarked copy", "Unmarked-Copy", "score"] {
            assert_eq!(Kind::from_name(name), None);
        }
    }
}
