//! Runs that are stopped at any moment of every kind of writing: what was there is there, or all of the new, and never a
//! part of it.
//!
//! A part of the runs is stopped by the clock or as soon as a temporary file has something in it, by KILL or by a signal
//! that asks. The others may write only so many bytes into a file, a number drawn anew each time, and the system ends
//! them in the midst of the writing at that byte. That a run was hit there is counted, never assumed.
//!
//! `OWNWORDS_KILLS=1000 cargo test --test program kills:: -- --nocapture` stops as many and prints the table that
//! DEVELOPERS.md gives.

#![cfg(unix)]

use std::collections::BTreeMap;
use std::fs;
use std::os::unix::process::ExitStatusExt as _;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use crate::common::word::{document, p, t};
use crate::common::{COPIED, HARROW, OWN, Review};

/// A kind of writing: a name, what is written, and the run.
struct Kind {
    name: &'static str,
    /// The file that is replaced, in the review or in `OUT` outside it; a folder where one is laid out.
    target: &'static str,
    arguments: Vec<&'static str>,
}

/// How a run is stopped.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Stop {
    /// By a signal, some time after it began.
    Clock(&'static str),
    /// By a signal, as soon as something is in a temporary file.
    Writing(&'static str),
    /// By the system, when it has written so much of a file.
    Bytes,
}

/// What became of the runs.
#[derive(Default)]
struct Counts {
    runs: usize,
    stopped: usize,
    hit: usize,
    old: usize,
    new: usize,
}

fn kinds() -> Vec<Kind> {
    let check = |name, target, format| Kind {
        name,
        target,
        arguments: vec![
            "check",
            "drafts/draft.md",
            "--format",
            format,
            "--out",
            target,
        ],
    };
    let kind = |name, target, arguments: &[&'static str]| Kind {
        name,
        target,
        arguments: arguments.to_vec(),
    };
    vec![
        check("check, terminal", "OUT/check.txt", "terminal"),
        check("check, page", "OUT/check.html", "page"),
        check("check, markdown", "OUT/check.md", "markdown"),
        check("check, csv", "OUT/check.csv", "csv"),
        check("check, lines", "OUT/check.lines", "lines"),
        check("check, sarif", "OUT/check.sarif", "sarif"),
        check("check, json", "OUT/check.json", "json"),
        kind(
            "check, margin",
            "OUT/check.docx",
            &[
                "check",
                "drafts/word.docx",
                "--format",
                "margin",
                "--out",
                "OUT/check.docx",
            ],
        ),
        kind(
            "notes",
            "OUT/notes.json",
            &["notes", "--format", "json", "--out", "OUT/notes.json"],
        ),
        kind(
            "quotations",
            "OUT/quotations.json",
            &[
                "quotations",
                "--format",
                "json",
                "--out",
                "OUT/quotations.json",
            ],
        ),
        kind(
            "bibliography, Markdown",
            "OUT/bibliography.md",
            &["bibliography", "--out", "OUT/bibliography.md"],
        ),
        kind(
            "bibliography, Word",
            "OUT/bibliography.docx",
            &["bibliography", "--out", "OUT/bibliography.docx"],
        ),
        kind(
            "place",
            "OUT/place.html",
            &[
                "place",
                "--source",
                "OUT/../source.txt",
                "OUT/../rewrite.txt",
                "--format",
                "page",
                "--out",
                "OUT/place.html",
            ],
        ),
        kind(
            "text",
            "OUT/text.txt",
            &[
                "text",
                "--plain",
                "OUT/../long.txt",
                "--out",
                "OUT/text.txt",
            ],
        ),
        kind(
            "settle",
            "decisions.toml",
            &[
                "settle",
                "ID",
                "--because",
                "as agreed",
                "--on",
                "2026-03-02",
                "--in",
                "drafts/draft.md",
            ],
        ),
        kind(
            "settle --term",
            "terms.txt",
            &["settle", "--term", "what a lamp does to a hedge"],
        ),
        kind("start", "OUT/new", &["start", "OUT/new"]),
    ]
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

/// A review, and a folder beside it with all else that the runs need.
struct Place {
    folder: tempfile::TempDir,
    review: Review,
    id: String,
}

impl Place {
    fn new(id: &str) -> Self {
        let sentences = HARROW
            .split_inclusive(". ")
            .filter(|sentence| sentence.len() > 90);
        let draft: String = sentences
            .map(|sentence| format!("{OWN} {sentence}\n\n{OWN}\n\n"))
            .collect();
        let paragraphs: String = draft
            .split("\n\n")
            .map(|words| p(&t(words.trim())))
            .collect();
        let mut decisions = "scheme = \"ownwords-finding-1\"\n".to_owned();
        for number in 0..200 {
            decisions.push_str(&format!(
                "\n[zz-{number:08x}.00000000]\nkind = \"close-paraphrase\"\ndraft = \"drafts/old.md\"\non = \"2026-03-02\"\n\
                 because = \"looked at with care\"\ntext = \"moths that came near ...\"\n"
            ));
        }
        let summary = format!("{OWN} It counts {COPIED}.");
        let quoted: String = (0..4)
            .map(|number| format!("> \"{COPIED}\" (p. {number})\n\n"))
            .collect();
        let review = Review::of_two()
            .entry("harrow2019", &summary, &quoted, &OWN.repeat(12))
            .file("drafts/draft.md", &draft)
            .file("drafts/word.docx", document(&paragraphs, &[]))
            .file("decisions.toml", decisions);
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path();
        fs::create_dir(root.join("out")).unwrap();
        fs::write(root.join("long.txt"), HARROW.repeat(6_000)).unwrap();
        fs::write(root.join("source.txt"), HARROW).unwrap();
        fs::write(root.join("rewrite.txt"), HARROW.replace("lamp", "lantern")).unwrap();
        let terms: String = (0..400)
            .map(|number| format!("fixed expression {number}\n"))
            .collect();
        let review = review.file("terms.txt", terms);
        Self {
            folder,
            review,
            id: id.to_owned(),
        }
    }

    /// The ID of an open finding.
    fn open_finding(&self) -> String {
        let checked = self
            .command(&["check", "drafts/draft.md", "--format", "json"])
            .output()
            .unwrap();
        let report: serde_json::Value = serde_json::from_slice(&checked.stdout).unwrap();
        let findings = report["drafts"][0]["findings"].as_array().unwrap();
        let open = findings
            .iter()
            .find(|finding| finding["settled"].is_null())
            .unwrap();
        open["id"].as_str().unwrap().to_owned()
    }

    fn review(&self) -> PathBuf {
        self.review.root().to_owned()
    }

    fn target(&self, kind: &Kind) -> PathBuf {
        let [target] = self.meant(&[kind.target]).try_into().unwrap();
        self.review.root().join(target)
    }

    fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_ownwords"));
        command
            .args(self.meant(arguments))
            .current_dir(self.review());
        command
    }

    fn meant(&self, arguments: &[&str]) -> Vec<String> {
        let out = self.folder.path().join("out");
        let out = out.to_str().unwrap();
        let meant = |argument: &&str| match *argument {
            "ID" => self.id.clone(),
            other => other.replace("OUT", out),
        };
        arguments.iter().map(meant).collect()
    }

    /// A run that may write so many blocks of 512 or 1,024 bytes into a file, if any number is given.
    fn start(&self, kind: &Kind, blocks: Option<u64>) -> Child {
        let mut command = match blocks {
            None => self.command(&kind.arguments),
            Some(blocks) => {
                let mut shell = Command::new("sh");
                let script = format!("ulimit -c 0; ulimit -f {blocks}; exec \"$0\" \"$@\"");
                shell.args(["-c", &script, env!("CARGO_BIN_EXE_ownwords")]);
                shell
                    .args(self.meant(&kind.arguments))
                    .current_dir(self.review());
                shell
            }
        };
        command
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap()
    }
}

/// Waits until something is in a temporary file, or the run is over.
fn wait_for_writing(run: &mut Child, folder: &Path) -> Option<ExitStatus> {
    loop {
        let mut entries = fs::read_dir(folder).into_iter().flatten().flatten();
        let begun = |path: PathBuf| {
            is_temporary(&path) && fs::metadata(path).is_ok_and(|about| about.len() > 0)
        };
        if entries.any(|entry| begun(entry.path())) {
            return None;
        }
        if let Some(status) = run.try_wait().unwrap() {
            return Some(status);
        }
    }
}

fn send(signal: &str, run: &Child) {
    let number = run.id().to_string();
    // A run that is over can't be stopped.
    let _ = Command::new("kill")
        .args(["-s", signal, &number])
        .stderr(Stdio::null())
        .status();
}

/// Stops one run and looks what is there.
fn stop(
    place: &Place,
    kind: &Kind,
    stop: Stop,
    at: u64,
    whole: Duration,
    old: &Files,
    new: &Files,
    counts: &mut Counts,
) {
    let target = place.target(kind);
    let folder = target.parent().unwrap().to_owned();
    let mut seen = false;
    let status = match stop {
        Stop::Bytes => {
            let size = new.values().map(Vec::len).max().unwrap() as u64;
            assert!(size > 1024, "{}: too short to be stopped in it", kind.name);
            place
                .start(kind, Some(1 + at % ((size - 1) / 1024)))
                .wait()
                .unwrap()
        }
        Stop::Clock(signal) => {
            let mut run = place.start(kind, None);
            std::thread::sleep(whole * u32::try_from(at % 110).unwrap() / 100);
            send(signal, &run);
            run.wait().unwrap()
        }
        Stop::Writing(signal) => {
            let mut run = place.start(kind, None);
            seen = wait_for_writing(&mut run, &folder).is_none();
            if signal == "KILL" {
                // Sooner than by another program.
                let _ = run.kill();
            } else {
                send(signal, &run);
            }
            run.wait().unwrap()
        }
    };
    let mut there = below(&target);
    let left: Files = below(&folder)
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
    let asked = matches!(stop, Stop::Clock(signal) | Stop::Writing(signal) if signal != "KILL");
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

type Files = BTreeMap<PathBuf, Vec<u8>>;

fn restore(target: &Path, old: &Files) {
    let _ = fs::remove_dir_all(target);
    let _ = fs::remove_file(target);
    for (path, content) in old {
        fs::write(path, content).unwrap();
    }
}

/// Stops so many runs of a kind; the counts by the way in which they were stopped.
fn stop_runs(kind: &Kind, kind_number: usize, id: &str, runs: usize) -> BTreeMap<Stop, Counts> {
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
    let mut numbers = Numbers(0x2545_f491_4f6c_dd1d ^ kind.name.len() as u64);
    let mut all: BTreeMap<Stop, Counts> = BTreeMap::new();
    let signals = ["KILL", "TERM", "KILL", "INT", "KILL", "HUP"];
    for number in 0..runs {
        restore(&target, &old);
        let signal = signals[(number / 3 + kind_number) % signals.len()];
        let way = [Stop::Bytes, Stop::Writing(signal), Stop::Clock(signal)][number % 3];
        let at = numbers.below(1 << 32);
        stop(
            &place,
            kind,
            way,
            at,
            whole,
            &old,
            &new,
            all.entry(way).or_default(),
        );
    }
    // Whatever was left lying about, the next run does its work and leaves nothing.
    restore(&target, &old);
    assert!(
        place
            .start(kind, None)
            .wait()
            .unwrap()
            .code()
            .is_some_and(|code| code < 2)
    );
    assert_eq!(below(&target), new, "{}", kind.name);
    all
}

#[test]
fn no_file_is_torn_whenever_and_however_a_run_is_stopped() {
    let asked = std::env::var("OWNWORDS_KILLS").ok();
    let runs: usize = asked.and_then(|number| number.parse().ok()).unwrap_or(102);
    let kinds = kinds();
    let of_each = runs.div_ceil(kinds.len());
    let id = Place::new("").open_finding();
    let next = AtomicUsize::new(0);
    let work = || -> Vec<(usize, BTreeMap<Stop, Counts>)> {
        let number =
            || Some(next.fetch_add(1, Ordering::Relaxed)).filter(|number| *number < kinds.len());
        std::iter::from_fn(number)
            .map(|number| (number, stop_runs(&kinds[number], number, &id, of_each)))
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
    println!(
        "{:<24}{:>6}{:>9}{:>6}{:>6}{:>6}",
        "writing", "runs", "stopped", "hit", "old", "new"
    );
    for (number, counts) in &counts {
        let sum = |count: fn(&Counts) -> usize| counts.values().map(count).sum::<usize>();
        let (runs, stopped, hit) = (sum(|c| c.runs), sum(|c| c.stopped), sum(|c| c.hit));
        let (name, old, new) = (kinds[*number].name, sum(|c| c.old), sum(|c| c.new));
        println!("{name:<24}{runs:>6}{stopped:>9}{hit:>6}{old:>6}{new:>6}");
        // The proof: each of these was stopped in the writing and nowhere else.
        let by_bytes = &counts[&Stop::Bytes];
        assert_eq!(by_bytes.hit, by_bytes.runs, "{name}: the kills missed");
        assert_eq!(by_bytes.stopped, by_bytes.runs, "{name}");
    }
    println!("{:<24}{:>6}{:>9}{:>6}", "by", "runs", "stopped", "hit");
    let mut ways: BTreeMap<Stop, [usize; 3]> = BTreeMap::new();
    for (way, count) in counts.iter().flat_map(|(_, counts)| counts) {
        let all = ways.entry(*way).or_default();
        *all = [
            all[0] + count.runs,
            all[1] + count.stopped,
            all[2] + count.hit,
        ];
    }
    for (way, [runs, stopped, hit]) in ways {
        println!("{:<24}{runs:>6}{stopped:>9}{hit:>6}", format!("{way:?}"));
    }
}
