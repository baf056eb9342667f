//! The table of thresholds: every number on which a finding depends, with its value here and where
//! it comes from. The numbers themselves live where they are used (the scale, the settings); this
//! table reads them there, so that what `ownwords explain thresholds` prints can't drift away from
//! what the program does.

use crate::overlap::Degree;
use crate::review::Settings;

/// Where a threshold comes from. None is any institution's rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// A published rule or paper.
    Published {
        /// The work.
        work: &'static str,
        /// Whether the number was checked in the work itself or is quoted from memory.
        from_memory: bool,
    },
    /// What is commonly done, without one source for it.
    CommonPractice,
    /// Set by this project on data.
    OwnCalibration {
        /// The data.
        data: &'static str,
        /// The day, `YYYY-MM-DD`.
        date: &'static str,
    },
}

impl std::fmt::Display for Origin {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Published { work, from_memory } => {
                let memory = if *from_memory { ", from memory" } else { "" };
                write!(out, "published: {work}{memory}")
            }
            Self::CommonPractice => out.write_str("common practice"),
            Self::OwnCalibration { data, date } => {
                write!(out, "our own calibration on {data}, {date}")
            }
        }
    }
}

/// One threshold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Threshold {
    /// Its name: a setting's key, or the two degrees it stands between.
    pub name: String,
    /// Its value with the unit.
    pub value: String,
    /// Where it comes from.
    pub origin: Origin,
    /// What it decides, in a sentence or two.
    pub text: &'static str,
}

/// The data behind the boundaries of the scale.
const TRANSLATIONS: Origin = Origin::OwnCalibration {
    data: "verse-aligned English translations of one source",
    date: "2026-11-25",
};

/// The data behind the length of a run.
const LEARNED_PROSE: Origin = Origin::OwnCalibration {
    data: "164,000 words of learned prose against a million words by other writers (Brown corpus)",
    date: "2026-11-25",
};

const KECK: Origin = Origin::Published {
    work: "Keck (2006), Journal of Second Language Writing 15(4)",
    from_memory: true,
};

/// Every threshold with the value it has under these settings: boundaries of the scale first, then
/// the settings, then the published categories shown beside our degree.
#[must_use]
pub fn thresholds(settings: &Settings) -> Vec<Threshold> {
    let mut table = boundaries();
    table.extend(from_settings(settings));
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
        "Up to here a passage is verbatim: every word, or all but one in a long passage, stands in the source.",
        "Up to here it is a near copy: spelling modernised, a few words changed, a formal revision.",
        "Up to here it is a light revision, such as a revision of a revision; close-paraphrase ends here.",
        "Up to here it is a heavy revision, as a fresh translation of the same text is; beyond, restructured.",
    ];
    let pairs = Degree::ALL.into_iter().zip(Degree::ALL.into_iter().skip(1));
    pairs
        .zip(texts)
        .map(|((before, after), text)| Threshold {
            name: format!("{} / {}", before.name(), after.name()),
            value: format!("position {:.2}", before.span().1),
            origin: TRANSLATIONS,
            text,
        })
        .collect()
}

fn from_settings(settings: &Settings) -> Vec<Threshold> {
    let row = |name: &str, value: String, origin, text| Threshold {
        name: name.to_owned(),
        value,
        origin,
        text,
    };
    vec![
        row(
            "run_words",
            format!("{} words", settings.run_words),
            LEARNED_PROSE,
            "Words in a row, the same as in a source, that count as a copy when unmarked. Shared by chance: 52 \
             runs of 5 words in 10,000 words, 6 of 6, 0.4 of 7, 0.06 of 8, none of 9.",
        ),
        row(
            "quotation_words",
            format!("{} words", settings.quotation_words),
            Origin::CommonPractice,
            "Marked strings shorter than this are taken for terms or for words used with distance, not for quotations.",
        ),
        row(
            "long_quotation_words",
            format!("{} words", settings.long_quotation_words),
            Origin::Published {
                work: "APA Style, 7th edition, section 8.27",
                from_memory: true,
            },
            "Quotations this long belong set off as a block.",
        ),
        row(
            "heavily_quoted_percent",
            settings
                .heavily_quoted_percent
                .map_or_else(|| "off".to_owned(), |percent| format!("{percent} %")),
            Origin::CommonPractice,
            "Share of quoted words above which a draft is called heavily quoted. No number is anybody's rule.",
        ),
        row(
            "credit_sentences",
            format!("{} before and after", settings.credit_sentences),
            Origin::CommonPractice,
            "How many sentences from the passage a citation may stand and still count as nearby.",
        ),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_follows_the_scale_and_the_settings() {
        let settings = Settings {
            run_words: 11,
            heavily_quoted_percent: Some(20),
            ..Settings::default()
        };
        let table = thresholds(&settings);
        let value = |name: &str| {
            let row = table.iter().find(|row| row.name == name);
            row.map(|row| row.value.clone()).unwrap_or_default()
        };
        assert_eq!(value("run_words"), "11 words");
        assert_eq!(value("heavily_quoted_percent"), "20 %");
        let near = Degree::NearCopy.span().1;
        assert_eq!(
            value("near copy / light revision"),
            format!("position {near:.2}")
        );
    }

    #[test]
    fn origins_name_their_sort_and_memory() {
        assert_eq!(
            KECK.to_string(),
            "published: Keck (2006), Journal of Second Language Writing 15(4), from memory"
        );
        assert_eq!(Origin::CommonPractice.to_string(), "common practice");
        assert!(TRANSLATIONS.to_string().contains("2026-11-25"));
    }

    #[test]
    fn the_scale_is_covered_without_gaps() {
        let spans = Degree::ALL.map(Degree::span);
        assert_eq!((spans[0].0, spans[4].1), (0.0, 1.0));
        for pair in spans.windows(2) {
            assert!(pair[0].1 == pair[1].0 && pair[0].0 < pair[0].1);
        }
    }
}
