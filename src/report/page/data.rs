//! What the script draws from: for each finding of the page, in order, a short list of numbers and words. It
//! is JSON inside the page, so `<` is written as an escape and nothing in it can end its element; the script
//! puts the words into the page as text only.
//!
//! A row is `[kind, weight, source, settled, scale, facing]`: the numbers of kind and weight in their lists; the number of the
//! source in the list to choose from, or -1; 1 where it is settled; `[degree, share, measures...]` or 0; and
//! the parts of the two wordings ([`super::facing`]) or 0. A pair is `[how, source's words, draft's words]` with
//! 0 for the draft's where they are the same, and nothing between two spaces for a single one that is; what stands between is `[3, pieces, pieces]`, a piece its words or
//! `[words, letter]` where it was moved. For the source's words most often only their number is given.

use serde_json::{Value, json};

use super::facing::{Part, Piece, facing, letter};
use super::plan::{Item, Plan};
use crate::findings::{Finding, Kind, Weight};
use crate::overlap::{Counterpart, Degree, Measures};
use crate::report::escape::on_page;

/// The data of a page as JSON that can stand in it.
pub(super) fn data(plan: &Plan<'_>) -> String {
    let mut out = String::from("[");
    for item in plan.items() {
        if item.index > 0 {
            out.push_str(",\n");
        }
        out.push_str(&row(plan, item).to_string().replace('<', "\\u003c"));
    }
    out.push(']');
    out
}

fn row(plan: &Plan<'_>, item: &Item<'_>) -> Value {
    let finding = item.finding;
    let source = plan
        .source_of(finding)
        .map_or(json!(-1), |(at, _)| json!(at));
    json!([
        number_in(&Kind::ALL, finding.kind),
        number_in(&Weight::ALL, finding.weight),
        source,
        i32::from(finding.settled.is_some()),
        finding.measures.as_ref().map_or(json!(0), |measures| {
            scale(
                finding.degree.unwrap_or_else(|| measures.degree()),
                measures,
            )
        }),
        parts(finding),
    ])
}

/// The number of a thing in the list of all, from 0.
pub(super) fn number_in<T: PartialEq>(all: &[T], thing: T) -> Option<usize> {
    all.iter().position(|other| *other == thing)
}

/// The degree's number, how far into it the marker stands (0 to 1), and the measures.
pub(super) fn scale(degree: Degree, measures: &Measures) -> Value {
    let (from, to) = degree.span();
    let share = ((measures.position() - from) / (to - from)).clamp(0.0, 1.0);
    json!([
        number_in(&Degree::ALL, degree),
        short(share),
        short(measures.position()),
        measures.words,
        short(measures.string_share),
        measures.longest_string,
        measures.content_words,
        short(measures.kept_content),
        measures.swapped,
        short(measures.order),
        short(measures.sequence),
        measures.stretch,
        measures.unique_share.map(short),
    ])
}

/// A share to the two decimals that are shown; 0 and 1, the most common, without any.
fn short(share: f64) -> Value {
    match (share * 100.0).round() / 100.0 {
        none if none <= 0.0 => json!(0),
        1.0 => json!(1),
        some => json!(some),
    }
}

/// The parts of a finding's two wordings. The source's words stand on its leaf already, so they are only
/// counted where the upper line has them one for one.
pub(super) fn parts(finding: &Finding) -> Value {
    let (Some(parts), Some(source)) = (facing(finding), &finding.source) else {
        return json!(0);
    };
    parts_beside(&parts, &source.text)
}

/// The parts of two wordings, of which the source's stands as text beside them.
pub(super) fn parts_beside(parts: &[Part], source: &str) -> Value {
    let is_counted = upper(parts)
        .iter()
        .flat_map(|word| word.split(' '))
        .eq(on_page(source).split_whitespace());
    parts.iter().map(|one| part(one, is_counted)).collect()
}

/// The words of the upper line.
fn upper(parts: &[Part]) -> Vec<&String> {
    let mut words = Vec::new();
    for part in parts {
        match part {
            Part::Pair { source, .. } => words.extend(source),
            Part::Between { source, .. } => words.extend(source.iter().flat_map(|one| &one.words)),
        }
    }
    words
}

fn part(part: &Part, is_counted: bool) -> Value {
    match part {
        Part::Pair { by, source, draft } => {
            let how = match by {
                Counterpart::String => 0,
                Counterpart::Form | Counterpart::Stem | Counterpart::Misspelling => 1,
                Counterpart::Synonym => 2,
            };
            let above = words(source, is_counted);
            if source == draft {
                json!([how, above, 0])
            } else {
                json!([how, above, differing(source, draft)])
            }
        }
        Part::Between { source, draft } => {
            let pieces = |pieces: &[Piece], is_counted| -> Value {
                pieces.iter().map(|one| piece(one, is_counted)).collect()
            };
            json!([3, pieces(source, is_counted), pieces(draft, false)])
        }
    }
}

fn piece(piece: &Piece, is_counted: bool) -> Value {
    let words = words(&piece.words, is_counted);
    match piece.moved {
        None => words,
        Some(number) => json!([words, letter(number)]),
    }
}

/// Words, or their count, below zero where all of them share a column.
fn words(words: &[String], is_counted: bool) -> Value {
    if !is_counted {
        return json!(joined(words));
    }
    let count: usize = words.iter().map(|word| word.split(' ').count()).sum();
    let count = i64::try_from(count).unwrap_or(i64::MAX);
    json!(if words.iter().any(|word| word.contains(' ')) {
        -count
    } else {
        count
    })
}

/// The draft's words, each that is the source's own left empty where they stand one for one.
fn differing(source: &[String], draft: &[String]) -> String {
    if source.len() != draft.len() {
        return joined(draft);
    }
    let pairs = source.iter().zip(draft);
    let words: Vec<String> = pairs
        .map(|(above, below)| {
            if above == below {
                String::new()
            } else {
                below.clone()
            }
        })
        .collect();
    joined(&words)
}

/// Words with a space between; a space within one, which holds several that share a column, is made one that
/// does not part them.
fn joined(words: &[String]) -> String {
    let words: Vec<String> = words
        .iter()
        .map(|word| word.replace(' ', "\u{a0}"))
        .collect();
    words.join(" ")
}
