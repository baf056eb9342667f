//! What is said of a quotation once it has been looked up.

use crate::findings::material::Desk;
use crate::findings::{Credit, CreditState, Finding, Kind, SourcePlace, Weight};
use crate::review::Key;
use crate::text::{ByteRange, Locator, LocatorUnit, PageLabel, QuotationForm};

use super::{Looked, Match, places};

/// All findings on one quotation.
pub fn judge(looked: &Looked<'_>, desk: &Desk<'_>) -> Vec<Finding> {
    let told = Told { looked, desk };
    let mut findings = Vec::new();
    match looked.citation {
        None => findings.push(told.without_credit()),
        Some(_) if told.is_elsewhere() => findings.push(told.credit_elsewhere()),
        Some(_) if looked.found.is_none() => findings.push(told.not_found()),
        Some(_) => {}
    }
    if looked.citation.is_some() && told.locator().is_none() {
        findings.push(told.without_page());
    }
    if let Some((_, Match::Altered(_, differences))) = &looked.found {
        findings.push(told.altered(differences));
    }
    findings.extend(told.page_mismatch());
    findings.extend(told.long_inline());
    findings
}

struct Told<'l, 'd> {
    looked: &'l Looked<'d>,
    desk: &'l Desk<'l>,
}

impl Told<'_, '_> {
    fn key(&self) -> Option<&Key> {
        let (document, _) = self.looked.found.as_ref()?;
        Some(&self.desk.shelf.source(*document)?.key)
    }

    fn name(&self) -> String {
        self.key()
            .map_or_else(String::new, |key| self.desk.shelf.name(key))
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

    fn locator(&self) -> Option<&Locator> {
        let cites = &self.looked.citation?.citation.cites;
        cites.iter().find_map(|cite| cite.locator.as_ref())
    }

    fn source(&self) -> Option<SourcePlace> {
        let (document, found) = self.looked.found.as_ref()?;
        self.desk
            .shelf
            .source_place(*document, *places(found).first()?)
    }

    /// First and last page of every place where the source has the words; empty where it has no pages.
    fn pages(&self) -> Vec<(PageLabel, PageLabel)> {
        let Some((document, found)) = &self.looked.found else {
            return Vec::new();
        };
        let stored = &self.desk.shelf.library.documents[*document];
        let pages = stored.text.text.pages();
        places(found)
            .iter()
            .filter_map(|place| pages.of(stored.stream.bytes(stored.text, *place)))
            .map(|(first, last)| (first.clone(), last.clone()))
            .collect()
    }

    fn finding(&self, kind: Kind, weight: Weight, advice: String) -> Finding {
        let state = match (self.looked.citation, self.key()) {
            (None, _) => CreditState::None,
            (Some(credited), Some(key)) if !credited.points_at(key) => CreditState::Elsewhere,
            _ => CreditState::Credited,
        };
        let written = |range: ByteRange| self.desk.text().text.slice(range).to_owned();
        Finding {
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
            ..Finding::new(
                kind,
                weight,
                self.desk.place(self.looked.quotation.outer),
                advice,
            )
        }
    }

    fn without_credit(&self) -> Finding {
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

    fn credit_elsewhere(&self) -> Finding {
        let page = self
            .page()
            .map_or_else(String::new, |page| format!(" ({page})"));
        let advice = format!(
            "The stored text of {} has exactly these words{page}; check which work the citation should name.",
            self.name(),
        );
        self.finding(Kind::CreditElsewhere, Weight::Act, advice)
    }

    fn not_found(&self) -> Finding {
        let stored = |key: &&Key| self.desk.shelf.has_text(key);
        let (weight, advice) = match self.looked.cited.iter().find(stored) {
            Some(key) => (
                Weight::Look,
                format!("The stored text of {} does not have these words. It may be an excerpt or another edition; check the quotation against the original.", self.desk.shelf.name(key)),
            ),
            None => (
                Weight::Know,
                "The cited work is not among the stored sources, so the wording could not be checked. Store its text, or check it against the original.".to_owned(),
            ),
        };
        self.finding(Kind::QuotationNotFound, weight, advice)
    }

    fn without_page(&self) -> Finding {
        let advice = match self.page() {
            None => "Add the page, or a paragraph number where the source has no pages.".to_owned(),
            Some(page) => format!("Add the page: the stored text has these words on {page}."),
        };
        self.finding(Kind::QuotationWithoutPage, Weight::Act, advice)
    }

    fn altered(&self, differences: &[(String, String)]) -> Finding {
        let advice = "The words inside the marks differ from the source. Restore the source's wording, or show the change: brackets for what you put in, an ellipsis for what you left out.";
        let mut finding = self.finding(Kind::AlteredQuotation, Weight::Act, advice.to_owned());
        finding.evidence.differences = differences.to_vec();
        finding
    }

    /// `p. 113` where the page is known.
    fn page(&self) -> Option<String> {
        self.pages().first().map(page_words)
    }

    fn page_mismatch(&self) -> Option<Finding> {
        let locator = self
            .locator()
            .filter(|locator| locator.unit == LocatorUnit::Page)?;
        let pages = self.pages();
        let cites_it = self
            .key()
            .is_some_and(|key| self.looked.cited.contains(key));
        if !cites_it
            || pages.is_empty()
            || pages
                .iter()
                .any(|(first, last)| locator.pages_cover(first, last))
        {
            return None;
        }
        let advice = format!(
            "The citation says {}, but the stored text has these words on {}. Correct the page, or check which edition you quote.",
            locator.written,
            self.page().unwrap_or_default()
        );
        Some(self.finding(Kind::PageMismatch, Weight::Act, advice))
    }

    fn long_inline(&self) -> Option<Finding> {
        let limit = self.desk.shelf.review.settings.long_quotation_words;
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

/// `p. 113` or `pp. 113–114`.
fn page_words((first, last): &(PageLabel, PageLabel)) -> String {
    if first == last {
        format!("p. {first}")
    } else {
        format!("pp. {first}–{last}")
    }
}

/// Whether the share of quoted words is above the setting, told at the draft's longest quotation.
pub fn heavily_quoted(desk: &Desk<'_>) -> Option<Finding> {
    let limit = desk.shelf.review.settings.heavily_quoted_percent?;
    let quoted = desk.draft.quoted.iter().filter(|quoted| **quoted).count();
    let words = desk.draft.quoted.len();
    if quoted * 100 <= usize::from(limit) * words {
        return None;
    }
    let longest = desk
        .text()
        .quotations
        .iter()
        .max_by_key(|quotation| quotation.outer.len())?;
    let advice = format!(
        "{quoted} of {words} words of prose stand in quotation marks, more than the {limit} % set in the settings. Say in your own words what need not be quoted."
    );
    Some(Finding::new(
        Kind::HeavilyQuoted,
        Weight::Know,
        desk.place(longest.outer),
        advice,
    ))
}
