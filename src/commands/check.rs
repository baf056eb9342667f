//! `ownwords check`: the main job.

use std::io::{self, Write};
use std::path::PathBuf;
use std::sync::Arc;

use clap::Args;

use super::args::{CheckFormat, JobsArgs, OutArgs, SettingsArgs, When};
use super::output::{Form, Output};
use super::progress::Progress;
use super::{Failure, Outcome, look, margin};
use crate::findings::session::Session;
use crate::findings::versions::Versions;
use crate::reading::{Disk, Format};
use crate::report::terminal::Shown;
use crate::report::{harmless, json, lines, markdown, page, sarif, spreadsheet, terminal};
use crate::review::Review;

/// Check drafts against the sources and notes of a review
#[derive(Debug, Args)]
#[command(after_help = "\
For example, from inside the review folder:
  ownwords check drafts/chapter.md          every finding, with both wordings
  ownwords check drafts/*.md --quiet        a line for each finding
  ownwords check drafts/chapter.md --whole  long wordings in full
  ownwords check                            all chapters in drafts/, in order
  ownwords check drafts --since handed-in   what was mended, stayed, is new
  ownwords check drafts/chapter.md --format page --out report.html
  ownwords check drafts/chapter.md --format markdown   for a message
  ownwords check drafts/chapter.md --format lines      for an editor
  ownwords check drafts --format csv --out findings.csv
  ownwords check drafts/chapter.docx --format margin --out commented.docx
  ownwords check drafts/chapter.md --format json --out report.json

and from anywhere else:
  ownwords check --review ~/lamps ~/texts/chapter.md

A draft that can't be read is reported, and the others are checked all the same.
Exit status: 0 nothing open, 1 open findings, 2 the job, or a part of it, could
not be done.")]
pub(super) struct CheckArgs {
    /// The drafts; a folder stands for the readable files in it, in order of their names [default: the
    /// review's folder drafts/]
    #[arg(value_name = "DRAFT")]
    drafts: Vec<PathBuf>,
    /// The review folder [default: the nearest folder upward with ownwords.toml, from here or else
    /// from the first draft]
    #[arg(long, value_name = "DIR")]
    review: Option<PathBuf>,
    /// The form of the report
    #[arg(long, value_enum, default_value_t)]
    format: CheckFormat,
    #[command(flatten)]
    out: OutArgs,
    /// Only one line for each finding, and no progress
    #[arg(short, long)]
    quiet: bool,
    /// Also list shared wording that is no finding: stock phrases, titles, names, your own terms
    #[arg(long)]
    show_explained: bool,
    /// Also list the findings that were settled, with the reasons
    #[arg(long)]
    show_settled: bool,
    /// Say what was mended, is still there and is new since an earlier version of the draft, or since
    /// those of the same names in a folder
    #[arg(long, value_name = "OLD")]
    since: Option<PathBuf>,
    /// Print long wordings in full instead of cutting them
    #[arg(long)]
    whole: bool,
    /// Also report your own words that stand in an earlier draft too: 12 in a row or more, or as many as
    /// repeated_words says
    #[arg(long)]
    repeats: bool,
    #[command(flatten)]
    settings: SettingsArgs,
    #[command(flatten)]
    jobs: JobsArgs,
}

/// Words in a row that `--repeats` reports where the settings say nothing.
const USUAL_REPEATS: usize = 12;

pub(super) fn run(args: &CheckArgs, colour: When) -> Result<Outcome, Failure> {
    args.jobs.apply()?;
    if args.format == CheckFormat::Page {
        args.out.for_page()?;
    }
    if args.format == CheckFormat::Margin {
        margin::can_be_asked(&args.drafts, &args.out)?;
    }
    let progress = Progress::new(args.quiet);
    progress.stage("reading the review");
    let disk = Arc::new(Disk::new());
    let session = Session::new(open_review(args, &disk)?);
    let review = &session.review;
    let limits = &review.settings.limits;
    let named = match args.drafts.as_slice() {
        [] => vec![from_here(review.drafts_folder()?)],
        named => named.to_vec(),
    };
    let drafts = review.named_drafts(&named)?;
    let versions = match &args.since {
        Some(old) => Some(Versions::find(review, &drafts.files, old)?),
        None => None,
    };
    let earlier = versions.iter().flat_map(Versions::earlier);
    drafts
        .files
        .iter()
        .chain(earlier)
        .for_each(|path| disk.keep(path));
    let output = Output::open(&args.out, form(args), &disk, Some(review))?;
    progress.stage("comparing");
    let mut report = match args.format {
        CheckFormat::Margin => session.check_for_copies(&drafts.files)?,
        _ => session.check(&drafts.files)?,
    };
    report.left_out.extend(drafts.left_out);
    if let Some(versions) = &versions {
        session.compare_versions(&mut report, versions)?;
    }
    drop(progress);
    let commented = match args.format {
        CheckFormat::Margin => margin::comment(&report, limits)?,
        _ => Vec::new(),
    };
    output.write(|mut out| match args.format {
        CheckFormat::Margin => margin::write(&commented, &mut out),
        CheckFormat::Json => json::write(&report, &mut out),
        CheckFormat::Page => page::write(&report, &mut out),
        CheckFormat::Markdown => markdown::write(&report, &mut out),
        CheckFormat::Csv => spreadsheet::write(&report, &mut out),
        CheckFormat::Lines => lines::write(&report, &mut out),
        CheckFormat::Sarif => sarif::write(&report, &mut out),
        CheckFormat::Terminal if args.quiet => terminal::write_short(&report, &mut out),
        CheckFormat::Terminal => {
            let look = look::look(colour, &args.out).in_whole(args.whole);
            let shown = Shown {
                explained: args.show_explained,
                settled: args.show_settled,
            };
            terminal::write(&report, &look, shown, &mut out)
        }
    })?;
    for why in &report.unread {
        // Where the standard error is closed, nobody is there to read it.
        let _ = writeln!(io::stderr(), "ownwords: {}", harmless(why));
    }
    Ok(if !report.unread.is_empty() {
        Outcome::InPart
    } else if report.has_open() {
        Outcome::Open
    } else {
        Outcome::Clear
    })
}

/// A path without the current folder, so that reports name it shortly.
fn from_here(path: PathBuf) -> PathBuf {
    let here = std::env::current_dir();
    let within = here.ok().and_then(|here| {
        let within = path.strip_prefix(here).ok()?;
        Some(within.to_owned())
    });
    within
        .filter(|within| !within.as_os_str().is_empty())
        .unwrap_or(path)
}

/// The form of what is written.
fn form(args: &CheckArgs) -> Form {
    match args.format {
        CheckFormat::Terminal => Form::Text,
        CheckFormat::Csv => Form::Csv,
        CheckFormat::Lines => Form::Lines,
        CheckFormat::Page => Form::Page,
        CheckFormat::Markdown => Form::Markdown,
        CheckFormat::Sarif => Form::Sarif,
        CheckFormat::Json => Form::Json,
        // One draft, of one of two formats: that was asked for before.
        CheckFormat::Margin => match args.drafts.first().map(|draft| Format::of(draft)) {
            Some(Ok(Format::Odt)) => Form::Odt,
            _ => Form::Docx,
        },
    }
}

fn open_review(args: &CheckArgs, disk: &Arc<Disk>) -> Result<Review, Failure> {
    let root = match &args.review {
        Some(root) => root.clone(),
        None => Review::find_for(&args.drafts)?,
    };
    let mut review = Review::open_from(disk.clone(), &root, &args.settings.options())?;
    if args.repeats {
        let words = &mut review.settings.repeated_words;
        words.get_or_insert(USUAL_REPEATS);
    }
    Ok(review)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review;

    #[test]
    fn a_draft_that_cannot_be_read_is_reported_and_the_others_are_checked() {
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path().join("review");
        review::start(&root).unwrap();
        let missing = root.join("drafts/missing.md");
        let drafts = [root.join("drafts/example.md"), missing.clone()];
        let report = Session::open(&root).unwrap().check(&drafts).unwrap();
        assert_eq!(report.drafts.len(), 1);
        assert!(report.has_open());
        let path = missing.display().to_string();
        assert_eq!(report.unread.len(), 1);
        assert!(report.unread[0].starts_with(&path), "{:?}", report.unread);
        let reported = report.left_out.iter().find(|left| left.what == path);
        let why = reported.unwrap().why.to_string();
        assert!(!why.contains(&path), "the path is named twice: {why}");
        let arguments = ["ownwords", "check", "--quiet", "--out"].map(str::to_owned);
        let out = folder.path().join("report.txt").display().to_string();
        let drafts = drafts.iter().map(|draft| draft.display().to_string());
        let typed = arguments.into_iter().chain([out.clone()]).chain(drafts);
        let arguments = <crate::commands::Arguments as clap::Parser>::parse_from(typed);
        assert_eq!(crate::commands::run(&arguments).unwrap(), Outcome::InPart);
        assert!(!std::fs::read_to_string(out).unwrap().is_empty());
    }
}
