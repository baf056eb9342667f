//! `ownwords place`: rewrites of one passage on the scale.

use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::Args;

use super::args::{JobsArgs, OutArgs, PlaceFormat, When};
use super::output::{Form, Output};
use super::text::limits_around;
use super::{Failure, Outcome, look, pairs};
use crate::findings::likeliest_source::MOST_WORDS;
use crate::findings::placing::{NamedText, PlaceReport, PlacedRewrite};
use crate::findings::session::Session;
use crate::paths::portable;
use crate::reading::{self, Disk};
use crate::report::place;
use crate::report::{handout, harmless};
use crate::review::{Options, Review, Settings};
use crate::text::MarkedText;

/// Put rewrites on the scale, or find their source in a review
#[derive(Debug, Args)]
// That something to set rewrites against has to be named is asked for in `run`, with an example for each way.
#[command(
    override_usage = "\
ownwords place [OPTIONS] --source FILE REWRITE...
       ownwords place [OPTIONS] --review DIR REWRITE...
       ownwords place [OPTIONS] [--review DIR] --pairs FILE",
    after_help = "\
For example, one passage and three rewrites, with everything that is counted:
  ownwords place --source passage.txt anna.txt ben.txt cleo.txt

For a class: a page to project and to print, and the sheet to work on before:
  ownwords place --source passage.txt anna.txt ben.txt \\
    --format page --out handout.html
  ownwords place --source passage.txt anna.txt ben.txt \\
    --format page --hide-answers --out exercise.html
Both sheets call the rewrites A, B, C in the order named here.

Many pairs at once, one JSON object a line, - for the standard input:
  echo '{\"id\": 1, \"source\": \"Lamps hold moths.\", \"rewrite\": \"Moths stay.\"}' |
    ownwords place --pairs -

Where in my sources does a sentence come from, if anywhere:
  ownwords place --review my-review sentence.txt

A rewrite that can't be read is reported, and so is a line of pairs that can't
be used; the others are placed all the same, and the exit status is 2."
)]
pub(super) struct PlaceArgs {
    /// The passage that was rewritten
    #[arg(long, value_name = "FILE")]
    source: Option<PathBuf>,
    /// The folder of a review: find the passage that each rewrite most likely comes from among its sources
    #[arg(long, value_name = "DIR", conflicts_with = "source")]
    review: Option<PathBuf>,
    /// The rewrites
    #[arg(value_name = "REWRITE", required_unless_present = "pairs")]
    rewrites: Vec<PathBuf>,
    /// Lines {"id", "source", "rewrite"}; prints lines {"id", "degree", "position", "measures"}. With --review, lines
    /// {"id", "rewrite"}; prints "sureness" and "origin" too
    #[arg(long, value_name = "FILE", conflicts_with_all = ["source", "rewrites"])]
    pairs: Option<PathBuf>,
    /// Print long wordings in full instead of cutting them
    #[arg(long)]
    whole: bool,
    /// The form of the report [default: terminal; json with --pairs]
    #[arg(long, value_enum)]
    format: Option<PlaceFormat>,
    /// With --format page: the sheet to work on, with an empty scale and without degrees and measures
    #[arg(long)]
    hide_answers: bool,
    #[command(flatten)]
    out: OutArgs,
    #[command(flatten)]
    jobs: JobsArgs,
}

pub(super) fn run(args: &PlaceArgs, colour: When) -> Result<Outcome, Failure> {
    args.jobs.apply()?;
    let format = args.format.unwrap_or_default();
    if args.hide_answers && format != PlaceFormat::Page {
        return Err(Failure::OnlyOnPage {
            option: "--hide-answers",
        });
    }
    if format == PlaceFormat::Page {
        if args.pairs.is_some() {
            return Err(Failure::NoPageOfPairs);
        }
        args.out.for_page()?;
    }
    if let Some(path) = &args.pairs {
        return pairs::run(path, args.review.as_deref(), &args.out);
    }
    if let Some(root) = &args.review {
        if format == PlaceFormat::Page {
            return Err(Failure::NoPageOfOrigins);
        }
        return origins(args, root, format, colour);
    }
    let source = args.source.as_deref().ok_or(Failure::NothingToSetAgainst)?;
    let disk = Arc::new(Disk::new());
    let named = args.rewrites.iter().map(PathBuf::as_path).chain([source]);
    named.for_each(|path| disk.keep(path));
    let output = Output::open(&args.out, form(format), &disk, None)?;
    let (report, unread) = place_files(&disk, source, &args.rewrites)?;
    output.write(|mut out| match format {
        PlaceFormat::Json => place::write_json(&report, &mut out),
        PlaceFormat::Page if args.hide_answers => {
            handout::write(&report, handout::Sheet::Exercise, &mut out)
        }
        PlaceFormat::Page => handout::write(&report, handout::Sheet::Answers, &mut out),
        PlaceFormat::Terminal => {
            let look = look::look(colour, &args.out).in_whole(args.whole);
            place::write(&report, &look, &mut out)
        }
    })?;
    Ok(outcome(&unread))
}

/// The form of what is written.
fn form(format: PlaceFormat) -> Form {
    match format {
        PlaceFormat::Terminal => Form::Text,
        PlaceFormat::Page => Form::Page,
        PlaceFormat::Json => Form::Json,
    }
}

/// Reports the rewrites that were left out.
fn outcome(unread: &[Failure]) -> Outcome {
    for why in unread {
        // Where the standard error is closed, nobody is there to read it.
        let _ = writeln!(io::stderr(), "ownwords: {}", harmless(&why.to_string()));
    }
    if unread.is_empty() {
        Outcome::Clear
    } else {
        Outcome::InPart
    }
}

/// What each of the rewrites gives, and why some give nothing. Where none gives anything there is nothing to write.
fn each<T>(
    rewrites: &[PathBuf],
    what: impl Fn(&Path) -> Result<T, Failure>,
) -> Result<(Vec<T>, Vec<Failure>), Failure> {
    let mut given = Vec::with_capacity(rewrites.len());
    let mut unread = Vec::new();
    for path in rewrites {
        match what(path) {
            Ok(one) => given.push(one),
            Err(why) => unread.push(why),
        }
    }
    match unread.pop() {
        Some(last) if given.is_empty() => {
            outcome(&unread);
            Err(last)
        }
        last => {
            unread.extend(last);
            Ok((given, unread))
        }
    }
}

/// Rewrites whose source is looked for in a review.
fn origins(
    args: &PlaceArgs,
    root: &Path,
    format: PlaceFormat,
    colour: When,
) -> Result<Outcome, Failure> {
    let disk = Arc::new(Disk::new());
    let session = Session::new(Review::open_from(disk.clone(), root, &Options::default())?);
    let review = &session.review;
    args.rewrites.iter().for_each(|path| disk.keep(path));
    let output = Output::open(&args.out, form(format), &disk, Some(review))?;
    let (read, unread) = each(&args.rewrites, |path| {
        let file = review.read(path)?;
        let text = MarkedText::new(file.text);
        if text.words.is_empty() {
            return Err(Failure::NoWords {
                path: path.to_owned(),
            });
        }
        let words = text.words.len();
        if words > MOST_WORDS {
            return Err(Failure::TooLongToTrace {
                path: path.to_owned(),
                words,
                most: MOST_WORDS,
            });
        }
        Ok(NamedText {
            name: portable(path),
            text: Arc::new(text),
        })
    })?;
    let traced = session.trace(read);
    output.write(|mut out| match format {
        PlaceFormat::Json => place::write_traced_json(&traced, &mut out),
        PlaceFormat::Terminal | PlaceFormat::Page => {
            let look = look::look(colour, &args.out).in_whole(args.whole);
            place::write_traced(&traced, &look, &mut out)
        }
    })?;
    Ok(outcome(&unread))
}

/// The rewrites on the scale, and why some are not.
fn place_files(
    disk: &Disk,
    source: &Path,
    rewrites: &[PathBuf],
) -> Result<(PlaceReport, Vec<Failure>), Failure> {
    let settings = Settings::default();
    let read = |path: &Path, mark: fn(crate::text::Text) -> MarkedText| {
        let file = reading::read(disk, path, &limits_around(disk, path))?;
        let text = mark(file.text);
        if text.words.is_empty() {
            return Err(Failure::NoWords {
                path: path.to_owned(),
            });
        }
        Ok(NamedText {
            name: portable(path),
            text: Arc::new(text),
        })
    };
    let source = read(source, MarkedText::source)?;
    let (rewrites, unread) = each(rewrites, |path| {
        let rewrite = read(path, MarkedText::new)?;
        Ok(PlacedRewrite::new(&source.text, rewrite, &settings))
    })?;
    Ok((PlaceReport { source, rewrites }, unread))
}

#[cfg(test)]
mod tests {
    #[test]
    fn a_file_without_words_is_named() {
        let folder = tempfile::tempdir().unwrap();
        let write = |name: &str, content: &str| {
            let path = folder.path().join(name);
            std::fs::write(&path, content).unwrap();
            path.display().to_string()
        };
        let (empty, full) = (write("empty.txt", " ...\n"), write("full.txt", "Moths."));
        for (source, rewrite) in [(&empty, &full), (&full, &empty)] {
            let typed = ["ownwords", "place", "--source", source, rewrite];
            let arguments = <crate::commands::Arguments as clap::Parser>::parse_from(typed);
            let said = crate::commands::run(&arguments).unwrap_err().to_string();
            assert!(
                said.starts_with(&format!("{empty}: holds no words")),
                "{said}"
            );
        }
    }
}
