//! The decisions of a review, and whether each still holds in the drafts and notes that were checked.

use std::collections::BTreeMap;

use super::CheckReport;
use super::making_decisions::Candidates;
use super::notes::NotesReport;
use crate::review::{Decision, Review};

/// Whether a decision still holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum State {
    /// A finding is settled by it.
    Holds {
        /// The file.
        file: String,
        /// The line of its text.
        line: usize,
    },
    /// Its passage has changed; the finding of this ID resembles it.
    Changed {
        /// The ID.
        now: String,
    },
    /// Its draft was looked at and has no such passage any more.
    Gone,
    /// Its draft was not looked at.
    NotLookedAt,
}

/// The list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DecisionList {
    /// Every decision in the order of the file, and whether it holds.
    pub decisions: Vec<(Decision, State)>,
    /// The shared list of fixed expressions.
    pub terms: Vec<String>,
}

impl DecisionList {
    /// The list, from a check of drafts and one of the notes.
    #[must_use]
    pub fn of(review: &Review, report: &CheckReport, notes: Option<&NotesReport>) -> Self {
        let mut states: BTreeMap<&str, State> = BTreeMap::new();
        for lapsed in report.drafts.iter().flat_map(|draft| &draft.lapsed) {
            let now = lapsed.now.clone();
            let state = State::Changed { now };
            states.entry(&lapsed.decision).or_insert(state);
        }
        // That it holds somewhere outweighs a change elsewhere.
        for candidate in Candidates::of(review, report, notes).all {
            if let Some(settled) = &candidate.finding.settled {
                let line = candidate.finding.draft.line;
                let file = candidate.file;
                states.insert(&settled.decision, State::Holds { file, line });
            }
        }
        let drafts = report
            .drafts
            .iter()
            .map(|draft| review.name_of(&draft.path));
        let entries = notes.into_iter().flat_map(|notes| &notes.entries);
        let entries = entries.map(|entry| review.name_of(&review.root.join(&entry.path)));
        let looked_at: Vec<String> = drafts.chain(entries).collect();
        let mut state_of = |decision: &Decision| match states.remove(decision.name().as_str()) {
            Some(state) => state,
            None if looked_at.contains(&decision.draft) => State::Gone,
            None => State::NotLookedAt,
        };
        let decisions = review.decisions.all().iter();
        Self {
            decisions: decisions.map(|d| (d.clone(), state_of(d))).collect(),
            terms: review.shared_terms.clone(),
        }
    }
}
