//! What the script draws from: for each finding of the page, in order, a short list of numbers and words. It
//! is JSON inside the page, so `<` is written as an escape and nothing in it can end its element; the script
//! puts the words into the page as text only.
//!
//! A row is `[kind, weight, source, settled, scale, facing]`: the numbers of kind and weight in their lists; the number of the
//! source in the list to choose from, or -1; 1 where it is settled; `[degree, share, measures...]` or 0; and
//! the parts of the two wordings ([`super::facing`]) or 0. A pair is `[how, source's words, draft's words]` with
//! 0 for the draft's where they are the same; what stands between is `[3, pieces, pieces]`, a piece its words or
//! `[words, letter]` where it was moved.

use serde_json::{Value, json};

use super::facing::{Part, Piece, facing, letter};
use super::plan::{Item, Plan};
use crate::findings::{Kind, Weight};
use crate::overlap::{Counterpart, Degree, Measures};

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
        facing(finding).map_or(json!(0), |parts| parts.iter().map(part).collect()),
    ])
}

/// The number of a thing in the list of all, from 0.
pub(super) fn number_in<T: PartialEq>(all: &[T], thing: T) -> Option<usize> {
    all.iter().position(|other| *other == thing)
}

/// The degree's number, how far into it the marker stands (0 to 1), and the measures.
fn scale(degree: Degree, measures: &Measures) -> Value {
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
        measures.unique_share.map(short),
    ])
}

/// A share to the two decimals that are shown.
fn short(share: f64) -> f64 {
    // Adding zero turns a negative zero into a plain one.
    (share * 100.0).round() / 100.0 + 0.0
}

fn part(part: &Part) -> Value {
    match part {
        Part::Pair { by, source, draft } => {
            let how = match by {
                Counterpart::String => 0,
                Counterpart::Form | Counterpart::Stem | Counterpart::Misspelling => 1,
                Counterpart::Synonym => 2,
            };
            let (source, draft) = (joined(source), joined(draft));
            if source == draft {
                json!([how, source, 0])
            } else {
                json!([how, source, draft])
            }
        }
        Part::Between { source, draft } => {
            let pieces = |pieces: &[Piece]| pieces.iter().map(piece).collect::<Value>();
            json!([3, pieces(source), pieces(draft)])
        }
    }
}

fn piece(piece: &Piece) -> Value {
    let words = joined(&piece.words);
    match piece.moved {
        None => json!(words),
        Some(number) => json!([words, letter(number)]),
    }
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
