//! What can be explained, and the names by which it is asked for.

use super::guides::{GUIDES, Guide};
use super::measures;
use super::words::{WORDS, Word};
use crate::findings::Kind;
use crate::overlap::Degree;
use crate::report::english::capitalised;
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
    /// A word of the reports.
    Word(&'static Word),
    /// A guide: files, citations, limits and others.
    Guide(&'static Guide),
    /// `act`, `look`, `know`.
    Weights,
    /// What to bear in mind.
    Cautions,
    /// Everything but the contracts.
    All,
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

/// The topics that stand alone, with their names and what each says.
pub(super) const GENERAL: [(&str, Topic, &str); 12] = [
    (
        "all",
        Topic::All,
        "everything but the schemas; best with --format page",
    ),
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

/// Topics in the order in which they are read, where all are asked for.
type Topics = fn() -> Vec<Topic>;

/// The parts of the whole, with their headings.
pub(super) const PARTS: [(&str, Topics); 7] = [
    ("Please bear in mind", || vec![Topic::Cautions]),
    ("The scale and its degrees", || {
        let degrees = Degree::ALL.map(Topic::Degree);
        std::iter::once(Topic::Scale).chain(degrees).collect()
    }),
    ("The measures", || vec![Topic::Measures]),
    ("Kinds of findings and their weights", || {
        let kinds = Kind::ALL.map(Topic::Kind);
        std::iter::once(Topic::Weights).chain(kinds).collect()
    }),
    ("Words of the reports", || {
        WORDS.iter().map(Topic::Word).collect()
    }),
    ("Thresholds and settings", || {
        vec![Topic::Thresholds, Topic::Settings]
    }),
    ("Guides", || GUIDES.iter().map(Topic::Guide).collect()),
];

impl Topic {
    /// Its heading on a page, and its name in an address there.
    pub(super) fn heading(self) -> (String, String) {
        let hyphened = |name: &str| name.replace([' ', '_'], "-");
        match self {
            Self::Kind(kind) => (kind.about().short.to_owned(), kind.name().to_owned()),
            Self::Degree(degree) => (capitalised(degree.name()), hyphened(degree.name())),
            Self::Setting(about) => (format!("A setting: {}", about.name), hyphened(about.name)),
            Self::Word(word) => (capitalised(word.name), word.name.to_owned()),
            Self::Guide(guide) => heading(guide.short, guide.name),
            Self::Scale => heading("From verbatim copy to restructured wording", "scale"),
            Self::Measures => heading("How each measure is counted by hand", "measures"),
            Self::Thresholds => heading("Every number, and where it comes from", "thresholds"),
            Self::Settings => heading("What ownwords.toml may hold", "settings"),
            Self::Weights => heading("Weights", "weights"),
            Self::Cautions => heading("What a finding does and does not say", "cautions"),
            Self::CheckSchema => heading("The contract of check --format json", "schema"),
            Self::NotesSchema => heading("The contract of notes --format json", "schema-notes"),
            Self::PlaceSchema => heading("The contract of place --format json", "schema-place"),
            Self::QuotationsSchema => heading(
                "The contract of quotations --format json",
                "schema-quotations",
            ),
            Self::DecisionsSchema => heading(
                "The contract of settle --list --format json",
                "schema-decisions",
            ),
            Self::All => heading("What the words of a report mean", "all"),
        }
    }

    /// The topic of a name: `close-paraphrase`, `near copy`, `thresholds`. Capitals make no difference,
    /// and a space is as good as a hyphen.
    ///
    /// # Errors
    /// [`UnknownTopic`] with the names that are near.
    pub fn from_name(name: &str) -> Result<Self, UnknownTopic> {
        let wanted = name.trim().to_lowercase().replace([' ', '_'], "-");
        let mut all = Self::all();
        all.extend(Self::beside());
        if let Some((_, topic)) = all.iter().find(|(name, _)| *name == wanted) {
            return Ok(*topic);
        }
        let names = all.iter().map(|(name, _)| name.as_str());
        Err(UnknownTopic {
            name: name.to_owned(),
            near: near(&wanted, names),
        })
    }

    /// Names that lead to a topic and are not listed as one: settings, measures, and words beside those that are
    /// listed.
    pub(super) fn beside() -> Vec<(String, Self)> {
        let hyphened = |name: &str| name.replace([' ', '_'], "-");
        let settings = Settings::table();
        let settings = settings
            .iter()
            .map(|about| (hyphened(about.name), Self::Setting(about)));
        let measures = measures::MEASURES
            .iter()
            .map(|measure| (hyphened(measure.name), Self::Measures));
        let words = WORDS
            .iter()
            .flat_map(|word| word.also.iter().map(move |name| (*name, Self::Word(word))));
        let more = BESIDE.into_iter().chain(words);
        let more = more.map(|(name, topic)| (name.to_owned(), topic));
        settings.chain(measures).chain(more).collect()
    }

    /// Every topic with its name: kinds, degrees, words of the reports, guides, the rest.
    #[must_use]
    pub fn all() -> Vec<(String, Self)> {
        let kinds = Kind::ALL.map(|kind| (kind.name().to_owned(), Self::Kind(kind)));
        let degrees =
            Degree::ALL.map(|degree| (degree.name().replace(' ', "-"), Self::Degree(degree)));
        let general = GENERAL.map(|(name, topic, _)| (name.to_owned(), topic));
        let words = WORDS
            .iter()
            .map(|word| (word.name.to_owned(), Self::Word(word)));
        let guides = GUIDES
            .iter()
            .map(|guide| (guide.name.to_owned(), Self::Guide(guide)));
        let all = kinds.into_iter().chain(degrees);
        all.chain(words).chain(guides).chain(general).collect()
    }
}

/// Other words for topics that are neither a setting nor a measure.
const BESIDE: [(&str, Topic); 31] = [
    ("position", Topic::Measures),
    ("unique-links", Topic::Measures),
    ("keck", Topic::Measures),
    ("measure", Topic::Measures),
    ("stretch", Topic::Measures),
    ("content-word", Topic::Measures),
    ("in-shared-strings", Topic::Measures),
    ("longest-shared-string", Topic::Measures),
    ("content-words-kept", Topic::Measures),
    ("in-another-form", Topic::Measures),
    ("swapped-for-synonyms", Topic::Measures),
    ("order-kept", Topic::Measures),
    ("kept-in-sequence", Topic::Measures),
    ("in-unique-links", Topic::Measures),
    ("function-words", Topic::Measures),
    ("minimal-revision", Topic::Thresholds),
    ("moderate-revision", Topic::Thresholds),
    ("substantial-revision", Topic::Thresholds),
    ("threshold", Topic::Thresholds),
    ("setting", Topic::Settings),
    ("degree", Topic::Scale),
    ("degrees", Topic::Scale),
    ("closeness", Topic::Scale),
    ("weight", Topic::Weights),
    ("act", Topic::Weights),
    ("look", Topic::Weights),
    ("know", Topic::Weights),
    ("finding", Topic::Cautions),
    ("findings", Topic::Cautions),
    ("left-out", Topic::Cautions),
    ("json", Topic::CheckSchema),
];

/// The most names offered where a name is no topic.
const MOST_NEAR: usize = 4;

/// Letters of a name that may be a part of another.
const LEAST_PART: usize = 4;

/// The names that may be meant: those within a slip for every three letters, those that have a part in common with
/// what was typed, else the nearest if it is near at all. The nearest come first.
fn near<'n>(wanted: &str, names: impl Iterator<Item = &'n str>) -> Vec<String> {
    let mut found: Vec<(usize, &str)> = names
        .map(|name| (strsim::damerau_levenshtein(name, wanted), name))
        .collect();
    found.sort_unstable();
    let is_part = |one: &str, other: &str| one.len() >= LEAST_PART && other.contains(one);
    let is_near = |(slips, name): &&(usize, &str)| {
        *slips <= (wanted.chars().count() / 3).max(1)
            || is_part(wanted, name)
            || is_part(name, wanted)
    };
    let mut near: Vec<&str> = found
        .iter()
        .filter(is_near)
        .map(|(_, name)| *name)
        .collect();
    if near.is_empty() {
        let nearest = found.first();
        let nearest = nearest.filter(|(slips, name)| *slips <= name.len().div_ceil(2));
        near.extend(nearest.map(|(_, name)| *name));
    }
    let near = near.into_iter().take(MOST_NEAR);
    near.map(str::to_owned).collect()
}

fn heading(said: &str, name: &str) -> (String, String) {
    (said.to_owned(), name.to_owned())
}

/// A name that is no topic.
#[derive(Debug, thiserror::Error)]
#[error(
    "{name:?} is nothing that can be explained;{} `ownwords explain` lists the topics",
    did_you_mean(near)
)]
pub struct UnknownTopic {
    /// As typed.
    pub name: String,
    /// Names that are near, the nearest first.
    pub near: Vec<String>,
}

fn did_you_mean(near: &[String]) -> String {
    let names: Vec<String> = near.iter().map(|name| format!("{name:?}")).collect();
    match names.as_slice() {
        [] => String::new(),
        [only] => format!(" did you mean {only}?"),
        [firsts @ .., last] => format!(" did you mean {} or {last}?", firsts.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_gets_the_nearest_name() {
        let near = |name: &str| Topic::from_name(name).unwrap_err().near;
        assert_eq!(near("close-paraphrse")[0], "close-paraphrase");
        assert_eq!(near("tresholds")[0], "thresholds");
        assert_eq!(
            near("paraphrase"),
            ["close-paraphrase", "uncredited-paraphrase"]
        );
        assert!(near("xyzzyxyzzyxyzzyxyzzyxyzzyxyzzy").is_empty());
        let message = Topic::from_name("scle").unwrap_err().to_string();
        assert!(message.contains("did you mean \"scale\"?"), "{message}");
    }
}
