//! The types of the report as the contract names their fields. They borrow from the report and are made
//! one finding at a time.

use std::path::Path;

use serde::{Serialize, Serializer};

use super::places::{DraftPlaceForm, NoteForm, SharedForm, SourceForm};
use super::since::SinceForm;
use super::trail::TrailForm;
use super::{FORMAT, VERSION};
use crate::findings::applying_decisions::Lapsed;
use crate::findings::{
    CheckReport, Credit, CreditState, DraftReport, Evidence, Explained, Finding, Settled,
};
use crate::overlap::{Degree, Measures};
use crate::paths::portable;
use crate::review::{Key, LeftOut};

/// A share or position, to four decimals.
pub(in crate::report) fn rounded(number: f64) -> f64 {
    // Adding zero turns a negative zero into a plain one.
    (number * 10_000.0).round() / 10_000.0 + 0.0
}

#[derive(Serialize)]
pub(super) struct DocumentForm<'a> {
    format: &'static str,
    version: u32,
    review: ReviewForm,
    #[serde(serialize_with = "drafts")]
    drafts: &'a [DraftReport],
    left_out: Vec<LeftOutForm<'a>>,
}

impl<'a> DocumentForm<'a> {
    pub(super) fn of(report: &'a CheckReport) -> Self {
        Self {
            format: FORMAT,
            version: VERSION,
            review: ReviewForm {
                path: shown(&report.review),
                sources: report.sources,
                source_words: report.source_words,
                entries: report.entries,
            },
            drafts: &report.drafts,
            left_out: report.left_out.iter().map(LeftOutForm::of).collect(),
        }
    }
}

fn drafts<S: Serializer>(drafts: &[DraftReport], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(drafts.iter().map(DraftForm::of))
}

fn findings<S: Serializer>(findings: &[Finding], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(findings.iter().map(FindingForm::of))
}

/// A path as text. Bytes that are no Unicode become replacement characters: JSON knows no others.
pub(in crate::report) fn shown(path: &Path) -> String {
    portable(path)
}

#[derive(Serialize)]
pub(super) struct ReviewForm {
    pub(super) path: String,
    pub(super) sources: usize,
    pub(super) source_words: usize,
    pub(super) entries: usize,
}

/// What was left out and why, as JSON.
#[derive(Serialize)]
pub(in crate::report) struct LeftOutForm<'a> {
    what: &'a str,
    why: String,
}

impl<'a> LeftOutForm<'a> {
    pub(in crate::report) fn of(item: &'a LeftOut) -> Self {
        Self {
            what: &item.what,
            why: item.why.to_string(),
        }
    }
}

#[derive(Serialize)]
struct DraftForm<'a> {
    path: String,
    words: usize,
    quoted_words: usize,
    #[serde(serialize_with = "findings")]
    findings: &'a [Finding],
    explained: Vec<ExplainedForm<'a>>,
    lapsed: Vec<LapsedForm<'a>>,
    since: Option<SinceForm<'a>>,
    remarks: &'a [String],
}

impl<'a> DraftForm<'a> {
    fn of(draft: &'a DraftReport) -> Self {
        Self {
            path: shown(&draft.path),
            words: draft.words,
            quoted_words: draft.quoted_words,
            findings: &draft.findings,
            explained: draft.explained.iter().map(ExplainedForm::of).collect(),
            lapsed: draft.lapsed.iter().map(LapsedForm::of).collect(),
            since: draft
                .since
                .as_ref()
                .map(|since| SinceForm::of(since, &draft.findings)),
            remarks: &draft.remarks,
        }
    }
}

#[derive(Serialize)]
struct LapsedForm<'a> {
    decision: &'a str,
    kind: &'a str,
    on: &'a str,
    because: &'a str,
    text: &'a str,
    now: &'a str,
}

impl<'a> LapsedForm<'a> {
    fn of(lapsed: &'a Lapsed) -> Self {
        Self {
            decision: &lapsed.decision,
            kind: &lapsed.kind,
            on: &lapsed.on,
            because: &lapsed.because,
            text: &lapsed.text,
            now: &lapsed.now,
        }
    }
}

#[derive(Serialize)]
pub(super) struct ExplainedForm<'a> {
    draft: DraftPlaceForm<'a>,
    source: &'a str,
    why: &'a str,
}

impl<'a> ExplainedForm<'a> {
    pub(super) fn of(explained: &'a Explained) -> Self {
        Self {
            draft: DraftPlaceForm::of(&explained.draft),
            source: explained.source.as_str(),
            why: &explained.why,
        }
    }
}

#[derive(Serialize)]
pub(super) struct FindingForm<'a> {
    id: &'a str,
    kind: &'static str,
    weight: &'static str,
    draft: DraftPlaceForm<'a>,
    source: Option<SourceForm<'a>>,
    note: Option<NoteForm<'a>>,
    trail: Option<TrailForm>,
    degree: Option<&'static str>,
    position: Option<f64>,
    measures: Option<MeasuresForm>,
    credit: Option<CreditForm<'a>>,
    shared: Vec<SharedForm>,
    differences: Vec<DifferenceForm<'a>>,
    also_in: Vec<&'a str>,
    advice: &'a str,
    settled: Option<SettledForm<'a>>,
}

impl<'a> FindingForm<'a> {
    pub(super) fn of(finding: &'a Finding) -> Self {
        let Evidence {
            shared,
            differences,
            also_in,
        } = &finding.evidence;
        let measures = finding.measures.as_ref();
        Self {
            id: &finding.id,
            kind: finding.kind.name(),
            weight: finding.weight.name(),
            draft: DraftPlaceForm::of(&finding.draft),
            source: finding.source.as_ref().map(SourceForm::of),
            note: finding.note.as_ref().map(NoteForm::of),
            trail: finding
                .note
                .as_ref()
                .map(|note| TrailForm::of(finding, note)),
            degree: finding.degree.map(Degree::name),
            position: measures.map(|measures| rounded(measures.position())),
            measures: measures.map(MeasuresForm::of),
            credit: finding.credit.as_ref().map(CreditForm::of),
            shared: shared.iter().map(SharedForm::of).collect(),
            differences: differences.iter().map(DifferenceForm::of).collect(),
            also_in: also_in.iter().map(Key::as_str).collect(),
            advice: &finding.advice,
            settled: finding.settled.as_ref().map(SettledForm::of),
        }
    }
}

/// The measures of a passage as JSON.
#[derive(Serialize)]
pub(in crate::report) struct MeasuresForm {
    words: usize,
    string_share: f64,
    longest_string: usize,
    content_words: usize,
    kept_content: f64,
    swapped: usize,
    order: f64,
    sequence: f64,
    stretch: usize,
    unique_share: Option<f64>,
}

impl MeasuresForm {
    pub(in crate::report) fn of(measures: &Measures) -> Self {
        Self {
            words: measures.words,
            string_share: rounded(measures.string_share),
            longest_string: measures.longest_string,
            content_words: measures.content_words,
            kept_content: rounded(measures.kept_content),
            swapped: measures.swapped,
            order: rounded(measures.order),
            sequence: rounded(measures.sequence),
            stretch: measures.stretch,
            unique_share: measures.unique_share.map(rounded),
        }
    }
}

#[derive(Serialize)]
struct CreditForm<'a> {
    state: &'static str,
    citations: &'a [String],
}

impl<'a> CreditForm<'a> {
    fn of(credit: &'a Credit) -> Self {
        Self {
            state: match credit.state {
                CreditState::Credited => "credited",
                CreditState::Elsewhere => "elsewhere",
                CreditState::None => "none",
            },
            citations: &credit.citations,
        }
    }
}

#[derive(Serialize)]
struct DifferenceForm<'a> {
    draft: &'a str,
    source: &'a str,
}

impl<'a> DifferenceForm<'a> {
    fn of((draft, source): &'a (String, String)) -> Self {
        Self { draft, source }
    }
}

#[derive(Serialize)]
struct SettledForm<'a> {
    because: &'a str,
    on: &'a str,
}

impl<'a> SettledForm<'a> {
    fn of(settled: &'a Settled) -> Self {
        Self {
            because: &settled.because,
            on: &settled.on,
        }
    }
}
