//! `ownwords start`: an empty review folder with one worked example.

use std::path::PathBuf;

use clap::Args;

use super::output::Output;
use super::{Failure, Outcome, signals};
use crate::paths::portable;
use crate::report::harmless;
use crate::review;

/// Lay out an empty review folder with one worked example
#[derive(Debug, Args)]
#[command(after_help = "\
For example:
  ownwords start lamps

Then put each source text into lamps/sources/, named by its reference key
(harrow2019.pdf, .docx, .odt, .txt, .md and others), write your entries into
lamps/notes/, and check a draft with `ownwords check lamps/drafts/chapter.md`.
Nothing that is already there is replaced.")]
pub(super) struct StartArgs {
    /// The folder; it is made if it is not there
    dir: PathBuf,
}

pub(super) fn run(args: &StartArgs) -> Result<Outcome, Failure> {
    signals::heed();
    let made = review::start(&args.dir)?;
    Output::standard().write(|out| {
        for path in &made {
            let path = portable(path);
            writeln!(out, "made {}", harmless(&path))?;
        }
        // The draft comes last, and is what the first check is for.
        let draft = made.last().map(|path| portable(path));
        let draft = draft.unwrap_or_else(|| "DRAFT".to_owned());
        writeln!(out, "\nNext: ownwords check {}", harmless(&draft))
    })?;
    Ok(Outcome::Clear)
}
