//! `ownwords settle`: decisions on findings, and the shared list of fixed expressions.

use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::Args;

use super::args::{Format, JobsArgs, OutArgs, When};
use super::output::{Form, Output};
use super::{Failure, Outcome, day, look, signals};
use crate::findings::decision_list::DecisionList;
use crate::findings::making_decisions::{self, Candidates, DecidingError};
use crate::findings::session::Session;
use crate::reading::{Disk, Limits};
use crate::report::{decisions, harmless};
use crate::review::{
    self, Decision, Decisions, Expression, NamedDraftsError, Options, Review, TERMS_FILE, TermError,
};

/// Why nothing was settled.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum SettleError {
    /// No reason, or one of blanks.
    #[error(
        "--because: the reason is empty; say in a few words why this may stand, so that you still know next year"
    )]
    NoReason,
    /// There is no draft to look at.
    #[error("{}: no drafts were found here to look for findings in; name the draft with --in FILE", folder.display())]
    NoDrafts {
        /// The folder of drafts.
        folder: PathBuf,
    },
    /// What was typed is no fixed expression.
    #[error(transparent)]
    Term(#[from] TermError),
}

/// Record decisions on findings, so that they are not shown again
#[derive(Debug, Args)]
#[command(after_help = "\
For example, with the ID that stands at a finding (its beginning will do):
  ownwords settle uc-3f9a1c07 --because \"the definition as the law words it\"
  ownwords settle uc-3f9a cp-77 --because \"agreed with my supervisor\"
  ownwords settle --list                    what was settled, and does it hold?
  ownwords settle --undo uc-3f9a            open again
  ownwords settle --term \"trap night\"       a fixed expression, never a copy

The drafts looked at are those in the review's folder drafts; name others with
--in. Decisions go to decisions.toml, one block each, for people to read and for
version control to merge; expressions go to terms.txt. A decision holds as long
as the passage keeps its words, wherever it stands; once they change, the report
says so.")]
pub(super) struct SettleArgs {
    /// IDs of findings, or their unmistakable beginnings
    #[arg(value_name = "ID", required_unless_present_any = ["list", "terms"])]
    ids: Vec<String>,
    /// The reason, for yourself and for those who read the review with you
    #[arg(long, value_name = "TEXT", required_unless_present_any = ["list", "undo", "terms"])]
    because: Option<String>,
    /// Take decisions back
    #[arg(long, requires = "ids", conflicts_with_all = ["because", "list", "terms"])]
    undo: bool,
    /// List the decisions, and whether they still hold
    #[arg(long, conflicts_with_all = ["ids", "because", "terms"])]
    list: bool,
    /// Add a fixed expression of the field to the review's list
    #[arg(long = "term", value_name = "EXPRESSION", conflicts_with_all = ["ids", "because"])]
    terms: Vec<String>,
    /// A draft, or a folder of drafts, to look for the findings in [default: the review's drafts]
    #[arg(long = "in", value_name = "DRAFT")]
    drafts: Vec<PathBuf>,
    /// The review folder [default: the nearest folder upward with ownwords.toml]
    #[arg(long, value_name = "DIR")]
    review: Option<PathBuf>,
    /// The form of the list
    #[arg(long, value_enum, default_value_t, requires = "list")]
    format: Format,
    #[command(flatten)]
    out: OutArgs,
    /// The day of the decision instead of today (universal time)
    #[arg(long, value_name = "DAY", value_parser = day::parse, hide = true)]
    on: Option<String>,
    #[command(flatten)]
    jobs: JobsArgs,
}

pub(super) fn run(args: &SettleArgs, colour: When) -> Result<Outcome, Failure> {
    args.jobs.apply()?;
    signals::heed();
    let root = match &args.review {
        Some(root) => root.clone(),
        None => Review::find(Path::new("."))?,
    };
    if !args.terms.is_empty() {
        return add_terms(&root, &args.terms);
    }
    if args.undo {
        return undo(&root, &args.ids);
    }
    // A file that is not understood is refused before any work is done.
    let disk = Arc::new(Disk::new());
    let limit_mb = Limits::default().file_mb;
    Decisions::open(&*disk, &root, limit_mb).map_err(DecidingError::from)?;
    let session = Session::new(Review::open_from(disk.clone(), &root, &Options::default())?);
    let review = &session.review;
    let named = drafts_of(args, review)?;
    let drafts = review.named_drafts(&named)?;
    let report = session.check(&drafts.files)?;
    // A review without notes has none to settle.
    let notes = session.check_notes(None).ok();
    if args.list {
        let list = DecisionList::of(review, &report, notes.as_ref());
        return write_list(args, &list, &disk, review, colour);
    }
    let candidates = Candidates::of(review, &report, notes.as_ref());
    settle(args, review, &candidates)
}

/// The drafts that were named, else those in the review's usual folder.
fn drafts_of(args: &SettleArgs, review: &Review) -> Result<Vec<PathBuf>, Failure> {
    if !args.drafts.is_empty() {
        return Ok(args.drafts.clone());
    }
    match review.drafts_folder() {
        Ok(folder) => Ok(vec![folder]),
        Err(NamedDraftsError::NoDrafts { folder }) => Err(SettleError::NoDrafts { folder }.into()),
        Err(other) => Err(other.into()),
    }
}

fn settle(
    args: &SettleArgs,
    review: &Review,
    candidates: &Candidates<'_>,
) -> Result<Outcome, Failure> {
    let because = args.because.as_deref().unwrap_or_default().trim();
    if because.is_empty() {
        return Err(SettleError::NoReason.into());
    }
    let on = args.on.clone().unwrap_or_else(day::today);
    let chosen = candidates.choose(&args.ids)?;
    review::change(&review.root, |now| {
        let new = making_decisions::decisions_on(&chosen, (because, &on), now, &review.decisions)?;
        Ok::<_, DecidingError>((new, Vec::new()))
    })?;
    say(chosen
        .iter()
        .map(|candidate| format!("settled {}", candidate.shown())))
}

/// Takes decisions back.
fn undo(root: &Path, ids: &[String]) -> Result<Outcome, Failure> {
    let mut undone: Vec<Decision> = Vec::new();
    review::change(root, |there| {
        for typed in ids {
            let decision = making_decisions::decision_meant(typed, there)?;
            if !undone.contains(decision) {
                undone.push(decision.clone());
            }
        }
        let names = undone.iter().map(Decision::name).collect();
        Ok::<_, DecidingError>((Vec::new(), names))
    })?;
    let open = |Decision {
                    id, kind, draft, ..
                }: &Decision| { format!("open again: {id} ({kind}, {draft})") };
    say(undone.iter().map(open))
}

/// Puts fixed expressions on the review's shared list.
fn add_terms(root: &Path, typed: &[String]) -> Result<Outcome, Failure> {
    // By way of the settings, so that a folder that is no review is refused.
    review::Settings::open(&Disk::new(), root, &Options::default())?;
    let expressions = typed.iter().map(|term| Expression::new(term));
    let expressions: Vec<Expression> = expressions
        .collect::<Result<_, _>>()
        .map_err(SettleError::from)?;
    let terms: Vec<String> = expressions.iter().map(|term| term.words.clone()).collect();
    let added = review::add_terms(root, &terms).map_err(DecidingError::from)?;
    let outcome = say(terms.iter().map(|term| {
        let now = if added.contains(term) {
            "now"
        } else {
            "already"
        };
        format!("{TERMS_FILE} {now} holds: {term}")
    }))?;
    for Expression { words, .. } in expressions.iter().filter(|term| term.is_common) {
        let said = format!(
            "{words} is a common word. From now on it counts for nothing, so close wording around it may go unnoticed. If you meant a longer expression, delete this line in {TERMS_FILE} and add that one."
        );
        // Where the standard error is closed, nobody is there to read it.
        let _ = writeln!(io::stderr(), "ownwords: {}", harmless(&said));
    }
    Ok(outcome)
}

/// Writes the list of decisions.
fn write_list(
    args: &SettleArgs,
    list: &DecisionList,
    disk: &Arc<Disk>,
    review: &Review,
    colour: When,
) -> Result<Outcome, Failure> {
    let form = match args.format {
        Format::Json => Form::Json,
        Format::Terminal => Form::Text,
    };
    let output = Output::open(&args.out, form, disk, Some(review))?;
    output.write(|mut out| match args.format {
        Format::Json => decisions::write_json(list, &mut out),
        Format::Terminal => decisions::write(list, &look::look(colour, &args.out), &mut out),
    })?;
    Ok(Outcome::Clear)
}

/// What was done, a line each.
fn say(lines: impl Iterator<Item = String>) -> Result<Outcome, Failure> {
    let lines: Vec<String> = lines.collect();
    Output::standard().write(|out| {
        let mut lines = lines.iter();
        lines.try_for_each(|line| writeln!(out, "{}", harmless(line)))
    })?;
    Ok(Outcome::Clear)
}
