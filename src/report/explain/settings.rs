//! The settings with their values, as they would stand in `ownwords.toml`. What is said of each comes
//! from the one table of settings.

use std::io::{self, Write};

use crate::report::english::capitalised;
use crate::report::harmless;
use crate::report::terminal::sheet::{INDENT, Sheet};
use crate::review::{AboutSetting, Settings, Value};

/// Writes every setting with its value and meaning.
pub(super) fn write<W: Write>(sheet: &mut Sheet<'_, W>, settings: &Settings) -> io::Result<()> {
    sheet.heading(0, "Settings, as they stand in ownwords.toml")?;
    for about in Settings::table() {
        sheet.blank()?;
        write_setting(sheet, about, settings)?;
    }
    Ok(())
}

/// Writes one setting with its value and meaning, and where the others are.
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
    match about.value(settings) {
        Some(value) => format!("{} = {}", about.name, harmless(&value.to_string())),
        None => format!("{} (not set; for example {})", about.name, about.shown()),
    }
}

/// What a setting takes, and its default where it has another value.
pub(super) fn takes(about: &AboutSetting, settings: &Settings) -> String {
    let takes = capitalised(&about.shape.describe());
    let default = about.default.map(Value::from);
    match default.filter(|default| about.value(settings).as_ref() != Some(default)) {
        Some(default) => format!("{takes}; default {default}."),
        None => format!("{takes}."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_stands_as_in_the_file_and_beside_it_the_default_where_it_is_another() {
        let mut settings = Settings::default();
        let said = |name: &str, settings: &Settings| {
            let about = Settings::table().iter().find(|about| about.name == name);
            let about = about.unwrap();
            (head(about, settings), takes(about, settings))
        };
        let (head, takes) = said("run_words", &settings);
        assert_eq!(head, "run_words = 7");
        assert_eq!(takes, "A whole number from 4 to 40.");
        settings.run_words = 9;
        settings.terms = vec!["a \"term\"".to_owned()];
        let (head, takes) = said("run_words", &settings);
        assert_eq!(head, "run_words = 9");
        assert_eq!(takes, "A whole number from 4 to 40; default 7.");
        assert_eq!(said("terms", &settings).0, r#"terms = ["a \"term\""]"#);
        let (head, _) = said("repeated_words", &settings);
        assert_eq!(head, "repeated_words (not set; for example 12)");
    }
}
