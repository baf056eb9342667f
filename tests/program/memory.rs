//! Files in memory give the report that the same files on the disk give, byte for byte, whatever is read of them.
//! `tests/wasm/run` holds the same where there is no disk at all.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::common::{Review, demo, run};
use ownwords::reading::Memory;
use ownwords::report::json;
use ownwords::review::{self, Options};

/// All files below a folder, by their paths in it.
fn files_of(root: &Path) -> Memory {
    let mut files = Memory::new();
    let mut folders = vec![PathBuf::new()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(root.join(&folder)).unwrap().flatten() {
            let path = folder.join(entry.file_name());
            match entry.file_type().unwrap().is_dir() {
                true => folders.push(path),
                false => files.insert(&path, fs::read(entry.path()).unwrap()),
            }
        }
    }
    files
}

/// The report of a review's drafts with nothing but these files.
fn report_in_memory(files: Memory) -> String {
    let opened = review::Review::open_from(Arc::new(files), Path::new("."), &Options::default());
    let session = ownwords::Session::new(opened.unwrap());
    let drafts = session.review.drafts().unwrap().files;
    let report = session.check(&drafts).unwrap();
    let mut written = Vec::new();
    json::write(&report, &mut written).unwrap();
    String::from_utf8(written).unwrap()
}

#[track_caller]
fn the_same_in_memory(root: &Path) -> String {
    let arguments = ["check", "--review", ".", "drafts", "--format", "json"];
    let output = run(root, &arguments);
    let on_disk = String::from_utf8(output.stdout).unwrap();
    let in_memory = report_in_memory(files_of(root));
    assert!(on_disk == in_memory, "{}", difference(&on_disk, &in_memory));
    on_disk
}

fn difference(one: &str, other: &str) -> String {
    let lines = one.lines().zip(other.lines());
    let first = lines.enumerate().find(|(_, (one, other))| one != other);
    format!("{first:?}, {} and {} bytes", one.len(), other.len())
}

#[test]
fn the_demo() {
    let report = the_same_in_memory(&demo());
    assert!(report.contains("\"kind\": \"unmarked-copy\""));
}

#[test]
fn settings_terms_decisions_and_included_files() {
    let copied = "the campion received one visit for every four that it received in the dark";
    let review = Review::of_two()
        .setting("notes = \"entries\"\nmax_file_mb = 1")
        .file("terms.txt", "received in the dark\n")
        .file("decisions.toml", "[broken")
        .file("entries/one.md", "# quill2016\n\nStumbling was feared.\n")
        .file("sources/large.txt", vec![b'a'; 1_000_001])
        .file("sources/deep/binary.txt", [0, 1, 2])
        .file("drafts/main.tex", "\\input{parts/one}\n")
        .file("drafts/parts/one.tex", format!("I know that {copied}.\n"));
    // What lies below in the folder of drafts is a draft of the review, but not of the folder when it is named.
    let arguments = [
        "check",
        "--review",
        ".",
        "drafts/main.tex",
        "drafts/parts/one.tex",
    ];
    let on_disk = review.run(&[&arguments[..], &["--format", "json"]].concat());
    let on_disk = String::from_utf8(on_disk.stdout).unwrap();
    let in_memory = report_in_memory(files_of(review.root()));
    assert!(on_disk == in_memory, "{}", difference(&on_disk, &in_memory));
    for told in [
        "1 MB",
        "line 1",
        "not a text file",
        "parts/one.tex",
        "unmarked-copy",
    ] {
        assert!(on_disk.contains(told), "{told} is not in {on_disk}");
    }
}
