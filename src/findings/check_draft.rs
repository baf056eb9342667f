//! The check of one draft: every family of rules is asked in turn, and what they find is named and settled.

use crate::overlap::Draft;
use crate::review::Decisions;
use crate::text::words::bare_words;
use crate::text::{BlockKind, MarkedText};

use super::judging::Rules;
use super::laid::LaidDraft;
use super::lost_marks::lost_marks;
use super::repeats::Chapter;
use super::trail::{Trails, quoted_note};
use super::{BlockWords, DraftReport, applying_decisions, lists, quoting, repeats};

impl LaidDraft {
    /// What is found in the draft.
    #[must_use]
    pub fn report(&self) -> DraftReport {
        self.report_as(None)
    }

    /// What is found in the draft, and what it repeats of the chapters before it.
    #[must_use]
    pub fn report_as(&self, chapter: Option<Chapter<'_>>) -> DraftReport {
        self.report_under(chapter, &self.session.review.decisions)
    }

    /// The same under other decisions than those that were there when the review was opened.
    #[must_use]
    pub fn report_under(&self, chapter: Option<Chapter<'_>>, decisions: &Decisions) -> DraftReport {
        let session = &self.session;
        let rules = Rules {
            laid: self,
            trails: Trails::new(self.note_passages()),
            lost: lost_marks(self),
        };
        let (mut seen, explained) = rules.judge_all(&self.source_passages());
        let mut quoted = quoting::judge_all(self);
        for one in &mut quoted {
            let source = one.source.as_ref();
            one.note = source.and_then(|source| quoted_note(self, one.draft.range, source));
        }
        seen.extend(quoted);
        seen.extend(lists::judge_all(self));
        if let Some(chapter) = chapter {
            seen.extend(repeats::judge_all(self, chapter, &seen));
        }
        seen.sort_by_key(|one| (one.draft.range, one.kind));
        let file = session.review.name_of(&self.path);
        let text = &self.draft.text;
        let (findings, lapsed) = applying_decisions::findings(decisions, &file, &text.text, seen);
        DraftReport {
            path: self.path.clone(),
            words: self.draft.stream.len(),
            quoted_words: self.draft.quoted.iter().filter(|quoted| **quoted).count(),
            findings,
            explained,
            lapsed,
            since: None,
            remarks: self
                .remarks
                .iter()
                .cloned()
                .chain(not_compared(text))
                .collect(),
            bytes: self.bytes.clone(),
            text: text.clone(),
            block_words: block_words(&self.draft),
        }
    }
}

/// What of a draft is not compared, with the number of its words.
fn not_compared(text: &MarkedText) -> Option<String> {
    let mut kinds = [
        ("in headings", 0),
        ("in code", 0),
        ("in its list of references", 0),
    ];
    for block in text.text.blocks() {
        let kind = match block.kind {
            BlockKind::Heading { .. } => 0,
            BlockKind::Code => 1,
            BlockKind::ReferenceListItem => 2,
            _ => continue,
        };
        kinds[kind].1 += bare_words(text.text.slice(block.range)).count();
    }
    let said: Vec<String> = kinds
        .into_iter()
        .filter(|(_, words)| *words > 0)
        .map(|(place, words)| format!("{words} {place}"))
        .collect();
    (!said.is_empty()).then(|| format!("words that were not compared: {}", said.join(", ")))
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::{Format, from_bytes};

    #[test]
    fn what_is_not_compared_is_counted() {
        let said = |draft: &str| {
            let read = from_bytes(draft.as_bytes().to_vec(), Format::Markdown);
            not_compared(&MarkedText::new(read.unwrap().text))
        };
        assert_eq!(said("Moths circle."), None);
        let table = "Moths circle.\n\n| lane | visits |\n| --- | --- |\n| mill | four |\n";
        assert_eq!(said(table), None);
        let all = format!(
            "# Two lamps\n\n{table}\n```\nlet lamp = on\n```\n\n# References\n\nVane, C. (2003). *Ferries*.\n"
        );
        let expected =
            "words that were not compared: 3 in headings, 3 in code, 4 in its list of references";
        assert_eq!(said(&all).as_deref(), Some(expected));
    }
}
