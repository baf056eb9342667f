//! Rewrites whose source was looked for: the passage that each most likely comes from, how sure that is, and how the two
//! stand to each other.

use std::io::{self, Write};

use serde::Serialize;
use serde_json::Value;

use super::write_compared;
use crate::findings::likeliest_source::{FoundOrigin, LIKELY, POSSIBLE, VERY_LIKELY};
use crate::findings::placing::{NamedText, TracedRewrite};
use crate::overlap::SharedPlace;
use crate::report::cautions::CAUTIONS;
use crate::report::harmless;
use crate::report::json::{MeasuresForm, SharedForm, SourceForm, rounded};
use crate::report::said::source_name;
use crate::report::terminal::sheet::Sheet;
use crate::report::terminal::{Look, summary};

/// Sureness, rounded as it is shown, in words.
fn in_words(sureness: f64) -> &'static str {
    match sureness {
        VERY_LIKELY.. => "very likely",
        LIKELY.. => "likely",
        _ => "possible, perhaps by chance",
    }
}

/// Writes the rewrites for reading, with what to bear in mind.
///
/// # Errors
/// What the writer refuses.
pub fn write_traced(
    rewrites: &[TracedRewrite],
    look: &Look,
    out: &mut impl Write,
) -> io::Result<()> {
    let mut sheet = Sheet::new(out, look);
    super::write_key(&mut sheet)?;
    for (index, rewrite) in rewrites.iter().enumerate() {
        if index > 0 {
            sheet.blank()?;
        }
        sheet.heading(0, &format!("{}. {}", index + 1, harmless(rewrite.name())))?;
        sheet.blank()?;
        write_one(&mut sheet, rewrite)?;
    }
    summary::cautions(&mut sheet, &CAUTIONS)
}

fn write_one<W: Write>(sheet: &mut Sheet<'_, W>, rewrite: &TracedRewrite) -> io::Result<()> {
    let TracedRewrite::Traced {
        origin,
        passage,
        placed,
    } = rewrite
    else {
        return sheet.paragraph(
            3,
            "It shares no distinctive words with any stored source, or has none. That says nothing about texts that are not stored here.",
        );
    };
    let (name, sureness) = (source_name(&origin.place), rounded(origin.sureness));
    if sureness < POSSIBLE {
        let nearest = format!(
            "Nothing in its wording points to a stored source. The nearest is {name} (sureness {sureness:.2}), which is too far away to compare; look there if the point may come from it."
        );
        return sheet.paragraph(3, &nearest);
    }
    let words = in_words(sureness);
    sheet.labelled(
        "origin",
        &format!("{name} \u{2013} {words} (sureness {sureness:.2})"),
    )?;
    let text = std::sync::Arc::clone(passage);
    write_compared(sheet, &NamedText { name, text }, placed)
}

/// Writes the rewrites as lines of JSON, with the shared stretches.
///
/// # Errors
/// What the writer refuses.
pub fn write_traced_json(rewrites: &[TracedRewrite], out: &mut impl Write) -> io::Result<()> {
    rewrites
        .iter()
        .try_for_each(|rewrite| write_line(&Value::from(rewrite.name()), rewrite, true, out))
}

/// A shared stretch with its place in the source's Text, which is where the origin's own range stands, and not in
/// the passage that was cut out of it.
fn in_source(origin: &FoundOrigin, place: &SharedPlace) -> SharedForm {
    SharedForm::of(&SharedPlace {
        source: origin.place.of_wording(place.source),
        ..*place
    })
}

/// Writes one rewrite as a line of JSON.
///
/// # Errors
/// What the writer refuses.
pub fn write_traced_pair(
    id: &Value,
    rewrite: &TracedRewrite,
    out: &mut impl Write,
) -> io::Result<()> {
    write_line(id, rewrite, false, out)
}

#[derive(Serialize)]
struct LineForm<'a> {
    id: &'a Value,
    sureness: f64,
    origin: Option<SourceForm<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    degree: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    position: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    shares_telling: Option<bool>,
    #[serde(skip_serializing_if = "Option::is_none")]
    measures: Option<MeasuresForm>,
    #[serde(skip_serializing_if = "Option::is_none")]
    shared: Option<Vec<SharedForm>>,
}

fn write_line(
    id: &Value,
    rewrite: &TracedRewrite,
    with_shared: bool,
    out: &mut impl Write,
) -> io::Result<()> {
    let line = match rewrite {
        TracedRewrite::Untraced(_) => LineForm {
            id,
            sureness: 0.0,
            origin: None,
            degree: None,
            position: None,
            shares_telling: None,
            measures: None,
            shared: None,
        },
        TracedRewrite::Traced { origin, placed, .. } => {
            let placement = &placed.placement;
            let sureness = rounded(origin.sureness);
            // What likely comes from elsewhere has no degree of rewording.
            let measures = (sureness >= POSSIBLE).then_some(&placement.measures);
            LineForm {
                id,
                sureness,
                origin: Some(SourceForm::of(&origin.place)),
                degree: measures.map(|_| placement.degree().name()),
                position: measures.map(|measures| rounded(measures.position())),
                shares_telling: measures.map(|_| placement.shares_telling),
                measures: measures.map(MeasuresForm::of),
                shared: (with_shared && measures.is_some()).then(|| {
                    let shared = placement.shared.iter();
                    shared.map(|place| in_source(origin, place)).collect()
                }),
            }
        }
    };
    serde_json::to_writer(&mut *out, &line)?;
    writeln!(out)
}
