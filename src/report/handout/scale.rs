//! The scale, drawn: the degrees side by side with their boundaries, and on the line a letter for each rewrite.
//!
//! Each degree is a fifth of the line, since some are too short for their names otherwise; within its degree
//! a letter stands in proportion, and the number in words beside it is exact. Letters that would touch stand in
//! rows above each other.

use maud::{Markup, html};

use crate::overlap::Degree;

/// Something that stands on the line.
pub(in crate::report) struct Mark {
    /// What stands there: a letter.
    pub letter: String,
    /// Its degree.
    pub degree: Degree,
    /// Its position, 0 to 1.
    pub position: f64,
}

/// The part of the line, in percent, below which two letters would touch on a narrow screen.
const ROOM: f64 = 7.5;

/// A row of letters, and the line with its foot, in the page's letter size.
const ROW: f64 = 2.1;

impl Mark {
    /// Where it stands along the drawn line, in percent.
    fn along(&self) -> f64 {
        let part = 100.0 / Degree::ALL.len() as f64;
        let before = Degree::ALL.iter().position(|degree| *degree == self.degree);
        let before = before.unwrap_or_default() as f64;
        let (from, to) = self.degree.span();
        // What its degree holds although its number lies before it stands at the degree's edge.
        let within = ((self.position - from) / (to - from)).clamp(0.0, 1.0);
        (before + within) * part
    }
}

/// The line with its marks, each of which leads to its rewrite; `current` is the one whose screen this is.
pub(in crate::report) fn drawn(marks: &[Mark], current: Option<usize>) -> Markup {
    let held = current.and_then(|at| marks.get(at)).map(|mark| mark.degree);
    line(marks, current, held)
}

/// The line without marks, with a degree held or none.
pub(in crate::report) fn of_degree(held: Option<Degree>) -> Markup {
    line(&[], None, held)
}

fn line(marks: &[Mark], current: Option<usize>, held: Option<Degree>) -> Markup {
    let rows = rows(marks);
    let height = ROW * (rows.iter().max().map_or(0, |last| last + 1)) as f64;
    html! {
        div.scale {
            @if !marks.is_empty() {
                nav.marks aria-label="The rewrites along the scale" {
                    svg width="100%" height=(format!("{:.2}rem", height + 0.4)) {
                        @for (at, mark) in marks.iter().enumerate() {
                            @let row = rows.get(at).copied().unwrap_or_default();
                            (letter(mark, current == Some(at), height - ROW * (row as f64 + 0.5), height))
                        }
                    }
                }
            }
            ol.degrees {
                @for degree in Degree::ALL {
                    @let (from, to) = degree.span();
                    li aria-current=[(held == Some(degree)).then_some("true")] {
                        b { (degree.name()) } " " small { (bound(from)) "–" (bound(to)) }
                    }
                }
            }
        }
    }
}

fn letter(mark: &Mark, current: bool, middle: f64, line: f64) -> Markup {
    let along = format!("{:.2}%", mark.along());
    let said = format!(
        "{}: {}, {:.2}",
        mark.letter,
        mark.degree.name(),
        mark.position
    );
    html! {
        a.mark.current[current] href={ "#" (mark.letter) } aria-label=(said) aria-current=[current.then_some("true")] {
            line x1=(along) x2=(along) y1=(format!("{middle:.2}rem")) y2=(format!("{:.2}rem", line + 0.4)) {}
            circle cx=(along) cy=(format!("{middle:.2}rem")) r="0.85rem" {}
            text x=(along) y=(format!("{middle:.2}rem")) dy=".36em" text-anchor="middle" { (mark.letter) }
        }
    }
}

/// A boundary without needless noughts: `0`, `0.25`, `1`.
fn bound(number: f64) -> String {
    let number = format!("{number:.2}");
    number
        .trim_end_matches('0')
        .trim_end_matches('.')
        .to_owned()
}

/// The row of each mark, the one nearest to the line first.
fn rows(marks: &[Mark]) -> Vec<usize> {
    // The last mark of each row; the marks come in order along the line.
    let mut ends: Vec<f64> = Vec::new();
    let place = |mark: &Mark| {
        let at = mark.along();
        let free = ends.iter().position(|end| at - end >= ROOM);
        let row = free.unwrap_or(ends.len());
        match ends.get_mut(row) {
            Some(end) => *end = at,
            None => ends.push(at),
        }
        row
    };
    marks.iter().map(place).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mark(degree: Degree, position: f64) -> Mark {
        Mark {
            letter: "A".to_owned(),
            degree,
            position,
        }
    }

    #[test]
    fn a_mark_stands_within_its_degree() {
        for (before, degree) in Degree::ALL.into_iter().enumerate() {
            let part = 20.0 * before as f64;
            let (from, to) = degree.span();
            for (position, along) in [
                (from, part),
                (f64::midpoint(from, to), part + 10.0),
                (to, part + 20.0),
                (from - 1.0, part),
                (to + 1.0, part + 20.0),
            ] {
                let found = mark(degree, position).along();
                assert!(
                    (found - along).abs() < 1e-6,
                    "{degree:?} {position}: {found}"
                );
            }
        }
    }

    #[test]
    fn marks_that_would_touch_stand_above_each_other() {
        let (from, _) = Degree::HeavyRevision.span();
        let marks = [
            mark(Degree::Verbatim, 0.0),
            mark(Degree::HeavyRevision, from),
            mark(Degree::HeavyRevision, from + 0.01),
            mark(Degree::HeavyRevision, from + 0.02),
            mark(Degree::Restructured, 1.0),
        ];
        assert_eq!(rows(&marks), [0, 0, 1, 2, 0]);
    }
}
