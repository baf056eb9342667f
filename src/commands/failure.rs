//! Why a command could not do its job. Each message names the file, what is wrong and what to do.

use std::io;
use std::num::NonZeroUsize;
use std::path::PathBuf;

use crate::CheckError;
use crate::findings::notes::NotesError;
use crate::findings::versions::VersionsError;
use crate::reading::ReadError;
use crate::report::explain::UnknownTopic;
use crate::report::margin::MarginError;
use crate::review::{NamedDraftsError, ReviewError, SettingsError};

/// Why a command could not do its job.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum Failure {
    /// The review can't be used.
    #[error(transparent)]
    Review(#[from] ReviewError),
    /// The settings can't be used.
    #[error(transparent)]
    Settings(#[from] SettingsError),
    /// No draft could be checked.
    #[error(transparent)]
    Check(#[from] CheckError),
    /// The notes can't be checked.
    #[error(transparent)]
    Notes(#[from] NotesError),
    /// A file can't be read.
    #[error(transparent)]
    Read(#[from] ReadError),
    /// A review folder can't be laid out.
    #[error(transparent)]
    Start(#[from] crate::review::StartError),
    /// A finding or a decision can't be identified, or is settled.
    #[error(transparent)]
    Deciding(#[from] crate::findings::making_decisions::DecidingError),
    /// Nothing could be settled.
    #[error(transparent)]
    Settle(#[from] super::SettleError),
    /// A folder of drafts can't be used.
    #[error(transparent)]
    NamedDrafts(#[from] NamedDraftsError),
    /// There are no earlier versions of the drafts.
    #[error(transparent)]
    Versions(#[from] VersionsError),
    /// There is no such style of references.
    #[error(transparent)]
    Style(#[from] crate::report::bibliography::UnknownStyle),
    /// A bibliography of nothing.
    #[error("{}: there are no entries here to make a bibliography of; begin each with a heading that names its reference", folder.display())]
    NoEntries {
        /// The folder of notes.
        folder: PathBuf,
    },
    /// There is no such topic.
    #[error(transparent)]
    Topic(#[from] UnknownTopic),
    /// There is no such subcommand.
    #[error("{name:?} is no command of ownwords; `ownwords --help` lists them")]
    NoCommand {
        /// As typed.
        name: String,
    },
    /// The output can't be written.
    #[error("{place}: could not be written ({cause}); check the disk and that you may write there")]
    Write {
        /// The file, or the standard output.
        place: String,
        /// What the system said.
        cause: io::Error,
    },
    /// The desk can't be served, or its page not be written.
    #[error(
        "the desk could not be opened ({cause}); try again, with another --port if you named one"
    )]
    Serve {
        /// What the system said.
        cause: io::Error,
    },
    /// The output would replace a file that is only to be read.
    #[error("{}: the output would replace a file of yours that ownwords reads; name another file after --out", path.display())]
    WouldReplace {
        /// The file.
        path: PathBuf,
    },
    /// The output would replace a file of the review that may be the writer's own.
    #[error("{}: a file of this name is in the review and can't be told from one of your own, so it is not replaced; name another file after --out, or move this one away first", path.display())]
    NotOurs {
        /// The file.
        path: PathBuf,
    },
    /// The output would lie among what is read.
    #[error("{}: the files in {} are read as your own, and a report among them would be too; name a file elsewhere after --out", path.display(), folder.display())]
    AmongYours {
        /// The file.
        path: PathBuf,
        /// The folder of sources or notes.
        folder: PathBuf,
    },
    /// The output would go through a link to nowhere.
    #[error("{}: this is a link that leads nowhere; name another file after --out, or mend the link", path.display())]
    LinkToNowhere {
        /// The link.
        path: PathBuf,
    },
    /// The ending of the output says something else than its form.
    #[error("{}: {what} is no {ending} file; let the name after --out end in {wanted}, or choose the form with --format", path.display())]
    Ending {
        /// The file.
        path: PathBuf,
        /// Its ending, with the dot.
        ending: String,
        /// The form.
        what: &'static str,
        /// An ending that fits, with the dot.
        wanted: String,
    },
    /// A page would be printed on the terminal.
    #[error(
        "standard output: a page is for a browser, not for the terminal; add --out report.html and open that file"
    )]
    PageHere,
    /// Comments in the margin need a file of their own.
    #[error("--format margin writes a copy of the draft; name it with --out, for example --out {}", name.display())]
    MarginNeedsOut {
        /// A name that would do.
        name: PathBuf,
    },
    /// Comments in the margin are for one draft.
    #[error("--format margin writes a copy of one draft; name one draft at a time")]
    MarginOfOne,
    /// The draft can't be given comments.
    #[error("{}: {cause}", path.display())]
    Margin {
        /// The draft.
        path: PathBuf,
        /// Why, and what to do.
        cause: MarginError,
    },
    /// An option that has a meaning on the page only.
    #[error(
        "{option}: applies to a page only; add --format page --out exercise.html, or leave it out"
    )]
    OnlyOnPage {
        /// As typed.
        option: &'static str,
    },
    /// A page of many pairs.
    #[error(
        "--pairs: gives lines of JSON, not a page; for a page, name one passage with --source, and its rewrites"
    )]
    NoPageOfPairs,
    /// A rewrite that is too long to be looked for as one passage.
    #[error(
        "{path}: {words} words are more than one passage, and sources are looked up passage by passage; name a file of at most {most} words, or check the whole with `ownwords check`", path = path.display()
    )]
    TooLongToTrace {
        /// The file.
        path: PathBuf,
        /// Its words.
        words: usize,
        /// Words it may have.
        most: usize,
    },
    /// A page of rewrites whose sources are looked for.
    #[error(
        "--review: looks for the source of each rewrite and gives no page; for a page, name one passage with --source, and its rewrites"
    )]
    NoPageOfOrigins,
    /// Rewrites alone.
    #[error(
        "place: say what to set the rewrite against; there are two ways\n  \
         a passage that was rewritten:  ownwords place --source passage.txt rewrite.txt\n  \
         the sources of a review:       ownwords place --review my-review rewrite.txt"
    )]
    NothingToSetAgainst,
    /// The pairs can't be read.
    #[error(
        "{place}: could not be read ({cause}); check that the file exists and that you may open it"
    )]
    Pairs {
        /// The file, or the standard input.
        place: String,
        /// What the system said.
        cause: io::Error,
    },
    /// A passage or a rewrite without words.
    #[error(
        "{}: holds no words to place on the scale; put the passage into the file, or name another one (`ownwords text FILE` shows what is read)", path.display()
    )]
    NoWords {
        /// The file.
        path: PathBuf,
    },
    /// The threads can't be started.
    #[error("--jobs {jobs}: so many threads could not be started ({cause}); try a smaller number")]
    Jobs {
        /// As typed.
        jobs: NonZeroUsize,
        /// What the system said.
        cause: rayon::ThreadPoolBuildError,
    },
}
