//! The command line.
//!
//! 1. What was typed becomes [`Arguments`] (`args`); clap answers slips and `--help` itself.
//! 2. Each subcommand, a file each, turns its arguments into what they mean here: which review, which
//!    look, where the output goes (`output`).
//! 3. It runs the pipeline and hands the result to a report. What comes back is an [`Outcome`] or a
//!    [`Failure`], and only `main` turns these into an exit status.

mod args;
mod beside;
mod bibliography;
mod check;
mod completions;
mod day;
#[cfg(feature = "desk")]
mod desk;
mod explain;
mod failure;
mod guard;
mod look;
mod man;
mod margin;
mod notes;
mod output;
mod pairs;
mod place;
mod progress;
mod quotations;
mod settle;
mod signals;
mod start;
mod text;

use std::process::ExitCode;

pub use args::Arguments;
pub use failure::Failure;
pub use settle::SettleError;

use args::Command;

/// How a command that could do its job ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// Nothing is open.
    Clear,
    /// There are open findings.
    Open,
    /// Part of the job could not be done; what and why has been reported already.
    InPart,
}

impl From<Outcome> for ExitCode {
    fn from(outcome: Outcome) -> Self {
        match outcome {
            Outcome::Clear => Self::from(0),
            Outcome::Open => Self::from(1),
            Outcome::InPart => Self::from(2),
        }
    }
}

/// Prints what clap answers: help, the version, or what is wrong with what was typed.
///
/// # Errors
/// [`Failure::Write`] where help or the version could not be printed.
pub fn answer(answer: clap::Error) -> Result<ExitCode, Failure> {
    let printed = answer.print();
    if !answer.use_stderr() {
        output::ended(printed, "standard output".to_owned())?;
    }
    let status = u8::try_from(answer.exit_code()).unwrap_or(2);
    Ok(ExitCode::from(status))
}

/// Runs the command that was typed.
///
/// # Errors
/// [`Failure`] where the job could not be done.
pub fn run(arguments: &Arguments) -> Result<Outcome, Failure> {
    let colour = arguments.color;
    match &arguments.command {
        Command::Start(args) => start::run(args),
        Command::Check(args) => check::run(args, colour),
        #[cfg(feature = "desk")]
        Command::Desk(args) => desk::run(args),
        Command::Notes(args) => notes::run(args, colour),
        Command::Settle(args) => settle::run(args, colour),
        Command::Bibliography(args) => bibliography::run(args),
        Command::Place(args) => place::run(args, colour),
        Command::Quotations(args) => quotations::run(args, colour),
        Command::Text(args) => text::run(args, colour),
        Command::Explain(args) => explain::run(args, colour),
        Command::Completions(args) => completions::run(args),
        Command::Man(args) => man::run(args),
    }
}
