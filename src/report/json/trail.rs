//! The way of the wording from the source to the draft, as the contract names its fields.

use serde::Serialize;

use super::forms::rounded;
use crate::findings::trail::StayedClose;
use crate::findings::{Finding, NotePlace};
use crate::overlap::Degree;

/// The way of the wording, from the source on, and where it stayed close.
#[derive(Serialize)]
pub(super) struct TrailForm {
    steps: Vec<StepForm>,
    stayed_close: Option<&'static str>,
}

#[derive(Serialize)]
struct StepForm {
    from: &'static str,
    to: &'static str,
    degree: Option<&'static str>,
    position: Option<f64>,
}

impl TrailForm {
    pub(super) fn of(finding: &Finding, note: &NotePlace) -> Self {
        let step = |from, to, closeness: Option<(Degree, f64)>| StepForm {
            from,
            to,
            degree: closeness.map(|(degree, _)| degree.name()),
            position: closeness.map(|(_, position)| rounded(position)),
        };
        let first = finding
            .source
            .is_some()
            .then(|| step("source", "note", note.from_source));
        let steps = first
            .into_iter()
            .chain([step("note", "draft", note.to_draft)]);
        Self {
            steps: steps.collect(),
            stayed_close: finding.stayed_close().map(StayedClose::name),
        }
    }
}

#[derive(Serialize)]
pub(super) struct ClosenessForm {
    degree: &'static str,
    position: f64,
}

impl ClosenessForm {
    pub(super) fn of((degree, position): (Degree, f64)) -> Self {
        Self {
            degree: degree.name(),
            position: rounded(position),
        }
    }
}
