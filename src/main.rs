//! Arguments to a command, errors to an exit code; nothing else.

use std::io::Write;
use std::process::ExitCode;

use clap::Parser;
use ownwords::commands::{self, Arguments};

fn main() -> ExitCode {
    let ended = Arguments::try_parse().map_or_else(commands::answer, |arguments| {
        commands::run(&arguments).map(ExitCode::from)
    });
    ended.unwrap_or_else(|failure| {
        for line in failure.to_string().lines() {
            let line = ownwords::report::harmless(line);
            // Where the standard error is closed nobody is there to read it.
            let _ = writeln!(std::io::stderr(), "ownwords: {line}");
        }
        ExitCode::from(2)
    })
}
