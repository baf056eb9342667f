//! Settings: documented defaults, with `ownwords.toml` and then the command line laid over them.
//!
//! 1. [`Settings::default`] holds the documented defaults.
//! 2. [`Options`] is one layer of wishes: a value for some settings, silence about the others. A file
//!    makes one layer, the command line another; [`Options::update`] lays one over the other.
//! 3. [`Settings::of`] checks every value against the range in [`Settings::table`], the one list of
//!    settings from which the checks, the template of `ownwords.toml` and `ownwords explain settings`
//!    are made.

mod error;
mod file;
mod headings;
mod options;
mod table;

use std::path::{Path, PathBuf};

use crate::reading::{Files, Limits};

pub use error::{Place, SettingsError};
pub use options::Options;
pub use table::{AboutSetting, Shape};

/// The name of the settings file in the review folder.
pub const SETTINGS_FILE: &str = "ownwords.toml";

/// The settings of a review.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Settings {
    /// Words in a row that count as a copy when unmarked. Default 7.
    pub run_words: usize,
    /// Marked strings shorter than this are taken for terms or scare quotes, not quotations. Default 4.
    pub quotation_words: usize,
    /// Quotations this long belong set off (APA 7, section 8.27: 40 words). Default 40.
    pub long_quotation_words: usize,
    /// Share of quoted words in a draft above which it is called heavily quoted, in percent; `None`
    /// (the default) leaves it unsaid.
    pub heavily_quoted_percent: Option<u8>,
    /// Words in a row of the writer's own that are told when they stand in an earlier chapter too; `None` (the
    /// default) looks for none.
    pub repeated_words: Option<usize>,
    /// How many sentences before and after a passage a citation may stand to count as nearby. Default 1.
    pub credit_sentences: usize,
    /// Fixed expressions of the field that are nobody's wording. Default none.
    pub terms: Vec<String>,
    /// Bibliography files relative to the review. Default (empty): every `references.*` file present.
    pub references: Vec<PathBuf>,
    /// Folder of source texts, relative to the review. Default `sources`.
    pub sources: PathBuf,
    /// Folder of notes, relative to the review. Default `notes`.
    pub notes: PathBuf,
    /// Headings that begin a summary. Default: Summary and its like in several languages.
    pub summary_headings: Vec<String>,
    /// Headings that begin the quotations. Default: Quotations and its like in several languages.
    pub quotations_headings: Vec<String>,
    /// Headings that begin the writer's own comments. Default: Comments and its like in several languages.
    pub comments_headings: Vec<String>,
    /// What reading may cost.
    pub limits: Limits,
}

impl Default for Settings {
    fn default() -> Self {
        let list = |names: &[&str]| names.iter().map(|&name| name.to_owned()).collect();
        Self {
            run_words: 7,
            quotation_words: 4,
            long_quotation_words: 40,
            heavily_quoted_percent: None,
            repeated_words: None,
            credit_sentences: 1,
            terms: Vec::new(),
            references: Vec::new(),
            sources: PathBuf::from("sources"),
            notes: PathBuf::from("notes"),
            summary_headings: list(headings::SUMMARY),
            quotations_headings: list(headings::QUOTATIONS),
            comments_headings: list(headings::COMMENTS),
            limits: Limits::default(),
        }
    }
}

impl Settings {
    /// The settings of a review folder: its `ownwords.toml` (which may be missing) over the defaults,
    /// the overrides over both.
    ///
    /// # Errors
    /// [`SettingsError`] where the file can't be read or a value is unknown, of the wrong shape or out
    /// of range. Each message names the place and what to do.
    pub fn open(
        files: &dyn Files,
        root: &Path,
        overrides: &Options,
    ) -> Result<Self, SettingsError> {
        let mut options = file::read(files, &root.join(SETTINGS_FILE))?;
        options.update(overrides.clone());
        Self::of(options)
    }

    /// The settings that some wishes make, laid over the defaults.
    ///
    /// # Errors
    /// [`SettingsError::OutOfRange`] where a number is outside the range in [`Settings::table`]. Values
    /// from a file have been checked when it was read, so the place named is the command line.
    pub fn of(options: Options) -> Result<Self, SettingsError> {
        options.check(&Place::CommandLine)?;
        let default = Self::default();
        let usual = default.limits;
        let limits = Limits {
            file_mb: options.max_file_mb.unwrap_or(usual.file_mb),
            unpacked_mb: options.max_unpacked_mb.unwrap_or(usual.unpacked_mb),
            parts: options.max_package_parts.unwrap_or(usual.parts),
            pages: options.max_pdf_pages.unwrap_or(usual.pages),
            characters: options.max_pdf_characters.unwrap_or(usual.characters),
            files: options.max_files.unwrap_or(usual.files),
        };
        Ok(Self {
            run_words: options.run_words.unwrap_or(default.run_words),
            quotation_words: options.quotation_words.unwrap_or(default.quotation_words),
            long_quotation_words: options
                .long_quotation_words
                .unwrap_or(default.long_quotation_words),
            heavily_quoted_percent: options
                .heavily_quoted_percent
                .or(default.heavily_quoted_percent),
            repeated_words: options.repeated_words.or(default.repeated_words),
            credit_sentences: options.credit_sentences.unwrap_or(default.credit_sentences),
            terms: options.terms.unwrap_or(default.terms),
            references: options.references.unwrap_or(default.references),
            sources: options.sources.unwrap_or(default.sources),
            notes: options.notes.unwrap_or(default.notes),
            summary_headings: options.summary_headings.unwrap_or(default.summary_headings),
            quotations_headings: options
                .quotations_headings
                .unwrap_or(default.quotations_headings),
            comments_headings: options
                .comments_headings
                .unwrap_or(default.comments_headings),
            limits,
        })
    }

    /// Every setting, in the order in which they are explained.
    #[must_use]
    pub fn table() -> &'static [AboutSetting] {
        table::TABLE
    }

    /// The text of an `ownwords.toml` that says what every setting is and changes none.
    #[must_use]
    pub fn template() -> String {
        table::template()
    }
}
