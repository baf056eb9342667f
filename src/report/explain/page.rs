//! What can be explained as a page: one topic, or all of them with a table of contents. The texts are those
//! that the terminal shows.

use std::io::{self, Write};

use maud::{Markup, html};

use super::guides::{self, Guide, Part};
use super::topic::{PARTS, Topic};
use super::{
    CLOSENESS, POSITION, THRESHOLDS, UNBROKEN, degrees, measures, reach, settings, usual_weight,
};
use crate::findings::thresholds::thresholds;
use crate::findings::{Kind, Weight};
use crate::overlap::Degree;
use crate::report::cautions::CAUTIONS;
use crate::report::decisions::DECISIONS_SCHEMA;
use crate::report::english::capitalised;
use crate::report::handout::document;
use crate::report::handout::scale;
use crate::report::json::{self, CHECK_SCHEMA, PLACE_SCHEMA};
use crate::report::page::policy::Named;
use crate::report::page::values;
use crate::report::quotations::QUOTATIONS_SCHEMA;
use crate::review::{AboutSetting, Settings};

pub(in crate::report) const STYLE: Named = Named {
    text: concat!(
        values!(),
        include_str!("../handout/scale.css"),
        include_str!("explain.css")
    ),
    hash: "sha256-CzAVJtZiI+cMNum3z6ofwkjCosrWygSXRWhPsXI28MU=",
};

/// Writes the page of a topic.
///
/// # Errors
/// What the writer refuses.
pub fn write(topic: Topic, settings: &Settings, out: &mut impl Write) -> io::Result<()> {
    let (title, _) = topic.heading();
    let content = html! {
        @if topic == Topic::All {
            header { h1 { (title) } (contents()) }
            main { @for (heading, topics) in PARTS { (part(heading, &topics(), settings)) } }
        } @else {
            main { h1 { (title) } (explained(topic, settings, Nested::No)) }
        }
        footer {
            @if topic != Topic::All && topic != Topic::Cautions {
                h2 { "Please bear in mind" }
                (cautions())
            }
            p.made { "Made by ownwords." }
        }
    };
    out.write_all(document(&title, &STYLE, &content).0.as_bytes())?;
    writeln!(out)
}

fn contents() -> Markup {
    html! {
        nav aria-label="Contents" {
            ol.contents {
                @for (heading, topics) in PARTS {
                    li {
                        (heading)
                        ul {
                            @for topic in topics() {
                                @let (said, name) = topic.heading();
                                li { a href={ "#" (name) } { (said) } }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn part(heading: &str, topics: &[Topic], settings: &Settings) -> Markup {
    html! {
        section.part {
            h2 { (heading) }
            @for topic in topics {
                @let (said, name) = topic.heading();
                section.topic id=(name) {
                    h3 { (said) }
                    (explained(*topic, settings, Nested::Yes))
                }
            }
        }
    }
}

/// Whether a topic stands below a heading of its own or makes the page alone: its headings are a step lower then.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Nested {
    Yes,
    No,
}

fn explained(topic: Topic, values: &Settings, nested: Nested) -> Markup {
    match topic {
        Topic::Kind(kind) => of_kind(kind),
        Topic::Degree(degree) => of_degree(degree),
        Topic::Scale => the_scale(),
        Topic::Measures => the_measures(),
        Topic::Thresholds => the_thresholds(values),
        Topic::Settings => {
            html! { @for about in Settings::table() { (setting(about, values)) } }
        }
        Topic::Setting(about) => setting(about, values),
        Topic::Word(word) => html! {
            p.name { (capitalised(word.short)) }
            p { (word.meaning) }
            p { "More: " (word.more) }
        },
        Topic::Guide(about) => guide(about, values, nested),
        Topic::Weights => weights(),
        Topic::Cautions => cautions(),
        Topic::CheckSchema => schema(CHECK_SCHEMA),
        Topic::NotesSchema => schema(json::notes::SCHEMA),
        Topic::PlaceSchema => schema(PLACE_SCHEMA),
        Topic::QuotationsSchema => schema(QUOTATIONS_SCHEMA),
        Topic::DecisionsSchema => schema(DECISIONS_SCHEMA),
        Topic::All => html! {},
    }
}

fn schema(text: &str) -> Markup {
    html! { pre tabindex="0" role="region" aria-label="JSON Schema" { (text) } }
}

/// Terms with what is said of each.
fn terms(rows: &[(&str, &str)]) -> Markup {
    html! { dl { @for (term, said) in rows { dt { (term) } dd { (said) } } } }
}

fn of_kind(kind: Kind) -> Markup {
    let about = kind.about();
    html! {
        p.name { code { (about.name) } }
        (terms(&[
            ("Means", about.meaning),
            ("To mend it", about.mend),
            ("Example", about.example),
            ("The number", about.origin),
            ("Weight", &usual_weight(about.weight)),
        ]))
    }
}

fn of_degree(degree: Degree) -> Markup {
    let about = degrees::about(degree);
    html! {
        p.name { (capitalised(about.short)) }
        (scale::of_degree(Some(degree)))
        (terms(&[
            ("Means", about.meaning),
            ("To mend it", about.mend),
            ("Source", degrees::PASSAGE),
            ("Draft", about.example),
            ("The number", &capitalised(&reach(degree))),
        ]))
    }
}

fn the_scale() -> Markup {
    html! {
        (scale::of_degree(None))
        dl {
            @for degree in Degree::ALL {
                dt { (degree.name()) }
                dd { (capitalised(degrees::about(degree).short)) ", " (reach(degree)) }
            }
        }
        p { (POSITION) }
        dl { @for measure in measures::MEASURES { dt { (measure.name) } dd { (capitalised(measure.short)) } } }
        p { (CLOSENESS) }
        (formula("The formula", &[&measures::FORMULA]))
        p { (UNBROKEN) }
    }
}

fn formula(name: &str, parts: &[&[&str]]) -> Markup {
    let lines: Vec<&str> = parts.iter().flat_map(|part| part.iter().copied()).collect();
    html! { pre tabindex="0" role="region" aria-label=(name) { (lines.join("\n")) } }
}

fn the_measures() -> Markup {
    html! {
        (terms(&[("Source", measures::SOURCE), ("Rewrite", measures::REWRITE)]))
        div.wide tabindex="0" role="region" aria-label="The measures" {
            table {
                thead { tr { th scope="col" { "Measure" } th scope="col" { "Counted by hand" } th scope="col" { "Here" } } }
                tbody {
                    @for measure in measures::MEASURES {
                        tr { th scope="row" { (measure.name) } td { (measure.counted) } td { (measure.example) } }
                    }
                }
            }
        }
        (formula("The formula in the example", &[&measures::FORMULA, &measures::IN_NUMBERS]))
    }
}

fn the_thresholds(settings: &Settings) -> Markup {
    html! {
        p { (THRESHOLDS) }
        div.wide tabindex="0" role="region" aria-label="Thresholds" {
            table {
                thead { tr { th scope="col" { "Threshold" } th scope="col" { "Value" } th scope="col" { "What it decides" } th scope="col" { "Where it comes from" } } }
                tbody {
                    @for threshold in thresholds(settings) {
                        tr {
                            th scope="row" { (threshold.name) }
                            td { (threshold.value) }
                            td { (threshold.text) }
                            td { (capitalised(&threshold.origin.to_string())) }
                        }
                    }
                }
            }
        }
    }
}

fn setting(about: &AboutSetting, values: &Settings) -> Markup {
    html! {
        p.name { code { (settings::head(about, values)) } }
        p { (about.meaning) " " (about.origin) " " (settings::takes(about, values)) }
    }
}

fn guide(guide: &Guide, values: &Settings, nested: Nested) -> Markup {
    html! {
        @for section in guide.sections {
            @if nested == Nested::Yes { h4 { (section.heading) } } @else { h2 { (section.heading) } }
            @for part in section.parts { (guide_part(part, values)) }
        }
    }
}

fn guide_part(part: &Part, values: &Settings) -> Markup {
    match part {
        Part::Says(text) => html! { p { (text) } },
        Part::Item(term, text) => terms(&[(term, text)]),
        Part::Notice(notice) => {
            html! { @for paragraph in guides::paragraphs(notice) { p { (paragraph) } } }
        }
        Part::Costs => {
            let costs = values.limits.costs();
            let costs: Vec<(&str, &str)> = costs
                .iter()
                .map(|(of, most)| (*of, most.as_str()))
                .collect();
            terms(&costs)
        }
        Part::Settings(beginning) => {
            html! { @for about in guides::settings_named(beginning) { (setting(about, values)) } }
        }
    }
}

fn weights() -> Markup {
    html! {
        dl {
            @for weight in Weight::ALL {
                dt { (capitalised(weight.request())) " (" (weight.name()) ")" }
                dd { (weight.meaning()) }
            }
        }
    }
}

fn cautions() -> Markup {
    html! { ul { @for caution in CAUTIONS { li { (caution) } } } }
}
