//! Runs that are stopped from outside while they write a file: the old file or the new one is there, never a part of
//! one, and what is left lying beside it is cleared away by a later run.

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant, SystemTime};

use crate::common::HARROW;

/// Files that are being written, or were when a run was stopped.
fn unfinished(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).unwrap().flatten();
    let paths = entries.map(|entry| entry.path());
    let ours = |path: &PathBuf| {
        let name = path.file_name().unwrap().to_string_lossy();
        name.starts_with(".ownwords-")
    };
    paths.filter(ours).collect()
}

fn start(folder: &Path) -> Child {
    Command::new(env!("CARGO_BIN_EXE_ownwords"))
        .current_dir(folder)
        .args(["text", "--plain", "long.txt", "--out", "out.txt"])
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap()
}

/// Waits until the run writes, or is over.
fn wait_for_writing(run: &mut Child, folder: &Path) {
    while unfinished(folder).is_empty() && run.try_wait().unwrap().is_none() {}
}

#[test]
fn a_file_is_whole_whenever_a_run_is_killed_and_leftovers_go() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    let long = HARROW.repeat(3_000);
    fs::write(root.join("long.txt"), &long).unwrap();
    let out = root.join("out.txt");
    let begun = Instant::now();
    assert!(start(root).wait().unwrap().success());
    let whole = begun.elapsed();
    assert_eq!(fs::read_to_string(&out).unwrap(), long);
    assert_eq!(unfinished(root), [""; 0].map(PathBuf::from));

    let lying = root.join("lying");
    let (mut old_left, mut new_left, mut in_the_writing) = (0, 0, 0);
    for number in 0..100 {
        fs::write(&out, "old").unwrap();
        let mut run = start(root);
        if number % 2 == 0 {
            // Some time of the whole run ...
            std::thread::sleep(whole * number / 90);
        } else {
            // ... or some time of the writing.
            wait_for_writing(&mut run, root);
            std::thread::sleep(Duration::from_micros(u64::from(number) * 20));
        }
        // A run that is over can't be killed.
        let _ = run.kill();
        run.wait().unwrap();
        let left = unfinished(root);
        in_the_writing += left.len();
        match fs::read_to_string(&out).unwrap() {
            now if now == "old" => old_left += 1,
            now if now == long => new_left += 1,
            torn => panic!("a torn file of {} bytes", torn.len()),
        }
        assert!(left.len() < 2, "{left:?}");
        for left in left {
            fs::rename(left, &lying).unwrap();
        }
    }
    let told = format!("{old_left} before, {new_left} behind, {in_the_writing} in the writing");
    assert!(
        old_left > 0 && new_left > 0 && in_the_writing > 0,
        "the kills missed: {told}"
    );

    // What they left is cleared away once it is old enough to be nobody's.
    let name = root.join(".ownwords-Aa0Zz9");
    fs::rename(&lying, &name).unwrap();
    assert!(start(root).wait().unwrap().success());
    assert_eq!(unfinished(root), std::slice::from_ref(&name));
    let old = SystemTime::now() - Duration::from_secs(3_600);
    let left = File::options().write(true).open(&name).unwrap();
    left.set_modified(old).unwrap();
    drop(left);
    assert!(start(root).wait().unwrap().success());
    assert_eq!(unfinished(root), [""; 0].map(PathBuf::from));
    assert_eq!(fs::read_to_string(&out).unwrap(), long);
}

/// As long as a run reads and compares there is nothing that it could leave behind.
#[cfg(unix)]
#[test]
fn a_run_that_is_stopped_before_it_writes_leaves_nothing() {
    use crate::common::signals::{Signal, heeding_command, send};
    use std::io::{BufRead as _, BufReader, Write as _};
    use std::os::unix::process::ExitStatusExt as _;
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    for signal in [Signal::INT, Signal::TERM, Signal::HUP, Signal::KILL] {
        let mut run = heeding_command()
            .current_dir(root)
            .args(["place", "--pairs", "-", "--out", "out.jsonl"])
            .stdin(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut input = run.stdin.take().unwrap();
        let pair = "{\"id\": 1, \"source\": \"Lamps hold moths.\", \"rewrite\": \"Moths stay at lamps.\"}\n";
        let pairs = [&pair.repeat(2_000), "nonsense\n", &pair.repeat(1_000)].concat();
        input.write_all(pairs.as_bytes()).unwrap();
        // Once it complains of that line, it has results of those before.
        let mut told = String::new();
        let mut errors = BufReader::new(run.stderr.take().unwrap());
        errors.read_line(&mut told).unwrap();
        assert!(told.contains("line 2001"), "{told}");
        send(&run, signal);
        assert_eq!(run.wait().unwrap().signal(), Some(signal.as_raw()));
        assert_eq!(fs::read_dir(root).unwrap().count(), 0, "{signal:?}");
    }
}

/// While a run writes, a signal that asks it to end has it remove its temporary file first, and it dies of that signal.
#[cfg(unix)]
#[test]
fn a_run_that_is_stopped_while_it_writes_clears_its_file_away() {
    use crate::common::signals::{Signal, heeding_command, send};
    use std::io::Write as _;
    use std::os::unix::process::ExitStatusExt as _;
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    for signal in [Signal::INT, Signal::TERM, Signal::HUP] {
        let mut run = heeding_command()
            .current_dir(root)
            .args(["place", "--pairs", "-", "--out", "out.jsonl"])
            .stdin(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut input = run.stdin.take().unwrap();
        // Names so long that what is written is no longer held in memory; more could follow at any time.
        let pair = format!(
            "{{\"id\": \"{}\", \"source\": \"Lamps hold moths.\", \"rewrite\": \"Moths stay at lamps.\"}}\n",
            "x".repeat(100_000)
        );
        let begun = Instant::now();
        let is_written = || {
            let written = |path: PathBuf| fs::metadata(path).is_ok_and(|about| about.len() > 0);
            unfinished(root).into_iter().any(written)
        };
        while !is_written() && begun.elapsed() < Duration::from_secs(60) {
            input.write_all(pair.as_bytes()).unwrap();
        }
        assert!(is_written(), "nothing was written");
        send(&run, signal);
        assert_eq!(run.wait().unwrap().signal(), Some(signal.as_raw()));
        assert_eq!(fs::read_dir(root).unwrap().count(), 0, "{signal:?}");
    }
}
