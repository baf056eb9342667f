//! What people read, letter by letter: outputs at 80 columns without colour, held to the files in
//! `tests/golden`. A change of the output is meant to be read before it is accepted:
//!
//! ```sh
//! OWNWORDS_BLESS=1 cargo test --test golden    # rewrites the files and says which
//! git diff tests/golden
//! ```

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use crate::common::run;

/// Columns of the output where it is no terminal.
const COLUMNS: usize = 80;

/// Lines of a difference that are shown.
const SHOWN: usize = 24;

fn repository() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Holds the output of a command, run in the repository, to its file.
#[track_caller]
fn assert_golden(name: &str, arguments: &[&str]) -> String {
    let output = run(repository(), arguments);
    assert_eq!(String::from_utf8_lossy(&output.stderr), "");
    assert!(output.status.code().is_some_and(|code| code < 2));
    let now = String::from_utf8(output.stdout).unwrap();
    let path = repository().join("tests/golden").join(name);
    let kept = fs::read_to_string(&path)
        .unwrap_or_default()
        .replace("\r\n", "\n");
    if now == kept {
        return now;
    }
    if std::env::var_os("OWNWORDS_BLESS").is_some_and(|value| value == "1") {
        bless(&path, &now);
        return now;
    }
    panic!(
        "the output is not that of tests/golden/{name}:\n{}\nsee all of it: cargo run -q -- {}\naccept it: OWNWORDS_BLESS=1 cargo test --test golden",
        difference(&kept, &now),
        arguments.join(" ")
    );
}

fn bless(path: &PathBuf, now: &str) {
    fs::write(path, now).unwrap();
    // Past the capture of the tests' output, so that it is seen when all goes well.
    let mut terminal = std::io::stderr();
    writeln!(terminal, "rewritten: {}", path.display()).unwrap();
}

/// The first lines that differ, the kept ones behind `-`, the new ones behind `+`, with the line of the
/// new output where each stretch begins.
fn difference(kept: &str, now: &str) -> String {
    let (kept, now): (Vec<&str>, Vec<&str>) = (kept.lines().collect(), now.lines().collect());
    let mut lines: Vec<String> = Vec::new();
    let (mut a, mut b) = (0, 0);
    for (same_a, same_b) in common_lines(&kept, &now)
        .into_iter()
        .chain([(kept.len(), now.len())])
    {
        if a < same_a || b < same_b {
            lines.push(format!("@ line {}", b + 1));
        }
        lines.extend(kept[a..same_a].iter().map(|line| format!("- {line}")));
        lines.extend(now[b..same_b].iter().map(|line| format!("+ {line}")));
        (a, b) = (same_a + 1, same_b + 1);
    }
    let more = lines.len().saturating_sub(SHOWN);
    lines.truncate(SHOWN);
    if more > 0 {
        lines.push(format!("... and {more} more lines"));
    }
    lines.join("\n")
}

/// A longest common subsequence of two lists of lines, as pairs of positions.
fn common_lines(kept: &[&str], now: &[&str]) -> Vec<(usize, usize)> {
    let mut longest = vec![vec![0_usize; now.len() + 1]; kept.len() + 1];
    for a in (0..kept.len()).rev() {
        for b in (0..now.len()).rev() {
            longest[a][b] = if kept[a] == now[b] {
                longest[a + 1][b + 1] + 1
            } else {
                longest[a + 1][b].max(longest[a][b + 1])
            };
        }
    }
    let (mut a, mut b) = (0, 0);
    let mut pairs = Vec::new();
    while a < kept.len() && b < now.len() {
        if kept[a] == now[b] {
            pairs.push((a, b));
            (a, b) = (a + 1, b + 1);
        } else if longest[a + 1][b] >= longest[a][b + 1] {
            a += 1;
        } else {
            b += 1;
        }
    }
    pairs
}

#[track_caller]
fn assert_fits(output: &str) {
    for line in output.lines() {
        assert!(
            line.chars().count() <= COLUMNS,
            "wider than {COLUMNS}: {line}"
        );
        assert!(line.trim_end() == line, "blank space at the end: {line:?}");
    }
    assert!(!output.contains('\u{1b}'), "colours in a file");
}

#[test]
fn check_of_the_first_chapter() {
    let chapter = "corpus-demo/drafts/chapter-1.md";
    assert_fits(&assert_golden(
        "check-chapter-1.txt",
        &["check", "--review", "corpus-demo", chapter],
    ));
}

/// What the README shows of the program is what the program prints.
#[test]
fn the_readme_shows_real_output() {
    let read = |name: &str| fs::read_to_string(repository().join(name)).unwrap();
    let (readme, printed) = (
        read("README.md"),
        read("tests/golden/check-chapter-1.txt").replace("\r\n", "\n"),
    );
    let (_, shown) = readme.split_once("```text\n").unwrap();
    let (shown, _) = shown.split_once("```").unwrap();
    assert!(shown.lines().count() >= 10);
    assert!(printed.contains(shown), "not in the golden file:\n{shown}");
}

#[test]
fn check_of_the_second_chapter_with_what_was_explained() {
    let chapter = "corpus-demo/drafts/chapter-2.md";
    let arguments = [
        "check",
        "--review",
        "corpus-demo",
        chapter,
        "--show-explained",
    ];
    assert_fits(&assert_golden("check-chapter-2.txt", &arguments));
}

#[test]
fn check_in_short() {
    let chapters = [
        "corpus-demo/drafts/chapter-1.md",
        "corpus-demo/drafts/chapter-2.md",
    ];
    let output = assert_golden(
        "check-quiet.txt",
        &[
            "check",
            "--quiet",
            "--review",
            "corpus-demo",
            chapters[0],
            chapters[1],
        ],
    );
    assert!(output.lines().count() > 20);
}

#[test]
fn notes_of_the_demo() {
    assert_fits(&assert_golden(
        "notes.txt",
        &["notes", "--review", "corpus-demo"],
    ));
}

#[test]
fn place_of_three_rewrites() {
    let file = |name: &str| format!("tests/golden/input/{name}.txt");
    let (source, anna, ben, cleo) = (file("passage"), file("anna"), file("ben"), file("cleo"));
    assert_fits(&assert_golden(
        "place.txt",
        &["place", "--source", &source, &anna, &ben, &cleo],
    ));
}

#[test]
fn text_with_everything_in_it() {
    assert_fits(&assert_golden(
        "text.txt",
        &["text", "tests/golden/input/everything.md"],
    ));
}

#[test]
fn explanations() {
    assert_fits(&assert_golden(
        "explain-close-paraphrase.txt",
        &["explain", "close-paraphrase"],
    ));
    assert_fits(&assert_golden(
        "explain-thresholds.txt",
        &["explain", "thresholds"],
    ));
}

#[test]
fn a_difference_is_short_and_says_where() {
    let kept: String = (1..60).map(|line| format!("line {line}\n")).collect();
    let now = kept.replace("line 7\n", "other\n").replace("line 9\n", "");
    assert_eq!(
        difference(&kept, &now),
        "@ line 7\n- line 7\n+ other\n@ line 9\n- line 9"
    );
    let more = format!("{kept}more\n");
    assert_eq!(difference(&kept, &more), "@ line 60\n+ more");
    assert!(difference(&kept, "").ends_with("... and 36 more lines"));
    assert_eq!(difference(&kept, &kept), "");
}
