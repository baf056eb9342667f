//! `ownwords quotations`: the account of all quotations.

use std::io::{self, Write};
use std::path::PathBuf;
use std::sync::Arc;

use clap::{Args, ValueEnum};

use super::args::{JobsArgs, OutArgs, When};
use super::output::{Form, Output};
use super::progress::Progress;
use super::{Failure, Outcome, look};
use crate::findings::session::Session;
use crate::reading::Disk;
use crate::report::harmless;
use crate::report::quotations::{json, spreadsheet, terminal};
use crate::review::{Options, Review};

/// Account for every quotation: its source, exact or not, its uses
#[derive(Debug, Args)]
#[command(after_help = "\
For example, from inside the review folder:
  ownwords quotations                        the notes and all of drafts/
  ownwords quotations drafts/chapter.md      the notes and one draft
  ownwords quotations --quiet                a line for each to be mended
  ownwords quotations --format csv --out quotations.csv

For each quotation: its source, the page cited and the page found, whether its
words are exact, and where it is used. Then what was noted and never used, used
twice, or used without a note; and the share of quoted words by chapter and
section. In the CSV a text that a spreadsheet would take for a formula begins
with an apostrophe.

Exit status: 0 nothing to mend, 1 a quotation is to be mended (its words, its
page or its citation), 2 the job, or a part of it, could not be done.")]
pub(super) struct QuotationsArgs {
    /// The drafts [default: all files of the folder drafts/ in the review, if there is one]
    #[arg(value_name = "DRAFT")]
    drafts: Vec<PathBuf>,
    /// The review folder [default: the nearest folder upward with ownwords.toml, from here or else
    /// from the first draft]
    #[arg(long, value_name = "DIR")]
    review: Option<PathBuf>,
    /// The form of the account
    #[arg(long, value_enum, default_value_t)]
    format: AccountFormat,
    #[command(flatten)]
    out: OutArgs,
    /// Only one line for each quotation to be mended, and no progress
    #[arg(short, long)]
    quiet: bool,
    /// Print long quotations in full instead of cutting them
    #[arg(long)]
    whole: bool,
    #[command(flatten)]
    jobs: JobsArgs,
}

/// The form of the account.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
enum AccountFormat {
    /// For reading, here
    #[default]
    Terminal,
    /// For programs; `ownwords explain schema-quotations` prints the contract
    Json,
    /// For spreadsheets: comma-separated, a line for each quotation
    Csv,
}

pub(super) fn run(args: &QuotationsArgs, colour: When) -> Result<Outcome, Failure> {
    args.jobs.apply()?;
    let progress = Progress::new(args.quiet);
    progress.stage("reading the review");
    let root = match &args.review {
        Some(root) => root.clone(),
        None => Review::find_for(&args.drafts)?,
    };
    let disk = Arc::new(Disk::new());
    let session = Session::new(Review::open_from(disk.clone(), &root, &Options::default())?);
    let review = &session.review;
    let found = review.drafts().filter(|_| args.drafts.is_empty());
    let (drafts_from, drafts, left_out) = match found {
        Some(found) => (Some(found.folder), found.files, found.left_out),
        None => (None, args.drafts.clone(), Vec::new()),
    };
    drafts.iter().for_each(|path| disk.keep(path));
    let form = match args.format {
        AccountFormat::Json => Form::Json,
        AccountFormat::Csv => Form::Csv,
        AccountFormat::Terminal => Form::Text,
    };
    let output = Output::open(&args.out, form, &disk, Some(review))?;
    progress.stage("looking up quotations");
    let mut account = session.quotations(&drafts)?;
    account.drafts_from = drafts_from;
    account.left_out.extend(left_out);
    drop(progress);
    output.write(|mut out| match args.format {
        AccountFormat::Json => json::write(&account, &mut out),
        AccountFormat::Csv => spreadsheet::write(&account, &mut out),
        AccountFormat::Terminal if args.quiet => terminal::write_short(&account, &mut out),
        AccountFormat::Terminal => {
            let look = look::look(colour, &args.out).in_whole(args.whole);
            terminal::write(&account, &look, &mut out)
        }
    })?;
    for why in &account.unread {
        // Where the standard error is closed, nobody is there to read it.
        let _ = writeln!(io::stderr(), "ownwords: {}", harmless(why));
    }
    Ok(if !account.unread.is_empty() {
        Outcome::InPart
    } else if account.has_open() {
        Outcome::Open
    } else {
        Outcome::Clear
    })
}
