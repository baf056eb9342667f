//! Settling a finding and taking that back: the decision goes to the review's file, and the report that is on the page is changed
//! in that one place, so that nothing has to be compared again.

use super::{Desk, Failed};
use crate::findings::{
    Candidates, DecidingError, Finding, NotesReport, Settled, decision_meant, decisions_on,
};
use crate::review::{Decision, Decisions, changed_decisions};

impl Desk {
    /// Settles a finding with a reason.
    pub(super) fn settle(&mut self, id: &str, because: &str, on: &str) -> Result<(), Failed> {
        let because = because.trim();
        if because.is_empty() {
            return Err(Failed::new(
                "say in a few words why this may stand, so that you still know next year",
            ));
        }
        let opened = self.opened()?;
        let report = opened.report.as_ref();
        let empty;
        let report = match report {
            Some(report) => report,
            None => {
                empty = without_drafts(opened.session.review.root.clone());
                &empty
            }
        };
        let candidates = Candidates::of(&opened.session.review, report, opened.notes.as_ref());
        let chosen = candidates.choose(&[id.to_owned()])?;
        let before = self.decisions.clone();
        let mut new = Vec::new();
        let now = self.change(|there| {
            new = decisions_on(&chosen, (because, on), there, &before)?;
            Ok((new.clone(), Vec::new()))
        })?;
        self.decisions = now;
        if let Some(decision) = new.first() {
            let settled = Settled {
                because: decision.because.clone(),
                on: decision.on.clone(),
                decision: decision.name(),
            };
            self.mark(|finding| finding.id == id, &Some(settled));
        }
        self.revision += 1;
        Ok(())
    }

    /// Takes a decision back.
    pub(super) fn undo(&mut self, name: &str) -> Result<(), Failed> {
        let mut undone = String::new();
        let now = self.change(|there| {
            undone = decision_meant(name, there)?.name();
            Ok((Vec::new(), vec![undone.clone()]))
        })?;
        self.decisions = now;
        let of_it = |finding: &Finding| {
            let settled = finding.settled.as_ref();
            settled.is_some_and(|settled| settled.decision == undone)
        };
        self.mark(of_it, &None);
        self.revision += 1;
        Ok(())
    }

    /// Changes the decisions where they are kept.
    fn change(
        &self,
        decide: impl FnOnce(&Decisions) -> Result<(Vec<Decision>, Vec<String>), DecidingError>,
    ) -> Result<Decisions, Failed> {
        #[cfg(feature = "disk")]
        if self.is_folder() {
            return Ok(crate::review::change(&self.root, decide)?);
        }
        let path = self.decisions_path();
        let old = self
            .store
            .with(|files| files.remove(&path))
            .unwrap_or_default();
        let text = String::from_utf8_lossy(&old).into_owned();
        let changed = changed_decisions(&path, &text, decide);
        let content = match &changed {
            Ok((content, _)) => content.clone().into_bytes(),
            Err(_) => old,
        };
        if !content.is_empty() {
            self.store.with(|files| files.insert(&path, content));
        }
        Ok(changed?.1)
    }

    fn mark(&mut self, is_it: impl Fn(&Finding) -> bool, settled: &Option<Settled>) {
        let Some(opened) = &mut self.opened else {
            return;
        };
        let drafts = opened
            .report
            .iter_mut()
            .flat_map(|report| &mut report.drafts);
        let notes = opened.notes.iter_mut().flat_map(|notes| &mut notes.entries);
        let findings = drafts
            .flat_map(|draft| &mut draft.findings)
            .chain(notes.flat_map(|entry| &mut entry.findings));
        for finding in findings.filter(|finding| is_it(finding)) {
            finding.settled.clone_from(settled);
        }
    }
}

/// A report of no draft, so that findings of the notes can be chosen by themselves.
fn without_drafts(review: std::path::PathBuf) -> crate::findings::CheckReport {
    crate::findings::CheckReport {
        review,
        sources: 0,
        source_words: 0,
        compared: Vec::new(),
        entries: 0,
        drafts: Vec::new(),
        left_out: Vec::new(),
        unread: Vec::new(),
    }
}

/// Settles in a report of the notes what was decided since the review was opened.
pub(super) fn settle_in(notes: &mut NotesReport, decisions: &Decisions) {
    for finding in notes
        .entries
        .iter_mut()
        .flat_map(|entry| &mut entry.findings)
    {
        let mut all = decisions.all().iter();
        let name = |decision: &&Decision| {
            finding.id.starts_with(&decision.id) && decision.place == finding.surroundings
        };
        finding.settled = all.find(name).map(|decision| Settled {
            because: decision.because.clone(),
            on: decision.on.clone(),
            decision: decision.name(),
        });
    }
}
