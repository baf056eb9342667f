//! What is said of a quotation once it has been looked up.

use crate::findings::laid::LaidDraft;
use crate::findings::{Credit, CreditState, Kind, Observation, SourcePlace, Weight};
use crate::review::{Key, ReferenceKind};
use crate::text::{ByteRange, CitationForm, Locator, QuotationForm};

use super::joined::Joined;
use super::pages::{PageCheck, Pages, page_words};
use super::slips::{Slip, gravest};
use super::{Looked, Match, unpaged};

/// All findings on one quotation.
pub(super) fn judge(looked: &Looked<'_>, laid: &LaidDraft) -> Vec<Observation> {
    let reported = Told { looked, laid };
    let mut findings = Vec::new();
    match looked.citation {
        None => findings.push(reported.without_credit()),
        Some(_) if reported.is_elsewhere() => findings.push(reported.credit_elsewhere()),
        Some(_) if looked.found.is_none() && !looked.translated => {
            findings.push(reported.not_found())
        }
        Some(_) => {}
    }
    if looked.citation.is_some() && reported.locator().is_none() {
        findings.extend(reported.without_page());
    }
    match &looked.found {
        // The words of a translation are the writer's; where they are near some source it is by chance.
        _ if looked.translated => {}
        Some((_, Match::Altered(_, differences))) => findings.push(reported.altered(differences)),
        Some((_, Match::Joined(joined))) => findings.push(reported.joined(joined)),
        Some((_, Match::Exact(_))) | None => {}
    }
    findings.extend(reported.page_mismatch());
    findings.extend(reported.long_inline());
    findings
}

struct Told<'l, 'd> {
    looked: &'l Looked<'d>,
    laid: &'l LaidDraft,
}

impl Told<'_, '_> {
    fn key(&self) -> Option<&Key> {
        let (document, _) = self.looked.found.as_ref()?;
        Some(&self.laid.session.source(*document)?.key)
    }

    fn name(&self) -> String {
        self.key()
            .map_or_else(String::new, |key| self.laid.name(key))
    }

    /// Whether the words are another work's than the one cited, although the cited one may be stored.
    fn is_elsewhere(&self) -> bool {
        let exact = matches!(self.looked.found, Some((_, Match::Exact(_))));
        exact
            && !self.looked.cited.is_empty()
            && self
                .key()
                .is_some_and(|key| !self.looked.cited.contains(key))
    }

    /// Whether a text of a cited work is stored.
    fn is_cited_stored(&self) -> bool {
        let session = &self.laid.session;
        let mut cited = self.looked.cited.iter();
        cited.any(|key| session.has_text(key))
    }

    fn locator(&self) -> Option<&Locator> {
        self.looked.locator.as_ref()
    }

    fn source(&self) -> Option<SourcePlace> {
        let (document, found) = self.looked.found.as_ref()?;
        self.laid.source_place(*document, *found.places().first()?)
    }

    fn pages(&self) -> Vec<Pages> {
        self.looked.pages(&self.laid.session)
    }

    fn finding(&self, kind: Kind, weight: Weight, advice: String) -> Observation {
        let state = match (self.looked.citation, self.key()) {
            (None, _) => CreditState::None,
            (Some(credited), Some(key)) if !credited.points_at(key) => CreditState::Elsewhere,
            _ => CreditState::Credited,
        };
        let written = |range: ByteRange| self.laid.text().text.slice(range).to_owned();
        Observation {
            source: self.source(),
            credit: Some(Credit {
                state,
                citations: self
                    .looked
                    .citation
                    .map(|credited| written(credited.citation.range))
                    .into_iter()
                    .collect(),
            }),
            ..Observation::new(
                kind,
                weight,
                self.laid.place(self.looked.quotation.outer),
                advice,
            )
        }
    }

    fn without_credit(&self) -> Observation {
        let (weight, advice) = match self.key() {
            Some(_) => (
                Weight::Act,
                {
                    let page = self.page().map_or_else(String::new, |page| format!(", {page}"));
                    format!("These words are from {}{page}. Add the citation with the page.", self.name())
                },
            ),
            None => (
                Weight::Look,
                "No citation stands near this quotation, and its words were not found in the stored sources. Say whose words they are.".to_owned(),
            ),
        };
        self.finding(Kind::QuotationWithoutCredit, weight, advice)
    }

    fn credit_elsewhere(&self) -> Observation {
        let page = self
            .page()
            .map_or_else(String::new, |page| format!(" ({page})"));
        let name = self.name();
        if self.is_cited_stored() {
            let advice = format!(
                "The stored text of {name} has exactly these words{page}; check which work the citation should name."
            );
            return self.finding(Kind::CreditElsewhere, Weight::Act, advice);
        }
        let advice = format!(
            "The cited work is not stored, and the text of {name} has exactly these words{page}. Check which work the citation should name; if one quotes the other, say so (as cited in)."
        );
        self.finding(Kind::CreditElsewhere, Weight::Look, advice)
    }

    fn not_found(&self) -> Observation {
        let stored = |key: &&Key| self.laid.session.has_text(key);
        let (weight, advice) = match self.looked.cited.iter().find(stored) {
            Some(key) => (
                Weight::Look,
                format!("The stored text of {} does not have these words. It may be an excerpt or another edition; check the quotation against the original.", self.laid.name(key)),
            ),
            None => (
                Weight::Know,
                "The cited work is not among the stored sources, so the wording could not be checked. Store its text, or check it against the original.".to_owned(),
            ),
        };
        self.finding(Kind::QuotationNotFound, weight, advice)
    }

    /// A quotation without a locator. A web page has no page to give; notes, as style guides have them, name no other place
    /// in it either.
    fn without_page(&self) -> Option<Observation> {
        let is_online = self.is_online();
        let in_note = self
            .looked
            .citation
            .is_some_and(|cited| cited.citation.form == CitationForm::Note);
        let advice = match (self.page(), self.unpaged_place()) {
            (Some(page), _) => format!("Add the page: the stored text has these words on {page}."),
            (None, Some(_)) if is_online && in_note => return None,
            (None, Some(place)) if is_online => {
                format!("A web page has no page numbers; say where the words stand: {place}.")
            }
            (None, Some(place)) => format!(
                "Add the page, or where the source has no pages the place: the stored text names none and has these words in {place}."
            ),
            (None, None) => {
                "Add the page, or a section or paragraph where the source has no pages.".to_owned()
            }
        };
        let weight = match is_online {
            true => Weight::Look,
            false => Weight::Act,
        };
        Some(self.finding(Kind::QuotationWithoutPage, weight, advice))
    }

    /// Whether the words were found in a text without pages of a work that is neither printed in a journal nor a book.
    fn is_online(&self) -> bool {
        let reference = self.key().and_then(|key| self.laid.references.get(key));
        self.unpaged_place().is_some()
            && reference.is_some_and(|reference| {
                reference.kind == ReferenceKind::Other && reference.pages.is_none()
            })
    }

    /// The place of the words where their text names no page at all.
    fn unpaged_place(&self) -> Option<String> {
        let (document, _) = self.looked.found.as_ref()?;
        let text = &self.laid.session.source(*document)?.text.text;
        let source = self.source()?;
        let is_unpaged = text.pages().is_empty();
        is_unpaged.then(|| unpaged::place(text, source.range))
    }

    fn altered(&self, differences: &[(String, String)]) -> Observation {
        let (weight, advice) = match gravest(differences) {
            Slip::Spelling => (
                Weight::Look,
                "Only the spelling differs from the source, perhaps through a spelling checker. A quotation keeps the spelling of its source.",
            ),
            Slip::Corrected => (
                Weight::Look,
                "The source seems to have a misprint here (or its scan a slip), and the quotation corrects it. Check the original; where the misprint is its own, keep it and add [sic], or follow your style guide on silent corrections.",
            ),
            Slip::Mistyped => (
                Weight::Act,
                "A word of the source seems to be mistyped here. Restore the source's spelling.",
            ),
            Slip::Words => (
                Weight::Act,
                "The words inside the marks differ from the source. Restore the source's wording, or show the change: brackets for what you put in, an ellipsis for what you left out.",
            ),
        };
        let mut finding = self.finding(
            Kind::AlteredQuotation,
            weight,
            format!("{}{advice}", self.in_another()),
        );
        finding.evidence.differences = differences.to_vec();
        finding
    }

    /// Says of words that are not quite another work's which one that is.
    fn in_another(&self) -> String {
        let Some(key) = self.key().filter(|key| !self.looked.cited.contains(key)) else {
            return String::new();
        };
        if self.looked.cited.is_empty() {
            return String::new();
        }
        let name = self.laid.name(key);
        format!(
            "Not the cited work but {name} has words like these; check which one the citation should name. "
        )
    }

    fn joined(&self, joined: &Joined) -> Observation {
        let pages: Vec<String> = self.pages().iter().map(page_words).collect();
        let pages = if pages.len() == joined.places.len() {
            format!(" ({})", pages.join(" and "))
        } else {
            String::new()
        };
        let number = if joined.places.len() == 2 {
            "two"
        } else {
            "several"
        };
        let (weight, notice) = if joined.with_notice {
            (
                Weight::Look,
                "An ellipsis stands for words left out within one passage, not for the way from one passage to another.",
            )
        } else {
            (Weight::Act, "Nothing in the quotation says so.")
        };
        let advice = format!(
            "{}The source has these words at {number} places{pages}. {notice} Give them as {number} quotations, each with its page.",
            self.in_another()
        );
        self.finding(Kind::AlteredQuotation, weight, advice)
    }

    /// `p. 113` where the page is known.
    fn page(&self) -> Option<String> {
        self.pages().first().map(page_words)
    }

    fn page_mismatch(&self) -> Option<Observation> {
        let check = self.looked.page_check(&self.laid.session);
        let written = &self.locator()?.written;
        let found = self.pages();
        let joined = matches!(self.looked.found, Some((_, Match::Joined(_))));
        let (weight, advice) = match check {
            PageCheck::Wrong => (
                Weight::Act,
                format!(
                    "The citation says {written}, but the stored text has these words on {}. Correct the page, or check which edition you quote.",
                    self.page()?
                ),
            ),
            // That they stand at several places is reported already, with the page of each.
            PageCheck::Partly if joined => return None,
            PageCheck::Partly => (
                Weight::Look,
                self.runs_over(written, found.iter().find(|(first, last)| first != last)?),
            ),
            PageCheck::Right | PageCheck::Missing | PageCheck::Unknown => return None,
        };
        Some(self.finding(Kind::PageMismatch, weight, advice))
    }

    /// What to say of words of which only some stand on the cited page.
    fn runs_over(&self, written: &str, pages: &Pages) -> String {
        let (first, last) = pages;
        let starts = self
            .locator()
            .is_some_and(|locator| locator.pages_cover(first, first));
        let way = if starts {
            format!("begin there and run over to p. {last}")
        } else {
            format!("begin before, on p. {first}")
        };
        format!(
            "The citation says {written}; the words {way}. Cite both pages: {}.",
            page_words(pages)
        )
    }

    fn long_inline(&self) -> Option<Observation> {
        let limit = self.laid.session.review.settings.long_quotation_words;
        if self.looked.quotation.form != QuotationForm::Inline || self.looked.words < limit {
            return None;
        }
        let advice = format!(
            "This quotation has {} words; many styles set quotations of {limit} words and more off as a block without marks. Set it off, or quote less of it.",
            self.looked.words
        );
        Some(self.finding(Kind::LongQuotationInline, Weight::Know, advice))
    }
}

/// Whether the share of quoted words is above the setting, reported at the draft's longest quotation.
pub(super) fn heavily_quoted(laid: &LaidDraft) -> Option<Observation> {
    let limit = laid.session.review.settings.heavily_quoted_percent?;
    let quoted = laid.draft.quoted.iter().filter(|quoted| **quoted).count();
    let words = laid.draft.quoted.len();
    if quoted * 100 <= usize::from(limit) * words {
        return None;
    }
    let longest = laid
        .text()
        .quotations
        .iter()
        .max_by_key(|quotation| quotation.outer.len())?;
    let advice = format!(
        "{quoted} of {words} words of prose stand in quotation marks, more than the {limit} % set in the settings. Say in your own words what need not be quoted."
    );
    Some(Observation::new(
        Kind::HeavilyQuoted,
        Weight::Know,
        laid.place(longest.outer),
        advice,
    ))
}
