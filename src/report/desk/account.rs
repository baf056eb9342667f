//! The account of quotations as a list: the words, their source and page, and each place that has them with what is to be mended
//! there.

use maud::{Markup, html};

use crate::findings::{Account, Item, Quoted, Where};
use crate::paths::portable;
use crate::report::english::counted;
use crate::report::escape::on_page;
use crate::report::quotations::words;

/// The account.
pub(crate) fn account(account: &Account) -> Markup {
    let counts = words::Counts::of(account);
    html! {
        p.extent {
            (counted(counts.in_drafts, "quotation", "quotations")) " in drafts, " (counts.in_notes) " in the notes; "
            @if counts.to_mend == 0 { "nothing to mend." } @else { (counted(counts.to_mend, "is", "are")) " to be mended." }
        }
        ul.quotations { @for item in &account.items { (shown(item)) } }
    }
}

fn shown(item: &Item) -> Markup {
    let Some(longest) = item.longest() else {
        return Markup::default();
    };
    let mend = item.quoted.iter().any(Quoted::wants_mending);
    let pages = words::pages(&longest.found);
    html! {
        li.mend-it[mend] {
            blockquote.src { (on_page(&one_line(&longest.text))) }
            p.from {
                (on_page(item.name.as_deref().unwrap_or("From no known work")))
                @if !pages.is_empty() { ", " (on_page(&pages)) }
                @if mend { " " span.state { "to be mended" } }
            }
            ul.places {
                @for quoted in &item.quoted { (place(quoted)) }
                @for unmarked in item.unmarked() {
                    li { (on_page(&portable(&unmarked.path))) ", line " (unmarked.line) ": without its quotation marks; put back the marks and the page" }
                }
                @if !item.is_used() && item.unmarked().next().is_none() { li { "used nowhere yet" } }
                @if item.used_twice { li { "the same words are quoted in several places" } }
            }
        }
    }
}

fn place(quoted: &Quoted) -> Markup {
    let at = match &quoted.at {
        Where::Notes { part, .. } => format!("noted in {}", part.name()),
        Where::Draft { .. } => format!("used {}", words::form(quoted.form)),
    };
    let differences = quoted.differences.iter().map(words::difference);
    html! {
        li {
            (on_page(&portable(&quoted.path))) ", line " (quoted.line) ", " (at)
            @if let Some(citation) = &quoted.citation { ", " (on_page(&one_line(citation))) }
            ": " (on_page(&words::verdict(quoted).join("; ")))
            @for difference in differences.take(4) { "; " (on_page(&difference)) }
        }
    }
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
