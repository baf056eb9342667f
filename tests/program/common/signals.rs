//! Signals to runs of the program.

use std::process::{Child, Command, Stdio};
use std::sync::LazyLock;

use rustix::process::{Pid, kill_process};

pub use rustix::process::Signal;

/// Whether `env` can undo that a signal is ignored, as GNU's can.
static UNDOES: LazyLock<bool> = LazyLock::new(|| {
    let tried = Command::new("env")
        .args(["--default-signal=INT", "true"])
        .stderr(Stdio::null())
        .status();
    tried.is_ok_and(|status| status.success())
});

/// The words that start the program so that it ends on signals, whatever the tests were started to ignore: a job in
/// the background of a script ignores INT, and so do all that it starts.
pub fn heeding() -> Vec<&'static str> {
    let program = env!("CARGO_BIN_EXE_ownwords");
    match *UNDOES {
        true => vec!["env", "--default-signal=INT,TERM,HUP", program],
        false => vec![program],
    }
}

/// The program, started so that it ends on signals.
pub fn heeding_command() -> Command {
    let words = heeding();
    let mut command = Command::new(words[0]);
    command.args(&words[1..]);
    command
}

/// Sends a signal to a run. One that is over can't be sent any.
pub fn send(run: &Child, signal: Signal) {
    let _ = kill_process(Pid::from_child(run), signal);
}
