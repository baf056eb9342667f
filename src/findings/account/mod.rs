//! The account of quotations: every quotation of the notes and of the drafts, where its words come from,
//! whether they are exact, and where they are used.
//!
//! 1. Each quotation is looked up as in a check (`collect`); it becomes a [`Quoted`].
//! 2. Those that quote the same words belong together in one [`Item`] (`links`), so that one sees what
//!    was noted and never used, used twice, or used without a note.
//! 3. The share of quoted words is counted by chapter and section (`shares`).

mod collect;
mod links;
mod shares;

use std::path::PathBuf;
use std::sync::Arc;

use rayon::prelude::*;

use super::session::Session;
use super::{SourcePlace, quoting};
use crate::review::{DraftFile, Key, LeftOut, PartKind};
use crate::text::{ByteRange, QuotationForm};

pub use quoting::PageCheck;
pub use shares::{Chapter, Section, Share};

/// How the words of a quotation stand to its source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Fidelity {
    /// Word for word, apart from what may be changed.
    Exact,
    /// With other words.
    Altered,
    /// Put together from several places.
    Joined,
    /// The stored text of the cited work does not have them, nor does another.
    NotFound,
    /// No text of the cited work is stored, so nothing can be said.
    NotStored,
    /// The writer's own translation, which no source can have.
    Translated,
}

impl Fidelity {
    /// Every one, in order.
    pub const ALL: [Self; 6] = [
        Self::Exact,
        Self::Altered,
        Self::Joined,
        Self::NotFound,
        Self::NotStored,
        Self::Translated,
    ];

    /// The name in reports for programs.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Exact => "exact",
            Self::Altered => "altered",
            Self::Joined => "joined",
            Self::NotFound => "not-found",
            Self::NotStored => "not-stored",
            Self::Translated => "translated",
        }
    }
}

/// Whether the work that has the words is the one that is cited.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Credited {
    /// It is, or nothing says otherwise.
    Right,
    /// Another stored work has the words.
    Elsewhere,
    /// No work is cited.
    None,
}

impl Credited {
    /// Every one, in order.
    pub const ALL: [Self; 3] = [Self::Right, Self::Elsewhere, Self::None];

    /// The name in reports for programs.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Right => "right",
            Self::Elsewhere => "elsewhere",
            Self::None => "none",
        }
    }
}

/// Where a quotation stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Where {
    /// In the notes: the entry's key, or its heading where it has none, and the part of the entry.
    Notes {
        /// Key or heading.
        entry: String,
        /// The part.
        part: PartKind,
    },
    /// In a draft, below a heading if there is one.
    Draft {
        /// The nearest heading above.
        section: Option<String>,
    },
}

/// One quotation of the notes or of a draft.
#[derive(Debug, Clone, PartialEq)]
pub struct Quoted {
    /// In notes or draft.
    pub at: Where,
    /// The file, relative to the review where it lies inside.
    pub path: PathBuf,
    /// With its marks, in the file's Text.
    pub range: ByteRange,
    /// Line of the file it begins on, from 1; of the Text where the file has no lines (word processors, PDF).
    pub line: usize,
    /// Its characters, with its marks.
    pub text: String,
    /// Set off or in the running text.
    pub form: QuotationForm,
    /// Words inside the marks, citations left out.
    pub words: usize,
    /// Its citation as written.
    pub citation: Option<String>,
    /// What it cites, in words.
    pub cited: Vec<String>,
    /// The page or other place cited, as written.
    pub locator: Option<String>,
    /// Whether it is cited by way of another work.
    pub secondary: bool,
    /// Where the words stand in a source: one place, or one for each piece of a joined quotation.
    pub found: Vec<SourcePlace>,
    /// How its words stand to the source.
    pub fidelity: Fidelity,
    /// Where it differs, as (quotation's words, source's words).
    pub differences: Vec<(String, String)>,
    /// Whether the cited page is right.
    pub page: PageCheck,
    /// Whether the cited work is.
    pub credit: Credited,
    /// Of a quotation in the notes: where a draft has its words without their marks.
    pub unmarked: Vec<Unmarked>,
    /// The reference that has the words, else the first that is cited.
    pub key: Option<Key>,
    /// For comparing with others: the document and its words.
    span: Option<(usize, crate::overlap::StreamRange)>,
    forms: Vec<String>,
}

impl Quoted {
    /// Whether it stands in a draft.
    #[must_use]
    pub fn is_used(&self) -> bool {
        matches!(self.at, Where::Draft { .. })
    }

    /// Whether something about it wants mending: words, page or credit, or marks that a draft lost. That a stored text does not have
    /// the words is reported, but a text may be an excerpt or another edition.
    #[must_use]
    pub fn wants_mending(&self) -> bool {
        self.is_amiss() || !self.unmarked.is_empty()
    }

    /// Whether it wants mending where it stands.
    #[must_use]
    pub fn is_amiss(&self) -> bool {
        matches!(self.fidelity, Fidelity::Altered | Fidelity::Joined)
            || matches!(
                self.page,
                PageCheck::Partly | PageCheck::Wrong | PageCheck::Missing
            )
            || self.credit != Credited::Right
    }
}

/// A place of a draft that has words of a noted quotation without their quotation marks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unmarked {
    /// The draft.
    pub path: PathBuf,
    /// Line of its Text, from 1.
    pub line: usize,
    /// The words in the draft.
    pub text: String,
}

/// Words of a source and every quotation of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// The work that has the words, else the one that is cited; `None` where neither is known.
    pub key: Option<Key>,
    /// It in words.
    pub name: Option<String>,
    /// The quotations, those of the notes first, each in order of file and place. At least one.
    pub quoted: Vec<Quoted>,
    /// Whether two places of the drafts quote the same words.
    pub used_twice: bool,
}

impl Item {
    /// Whether the notes have it.
    #[must_use]
    pub fn is_noted(&self) -> bool {
        self.quoted.iter().any(|quoted| !quoted.is_used())
    }

    /// Whether a draft has it.
    #[must_use]
    pub fn is_used(&self) -> bool {
        self.quoted.iter().any(Quoted::is_used)
    }

    /// The places of drafts that have its words without marks.
    pub fn unmarked(&self) -> impl Iterator<Item = &Unmarked> {
        self.quoted.iter().flat_map(|quoted| &quoted.unmarked)
    }

    /// The longest of its quotations.
    #[must_use]
    pub fn longest(&self) -> Option<&Quoted> {
        let numbered = self.quoted.iter().enumerate();
        let longest = numbered.max_by_key(|(at, quoted)| (quoted.words, std::cmp::Reverse(*at)));
        longest.map(|(_, quoted)| quoted)
    }
}

/// The account.
#[derive(Debug, Clone, PartialEq)]
pub struct Account {
    /// The review folder as named.
    pub review: PathBuf,
    /// The folder that the drafts were taken from, where none was named.
    pub drafts_from: Option<PathBuf>,
    /// How many sources are stored.
    pub sources: usize,
    /// How many entries the notes have.
    pub entries: usize,
    /// The drafts with the share of quoted words.
    pub chapters: Vec<Chapter>,
    /// The quotations, in order of source, then of place in it.
    pub items: Vec<Item>,
    /// What was not looked at and why.
    pub left_out: Vec<LeftOut>,
    /// Drafts that could not be read, each a message.
    pub unread: Vec<String>,
}

impl Account {
    /// All quotations.
    pub fn all(&self) -> impl Iterator<Item = &Quoted> {
        self.items.iter().flat_map(|item| &item.quoted)
    }

    /// Whether any quotation wants mending.
    #[must_use]
    pub fn has_open(&self) -> bool {
        self.all().any(Quoted::wants_mending)
    }
}

impl Session {
    /// Makes the account of all quotations in the notes and in drafts.
    #[must_use]
    pub fn account(self: &Arc<Self>, drafts: &[DraftFile]) -> Account {
        let mut quoted = collect::from_notes(self);
        let mut chapters = Vec::new();
        let of_drafts: Vec<collect::OfDraft> = drafts
            .par_iter()
            .map(|draft| collect::from_draft(&self.lay(draft)))
            .collect();
        for of_draft in of_drafts {
            collect::note_lost(&mut quoted, of_draft.lost);
            chapters.push(of_draft.chapter);
            quoted.extend(of_draft.quoted);
        }
        Account {
            review: self.review.root.clone(),
            drafts_from: None,
            sources: self.review.sources.len(),
            entries: self.review.entries.len(),
            chapters,
            items: links::items(quoted),
            left_out: self.review.left_out.clone(),
            unread: Vec::new(),
        }
    }
}
