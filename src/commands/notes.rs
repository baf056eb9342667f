//! `ownwords notes`: the entries themselves, each against its source.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::Args;

use super::args::{Format, JobsArgs, OutArgs, SettingsArgs, When};
use super::output::{Form, Output};
use super::progress::Progress;
use super::{Failure, Outcome, look};
use crate::findings::session::Session;
use crate::reading::Disk;
use crate::report::{json, terminal};
use crate::review::Review;

/// Check the entries of the notes against their sources
#[derive(Debug, Args)]
#[command(after_help = "\
For example, from inside the review folder:
  ownwords notes                            every entry; one line if clean
  ownwords notes --entry harrow2019         one entry, right after it is written
  ownwords notes --quiet                    a line for each finding
  ownwords notes --format json --out notes.json

and from anywhere else:
  ownwords notes --review ~/lamps

Exit status: 0 nothing open, 1 open findings, 2 the job could not be done.")]
pub(super) struct NotesArgs {
    /// Only the entry (or entries) with this reference key
    #[arg(long, value_name = "KEY")]
    entry: Option<String>,
    /// The review folder [default: the nearest folder upward with ownwords.toml]
    #[arg(long, value_name = "DIR")]
    review: Option<PathBuf>,
    /// The form of the report
    #[arg(long, value_enum, default_value_t)]
    format: Format,
    #[command(flatten)]
    out: OutArgs,
    /// Only one line for each finding, and no progress
    #[arg(short, long)]
    quiet: bool,
    /// Also list shared wording that is no finding: stock phrases, titles, names, your own terms
    #[arg(long)]
    show_explained: bool,
    /// Print long wordings in full instead of cutting them
    #[arg(long)]
    whole: bool,
    #[command(flatten)]
    settings: SettingsArgs,
    #[command(flatten)]
    jobs: JobsArgs,
}

pub(super) fn run(args: &NotesArgs, colour: When) -> Result<Outcome, Failure> {
    args.jobs.apply()?;
    let progress = Progress::new(args.quiet);
    progress.stage("reading the review");
    let disk = Arc::new(Disk::new());
    let session = Session::new(open_review(args, &disk)?);
    let form = match args.format {
        Format::Json => Form::Json,
        Format::Terminal => Form::Text,
    };
    let output = Output::open(&args.out, form, &disk, Some(&session.review))?;
    progress.stage("comparing");
    let report = session.check_notes(args.entry.as_deref())?;
    drop(progress);
    output.write(|mut out| match args.format {
        Format::Json => json::notes::write(&report, &mut out),
        Format::Terminal if args.quiet => terminal::write_notes_short(&report, &mut out),
        Format::Terminal => {
            let look = look::look(colour, &args.out).in_whole(args.whole);
            terminal::write_notes(&report, &look, args.show_explained, &mut out)
        }
    })?;
    Ok(if report.has_open() {
        Outcome::Open
    } else {
        Outcome::Clear
    })
}

fn open_review(args: &NotesArgs, disk: &Arc<Disk>) -> Result<Review, Failure> {
    let root = match &args.review {
        Some(root) => root.clone(),
        None => Review::find(Path::new("."))?,
    };
    let options = args.settings.options();
    Ok(Review::open_from(disk.clone(), &root, &options)?)
}
