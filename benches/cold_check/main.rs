//! A cold check of a draft of 100,000 words against a library of 3 million, as a user runs it.
//!
//! 1. A review is generated, the same on every machine ([`review`]): invented words in the
//!    proportions of English, with passages of the sources planted in the draft.
//! 2. The built program checks it a few times; each run is a process of its own.
//! 3. `wc -w` counts the words of the same files in the same run: the public yardstick.
//! 4. The findings are counted. A fast wrong answer fails.
//!
//! `cargo bench --bench cold_check` prints one table. Peak memory is read from `/proc`, so the
//! figure is missing elsewhere than on Linux.

#![allow(clippy::print_stdout, clippy::print_stderr)] // Its table is what it is for.

mod prose;
mod review;

use std::path::Path;
use std::process::{Command, ExitCode, Stdio};
use std::time::{Duration, Instant};

use review::Planted;

const RUNS: usize = 7;

fn main() -> ExitCode {
    let root = Path::new(env!("CARGO_TARGET_TMPDIR")).join("cold_check");
    let planted = match review::write(&root) {
        Ok(planted) => planted,
        Err(error) => {
            eprintln!("{}: could not write the review ({error})", root.display());
            return ExitCode::FAILURE;
        }
    };
    let mut checks = Vec::new();
    let mut counts = Vec::new();
    let mut memory = None;
    let mut found = String::new();
    // Taken in turns, so that both see the same machine.
    for _ in 0..RUNS {
        counts.push(count_words(&root));
        let (time, peak, output) = check(&root);
        checks.push(time);
        memory = memory.max(peak);
        found = output;
    }
    let (check, count) = (median(&mut checks), median(&mut counts));
    println!(
        "library            {} words in {} sources",
        review::SOURCES * review::SOURCE_WORDS,
        review::SOURCES
    );
    println!("draft              {} words", review::DRAFT_WORDS);
    println!(
        "cold check         {:.3} s (median of {RUNS})",
        check.as_secs_f64()
    );
    println!(
        "wc -w, same files  {:.3} s (median of {RUNS})",
        count.as_secs_f64()
    );
    println!(
        "ratio              {:.1}",
        check.as_secs_f64() / count.as_secs_f64()
    );
    let words = (review::SOURCES * review::SOURCE_WORDS + review::DRAFT_WORDS) as f64;
    println!(
        "words per second   {:.1} million",
        words / check.as_secs_f64() / 1e6
    );
    if let Some(kilobytes) = memory {
        println!("peak memory        {} MB", kilobytes / 1000);
    }
    judge(&planted, &found)
}

/// Times one check; returns its time, its peak memory in kilobytes where known, and its JSON.
fn check(root: &Path) -> (Duration, Option<u64>, String) {
    let out = root.join("report.json");
    let start = Instant::now();
    let mut child = Command::new(env!("CARGO_BIN_EXE_ownwords"))
        .args(["check", "--format", "json", "--review"])
        .arg(root)
        .arg("--out")
        .arg(&out)
        .arg(root.join("drafts/draft.txt"))
        .stdin(Stdio::null())
        .spawn()
        .expect("the built program starts");
    let mut peak = None;
    while child
        .try_wait()
        .expect("the program can be waited for")
        .is_none()
    {
        peak = peak.max(peak_memory(child.id()));
        std::thread::sleep(Duration::from_millis(1));
    }
    let time = start.elapsed();
    (time, peak, std::fs::read_to_string(out).unwrap_or_default())
}

fn peak_memory(process: u32) -> Option<u64> {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    line.split_whitespace().nth(1)?.parse().ok()
}

fn count_words(root: &Path) -> Duration {
    let mut files: Vec<_> = review::source_paths(root).collect();
    files.push(root.join("drafts/draft.txt"));
    let start = Instant::now();
    let status = Command::new("wc")
        .arg("-w")
        .args(files)
        .stdout(Stdio::null())
        .status();
    let time = start.elapsed();
    assert!(
        status.is_ok_and(|status| status.success()),
        "wc -w runs (GNU coreutils)"
    );
    time
}

fn median(times: &mut [Duration]) -> Duration {
    times.sort_unstable();
    times[times.len() / 2]
}

/// Every planted passage must be found, and little else.
fn judge(planted: &[Planted], found: &str) -> ExitCode {
    let report: serde_json::Value = serde_json::from_str(found).unwrap_or_default();
    let none = Vec::new();
    let findings = report["drafts"][0]["findings"].as_array().unwrap_or(&none);
    let missing = planted
        .iter()
        .filter(|planted| {
            !findings.iter().any(|finding| {
                let start = finding["draft"]["start"].as_u64().unwrap_or(u64::MAX) as usize;
                let end = finding["draft"]["end"].as_u64().unwrap_or(0) as usize;
                start <= planted.start + 8
                    && end + 8 >= planted.end
                    && finding["source"]["key"] == planted.source.as_str()
            })
        })
        .count();
    println!(
        "planted passages   {} of {} found",
        planted.len() - missing,
        planted.len()
    );
    println!("findings           {}", findings.len());
    if missing > 0 || findings.len() != planted.len() {
        eprintln!("expected exactly the {} planted passages", planted.len());
        return ExitCode::FAILURE;
    }
    ExitCode::SUCCESS
}
