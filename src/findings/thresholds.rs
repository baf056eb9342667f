//! The table of thresholds: every number on which a finding depends, with its value here and where
//! it comes from. The numbers themselves live where they are used (the scale, the settings); this
//! table reads them there, so that what `ownwords explain thresholds` prints can't drift away from
//! what the program does.

use super::quoting::{self, matching};
use super::{copying, fixed, likeliest_source, paraphrase, trail};
use crate::overlap::{Degree, chains, gathered, scale, sequence, support};
use crate::review::{AboutSetting, Settings};

/// Where a threshold comes from. None is any institution's rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Provenance {
    /// A published rule or paper.
    Published {
        /// The work.
        work: &'static str,
        /// Whether the number was checked in the work itself or is quoted from memory.
        from_memory: bool,
    },
    /// Chosen by this project, with a reason but without a measurement.
    OwnChoice,
    /// What the table of settings says.
    OfSetting(&'static str),
    /// Set by this project on data.
    OwnCalibration {
        /// The data.
        data: &'static str,
        /// The day, `YYYY-MM-DD`.
        date: &'static str,
    },
}

impl std::fmt::Display for Provenance {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Published { work, from_memory } => {
                let memory = if *from_memory { ", from memory" } else { "" };
                write!(out, "published: {work}{memory}")
            }
            Self::OwnChoice => out.write_str("our own choice"),
            Self::OfSetting(origin) => out.write_str(origin.trim_end_matches('.')),
            Self::OwnCalibration { data, date } => {
                write!(out, "our own calibration on {data}, {date}")
            }
        }
    }
}

/// One threshold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Threshold {
    /// Its name: a setting's key, or the two degrees it stands between.
    pub name: String,
    /// Its value with the unit.
    pub value: String,
    /// Where it comes from.
    pub origin: Provenance,
    /// What it decides, in a sentence or two.
    pub text: &'static str,
}

/// The data behind the boundaries of the scale.
const PROSE_AND_VERSE: Provenance = Provenance::OwnCalibration {
    data: "modern prose rewritten by the published definitions of the degrees (Clough and Stevenson 2011), and \
        translations of one source",
    date: "2026-12-01",
};

/// The data behind the length of a run.
const LEARNED_PROSE: Provenance = Provenance::OwnCalibration {
    data: "164,000 words of learned prose against a million words by other writers (Brown corpus)",
    date: "2026-11-25",
};

/// The data behind how sure it must be that wording comes from a source.
const PROSE_AND_TRANSLATIONS: Provenance = Provenance::OwnCalibration {
    data: "independent prose and planted translations",
    date: "2026-11-26",
};

const KECK: Provenance = Provenance::Published {
    work: "Keck (2006), Journal of Second Language Writing 15(4)",
    from_memory: true,
};

/// Every threshold with the value it has under these settings: boundaries of the scale first, then
/// the settings, then what decides on copies, paraphrase, quotations and trails, then the published
/// categories shown beside our degree.
#[must_use]
pub(crate) fn thresholds(settings: &Settings) -> Vec<Threshold> {
    let mut table = boundaries();
    table.extend(of_position());
    table.extend(from_settings(settings));
    table.extend(of_copies());
    table.extend(of_origin());
    table.extend(of_quotations_and_notes());
    table.push(Threshold {
        name: "categories by unique links".to_owned(),
        value: "50 %, 20 %, 1 % of the words".to_owned(),
        origin: KECK,
        text: "From 50 % near copy, from 20 % minimal revision, from 1 % moderate revision, below that \
            substantial revision. Shown beside our degree where the whole source is stored; it decides nothing.",
    });
    table
}

fn boundaries() -> Vec<Threshold> {
    let texts = [
        "Up to here a passage is verbatim, provided that all its words stand in the source in one unbroken \
            string; else it is a near copy.",
        "Up to here it is a near copy: cut and paste, spelling modernised, a few words changed, a formal revision.",
        "Up to here it is a light revision: words exchanged and grammar altered, but the same sentences in the same order, as in \
            most translations of one text; close-paraphrase ends here.",
        "Up to here it is a heavy revision: sentences split, merged and reordered around the source's words; beyond, restructured.",
    ];
    let pairs = Degree::ALL.into_iter().zip(Degree::ALL.into_iter().skip(1));
    pairs
        .zip(texts)
        .map(|((before, after), text)| Threshold {
            name: format!("{} / {}", before.name(), after.name()),
            value: format!("position {:.2}", before.span().1),
            origin: PROSE_AND_VERSE,
            text,
        })
        .collect()
}

fn of_position() -> Vec<Threshold> {
    vec![
        row(
            "kept in part",
            format!("{} of a word", sequence::IN_PART),
            Provenance::OwnChoice,
            "What another form, a misspelling or a synonym keeps of a word in the sequence. Tried from 0.4 to 0.6 on the \
             same translations: none distinguishes all of them better.",
        ),
        row(
            "kept elsewhere",
            format!("{} of the closeness", scale::ELSEWHERE),
            Provenance::OwnChoice,
            "How much wording counts that is kept, but not in sequence. Counted in full, a formal revision and a revision of it would be harder to distinguish.",
        ),
        row(
            "content words kept anywhere",
            format!(
                "{} of them, or {} more than are kept in sequence",
                scale::ANYWHERE,
                scale::BEYOND_SEQUENCE
            ),
            PROSE_AND_VERSE,
            "How many of the content words kept count for the position. Reordered sentences keep as many of them as sentences \
             in which words are exchanged, so that beyond this only the order distinguishes the two.",
        ),
    ]
}

fn row(name: &str, value: String, origin: Provenance, text: &'static str) -> Threshold {
    Threshold {
        name: name.to_owned(),
        value,
        origin,
        text,
    }
}

/// What counts as a copy beside `run_words`, and what fixed wording explains away.
fn of_copies() -> Vec<Threshold> {
    vec![
        row(
            "certain copy",
            format!(
                "{} words in a row, or a passage of {} words",
                copying::CERTAIN_WORDS,
                2 * copying::CERTAIN_WORDS
            ),
            LEARNED_PROSE,
            "From here on an unmarked copy is to be mended; a shorter one is worth a look. Runs of nine words \
             and more never came by chance.",
        ),
        row(
            "common short copy",
            format!("{:.0} nats", copying::CHANCE_WEIGHT),
            PROSE_AND_TRANSLATIONS,
            "A shorter copy with nothing else taken beside it, whose content words, each once, weigh less than this, is no finding: \
             set phrases of common words come by chance, and --show-explained lists them. A quotation without a citation is tied \
             to a source only where its words weigh as much. Nats measure how rare words are; see the next entry.",
        ),
        row(
            "short copy of rare words",
            format!(
                "{} words in a row that weigh {} nats",
                chains::TELLING_WORDS,
                chains::TELLING_WEIGHT
            ),
            Provenance::OwnChoice,
            "A run shorter than run_words is a copy too where its words are rare: three to four rare words in one \
             run. A word's weight is the negative natural logarithm of its share of all words, in nats: one in a \
             thousand words weighs 6.9, one in 22,000 weighs 10.",
        ),
        row(
            "gap in a copy",
            format!("{} words", chains::GAP_WORDS),
            Provenance::OwnChoice,
            "Words that may stand between two shared strings, in either text, for them to be one passage.",
        ),
        row(
            "fixed wording",
            format!(
                "{} words, {} of them content words",
                fixed::LEAST_OWN_WORDS,
                fixed::LEAST_OWN_CONTENT
            ),
            Provenance::OwnChoice,
            "A shared string that touches a stock phrase, a term, a title, names or numbers is left aside where \
             fewer words than this remain besides; --show-explained lists it. Names, numbers and stock phrases \
             explain away no string of twice run_words and more.",
        ),
        row(
            "words kept by a paraphrase",
            format!(
                "{} content words, {} where the evidence is {:.0} nats and more, {} where it is words without their order",
                paraphrase::LEAST_OWN_KEPT,
                paraphrase::LEAST_KEPT_OF_STRONG,
                paraphrase::STRONG,
                paraphrase::LEAST_KEPT_OF_GATHERED
            ),
            PROSE_AND_TRANSLATIONS,
            "A paraphrase must have kept this many besides names, numbers and fixed expressions: names alone only show the topic. Where the evidence is strong the sentence around them is the source's too.",
        ),
        row(
            "title",
            format!("{} words", fixed::TITLE_WORDS),
            Provenance::OwnChoice,
            "Titles in the references that are shorter can't be distinguished from prose.",
        ),
    ]
}

/// When wording that is no copy is taken to come from a source.
fn of_origin() -> Vec<Threshold> {
    const SURENESS: &str = "nats of evidence that the passage rewords the source";
    vec![
        row(
            "likely origin",
            format!("{:.0} {SURENESS}", support::LIKELY),
            PROSE_AND_TRANSLATIONS,
            "From here on a reworded passage is taken to come from the source; below nothing is said. The \
             evidence is the logarithm of how much likelier a rewording is than words written without the source: rare \
             words kept in the same order and neighbourhood add most.",
        ),
        row(
            "certain origin",
            format!("{:.0} {SURENESS}", support::CERTAIN),
            PROSE_AND_TRANSLATIONS,
            "From here on chance can be left out; a finding that is only likely gets a lighter weight.",
        ),
        row(
            "a likely sentence",
            format!("{} words", paraphrase::SENTENCE_WORDS),
            PROSE_AND_TRANSLATIONS,
            "A close paraphrase without credit that is shorter and only likely to come from the source is good to know, no more: \
             single sentences of one register are soon alike.",
        ),
        row(
            "words without their order",
            format!(
                "{:.0} nats likely, {:.0} certain, from {} words in common",
                gathered::LIKELY,
                gathered::CERTAIN,
                gathered::LEAST_STEMS
            ),
            PROSE_AND_VERSE,
            "Where sentences were split, merged and reordered, the same evidence is taken from the telling words of the whole \
             passage, each once, wherever they stand.",
        ),
        row(
            "list",
            format!(
                "{} items of up to {} words",
                fixed::LIST_ITEMS,
                fixed::ITEM_WORDS
            ),
            Provenance::OwnChoice,
            "Short items in a row, divided by commas or semicolons, are no evidence of a rewording: lists of people, \
             materials and places, and addresses, are alike wherever they stand. Copied, they are found as copies.",
        ),
        row(
            "telling wording",
            format!("{:.0} % of the weight", 100.0 * support::TELLING_SHARE),
            PROSE_AND_VERSE,
            "Where a rewrite shares less than this with its passage, and less than a likely origin shows, place says that the two \
             share no telling wording: what two authors write on one narrow topic shares as much.",
        ),
        row(
            "least shared weight",
            format!("{} nats", support::LEAST_WEIGHT),
            PROSE_AND_TRANSLATIONS,
            "Passages that share less say nothing: about two rare words.",
        ),
        row(
            "least content",
            format!("{} content words", support::LEAST_CONTENT),
            Provenance::OwnChoice,
            "Passages with fewer are too short to be judged.",
        ),
        row(
            "what a synonym shares",
            format!("{} of a word's weight", support::SYNONYM),
            Provenance::OwnChoice,
            "A synonym may well be the writer's own choice, so it is half the evidence of the word itself.",
        ),
        row(
            "sureness of an origin",
            format!(
                "{} possible, {} likely, {} very likely",
                likeliest_source::POSSIBLE,
                likeliest_source::LIKELY,
                likeliest_source::VERY_LIKELY
            ),
            Provenance::OwnChoice,
            "What place --review says of the passage that a rewrite most likely comes from. One sentence in two hundred of \
             the same register reaches 0.5 by chance. Below the first step no degree is given.",
        ),
        row(
            "function words in a string",
            format!(
                "{} nats each, in strings of {} words and more",
                support::IN_STRING,
                support::STRING_WORDS
            ),
            Provenance::OwnChoice,
            "By themselves they say nothing; within a shared string they show that the phrasing is the same.",
        ),
    ]
}

/// When a quotation is found in a source, and a note on the way of a passage.
fn of_quotations_and_notes() -> Vec<Threshold> {
    vec![
        row(
            "altered quotation",
            format!("{:.0} % of its words", 100.0 * matching::LEAST_KEPT),
            Provenance::OwnChoice,
            "Share of a quotation's words that the source must have, in order, for it to be this quotation with \
             changes; below, it is not found.",
        ),
        row(
            "ellipsis",
            format!("{} words", matching::LONGEST_OMISSION),
            Provenance::OwnChoice,
            "Words of the source that an ellipsis in a quotation may stand for.",
        ),
        row(
            "bracket",
            format!("{} words", matching::LONGEST_REPLACED),
            Provenance::OwnChoice,
            "Words of the source that a bracket in a quotation may stand for; also how many may be missing before what follows counts as another place.",
        ),
        row(
            "piece of a quotation",
            format!(
                "{} words, {} of them content words",
                quoting::LEAST_PIECE,
                quoting::LEAST_CONTENT
            ),
            Provenance::OwnChoice,
            "How much of a quotation must stand at another place for it to be put together from two.",
        ),
        row(
            "note on the trail",
            format!(
                "{:.0} % of the words, closeness {:.2}",
                100.0 * trail::LEAST_COVERED,
                trail::LEAST_CLOSENESS
            ),
            Provenance::OwnChoice,
            "How much of a passage a note must cover, and how close the two must be unless they share a copied run, \
             for the note to stand on its trail.",
        ),
        row(
            "own comments",
            format!("{:.0} % of the words", 100.0 * trail::MOSTLY_COVERED),
            Provenance::OwnChoice,
            "How much of a passage your comments must cover for it to be your own. Comments that are a copy or a near \
             copy of the source don't count, nor does a summary that is a light revision of it or closer.",
        ),
    ]
}

/// The settings that decide on findings, each with the unit of its number.
const SETTINGS: [(&str, &str); 6] = [
    ("run_words", "words"),
    ("quotation_words", "words"),
    ("long_quotation_words", "words"),
    ("heavily_quoted_percent", "%"),
    ("repeated_words", "words"),
    ("credit_sentences", "before and after"),
];

fn from_settings(settings: &Settings) -> Vec<Threshold> {
    let of = |about: &AboutSetting| {
        let (_, unit) = SETTINGS.iter().find(|(name, _)| *name == about.name)?;
        let value = about.value(settings);
        let value = value.map_or_else(|| "off".to_owned(), |value| format!("{value} {unit}"));
        Some(row(
            about.name,
            value,
            Provenance::OfSetting(about.origin),
            about.meaning,
        ))
    };
    Settings::table().iter().filter_map(of).collect()
}

#[cfg(test)]
mod tests;
