//! What the words of a report mean: kinds, degrees, the scale and its measures, thresholds, settings, the
//! contract of the JSON output.

mod degrees;
mod guides;
mod measures;
pub(in crate::report) mod page;
mod settings;
mod topic;
mod words;

pub use page::write as write_page;
pub use topic::{Topic, UnknownTopic};

use std::io::{self, Write};

use super::cautions::CAUTIONS;
use super::decisions::DECISIONS_SCHEMA;
use super::english::capitalised;
use super::json::{self, CHECK_SCHEMA, PLACE_SCHEMA};
use super::quotations::QUOTATIONS_SCHEMA;
use super::terminal::Look;
use super::terminal::scale;
use super::terminal::sheet::{INDENT, Sheet};
use crate::findings::thresholds::thresholds;
use crate::findings::{Kind, Weight};
use crate::overlap::Degree;
use crate::review::Settings;
use topic::{GENERAL, PARTS};

/// What the position is.
const POSITION: &str = "The position runs from 0, word for word the source, to 1, nothing of its wording kept. It is computed from these measures alone, and they are shown with it, so that anyone can check it by hand:";

/// What the closeness is made of.
const CLOSENESS: &str = "The largest of three decides: the words kept in sequence; the words in shared strings, wherever these stand; the mean of sequence and content words kept, wherever these stand. The last two count a little less, since in them something was moved or rebuilt:";

/// What verbatim is.
const UNBROKEN: &str = "Verbatim is only what stands in the source in one unbroken string.";

/// What the thresholds are.
const THRESHOLDS: &str = "Every number that decides on a finding. None is any institution's rule. Numbers that only choose which places are compared are in the code, in src/overlap.";

/// Lists the topics.
///
/// # Errors
/// What the writer refuses.
pub fn write_topics(look: &Look, out: &mut impl Write) -> io::Result<()> {
    let mut sheet = Sheet::new(out, look);
    let column = 29;
    sheet.heading(0, "Kinds of findings")?;
    for kind in Kind::ALL {
        let about = kind.about();
        sheet.hanging(column, &format!("   {}", about.name), about.short)?;
    }
    sheet.blank()?;
    sheet.heading(0, "Degrees of the scale")?;
    for degree in Degree::ALL {
        let about = degrees::about(degree);
        let name = degree.name().replace(' ', "-");
        sheet.hanging(column, &format!("   {name}"), about.short)?;
    }
    sheet.blank()?;
    sheet.heading(0, "Words of the reports")?;
    for word in &words::WORDS {
        sheet.hanging(column, &format!("   {}", word.name), word.short)?;
    }
    sheet.blank()?;
    sheet.heading(0, "Guides")?;
    for guide in &guides::GUIDES {
        sheet.hanging(column, &format!("   {}", guide.name), guide.short)?;
    }
    sheet.blank()?;
    sheet.heading(0, "More")?;
    for (name, _, short) in GENERAL {
        sheet.hanging(column, &format!("   {name}"), short)?;
    }
    sheet.blank()?;
    let text = "Names of settings (run_words), of measures (string_share) and of fields of JSON (stayed_close) can be \
        explained too. \
        For example: ownwords explain close-paraphrase";
    sheet.paragraph(0, text)
}

/// Explains a topic, with the values that the settings give.
///
/// # Errors
/// What the writer refuses.
pub fn write(
    topic: Topic,
    settings: &Settings,
    look: &Look,
    out: &mut impl Write,
) -> io::Result<()> {
    match topic {
        Topic::CheckSchema => return out.write_all(CHECK_SCHEMA.as_bytes()),
        Topic::NotesSchema => return out.write_all(json::notes::SCHEMA.as_bytes()),
        Topic::PlaceSchema => return out.write_all(PLACE_SCHEMA.as_bytes()),
        Topic::QuotationsSchema => return out.write_all(QUOTATIONS_SCHEMA.as_bytes()),
        Topic::DecisionsSchema => return out.write_all(DECISIONS_SCHEMA.as_bytes()),
        _ => {}
    }
    let mut sheet = Sheet::new(out, look);
    match topic {
        Topic::Kind(kind) => write_kind(&mut sheet, kind),
        Topic::Degree(degree) => write_degree(&mut sheet, degree),
        Topic::Scale => write_scale(&mut sheet),
        Topic::Measures => measures::write(&mut sheet),
        Topic::Thresholds => write_thresholds(&mut sheet, settings),
        Topic::Settings => settings::write(&mut sheet, settings),
        Topic::Setting(about) => settings::write_one(&mut sheet, about, settings),
        Topic::Word(word) => words::write(&mut sheet, word),
        Topic::Guide(guide) => guides::write(&mut sheet, guide, settings),
        Topic::Weights => write_weights(&mut sheet),
        Topic::Cautions => write_cautions(&mut sheet),
        Topic::All => write_all(settings, look, out),
        Topic::CheckSchema
        | Topic::NotesSchema
        | Topic::PlaceSchema
        | Topic::QuotationsSchema
        | Topic::DecisionsSchema => Ok(()),
    }
}

/// Writes every topic but the contracts, one after the other.
fn write_all(settings: &Settings, look: &Look, out: &mut impl Write) -> io::Result<()> {
    for (at, (_, topics)) in PARTS.iter().enumerate() {
        for (number, topic) in topics().into_iter().enumerate() {
            if at + number > 0 {
                writeln!(out, "\n")?;
            }
            write(topic, settings, look, out)?;
        }
    }
    Ok(())
}

fn write_kind<W: Write>(sheet: &mut Sheet<'_, W>, kind: Kind) -> io::Result<()> {
    let about = kind.about();
    sheet.heading(0, &format!("{} ({})", about.short, about.name))?;
    sheet.blank()?;
    sheet.labelled("means", about.meaning)?;
    sheet.blank()?;
    sheet.labelled("mend", about.mend)?;
    sheet.blank()?;
    sheet.labelled("example", about.example)?;
    sheet.blank()?;
    sheet.labelled("number", about.origin)?;
    sheet.labelled("weight", &usual_weight(about.weight))
}

/// The weight that findings of a kind usually have.
fn usual_weight(weight: Weight) -> String {
    format!("usually \"{}\" ({})", weight.request(), weight.name())
}

/// From where to where a degree reaches.
fn reach(degree: Degree) -> String {
    let (from, to) = degree.span();
    match degree {
        Degree::Verbatim => format!("up to {to:.2} on the scale, all words in one string"),
        _ => format!("above {from:.2}, up to {to:.2} on the scale"),
    }
}

fn write_degree<W: Write>(sheet: &mut Sheet<'_, W>, degree: Degree) -> io::Result<()> {
    let about = degrees::about(degree);
    let (from, to) = degree.span();
    sheet.heading(
        0,
        &format!("{}: {}", capitalised(degree.name()), about.short),
    )?;
    sheet.blank()?;
    scale::write_one(sheet, degree, f64::midpoint(from, to))?;
    sheet.blank()?;
    sheet.labelled("means", about.meaning)?;
    sheet.blank()?;
    sheet.labelled("mend", about.mend)?;
    sheet.blank()?;
    sheet.labelled("source", degrees::PASSAGE)?;
    sheet.labelled("draft", about.example)?;
    sheet.blank()?;
    let text = format!(
        "{}; `ownwords explain thresholds` says where the numbers come from",
        reach(degree)
    );
    sheet.labelled("number", &text)
}

fn write_scale<W: Write>(sheet: &mut Sheet<'_, W>) -> io::Result<()> {
    sheet.heading(0, "The scale, from verbatim copy to restructured wording")?;
    sheet.blank()?;
    scale::write_many(sheet, &[])?;
    sheet.blank()?;
    for degree in Degree::ALL {
        let (from, to) = degree.span();
        let text = format!("{from:.2} to {to:.2}  {}", degrees::about(degree).short);
        sheet.hanging(19, &format!("   {}", degree.name()), &text)?;
    }
    sheet.blank()?;
    sheet.paragraph(INDENT, POSITION)?;
    sheet.blank()?;
    for measure in measures::MEASURES {
        sheet.hanging(20, &format!("   {}", measure.name), measure.short)?;
    }
    sheet.blank()?;
    sheet.paragraph(INDENT, CLOSENESS)?;
    sheet.blank()?;
    measures::FORMULA
        .iter()
        .try_for_each(|line| sheet.line(&format!("   {line}")))?;
    sheet.blank()?;
    let text = format!("{UNBROKEN} `ownwords explain measures` counts a small example by hand.");
    sheet.paragraph(INDENT, &text)
}

fn write_thresholds<W: Write>(sheet: &mut Sheet<'_, W>, settings: &Settings) -> io::Result<()> {
    sheet.heading(0, "Thresholds")?;
    sheet.paragraph(0, THRESHOLDS)?;
    for threshold in thresholds(settings) {
        sheet.blank()?;
        sheet.heading(INDENT, &format!("{}: {}", threshold.name, threshold.value))?;
        sheet.paragraph(INDENT + 2, threshold.text)?;
        sheet.paragraph(
            INDENT + 2,
            &format!("{}.", capitalised(&threshold.origin.to_string())),
        )?;
    }
    Ok(())
}

fn write_weights<W: Write>(sheet: &mut Sheet<'_, W>) -> io::Result<()> {
    sheet.heading(0, "Weights of findings")?;
    for weight in Weight::ALL {
        sheet.blank()?;
        sheet.heading(INDENT, &format!("{} ({})", weight.request(), weight.name()))?;
        sheet.paragraph(INDENT + 2, weight.meaning())?;
    }
    Ok(())
}

fn write_cautions<W: Write>(sheet: &mut Sheet<'_, W>) -> io::Result<()> {
    sheet.heading(0, "Please bear in mind")?;
    CAUTIONS
        .iter()
        .try_for_each(|caution| sheet.hanging(INDENT, " -", caution))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::Colours;

    fn explained(topic: Topic, width: usize) -> String {
        let look = Look::new(width, Colours::Off);
        let mut out = Vec::new();
        write(topic, &Settings::default(), &look, &mut out).unwrap();
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn every_topic_is_found_by_its_name_and_fits_the_width() {
        for (name, topic) in Topic::all() {
            assert_eq!(Topic::from_name(&name).unwrap(), topic);
            let spoken = name.replace('-', " ").to_uppercase();
            assert_eq!(Topic::from_name(&spoken).unwrap(), topic);
            for width in [60, 80, 100] {
                let text = explained(topic, width);
                assert!(text.lines().count() > 3, "{name} says too little");
                let schema = name.starts_with("schema");
                let long = text.lines().find(|line| line.chars().count() > width);
                assert!(schema || long.is_none(), "{name} at {width}: {long:?}");
            }
        }
    }

    /// Where a text names a default beside its setting, `run_words (7)`, it is the one in the table.
    #[test]
    fn defaults_in_texts_are_those_of_the_table() {
        let mut out = Vec::new();
        let look = Look::new(100, Colours::Off);
        write_all(&Settings::default(), &look, &mut out).unwrap();
        let text = String::from_utf8(out).unwrap();
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let mut found = 0;
        for about in Settings::table() {
            let default = about.value(&Settings::default());
            let default = default.map_or_else(String::new, |value| value.to_string());
            for (at, named) in text.match_indices(&format!("{} (", about.name)) {
                let behind = text.get(at + named.len()..).unwrap_or_default();
                let (number, _) = behind.split_once(')').unwrap();
                if number.bytes().all(|byte| byte.is_ascii_digit()) {
                    assert_eq!(number, default, "{}", about.name);
                    found += 1;
                }
            }
        }
        assert!(found >= 5, "only {found} defaults are named");
    }

    #[test]
    fn the_list_names_every_topic() {
        let mut out = Vec::new();
        write_topics(&Look::new(80, Colours::Off), &mut out).unwrap();
        let list = String::from_utf8(out).unwrap();
        for (name, _) in Topic::all() {
            let listed = list
                .lines()
                .any(|line| line.split_whitespace().next() == Some(&name));
            assert!(listed, "{name} is not listed");
        }
    }

    #[test]
    fn settings_and_measures_are_found_by_their_names() {
        for about in Settings::table() {
            let topic = Topic::from_name(about.name).unwrap();
            let text = explained(topic, 60);
            assert!(text.contains(about.name), "{}: {text}", about.name);
            assert!(text.contains("ownwords explain settings"), "{text}");
        }
        for name in [
            "sure",
            "stayed_close",
            "also in",
            "act",
            "left_out",
            "synonym",
        ] {
            assert!(Topic::from_name(name).is_ok(), "{name}");
        }
        for name in ["string_share", "order", "kept content", "unique_share"] {
            assert_eq!(Topic::from_name(name).unwrap(), Topic::Measures, "{name}");
        }
        let beside = Topic::beside();
        for (at, (name, _)) in beside.iter().enumerate() {
            assert!(
                beside[..at].iter().all(|(other, _)| other != name),
                "{name} twice"
            );
        }
        for (name, _) in beside {
            let listed = Topic::all().into_iter().any(|(other, _)| other == name);
            assert!(!listed, "{name} has two meanings");
        }
    }
}
