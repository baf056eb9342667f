//! What `--out` may write over: a report of ours, and nothing of the writer's, whatever the command and whether it
//! reads the file or not.

use std::fs;

use crate::common::{HARROW, Review};

const DRAFT: &str = "Moths that came near turned towards the lantern within a few wingbeats.\n";

const ENTRY: &str = "# harrow2019\n\n## Summary\n\nLamps hold moths.\n";

fn review() -> Review {
    Review::of_two()
        .note("harrow2019.md", ENTRY)
        .file("drafts/one.md", DRAFT)
        .file("drafts/two.md", DRAFT)
        .file("drafts/main.tex", "\\input{part}\n")
        .file("drafts/part.tex", DRAFT)
        .file("drafts/notes.json", "{\"mine\": true}")
        .file("chapter.txt", DRAFT)
        .file("page.html", "<!DOCTYPE html><title>Mine</title>")
        .file("decisions.toml", "")
        .file("terms.txt", "lamp hour\n")
}

/// Every command that takes `--out`, with what it needs, and an ending for what it writes.
const COMMANDS: [&[&str]; 10] = [
    &["check", "drafts/one.md"],
    &["check", "drafts/one.md", "--quiet"],
    &["notes"],
    &["quotations", "drafts/one.md"],
    &["settle", "--list", "--in", "drafts/one.md"],
    &["bibliography", "--format", "docx"],
    &["bibliography", "--styles"],
    &["place", "--source", "chapter.txt", "drafts/one.md"],
    &["text", "drafts/one.md"],
    &["explain", "scale"],
];

/// Runs a command with an output; gives its exit status and what it said.
fn run(review: &Review, command: &[&str], out: &str) -> (i32, String) {
    let output = review.run(&[command, &["--out", out]].concat());
    let said = String::from_utf8(output.stderr).unwrap();
    (output.status.code().unwrap(), said)
}

#[track_caller]
fn kept(review: &Review, command: &[&str], out: &str, why: &str) {
    let before = fs::read(review.path(out)).ok();
    let (code, said) = run(review, command, out);
    assert_eq!(fs::read(review.path(out)).ok(), before, "{command:?} {out}");
    assert_eq!(code, 2, "{command:?} {out}: {said}");
    assert!(
        said.contains(out) && said.contains(why),
        "{command:?}: {said}"
    );
}

#[test]
fn nothing_of_the_writers_is_replaced() {
    let review = review();
    for command in COMMANDS {
        for mine in [
            "notes/harrow2019.md",
            "sources/harrow2019.txt",
            "drafts/one.md",
            "drafts/two.md",
            "chapter.txt",
            "page.html",
            "drafts/notes.json",
            "ownwords.toml",
            "decisions.toml",
            "terms.txt",
            "references.bib",
        ] {
            kept(&review, command, mine, "");
        }
    }
    // With the ending that fits, the file itself is the reason.
    let json = |format: &'static str| ["check", "drafts/one.md", "--format", format];
    kept(&review, &json("markdown"), "drafts/two.md", "of your own");
    kept(&review, &json("json"), "drafts/notes.json", "of your own");
    kept(&review, &json("page"), "page.html", "of your own");
    kept(
        &review,
        &["check", "drafts/one.md"],
        "terms.txt",
        "would replace",
    );
    kept(
        &review,
        &["text", "drafts/main.tex"],
        "chapter.txt",
        "of your own",
    );
}

#[test]
fn a_file_that_a_draft_includes_is_kept_outside_of_a_review_too() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name);
    fs::write(path("main.tex"), "\\input{part.txt}\n").unwrap();
    fs::write(path("part.txt"), DRAFT).unwrap();
    let output = crate::common::run(folder.path(), &["text", "main.tex", "--out", "part.txt"]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("would replace"), "{said}");
    assert_eq!(fs::read_to_string(path("part.txt")).unwrap(), DRAFT);
    // A file that this run has nothing to do with is taken at its name there.
    fs::write(path("other.txt"), HARROW).unwrap();
    let output = crate::common::run(folder.path(), &["text", "main.tex", "--out", "other.txt"]);
    assert_eq!(output.status.code(), Some(0));
}

#[test]
fn nothing_is_put_among_sources_and_notes() {
    let review = review();
    for folder in ["sources", "notes"] {
        let out = format!("{folder}/report.txt");
        kept(
            &review,
            &["check", "drafts/one.md"],
            &out,
            "read as your own",
        );
    }
}

#[test]
fn a_report_of_ours_is_written_again() {
    let review = review();
    for (command, out) in [
        (
            &["check", "drafts/one.md", "--format", "page"][..],
            "a.html",
        ),
        (
            &["check", "drafts/one.md", "--format", "json"],
            "drafts/a.json",
        ),
        (&["check", "drafts/one.md", "--format", "sarif"], "a.sarif"),
        (&["check", "drafts/one.md", "--format", "markdown"], "a.md"),
        (&["check", "drafts/one.md", "--format", "csv"], "a.csv"),
        (&["check", "drafts/one.md"], "a.txt"),
        (&["notes"], "b.txt"),
        (&["notes", "--format", "json"], "b.json"),
        (&["quotations", "drafts/one.md"], "c.txt"),
        (
            &["quotations", "drafts/one.md", "--format", "json"],
            "c.json",
        ),
        (&["quotations", "drafts/one.md", "--format", "csv"], "c.csv"),
        (
            &[
                "settle",
                "--list",
                "--in",
                "drafts/one.md",
                "--format",
                "json",
            ],
            "d.json",
        ),
        (&["bibliography"], "e.docx"),
        (&["bibliography"], "e.html"),
        (
            &["place", "--source", "chapter.txt", "drafts/one.md"],
            "f.txt",
        ),
        (
            &[
                "place",
                "--source",
                "chapter.txt",
                "drafts/one.md",
                "--format",
                "json",
            ],
            "f.json",
        ),
        (
            &[
                "place",
                "--source",
                "chapter.txt",
                "drafts/one.md",
                "--format",
                "page",
            ],
            "f.html",
        ),
        (&["explain", "schema-notes"], "g.json"),
        (&["explain", "--format", "page"], "g.html"),
    ] {
        for time in ["first", "second"] {
            let (code, said) = run(&review, command, out);
            assert!(
                code < 2 && said.is_empty(),
                "{command:?}, {time} time: {said}"
            );
        }
        let written = fs::read(review.path(out)).unwrap();
        // The writer's own words behind or before it make it the writer's.
        let mixed = [&b"My remarks. "[..], &written, b" My remarks."].concat();
        fs::write(review.path(out), mixed).unwrap();
        kept(&review, command, out, "of your own");
    }
}

/// A copy that a word processor may go on from is never taken for a report.
#[test]
fn what_a_writer_goes_on_working_in_is_kept() {
    let review = review();
    for (command, out) in [
        (&["bibliography"][..], "bibliography.md"),
        (&["text", "drafts/one.md", "--plain"], "plain.txt"),
    ] {
        assert_eq!(run(&review, command, out).0, 0);
        kept(&review, command, out, "move this one away");
    }
}

#[test]
fn endings_fit_the_form() {
    let review = review();
    for (format, out, wanted) in [
        ("page", "a.docx", ".html"),
        ("page", "a.TXT", ".html"),
        ("json", "a.md", ".json"),
        ("markdown", "a.html", ".md"),
        ("terminal", "a.json", ".txt"),
        ("sarif", "a.html", ".sarif"),
    ] {
        let command = ["check", "drafts/one.md", "--format", format];
        kept(&review, &command, out, wanted);
        assert!(!review.path(out).exists());
    }
    for (format, out) in [
        ("page", "page"),
        ("terminal", "report.log"),
        ("sarif", "s.json"),
    ] {
        let command = ["check", "drafts/one.md", "--format", format];
        let (code, said) = run(&review, &command, out);
        assert!(code < 2, "{said}");
        assert!(review.path(out).exists());
    }
}

#[cfg(unix)]
#[test]
fn links_are_followed_and_lead_somewhere() {
    use std::os::unix::fs::symlink;
    let review = review();
    symlink("nowhere.txt", review.path("dangling.txt")).unwrap();
    kept(&review, &["notes"], "dangling.txt", "leads nowhere");
    assert!(!review.path("nowhere.txt").exists());
    symlink("chapter.txt", review.path("link.txt")).unwrap();
    kept(&review, &["notes"], "link.txt", "of your own");
    symlink("sources", review.path("texts")).unwrap();
    kept(&review, &["notes"], "texts/new.txt", "read as your own");
}
