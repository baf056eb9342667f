//! Passage and rewrite set against each other word by word: the passage's word above, the rewrite's below, and
//! under them how they answer to each other. Each way has a line of its own between the words and its name
//! below them; what was moved stands in a dashed frame under one number in both.

use maud::{Markup, html};

use crate::findings::placing::{NamedText, PlacedRewrite};
use crate::overlap::Counterpart;
use crate::report::english::{counted, listed};
use crate::report::escape::on_page;
use crate::report::page::facing::{self, Faced, Part, Piece};
use crate::report::place::measures::Row;
use crate::text::ByteRange;

/// A moved stretch that a word belongs to.
#[derive(Clone, Copy)]
struct Moved {
    number: usize,
    first: bool,
    last: bool,
    words: usize,
}

/// A word of one side that has no counterpart facing it.
#[derive(Clone, Copy)]
struct Alone<'a> {
    word: &'a str,
    moved: Option<Moved>,
}

/// Sets a rewrite against its passage.
pub(super) fn faced(source: &NamedText, placed: &PlacedRewrite) -> Faced {
    fn whole(named: &NamedText) -> (&str, ByteRange) {
        let content = named.text.text.content();
        (content, ByteRange::of(0, content.len()))
    }
    facing::faced(
        whole(&placed.rewrite),
        whole(source),
        &placed.placement.shared,
    )
}

/// The two wordings, drawn. For the eye; [`heard`] says the same in words.
pub(super) fn drawn(faced: &Faced) -> Markup {
    html! {
        div.facing aria-hidden="true" {
            span.col.names { span { "passage" } span { "rewrite" } }
            @for part in &faced.parts {
                @match part {
                    Part::Pair { by, source, draft } => (pair(*by, source, draft)),
                    Part::Between { source, draft } => (between(faced, &alone(source), &alone(draft))),
                }
            }
        }
    }
}

fn pair(by: Counterpart, source: &[String], draft: &[String]) -> Markup {
    let last = source.len().saturating_sub(1);
    html! {
        @for (at, (above, below)) in source.iter().zip(draft).enumerate() {
            span class={ "col " (class(by)) @if at == 0 { " first" } @if at == last { " last" } } {
                span.up { (above) }
                span.down { (below) }
                @if at == 0 { (label(&name(by, draft.len()), draft.len() > 1)) }
            }
        }
    }
}

/// A label; one that may reach over the words that follow takes no room of its own.
fn label(said: &str, over: bool) -> Markup {
    html! { span.label.over[over] { (said) } }
}

fn class(by: Counterpart) -> &'static str {
    match by {
        Counterpart::String => "string",
        Counterpart::Form => "same",
        Counterpart::Stem => "stem",
        Counterpart::Misspelling => "spelling",
        Counterpart::Synonym => "synonym",
    }
}

fn name(by: Counterpart, words: usize) -> String {
    match by {
        Counterpart::String => format!("string of {words}"),
        Counterpart::Form => "same".to_owned(),
        Counterpart::Stem => "stem".to_owned(),
        Counterpart::Misspelling => "spelling".to_owned(),
        Counterpart::Synonym => "synonym".to_owned(),
    }
}

fn alone(pieces: &[Piece]) -> Vec<Alone<'_>> {
    let words = |piece: &'_ Piece| -> Vec<(usize, usize)> {
        let count = piece.words.len();
        (0..count).map(|at| (at, count)).collect()
    };
    let mut all = Vec::new();
    for piece in pieces {
        for ((at, count), word) in words(piece).into_iter().zip(&piece.words) {
            let moved = piece.moved.map(|number| Moved {
                number,
                first: at == 0,
                last: at + 1 == count,
                words: count,
            });
            all.push(Alone { word, moved });
        }
    }
    all
}

fn between(faced: &Faced, source: &[Alone<'_>], draft: &[Alone<'_>]) -> Markup {
    html! {
        @for at in 0..source.len().max(draft.len()) {
            @let (above, below) = (source.get(at), draft.get(at));
            span.col.alone {
                (single("up", above))
                (single("down", below))
                @if let Some(moved) = below.and_then(|word| word.moved).filter(|moved| moved.first) {
                    @let by = faced.moved.get(moved.number).copied().unwrap_or(Counterpart::Form);
                    (label(&format!("moved: {}", name(by, moved.words)), moved.words > 2))
                }
            }
        }
    }
}

fn single(side: &str, word: Option<&Alone<'_>>) -> Markup {
    let moved = word.and_then(|word| word.moved);
    html! {
        span class={
            (side)
            @if let Some(moved) = moved {
                " moved" @if moved.first { " first" } @if moved.last { " last" }
            }
        } {
            @if let Some(moved) = moved.filter(|moved| moved.first) { sup { (moved.number + 1) } }
            @if let Some(word) = word { (word.word) }
        }
    }
}

/// What is drawn, for readers who hear the page: the rewrite, and everything it shares with the passage.
pub(super) fn heard(placed: &PlacedRewrite, faced: &Faced, rows: &[Row]) -> Markup {
    let moved = facing::moved(&faced.parts);
    html! {
        div.v {
            p { "The rewrite: " (on_page(placed.rewrite.text.text.content())) }
            @for row in rows.iter().filter(|row| !row.counted.is_empty()) {
                p { (row.name) ": " (on_page(&row.counted)) }
            }
            @if !moved.is_empty() {
                p { (counted(moved.len(), "stretch moved", "stretches moved")) ": " (listed(&moved)) }
            }
        }
    }
}

/// What the lines and frames mean, with a sample each.
pub(super) fn legend() -> Markup {
    let samples = [
        ("string", "string of 3", "words in a row"),
        ("same", "same", "the same word"),
        ("stem", "stem", "another form of it"),
        ("spelling", "spelling", "misspelt"),
        ("synonym", "synonym", "another word for it"),
    ];
    html! {
        ul.legend {
            @for (class, label, meaning) in samples {
                li { span class={ "col " (class) " first last" } { span.up { (label) } } " " (meaning) }
            }
            li { span.down.moved.first.last { "moved" } " to another place: the same number in both lines" }
            li { span.plain { "no line" } " no counterpart" }
        }
    }
}
