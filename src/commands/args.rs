//! What can be typed: the subcommands, and the options that several of them share. Help, completions
//! and manual pages all come from these definitions.

use std::io::{self, IsTerminal};
use std::num::NonZeroUsize;
use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

#[cfg(feature = "desk")]
use super::desk;
use super::{
    Failure, bibliography, check, completions, explain, man, notes, place, quotations, settle,
    start, text,
};
use crate::review::{Options, Value};

/// Compare a draft with your own sources and notes, all on this machine: copied wording, lost
/// quotation marks, missing pages, close paraphrase
#[derive(Debug, Parser)]
#[command(name = "ownwords", version, after_help = EXAMPLES, max_term_width = 100)]
#[command(arg_required_else_help = true, disable_help_subcommand = true)]
pub struct Arguments {
    /// When to use colours (NO_COLOR is honoured); they never carry meaning alone
    #[arg(long, global = true, value_enum, default_value_t, value_name = "WHEN")]
    pub(super) color: When,
    #[command(subcommand)]
    pub(super) command: Command,
}

const EXAMPLES: &str = "\
A first round:
  ownwords start lamps                      lay out a review folder
  cp ~/reading/harrow2019.txt lamps/sources/
  ownwords notes --review lamps             the entries, each against its source
  ownwords check lamps/drafts/chapter.md    what to look at, passage by passage
  ownwords explain close-paraphrase         what a finding means

Drafts, sources and notes are only read, never changed.
Exit status: 0 nothing open, 1 open findings, 2 the job, or a part of it, could
not be done.";

/// The subcommands.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Lay out an empty review folder with one worked example
    Start(start::StartArgs),
    /// Open a review in your browser: drafts beside their sources
    #[cfg(feature = "desk")]
    Desk(desk::DeskArgs),
    /// Check drafts against the sources and notes of a review
    Check(check::CheckArgs),
    /// Check the entries of the notes against their sources
    Notes(notes::NotesArgs),
    /// Account for every quotation: its source, exact or not, its uses
    Quotations(quotations::QuotationsArgs),
    /// Record decisions on findings, so that they are not shown again
    Settle(settle::SettleArgs),
    /// Write the entries of your notes as an annotated bibliography
    Bibliography(bibliography::BibliographyArgs),
    /// Put rewrites on the scale, or find their source in a review
    Place(place::PlaceArgs),
    /// Show what is read from a file: pages, quotations, citations
    Text(text::TextArgs),
    /// Say what words of a report mean, and where numbers come from
    Explain(explain::ExplainArgs),
    /// Print a completion script for a shell
    Completions(completions::CompletionsArgs),
    /// Print a manual page
    Man(man::ManArgs),
}

/// When to use colours.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub(super) enum When {
    /// On a terminal, unless NO_COLOR is set
    #[default]
    Auto,
    /// Always, even in a file
    Always,
    /// Never
    Never,
}

/// The form of a report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub(super) enum Format {
    /// For reading, here
    #[default]
    Terminal,
    /// For programs; `ownwords explain` lists the contracts
    Json,
}

/// The form of the report of a check.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub(super) enum CheckFormat {
    /// For reading, here
    #[default]
    Terminal,
    /// One file to open in a browser: the draft with its findings beside it; needs --out
    #[value(alias = "html")]
    Page,
    /// For pasting into a message
    #[value(alias = "md")]
    Markdown,
    /// For spreadsheets: comma-separated, a line for each finding
    Csv,
    /// A line for each finding, file:line:column, for editors
    Lines,
    /// SARIF 2.1.0 (OASIS), for editors and version control
    Sarif,
    /// A copy of a Word or OpenDocument draft with the findings as comments; needs --out
    #[value(alias = "docx", alias = "odt", alias = "word")]
    Margin,
    /// For programs; `ownwords explain schema` prints the contract
    Json,
}

/// The form of the report of `place`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub(super) enum PlaceFormat {
    /// For reading, here
    #[default]
    Terminal,
    /// A class handout to project and to print, for a browser; needs --out
    Page,
    /// For programs; `ownwords explain schema-place` prints the contract
    Json,
}

/// The form of an explanation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub(super) enum ExplainFormat {
    /// For reading, here
    #[default]
    Terminal,
    /// One file to open in a browser; needs --out
    Page,
}

/// Where the output goes.
#[derive(Debug, Args)]
pub(super) struct OutArgs {
    /// Write to this file instead of the terminal; it is replaced only once all is written
    #[arg(long, value_name = "FILE")]
    pub(super) out: Option<PathBuf>,
}

impl OutArgs {
    /// Refuses to print a page, which is for a browser, on the terminal.
    pub(super) fn for_page(&self) -> Result<(), Failure> {
        if self.out.is_none() && io::stdout().is_terminal() {
            return Err(Failure::PageHere);
        }
        Ok(())
    }
}

/// Settings for this run alone.
#[derive(Debug, Args)]
pub(super) struct SettingsArgs {
    /// Words in a row that count as a copy when unmarked, for this run
    #[arg(long, value_name = "N")]
    run_words: Option<NonZeroUsize>,
}

impl SettingsArgs {
    /// What is laid over the settings of the review.
    pub(super) fn options(&self) -> Options {
        let number = |words: NonZeroUsize| Value::Number(words.get() as u64);
        match self.run_words {
            Some(words) => Options::default().with("run_words", number(words)),
            None => Options::default(),
        }
    }
}

/// How much of the machine is used.
#[derive(Debug, Args)]
pub(super) struct JobsArgs {
    /// Work on this many things at once, 256 at most [default: as many as the machine has cores]
    #[arg(long, value_name = "N")]
    jobs: Option<NonZeroUsize>,
}

/// Threads beyond which more only cost memory. Our own choice: machines for one person have fewer cores.
const MOST_JOBS: usize = 256;

impl JobsArgs {
    /// Sets the number of threads for this run.
    pub(super) fn apply(&self) -> Result<(), Failure> {
        let Some(jobs) = self.jobs else {
            return Ok(());
        };
        rayon::ThreadPoolBuilder::new()
            .num_threads(jobs.get().min(MOST_JOBS))
            .build_global()
            .map_err(|cause| Failure::Jobs { jobs, cause })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    #[test]
    fn the_definitions_hold_together() {
        Arguments::command().debug_assert();
    }

    #[test]
    fn the_readme_lists_every_command() {
        let mut table = String::from("| command | what it does |\n| --- | --- |\n");
        for command in Arguments::command().get_subcommands() {
            let about = command.get_about().unwrap();
            table.push_str(&format!(
                "| `ownwords {}` | {about} |\n",
                command.get_name()
            ));
        }
        let readme = include_str!("../../README.md");
        assert!(
            readme.contains(&format!("{table}\n")),
            "the README should hold:\n\n{table}"
        );
    }
}
