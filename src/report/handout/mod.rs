//! A class handout: one passage and its rewrites in order along the scale, as a page to project and to print.
//!
//! 1. Rewrites get letters in the order in which they were named (`Lettered`), so that the sheet with the
//!    answers and the sheet without them speak of the same rewrite by the same letter.
//! 2. The sheet with the answers begins with the passage and the whole scale (`scale`); then each rewrite,
//!    from the nearest to the farthest, fills a screen of its own (`rewrite`): its place, the reason in one
//!    sentence, its wording below the passage's word by word (`wording`), the measures.
//! 3. The exercise (`exercise`) is written from the passage and the wordings alone; it is never given a
//!    degree or a measure, nor a file name, which could give them away.
//!
//! The page has no script. Text of the user's reaches it through `maud`, which escapes it, with controls
//! spelled out before; a security policy allows nothing but the page's own style.

pub(in crate::report) mod exercise;
mod rewrite;
pub(super) mod scale;
mod wording;

use std::io::{self, Write};
use std::path::Path;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::cautions;
use super::english::{capitalised, counted};
use super::escape::on_page;
use super::page::policy::{self, Named};
use super::page::values;
use crate::findings::placing::{NamedText, PlaceReport, PlacedRewrite};
use scale::Mark;

pub(in crate::report) const STYLE: Named = Named {
    text: concat!(
        values!(),
        include_str!("scale.css"),
        include_str!("sheet.css"),
        include_str!("handout.css")
    ),
    hash: "sha256-DK4zeJYEhlJJ/Ek8EG9dwOdlDXwqx8m7YpTrvJ6xFs0=",
};

/// Which of the two sheets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sheet {
    /// With everything.
    Answers,
    /// The passage, the rewrites and an empty scale, to work on.
    Exercise,
}

/// A rewrite with the letter it goes by on both sheets.
struct Lettered<'a> {
    letter: String,
    placed: &'a PlacedRewrite,
}

/// Writes the sheet.
///
/// # Errors
/// What the writer refuses.
pub fn write(report: &PlaceReport, sheet: Sheet, out: &mut impl Write) -> io::Result<()> {
    let lettered = lettered(report);
    let page = match sheet {
        Sheet::Answers => answers(report, &lettered),
        Sheet::Exercise => {
            let wordings = lettered
                .iter()
                .map(|one| (one.letter.as_str(), &one.placed.rewrite));
            exercise::page(&report.source, &wordings.collect::<Vec<_>>())
        }
    };
    out.write_all(page.0.as_bytes())?;
    writeln!(out)
}

/// The rewrites with their letters, in the order named.
fn lettered(report: &PlaceReport) -> Vec<Lettered<'_>> {
    let rewrites = report.rewrites.iter().enumerate();
    rewrites
        .map(|(at, placed)| Lettered {
            letter: letter(at),
            placed,
        })
        .collect()
}

/// `A`, `B`, ..., `Z`, `A2`, `B2`.
fn letter(number: usize) -> String {
    let letter = char::from(b'A' + u8::try_from(number % 26).unwrap_or_default());
    match number / 26 {
        0 => letter.to_string(),
        round => format!("{letter}{}", round + 1),
    }
}

/// A whole page with this title and content.
pub(super) fn document(title: &str, style: &Named, content: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="generator" content="ownwords";
                meta http-equiv="Content-Security-Policy" content=(policy::without_script(style));
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                meta name="referrer" content="no-referrer";
                title { (title) }
                style { (PreEscaped(style.text)) }
            }
            body { (content) }
        }
    }
}

fn answers(report: &PlaceReport, lettered: &[Lettered<'_>]) -> Markup {
    let mut along: Vec<&Lettered<'_>> = lettered.iter().collect();
    // From the nearest to the farthest; what stands at one place keeps the order named.
    along.sort_by(|one, other| {
        let place = |lettered: &Lettered<'_>| {
            let placement = &lettered.placed.placement;
            (placement.degree(), placement.measures.position())
        };
        let ((degree, position), (other_degree, other_position)) = (place(one), place(other));
        degree
            .cmp(&other_degree)
            .then(position.total_cmp(&other_position))
    });
    let marks: Vec<Mark> = along.iter().map(|lettered| mark(lettered)).collect();
    let title = format!(
        "{} of one passage",
        counted(lettered.len(), "rewrite", "rewrites")
    );
    let content = html! {
        main {
            section.screen.start {
                h1 { (title) }
                (passage(&report.source))
                h2 { "Where they stand" }
                (scale::drawn(&marks, None))
                (wording::legend())
            }
            @for (at, lettered) in along.iter().enumerate() {
                (rewrite::screen(&report.source, lettered, &marks, at))
            }
        }
        (foot(true))
    };
    let file = file_name(&report.source);
    document(&format!("{title}: {file}"), &STYLE, &content)
}

fn mark(lettered: &Lettered<'_>) -> Mark {
    let placement = &lettered.placed.placement;
    Mark {
        letter: lettered.letter.clone(),
        degree: placement.degree(),
        position: placement.measures.position(),
    }
}

/// The passage that was rewritten.
fn passage(source: &NamedText) -> Markup {
    html! {
        p.from { "The passage, from " (file_name(source)) ":" }
        blockquote.passage { (paragraphs(source)) }
    }
}

/// A text's paragraphs.
fn paragraphs(named: &NamedText) -> Markup {
    let content = named.text.text.content();
    let mut paragraphs = vec![String::new()];
    for line in content.lines() {
        match paragraphs.last_mut() {
            Some(last) if !line.trim().is_empty() => {
                last.push_str(line);
                last.push(' ');
            }
            Some(last) if !last.is_empty() => paragraphs.push(String::new()),
            _ => {}
        }
    }
    html! {
        @for paragraph in paragraphs.iter().map(|text| text.trim()).filter(|text| !text.is_empty()) {
            p { (on_page(paragraph)) }
        }
    }
}

/// A file without its folders.
fn file_name(named: &NamedText) -> String {
    let name = Path::new(&named.name).file_name();
    let name = name.map_or_else(|| named.name.clone().into(), |name| name.to_string_lossy());
    on_page(&name).into_owned()
}

/// What to bear in mind; without answers nothing of the thresholds either.
fn foot(answers: bool) -> Markup {
    let cautions = cautions::of_one_passage();
    let cautions = cautions
        .iter()
        .take(if answers { cautions.len() } else { 2 });
    html! {
        footer {
            h2 { "Please bear in mind" }
            ul {
                li {
                    "A place on this line says how close the wording is, not how good a rewrite is. Whatever the place, the source of the point is cited."
                }
                @for caution in cautions { li { (caution) } }
            }
            p.made { "Made by ownwords." }
        }
    }
}

/// `Near copy`.
fn named_degree(degree: crate::overlap::Degree) -> String {
    capitalised(degree.name())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_go_on_after_z() {
        for (number, expected) in [(0, "A"), (25, "Z"), (26, "A2"), (53, "B3")] {
            assert_eq!(letter(number), expected);
        }
    }
}
