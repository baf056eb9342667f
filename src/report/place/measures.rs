//! The measures as a table with everything that was counted, so that a class can recount them by hand.

use std::io::{self, Write};

use crate::findings::placing::{NamedText, PlacedRewrite};
use crate::overlap::{Closest, Counterpart, Measures, SharedPlace};
use crate::report::english::{grouped, halves, part_of};
use crate::report::harmless;
use crate::report::terminal::Ink;
use crate::report::terminal::sheet::Sheet;

/// Columns before the value of a measure.
const MEASURE: usize = 27;

/// A measure of a rewrite, with what was counted.
pub(in crate::report) struct Row {
    /// Its name.
    pub name: &'static str,
    /// `19 of 31 = 0.61`.
    pub value: String,
    /// The words behind it; empty where there is nothing to list.
    pub counted: String,
}

/// The measures of a rewrite in the order in which they are counted.
pub(in crate::report) fn rows(source: &NamedText, placed: &PlacedRewrite) -> Vec<Row> {
    let measures = &placed.placement.measures;
    let counts = Counts::of(source, placed);
    let in_strings = part_of(measures.string_share, measures.words);
    let kept = part_of(measures.kept_content, measures.content_words);
    let row = |name, value, counted| Row {
        name,
        value,
        counted,
    };
    let none = String::new;
    let mut rows = vec![
        row("words", measures.words.to_string(), none()),
        row(
            "in shared strings",
            share(in_strings, measures.words, measures.string_share),
            counts.strings,
        ),
        row(
            "longest shared string",
            measures.longest_string.to_string(),
            none(),
        ),
        row(
            "content words kept",
            share(kept, measures.content_words, measures.kept_content),
            counts.singles,
        ),
        row(
            "in another form",
            counts.other_forms.0.to_string(),
            counts.other_forms.1,
        ),
        row(
            "swapped for synonyms",
            measures.swapped.to_string(),
            counts.synonyms,
        ),
        row("order kept", format!("{:.2}", measures.order), none()),
        row("kept in sequence", sequence(measures), none()),
        row("position", position(measures), none()),
    ];
    rows.extend(
        measures
            .unique_share
            .map(|unique| row("in unique links", format!("{unique:.2}"), none())),
    );
    rows
}

/// Writes the measures of a rewrite, a line each.
pub(super) fn write<W: Write>(
    sheet: &mut Sheet<'_, W>,
    source: &NamedText,
    placed: &PlacedRewrite,
) -> io::Result<()> {
    rows(source, placed)
        .iter()
        .try_for_each(|row| measure(sheet, row.name, &row.value, &row.counted))
}

fn measure<W: Write>(
    sheet: &mut Sheet<'_, W>,
    name: &str,
    value: &str,
    counted: &str,
) -> io::Result<()> {
    let lead = format!(
        "   {}",
        sheet.look.paint(Ink::Quiet, &format!("{name:<24}"))
    );
    let text = if counted.is_empty() {
        value.to_owned()
    } else {
        format!("{value}: {}", harmless(counted))
    };
    sheet.hanging(MEASURE, &lead, &text)
}

/// `19 of 31 = 0.61`.
fn share(part: usize, whole: usize, share: f64) -> String {
    format!("{part} of {whole} = {share:.2}")
}

/// `19½, of 31 here and 29 there = 0.65`.
fn sequence(measures: &Measures) -> String {
    format!(
        "{}, of {} here and {} there = {:.2}",
        halves(measures.kept_in_sequence()),
        grouped(measures.words),
        grouped(measures.stretch),
        measures.sequence
    )
}

/// `1 - 0.73 (sequence) = 0.27`.
fn position(measures: &Measures) -> String {
    let kept = match measures.closest().0 {
        Closest::Sequence => format!("{:.2} (sequence)", measures.sequence),
        Closest::Strings => format!("9/10 of {:.2} (shared strings)", measures.string_share),
        Closest::Mean => {
            let counted = measures.content_counted();
            let limit = if counted < measures.kept_content {
                format!(", which count up to {counted:.2} here")
            } else {
                String::new()
            };
            format!(
                "9/10 of the mean of {:.2} and {counted:.2} (sequence and content words{limit})",
                measures.sequence
            )
        }
    };
    format!("1 - {kept} = {:.2}", measures.position())
}

/// What was counted, as lists for recounting.
struct Counts {
    /// Strings of two words and more: `"less far where the" 4`.
    strings: String,
    /// Single words that stand in both: `pollen`.
    singles: String,
    /// Number and list of words in another form: `circle (circling)`.
    other_forms: (usize, String),
    /// Swapped words: `lights (lamps)`.
    synonyms: String,
}

impl Counts {
    fn of(source: &NamedText, placed: &PlacedRewrite) -> Self {
        let rewrite = &placed.rewrite.text;
        let words = |place: &SharedPlace| rewrite.words_in(place.draft).len();
        let here = |place: &SharedPlace| spaced(rewrite.text.slice(place.draft));
        let there = |place: &SharedPlace| spaced(source.text.text.slice(place.source));
        let chosen = |wanted: &dyn Fn(&SharedPlace) -> bool| -> Vec<&SharedPlace> {
            let all = placed.placement.shared.iter();
            all.filter(|place| wanted(place)).collect()
        };
        let pairs = |places: &[&SharedPlace]| {
            let shown = places
                .iter()
                .map(|place| format!("{} ({})", here(place), there(place)));
            shown.collect::<Vec<_>>().join(", ")
        };
        let strings = chosen(&|place| place.by == Counterpart::String);
        let strings = strings
            .iter()
            .map(|place| format!("\"{}\" {}", here(place), words(place)));
        let singles = chosen(&|place| place.by == Counterpart::Form);
        let singles: Vec<String> = singles.into_iter().map(here).collect();
        let forms =
            chosen(&|place| matches!(place.by, Counterpart::Stem | Counterpart::Misspelling));
        let swapped = chosen(&|place| place.by == Counterpart::Synonym);
        Self {
            strings: strings.collect::<Vec<_>>().join(", "),
            singles: if singles.is_empty() {
                String::new()
            } else {
                format!("outside strings {}", singles.join(", "))
            },
            other_forms: (forms.len(), pairs(&forms)),
            synonyms: pairs(&swapped),
        }
    }
}

/// Words with one space between them.
fn spaced(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
