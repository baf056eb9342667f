//! Only regular files are read, and only so many: pipes, devices and whole disks neither hold a run up nor fill the
//! memory, wherever in a review they turn up.

use std::fs;
use std::os::unix::fs::symlink;
use std::process::{Command, Output};

use crate::common::Review;

const DRAFT: &str = "Moths that came near turned towards the lantern within a few wingbeats.\n";

/// Runs the program for at most 30 seconds and with 4 GB of addresses.
fn run(review: &Review, arguments: &[&str]) -> Output {
    let program = env!("CARGO_BIN_EXE_ownwords");
    let bounded = "ulimit -v 4000000; exec timeout 30 \"$0\" \"$@\" </dev/null";
    Command::new("bash")
        .args(["-c", bounded, program])
        .args(arguments)
        .current_dir(review.root())
        .output()
        .unwrap()
}

/// Puts a pipe nobody writes into, and then an endless device, in the place of a file.
fn each_in_place_of(review: &Review, name: &str, then: impl Fn()) {
    let path = review.path(name);
    let _ = fs::remove_file(&path);
    let made = Command::new("mkfifo").arg(&path).status();
    assert!(made.unwrap().success());
    then();
    fs::remove_file(&path).unwrap();
    symlink("/dev/zero", &path).unwrap();
    then();
    fs::remove_file(&path).unwrap();
}

#[test]
fn files_of_the_review() {
    for (name, code) in [
        ("ownwords.toml", 2),
        ("decisions.toml", 1),
        ("terms.txt", 1),
        ("references.bib", 1),
        ("sources/quill2016.txt", 1),
        ("notes/all.md", 1),
    ] {
        let review = Review::of_two()
            .setting("references = [\"references.bib\"]")
            .file("drafts/one.md", DRAFT);
        each_in_place_of(&review, name, || {
            let output = run(&review, &["check", "drafts/one.md"]);
            let told = [output.stdout, output.stderr].concat();
            let told = String::from_utf8(told).unwrap();
            let words = told.split_whitespace().collect::<Vec<_>>().join(" ");
            assert_eq!(output.status.code(), Some(code), "{name}: {told}");
            // One among the files of a folder is passed over.
            if !name.contains('/') {
                assert!(words.contains("a pipe or a device"), "{name}: {told}");
            }
        });
    }
}

#[test]
fn files_that_are_named() {
    let review = Review::of_two().file("drafts/one.md", DRAFT);
    for command in [
        &["check", "here.txt"][..],
        &["check", "drafts/one.md", "--since", "here.txt"],
        &["text", "here.txt"],
        &["place", "--source", "here.txt", "drafts/one.md"],
        &["place", "--pairs", "here.txt"],
    ] {
        each_in_place_of(&review, "here.txt", || {
            let output = run(&review, command);
            let told = String::from_utf8(output.stderr).unwrap();
            assert_eq!(output.status.code(), Some(2), "{command:?}: {told}");
            assert!(told.contains("a pipe or a device"), "{command:?}: {told}");
        });
    }
}

#[test]
fn a_whole_disk_is_no_folder_of_notes() {
    let review = Review::of_two()
        .setting("notes = \"/\"")
        .file("drafts/one.md", DRAFT);
    let output = run(&review, &["check", "drafts/one.md"]);
    let told = String::from_utf8(output.stdout).unwrap();
    assert_eq!(output.status.code(), Some(1), "{told}");
    assert!(told.contains("max_files"), "{told}");
    let review = Review::new()
        .setting("sources = \"/\"")
        .file("drafts/one.md", DRAFT);
    let output = run(&review, &["check", "drafts/one.md"]);
    let told = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2), "{told}");
    assert!(told.contains("more than 100000 files"), "{told}");
}

#[test]
fn many_files() {
    let mut review = Review::of_two()
        .setting("max_files = 12")
        .file("drafts/one.md", DRAFT);
    for number in 0..12 {
        review = review
            .file(&format!("notes/n{number}.md"), "# harrow2019\n\nLamps.\n")
            .file(&format!("many/n{number}.md"), DRAFT);
    }
    let told = |arguments: &[&str]| {
        let output = run(&review, arguments);
        let told = [output.stdout, output.stderr].concat();
        (output.status.code(), String::from_utf8(told).unwrap())
    };
    let (code, said) = told(&["check", "many"]);
    assert_eq!(code, Some(1), "{said}");
    assert!(!said.contains("max_files"), "{said}");
    fs::write(review.path("notes/more.md"), "x").unwrap();
    let (code, said) = told(&["check", "drafts/one.md"]);
    assert_eq!(code, Some(1), "{said}");
    assert!(
        said.contains("notes: it holds more than 12 files"),
        "{said}"
    );
    fs::write(review.path("many/more.md"), "x").unwrap();
    let (code, said) = told(&["check", "many"]);
    assert_eq!(code, Some(2), "{said}");
    assert!(said.contains("many: it holds more than 12 files"), "{said}");
}

/// Input without an end of line is passed over as it comes.
#[test]
fn standard_input_is_bounded() {
    let review = Review::new();
    let program = env!("CARGO_BIN_EXE_ownwords");
    let script = "ulimit -v 1000000; { head -c 600000000 /dev/zero; \
        printf '\\n{\"id\": 1, \"source\": \"Lamps hold moths.\", \"rewrite\": \"Moths stay.\"}\\n'; } | timeout 60 \"$0\" place --pairs -";
    let output = Command::new("bash")
        .args(["-c", script, program])
        .current_dir(review.root())
        .output()
        .unwrap();
    let told = String::from_utf8(output.stderr).unwrap();
    assert!(
        told.contains("line 1: this is longer than 16 MiB"),
        "{told}"
    );
    let placed = String::from_utf8(output.stdout).unwrap();
    assert_eq!(placed.lines().count(), 1, "{told}");
    assert_eq!(output.status.code(), Some(2));
}
