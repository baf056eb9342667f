//! What can be explained, and the names by which it is asked for.

use super::measures;
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

/// The topics that are neither kind nor degree, with their names and what each tells.
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
pub(super) const PARTS: [(&str, Topics); 5] = [
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
    ("Thresholds and settings", || {
        vec![Topic::Thresholds, Topic::Settings]
    }),
];

impl Topic {
    /// Its heading on a page, and its name in an address there.
    pub(super) fn heading(self) -> (String, String) {
        let hyphened = |name: &str| name.replace([' ', '_'], "-");
        match self {
            Self::Kind(kind) => (kind.about().short.to_owned(), kind.name().to_owned()),
            Self::Degree(degree) => (capitalised(degree.name()), hyphened(degree.name())),
            Self::Setting(about) => (format!("A setting: {}", about.name), hyphened(about.name)),
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
    pub(super) fn beside() -> Vec<(String, Self)> {
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

fn heading(said: &str, name: &str) -> (String, String) {
    (said.to_owned(), name.to_owned())
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

#[cfg(test)]
mod tests {
    use super::*;

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
