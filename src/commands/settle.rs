//! `ownwords settle`: decisions on findings, and the shared list of fixed expressions.

mod listing;
mod refusal;
mod terms;
mod undoing;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::Args;

use super::args::{Format, JobsArgs, OutArgs, When};
use super::output::Output;
use super::{Failure, Outcome, day, drafts};
use crate::findings::notes::NotesReport;
use crate::findings::session::Session;
use crate::findings::settling::decision_on;
use crate::findings::{CheckReport, Finding, id};
use crate::reading::{self, Disk, Limits};
use crate::report::harmless;
use crate::review::{self, Decision, Decisions, Options, Review};

pub use refusal::SettleError;
use refusal::near;

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
    let root = match &args.review {
        Some(root) => root.clone(),
        None => Review::find(Path::new("."))?,
    };
    if !args.terms.is_empty() {
        return terms::add(&root, &args.terms);
    }
    if args.undo {
        return undoing::undo(&root, &args.ids);
    }
    // A file that is not understood is refused before any work is done.
    let disk = Arc::new(Disk::new());
    let limit_mb = Limits::default().file_mb;
    Decisions::open(&*disk, &root, limit_mb).map_err(SettleError::from)?;
    let session = Session::new(Review::open_from(disk.clone(), &root, &Options::default())?);
    let review = &session.review;
    let named = drafts_of(args, review)?;
    let (drafts, _) = drafts::expand(&*disk, &named, &review.settings.limits)?;
    let report = session.check(&drafts)?;
    // A review without notes has none to settle.
    let notes = session.check_notes(None).ok();
    if args.list {
        let list = listing::made(review, &report, notes.as_ref());
        return listing::write(args, &list, &disk, review, colour);
    }
    settle(args, review, &candidates(review, &report, notes.as_ref()))
}

/// The drafts that were named, else those in the review's usual folder.
fn drafts_of(args: &SettleArgs, review: &Review) -> Result<Vec<PathBuf>, Failure> {
    if !args.drafts.is_empty() {
        return Ok(args.drafts.clone());
    }
    let folder = review.root.join("drafts");
    let found = reading::folder(&*review.files, &folder, &review.settings.limits);
    let any = found.is_ok_and(|found| !found.readable.is_empty());
    if any {
        Ok(vec![folder])
    } else {
        Err(SettleError::NoDrafts { folder }.into())
    }
}

/// A finding that can be settled, and its file as the review names it.
struct Candidate<'a> {
    file: String,
    finding: &'a Finding,
}

impl Candidate<'_> {
    /// `uc-1a2b3c4d (unmarked-copy, drafts/chapter.md:12)`.
    fn shown(&self) -> String {
        let Finding {
            id, kind, draft, ..
        } = self.finding;
        let (kind, line) = (kind.name(), draft.line);
        harmless(&format!("{id} ({kind}, {}:{line})", self.file)).into_owned()
    }
}

fn candidates<'a>(
    review: &Review,
    report: &'a CheckReport,
    notes: Option<&'a NotesReport>,
) -> Vec<Candidate<'a>> {
    let of_draft = report.drafts.iter().flat_map(|draft| {
        let file = review.name_of(&draft.path);
        draft.findings.iter().map(move |finding| Candidate {
            file: file.clone(),
            finding,
        })
    });
    let of_notes = notes
        .into_iter()
        .flat_map(|notes| &notes.entries)
        .flat_map(|entry| {
            let file = review.name_of(&review.root.join(&entry.path));
            entry.findings.iter().map(move |finding| Candidate {
                file: file.clone(),
                finding,
            })
        });
    of_draft.chain(of_notes).collect()
}

fn settle(
    args: &SettleArgs,
    review: &Review,
    candidates: &[Candidate<'_>],
) -> Result<Outcome, Failure> {
    let because = args.because.as_deref().unwrap_or_default().trim();
    if because.is_empty() {
        return Err(SettleError::NoReason.into());
    }
    let on = args.on.clone().unwrap_or_else(day::today);
    let mut chosen: Vec<&Candidate<'_>> = Vec::new();
    for typed in &args.ids {
        let candidate = choose(typed, candidates)?;
        if !chosen
            .iter()
            .any(|other| other.finding.id == candidate.finding.id)
        {
            chosen.push(candidate);
        }
    }
    review::change(&review.root, |there| {
        let mut new: Vec<Decision> = Vec::new();
        for candidate in &chosen {
            new.push(decision(
                candidate,
                because,
                &on,
                (there, &review.decisions),
                &new,
            )?);
        }
        Ok::<_, SettleError>((new, Vec::new()))
    })?;
    Output::standard().write(|out| {
        for candidate in &chosen {
            writeln!(out, "settled {}", candidate.shown())?;
        }
        Ok(())
    })?;
    Ok(Outcome::Clear)
}

/// The finding that is meant: its whole ID, or the beginning of just one.
fn choose<'c, 'a>(
    typed: &str,
    candidates: &'c [Candidate<'a>],
) -> Result<&'c Candidate<'a>, SettleError> {
    if let Some(exact) = candidates.iter().find(|c| c.finding.id == typed) {
        return Ok(exact);
    }
    let mut by_id: BTreeMap<&str, &Candidate<'_>> = BTreeMap::new();
    for candidate in candidates {
        by_id.entry(&candidate.finding.id).or_insert(candidate);
    }
    let begin: Vec<_> = by_id
        .iter()
        .filter(|(id, _)| !typed.is_empty() && id.starts_with(typed))
        .map(|(_, candidate)| *candidate)
        .collect();
    match begin.as_slice() {
        [only] => candidates
            .iter()
            .find(|c| c.finding.id == only.finding.id)
            .ok_or_else(|| unknown_finding(typed, candidates)),
        [] => Err(unknown_finding(typed, candidates)),
        several => Err(SettleError::Several {
            id: typed.to_owned(),
            among: several.iter().map(|candidate| candidate.shown()).collect(),
        }),
    }
}

fn unknown_finding(typed: &str, candidates: &[Candidate<'_>]) -> SettleError {
    let mut files: Vec<&str> = candidates.iter().map(|c| c.file.as_str()).collect();
    files.dedup();
    let place = if files.is_empty() {
        "the drafts".to_owned()
    } else {
        files.join(", ")
    };
    SettleError::Unknown {
        id: typed.to_owned(),
        what: format!(
            "no finding in {place} has this ID. `ownwords check` shows them; a passage gets a new ID when its words change, and a draft elsewhere is named with --in."
        ),
        near: near(typed, candidates.iter().map(|c| c.finding.id.as_str())),
    }
}

/// The decision to write for a finding. `there` are the decisions in the file now and when the drafts were
/// checked: one that came in between on the same passage is somebody else's on the same thing.
fn decision(
    candidate: &Candidate<'_>,
    because: &str,
    on: &str,
    (now, before): (&Decisions, &Decisions),
    new: &[Decision],
) -> Result<Decision, SettleError> {
    let finding = candidate.finding;
    let already = |on: &str, because: &str| SettleError::Already {
        id: finding.id.clone(),
        on: on.to_owned(),
        because: because.to_owned(),
    };
    if let Some(settled) = &finding.settled {
        return Err(already(&settled.on, &settled.because));
    }
    let id = id::without_count(&finding.id);
    let came_between = now.of(id).iter().find(|decision| {
        decision.place == finding.surroundings && !before.of(id).contains(decision)
    });
    if let Some(other) = came_between {
        return Err(already(&other.on, &other.because));
    }
    let there = now.of(id).iter().chain(new);
    Ok(decision_on(finding, &candidate.file, (because, on), there))
}
