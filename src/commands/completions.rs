//! `ownwords completions`: a script that lets a shell complete commands and options.

use std::sync::Arc;

use clap::{Args, CommandFactory};
use clap_complete::Shell;

use super::args::OutArgs;
use super::output::{Form, Output};
use super::{Arguments, Failure, Outcome};
use crate::reading::Disk;

/// Print a completion script for a shell
#[derive(Debug, Args)]
#[command(after_help = "\
For example:
  ownwords completions bash \\
    --out ~/.local/share/bash-completion/completions/ownwords
  ownwords completions fish --out ~/.config/fish/completions/ownwords.fish")]
pub(super) struct CompletionsArgs {
    /// The shell
    shell: Shell,
    #[command(flatten)]
    out: OutArgs,
}

pub(super) fn run(args: &CompletionsArgs) -> Result<Outcome, Failure> {
    let output = Output::open(&args.out, Form::Script, &Arc::new(Disk::new()), None)?;
    // Into memory first: the generator would panic where a writer refuses.
    let mut script = Vec::new();
    clap_complete::generate(
        args.shell,
        &mut Arguments::command(),
        "ownwords",
        &mut script,
    );
    output.write(|out| out.write_all(&script))?;
    Ok(Outcome::Clear)
}
