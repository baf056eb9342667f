//! Quotations: whether each has its credit and its page, and whether its words are the source's.
//!
//! 1. A quotation's citation is found: the one that names the source which has the words, or else
//!    the nearest in its sentence (for a block quotation, inside it or before it).
//! 2. The words are looked up in the cited sources, then in those that share strings with it.
//! 3. What is missing, altered or misplaced becomes a finding each; a quotation with credit and right
//!    page is none.

mod attach;
mod joined;
pub(super) mod matching;
mod nearest;
mod pages;
mod remarks;
mod rules;
mod segments;
mod sharing;
pub(crate) mod slips;
mod titles;
mod unpaged;

use crate::overlap::chains::TELLING_WEIGHT;
use crate::overlap::lexicon::Lexicon;
use crate::review::Key;
use crate::text::{ByteRange, Cite, Locator, Quotation, QuotationForm};

use super::Observation;
use super::citing::ResolvedCitation;
use super::copying::{CERTAIN_WORDS, CHANCE_WEIGHT};
use super::laid::LaidDraft;
pub(super) use joined::{LEAST_CONTENT, LEAST_PIECE};
use matching::{Match, Stored, look_up};
pub use pages::PageCheck;
pub(super) use remarks::is_secondary;
use segments::Segment;
pub(super) use sharing::Sharing;
pub(super) use titles::Titles;

/// A quotation and all that is known of it.
#[derive(Debug)]
pub(super) struct Looked<'d> {
    /// The quotation.
    pub quotation: &'d Quotation,
    /// Words inside the marks, citations left out.
    pub words: usize,
    /// Their normal forms, one list a segment.
    pub forms: Vec<Vec<String>>,
    /// The citation it belongs to.
    pub citation: Option<&'d ResolvedCitation>,
    /// Keys the citation may mean; of `as cited in` the work that was read.
    pub cited: Vec<Key>,
    /// The page or other place that is cited, of several works that of the one which has the words.
    pub locator: Option<Locator>,
    /// Whether the words are cited by way of another work.
    pub secondary: bool,
    /// Whether the words are the writer's own translation, which no source can have.
    pub translated: bool,
    /// The document that has its words, and how.
    pub found: Option<(usize, Match)>,
}

/// All findings on the quotations of a draft.
#[must_use]
pub(crate) fn judge_all(laid: &LaidDraft) -> Vec<Observation> {
    let mut findings: Vec<Observation> = look_all(laid)
        .iter()
        .flat_map(|looked| rules::judge(looked, laid))
        .collect();
    findings.extend(rules::heavily_quoted(laid));
    findings
}

/// Looks up all quotations of a draft in order. Short marked strings and titles of works are none.
#[must_use]
pub(super) fn look_all(laid: &LaidDraft) -> Vec<Looked<'_>> {
    let shared = Sharing::with_sources(laid);
    look_among(laid, &laid.text().quotations, &shared, None)
}

/// Looks up the quotations in a stretch of the notes, which belong to the entry's reference where no
/// citation nearby says otherwise. Their page may stand in brackets behind them or at the line's start.
#[must_use]
pub(super) fn look_noted<'d>(
    laid: &'d LaidDraft,
    shared: &Sharing,
    stretch: ByteRange,
    entry: Option<&Key>,
) -> Vec<Looked<'d>> {
    let all = &laid.text().quotations;
    let from = all.partition_point(|quotation| quotation.outer.start() < stretch.start());
    let to = all.partition_point(|quotation| quotation.outer.start() < stretch.end());
    let inside = all.get(from..to).unwrap_or_default();
    look_among(laid, inside, shared, Some(Noted { entry }))
}

/// That quotations stand in the notes, and the reference that these are about.
#[derive(Clone, Copy)]
struct Noted<'n> {
    entry: Option<&'n Key>,
}

fn look_among<'d>(
    laid: &'d LaidDraft,
    quotations: &'d [Quotation],
    shared: &Sharing,
    noted: Option<Noted<'_>>,
) -> Vec<Looked<'d>> {
    let settings = &laid.session.review.settings;
    let text = laid.text();
    let mut all = Vec::new();
    for quotation in quotations.iter().filter(|quotation| quotation.depth == 0) {
        // Counted as the draft counts them, so that what is no copy for its marks is a quotation here.
        let marked = laid.draft.stream.within(text, quotation.inner).len();
        let is_quotation = marked >= settings.quotation_words
            || quotation.form == QuotationForm::Block && marked > 0;
        let segments = segments::segments(text, quotation.inner);
        let is_title = || laid.titles.hold(&segments) || laid.is_cited_title(quotation.outer);
        if is_quotation && !is_title() {
            all.push(look(quotation, &segments, laid, shared, noted));
        }
    }
    all
}

fn look<'d>(
    quotation: &'d Quotation,
    segments: &[Segment],
    laid: &'d LaidDraft,
    shared: &Sharing,
    noted: Option<Noted<'_>>,
) -> Looked<'d> {
    let mut near = attach::near(laid, quotation);
    let is_carried = near.is_empty() && noted.is_none();
    if is_carried {
        near = laid.carried(quotation.outer);
    }
    // A work that was named before is no reason to look for the words in it alone.
    let cited = if is_carried { &[][..] } else { &near };
    let near_keys = cited.iter().flat_map(|credited| keys_of(credited, None));
    let entry = noted.and_then(|noted| noted.entry);
    let keys: Vec<&Key> = near_keys.chain(entry).collect();
    let found = find(
        segments,
        &keys,
        shared.with(laid.draft.stream.within(laid.text(), quotation.inner)),
        laid,
    );
    let key = found
        .as_ref()
        .and_then(|(document, _)| Some(&laid.session.source(*document)?.key));
    let citation = attach::choose(&near, laid, quotation, key)
        .filter(|credited| noted.is_none() || belongs_in_notes(credited, laid, quotation, key))
        .filter(|credited| !is_carried || key.is_some_and(|key| credited.points_at(key)));
    let (cited, locator, secondary) = match (citation, noted) {
        (Some(credited), _) => {
            let cited: Vec<Key> = keys_of(credited, Some(Secondary)).cloned().collect();
            let secondary = has_secondary(credited);
            (cited, locator_of(credited, key), secondary)
        }
        (None, Some(_)) => {
            let locator = pages::beside(laid.text(), quotation);
            (entry.cloned().into_iter().collect(), locator, false)
        }
        (None, None) => (Vec::new(), None, false),
    };
    Looked {
        quotation,
        words: segments.iter().map(|segment| segment.forms.len()).sum(),
        forms: segments
            .iter()
            .map(|segment| segment.forms.clone())
            .collect(),
        citation,
        cited,
        locator,
        secondary,
        translated: remarks::is_translated(laid, quotation, citation),
        found,
    }
}

/// Whether a citation in the notes is that of a quotation: it stands in the same sentence and either
/// names the work that has the words or closes the quotation. Notes name other works in passing, but their
/// quotations are the entry's.
fn belongs_in_notes(
    credited: &ResolvedCitation,
    laid: &LaidDraft,
    quotation: &Quotation,
    has_words: Option<&Key>,
) -> bool {
    let range = credited.citation.range;
    let names_source = has_words.is_some_and(|key| credited.points_at(key));
    let behind = range.start().checked_sub(quotation.outer.end());
    let closes = behind.is_some_and(|distance| distance <= attach::CLOSE_BYTES);
    laid.around(quotation.outer, 0).overlaps(range) && (names_source || closes)
}

/// Asks for the works that were read, where a citation distinguishes them from those they quote.
struct Secondary;

fn has_secondary(credited: &ResolvedCitation) -> bool {
    credited.citation.cites.iter().any(remarks::is_secondary)
}

/// The references that a citation may mean.
fn keys_of(
    credited: &ResolvedCitation,
    read_only: Option<Secondary>,
) -> impl Iterator<Item = &Key> {
    let secondary = read_only.is_some() && has_secondary(credited);
    let cites = credited.citation.cites.iter().zip(&credited.resolved);
    cites
        .filter(move |(cite, _)| !secondary || remarks::is_secondary(cite))
        .flat_map(|(_, resolved)| resolved.keys())
}

/// The place named for the work that has the words; else that of the work which was read; else the first
/// named at all.
fn locator_of(credited: &ResolvedCitation, has_words: Option<&Key>) -> Option<Locator> {
    let cites: Vec<&Cite> = credited.citation.cites.iter().collect();
    let of = |is_meant: &dyn Fn(usize) -> bool| {
        let meant = cites.iter().enumerate().filter(|(at, _)| is_meant(*at));
        meant.filter_map(|(_, cite)| cite.locator.clone()).next()
    };
    let names_source = |at: usize| {
        let resolved = credited.resolved.get(at);
        has_words.is_some_and(|key| resolved.is_some_and(|it| it.keys().contains(key)))
    };
    let is_secondary = |at: usize| {
        cites
            .get(at)
            .is_some_and(|cite| remarks::is_secondary(cite))
    };
    // A work that has the words and is cited without a page has none, whatever the others have.
    if (0..cites.len()).any(names_source) && !has_secondary(credited) {
        return of(&names_source).or_else(|| shared_locator(&cites));
    }
    of(&names_source)
        .or_else(|| of(&is_secondary))
        .or_else(|| of(&|_| true))
}

/// The place at the end of a citation of several works by the same author, `(Vane, 1998, 2003, p. 4)`: only
/// the last of them has it, and it may be meant for any.
fn shared_locator(cites: &[&Cite]) -> Option<Locator> {
    let (last, others) = cites.split_last()?;
    let others = others.iter().any(|cite| cite.locator.is_some());
    last.locator.clone().filter(|_| !others)
}

/// Whether the words of a quotation tell where they are from: an everyday phrase in quotation marks stands in many texts, and a
/// phrase like it in more.
fn tells(segments: &[Segment], is_exact: bool, lexicon: &Lexicon) -> bool {
    let forms: Vec<&String> = segments.iter().flat_map(|segment| &segment.forms).collect();
    let known = forms.iter().filter_map(|form| lexicon.find(form));
    let content = known.filter(|form| lexicon.is_content(*form));
    let mut stems: Vec<_> = content.map(|form| lexicon.stem(form)).collect();
    stems.sort_unstable();
    stems.dedup();
    let weight: f32 = stems.into_iter().map(|stem| lexicon.weight(stem)).sum();
    let least = if is_exact {
        CHANCE_WEIGHT
    } else {
        TELLING_WEIGHT
    };
    weight >= least || is_exact && forms.len() >= CERTAIN_WORDS
}

/// The document that has the words: exact before altered, cited works before others. Where the cited work
/// is not stored, another one has the words only if it has them exactly: with changes they are most likely
/// just alike.
fn find(
    segments: &[Segment],
    cited: &[&Key],
    sharing: Vec<usize>,
    laid: &LaidDraft,
) -> Option<(usize, Match)> {
    let mut documents: Vec<usize> = Vec::new();
    for document in cited.iter().flat_map(|key| laid.session.documents_of(key)) {
        if !documents.contains(&document) {
            documents.push(document);
        }
    }
    let documents_cited = documents.clone();
    let of_cited = documents.len();
    let only_exact = of_cited == 0 && !cited.is_empty();
    for document in sharing {
        if !documents.contains(&document) {
            documents.push(document);
        }
    }
    let library = &laid.session.library;
    let matches = documents.into_iter().filter_map(|document| {
        let stored = Stored {
            document: library.documents.get(document)?,
            lexicon: &laid.draft.lexicon,
        };
        let found = look_up(segments, stored)?;
        let is_exact = matches!(found, Match::Exact(_));
        let is_cited = documents_cited.contains(&document);
        let is_tied = is_cited || tells(segments, is_exact, &laid.draft.lexicon);
        (is_tied && (is_exact || !only_exact)).then_some((document, found))
    });
    matches.min_by_key(|(_, found)| !matches!(found, Match::Exact(_)))
}
