//! The page in pieces, for a surface that shows them one at a time: the desk. A piece is HTML written by the same functions as the
//! page, so that both look alike and say the same; what the script draws from comes with it as numbers and words.

use maud::Markup;
use serde_json::{Value, json};

use super::data;
use super::draft::{self, Leaves};
use super::facing::{self, Faced};
use super::leaf;
use super::plan::{DraftPlan, Item, Plan};
use super::{glance, map, tools};
use crate::findings::{CheckReport, Finding, Kind, Placement, Weight};
use crate::report::escape::on_page;
use crate::report::said;
use crate::report::terminal::why;
use crate::text::ByteRange;

/// A draft in pieces; `None` where there is no draft of this number, from 0.
pub(crate) fn draft(report: &CheckReport, number: usize) -> Option<Value> {
    let plan = Plan::new(report);
    let draft = plan.drafts.get(number)?;
    let folds = draft::folds(draft, Leaves::Elsewhere).into_iter();
    let rows: Vec<Value> = draft.items.iter().map(|item| row(&plan, item)).collect();
    Some(json!({
        "name": super::name(draft),
        "extent": said::extent(draft.report),
        "tools": tools::tools(&plan).into_string(),
        "glance": glance::glance(&plan, draft).into_string(),
        "map": map::map(&plan, draft).into_string(),
        "legend": tools::legend().into_string(),
        "folds": folds.map(Markup::into_string).collect::<Vec<_>>(),
        "rows": rows,
    }))
}

/// What a finding is chosen and found by: its number in the report, kind, weight, source, whether it is settled, its address on the
/// page and its ID.
fn row(plan: &Plan<'_>, item: &Item<'_>) -> Value {
    let finding = item.finding;
    json!([
        item.index,
        data::number_in(&Kind::ALL, finding.kind),
        data::number_in(&Weight::ALL, finding.weight),
        plan.source_of(finding).map(|(at, _)| at),
        i32::from(finding.settled.is_some()),
        item.anchor,
        finding.id,
    ])
}

/// What is said of one finding, by its number in the report: the leaf, and what is drawn on it.
pub(crate) fn leaf(report: &CheckReport, at: usize) -> Option<Value> {
    let plan = Plan::new(report);
    let item = plan.items().nth(at)?;
    let draft = plan.drafts.iter().find(|draft| holds(draft, at));
    let of = draft.map_or(0, |draft| draft.items.len());
    let first = draft.and_then(|draft| draft.items.first());
    let number = at - first.map_or(at, |item| item.index) + 1;
    Some(json!({
        "html": leaf::leaf(item).into_string(),
        "drawn": drawn(item.finding),
        "number": number,
        "of": of,
    }))
}

fn holds(draft: &DraftPlan<'_>, at: usize) -> bool {
    draft.items.iter().any(|item| item.index == at)
}

/// The leaf of a finding that stands in no draft of a report, by the name it goes by there.
pub(crate) fn leaf_of(finding: &Finding, label: &str) -> Markup {
    leaf::leaf(&Item {
        finding,
        index: 0,
        label: label.to_owned(),
        progress: None,
        anchor: finding.id.clone(),
    })
}

/// What is drawn on a leaf: the scale and the two wordings, each 0 where there is none.
pub(crate) fn drawn(finding: &Finding) -> Value {
    let scale = finding.measures.as_ref().map_or(json!(0), |measures| {
        data::scale(
            finding.degree.unwrap_or_else(|| measures.degree()),
            measures,
        )
    });
    json!([scale, data::parts(finding)])
}

/// A rewrite set against its passage: scale, measures and wordings to be drawn, and in a sentence why it stands there.
pub(crate) fn placed((passage, rewrite): (&str, &str), placement: &Placement) -> Value {
    let whole = |text: &str| ByteRange::of(0, text.len());
    let Faced { parts, .. } = facing::faced(
        (rewrite, whole(rewrite)),
        (passage, whole(passage)),
        &placement.shared,
    );
    let measures = &placement.measures;
    let degree = measures.degree();
    json!({
        "scale": data::scale(degree, measures),
        "facing": data::parts_beside(&parts, passage),
        "degree": degree.name(),
        "position": measures.position(),
        "words": measures.words,
        "reason": why::reason(placement),
        "passage": held(passage, placement),
    })
}

/// The words of a passage, each with 1 where the rewrite holds it.
fn held(passage: &str, placement: &Placement) -> Vec<Value> {
    let mut at = 0;
    let mut words = Vec::new();
    for piece in passage.split_inclusive(char::is_whitespace) {
        let word = piece.trim_end();
        let range = ByteRange::of(at, at + word.len());
        at += piece.len();
        if !word.is_empty() {
            let mut shared = placement.shared.iter();
            let is_held = shared.any(|place| place.source.overlaps(range));
            words.push(json!([on_page(word), i32::from(is_held)]));
        }
    }
    words
}
