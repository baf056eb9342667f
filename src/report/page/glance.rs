//! The top of a draft: what matters most and what to say to its writer, so that a reader with five minutes
//! knows both at once. First the gravest kinds of finding, each with a passage and what would mend it in plain
//! words, then all kinds by what they ask for. Counts of things to do, no percentage and no score.

use std::collections::BTreeMap;

use maud::{Markup, html};

use super::draft::title;
use super::leaf::weight_class;
use super::plan::{DraftPlan, Family, Item, Plan};
use crate::findings::{CreditState, Kind, Weight};
use crate::report::english::{counted, grouped, listed};
use crate::report::escape::on_page;
use crate::report::said;

/// Kinds that are named first.
const FIRST: usize = 3;
/// Words of a passage quoted here.
const WORDS: usize = 26;
/// Findings of a kind that are named by number; of more, the count is enough.
const MOST_NUMBERS: usize = 12;

type Kinds<'p, 'r> = BTreeMap<(Weight, Kind), Vec<&'p Item<'r>>>;

/// The top of a draft.
pub(super) fn glance(plan: &Plan<'_>, draft: &DraftPlan<'_>) -> Markup {
    let mut kinds: Kinds<'_, '_> = BTreeMap::new();
    let open = draft
        .items
        .iter()
        .filter(|item| item.finding.settled.is_none());
    for item in open {
        let kind = (item.finding.weight, item.finding.kind);
        kinds.entry(kind).or_default().push(item);
    }
    html! {
        @for remark in &draft.report.remarks { p.remark { (on_page(remark)) } }
        (since(draft))
        @if draft.report.words == 0 { p.remark { (said::no_prose(draft.report)) } }
        @if !kinds.is_empty() { (first(draft, &kinds)) (all(draft, &kinds)) }
        @else if draft.report.words > 0 { p.good { (said::nothing_open(plan.report, draft.report)) } }
    }
}

/// What became of the findings of the earlier draft, where there is one.
fn since(draft: &DraftPlan<'_>) -> Markup {
    let since = draft.report.since.as_ref();
    let mended = since.map_or(&[][..], |since| &since.mended);
    html! {
        @if let Some(said) = said::since(draft.report) {
            p.since { (on_page(&said)) }
            @if !mended.is_empty() { ul { @for past in mended { li { "Mended: " (on_page(&said::mended(past))) } } } }
        }
    }
}

/// The gravest kinds. Within a weight the registry's order is that of gravity: copied wording, changed
/// wording, quotations, works.
fn first(draft: &DraftPlan<'_>, kinds: &Kinds<'_, '_>) -> Markup {
    let gravest = kinds
        .keys()
        .next()
        .map_or(Weight::Know, |(weight, _)| *weight);
    let chosen = kinds.iter().take(FIRST).filter(|((weight, _), _)| {
        // What is only good to know matters least beside what asks for more.
        *weight <= gravest.max(Weight::Look)
    });
    html! {
        h3 { "What matters most, and what to say to the writer" }
        ol.first {
            @for ((weight, kind), items) in chosen {
                li class={ (weight_class(*weight)) " " (Family::of(*kind).class()) } {
                    h4 { (kind.about().short) }
                    (example(draft, items))
                    p.say { (kind.about().mend) }
                    @if items.len() > 1 { p.which { "Here: " (numbers(items)) } }
                }
            }
        }
    }
}

/// The gravest finding of a kind: uncredited before credited, then the longest run of words.
fn example(draft: &DraftPlan<'_>, items: &[&Item<'_>]) -> Markup {
    let gravity = |item: &&&Item<'_>| {
        let credit = item.finding.credit.as_ref().map(|credit| credit.state);
        let credited = match credit {
            Some(CreditState::None) => 0,
            Some(CreditState::Elsewhere) => 1,
            Some(CreditState::Credited) | None => 2,
        };
        let longest = item.finding.measures.map_or(0, |m| m.longest_string);
        (credited, std::cmp::Reverse(longest), item.index)
    };
    let Some(item) = items.iter().min_by_key(gravity) else {
        return Markup::default();
    };
    let finding = item.finding;
    let mut words = finding.draft.text.split_whitespace();
    let begun: Vec<&str> = words.by_ref().take(WORDS).collect();
    let more = if words.next().is_some() { " ..." } else { "" };
    let passage = format!("{}{more}", begun.join(" "));
    let section = draft.section_at(finding.draft.range.start());
    let section = section.map(|section| title(draft.title_of(section)));
    html! {
        p.passage {
            a href={ "#" (item.anchor) } { b { span.v { "Finding " } (item.label) } }
            " " q { (on_page(&passage)) }
        }
        p.where {
            @if let Some(source) = &finding.source { "from " (said::source_name(source)) }
            @if let Some(section) = section { span { " in “" (section) "”" } }
        }
    }
}

/// All kinds by weight, each with the numbers of its findings.
fn all(draft: &DraftPlan<'_>, kinds: &Kinds<'_, '_>) -> Markup {
    html! {
        div.asks {
            @for weight in Weight::ALL {
                @let of_weight: Vec<_> = kinds.iter().filter(|((other, _), _)| *other == weight).collect();
                @let count: usize = of_weight.iter().map(|(_, items)| items.len()).sum();
                @if count > 0 {
                    div class=(weight_class(weight)) {
                        h4 { (weight.request()) ": " (grouped(count)) }
                        ul {
                            @for ((_, kind), items) in of_weight {
                                li { (kind.about().short) ": " (numbers(items)) }
                            }
                        }
                    }
                }
            }
        }
        (at_ease(draft))
    }
}

/// The sections that ask for nothing, since these are worth saying too.
fn at_ease(draft: &DraftPlan<'_>) -> Markup {
    let open = draft
        .items
        .iter()
        .filter(|item| item.finding.settled.is_none());
    let starts: Vec<usize> = open.map(|item| item.finding.draft.range.start()).collect();
    let busy: Vec<usize> = starts
        .iter()
        .filter_map(|start| draft.section_at(*start))
        .map(|section| section.number)
        .collect();
    let sections = draft.sections.iter().filter(|section| section.words > 0);
    let free: Vec<String> = sections
        .filter(|section| !busy.contains(&section.number))
        .map(|section| format!("“{}”", title(draft.title_of(section))))
        .collect();
    html! {
        @if !free.is_empty() { p.ease { "Nothing to look at in " (listed(&free)) "." } }
    }
}

/// The numbers of findings, each leading there.
pub(super) fn numbers(items: &[&Item<'_>]) -> Markup {
    let more = items.len().saturating_sub(MOST_NUMBERS);
    html! {
        @for (at, item) in items.iter().take(MOST_NUMBERS).enumerate() {
            @if at > 0 { ", " }
            a href={ "#" (item.anchor) } { (item.label) }
        }
        @if more > 0 { " and " (counted(more, "more", "more")) }
    }
}
