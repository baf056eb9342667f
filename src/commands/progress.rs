//! One line on the terminal that says what is being done, gone again when it is done. Only on a
//! terminal's standard error, so that nothing of it gets into a pipe or a file.

use std::io::{self, IsTerminal, Write};

/// The line. Dropping it takes it off the terminal.
pub(super) struct Progress {
    shown: bool,
}

impl Progress {
    /// A line that stays silent where it was asked to, or where nobody would see it.
    pub(super) fn new(quiet: bool) -> Self {
        Self {
            shown: !quiet && io::stderr().is_terminal(),
        }
    }

    /// Says what is being done now.
    pub(super) fn stage(&self, doing: &str) {
        self.print(&format!("\r\u{1b}[Kownwords: {doing} ..."));
    }

    fn print(&self, line: &str) {
        if self.shown {
            // A terminal that takes no progress is no reason to stop.
            let _ = io::stderr().write_all(line.as_bytes());
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.print("\r\u{1b}[K");
    }
}
