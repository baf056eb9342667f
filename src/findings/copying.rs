//! Copied wording: `unmarked-copy` and `lost-quotation-marks`.
//!
//! A copy is a shared string of `run_words` words (or fewer that chance does not bring together)
//! outside quotation marks that fixed wording does not explain away.

use crate::overlap::Passage;
use crate::overlap::StreamRange;
use crate::overlap::chains::{content_weight, unmarked_words};
use crate::overlap::strings::Run;

use super::judging::Judged;
use super::laid::LaidDraft;
use super::lost_marks::LostMarks;
use super::{Credit, CreditState, Explained, Kind, Weight};

/// Words in a row from which on a copy is no matter of chance: runs of nine and more never came by
/// chance in 164,000 words of learned prose against a million words by others.
pub(super) const CERTAIN_WORDS: usize = 9;

/// Weight (nats) of a short run's content words below which chance may have brought it together: at
/// most three common ones. Our own calibration on independent prose, 2026-11-25.
pub(super) const CHANCE_WEIGHT: f32 = 24.0;

/// Words of a passage beside its copy from which on the copy is no bare run.
const BESIDE_WORDS: usize = 4;

/// The copies of a passage that fixed wording does not explain, and the explanations of the others.
#[must_use]
pub(crate) fn split(passage: &Passage, laid: &LaidDraft) -> (Vec<Run>, Vec<(Run, String)>) {
    let mut copies = Vec::new();
    let mut explained = Vec::new();
    for run in &passage.copies {
        match laid.fixed.explanation(run, laid) {
            Some(why) => explained.push((*run, why)),
            None => copies.push(*run),
        }
    }
    (copies, explained)
}

/// The overlaps of a passage that were explained away, for the report.
#[must_use]
pub(crate) fn explained(
    passage: &Passage,
    explained: &[(Run, String)],
    laid: &LaidDraft,
) -> Vec<Explained> {
    let Some(source) = laid.session.source(passage.document) else {
        return Vec::new();
    };
    explained
        .iter()
        .map(|(run, why)| Explained {
            draft: laid.place_of(run.draft),
            source: source.key.clone(),
            why: why.clone(),
        })
        .collect()
}

/// The verdict on a passage with copies; `None` where it has none.
#[must_use]
pub(crate) fn judge(
    passage: &Passage,
    copies: &[Run],
    lost: Option<&LostMarks>,
    credit: &Credit,
    laid: &LaidDraft,
) -> Option<Judged> {
    if let Some(lost) = lost {
        return Some(Judged {
            kind: Kind::LostQuotationMarks,
            weight: Weight::Act,
            advice: lost_advice(lost, laid),
        });
    }
    let longest = copies
        .iter()
        .map(|run| unmarked_words(run, &laid.draft))
        .max()?;
    let telling = copies
        .iter()
        .map(|run| content_weight(run, &laid.draft))
        .fold(0.0, f32::max);
    let weight = if longest >= CERTAIN_WORDS || passage.measures.words >= 2 * CERTAIN_WORDS {
        Weight::Act
    } else if telling < CHANCE_WEIGHT && passage.measures.words < longest + BESIDE_WORDS {
        Weight::Know
    } else {
        Weight::Look
    };
    Some(Judged {
        kind: Kind::UnmarkedCopy,
        weight,
        advice: copy_advice(longest, credit, &name_of(passage, laid)),
    })
}

fn name_of(passage: &Passage, laid: &LaidDraft) -> String {
    let source = laid.session.source(passage.document);
    source.map_or_else(String::new, |source| laid.name(&source.key))
}

fn copy_advice(words: usize, credit: &Credit, name: &str) -> String {
    let first = format!(
        "{words} words in a row stand here as they stand in the source. Put them in quotation marks with the page, or say it in your own sentence."
    );
    match credit.state {
        CreditState::Credited => {
            format!("{first} The citation alone does not show that the words are the source's own.")
        }
        CreditState::Elsewhere => format!(
            "{first} The citation beside it points to another work; these words are from {name}."
        ),
        CreditState::None if !credit.citations.is_empty() => {
            format!("{first} If the citation here does not mean {name}, correct it.")
        }
        CreditState::None => format!("{first} Either way, cite {name}."),
    }
}

/// Advice for words that lost their marks on the way from the notes.
#[must_use]
pub(crate) fn lost_advice(lost: &LostMarks, laid: &LaidDraft) -> String {
    let page = super::trail::place_in_notes(laid, lost.document, lost.note)
        .map(|note| format!(" (the entry on {})", note.entry))
        .unwrap_or_default();
    format!(
        "These words stand in quotation marks in your notes{page}. Put the marks and the page back, or say it in your own sentence."
    )
}

/// The lost marks that lie mostly within a passage.
#[must_use]
pub(crate) fn lost_within(lost: &[LostMarks], draft: StreamRange) -> Option<&LostMarks> {
    lost.iter()
        .filter(|lost| lost.draft.intersection(draft).len() * 2 > lost.draft.len())
        .max_by_key(|lost| (lost.draft.len(), std::cmp::Reverse(lost.draft)))
}
