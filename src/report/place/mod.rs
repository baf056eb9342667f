//! Rewrites of one passage on the scale, for seeing why each stands where it stands.
//!
//! For each rewrite the two wordings, the scale, the measures with everything that was counted (so
//! that a class can recount them by hand), and one sentence of reason; with several rewrites one line
//! that holds them all. For programs a line of JSON each.

pub(super) mod measures;
mod traced;

pub use traced::{write_traced, write_traced_json, write_traced_pair};

use std::io::{self, Write};

use serde::Serialize;
use serde_json::Value;

use super::cautions;
use super::english::counted;
use super::harmless;
use super::json::{MeasuresForm, SharedForm, rounded};
use super::terminal::scale::{self, Marker};
use super::terminal::sheet::Sheet;
use super::terminal::wording::{CUT_NOTE, LEGEND, Wording};
use super::terminal::{Look, summary, why};
use crate::findings::placing::{NamedText, PlaceReport, PlacedRewrite};
use crate::overlap::{Counterpart, Placement};
use crate::text::{ByteRange, MarkedText};

/// Lines of words shown of a wording: a long paragraph; what is longer is no single passage.
const MOST_LINES: usize = 24;

/// Writes the rewrites for reading.
///
/// # Errors
/// What the writer refuses.
pub fn write(report: &PlaceReport, look: &Look, out: &mut impl Write) -> io::Result<()> {
    let mut sheet = Sheet::new(out, look);
    write_key(&mut sheet)?;
    for (index, placed) in report.rewrites.iter().enumerate() {
        if index > 0 {
            sheet.blank()?;
        }
        write_rewrite(&mut sheet, &report.source, placed, index + 1)?;
    }
    if report.rewrites.len() > 1 {
        sheet.blank()?;
        side_by_side(&mut sheet, &report.rewrites)?;
    }
    summary::cautions(&mut sheet, cautions::of_one_passage())
}

/// Writes what the marks and the scale mean.
fn write_key<W: Write>(sheet: &mut Sheet<'_, W>) -> io::Result<()> {
    sheet.hanging(7, "Marks", LEGEND)?;
    sheet.hanging(
        7,
        "Scale",
        "from 0, word for word the passage, to 1, nothing of its wording kept",
    )?;
    sheet.blank()
}

/// Writes the rewrites as lines of JSON, with the shared stretches.
///
/// # Errors
/// What the writer refuses.
pub fn write_json(report: &PlaceReport, out: &mut impl Write) -> io::Result<()> {
    report.rewrites.iter().try_for_each(|placed| {
        let id = Value::from(placed.rewrite.name.as_str());
        let shared = &placed.placement.shared;
        let shared = Some(shared.iter().map(SharedForm::of).collect());
        write_line(&id, &placed.placement, shared, out)
    })
}

/// Writes the placement of one pair as a line of JSON.
///
/// # Errors
/// What the writer refuses.
pub fn write_pair(id: &Value, placement: &Placement, out: &mut impl Write) -> io::Result<()> {
    write_line(id, placement, None, out)
}

#[derive(Serialize)]
struct LineForm<'a> {
    id: &'a Value,
    degree: &'static str,
    position: f64,
    shares_telling: bool,
    measures: MeasuresForm,
    #[serde(skip_serializing_if = "Option::is_none")]
    shared: Option<Vec<SharedForm>>,
}

fn write_line(
    id: &Value,
    placement: &Placement,
    shared: Option<Vec<SharedForm>>,
    out: &mut impl Write,
) -> io::Result<()> {
    let measures = &placement.measures;
    let line = LineForm {
        id,
        degree: placement.degree().name(),
        position: rounded(measures.position()),
        shares_telling: placement.shares_telling,
        measures: MeasuresForm::of(measures),
        shared,
    };
    serde_json::to_writer(&mut *out, &line)?;
    writeln!(out)
}

fn write_rewrite<W: Write>(
    sheet: &mut Sheet<'_, W>,
    source: &NamedText,
    placed: &PlacedRewrite,
    number: usize,
) -> io::Result<()> {
    sheet.heading(0, &format!("{number}. {}", harmless(&placed.rewrite.name)))?;
    sheet.blank()?;
    write_compared(sheet, source, placed)
}

/// The two wordings, the scale, the measures and the reason.
fn write_compared<W: Write>(
    sheet: &mut Sheet<'_, W>,
    source: &NamedText,
    placed: &PlacedRewrite,
) -> io::Result<()> {
    let rewrite = &placed.rewrite;
    let measures = &placed.placement.measures;
    let shared = &placed.placement.shared;
    let of_rewrite = shared.iter().map(|place| (place.draft, place.by));
    let of_source = shared.iter().map(|place| (place.source, place.by));
    let source_words = whole(&source.text, of_source);
    let rewrite_words = whole(&rewrite.text, of_rewrite);
    let (rewrite_words, source_words) =
        rewrite_words.set_both(&source_words, sheet.look, MOST_LINES);
    rewrite_words.write(sheet, "rewrite")?;
    sheet.labelled("source", &harmless(&source.name))?;
    source_words.write(sheet, "")?;
    if rewrite_words.is_cut() || source_words.is_cut() {
        sheet.labelled("", CUT_NOTE)?;
    }
    sheet.blank()?;
    scale::write_one(sheet, placed.placement.degree(), measures.position())?;
    sheet.blank()?;
    measures::write(sheet, source, placed)?;
    sheet.blank()?;
    sheet.paragraph(3, &why::reason(&placed.placement))
}

fn whole(text: &MarkedText, marks: impl Iterator<Item = (ByteRange, Counterpart)>) -> Wording<'_> {
    let content = text.text.content();
    Wording::new(content, ByteRange::of(0, content.len()), marks)
}

fn side_by_side<W: Write>(sheet: &mut Sheet<'_, W>, rewrites: &[PlacedRewrite]) -> io::Result<()> {
    let count = counted(rewrites.len(), "rewrite", "rewrites");
    sheet.heading(0, &format!("{count} side by side"))?;
    sheet.blank()?;
    let markers: Vec<Marker> = rewrites
        .iter()
        .enumerate()
        .map(|(index, placed)| Marker {
            sign: (index + 1).to_string(),
            degree: placed.placement.degree(),
            position: placed.placement.measures.position(),
        })
        .collect();
    scale::write_many(sheet, &markers)?;
    sheet.blank()?;
    for (marker, placed) in markers.iter().zip(rewrites) {
        let lead = format!("{:>6}", format!("{}.", marker.sign));
        let text = format!(
            "{:.2}  {:<14}  {}",
            marker.position,
            marker.degree.name(),
            harmless(&placed.rewrite.name)
        );
        sheet.hanging(8, &lead, &text)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::overlap::{Measures, SharedPlace};
    use crate::report::{Colours, samples};
    use crate::text::Text;

    const SOURCE: &str = "Pollen is carried less far where the lamps stay lit.";

    fn named(name: &str, content: &str) -> NamedText {
        let mut text = MarkedText::new(Text::paragraph(content));
        // Words split at spaces, so that the test stands on its own.
        text.words = content
            .split_inclusive(' ')
            .scan(0, |start, word| {
                let from = *start;
                *start += word.len();
                Some(ByteRange::of(from, from + word.trim_end().len()))
            })
            .collect();
        NamedText {
            name: name.to_owned(),
            text: text.into(),
        }
    }

    fn placed(name: &str, content: &str, shared: &[(&str, &str, Counterpart)]) -> PlacedRewrite {
        let range = |words: &str, text: &str| {
            let start = text.find(words).unwrap();
            ByteRange::of(start, start + words.len())
        };
        let shared = shared.iter().map(|&(here, there, by)| SharedPlace {
            draft: range(here, content),
            source: range(there, SOURCE),
            by,
        });
        PlacedRewrite {
            rewrite: named(name, content),
            placement: Placement {
                measures: Measures {
                    words: 9,
                    string_share: 6.0 / 9.0,
                    longest_string: 4,
                    content_words: 5,
                    kept_content: 0.8,
                    swapped: 2,
                    order: 1.0,
                    sequence: 2.0 * 7.0 / (9.0 + 10.0),
                    stretch: 10,
                    unique_share: None,
                },
                shared: shared.collect(),
                shares_telling: true,
            },
        }
    }

    fn report() -> PlaceReport {
        let rewrite = "Pollen is transported less far where the lights stay on.";
        let shared = [
            ("Pollen is", "Pollen is", Counterpart::String),
            ("transported", "carried", Counterpart::Synonym),
            (
                "less far where the",
                "less far where the",
                Counterpart::String,
            ),
            ("lights", "lamps", Counterpart::Synonym),
            ("stay", "stay", Counterpart::Form),
        ];
        PlaceReport {
            source: named("passage.txt", SOURCE),
            rewrites: vec![
                placed("first.txt", rewrite, &shared),
                placed("second\u{1b}.txt", "Lit lamps keep pollen near.", &[]),
            ],
        }
    }

    fn shown(width: usize) -> String {
        let mut out = Vec::new();
        write(&report(), &Look::new(width, Colours::Off), &mut out).unwrap();
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn everything_counted_is_listed() {
        let shown = shown(80);
        for line in [
            "1. first.txt",
            "   rewrite Pollen is transported less far where the lights stay on.",
            "           ========= ~~~~~~~~~~~ ================== ~~~~~~ ----",
            "   source  passage.txt",
            "           ========= ~~~~~~~ ================== ~~~~~ ----",
            "   in shared strings       6 of 9 = 0.67: \"Pollen is\" 2, \"less far where the\" 4",
            "   content words kept      4 of 5 = 0.80: outside strings stay",
            "   swapped for synonyms    2: transported (carried), lights (lamps)",
            "2 rewrites side by side",
        ] {
            assert!(
                shown.lines().any(|other| other == line),
                "missing: {line}\n{shown}"
            );
        }
        assert!(shown.contains(r"2. second\u{1b}.txt"));
    }

    #[test]
    fn lines_keep_the_width() {
        for width in [60, 80, 100] {
            let shown = shown(width);
            let long = shown.lines().find(|line| line.chars().count() > width);
            assert_eq!(long, None);
        }
    }

    #[test]
    fn json_lines_keep_the_contract() {
        let schema: Value = serde_json::from_str(crate::report::json::PLACE_SCHEMA).unwrap();
        let validator = jsonschema::validator_for(&schema).unwrap();
        let mut out = Vec::new();
        write_json(&report(), &mut out).unwrap();
        let placement = Placement {
            measures: samples::MEASURES,
            shared: Vec::new(),
            shares_telling: true,
        };
        write_pair(&Value::from(7), &placement, &mut out).unwrap();
        let lines: Vec<Value> = String::from_utf8(out)
            .unwrap()
            .lines()
            .map(|line| serde_json::from_str(line).unwrap())
            .collect();
        assert_eq!(lines.len(), 3);
        for line in &lines {
            assert!(validator.is_valid(line), "{line}");
        }
        assert_eq!(lines[0]["id"], "first.txt");
        assert_eq!(lines[0]["shared"].as_array().map(Vec::len), Some(5));
        let fields = lines[2].as_object().unwrap().keys().collect::<Vec<_>>();
        assert_eq!(fields.len(), 5, "{fields:?}");
        assert!(!validator.is_valid(&serde_json::json!({"id": "x", "degree": "verbatim"})));
    }
}
