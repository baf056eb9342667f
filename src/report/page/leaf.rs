//! What is said of one finding: a line or two in the margin beside its passage, and a leaf below the
//! passage with everything: what would mend it, the source's wording with the shared words marked, how close
//! it is and why, its credit, and the way it came. The script adds what is drawn.

use maud::{Markup, html};

use super::facing::{self, Part};
use super::plan::{Family, Item};
use crate::findings::{Finding, NotePlace, SourcePlace, Weight};
use crate::overlap::{Counterpart, Measures};
use crate::report::english::listed;
use crate::report::escape::on_page;
use crate::report::said;
use crate::report::terminal::why;

/// Words and stretches that are named one by one; of more, the first.
const MOST_NAMED: usize = 8;

/// A weight's class in the style sheet.
pub(super) fn weight_class(weight: Weight) -> &'static str {
    match weight {
        Weight::Act => "w0",
        Weight::Look => "w1",
        Weight::Know => "w2",
    }
}

/// The finding beside its passage.
pub(super) fn in_margin(item: &Item<'_>) -> Markup {
    let finding = item.finding;
    let classes = [
        "n",
        weight_class(finding.weight),
        Family::of(finding.kind).class(),
        if finding.settled.is_some() { "set" } else { "" },
    ];
    html! {
        a class=(classes.join(" ").trim_end()) href={ "#" (item.anchor) } {
            b { (item.label) } " " (finding.kind.about().short)
            @for line in beside(finding) { small { (line) } }
            @if let Some(progress) = progress(item) { small { (on_page(&progress)) } }
        }
    }
}

/// What an open finding is against the earlier draft.
fn progress(item: &Item<'_>) -> Option<String> {
    let progress = item.progress.filter(|_| item.finding.settled.is_none());
    progress.map(said::progress)
}

/// Where it is from and how close, in the margin.
fn beside(finding: &Finding) -> Vec<String> {
    let asked = match &finding.settled {
        Some(_) => "settled by the writer",
        None => finding.weight.request(),
    };
    let degree = match finding.degree {
        Some(degree) => format!("{asked} · {}", degree.name()),
        None => asked.to_owned(),
    };
    let source = finding.source.as_ref().map(said::source_name);
    source.into_iter().chain([degree]).collect()
}

/// The leaf.
pub(super) fn leaf(item: &Item<'_>) -> Markup {
    let finding = item.finding;
    let about = finding.kind.about();
    html! {
        div.leaf id=(item.anchor) {
            p class={ "lead " (weight_class(finding.weight)) } {
                b { (item.label) }
                " " strong { (about.short) } " " span { (finding.weight.request()) }
                @if let Some(progress) = progress(item) { " " span { "· " (on_page(&progress)) } }
            }
            @if let Some(settled) = &finding.settled {
                p.settled { "Settled on " (on_page(&settled.on)) ": " (on_page(&settled.because)) }
            }
            p.mend { (on_page(&finding.advice)) }
            @if let Some(source) = &finding.source { (wording(finding, source)) }
            dl { (facts(item)) }
        }
    }
}

/// The source's wording with what the draft shares of it marked.
fn wording(finding: &Finding, source: &SourcePlace) -> Markup {
    html! {
        p.from { (said::source_and_key(source)) }
        blockquote.src { (shared(finding, source)) }
    }
}

fn shared(finding: &Finding, source: &SourcePlace) -> Markup {
    let mut places: Vec<_> = finding.evidence.shared.iter().collect();
    places.sort_by_key(|place| (place.source, place.draft));
    let start = source.range.start();
    let mut at = 0;
    let text = source.text.as_str();
    html! {
        @for place in places {
            @let from = place.source.start().saturating_sub(start).max(at);
            @let to = place.source.end().saturating_sub(start).max(from);
            @if let (Some(before), Some(words)) = (text.get(at..from), text.get(from..to)) {
                (on_page(before))
                @match place.by {
                    Counterpart::String => b { (on_page(words)) },
                    Counterpart::Synonym => u { (on_page(words)) },
                    _ => i { (on_page(words)) },
                }
                @let () = at = to;
            }
        }
        (on_page(text.get(at..).unwrap_or_default()))
    }
}

/// Everything else that is known, a term and what is said of it at a time.
fn facts(item: &Item<'_>) -> Markup {
    let finding = item.finding;
    let parts = facing::facing(finding).unwrap_or_default();
    html! {
        (fact("Differs", &differences(finding)))
        (fact("Swapped", &swaps(&parts)))
        (fact("Moved", &moves(&parts)))
        @if let Some(measures) = &finding.measures { (close(finding, measures)) }
        @if let Some(credit) = &finding.credit { (fact("Credit", &said::credit(credit))) }
        (fact("Also in", &also_in(finding)))
        @if let Some(note) = &finding.note { dt { "Trail" } dd { (trail(finding, note)) } }
        dt { "Place" } dd { (place(finding)) " · " a href={ "#" (item.anchor) } { (on_page(&finding.id)) } }
    }
}

fn fact(term: &str, said: &str) -> Markup {
    html! { @if !said.is_empty() { dt { (term) } dd { (on_page(said)) } } }
}

fn close(finding: &Finding, measures: &Measures) -> Markup {
    let degree = finding.degree.unwrap_or_else(|| measures.degree());
    html! {
        dt { "Closeness" }
        dd.close { strong { (said::closeness((degree, measures.position()))) } ". " (why::sentences(measures)) }
    }
}

fn place(finding: &Finding) -> String {
    let page = finding.draft.page.as_ref();
    let page = page.map(|page| format!(", page {page}"));
    let place = format!("line {}{}", finding.draft.line, page.unwrap_or_default());
    on_page(&place).into_owned()
}

fn differences(finding: &Finding) -> String {
    let all = finding.evidence.differences.iter();
    named(
        all.map(|difference| said::difference("draft", difference))
            .collect(),
    )
}

fn swaps(parts: &[Part]) -> String {
    let swapped = facing::swapped(parts).into_iter();
    let said = swapped.map(|(source, draft)| format!("“{source}” became “{draft}”"));
    named(said.collect())
}

fn moves(parts: &[Part]) -> String {
    let moved = facing::moved(parts).into_iter();
    let letters = moved.zip(0..).map(|(words, number)| {
        let letter = facing::letter(number);
        format!("“{words}” ({letter})")
    });
    named(letters.collect())
}

/// Things in a row, the first of them where they are many.
fn named(mut things: Vec<String>) -> String {
    let more = things.len().saturating_sub(MOST_NAMED);
    if more > 0 {
        things.truncate(MOST_NAMED);
        things.push(format!("{more} more"));
    }
    listed(&things)
}

fn also_in(finding: &Finding) -> String {
    let keys = finding.evidence.also_in.iter();
    let keys: Vec<&str> = keys.map(crate::review::Key::as_str).collect();
    keys.join(", ")
}

/// The way the wording came, a step each: draft, note, source.
fn trail(finding: &Finding, note: &NotePlace) -> Markup {
    let step = |close: Option<_>| close.map(|close| format!("{} from ", said::closeness(close)));
    html! {
        ol.trail {
            li {
                "this draft"
                @if let Some(stayed) = finding.stayed_close() { ": " (stayed.said()) }
            }
            li { (step(note.to_draft).unwrap_or_default()) (said::note_place(note)) ": " q { (on_page(&note.text)) } }
            @if let Some(source) = &finding.source {
                li { (step(note.from_source).unwrap_or_default()) (said::source_name(source)) }
            }
        }
    }
}
