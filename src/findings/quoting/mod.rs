//! Quotations: whether each has its credit and its page, and whether its words are the source's.
//!
//! 1. A quotation's citation is found: the one that names the source which has the words, or else
//!    the nearest in its sentence (for a block quotation, inside it or before it).
//! 2. The words are looked up in the cited sources, then in those that share strings with it.
//! 3. What is missing, altered or misplaced becomes a finding each; a quotation with credit and right
//!    page is none.

mod attach;
pub(super) mod matching;
mod rules;
mod segments;

use crate::overlap::Overlap;
use crate::review::Key;
use crate::text::{Quotation, QuotationForm, WordRange};

use super::Finding;
use super::material::{Credited, Desk};
use matching::{Match, Stored, look_up};
use segments::Segment;

/// A quotation and all that is known of it.
#[derive(Debug)]
pub(super) struct Looked<'d> {
    quotation: &'d Quotation,
    /// Words inside the marks, citations left out.
    words: usize,
    /// The citation it belongs to.
    citation: Option<&'d Credited<'d>>,
    /// Keys the citation may mean.
    cited: Vec<Key>,
    /// The document that has its words, and how.
    found: Option<(usize, Match)>,
}

/// All findings on the quotations of a draft.
#[must_use]
pub fn judge_all(desk: &Desk<'_>, overlap: &Overlap) -> Vec<Finding> {
    let settings = &desk.shelf.review.settings;
    let references = desk.shelf.references.iter();
    let titles: Vec<Vec<String>> = references
        .map(|reference| segments::forms(&reference.title))
        .collect();
    let mut findings = Vec::new();
    for quotation in desk
        .text()
        .quotations
        .iter()
        .filter(|quotation| quotation.depth == 0)
    {
        let segments = segments::segments(desk.text(), quotation.inner);
        let words: usize = segments.iter().map(|segment| segment.forms.len()).sum();
        // Counted as the draft counts them, so that what is no copy for its marks is a quotation here.
        let marked = desk.draft.stream.within(desk.text(), quotation.inner).len();
        let is_quotation = marked >= settings.quotation_words
            || quotation.form == QuotationForm::Block && marked > 0;
        if !is_quotation || is_title(&titles, &segments) || desk.is_cited_title(quotation.outer) {
            continue;
        }
        let looked = look(quotation, &segments, words, desk, overlap);
        findings.extend(rules::judge(&looked, desk));
    }
    findings.extend(rules::heavily_quoted(desk));
    findings
}

fn look<'d>(
    quotation: &'d Quotation,
    segments: &[Segment],
    words: usize,
    desk: &'d Desk<'_>,
    overlap: &Overlap,
) -> Looked<'d> {
    let near = attach::near(desk, quotation);
    let mut documents: Vec<usize> = Vec::new();
    let stored = |credited: &&Credited<'_>| {
        let keys: Vec<&Key> = credited
            .resolved
            .iter()
            .flat_map(|resolved| resolved.keys())
            .collect();
        keys.into_iter()
            .flat_map(|key| desk.shelf.documents_of(key))
            .collect::<Vec<_>>()
    };
    for document in near
        .iter()
        .flat_map(stored)
        .chain(sharing(desk, quotation, overlap))
    {
        if !documents.contains(&document) {
            documents.push(document);
        }
    }
    let library = &desk.shelf.library;
    let matches = documents.into_iter().filter_map(|document| {
        let stored = &library.documents[document];
        let found = look_up(
            segments,
            Stored {
                document: stored,
                lexicon: &library.lexicon,
            },
        )?;
        Some((document, found))
    });
    // Exact before altered; among equals the order above: cited sources first.
    let found = matches.min_by_key(|(_, found)| matches!(found, Match::Altered(..)));
    let key = found
        .as_ref()
        .and_then(|(document, _)| Some(&desk.shelf.source(*document)?.key));
    let citation = attach::choose(&near, desk, quotation, key);
    Looked {
        quotation,
        words,
        citation,
        cited: citation.map_or_else(Vec::new, |credited| {
            credited
                .resolved
                .iter()
                .flat_map(|resolved| resolved.keys())
                .cloned()
                .collect()
        }),
        found,
    }
}

/// Sources that share strings with a quotation, those with the longest first.
fn sharing(desk: &Desk<'_>, quotation: &Quotation, overlap: &Overlap) -> Vec<usize> {
    let words = desk.draft.stream.within(desk.text(), quotation.inner);
    let mut sharing: Vec<(usize, usize)> = desk
        .shelf
        .sources()
        .filter_map(|document| {
            let runs = overlap.runs.get(document)?;
            // Runs are in order of the draft; those that could reach into the quotation start before its end.
            let before_end = runs.partition_point(|run| run.draft.start() < words.end());
            let shared = |run: &crate::overlap::strings::Run| run.draft.intersection(words).len();
            let longest = runs[..before_end].iter().map(shared).max().unwrap_or(0);
            (longest > 0).then_some((longest, document))
        })
        .collect();
    sharing.sort_by_key(|(longest, document)| (std::cmp::Reverse(*longest), *document));
    sharing.into_iter().map(|(_, document)| document).collect()
}

/// Whether the marked words are the title of a work of the review, or most of one.
fn is_title(titles: &[Vec<String>], segments: &[Segment]) -> bool {
    let marked: Vec<&str> = segments
        .iter()
        .flat_map(|segment| &segment.forms)
        .map(String::as_str)
        .collect();
    let is_in = |title: &Vec<String>| title.windows(marked.len()).any(|window| window == marked);
    !marked.is_empty() && titles.iter().any(is_in)
}

/// The range of one occurrence of a match.
fn places(found: &Match) -> &[WordRange] {
    match found {
        Match::Exact(places) => places,
        Match::Altered(place, _) => std::slice::from_ref(place),
    }
}
