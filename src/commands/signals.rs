//! Signals that end a run while it writes: the temporary file is removed first, and the run dies of the same signal, so
//! that whoever started it sees what it would have seen.
//!
//! A run that was started so as to survive a signal (`nohup`, a job in the background of a script) survives it: such
//! signals are left alone. Linux says which they are. Elsewhere that can't be asked for without `unsafe`, so there only
//! TERM is heeded, which nobody has ignored; what other signals leave is cleared away by the next run that writes
//! ([`super::beside`]), as is what a kill leaves.

/// Heeds signals from now on; the first call counts.
#[cfg(not(unix))]
pub(super) fn heed() {}

/// Heeds signals from now on; the first call counts.
#[cfg(unix)]
pub(super) fn heed() {
    static HEEDED: std::sync::Once = std::sync::Once::new();
    HEEDED.call_once(unix::heed);
}

#[cfg(unix)]
mod unix {
    use std::sync::mpsc::{Sender, channel};
    use std::thread::Builder;

    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
    use signal_hook::iterator::Signals;
    use signal_hook::low_level::emulate_default_handler;

    use crate::unfinished;

    pub(super) fn heed() {
        let (ready, is_ready) = channel();
        // Signals are taken over by the thread that answers them: without it they do what they always did.
        let thread = Builder::new().name("signals".to_owned());
        if thread.spawn(move || answer(&ready)).is_ok() {
            let _ = is_ready.recv();
        }
    }

    fn answer(ready: &Sender<()>) {
        let Ok(mut signals) = Signals::new(heeded(ignored())) else {
            return;
        };
        let _ = ready.send(());
        if let Some(signal) = signals.forever().next() {
            unfinished::clear();
            let _ = emulate_default_handler(signal);
            // It does not come back from a signal that ends runs.
            std::process::exit(128 + signal);
        }
    }

    /// The signals to heed, of those that the run does not ignore; `None` where that is not known.
    fn heeded(ignored: Option<u64>) -> Vec<i32> {
        let Some(ignored) = ignored else {
            return vec![SIGTERM];
        };
        let mut signals = vec![SIGHUP, SIGINT, SIGTERM];
        signals.retain(|signal| ignored >> (signal - 1) & 1 == 0);
        signals
    }

    /// The signals that the run was started to ignore, the first in the lowest bit.
    fn ignored() -> Option<u64> {
        let status = std::fs::read_to_string("/proc/self/status").ok()?;
        let mask = status
            .lines()
            .find_map(|line| line.strip_prefix("SigIgn:"))?;
        u64::from_str_radix(mask.trim(), 16).ok()
    }

    #[cfg(test)]
    mod tests {
        use super::*;

        #[test]
        fn what_is_ignored_is_left_alone() {
            assert_eq!(heeded(Some(0)), [SIGHUP, SIGINT, SIGTERM]);
            // `nohup`, and a job in the background of a script.
            assert_eq!(heeded(Some(0b1)), [SIGINT, SIGTERM]);
            assert_eq!(heeded(Some(0b110)), [SIGHUP, SIGTERM]);
            assert_eq!(heeded(None), [SIGTERM]);
        }

        #[cfg(target_os = "linux")]
        #[test]
        fn linux_says_what_is_ignored() {
            // Rust's runtime ignores SIGPIPE.
            let ignored = ignored().unwrap();
            assert_eq!(ignored >> 12 & 1, 1, "{ignored:x}");
        }
    }
}
