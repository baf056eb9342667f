//! The settings with their values, as they would stand in `ownwords.toml`. What is said of each comes
//! from the one table of settings.

use std::io::{self, Write};
use std::path::Path;

use crate::report::english::capitalised;
use crate::report::harmless;
use crate::report::terminal::sheet::{INDENT, Sheet};
use crate::review::{AboutSetting, Settings};

/// Writes every setting with its value and meaning.
pub(super) fn write<W: Write>(sheet: &mut Sheet<'_, W>, settings: &Settings) -> io::Result<()> {
    sheet.heading(0, "Settings, as they stand in ownwords.toml")?;
    for about in Settings::table() {
        sheet.blank()?;
        write_setting(sheet, about, settings)?;
    }
    Ok(())
}

/// Writes one setting with its value and meaning, and where the others are told.
pub(super) fn write_one<W: Write>(
    sheet: &mut Sheet<'_, W>,
    about: &AboutSetting,
    settings: &Settings,
) -> io::Result<()> {
    sheet.heading(0, "A setting, as it stands in ownwords.toml")?;
    sheet.blank()?;
    write_setting(sheet, about, settings)?;
    sheet.blank()?;
    sheet.paragraph(0, "All settings: ownwords explain settings")
}

fn write_setting<W: Write>(
    sheet: &mut Sheet<'_, W>,
    about: &AboutSetting,
    settings: &Settings,
) -> io::Result<()> {
    let (head, takes) = (head(about, settings), takes(about, settings));
    sheet.heading(INDENT, &head)?;
    sheet.paragraph(INDENT + 2, about.meaning)?;
    sheet.paragraph(INDENT + 2, about.origin)?;
    sheet.paragraph(INDENT + 2, &takes)
}

/// A setting as it stands in the file.
pub(super) fn head(about: &AboutSetting, settings: &Settings) -> String {
    match value_of(about.name, settings) {
        Some(value) => format!("{} = {}", about.name, harmless(&value)),
        None => format!("{} (not set; for example {})", about.name, about.example),
    }
}

/// What a setting takes, and its default where it has another value.
pub(super) fn takes(about: &AboutSetting, settings: &Settings) -> String {
    let value = value_of(about.name, settings);
    let takes = capitalised(&about.shape.describe());
    let default = match about.default {
        Some(default) if value.as_deref() != Some(default) => format!("; default {default}"),
        _ => String::new(),
    };
    format!("{takes}{default}.")
}

/// The value of a setting as TOML; `None` where it is not set, or unknown.
fn value_of(name: &str, settings: &Settings) -> Option<String> {
    // Taken apart by name, so that a new setting can't be forgotten here.
    let Settings {
        run_words,
        quotation_words,
        long_quotation_words,
        heavily_quoted_percent,
        repeated_words,
        credit_sentences,
        terms,
        references,
        sources,
        notes,
        summary_headings,
        quotations_headings,
        comments_headings,
        limits,
    } = settings;
    match name {
        "run_words" => Some(run_words.to_string()),
        "quotation_words" => Some(quotation_words.to_string()),
        "long_quotation_words" => Some(long_quotation_words.to_string()),
        "heavily_quoted_percent" => heavily_quoted_percent.map(|percent| percent.to_string()),
        "repeated_words" => repeated_words.map(|words| words.to_string()),
        "credit_sentences" => Some(credit_sentences.to_string()),
        "terms" => Some(list(terms)),
        "references" if references.is_empty() => None,
        "references" => {
            let paths: Vec<String> = references.iter().map(|path| shown(path)).collect();
            Some(list(&paths))
        }
        "sources" => Some(quoted(&shown(sources))),
        "notes" => Some(quoted(&shown(notes))),
        "summary_headings" => Some(list(summary_headings)),
        "quotations_headings" => Some(list(quotations_headings)),
        "comments_headings" => Some(list(comments_headings)),
        "max_file_mb" => Some(limits.file_mb.to_string()),
        "max_unpacked_mb" => Some(limits.unpacked_mb.to_string()),
        "max_package_parts" => Some(limits.parts.to_string()),
        "max_pdf_pages" => Some(limits.pages.to_string()),
        "max_pdf_characters" => Some(limits.characters.to_string()),
        "max_html_nodes" => Some(limits.html_nodes.to_string()),
        "max_text_marks" => Some(limits.text_marks.to_string()),
        "max_files" => Some(limits.files.to_string()),
        _ => None,
    }
}

fn shown(path: &Path) -> String {
    path.to_string_lossy().into_owned()
}

fn quoted(text: &str) -> String {
    format!("{text:?}")
}

fn list(items: &[String]) -> String {
    let items: Vec<String> = items.iter().map(|item| quoted(item)).collect();
    format!("[{}]", items.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_read_as_they_stand_in_the_file() {
        let settings = Settings {
            terms: vec!["part-night lighting".to_owned(), "a \"term\"".to_owned()],
            heavily_quoted_percent: Some(15),
            ..Settings::default()
        };
        let value = |name: &str| value_of(name, &settings).unwrap_or_default();
        assert_eq!(value("terms"), r#"["part-night lighting", "a \"term\""]"#);
        assert_eq!(value("heavily_quoted_percent"), "15");
        assert_eq!(value("sources"), r#""sources""#);
    }

    #[test]
    fn the_values_of_the_defaults_are_those_of_the_table() {
        for about in Settings::table() {
            let value = value_of(about.name, &Settings::default());
            assert_eq!(value.as_deref(), about.default, "{}", about.name);
        }
    }
}
