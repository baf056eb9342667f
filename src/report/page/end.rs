//! The end of the page: what was compared with what and what was left out, so that a reader can judge how far
//! the report reaches, and what to bear in mind.

use maud::{Markup, html};

use super::plan::Plan;
use crate::findings::{Compared, Explained};
use crate::paths::portable;
use crate::report::cautions::CAUTIONS;
use crate::report::english::{counted, grouped};
use crate::report::escape::on_page;
use crate::report::{harmless, said};

/// Overlaps without a finding that are listed one by one.
const MOST_EXPLAINED: usize = 200;

/// The end.
pub(super) fn end(plan: &Plan<'_>) -> Markup {
    let report = plan.report;
    html! {
        section aria-labelledby="bear" {
            h2 id="bear" { "Please bear in mind" }
            ul { @for caution in CAUTIONS { li { (caution) } } }
        }
        section aria-labelledby="compared" {
            h2 id="compared" { "What was compared" }
            p { (said::compared(report)) }
            (sources(&report.compared))
            (left_out(plan))
            (explained(plan))
        }
    }
}

fn sources(compared: &[Compared]) -> Markup {
    html! {
        @if !compared.is_empty() {
            details {
                summary { "The stored sources one by one" }
                div.wide tabindex="0" role="region" aria-label="The stored sources" {
                    table {
                        thead { tr {
                            th scope="col" { "Source" } th scope="col" { "File" }
                            th scope="col" { "Words" } th scope="col" { "Pages" }
                        } }
                        tbody { @for source in compared { (source_line(source)) } }
                    }
                }
            }
        }
    }
}

fn source_line(source: &Compared) -> Markup {
    let pages = source.pages.as_ref();
    let pages = pages.map(|(first, last)| said::pages(first, last));
    html! {
        tr {
            th scope="row" { (harmless(&source.name)) }
            td { (harmless(&portable(&source.path))) }
            td.num { (grouped(source.words)) }
            td { (harmless(&pages.unwrap_or_else(|| "not known".to_owned()))) }
        }
    }
}

fn left_out(plan: &Plan<'_>) -> Markup {
    let items = &plan.report.left_out;
    html! {
        @if !items.is_empty() {
            h3 { "Left out, or read in a way you should know about" }
            ul { @for item in items { li { strong { (on_page(&item.what)) } ": " (on_page(&item.why.to_string())) } } }
        }
    }
}

/// Shared wording that is no finding, and why.
fn explained(plan: &Plan<'_>) -> Markup {
    let drafts = plan.drafts.iter().map(|draft| draft.report);
    let all: Vec<(usize, &Explained)> = drafts
        .zip(1..)
        .flat_map(|(draft, number)| draft.explained.iter().map(move |one| (number, one)))
        .collect();
    let places = counted(all.len(), "overlap was", "overlaps were");
    let several = plan.drafts.len() > 1;
    html! {
        @if !all.is_empty() {
            details {
                summary { (places) " taken for fixed wording, titles or names" }
                ul {
                    @for (draft, overlap) in all.iter().take(MOST_EXPLAINED) {
                        li {
                            @if several { "draft " (draft) ", " }
                            "line " (overlap.draft.line) ", also in " (harmless(overlap.source.as_str())) ": "
                            q { (on_page(&overlap.draft.text)) } ": " (on_page(&overlap.why))
                        }
                    }
                    @if all.len() > MOST_EXPLAINED { li { "and " (grouped(all.len() - MOST_EXPLAINED)) " more" } }
                }
            }
        }
    }
}
