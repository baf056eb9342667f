//! Settings: documented defaults, with `ownwords.toml` and then the command line laid over them.

use std::path::PathBuf;

/// The settings of a review.
#[derive(Debug, Clone, PartialEq)]
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
    /// How many sentences before and after a passage a citation may stand to count as nearby. Default 1.
    pub credit_sentences: usize,
    /// Fixed expressions of the field that are nobody's wording. Default none.
    pub terms: Vec<String>,
    /// Bibliography files relative to the review. Default: every `references.*` file present.
    pub references: Vec<PathBuf>,
    /// Folder of source texts, relative to the review. Default `sources`.
    pub sources: PathBuf,
    /// Folder of notes, relative to the review. Default `notes`.
    pub notes: PathBuf,
    /// Headings that begin a summary. Default: Summary, Abstract, Synopsis...
    pub summary_headings: Vec<String>,
    /// Headings that begin the quotations.
    pub quotations_headings: Vec<String>,
    /// Headings that begin the writer's own comments.
    pub comments_headings: Vec<String>,
    /// Largest file that is read, in megabytes. Default 100.
    pub max_file_mb: u64,
}

/// Why settings can't be used.
#[derive(Debug, thiserror::Error)]
pub enum SettingsError {
    /// Placeholder for the real variants.
    #[error("{}: {problem}", path.display())]
    Invalid {
        /// The settings file.
        path: PathBuf,
        /// What is wrong and what to do.
        problem: String,
    },
}
