//! `ownwords man`: the manual pages.

use std::sync::Arc;

use clap::{Args, CommandFactory};
use clap_mangen::Man;

use super::args::OutArgs;
use super::output::{Form, Output};
use super::{Arguments, Failure, Outcome};
use crate::reading::Disk;

/// Print a manual page
#[derive(Debug, Args)]
#[command(after_help = "\
For example:
  ownwords man --out ownwords.1
  ownwords man check | man -l -")]
pub(super) struct ManArgs {
    /// The command to describe [default: ownwords as a whole]
    command: Option<String>,
    #[command(flatten)]
    out: OutArgs,
}

pub(super) fn run(args: &ManArgs) -> Result<Outcome, Failure> {
    let mut whole = Arguments::command();
    whole.build();
    let page = match &args.command {
        None => Man::new(whole),
        Some(name) => {
            let command = whole
                .find_subcommand(name)
                .ok_or_else(|| Failure::NoCommand { name: name.clone() })?;
            Man::new(command.clone()).title(format!("ownwords-{name}"))
        }
    };
    Output::open(&args.out, Form::Manual, &Arc::new(Disk::new()), None)?
        .write(|mut out| page.render(&mut out))?;
    Ok(Outcome::Clear)
}
