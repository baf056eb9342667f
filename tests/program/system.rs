//! What the program asks of the system and what it says when it is refused: threads, and a place to print to.
#![cfg(target_os = "linux")]

use std::fs::{self, File};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use crate::common::run;

#[test]
fn however_many_jobs_are_asked_for_threads_have_an_end() {
    let threads = |jobs: &str| {
        let mut run = Command::new(env!("CARGO_BIN_EXE_ownwords"))
            .args(["place", "--pairs", "-", "--jobs", jobs])
            .stdin(Stdio::piped())
            .stdout(Stdio::null())
            .spawn()
            .unwrap();
        // It waits for lines now.
        std::thread::sleep(Duration::from_millis(500));
        let tasks = format!("/proc/{}/task", run.id());
        let count = fs::read_dir(tasks).unwrap().count();
        drop(run.stdin.take());
        assert!(run.wait().unwrap().success());
        count
    };
    // One more reads the lines.
    assert_eq!(threads("3"), 4);
    assert_eq!(threads("100000"), 257);
}

/// Whatever can't be printed is reported, help as well, but for a reader that has seen enough.
#[test]
fn what_cannot_be_printed_is_reported() {
    for arguments in [
        &["--help"][..],
        &["--version"],
        &["check", "--help"],
        &["explain", "schema"],
    ] {
        let full = File::options().write(true).open("/dev/full").unwrap();
        let output = Command::new(env!("CARGO_BIN_EXE_ownwords"))
            .args(arguments)
            .stdout(full)
            .output()
            .unwrap();
        let told = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {told}");
        assert!(
            told.starts_with("ownwords: standard output: could not be written"),
            "{told}"
        );
        let mut run = Command::new(env!("CARGO_BIN_EXE_ownwords"))
            .args(arguments)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        drop(run.stdout.take());
        let output = run.wait_with_output().unwrap();
        assert_eq!(output.status.code(), Some(0), "{arguments:?}");
        assert!(output.stderr.is_empty(), "{arguments:?}");
    }
    let status = run(Path::new("/"), &["--nonsense"]).status;
    assert_eq!(status.code(), Some(2));
}
