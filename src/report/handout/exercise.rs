//! The sheet to work on: the passage, the rewrites by letter in the order named, lines to write on, and an
//! empty line for the scale. Nothing here knows where a rewrite stands.

use maud::{Markup, html};

use super::{document, foot, paragraphs};
use crate::findings::placing::NamedText;
use crate::report::english::counted;
use crate::report::page::policy::Named;
use crate::report::page::values;

/// A style of its own, so that not even a rule for a mark is on the sheet.
pub(in crate::report) const STYLE: Named = Named {
    text: concat!(
        values!(),
        include_str!("sheet.css"),
        include_str!("exercise.css")
    ),
    hash: "sha256-+Y4N8H9sMB6B12YUQAzH3tDvcEQUYqlUgcD229nvyUw=",
};

/// Lines to write on below each rewrite.
const LINES: usize = 2;

/// The parts of the line that are ticked off.
const PARTS: usize = 5;

/// The page.
pub(super) fn page(source: &NamedText, wordings: &[(&str, &NamedText)]) -> Markup {
    let count = counted(wordings.len(), "rewrite", "rewrites");
    let title = format!("How close is the wording? One passage, {count}");
    let content = html! {
        main {
            section.screen.start {
                h1 { "How close is the wording?" }
                p.task {
                    "Read the passage and each rewrite. Underline what a rewrite shares with the passage, put its letter on \
                     the line below, and say in a sentence why it belongs there."
                }
                p.from { "The passage:" }
                blockquote.passage { (paragraphs(source)) }
                (line())
            }
            @for (letter, wording) in wordings {
                section.wording aria-labelledby={ "name-" (letter) } {
                    h2 id={ "name-" (letter) } { span.letter { (letter) } span.v { " rewrite" } }
                    div {
                        blockquote { (paragraphs(wording)) }
                        p.because { "It stands there because" }
                        @for _ in 0..LINES { div.write {} }
                    }
                }
            }
        }
        (foot(false))
    };
    document(&title, &STYLE, &content)
}

/// The line to be marked by hand.
fn line() -> Markup {
    html! {
        div.empty {
            ol aria-label="An empty line of five parts, to be marked by hand" { @for _ in 0..PARTS { li {} } }
            p { span { "word for word the passage" } span { "nothing of its wording kept" } }
        }
    }
}
