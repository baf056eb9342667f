//! Guides: what is looked up once, such as which files a review holds, which forms of citation are read, and
//! within which limits. A guide is data: sections of paragraphs and of items with a lead. The terminal writes it
//! here, the page in its own file.

mod citations;
mod files;
mod licences;
mod limits;
mod reports;

use std::io::{self, Write};

use super::settings;
use crate::report::terminal::sheet::{INDENT, Sheet};
use crate::review::{AboutSetting, Settings};

/// Something to look up.
#[derive(Debug, PartialEq, Eq)]
pub struct Guide {
    /// Its name.
    pub(super) name: &'static str,
    /// What it is about, in a line.
    pub(super) short: &'static str,
    /// Its sections.
    pub(super) sections: &'static [Section],
}

/// A section of a guide.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Section {
    /// Its heading.
    pub(super) heading: &'static str,
    /// What stands below it.
    pub(super) parts: &'static [Part],
}

/// A part of a section.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Part {
    /// A paragraph.
    Says(&'static str),
    /// A term, and what is said of it.
    Item(&'static str, &'static str),
    /// The notice of a licence: its paragraphs, as they stand in a file.
    Notice(&'static str),
    /// The settings whose names begin so, with their values.
    Settings(&'static str),
    /// What reading may cost, for each kind of file.
    Costs,
}

/// The guides in the order in which they are listed.
pub(super) static GUIDES: [Guide; 5] = [
    files::FILES,
    citations::CITATIONS,
    reports::REPORTS,
    limits::LIMITS,
    licences::LICENCES,
];

/// The paragraphs of a notice, each as one line.
pub(super) fn paragraphs(notice: &str) -> Vec<String> {
    notice
        .split("\n\n")
        .map(|paragraph| {
            // A word parted at the end of a line.
            let whole = paragraph.replace("-\n", "");
            whole.split_whitespace().collect::<Vec<_>>().join(" ")
        })
        // A rule of hyphens parts two notices in one file.
        .filter(|paragraph| !paragraph.trim_matches('-').is_empty())
        .collect()
}

/// The settings whose names begin so.
pub(super) fn settings_named(beginning: &str) -> impl Iterator<Item = &'static AboutSetting> {
    let table = Settings::table().iter();
    table.filter(move |about| about.name.starts_with(beginning))
}

/// Writes a guide.
pub(super) fn write<W: Write>(
    sheet: &mut Sheet<'_, W>,
    guide: &Guide,
    values: &Settings,
) -> io::Result<()> {
    sheet.heading(0, guide.short)?;
    for section in guide.sections {
        sheet.blank()?;
        sheet.heading(INDENT, section.heading)?;
        for part in section.parts {
            write_part(sheet, part, values)?;
        }
    }
    Ok(())
}

fn write_part<W: Write>(
    sheet: &mut Sheet<'_, W>,
    part: &Part,
    values: &Settings,
) -> io::Result<()> {
    let indent = INDENT + 2;
    match part {
        Part::Says(text) => sheet.paragraph(indent, text),
        Part::Item(term, text) => {
            let column = indent + 20;
            let lead = format!("{:indent$}{term}", "");
            if lead.len() < column {
                return sheet.hanging(column, &lead, text);
            }
            sheet.paragraph(indent, term)?;
            sheet.hanging(column, "", text)
        }
        Part::Notice(notice) => paragraphs(notice).iter().try_for_each(|paragraph| {
            sheet.blank()?;
            sheet.paragraph(indent, paragraph)
        }),
        Part::Costs => values.limits.costs().iter().try_for_each(|(of, most)| {
            let lead = format!("{:indent$}{of}", "");
            sheet.hanging(indent + 20, &lead, most)
        }),
        Part::Settings(beginning) => settings_named(beginning).try_for_each(|about| {
            sheet.paragraph(indent, &settings::head(about, values))?;
            sheet.paragraph(indent + 2, about.meaning)
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_notice_is_read_by_paragraphs() {
        let notice = "One\nand mo-\nre.\n\n-----\n\nTwo.\n";
        assert_eq!(paragraphs(notice), ["One and more.", "Two."]);
    }

    #[test]
    fn the_limits_are_all_the_settings_that_bound_a_file() {
        let bound = |about: &&AboutSetting| {
            about.meaning.contains("ost ") || about.meaning.starts_with("Largest")
        };
        let bounds = Settings::table().iter().filter(bound);
        let bounds: Vec<&str> = bounds.map(|about| about.name).collect();
        let named: Vec<&str> = settings_named("max_").map(|about| about.name).collect();
        assert_eq!(named, bounds);
    }

    #[test]
    fn what_the_guides_say_has_single_blanks() {
        let parts = GUIDES.iter().flat_map(|guide| guide.sections);
        for part in parts.flat_map(|section| section.parts) {
            let said = match part {
                Part::Says(said) | Part::Item(_, said) => *said,
                _ => continue,
            };
            assert!(!said.contains("  "), "{said}");
        }
    }
}
