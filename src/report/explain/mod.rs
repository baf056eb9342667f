//! What the words of a report mean: kinds, degrees, the scale and its measures, thresholds, settings, the
//! contract of the JSON output.

mod degrees;
mod measures;
mod settings;

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
use crate::review::{AboutSetting, Settings};

/// Something that can be explained.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Topic {
    /// A kind of finding.
    Kind(Kind),
    /// A degree of the scale.
    Degree(Degree),
    /// The scale and its measures.
    Scale,
    /// How the measures are counted.
    Measures,
    /// Every number on which a finding depends.
    Thresholds,
    /// What `ownwords.toml` may hold.
    Settings,
    /// One of the settings.
    Setting(&'static AboutSetting),
    /// `act`, `look`, `know`.
    Weights,
    /// What to bear in mind.
    Cautions,
    /// The contract of `check --format json`.
    CheckSchema,
    /// The contract of `notes --format json`.
    NotesSchema,
    /// The contract of `place --format json` and `place --pairs`.
    PlaceSchema,
    /// The contract of `quotations --format json`.
    QuotationsSchema,
    /// The schema of the list of decisions.
    DecisionsSchema,
}

/// The topics that are neither kind nor degree, with their names and what each tells.
const GENERAL: [(&str, Topic, &str); 11] = [
    (
        "scale",
        Topic::Scale,
        "the five degrees and the measures behind them",
    ),
    (
        "measures",
        Topic::Measures,
        "how each measure is counted by hand, with an example",
    ),
    (
        "thresholds",
        Topic::Thresholds,
        "every number, and where it comes from",
    ),
    ("settings", Topic::Settings, "what ownwords.toml may hold"),
    (
        "weights",
        Topic::Weights,
        "please mend, worth a look, good to know",
    ),
    (
        "cautions",
        Topic::Cautions,
        "what a finding does and does not say",
    ),
    (
        "schema",
        Topic::CheckSchema,
        "JSON Schema of check --format json",
    ),
    (
        "schema-notes",
        Topic::NotesSchema,
        "JSON Schema of notes --format json",
    ),
    (
        "schema-place",
        Topic::PlaceSchema,
        "JSON Schema of place --format json and --pairs",
    ),
    (
        "schema-quotations",
        Topic::QuotationsSchema,
        "JSON Schema of quotations --format json",
    ),
    (
        "schema-decisions",
        Topic::DecisionsSchema,
        "JSON Schema of settle --list --format json",
    ),
];

impl Topic {
    /// The topic of a name: `close-paraphrase`, `near copy`, `thresholds`. Capitals make no difference,
    /// and a space is as good as a hyphen.
    ///
    /// # Errors
    /// [`UnknownTopic`] with the nearest name.
    pub fn from_name(name: &str) -> Result<Self, UnknownTopic> {
        let wanted = name.trim().to_lowercase().replace([' ', '_'], "-");
        let mut all = Self::all();
        all.extend(Self::beside());
        if let Some((_, topic)) = all.iter().find(|(name, _)| *name == wanted) {
            return Ok(*topic);
        }
        let nearest = all
            .into_iter()
            .map(|(name, _)| (strsim::damerau_levenshtein(&name, &wanted), name))
            .min()
            .filter(|(distance, name)| *distance <= name.len().div_ceil(2))
            .map(|(_, name)| name);
        Err(UnknownTopic {
            name: name.to_owned(),
            nearest,
        })
    }

    /// Names that lead to a topic and are not listed as one: settings and measures.
    fn beside() -> Vec<(String, Self)> {
        let hyphened = |name: &str| name.replace([' ', '_'], "-");
        let settings = Settings::table();
        let settings = settings
            .iter()
            .map(|about| (hyphened(about.name), Self::Setting(about)));
        let measures = measures::MEASURES
            .iter()
            .map(|measure| (hyphened(measure.name), Self::Measures));
        let more = [
            ("position", Self::Measures),
            ("unique-links", Self::Measures),
            ("keck", Self::Measures),
        ];
        let more = more.map(|(name, topic)| (name.to_owned(), topic));
        settings.chain(measures).chain(more).collect()
    }

    /// Every topic with its name: kinds, degrees, the rest.
    #[must_use]
    pub fn all() -> Vec<(String, Self)> {
        let kinds = Kind::ALL.map(|kind| (kind.name().to_owned(), Self::Kind(kind)));
        let degrees =
            Degree::ALL.map(|degree| (degree.name().replace(' ', "-"), Self::Degree(degree)));
        let general = GENERAL.map(|(name, topic, _)| (name.to_owned(), topic));
        kinds.into_iter().chain(degrees).chain(general).collect()
    }
}

/// A name that is no topic.
#[derive(Debug, thiserror::Error)]
#[error("{name:?} is nothing that can be explained;{} `ownwords explain` lists the topics",
    nearest.as_ref().map(|name| format!(" did you mean {name:?}?")).unwrap_or_default())]
pub struct UnknownTopic {
    /// As typed.
    pub name: String,
    /// The nearest name, if any is near.
    pub nearest: Option<String>,
}

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
    sheet.heading(0, "More")?;
    for (name, _, tells) in GENERAL {
        sheet.hanging(column, &format!("   {name}"), tells)?;
    }
    sheet.blank()?;
    let text = "Names of settings (run_words) and of measures (string_share) can be explained too. \
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
        Topic::Weights => write_weights(&mut sheet),
        Topic::Cautions => write_cautions(&mut sheet),
        Topic::CheckSchema
        | Topic::NotesSchema
        | Topic::PlaceSchema
        | Topic::QuotationsSchema
        | Topic::DecisionsSchema => Ok(()),
    }
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
    let weight = format!(
        "usually \"{}\" ({})",
        about.weight.request(),
        about.weight.name()
    );
    sheet.labelled("weight", &weight)
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
    let string = match degree {
        Degree::Verbatim => ", all words in one string",
        _ => "",
    };
    let text = format!(
        "from {from:.2} to {to:.2} on the scale{string}; `ownwords explain thresholds` says where the numbers come from"
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
    let text = "The position runs from 0, word for word the source, to 1, nothing of its wording kept. It is \
        computed from these measures and from nothing else, and they are shown with it, so that anyone can \
        check it by hand:";
    sheet.paragraph(INDENT, text)?;
    sheet.blank()?;
    for measure in measures::MEASURES {
        sheet.hanging(20, &format!("   {}", measure.name), measure.short)?;
    }
    sheet.blank()?;
    let text = "Half of the closeness is wording kept in strings, half is content words kept one by one, which \
        count in full only where they keep their order:";
    sheet.paragraph(INDENT, text)?;
    sheet.blank()?;
    measures::FORMULA
        .iter()
        .try_for_each(|line| sheet.line(&format!("   {line}")))?;
    sheet.blank()?;
    let text = "Verbatim is only what stands in the source in one unbroken string. `ownwords explain measures` \
        counts a small example by hand.";
    sheet.paragraph(INDENT, text)
}

fn write_thresholds<W: Write>(sheet: &mut Sheet<'_, W>, settings: &Settings) -> io::Result<()> {
    sheet.heading(0, "Thresholds")?;
    let text = "Every number that decides on a finding. None is any institution's rule. Numbers that only choose \
        which places are set against each other stand in the code, in src/overlap.";
    sheet.paragraph(0, text)?;
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
        for name in ["string_share", "order", "kept content", "unique_share"] {
            assert_eq!(Topic::from_name(name).unwrap(), Topic::Measures, "{name}");
        }
        for (name, _) in Topic::beside() {
            let listed = Topic::all().into_iter().any(|(other, _)| other == name);
            assert!(!listed, "{name} has two meanings");
        }
    }

    #[test]
    fn a_slip_gets_the_nearest_name() {
        let nearest = |name: &str| Topic::from_name(name).unwrap_err().nearest;
        assert_eq!(
            nearest("close-paraphrse").as_deref(),
            Some("close-paraphrase")
        );
        assert_eq!(nearest("treshold").as_deref(), Some("thresholds"));
        assert_eq!(nearest("xyzzyxyzzyxyzzyxyzzyxyzzyxyzzy"), None);
        let message = Topic::from_name("scle").unwrap_err().to_string();
        assert!(message.contains("did you mean \"scale\"?"), "{message}");
    }
}
