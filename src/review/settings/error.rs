//! What can be wrong with settings, said so that the reader knows where and what to do.

use std::path::PathBuf;

use crate::reading::ReadError;

/// Where a setting was given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// In a settings file.
    File {
        /// The file.
        path: PathBuf,
        /// The line, counted from 1.
        line: usize,
    },
    /// On the command line.
    CommandLine,
}

impl std::fmt::Display for Place {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::File { path, line } => write!(out, "{}, line {line}", path.display()),
            Self::CommandLine => out.write_str("command line"),
        }
    }
}

/// Why settings can't be used.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum SettingsError {
    /// The file system refused, or the file is no UTF-8 text.
    #[error("{}: could not be read ({cause}); check that you may open it and that it is plain text", path.display())]
    Unreadable {
        /// The settings file.
        path: PathBuf,
        /// What the system said.
        cause: std::io::Error,
    },
    /// The file is far larger than settings are.
    #[error("{}: {size_mb} MB are no settings; move the file away, and `ownwords explain settings` says what may stand in one", path.display())]
    TooLarge {
        /// The settings file.
        path: PathBuf,
        /// Its size in megabytes (10^6 bytes), or as far as it was read.
        size_mb: u64,
    },
    /// It is no file.
    #[error(transparent)]
    NotRead(ReadError),
    /// The file is no TOML.
    #[error(
        "{place}: {problem}; a setting is written as `name = value`, text stands in \"quotation marks\""
    )]
    Syntax {
        /// Where.
        place: Place,
        /// What the parser said.
        problem: String,
    },
    /// No setting has this name.
    #[error("{place}: there is no setting {name:?}; {}", hint(.nearest.as_deref()))]
    Unknown {
        /// Where.
        place: Place,
        /// The name as written.
        name: String,
        /// The setting whose name is most like it, if any is.
        nearest: Option<String>,
    },
    /// A value of another shape than the setting takes.
    #[error("{place}: {name} takes {wanted}, not {found}")]
    Shape {
        /// Where.
        place: Place,
        /// The setting.
        name: String,
        /// What it takes, such as `a whole number from 4 to 40`.
        wanted: String,
        /// What stands there, such as `a text`.
        found: String,
    },
    /// A number outside the range of its setting.
    #[error(
        "{place}: {name} = {value} is out of range; it takes a whole number from {from} to {to}"
    )]
    OutOfRange {
        /// Where.
        place: Place,
        /// The setting.
        name: String,
        /// The number as given.
        value: String,
        /// Smallest number it takes.
        from: u64,
        /// Largest number it takes.
        to: u64,
    },
}

fn hint(nearest: Option<&str>) -> String {
    match nearest {
        Some(name) => format!("did you mean {name}?"),
        None => "`ownwords explain settings` lists them all".to_owned(),
    }
}
