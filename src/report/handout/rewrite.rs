//! One rewrite on a screen of its own: its place, why, its wording against the passage's, the measures.

use maud::{Markup, html};

use super::scale::{self, Mark};
use super::{Lettered, file_name, named_degree, wording};
use crate::findings::placing::NamedText;
use crate::report::place::measures::{self, Row};
use crate::report::terminal::why;

/// The screen of a rewrite, which is the mark `at` of those along the scale.
pub(super) fn screen(
    source: &NamedText,
    lettered: &Lettered<'_>,
    marks: &[Mark],
    at: usize,
) -> Markup {
    let placed = lettered.placed;
    let measures = &placed.placement.measures;
    let degree = placed.placement.degree();
    let faced = wording::faced(source, placed);
    let rows = measures::rows(source, placed);
    let letter = &lettered.letter;
    html! {
        section.screen.rewrite id=(letter) aria-labelledby={ "name-" (letter) } {
            h2 id={ "name-" (letter) } {
                span.letter { (letter) } " " (named_degree(degree)) " "
                small { (format!("{:.2}", measures.position())) " · " (file_name(&placed.rewrite)) }
            }
            (scale::drawn(marks, Some(at)))
            p.why { (why::reason(&placed.placement)) }
            (wording::drawn(&faced))
            (wording::heard(placed, &faced, &rows))
            (table(letter, &rows))
        }
    }
}

fn table(letter: &str, rows: &[Row]) -> Markup {
    html! {
        table.measures {
            caption.v { "Measures of " (letter) }
            tbody { @for row in rows { tr { th scope="row" { (row.name) } td { (row.value) } } } }
        }
    }
}
