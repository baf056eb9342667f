//! The check of one draft: every family of rules is asked in turn, and what they find is named and settled.

use crate::overlap::Draft;

use super::laid::LaidDraft;
use super::passage::Rules;
use super::repeats::Chapter;
use super::trail::{Trails, lost_marks, quoted_note};
use super::{BlockWords, DraftReport, id, lists, quoting, repeats, settling};

impl LaidDraft {
    /// What is found in the draft.
    #[must_use]
    pub fn report(&self) -> DraftReport {
        self.report_as(None)
    }

    /// What is found in the draft, and what it repeats of the chapters before it.
    #[must_use]
    pub fn report_as(&self, chapter: Option<Chapter<'_>>) -> DraftReport {
        let session = &self.session;
        let rules = Rules {
            laid: self,
            trails: Trails::new(self.passages(session.notes())),
            lost: lost_marks(self),
        };
        let (mut findings, explained) = rules.judge_all(&self.passages(session.sources()));
        let mut quoted = quoting::judge_all(self);
        for finding in &mut quoted {
            let source = finding.source.as_ref();
            finding.note = source.and_then(|source| quoted_note(self, finding.draft.range, source));
        }
        findings.extend(quoted);
        findings.extend(lists::judge_all(self));
        if let Some(chapter) = chapter {
            findings.extend(repeats::judge_all(self, chapter, &findings));
        }
        findings.sort_by_key(|finding| (finding.draft.range, finding.kind));
        id::name_all(&mut findings);
        let file = session.review.name_of(&self.path);
        let text = &self.draft.text;
        let decisions = &session.review.decisions;
        let lapsed = settling::settle_all(decisions, &file, &text.text, &mut findings);
        DraftReport {
            path: self.path.clone(),
            words: self.draft.stream.len(),
            quoted_words: self.draft.quoted.iter().filter(|quoted| **quoted).count(),
            findings,
            explained,
            lapsed,
            since: None,
            remarks: self.remarks.clone(),
            bytes: self.bytes.clone(),
            text: text.clone(),
            block_words: block_words(&self.draft),
        }
    }
}

/// The compared words of each block of the draft, and how many of them are quoted.
fn block_words(draft: &Draft) -> Vec<BlockWords> {
    let mut counts = vec![BlockWords::default(); draft.text.text.blocks().len()];
    for (sentence, block) in draft.stream.sentences.iter().zip(&draft.stream.blocks) {
        let quoted = draft.quoted.get(sentence.as_range()).unwrap_or_default();
        if let Some(count) = counts.get_mut(*block as usize) {
            count.words += sentence.len();
            count.quoted += quoted.iter().filter(|quoted| **quoted).count();
        }
    }
    counts
}
