//! What 10,000 decisions cost a check: reading the file and applying it to the findings of a draft, beside a
//! plain TOML parse of the same file in the same run, the public yardstick.
//!
//! The worst case is measured: all decisions are on this draft and of the kind of its open findings, so that
//! each has to be compared with them to tell whether its passage has changed. It fails where the findings
//! that are settled are not exactly the planted ones, or where the cost is 50 ms or more.

#![allow(clippy::print_stdout, clippy::print_stderr)] // Its table is what it is for.

use std::process::ExitCode;
use std::time::{Duration, Instant};

use ownwords::findings::{DraftPlace, Kind, Observation, Weight};
use ownwords::findings::{decision_on, findings_of};
use ownwords::reading::Disk;
use ownwords::review::{self, Decision, Decisions, DecisionsError};
use ownwords::text::{ByteRange, Text};

const DECISIONS: usize = 10_000;
const FINDINGS: usize = 200;
const SETTLED: usize = 100;
const RUNS: usize = 15;
const MOST: Duration = Duration::from_millis(50);

fn main() -> ExitCode {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let root = folder.path();
    let (text, seen) = draft();
    let of_draft =
        |decisions: &Decisions| findings_of(decisions, "drafts/chapter.md", &text, seen.clone()).0;
    let with_context = of_draft(&Decisions::default());
    let mut all: Vec<Decision> = Vec::new();
    for finding in with_context.iter().take(SETTLED) {
        all.push(decision_on(
            finding,
            "drafts/chapter.md",
            ("looked at", "2026-03-02"),
            [].iter(),
        ));
    }
    let pattern = all[0].clone();
    for number in all.len()..DECISIONS {
        all.push(Decision {
            id: format!("uc-{:08x}", number * 0x9E37),
            because: "the definition as the law words it, agreed with everybody".to_owned(),
            text: sentence(number + 7_000_000, 14),
            ..pattern.clone()
        });
    }
    review::change(root, |_| Ok::<_, DecisionsError>((Vec::new(), Vec::new())))
        .expect("an empty file");
    // Written by hand: putting 10,000 blocks in one by one is nobody's use.
    let mut content = String::from("scheme = \"ownwords-finding-1\"\n");
    for decision in Decisions::new(all).all() {
        content.push_str(&format!(
            "\n[{}]\nkind = \"{}\"\ndraft = \"{}\"\non = \"{}\"\nbecause = \"{}\"\ntext = \"{}\"\n",
            decision.name(),
            decision.kind,
            decision.draft,
            decision.on,
            decision.because,
            decision.text
        ));
    }
    std::fs::write(root.join(review::DECISIONS_FILE), &content).expect("the file is written");

    let (mut with, mut without, mut parse, mut settled) = (vec![], vec![], vec![], 0);
    for _ in 0..RUNS {
        without.push(time(|| {
            of_draft(&Decisions::default());
        }));
        with.push(time(|| {
            let decisions = Decisions::open(&Disk::new(), root, 100).expect("the file is read");
            settled = of_draft(&decisions)
                .iter()
                .filter(|finding| finding.settled.is_some())
                .count();
        }));
        parse.push(time(|| {
            let table: toml::Table = toml::from_str(&content).expect("the file is TOML");
            assert!(table.len() > DECISIONS);
        }));
    }
    let cost = median(&mut with).saturating_sub(median(&mut without));
    let parse = median(&mut parse);
    println!(
        "decisions             {DECISIONS} ({} kB)",
        content.len() / 1000
    );
    println!(
        "load and apply        {:.1} ms (median of {RUNS})",
        cost.as_secs_f64() * 1e3
    );
    println!(
        "plain TOML parse      {:.1} ms (median of {RUNS})",
        parse.as_secs_f64() * 1e3
    );
    println!(
        "ratio                 {:.2}",
        cost.as_secs_f64() / parse.as_secs_f64()
    );
    if settled != SETTLED {
        eprintln!("{settled} findings were settled, not {SETTLED}");
        return ExitCode::FAILURE;
    }
    if cost >= MOST {
        eprintln!("that is {MOST:?} or more");
        return ExitCode::FAILURE;
    }
    ExitCode::SUCCESS
}

/// A draft of many sentences, each of them a finding.
fn draft() -> (Text, Vec<Observation>) {
    let sentences: Vec<String> = (0..FINDINGS).map(|number| sentence(number, 20)).collect();
    let text = Text::paragraph(&sentences.join(". "));
    let mut at = 0;
    let mut findings: Vec<Observation> = Vec::new();
    for sentence in &sentences {
        let range = ByteRange::of(at, at + sentence.len());
        at += sentence.len() + 2;
        let place = DraftPlace {
            range,
            line: 1,
            page: None,
            text: sentence.clone(),
        };
        findings.push(Observation::new(
            Kind::UnmarkedCopy,
            Weight::Act,
            place,
            String::new(),
        ));
    }
    (text, findings)
}

/// Words that are the same in every run (splitmix64, Steele, Lea and Flood 2014).
fn sentence(seed: usize, words: usize) -> String {
    let word = |number: usize| {
        let mut z = ((seed * 64 + number) as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        let letters = [b"mnlrst", b"aeioua", b"bdgpkt", b"ouieao", b"lnrstm"];
        let letter = |(at, of): (usize, &&[u8; 6])| char::from(of[(z >> (8 * at)) as usize % 6]);
        letters.iter().enumerate().map(letter).collect::<String>()
    };
    (0..words).map(word).collect::<Vec<_>>().join(" ")
}

fn time(work: impl FnOnce()) -> Duration {
    let start = Instant::now();
    work();
    start.elapsed()
}

fn median(times: &mut [Duration]) -> Duration {
    times.sort();
    times[times.len() / 2]
}
