//! Arguments to a command, errors to an exit code; nothing else.

use std::io::Write;
use std::process::ExitCode;

use clap::Parser;
use ownwords::commands::{self, Arguments};

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    match commands::run(&arguments) {
        Ok(outcome) => outcome.into(),
        Err(failure) => {
            for line in failure.to_string().lines() {
                let line = ownwords::report::harmless(line);
                // Where the standard error is closed nobody is there to be told.
                let _ = writeln!(std::io::stderr(), "ownwords: {line}");
            }
            ExitCode::from(2)
        }
    }
}
