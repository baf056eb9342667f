//! The report as a page to look at: one file that needs nothing else, on screen, without its script, and on
//! paper.
//!
//! 1. What each finding is called and where it stands is settled first (`plan`).
//! 2. For each draft: what matters most and what to say (`glance`), a map (`map`), and the draft itself
//!    (`draft`) with its passages marked (`marks`), the findings beside them in the margin and in full on a
//!    leaf below (`leaf`).
//! 3. At the end what was compared, and the cautions (`end`).
//! 4. Source and draft set against each other word by word (`facing`) go into the page as data (`data`),
//!    from which the script draws a leaf when it is opened.
//!
//! Text of the user's reaches the page in two ways only: through `maud`, which escapes it, and as JSON that the
//! script puts in as text. Controls and marks of writing direction are spelled out before. A security policy
//! (`policy`) forbids everything but the page's own style and script.

mod common;
mod data;
mod draft;
mod end;
pub(in crate::report) mod facing;
mod glance;
mod leaf;
mod map;
mod marks;
pub(crate) mod pieces;
mod plan;
pub(in crate::report) mod policy;
mod tools;

use std::io::{self, Write};

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::english::{counted, grouped};
use super::escape::on_page;
use super::said;
use crate::findings::CheckReport;
use crate::paths::portable;
use plan::{DraftPlan, Plan};
use policy::Named;

/// What all pages share of their style: colours, type, tables.
macro_rules! values {
    () => {
        include_str!(concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/src/report/page/values.css"
        ))
    };
}
pub(in crate::report) use values;

pub(in crate::report) const STYLE: Named = Named {
    text: concat!(values!(), include_str!("page.css")),
    hash: "sha256-Qkmbt/rZ72x0gJuExbfUjcOeL7GRqv6zRHJURJ84/FQ=",
};
pub(in crate::report) const SCRIPT: Named = Named {
    text: concat!(include_str!("draw.js"), include_str!("page.js")),
    hash: "sha256-xIesPfwt6Alc3m2sUXB7DI2SS7VFmr+zlecDrakhcms=",
};

/// Writes the page.
///
/// # Errors
/// What the writer refuses.
pub fn write(report: &CheckReport, out: &mut impl Write) -> io::Result<()> {
    let plan = Plan::new(report);
    out.write_all(page(&plan).0.as_bytes())?;
    writeln!(out)
}

fn page(plan: &Plan<'_>) -> Markup {
    let title = title(plan);
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(policy::policy(&STYLE, &SCRIPT));
                meta name="generator" content="ownwords";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                meta name="referrer" content="no-referrer";
                title { (title) }
                style { (PreEscaped(STYLE.text)) }
                script { (PreEscaped(SCRIPT.text)) }
            }
            body {
                a.skip href="#draft-1" { "Skip to the first draft" }
                header.top { h1 { (title) } (contents(plan)) }
                (tools::tools(plan))
                main { @for draft in &plan.drafts { (section(plan, draft)) } }
                footer { (end::end(plan)) p.made { "Made by ownwords. Nothing in this page leaves your machine." } }
                script type="application/json" id="data" { (PreEscaped(data::data(plan))) }
            }
        }
    }
}

/// `chapter.md: 15 places to look at`.
fn title(plan: &Plan<'_>) -> String {
    let open = plan
        .drafts
        .iter()
        .map(|draft| said::open(draft.report).count());
    let what = match plan.drafts.as_slice() {
        [only] => name(only),
        several => counted(several.len(), "draft", "drafts"),
    };
    match open.sum() {
        0 => format!("{what}: nothing open"),
        count => format!(
            "{what}: {}",
            counted(count, "place to look at", "places to look at")
        ),
    }
}

/// A draft's file without its folders.
fn name(draft: &DraftPlan<'_>) -> String {
    let path = &draft.report.path;
    let name = path.file_name().unwrap_or(path.as_os_str());
    on_page(&name.to_string_lossy()).into_owned()
}

/// The drafts, where there are several.
fn contents(plan: &Plan<'_>) -> Markup {
    html! {
        @if plan.drafts.len() > 1 {
            nav aria-label="Drafts" {
                ul {
                    @for draft in &plan.drafts {
                        li {
                            a href={ "#draft-" (draft.number) } { (name(draft)) }
                            " " (grouped(said::open(draft.report).count())) " open"
                        }
                    }
                }
            }
        }
    }
}

fn section(plan: &Plan<'_>, draft: &DraftPlan<'_>) -> Markup {
    let path = portable(&draft.report.path);
    html! {
        section.draft id={ "draft-" (draft.number) } aria-labelledby={ "name-" (draft.number) } {
            // The head of the page has the name of an only draft.
            h2.v[plan.drafts.len() == 1] id={ "name-" (draft.number) } { (name(draft)) }
            p.extent { (on_page(&path)) ": " (said::extent(draft.report)) }
            (glance::glance(plan, draft))
            (map::map(plan, draft))
            h3.read { "The draft, with what was found beside it" }
            (tools::legend())
            div.text { (draft::draft(draft)) }
        }
    }
}

#[cfg(test)]
mod tests;
