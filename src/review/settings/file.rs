//! Reads `ownwords.toml` into a layer of options. The table of settings decides what is right, and every message
//! names line and remedy.

use std::path::Path;

use toml::de::{DeTable, DeValue};

use super::table::{self, AboutSetting};
use super::value::{Shape, Value};
use super::{Options, Place, SettingsError, options};
use crate::reading::{Files, ReadError};

/// Largest settings file, in megabytes: a thousand times what all settings and a long list of terms need.
const LIMIT_MB: u64 = 1;

/// Reads a settings file; a missing one is an empty layer.
pub(super) fn read(files: &dyn Files, path: &Path) -> Result<Options, SettingsError> {
    let unreadable = |cause| SettingsError::Unreadable {
        path: path.to_owned(),
        cause,
    };
    match files.read(path, LIMIT_MB) {
        Ok(bytes) => match String::from_utf8(bytes) {
            Ok(content) => parse(path, &content),
            Err(_) => Err(unreadable(std::io::Error::new(
                std::io::ErrorKind::InvalidData,
                "it is no UTF-8",
            ))),
        },
        Err(ReadError::Io { cause, .. }) if cause.kind() == std::io::ErrorKind::NotFound => {
            Ok(Options::default())
        }
        Err(ReadError::Io { cause, .. }) => Err(unreadable(cause)),
        Err(ReadError::TooLarge { size_mb, .. }) => Err(SettingsError::TooLarge {
            path: path.to_owned(),
            size_mb,
        }),
        Err(other) => Err(SettingsError::NotRead(other)),
    }
}

/// Parses the content of a settings file.
pub(super) fn parse(path: &Path, content: &str) -> Result<Options, SettingsError> {
    let content = content.strip_prefix('\u{feff}').unwrap_or(content);
    let place = |position: usize| Place::File {
        path: path.to_owned(),
        line: line_of(content, position),
    };
    let syntax = |error: toml::de::Error| SettingsError::Syntax {
        place: place(error.span().map_or(0, |span| span.start)),
        problem: error.message().replace('\n', ", "),
    };
    let document = DeTable::parse(content).map_err(syntax)?;
    // In the order of the file, so that the first mistake is reported first.
    let mut settings: Vec<_> = document.get_ref().iter().collect();
    settings.sort_by_key(|(name, _)| name.span().start);
    let mut options = Options::default();
    for (name, value) in settings {
        let here = place(name.span().start);
        let about = table::named(name.get_ref(), &here)?;
        options = options.with(about.name, taken(about, value.get_ref(), &here)?);
    }
    Ok(options)
}

/// A value of the file as its setting takes it.
fn taken(about: &AboutSetting, value: &DeValue<'_>, place: &Place) -> Result<Value, SettingsError> {
    let taken = match (about.shape, value) {
        (Shape::Number { from, to }, DeValue::Integer(number)) => {
            // A number that is negative or beyond 64 bits is out of every range.
            let parsed = u64::from_str_radix(number.as_str(), number.radix()).ok();
            let out_of_range =
                || options::out_of_range(about, (from, to), number.as_str().to_owned(), place);
            parsed.map(Value::Number).ok_or_else(out_of_range)?
        }
        (Shape::List, DeValue::Array(items)) => {
            let texts = items.iter().map(|item| match item.get_ref() {
                DeValue::String(text) => Some(text.clone().into_owned()),
                _ => None,
            });
            let texts: Option<Vec<String>> = texts.collect();
            texts
                .map(Value::List)
                .ok_or_else(|| options::another_shape(about, describe(value), place))?
        }
        (Shape::Folder, DeValue::String(name)) => Value::Folder(name.as_ref().into()),
        (_, value) => return Err(options::another_shape(about, describe(value), place)),
    };
    options::fits(about, &taken, place)?;
    Ok(taken)
}

fn describe(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a number with a decimal point",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list that holds something other than texts",
        DeValue::Table(_) => "a table",
    }
}

fn line_of(content: &str, position: usize) -> usize {
    let before = content.as_bytes().get(..position).unwrap_or_default();
    1 + memchr::memchr_iter(b'\n', before).count()
}

#[cfg(test)]
mod tests {
    use super::super::Settings;
    use super::super::table::TABLE;
    use super::*;
    use proptest::prelude::*;
    use std::path::PathBuf;

    fn parsed(content: &str) -> Result<Options, SettingsError> {
        parse(Path::new("ownwords.toml"), content)
    }

    #[test]
    fn values_are_laid_over_the_defaults() {
        let options =
            parsed("run_words = 9\nterms = [\"light trap\"]\nnotes = \"entries\"\n").unwrap();
        let settings = Settings::of(options).unwrap();
        assert_eq!(settings.run_words, 9);
        assert_eq!(settings.terms, ["light trap"]);
        assert_eq!(settings.notes, PathBuf::from("entries"));
        assert_eq!(settings.sources, PathBuf::from("sources"));
        assert_eq!(settings.long_quotation_words, 40);
    }

    #[test]
    fn messages_name_line_and_remedy() {
        let cases: &[(&str, &[&str])] = &[
            (
                "\nrun_wrods = 7",
                &["line 2", "\"run_wrods\"", "did you mean run_words?"],
            ),
            ("run-words = 7", &["did you mean run_words?"]),
            ("summary = []", &["did you mean summary_headings?"]),
            ("colour = 1", &["no setting \"colour\"", "explain settings"]),
            ("run_words = 3", &["line 1", "run_words = 3", "4 to 40"]),
            ("run_words = 41", &["4 to 40"]),
            ("run_words = -9", &["-9", "4 to 40"]),
            ("run_words = 99999999999999999999", &["4 to 40"]),
            ("quotation_words = 0", &["1 to 40"]),
            ("long_quotation_words = 9", &["10 to 500"]),
            ("heavily_quoted_percent = 101", &["1 to 100"]),
            ("credit_sentences = 11", &["0 to 10"]),
            ("max_file_mb = 2001", &["1 to 2000"]),
            ("max_unpacked_mb = 9", &["10 to 6000"]),
            ("max_package_parts = 0", &["10 to 1000000"]),
            ("max_pdf_pages = 0", &["1 to 1000000"]),
            ("max_pdf_characters = 1", &["1000 to 1000000000"]),
            ("max_html_nodes = 1", &["1000 to 1000000000"]),
            ("max_text_marks = 1", &["1000 to 1000000000"]),
            ("max_files = 9", &["10 to 1000000"]),
            (
                "run_words = \"7\"",
                &["a whole number from 4 to 40", "not a text"],
            ),
            ("run_words = 7.5", &["decimal point"]),
            ("terms = \"light trap\"", &["a list of texts", "not a text"]),
            ("terms = [1]", &["a list of texts"]),
            ("sources = [\"a\"]", &["the name of a folder"]),
            ("[run_words]\nx = 1", &["not a table"]),
            (
                "run_words = 7\nnotes = entries",
                &["line 2", "quotation marks"],
            ),
            ("run_words = 7\nrun_words = 8", &["line 2"]),
        ];
        for (content, wanted) in cases {
            let message = parsed(content).expect_err(content).to_string();
            assert!(message.starts_with("ownwords.toml, line "), "{message}");
            for part in *wanted {
                assert!(
                    message.contains(part),
                    "{content:?} gave {message:?} without {part:?}"
                );
            }
        }
    }

    #[test]
    fn the_ends_of_a_range_are_inside() {
        for about in TABLE {
            let Shape::Number { from, to } = about.shape else {
                continue;
            };
            for (value, fine) in [
                (Some(from), true),
                (Some(to), true),
                (from.checked_sub(1), false),
                (Some(to + 1), false),
            ] {
                let Some(value) = value else { continue };
                let content = format!("{} = {value}", about.name);
                assert_eq!(parsed(&content).is_ok(), fine, "{content}");
            }
        }
    }

    #[test]
    fn overrides_are_checked_too() {
        let options = Options::default().with("run_words", Value::Number(2));
        let message = Settings::of(options).unwrap_err().to_string();
        assert!(
            message.starts_with("command line: run_words = 2"),
            "{message}"
        );
    }

    #[test]
    fn table_and_template_agree() {
        let template = Settings::template();
        assert_eq!(
            parsed(&template).unwrap(),
            Options::default(),
            "the template changes nothing"
        );
        let said = |line: &str, pattern: &str| {
            line.strip_prefix(pattern)
                .filter(|rest| {
                    TABLE
                        .iter()
                        .any(|about| rest.starts_with(&format!("{} = ", about.name)))
                })
                .map(str::to_owned)
        };
        let defaults: Vec<String> = template
            .lines()
            .filter_map(|line| said(line, "# "))
            .collect();
        assert_eq!(
            defaults.len(),
            TABLE.iter().filter(|about| about.default.is_some()).count()
        );
        let spelled_out = Settings::of(parsed(&defaults.join("\n")).unwrap()).unwrap();
        assert_eq!(spelled_out, Settings::default());
        let examples: Vec<String> = template
            .lines()
            .filter_map(|line| said(line, "# for example: "))
            .collect();
        assert_eq!(defaults.len() + examples.len(), TABLE.len());
        assert!(parsed(&examples.join("\n")).is_ok());
    }

    /// Each setting arrives in a field of its own and comes out of it again.
    #[test]
    fn every_setting_has_a_field_of_its_own() {
        for about in TABLE {
            assert!(!about.shown().is_empty(), "{} shows no value", about.name);
            let given = match about.shape {
                Shape::Number { to, .. } => Value::Number(to),
                Shape::List => Value::List(vec!["one".to_owned(), "two".to_owned()]),
                Shape::Folder => Value::Folder(PathBuf::from("elsewhere")),
            };
            let set = parsed(&format!("{} = {given}", about.name)).unwrap();
            let set = Settings::of(set).unwrap();
            for other in TABLE {
                let value = match other == about {
                    true => Some(given.clone()),
                    false => other.value(&Settings::default()),
                };
                assert_eq!(
                    other.value(&set),
                    value,
                    "{} sets {}",
                    about.name,
                    other.name
                );
            }
        }
    }

    proptest! {
        #[test]
        fn any_content_is_read_or_refused(content in "\\PC*|([a-z_]{1,9} ?= ?[0-9\"\\[\\]{}.\n-]{0,9}\n){0,4}") {
            if let Ok(options) = parsed(&content) {
                prop_assert!(Settings::of(options).is_ok());
            }
        }
    }
}
