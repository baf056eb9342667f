//! A draft laid on a session: its words beside the library's, what the two share, and what its citations mean. Whatever is
//! asked of a draft is asked of this: its findings ([`super::draft`]), the account of its quotations
//! ([`super::account`]), what it repeats ([`super::repeats`]).
//!
//! Laying changes nothing in the session. Candidates for paraphrase are looked for when a rule first asks for them, since
//! an account of quotations does not.

use std::ops::Range;
use std::path::PathBuf;
use std::sync::{Arc, OnceLock};

use rayon::prelude::*;

use crate::overlap::StreamRange;
use crate::overlap::candidates::Candidate;
use crate::overlap::strings::Run;
use crate::overlap::{Comparison, Draft, Passage, SharedStrings};
use crate::review::{DraftFile, Key, References};
use crate::text::{ByteRange, MarkedText};

use super::citing::{CitationPlaces, ResolvedCitation, resolve_all};
use super::fixed::FixedWords;
use super::lists::{Listed, listed};
use super::quoting::Titles;
use super::session::Session;
use super::{DraftPlace, SourcePlace};

/// What a text is compared with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Against {
    /// Sources and notes.
    All,
    /// Sources alone: notes can't be compared with themselves.
    Sources,
}

/// A draft laid on a session.
#[derive(Debug)]
pub struct LaidDraft {
    /// The session.
    pub session: Arc<Session>,
    /// The file as named.
    pub path: PathBuf,
    /// Remarks of its reader.
    pub remarks: Vec<String>,
    /// The bytes that it was read from, where they were kept.
    pub bytes: Option<Arc<[u8]>>,
    /// The draft's words.
    pub(crate) draft: Draft,
    /// The review's references, and those that the draft carries.
    pub(super) references: Arc<References>,
    /// Their titles.
    pub(super) titles: Arc<Titles>,
    /// Its own list of references.
    pub(super) listed: Vec<Listed>,
    /// Its citations in order.
    pub(super) citations: Vec<ResolvedCitation>,
    pub(super) citation_places: CitationPlaces,
    /// Which of its words are nobody's.
    pub(super) fixed: FixedWords,
    /// The strings that it shares with each document.
    pub(super) strings: SharedStrings,
    among_sources: OnceLock<Candidates>,
    among_notes: OnceLock<Candidates>,
}

/// The candidates of each sentence.
type Candidates = Vec<Vec<Candidate>>;

impl Session {
    /// Lays a draft on the session.
    #[must_use]
    pub fn lay(self: &Arc<Self>, file: &DraftFile) -> LaidDraft {
        let draft = self.draft(&file.text);
        let strings = self.strings(&[&draft], Against::All).pop();
        let laid = Laying {
            listed: listed(&file.text.text, &file.references),
            references: &file.references,
            strings: strings.unwrap_or_default(),
        };
        LaidDraft {
            path: file.path.clone(),
            remarks: file.remarks.clone(),
            bytes: file.bytes.clone(),
            ..laid.of(draft, self)
        }
    }

    /// Lays texts of the notes on the sources; these are read past all of them once.
    pub(super) fn lay_notes(self: &Arc<Self>, texts: &[Arc<MarkedText>]) -> Vec<LaidDraft> {
        let drafts: Vec<Draft> = texts.par_iter().map(|text| self.draft(text)).collect();
        let all: Vec<&Draft> = drafts.iter().collect();
        let strings = self.strings(&all, Against::Sources);
        let laid = |(draft, strings)| {
            let laying = Laying {
                listed: Vec::new(),
                references: &self.review.references,
                strings,
            };
            laying.of(draft, self)
        };
        drafts.into_par_iter().zip(strings).map(laid).collect()
    }

    fn draft(&self, text: &Arc<MarkedText>) -> Draft {
        Draft::new(text, &self.library, self.review.settings.quotation_words)
    }

    fn strings(&self, drafts: &[&Draft], against: Against) -> Vec<SharedStrings> {
        self.library
            .shared_strings(drafts, self.seed(), &self.documents(against))
    }

    fn documents(&self, against: Against) -> Range<usize> {
        match against {
            Against::All => 0..self.library.documents.len(),
            Against::Sources => self.sources(),
        }
    }
}

/// What is known of a text before its words are weighed.
struct Laying<'l> {
    references: &'l Arc<References>,
    listed: Vec<Listed>,
    strings: SharedStrings,
}

impl Laying<'_> {
    fn of(self, mut draft: Draft, session: &Arc<Session>) -> LaidDraft {
        let fixed = FixedWords::new(&draft, &session.phrases);
        draft.fix(fixed.in_expressions());
        let is_own = Arc::ptr_eq(self.references, &session.review.references);
        let citations = resolve_all(&draft.text, self.references, &self.listed);
        let names = names_of_authors(&citations, &draft, &self.strings);
        draft.set_names_aside(&names);
        LaidDraft {
            session: Arc::clone(session),
            path: PathBuf::new(),
            remarks: Vec::new(),
            bytes: None,
            citation_places: CitationPlaces::of(&citations),
            citations,
            titles: match is_own {
                true => Arc::clone(&session.titles),
                false => Arc::new(Titles::of(self.references)),
            },
            references: Arc::clone(self.references),
            listed: self.listed,
            fixed,
            strings: self.strings,
            draft,
            among_sources: OnceLock::new(),
            among_notes: OnceLock::new(),
        }
    }
}

impl LaidDraft {
    /// The passages that the draft has from the stored sources, in order of the draft.
    pub(super) fn source_passages(&self) -> Vec<Passage> {
        self.passages(self.session.sources(), &self.among_sources)
    }

    /// The passages that the draft has from the notes, in order of the draft.
    pub(super) fn note_passages(&self) -> Vec<Passage> {
        self.passages(self.session.notes(), &self.among_notes)
    }

    /// `kept` holds the candidates of these documents, once they were looked for: sources and notes each have their own,
    /// so that many notes on other works don't push a source out.
    fn passages(&self, among: Range<usize>, kept: &OnceLock<Candidates>) -> Vec<Passage> {
        let library = &self.session.library;
        let candidates = match kept.get() {
            Some(candidates) => candidates,
            None => {
                // Outside of the lock: threads that wait for it could otherwise be those that the work needs.
                let found = library.candidates(&self.draft, &among);
                kept.get_or_init(|| found)
            }
        };
        self.comparison(candidates, among).passages()
    }

    /// A passage divided between copied sentences and others.
    pub(super) fn parts(&self, passage: &Passage) -> Vec<Passage> {
        let only = passage.document..passage.document + 1;
        self.comparison(&[], only).parts(passage)
    }

    /// Copies from sources with words that are in nothing that was told so far.
    pub(super) fn untold_copies(&self, told: &mut [bool]) -> Vec<Passage> {
        let sources = self.session.sources();
        self.comparison(&[], sources).untold_copies(told)
    }

    /// The copies of a passage as passages of their own.
    pub(super) fn copies_alone(&self, passage: &Passage, copies: &[Run]) -> Vec<Passage> {
        let only = passage.document..passage.document + 1;
        self.comparison(&[], only).copies_alone(passage, copies)
    }

    fn comparison<'c>(
        &'c self,
        candidates: &'c [Vec<Candidate>],
        among: Range<usize>,
    ) -> Comparison<'c> {
        Comparison {
            draft: &self.draft,
            library: &self.session.library,
            strings: &self.strings,
            candidates,
            among,
            run_words: self.session.review.settings.run_words,
        }
    }

    /// A reference in words, `Harrow (2019a)`; the key where there is no reference.
    #[must_use]
    pub(super) fn name(&self, key: &Key) -> String {
        self.references.name(key)
    }

    /// The place of a stretch of a source document.
    #[must_use]
    pub(super) fn source_place(&self, document: usize, words: StreamRange) -> Option<SourcePlace> {
        self.session.source_place(document, words, &self.references)
    }

    /// The draft's marked text.
    #[must_use]
    pub(super) fn text(&self) -> &MarkedText {
        &self.draft.text
    }

    /// The place of a stretch of the draft's bytes.
    #[must_use]
    pub(super) fn place(&self, range: ByteRange) -> DraftPlace {
        let text = &self.text().text;
        DraftPlace {
            range,
            line: text.line(range.start()),
            page: text.pages().at(range.start()).cloned(),
            text: text.slice(range).to_owned(),
        }
    }

    /// The place of a stretch of the draft's stream, with its end mark where it ends a sentence.
    #[must_use]
    pub(super) fn place_of(&self, words: StreamRange) -> DraftPlace {
        let bytes = self.draft.stream.bytes(self.text(), words);
        self.place(whole_sentence(self.text(), bytes))
    }
}

/// The words of a draft that name the authors of cited works in the sentence. Where the name itself stands in a shared
/// string, it was taken over with the words around it and is wording like these.
fn names_of_authors(
    citations: &[ResolvedCitation],
    draft: &Draft,
    strings: &SharedStrings,
) -> Vec<usize> {
    let narrative = citations.iter().map(|cited| &cited.citation);
    let mut names: Vec<usize> = narrative
        .filter(|citation| citation.narrative)
        .flat_map(|citation| {
            let before = ByteRange::of(citation.range.start(), citation.aside.start());
            draft.stream.within(&draft.text, before).as_range()
        })
        .collect();
    if !names.is_empty() {
        let mut shared = vec![false; draft.stream.len()];
        for (_, runs) in strings.iter() {
            for run in runs {
                shared[run.draft.as_range()].fill(true);
            }
        }
        names.retain(|at| !shared.get(*at).copied().unwrap_or(false));
    }
    names
}

/// A range of words widened over the end mark where it ends with its sentence.
#[must_use]
pub(crate) fn whole_sentence(text: &MarkedText, range: ByteRange) -> ByteRange {
    let last = range.end().saturating_sub(1);
    let number = text
        .sentences
        .partition_point(|sentence| sentence.range.end() <= last);
    let Some(sentence) = text.sentences.get(number) else {
        return range;
    };
    let rest = ByteRange::of(range.end(), sentence.range.end());
    let ends_here = sentence.range.contains(last) && text.words_in(rest).is_empty();
    if ends_here { range.hull(rest) } else { range }
}
