//! A draft against its earlier version, as the contract names its fields.

use serde::Serialize;

use super::forms::shown;
use super::trail::ClosenessForm;
use crate::findings::Finding;
use crate::findings::since::{Past, Progress, Since};

#[derive(Serialize)]
pub(super) struct SinceForm<'a> {
    path: String,
    mended: Vec<PastForm<'a>>,
    still: Vec<&'a str>,
    changed: Vec<ChangedForm<'a>>,
    new: Vec<&'a str>,
}

#[derive(Serialize)]
struct ChangedForm<'a> {
    id: &'a str,
    was: PastForm<'a>,
}

#[derive(Serialize)]
struct PastForm<'a> {
    id: &'a str,
    kind: &'static str,
    closeness: Option<ClosenessForm>,
    line: usize,
    text: &'a str,
}

impl<'a> PastForm<'a> {
    fn of(past: &'a Past) -> Self {
        Self {
            id: &past.id,
            kind: past.kind.name(),
            closeness: past.closeness.map(ClosenessForm::of),
            line: past.line,
            text: &past.text,
        }
    }
}

impl<'a> SinceForm<'a> {
    pub(super) fn of(since: &'a Since, findings: &'a [Finding]) -> Self {
        let mut form = Self {
            path: shown(&since.path),
            mended: since.mended.iter().map(PastForm::of).collect(),
            still: Vec::new(),
            changed: Vec::new(),
            new: Vec::new(),
        };
        for (finding, progress) in findings.iter().zip(&since.progress) {
            let id = finding.id.as_str();
            match progress {
                Progress::Still => form.still.push(id),
                Progress::New => form.new.push(id),
                Progress::Changed(past) => form.changed.push(ChangedForm {
                    id,
                    was: PastForm::of(past),
                }),
            }
        }
        form
    }
}
