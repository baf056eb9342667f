//! Settings: documented defaults, with `ownwords.toml` and then the command line laid over them.
//!
//! 1. [`Settings::table`] is the one list of settings: name, default, range, meaning, origin, and the field of
//!    [`Settings`] that holds the value. Everything below comes from it, and so do the template of
//!    `ownwords.toml` and `ownwords explain settings`.
//! 2. [`Settings::default`] holds the defaults.
//! 3. [`Options`] is one layer: values for some settings, none for the others. A file
//!    makes one layer, the command line another; [`Options::update`] lays one over the other.
//! 4. [`Settings::of`] checks every value and lays it over the defaults.

mod error;
mod file;
mod headings;
mod options;
mod table;
mod value;

use std::path::{Path, PathBuf};

use crate::reading::{Files, Limits};

pub use error::{Place, SettingsError};
pub use options::Options;
pub use table::AboutSetting;
pub use value::{Field, Given, Shape, Value};

/// The name of the settings file in the review folder.
pub const SETTINGS_FILE: &str = "ownwords.toml";

/// The settings of a review. What each is by default stands in [`Settings::table`].
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Settings {
    /// Words in a row that count as a copy when unmarked.
    pub run_words: usize,
    /// Marked strings shorter than this are taken for terms or scare quotes, not quotations.
    pub quotation_words: usize,
    /// Quotations this long belong set off.
    pub long_quotation_words: usize,
    /// Share of quoted words in a draft above which it is called heavily quoted, in percent; `None`
    /// leaves it unsaid.
    pub heavily_quoted_percent: Option<u8>,
    /// Words in a row of the writer's own that are reported when they stand in an earlier chapter too; `None`
    /// looks for none.
    pub repeated_words: Option<usize>,
    /// How many sentences before and after a passage a citation may stand to count as nearby.
    pub credit_sentences: usize,
    /// Fixed expressions of the field that are nobody's wording.
    pub terms: Vec<String>,
    /// Bibliography files relative to the review. Where none is named, every `references.*` file there.
    pub references: Vec<PathBuf>,
    /// Folder of source texts, relative to the review.
    pub sources: PathBuf,
    /// Folder of notes, relative to the review.
    pub notes: PathBuf,
    /// Headings that begin a summary.
    pub summary_headings: Vec<String>,
    /// Headings that begin the quotations.
    pub quotations_headings: Vec<String>,
    /// Headings that begin the writer's own comments.
    pub comments_headings: Vec<String>,
    /// What reading may cost.
    pub limits: Limits,
}

impl Default for Settings {
    fn default() -> Self {
        let mut settings = Self::blank();
        for about in table::TABLE {
            if let Some(default) = about.default {
                (about.field)(&mut settings).put(default.into());
            }
        }
        settings
    }
}

impl Settings {
    /// Every field without a value. The defaults are put in from the table, and nowhere else.
    fn blank() -> Self {
        Self {
            run_words: 0,
            quotation_words: 0,
            long_quotation_words: 0,
            heavily_quoted_percent: None,
            repeated_words: None,
            credit_sentences: 0,
            terms: Vec::new(),
            references: Vec::new(),
            sources: PathBuf::new(),
            notes: PathBuf::new(),
            summary_headings: Vec::new(),
            quotations_headings: Vec::new(),
            comments_headings: Vec::new(),
            limits: Limits::USUAL,
        }
    }

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

    /// The settings that some options give, laid over the defaults.
    ///
    /// # Errors
    /// [`SettingsError`] where a value doesn't fit its setting. Values from a file have been checked when it was
    /// read, so the place named is the command line.
    pub fn of(options: Options) -> Result<Self, SettingsError> {
        let mut settings = Self::default();
        for (about, value) in options.checked(&Place::CommandLine)? {
            (about.field)(&mut settings).put(value);
        }
        Ok(settings)
    }

    /// Changes one setting, as the command line asks.
    ///
    /// # Errors
    /// [`SettingsError`] where the value doesn't fit, or there is no such setting.
    pub fn set(&mut self, name: &str, value: Value) -> Result<(), SettingsError> {
        let options = Options::default().with(name, value);
        for (about, value) in options.checked(&Place::CommandLine)? {
            (about.field)(self).put(value);
        }
        Ok(())
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
