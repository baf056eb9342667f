//! The list of decisions, and whether each still holds.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::{SettleArgs, candidates};
use crate::commands::args::{Format, When};
use crate::commands::output::{Form, Output};
use crate::commands::{Failure, Outcome, look};
use crate::findings::CheckReport;
use crate::findings::notes::NotesReport;
use crate::reading::Disk;
use crate::report::decisions::{self, DecisionList, State};
use crate::review::{Decision, Review};

/// The list, from a check of the drafts and of the notes.
pub(super) fn made(
    review: &Review,
    report: &CheckReport,
    notes: Option<&NotesReport>,
) -> DecisionList {
    let mut states: BTreeMap<String, State> = BTreeMap::new();
    let mut looked_at: Vec<String> = Vec::new();
    for draft in &report.drafts {
        let file = review.name_of(&draft.path);
        for lapsed in &draft.lapsed {
            let now = lapsed.now.clone();
            let state = State::Changed { now };
            states.entry(lapsed.decision.clone()).or_insert(state);
        }
        looked_at.push(file);
    }
    for entry in notes.into_iter().flat_map(|notes| &notes.entries) {
        looked_at.push(review.name_of(&review.root.join(&entry.path)));
    }
    // That it holds somewhere outweighs a change elsewhere.
    for candidate in candidates(review, report, notes) {
        if let Some(settled) = &candidate.finding.settled {
            let line = candidate.finding.draft.line;
            let file = candidate.file;
            states.insert(settled.decision.clone(), State::Holds { file, line });
        }
    }
    let state_of = |decision: &Decision| match states.remove(&decision.name()) {
        Some(state) => state,
        None if looked_at.contains(&decision.draft) => State::Gone,
        None => State::NotLookedAt,
    };
    let mut state_of = state_of;
    let decisions = review.decisions.all().iter();
    DecisionList {
        decisions: decisions.map(|d| (d.clone(), state_of(d))).collect(),
        terms: review.shared_terms.clone(),
    }
}

/// Writes the list.
pub(super) fn write(
    args: &SettleArgs,
    list: &DecisionList,
    disk: &Arc<Disk>,
    review: &Review,
    colour: When,
) -> Result<Outcome, Failure> {
    let form = match args.format {
        Format::Json => Form::Json,
        Format::Terminal => Form::Text,
    };
    let output = Output::open(&args.out, form, disk, Some(review))?;
    output.write(|mut out| match args.format {
        Format::Json => decisions::write_json(list, &mut out),
        Format::Terminal => decisions::write(list, &look::look(colour, &args.out), &mut out),
    })?;
    Ok(Outcome::Clear)
}
