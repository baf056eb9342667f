//! What is found: the tree that every report writes from, and the rules that make it, a family a file.
//!
//! 1. A review is opened once as a [`Session`]; drafts are laid on it ([`laid`]).
//! 2. Passages shared with the sources are judged ([`judging`]): as copies ([`copying`]) unless fixed
//!    wording explains them ([`fixed`]), else as paraphrase ([`paraphrase`]); with their [`credit`] and
//!    their [`trail`] through the notes.
//! 3. Quotations are looked up ([`quoting`]), citations held against lists and entries ([`lists`]).
//! 4. Findings that the writer has decided on are settled ([`applying_decisions`]).
//! 5. The notes are checked by the same rules, and as entries ([`notes`]).
//! 6. The [`account`] puts all quotations of notes and drafts beside each other.

pub(crate) mod account;
pub(crate) mod applying_decisions;
mod around;
pub(crate) mod check_draft;
pub(crate) mod check_drafts;
pub(crate) mod citing;
pub(crate) mod copying;
pub(crate) mod credit;
pub(crate) mod decision_list;
pub(crate) mod fixed;
mod front_matter;
pub(crate) mod id;
pub(crate) mod judging;
pub(crate) mod laid;
pub(crate) mod likeliest_source;
pub(crate) mod listed_index;
pub(crate) mod lists;
pub(crate) mod lost_marks;
pub(crate) mod making_decisions;
mod named_by_title;
mod near;
pub(crate) mod notes;
pub(crate) mod paraphrase;
pub(crate) mod placing;
pub(crate) mod quoting;
mod registry;
pub(crate) mod repeats;
pub(crate) mod session;
pub(crate) mod since;
pub(crate) mod thresholds;
pub(crate) mod trail;
pub(crate) mod versions;
mod wording;

pub use account::{
    Account, Chapter, Credited, Fidelity, Item, PageCheck, Quoted, Section, Share, Unmarked, Where,
};
pub use applying_decisions::{Lapsed, decision_on};
pub use check_drafts::CheckError;
pub use decision_list::{DecisionList, State};
pub use laid::LaidDraft;
pub use likeliest_source::{FoundOrigin, MOST_WORDS};
pub use making_decisions::{Candidate, Candidates, DecidingError, decision_meant, decisions_on};
pub use notes::{EntryReport, NotesError, NotesReport, OwnSource, PartWords, WithoutEntry};
pub use placing::{NamedText, PlaceReport, PlacedRewrite, TracedRewrite};
pub use registry::{About, Kind, Weight};
pub use session::Session;
// What `benches/decisions` measures; no part of the surface.
#[doc(hidden)]
pub use applying_decisions::findings as findings_of;
pub use since::{Past, Progress, Since};
pub use versions::{Versions, VersionsError};

pub use crate::overlap::{Counterpart, Degree, Measures, Placement, SharedPlace};

use std::path::PathBuf;
use std::sync::Arc;

use crate::review::{Key, LeftOut, PartKind};
use crate::text::{ByteRange, MarkedText, PageLabel};

/// A stretch of the draft.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DraftPlace {
    /// Where, in the draft's Text.
    pub range: ByteRange,
    /// Line of the file it begins on, from 1; of the Text where the file has no lines (word processors, PDF).
    pub line: usize,
    /// The page it begins on, where the draft's file names its pages.
    pub page: Option<PageLabel>,
    /// Its characters.
    pub text: String,
}

/// A stretch of a stored source.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SourcePlace {
    /// The reference.
    pub key: Key,
    /// The reference in words, `Harrow (2019a)`.
    pub name: String,
    /// The source's file, relative to the review.
    pub path: PathBuf,
    /// Where, in the source's Text.
    pub range: ByteRange,
    /// First and last page, where known.
    pub pages: Option<(PageLabel, PageLabel)>,
    /// Its characters, with the page marks among them.
    pub text: String,
    /// The page marks (`[p. 14]`) inside it, as ranges of the source's Text: none of its wording, so
    /// nothing that people read shows them.
    pub page_marks: Vec<ByteRange>,
}

/// A stretch of the notes.
#[derive(Debug, Clone, PartialEq)]
pub struct NotePlace {
    /// The entry's key, or its heading where it has none.
    pub entry: String,
    /// The file, relative to the review.
    pub path: PathBuf,
    /// The part of the entry.
    pub part: PartKind,
    /// Whether the words stand in quotation marks there.
    pub marked: bool,
    /// Where, in the note file's Text.
    pub range: ByteRange,
    /// Its characters.
    pub text: String,
    /// How far the note is from the source, where that is known.
    pub from_source: Option<(Degree, f64)>,
    /// How far the draft is from the note.
    pub to_draft: Option<(Degree, f64)>,
}

/// Whether a citation near the passage points at its source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CreditState {
    /// A nearby citation points at the source.
    Credited,
    /// Nearby citations point elsewhere only.
    Elsewhere,
    /// There is no citation nearby.
    None,
}

/// The credit of a passage.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Credit {
    /// The state.
    pub state: CreditState,
    /// The nearby citations as written, in order.
    pub citations: Vec<String>,
}

/// What makes a finding plain to see.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Evidence {
    /// Shared strings and single counterparts, in order of the draft, without overlap.
    pub shared: Vec<SharedPlace>,
    /// For a quotation: where it differs, as (draft's words, source's words); either may be empty.
    pub differences: Vec<(String, String)>,
    /// Other sources that hold the same wording, best first.
    pub also_in: Vec<Key>,
}

/// A decision of the writer on a finding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Settled {
    /// The reason given.
    pub because: String,
    /// The day, `YYYY-MM-DD`.
    pub on: String,
    /// The name of the decision in the review's file, `uc-1a2b3c4d.5e6f7a8b`.
    pub decision: String,
}

/// One finding. Rules make [`Observation`]s; they become findings all at once, by [`applying_decisions::findings`].
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// A name made from kind and wording only, so that it outlives edits elsewhere.
    pub id: String,
    /// What was found.
    pub kind: Kind,
    /// How much it matters.
    pub weight: Weight,
    /// Where in the draft.
    pub draft: DraftPlace,
    /// Where the wording stands in a source.
    pub source: Option<SourcePlace>,
    /// The note on the way, if any.
    pub note: Option<NotePlace>,
    /// How close, for passages set against a source.
    pub degree: Option<Degree>,
    /// The measures behind the degree.
    pub measures: Option<Measures>,
    /// Whether it is credited, where that is asked.
    pub credit: Option<Credit>,
    /// What makes it plain.
    pub evidence: Evidence,
    /// What would mend it: one or two plain sentences.
    pub advice: String,
    /// The writer's decision, if there is one.
    pub settled: Option<Settled>,
    /// The words around it as a short name; see [`applying_decisions::surroundings`].
    pub surroundings: String,
}

/// What a rule has seen, before it is known as a finding among the others of its text.
#[derive(Debug, Clone, PartialEq)]
pub struct Observation {
    /// See [`Finding::kind`].
    pub kind: Kind,
    /// See [`Finding::weight`].
    pub weight: Weight,
    /// See [`Finding::draft`].
    pub draft: DraftPlace,
    /// See [`Finding::source`].
    pub source: Option<SourcePlace>,
    /// See [`Finding::note`].
    pub note: Option<NotePlace>,
    /// See [`Finding::degree`].
    pub degree: Option<Degree>,
    /// See [`Finding::measures`].
    pub measures: Option<Measures>,
    /// See [`Finding::credit`].
    pub credit: Option<Credit>,
    /// See [`Finding::evidence`].
    pub evidence: Evidence,
    /// See [`Finding::advice`].
    pub advice: String,
}

impl Observation {
    /// An observation on words of the draft alone.
    #[must_use]
    pub fn new(kind: Kind, weight: Weight, draft: DraftPlace, advice: String) -> Self {
        Self {
            kind,
            weight,
            draft,
            source: None,
            note: None,
            degree: None,
            measures: None,
            credit: None,
            evidence: Evidence::default(),
            advice,
        }
    }

    /// The finding of this name, with the words around it and the writer's decision.
    pub(crate) fn into_finding(
        self,
        id: String,
        surroundings: String,
        settled: Option<Settled>,
    ) -> Finding {
        Finding {
            id,
            kind: self.kind,
            weight: self.weight,
            draft: self.draft,
            source: self.source,
            note: self.note,
            degree: self.degree,
            measures: self.measures,
            credit: self.credit,
            evidence: self.evidence,
            advice: self.advice,
            settled,
            surroundings,
        }
    }
}

/// The findings of one draft.
#[derive(Debug, Clone, PartialEq)]
pub struct DraftReport {
    /// The draft's file as named.
    pub path: PathBuf,
    /// Its words.
    pub words: usize,
    /// Words inside marked quotations.
    pub quoted_words: usize,
    /// In order of the draft, then of kind.
    pub findings: Vec<Finding>,
    /// Overlaps that were explained away by fixed wording, titles, names: not findings.
    pub explained: Vec<Explained>,
    /// Decisions on this draft whose passage has changed since.
    pub lapsed: Vec<applying_decisions::Lapsed>,
    /// The draft against an earlier version of it, where that was asked for.
    pub since: Option<since::Since>,
    /// Remarks on how the draft was read.
    pub remarks: Vec<String>,
    /// The bytes that it was read from, for a copy with comments; kept only where that was asked for.
    pub bytes: Option<Arc<[u8]>>,
    /// The draft itself, for reports that show it whole.
    pub text: Arc<MarkedText>,
    /// The words of each of its blocks; they add up to `words` and `quoted_words`.
    pub block_words: Vec<BlockWords>,
}

/// How many words of a block were compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct BlockWords {
    /// Its words, without citations.
    pub words: usize,
    /// Words among them that stand in marked quotations.
    pub quoted: usize,
}

/// A stored source that was compared.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Compared {
    /// The reference.
    pub key: Key,
    /// The reference in words, `Harrow (2019a)`.
    pub name: String,
    /// The source's file, relative to the review.
    pub path: PathBuf,
    /// Its words.
    pub words: usize,
    /// First and last page, where known.
    pub pages: Option<(PageLabel, PageLabel)>,
}

/// An overlap that is no finding, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Explained {
    /// Where in the draft.
    pub draft: DraftPlace,
    /// The source that has the same words.
    pub source: Key,
    /// Why it is no finding, such as "a stock phrase of academic prose".
    pub why: String,
}

/// The result of `check`.
#[derive(Debug, Clone, PartialEq)]
pub struct CheckReport {
    /// The review folder as named.
    pub review: PathBuf,
    /// How many sources were compared, and their words.
    pub sources: usize,
    /// Words of all sources.
    pub source_words: usize,
    /// The sources one by one, in order of their keys.
    pub compared: Vec<Compared>,
    /// How many entries were compared.
    pub entries: usize,
    /// The drafts in the order named.
    pub drafts: Vec<DraftReport>,
    /// What was not compared and why.
    pub left_out: Vec<LeftOut>,
    /// Drafts that could not be read: for each a message that names the file, what is wrong and what to
    /// do. They stand in `left_out` too.
    pub unread: Vec<String>,
}

impl CheckReport {
    /// Whether any finding is not settled.
    #[must_use]
    pub fn has_open(&self) -> bool {
        self.drafts
            .iter()
            .flat_map(|draft| &draft.findings)
            .any(|finding| finding.settled.is_none())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn page_marks_are_no_wording() {
        let text = "rung and the\n\n[p. 13]\n\nferry had [p. 14] crossed";
        let mark = |label: &str| {
            let at = text.find(label).unwrap();
            ByteRange::of(100 + at, 100 + at + label.len())
        };
        let place = |page_marks: Vec<ByteRange>| SourcePlace {
            key: Key::new("vane2003"),
            name: String::new(),
            path: PathBuf::new(),
            range: ByteRange::of(100, 100 + text.len()),
            pages: None,
            text: text.to_owned(),
            page_marks,
        };
        let marked = place(vec![mark("[p. 13]"), mark("[p. 14]")]);
        assert_eq!(marked.wording(), "rung and the ferry had crossed");
        assert_eq!(place(Vec::new()).wording(), text);
    }
}
