//! Runs that are stopped at any moment of every kind of writing: what was there is there, or all of the new, and never a
//! part of it.
//!
//! A part of the runs is stopped by the clock or as soon as a temporary file has something in it, by KILL or by a signal
//! that asks. From the moment at which there is such a file, these runs get on in small steps, so that they can't be done
//! before anybody has looked. The others may write only so many bytes into a file, a number drawn anew each time, and the
//! system ends them in the midst of the writing at that byte. That a run was hit there is counted, never assumed.
//!
//! `OWNWORDS_KILLS=1000 cargo test --test program kills:: -- --nocapture` stops as many and prints the table that
//! DEVELOPERS.md gives.

#![cfg(unix)]

mod writings;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::os::unix::process::ExitStatusExt as _;
use std::path::{Path, PathBuf};
use std::process::{Child, ExitStatus};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use crate::common::signals::{Signal, send};
use writings::{Kind, Place, kinds};

/// How a run is stopped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Stop {
    /// By a signal, some time after it began.
    Clock(Signal),
    /// By a signal, as soon as something is in a temporary file.
    Writing(Signal),
    /// By the system, when it has written so much of a file.
    Bytes,
}

impl Stop {
    /// How it is called in the table.
    fn name(self) -> String {
        let of = |signal| {
            let named = SIGNALS.iter().find(|(known, _)| *known == signal);
            named.unwrap().1
        };
        match self {
            Self::Clock(signal) => format!("{}, by the clock", of(signal)),
            Self::Writing(signal) => format!("{}, once written", of(signal)),
            Self::Bytes => "a limit at a byte".to_owned(),
        }
    }
}

/// The signals that stop runs; every other one is a kill.
const SIGNALS: [(Signal, &str); 6] = [
    (Signal::KILL, "KILL"),
    (Signal::TERM, "TERM"),
    (Signal::KILL, "KILL"),
    (Signal::INT, "INT"),
    (Signal::KILL, "KILL"),
    (Signal::HUP, "HUP"),
];

/// What became of the runs.
#[derive(Debug, Clone, Copy, Default)]
struct Counts {
    runs: usize,
    stopped: usize,
    hit: usize,
    old: usize,
    new: usize,
}

impl Counts {
    fn sum<'a>(all: impl Iterator<Item = &'a Self>) -> Self {
        all.fold(Self::default(), |sum, one| Self {
            runs: sum.runs + one.runs,
            stopped: sum.stopped + one.stopped,
            hit: sum.hit + one.hit,
            old: sum.old + one.old,
            new: sum.new + one.new,
        })
    }
}

/// Numbers that look random and are the same in every run (xorshift, Marsaglia 2003).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, limit: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % limit.max(1)
    }
}

/// All files below a path, by their paths.
fn below(path: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut files = BTreeMap::new();
    if let Ok(content) = fs::read(path) {
        files.insert(path.to_owned(), content);
    }
    for entry in fs::read_dir(path).into_iter().flatten().flatten() {
        files.extend(below(&entry.path()));
    }
    files
}

/// Whether a file is a temporary one.
fn is_temporary(path: &Path) -> bool {
    let name = path.file_name().unwrap().to_string_lossy();
    name.starts_with(".ownwords-") || (name.starts_with('.') && name.ends_with(".new"))
}

/// Bytes in the temporary file of a folder, or of one right below it; `None` where there is none.
fn being_written(folder: &Path) -> Option<u64> {
    let mut found = None;
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        if is_temporary(&path) {
            found = found.max(fs::metadata(path).ok().map(|about| about.len()));
        } else if entry.file_type().is_ok_and(|kind| kind.is_dir()) {
            found = found.max(being_written(&path));
        }
    }
    found
}

/// Waits until something is in a temporary file, or the run is over. The run may be halted then.
fn wait_for_writing(run: &mut Child, folder: &Path) -> Option<ExitStatus> {
    loop {
        match being_written(folder) {
            None => {
                if let Some(status) = run.try_wait().unwrap() {
                    return Some(status);
                }
            }
            Some(0) => {
                send(run, Signal::STOP);
                if being_written(folder) > Some(0) {
                    return None;
                }
                send(run, Signal::CONT);
            }
            Some(_) => return None,
        }
    }
}

/// A kind of writing in its place, and what was seen of a run that nobody stopped.
struct Subject<'a> {
    kind: &'a Kind,
    place: Place,
    whole: Duration,
    old: Files,
    new: Files,
}

impl Subject<'_> {
    /// Stops one run. How it ended, and whether it was seen to write before.
    fn stop(&self, stop: Stop, at: u64) -> (ExitStatus, bool) {
        let name = self.kind.name;
        let start = |blocks| self.place.start(self.kind, blocks);
        match stop {
            Stop::Bytes => {
                let size = self.new.values().map(Vec::len).max().unwrap() as u64;
                assert!(size > 1024, "{name}: too short to be stopped in it");
                let blocks = 1 + at % ((size - 1) / 1024);
                (start(Some(blocks)).wait().unwrap(), false)
            }
            Stop::Clock(signal) => {
                let mut run = start(None);
                std::thread::sleep(self.whole * u32::try_from(at % 110).unwrap() / 100);
                send(&run, signal);
                (run.wait().unwrap(), false)
            }
            Stop::Writing(signal) => {
                let mut run = start(None);
                let target = self.place.target(self.kind);
                let seen = wait_for_writing(&mut run, target.parent().unwrap()).is_none();
                send(&run, signal);
                send(&run, Signal::CONT);
                (run.wait().unwrap(), seen)
            }
        }
    }

    /// Looks what a run left, and clears away what lies beside it.
    fn look(&self, stop: Stop, status: ExitStatus, seen: bool, counts: &mut Counts) {
        let Self { kind, old, new, .. } = self;
        let target = self.place.target(kind);
        let folder = target.parent().unwrap();
        let mut there = below(&target);
        let left: Files = below(folder)
            .into_iter()
            .filter(|(path, _)| is_temporary(path))
            .collect();
        there.retain(|path, _| !is_temporary(path));
        let told = format!("{}: {status}", kind.name);
        counts.runs += 1;
        counts.stopped += usize::from(status.signal().is_some());
        if there == *new {
            counts.new += 1;
        } else if target.is_dir() {
            // Of a folder that is laid out, each file is whole.
            let whole = |(path, content): (&PathBuf, &Vec<u8>)| new.get(path) == Some(content);
            assert!(there.iter().all(whole), "a torn file; {told}");
            counts.old += 1;
        } else {
            let torn = there.values().map(Vec::len).next();
            assert!(there == *old, "a torn file of {torn:?} bytes; {told}");
            counts.old += 1;
        }
        let written = left.values().any(|content| !content.is_empty());
        let asked =
            matches!(stop, Stop::Clock(signal) | Stop::Writing(signal) if signal != Signal::KILL);
        assert!(
            !asked || left.is_empty(),
            "a temporary file is left behind; {told}"
        );
        // Hit in the writing: between the first bytes and the rename.
        counts.hit +=
            usize::from(written || (asked && seen && status.signal().is_some() && there == *old));
        for path in left.keys() {
            fs::remove_file(path).unwrap();
        }
    }
}

type Files = BTreeMap<PathBuf, Vec<u8>>;

fn restore(target: &Path, old: &Files) {
    let _ = fs::remove_dir_all(target);
    let _ = fs::remove_file(target);
    for (path, content) in old {
        fs::write(path, content).unwrap();
    }
}

/// The counts by the name of the way in which runs were stopped.
type ByWay = BTreeMap<String, Counts>;

/// Stops so many runs of a kind.
fn stop_runs(kind: &Kind, kind_number: usize, id: &str, runs: usize) -> ByWay {
    let place = Place::new(id);
    let target = place.target(kind);
    if kind.target.starts_with("OUT/") && kind.name != "start" {
        fs::write(&target, "old").unwrap();
    }
    let old = below(&target);
    let begun = Instant::now();
    let status = place.start(kind, None).wait().unwrap();
    let whole = begun.elapsed();
    assert!(
        status.code().is_some_and(|code| code < 2),
        "{}: {status}",
        kind.name
    );
    let new = below(&target);
    assert_ne!(old, new, "{}", kind.name);
    let subject = Subject {
        kind,
        place,
        whole,
        old,
        new,
    };
    let mut numbers = Numbers(0x2545_f491_4f6c_dd1d ^ kind.name.len() as u64);
    let mut all = ByWay::new();
    for number in 0..runs {
        restore(&target, &subject.old);
        let (signal, _) = SIGNALS[(number / 3 + kind_number) % SIGNALS.len()];
        let way = [Stop::Bytes, Stop::Writing(signal), Stop::Clock(signal)][number % 3];
        let (status, seen) = subject.stop(way, numbers.below(1 << 32));
        subject.look(way, status, seen, all.entry(way.name()).or_default());
    }
    // Whatever was left lying about, the next run does its work and leaves nothing.
    restore(&target, &subject.old);
    let status = subject.place.start(kind, None).wait().unwrap();
    assert!(status.code().is_some_and(|code| code < 2));
    assert_eq!(below(&target), subject.new, "{}", kind.name);
    all
}

#[test]
fn no_file_is_torn_whenever_and_however_a_run_is_stopped() {
    let asked = std::env::var("OWNWORDS_KILLS").ok();
    let runs: usize = asked.and_then(|number| number.parse().ok()).unwrap_or(102);
    let kinds = kinds();
    // Most of those that are stopped while they can be seen to write are of the long kinds.
    let shares = |kind: &Kind| if kind.is_long() { 4 } else { 1 };
    let of_each = runs.div_ceil(kinds.iter().map(shares).sum());
    let id = Place::new("").open_finding();
    let next = AtomicUsize::new(0);
    let work = || -> Vec<(usize, ByWay)> {
        let number =
            || Some(next.fetch_add(1, Ordering::Relaxed)).filter(|number| *number < kinds.len());
        std::iter::from_fn(number)
            .map(|number| {
                (
                    number,
                    stop_runs(
                        &kinds[number],
                        number,
                        &id,
                        of_each * shares(&kinds[number]),
                    ),
                )
            })
            .collect()
    };
    let mut counts: Vec<_> = std::thread::scope(|scope| {
        let workers = [(); 3].map(|()| scope.spawn(work));
        workers
            .into_iter()
            .flat_map(|worker| worker.join().unwrap())
            .collect()
    });
    counts.sort_by_key(|(number, _)| *number);
    let by_kind = counts
        .iter()
        .map(|(number, counts)| (kinds[*number].name, Counts::sum(counts.values())));
    print_table(by_kind);
    let ways: BTreeSet<&String> = counts.iter().flat_map(|(_, ways)| ways.keys()).collect();
    let by_way: Vec<(&str, Counts)> = ways
        .into_iter()
        .map(|way| {
            let of_way = counts.iter().filter_map(|(_, ways)| ways.get(way));
            (way.as_str(), Counts::sum(of_way))
        })
        .collect();
    print_table(by_way.iter().copied());
    // The proof that they were hit: at a byte each of them, in the writing and nowhere else; of the signals some, whose
    // moment hangs on how busy the machine is.
    let mut by_signals = 0;
    for (way, counts) in by_way {
        if way == Stop::Bytes.name() {
            assert_eq!((counts.stopped, counts.hit), (counts.runs, counts.runs));
        } else {
            by_signals += counts.hit;
        }
    }
    assert!(by_signals > 0, "no signal came in the midst of the writing");
}

#[expect(clippy::print_stdout, reason = "the table is read with --nocapture")]
fn print_table<'a>(rows: impl Iterator<Item = (&'a str, Counts)>) {
    println!(
        "{:<24}{:>6}{:>9}{:>6}{:>6}{:>6}",
        "", "runs", "stopped", "hit", "old", "new"
    );
    for (name, counts) in rows {
        let Counts {
            runs,
            stopped,
            hit,
            old,
            new,
        } = counts;
        println!("{name:<24}{runs:>6}{stopped:>9}{hit:>6}{old:>6}{new:>6}");
    }
}
