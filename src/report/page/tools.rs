//! The tools: going from finding to finding, and choosing which are shown. They need the script, which
//! brings them out; without it every finding is there to read.

use std::collections::BTreeSet;

use maud::{Markup, html};

use super::data::number_in;
use super::plan::{Family, Plan};
use crate::findings::{Kind, Weight};
use crate::report::escape::on_page;

/// The bar above the drafts.
pub(super) fn tools(plan: &Plan<'_>) -> Markup {
    let kinds: BTreeSet<Kind> = plan.items().map(|item| item.finding.kind).collect();
    let settled = plan.items().any(|item| item.finding.settled.is_some());
    html! {
        form.tools id="tools" hidden aria-label="Go through the findings" {
            div.go {
                button type="button" id="previous" { "Previous " kbd { "p" } }
                button type="button" id="next" { "Next " kbd { "n" } }
                label { input type="checkbox" id="keys" checked; " keys " kbd { "n" } " " kbd { "p" } " on" }
                output id="shown" role="status" {}
            }
            details {
                summary { "Choose which are shown" }
                div.choose {
                    label { "Kind " select id="kind" {
                        option value="" { "all kinds" }
                        @for kind in kinds { option value=(number_in(&Kind::ALL, kind).unwrap_or_default()) { (kind.about().short) } }
                    } }
                    label { "Source " select id="source" {
                        option value="" { "all sources" }
                        @for (number, source) in plan.sources.iter().enumerate() {
                            option value=(number) { (on_page(&source.name)) }
                        }
                    } }
                    fieldset {
                        legend { "Weight" }
                        @for weight in Weight::ALL {
                            label { input type="checkbox" name="weight" value=(number_in(&Weight::ALL, weight).unwrap_or_default()) checked; " " (weight.request()) }
                        }
                    }
                    @if settled { label { input type="checkbox" id="settled"; " also what is settled" } }
                }
            }
        }
    }
}

/// What the lines below the words mean.
pub(super) fn legend() -> Markup {
    html! {
        ul.legend aria-label="Marks" {
            @for family in Family::ALL {
                li {
                    span class={ "r " (family.class()) } {}
                    span class={ "m d1 " (family.class()) } { (family.meaning()) }
                }
            }
        }
    }
}
