//! What people read at 80 columns stays within them, with colours and without.

use std::path::Path;
use std::process::Command;

/// Columns of the terminal.
const COLUMNS: usize = 80;

/// The lines that a command prints in the repository.
fn lines(arguments: &[&str]) -> Vec<String> {
    lines_at(COLUMNS, arguments)
}

fn lines_at(columns: usize, arguments: &[&str]) -> Vec<String> {
    let output = Command::new(env!("CARGO_BIN_EXE_ownwords"))
        .args(arguments)
        .env("COLUMNS", columns.to_string())
        .current_dir(Path::new(env!("CARGO_MANIFEST_DIR")))
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(
        output.status.code().is_some_and(|code| code < 2),
        "{arguments:?}: {said}"
    );
    let printed = String::from_utf8(output.stdout).unwrap();
    printed.lines().map(without_colours).collect()
}

/// A line without its escape sequences for colours.
fn without_colours(line: &str) -> String {
    let mut parts = line.split("\u{1b}[");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |line, part| line + part.split_once('m').unwrap().1)
}

#[track_caller]
fn assert_fits(arguments: &[&str]) -> Vec<String> {
    for colour in ["never", "always"] {
        for line in lines(&[arguments, &["--color", colour]].concat()) {
            let columns = line.chars().count();
            assert!(
                columns <= COLUMNS,
                "{arguments:?}: {columns} columns: {line}"
            );
        }
    }
    lines(arguments)
}

#[test]
fn reports_fit() {
    const DRAFTS: &str = "corpus-demo/drafts";
    for arguments in [
        &["check", "--review", "corpus-demo", DRAFTS][..],
        &[
            "check",
            "--review",
            "corpus-demo",
            DRAFTS,
            "--whole",
            "--show-explained",
        ],
        &[
            "check",
            "--review",
            "corpus-demo",
            DRAFTS,
            "--show-settled",
            "--repeats",
        ],
        &["notes", "--review", "corpus-demo", "--show-explained"],
        &["quotations", "--review", "corpus-demo"],
        &["quotations", "--review", "corpus-demo", "--whole"],
        &["settle", "--review", "corpus-demo", "--list"],
        &[
            "place",
            "--source",
            "tests/golden/input/passage.txt",
            "tests/golden/input/anna.txt",
        ],
        &[
            "place",
            "--review",
            "corpus-demo",
            "tests/golden/input/anna.txt",
        ],
        &["text", "corpus-demo/drafts/chapter-1.md"],
        &["text", "corpus-demo/notes/corrow2018.md"],
    ] {
        assert_fits(arguments);
    }
}

#[test]
fn help_is_made_for_this_width() {
    let whole = assert_fits(&["--help"]);
    let commands = whole.iter().skip_while(|line| *line != "Commands:").skip(1);
    let commands: Vec<&str> = commands
        .take_while(|line| !line.is_empty())
        // A line that goes on with what is said of the command above begins with blanks.
        .map(|line| line.trim_start().split(' ').next().unwrap())
        .collect();
    assert_eq!(
        commands,
        [
            "start",
            "desk",
            "check",
            "notes",
            "quotations",
            "settle",
            "bibliography",
            "place",
            "text",
            "explain",
            "completions",
            "man"
        ]
    );
    for command in commands.into_iter().map(Some).chain([None]) {
        let arguments: Vec<&str> = command.into_iter().chain(["--help"]).collect();
        assert_fits(&arguments);
        // Examples and what is said behind them are set by hand, so they have to fit as they are.
        let set_by_hand = |columns| -> Vec<String> {
            let lines = lines_at(columns, &arguments).into_iter();
            lines
                .skip_while(|line| !line.starts_with("For example") && line != "A first round:")
                .collect()
        };
        let set = set_by_hand(COLUMNS);
        assert!(set.len() > 1, "{arguments:?} gives no example");
        assert_eq!(set, set_by_hand(COLUMNS + 20), "{arguments:?}");
    }
}

#[test]
fn explanations_fit() {
    let topics = assert_fits(&["explain"]);
    let names = topics
        .iter()
        .filter_map(|line| line.strip_prefix("   ")?.split("  ").next())
        .filter(|name| !name.is_empty() && !name.starts_with("schema"));
    let mut count = 0;
    for name in names {
        assert_fits(&["explain", name]);
        count += 1;
    }
    assert!(count > 40, "{count} topics");
}
