//! `ownwords check`: the main job.

use std::io::{self, Write};
use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};

use clap::Args;

use super::args::{CheckFormat, JobsArgs, OutArgs, When};
use super::output::Output;
use super::progress::Progress;
use super::{Failure, Outcome, look};
use crate::findings::CheckReport;
use crate::report::{DraftFiles, harmless, json, lines, markdown, page, sarif, terminal};
use crate::review::{Options, Review, ReviewError, Settings};

/// Check drafts against the sources and notes of a review
#[derive(Debug, Args)]
#[command(after_help = "\
For example, from inside the review folder:
  ownwords check drafts/chapter.md          every finding, with both wordings
  ownwords check drafts/*.md --quiet        a line for each finding
  ownwords check drafts/chapter.md --whole  long wordings in full
  ownwords check drafts/chapter.md --format page --out report.html
  ownwords check drafts/chapter.md --format markdown   for a message
  ownwords check drafts/chapter.md --format lines      for an editor
  ownwords check drafts/chapter.md --format json --out report.json

and from anywhere else:
  ownwords check --review ~/lamps ~/texts/chapter.md

A draft that can't be read is told, and the others are checked all the same.
Exit status: 0 nothing open, 1 open findings, 2 (part of) the job could not be done.")]
pub(super) struct CheckArgs {
    /// The drafts
    #[arg(required = true, value_name = "DRAFT")]
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
    /// Print long wordings in full instead of cutting them
    #[arg(long)]
    whole: bool,
    /// Words in a row that count as a copy when unmarked, for this run
    #[arg(long, value_name = "N")]
    run_words: Option<NonZeroUsize>,
    #[command(flatten)]
    jobs: JobsArgs,
}

pub(super) fn run(args: &CheckArgs, colour: When) -> Result<Outcome, Failure> {
    args.jobs.apply()?;
    if args.format == CheckFormat::Page {
        args.out.for_page()?;
    }
    let progress = Progress::new(args.quiet);
    progress.stage("reading the review");
    let review = open_review(args)?;
    let output = Output::open(
        &args.out,
        files_of(&args.drafts, &review).iter().map(PathBuf::as_path),
    )?;
    progress.stage("comparing");
    let report = crate::check(&review, &args.drafts)?;
    drop(progress);
    output.write(|mut out| match args.format {
        CheckFormat::Json => json::write(&report, &mut out),
        CheckFormat::Page => page::write(&report, &mut out),
        CheckFormat::Markdown => markdown::write(&report, &mut out),
        CheckFormat::Lines => lines::write(&report, &files_for_editors(&report), &mut out),
        CheckFormat::Sarif => sarif::write(&report, &files_for_editors(&report), &mut out),
        CheckFormat::Terminal if args.quiet => terminal::write_short(&report, &mut out),
        CheckFormat::Terminal => {
            let look = look::look(colour, &args.out).in_whole(args.whole);
            terminal::write(&report, &look, args.show_explained, &mut out)
        }
    })?;
    for why in &report.unread {
        // Where the standard error is closed nobody is there to be told.
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

/// The drafts as their files have them, in which editors count lines. One that can't be read a second time
/// is told by its text.
fn files_for_editors(report: &CheckReport) -> DraftFiles {
    let paths = report.drafts.iter().map(|draft| &draft.path);
    paths
        .filter_map(|path| Some((path.clone(), std::fs::read(path).ok()?)))
        .collect()
}

fn open_review(args: &CheckArgs) -> Result<Review, Failure> {
    let root = match &args.review {
        Some(root) => root.clone(),
        None => nearest_review(&args.drafts)?,
    };
    let mut review = Review::open(&root)?;
    if let Some(words) = args.run_words {
        let wish = Options {
            run_words: Some(words.get()),
            ..Options::default()
        };
        // Through the settings' own check, so that the range holds here too.
        review.settings.run_words = Settings::of(wish)?.run_words;
    }
    Ok(review)
}

/// The review around the current folder, or else around the first draft.
pub(super) fn nearest_review(drafts: &[PathBuf]) -> Result<PathBuf, ReviewError> {
    let here = Review::find(Path::new("."));
    if here.is_ok() {
        return here;
    }
    let folder = drafts.first().and_then(|draft| draft.parent());
    match folder {
        Some(folder) if !folder.as_os_str().is_empty() => Review::find(folder).or(here),
        _ => here,
    }
}

/// Every file that this run reads, so that the output replaces none of them.
pub(super) fn files_of(drafts: &[PathBuf], review: &Review) -> Vec<PathBuf> {
    let mut all = drafts.to_vec();
    all.extend(files_of_review(review));
    all
}

/// Every file of a review that is only read.
pub(super) fn files_of_review(review: &Review) -> Vec<PathBuf> {
    let root = &review.root;
    let sources = review.sources.iter().map(|source| root.join(&source.path));
    let notes = review.note_files.iter().map(|file| root.join(&file.path));
    let references = review
        .settings
        .references
        .iter()
        .map(|path| root.join(path));
    let settings = [root.join("ownwords.toml"), root.join("decisions.toml")];
    let usual = ["bib", "json", "ris"].map(|ending| root.join(format!("references.{ending}")));
    let all = sources.chain(notes).chain(references);
    all.chain(settings).chain(usual).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review;

    #[test]
    fn a_draft_that_cannot_be_read_is_told_and_the_others_are_checked() {
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path().join("review");
        review::start(&root).unwrap();
        let missing = root.join("drafts/missing.md");
        let drafts = [root.join("drafts/example.md"), missing.clone()];
        let report = crate::check(&Review::open(&root).unwrap(), &drafts).unwrap();
        assert_eq!(report.drafts.len(), 1);
        assert!(report.has_open());
        let path = missing.display().to_string();
        assert_eq!(report.unread.len(), 1);
        assert!(report.unread[0].starts_with(&path), "{:?}", report.unread);
        let told = report.left_out.iter().find(|left| left.what == path);
        let why = &told.unwrap().why;
        assert!(!why.contains(&path), "the path is told twice: {why}");
        let arguments = ["ownwords", "check", "--quiet", "--out"].map(str::to_owned);
        let out = folder.path().join("report.txt").display().to_string();
        let drafts = drafts.iter().map(|draft| draft.display().to_string());
        let typed = arguments.into_iter().chain([out.clone()]).chain(drafts);
        let arguments = <crate::commands::Arguments as clap::Parser>::parse_from(typed);
        assert_eq!(crate::commands::run(&arguments).unwrap(), Outcome::InPart);
        assert!(!std::fs::read_to_string(out).unwrap().is_empty());
    }
}
