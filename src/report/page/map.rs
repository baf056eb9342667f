//! The map of a draft: sources down, the draft's position across. Each passage is a bar where it stands, as
//! wide as it is long and the higher the closer its wording is to the source's; what has no degree is a
//! diamond. At the foot, for each section, how much of it stands in quotation marks. A table says the same in
//! words.
//!
//! Geometry is written as attributes in per cent, so that the plot is as wide as the page and needs no style
//! of its own (the page's security policy allows none).

use std::collections::BTreeMap;

use maud::{Markup, html};

use super::draft::{section_address, title};
use super::glance::numbers;
use super::marks::spaced;
use super::plan::{DraftPlan, Family, Item, Plan, Section};
use crate::overlap::Degree;
use crate::report::english::counted;
use crate::report::escape::on_page;

/// Sources that get a row of their own; the rest share one.
const MOST_ROWS: usize = 30;
/// Bars in a row; where there are more, only the closest of neighbours is drawn.
const MOST_BARS: usize = 100;
/// Height of a row, and of the lowest bar, in pixels.
const HEIGHT: f64 = 22.0;
const LEAST: f64 = 5.0;

/// The map of a draft; nothing where there is nothing to draw.
pub(super) fn map(plan: &Plan<'_>, draft: &DraftPlan<'_>) -> Markup {
    let length = draft.report.text.text.content().len();
    if length == 0 || draft.items.is_empty() {
        return Markup::default();
    }
    let rows = rows(plan, draft);
    let scale = Scale { length };
    html! {
        h3 id={ "map-" (draft.number) } { "Where the wording stands" }
        p.key {
            "The draft runs from left to right. A bar is a passage: the higher, the closer to its source; "
            "a diamond is a finding without a degree. At the foot, how much of each section stands in quotation "
            "marks: all of it would fill the line. Choose a mark to go there."
        }
        div.map role="group" aria-labelledby={ "map-" (draft.number) } {
            @for (name, items) in &rows { (row(draft, &scale, name, items)) }
            (quoted(draft, &scale))
            (axis(draft, &scale))
        }
        (sections(draft))
        (table(draft, &rows))
    }
}

/// Positions of a draft as shares of its width.
struct Scale {
    length: usize,
}

impl Scale {
    /// A position in per cent.
    #[allow(
        clippy::cast_precision_loss,
        reason = "texts are far shorter than 2^52 bytes"
    )]
    fn at(&self, position: usize) -> f64 {
        100.0 * position.min(self.length) as f64 / self.length as f64
    }
}

/// A number of an attribute.
fn number(value: f64) -> String {
    let shown = format!("{value:.2}");
    shown.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn per_cent(value: f64) -> String {
    format!("{}%", number(value))
}

/// The findings by source, the most frequent first; what has no source stands last.
fn rows<'p, 'r>(plan: &Plan<'_>, draft: &'p DraftPlan<'r>) -> Vec<(String, Vec<&'p Item<'r>>)> {
    let mut by_source: BTreeMap<String, Vec<&Item<'_>>> = BTreeMap::new();
    let mut without = Vec::new();
    for item in &draft.items {
        match plan.source_of(item.finding) {
            Some((_, name)) => by_source.entry(name.to_owned()).or_default().push(item),
            None => without.push(item),
        }
    }
    let mut rows: Vec<_> = by_source.into_iter().collect();
    // The stable sort keeps equals in order of their names.
    rows.sort_by_key(|(_, items)| std::cmp::Reverse(items.len()));
    if rows.len() > MOST_ROWS {
        let rest = rows.split_off(MOST_ROWS - 1);
        let name = format!("{} more sources", rest.len());
        let mut items: Vec<_> = rest.into_iter().flat_map(|(_, items)| items).collect();
        items.sort_by_key(|item| item.index);
        rows.push((name, items));
    }
    if !without.is_empty() {
        rows.push(("no stored source".to_owned(), without));
    }
    rows
}

fn row(draft: &DraftPlan<'_>, scale: &Scale, name: &str, items: &[&Item<'_>]) -> Markup {
    let items = drawn(scale, items);
    html! {
        div.line {
            span.name { (on_page(name)) }
            svg.plot width="100%" height=(HEIGHT) role="group" aria-label=(on_page(name)) {
                (boundaries(draft, scale))
                @for item in items { (bar(scale, item)) }
            }
        }
    }
}

/// The findings that are drawn of a row: of those that would fall on one spot, the closest.
fn drawn<'p, 'r>(scale: &Scale, items: &[&'p Item<'r>]) -> Vec<&'p Item<'r>> {
    if items.len() <= MOST_BARS {
        return items.to_vec();
    }
    let mut spots: BTreeMap<usize, &'p Item<'r>> = BTreeMap::new();
    for item in items {
        let share = scale.at(item.finding.draft.range.start()) / 100.0;
        let spot = crate::report::english::part_of(share, MOST_BARS);
        let held = spots.entry(spot).or_insert(item);
        if closeness(item) > closeness(held) {
            *held = item;
        }
    }
    spots.into_values().collect()
}

/// From 0, nothing of the wording kept, to 1; 0 where there is no degree.
fn closeness(item: &Item<'_>) -> f64 {
    let measures = item.finding.measures.as_ref();
    measures.map_or(0.0, |measures| 1.0 - measures.position())
}

fn bar(scale: &Scale, item: &Item<'_>) -> Markup {
    let finding = item.finding;
    let (from, to) = (
        scale.at(finding.draft.range.start()),
        scale.at(finding.draft.range.end()),
    );
    let degree = finding.degree.map_or("", Degree::name);
    let said = format!("{} {} {degree}", item.label, spaced(item));
    let class = format!("b {}", Family::of(finding.kind).class());
    html! {
        a class=(class) href={ "#" (item.anchor) } data-f=(item.index) aria-label=(said.trim_end()) {
            title { (said.trim_end()) }
            // The whole height can be hit, a little beyond the bar too.
            rect.hit x=(per_cent(from - 0.4)) width=(per_cent(to - from + 0.8)) y="0" height=(HEIGHT) {}
            @if finding.measures.is_some() {
                @let height = LEAST + (HEIGHT - LEAST) * closeness(item);
                rect.mark x=(per_cent(from)) width=(per_cent((to - from).max(0.5)))
                    y=(number(HEIGHT - height)) height=(number(height)) {}
            } @else {
                svg x=(per_cent(from)) y="0" width="1" height=(HEIGHT) overflow="visible" {
                    path.mark d="M0 6 5 11 0 16 -5 11z" {}
                }
            }
        }
    }
}

fn boundaries(draft: &DraftPlan<'_>, scale: &Scale) -> Markup {
    html! {
        @for section in draft.sections.iter().skip(1) {
            rect.edge x=(per_cent(scale.at(section.range.start()))) width="1" y="0" height=(HEIGHT) {}
        }
    }
}

/// The numbers of the sections, each where it begins.
fn axis(draft: &DraftPlan<'_>, scale: &Scale) -> Markup {
    html! {
        @if draft.sections.len() > 1 {
            div.line.axis {
                span.name { "section" }
                svg.plot width="100%" height=(HEIGHT) aria-hidden="true" {
                    @for section in &draft.sections {
                        text x=(per_cent(scale.at(section.range.start()))) dx="2" y="14" { (section.number) }
                    }
                }
            }
        }
    }
}

/// What the numbers of the sections stand for.
fn sections(draft: &DraftPlan<'_>) -> Markup {
    html! {
        @if draft.sections.len() > 1 {
            ul.sections aria-label="Sections" {
                @for section in &draft.sections {
                    li { (section.number) " " (section_link(draft, section)) }
                }
            }
        }
    }
}

fn section_link(draft: &DraftPlan<'_>, section: &Section) -> Markup {
    let title = title(draft.title_of(section));
    html! {
        @if section.heading.is_some() {
            a href={ "#" (section_address(draft.number, section.blocks.start)) } { (title) }
        } @else { (title) }
    }
}

/// How much of each section is quoted, as a bar that fills its height where all is.
fn quoted(draft: &DraftPlan<'_>, scale: &Scale) -> Markup {
    html! {
        @if draft.sections.iter().any(|section| section.quoted > 0) {
            div.line {
                span.name { "share in quotation marks" }
                svg.plot width="100%" height=(HEIGHT) role="img" aria-label="Share of quoted words by section; the table below has the numbers" {
                    (boundaries(draft, scale))
                    @for section in draft.sections.iter().filter(|section| section.quoted > 0) {
                        (share(scale, section))
                    }
                }
            }
        }
    }
}

fn share(scale: &Scale, section: &Section) -> Markup {
    #[allow(clippy::cast_precision_loss, reason = "word counts are far below 2^52")]
    let share = section.quoted as f64 / section.words.max(1) as f64;
    let height = HEIGHT * share.clamp(0.0, 1.0);
    let (from, to) = (
        scale.at(section.range.start()),
        scale.at(section.range.end()),
    );
    html! {
        rect.quoted x=(per_cent(from)) width=(per_cent(to - from))
            y=(number(HEIGHT - height)) height=(number(height)) {}
    }
}

/// The map in words.
fn table(draft: &DraftPlan<'_>, rows: &[(String, Vec<&Item<'_>>)]) -> Markup {
    html! {
        details {
            summary { "The map as tables" }
            div.tables {
                table {
                    caption { "Findings by source" }
                    thead { tr { th scope="col" { "Source" } th scope="col" { "Findings" } th scope="col" { "Closest" } } }
                    tbody { @for (name, items) in rows { (source_line(name, items)) } }
                }
                @if !draft.sections.is_empty() {
                    table {
                        caption { "Sections" }
                        thead { tr {
                            th scope="col" { "Section" } th scope="col" { "Words" }
                            th scope="col" { "Quoted" } th scope="col" { "Findings" }
                        } }
                        tbody { @for section in &draft.sections { (section_line(draft, section)) } }
                    }
                }
            }
        }
    }
}

fn source_line(name: &str, items: &[&Item<'_>]) -> Markup {
    let degrees = items.iter().filter_map(|item| item.finding.degree);
    html! {
        tr {
            th scope="row" { (on_page(name)) }
            td { (numbers(items)) }
            td { (degrees.min().map_or("", Degree::name)) }
        }
    }
}

fn section_line(draft: &DraftPlan<'_>, section: &Section) -> Markup {
    let inside = |item: &&Item<'_>| {
        let at = draft.section_at(item.finding.draft.range.start());
        at.is_some_and(|at| at.number == section.number)
    };
    let items: Vec<&Item<'_>> = draft.items.iter().filter(inside).collect();
    html! {
        tr {
            th scope="row" { (section_link(draft, section)) }
            td { (counted(section.words, "word", "words")) }
            td { (counted(section.quoted, "word", "words")) }
            td { (numbers(&items)) }
        }
    }
}
