//! Copied wording: `unmarked-copy` and `lost-quotation-marks`.
//!
//! A copy is a shared string of `run_words` words (or fewer that chance does not bring together)
//! outside quotation marks that fixed wording does not explain away.

use crate::overlap::Passage;
use crate::overlap::chains::{content_weight, unmarked_words};
use crate::overlap::strings::Run;
use crate::wording::{per_million, stem};

use super::judging::Judged;
use super::laid::LaidDraft;
use super::lost_marks::{Lost, LostMarks};
use super::{Credit, CreditState, Explained, Kind, Weight};

/// Words in a row from which on a copy is no matter of chance: runs of nine and more never came by
/// chance in 164,000 words of learned prose against a million words by others.
pub(super) const CERTAIN_WORDS: usize = 9;

/// Weight (nats) of a short run's content words below which chance may have brought it together: at
/// most three common ones. Our own calibration on independent prose, 2026-11-25.
pub(super) const CHANCE_WEIGHT: f32 = 24.0;

/// Words of a passage beside its copy from which on the copy is no bare run. Our own choice.
const BESIDE_WORDS: usize = 4;

/// Words beside a quotation that lost its marks from which on they are spoken of. Our own choice: a word or two come along
/// by chance.
const LEAST_BESIDE: usize = 4;

/// Occurrences in a million words of general English from which on a word is everybody's: *part*, *time*, *people*. The same
/// as for a common word among fixed expressions.
const EVERYDAY_PER_MILLION: f32 = 50.0;

/// Whether a short run of everybody's words is all that a passage shares: English has many set phrases, and two writers hit
/// on the same one by chance.
fn is_everyday(run: &Run, passage: &Passage, laid: &LaidDraft) -> bool {
    let (draft, words) = (&laid.draft, unmarked_words(run, &laid.draft));
    let forms = draft.stream.slice(run.draft).iter();
    let content = forms.filter(|form| draft.lexicon.is_content(**form));
    let mut stems = content.map(|form| stem(draft.lexicon.form(*form)));
    words < CERTAIN_WORDS
        && passage.measures.words < words + BESIDE_WORDS
        && content_weight(run, draft) < CHANCE_WEIGHT
        && stems.all(|stem| per_million(&stem) >= EVERYDAY_PER_MILLION)
}

/// The copies of a passage that fixed wording does not explain, and the explanations of the others.
#[must_use]
pub(crate) fn split(passage: &Passage, laid: &LaidDraft) -> (Vec<Run>, Vec<(Run, String)>) {
    let mut copies = Vec::new();
    let mut explained = Vec::new();
    for run in &passage.copies {
        match laid.fixed.explanation(run, laid) {
            Some(why) => explained.push((*run, why)),
            None if is_everyday(run, passage, laid) => {
                explained.push((*run, "a phrase of common words".to_owned()));
            }
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
    lost: &Lost<'_>,
    credit: &Credit,
    laid: &LaidDraft,
) -> Option<Judged> {
    let name = name_of(passage, laid);
    let copied = copies.iter().flat_map(|run| run.draft.as_range());
    let beside = lost.beside(copied.filter(|at| !laid.draft.quoted[*at]));
    let in_marks = lost.words();
    if let Some(longest) = lost.longest()
        && in_marks >= beside
    {
        let all = passage.measures.words.max(in_marks);
        // A word or two around a quotation are shared by chance.
        let rest = if beside < LEAST_BESIDE { 0 } else { beside };
        return Some(Judged {
            kind: Kind::LostQuotationMarks,
            weight: Weight::Act,
            advice: lost_advice(longest, (in_marks, rest, all), credit, &name, laid),
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
    // The number that is shown with the measures, where the string was counted there too.
    let in_row = passage.measures.longest_string.max(longest);
    Some(Judged {
        kind: Kind::UnmarkedCopy,
        weight,
        advice: match lost.longest() {
            Some(marks) => format!(
                "{} Of these words {in_marks} stand in quotation marks in your notes{}; the others do not.",
                copy_advice(in_row, credit, &name),
                in_the_entry(marks, laid)
            ),
            None => copy_advice(in_row, credit, &name),
        },
    })
}

/// The verdict on a reworded passage in which copies stand: what is said of it, and which words are copied.
#[must_use]
pub(crate) fn within_reworded(judged: Judged, copies: &[Run], laid: &LaidDraft) -> Judged {
    let longest = copies
        .iter()
        .max_by_key(|run| unmarked_words(run, &laid.draft));
    let Some(longest) = longest else {
        return judged;
    };
    let words = unmarked_words(longest, &laid.draft);
    let weight = match words >= CERTAIN_WORDS {
        true => Weight::Act,
        false => judged.weight.min(Weight::Look),
    };
    let copied = shortened(&laid.place_of(longest.draft).text);
    Judged {
        weight,
        advice: format!(
            "{words} words in a row (“{copied}”) stand here as they stand in the source: quotation marks and the page, or other words. {}",
            judged.advice
        ),
        ..judged
    }
}

/// Some words from both ends of a long string.
fn shortened(string: &str) -> String {
    let words: Vec<&str> = string
        .trim_end_matches(['.', ',', ';', ':'])
        .split_whitespace()
        .collect();
    match words.as_slice() {
        [first @ .., _, _, _] if words.len() > WHOLE_TO => {
            let last = words.len() - ENDS;
            let first = first.get(..ENDS).unwrap_or(first);
            format!("{} … {}", first.join(" "), words[last..].join(" "))
        }
        _ => words.join(" "),
    }
}

/// Words up to which a string is given whole, and words of each end of a longer one.
const WHOLE_TO: usize = 10;
const ENDS: usize = 3;

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
        CreditState::Elsewhere => format!("{first} {}", other_work(name)),
        CreditState::None if !credit.citations.is_empty() => {
            format!("{first} If the citation here does not mean {name}, correct it.")
        }
        CreditState::None => format!("{first} Either way, cite {name}."),
    }
}

/// Advice for words that lost their marks on the way from the notes.
#[must_use]
pub(crate) fn put_back(marks: &LostMarks, laid: &LaidDraft) -> String {
    let entry = in_the_entry(marks, laid);
    format!(
        "These words stand in quotation marks in your notes{entry}. Put the marks and the page back, or say it in your own sentence."
    )
}

/// ` (the entry on Harrow (2019))`.
fn in_the_entry(marks: &LostMarks, laid: &LaidDraft) -> String {
    super::trail::place_in_notes(laid, marks.document, marks.note)
        .map(|note| format!(" (the entry on {})", note.entry))
        .unwrap_or_default()
}

/// Advice for a copy of which most words are marked in the notes, and the `rest` is not.
fn lost_advice(
    marks: &LostMarks,
    (in_marks, rest, all): (usize, usize, usize),
    credit: &Credit,
    name: &str,
    laid: &LaidDraft,
) -> String {
    let entry = in_the_entry(marks, laid);
    let first = match rest {
        0 if all < in_marks + LEAST_BESIDE => put_back(marks, laid),
        0 => format!(
            "{in_marks} of these words stand in quotation marks in your notes{entry}. Put their marks and the page back, or say it in your own sentence."
        ),
        rest => format!(
            "{in_marks} of these words stand in quotation marks in your notes{entry}; {rest} more are the source's too and are not marked there. Put all of them in quotation marks with the page, or say it in your own sentence."
        ),
    };
    match credit.state {
        CreditState::Credited => first,
        CreditState::Elsewhere => format!("{first} {}", other_work(name)),
        CreditState::None if !credit.citations.is_empty() => {
            format!("{first} If the citation here does not mean {name}, correct it.")
        }
        CreditState::None => format!("{first} Either way, cite {name}."),
    }
}

fn other_work(name: &str) -> String {
    format!("The citation beside it points to another work; these words are from {name}.")
}
