//! The annotated bibliography of the demo review in each form, read back by other programs.

use std::fs;
use std::path::Path;

use crate::common::{Review, demo, run};

/// The bibliography of the demo in a file of this name, made with these further arguments.
pub fn written(name: &str, more: &[&str]) -> (tempfile::TempDir, std::path::PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(name);
    let out = path.display().to_string();
    let arguments = [&["bibliography", "--out", &out], more].concat();
    let output = run(&demo(), &arguments);
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    (folder, path)
}

/// The names that begin the references, in order.
const FIRST_AUTHORS: [&str; 11] = [
    "Achterwold, E. (2022)",
    "Corrow, L., Nethercote, P., & Vasnik, I. (2018)",
    "Dunmallow, P. (2016)",
    "Harrow, A. (2014)",
    "Harrow, M. (2019a)",
    "Harrow, M. (2019b)",
    "Ilvane, C. (2015)",
    "Kettlewick, J. (2017)",
    "Lindgarth, S., & Oduyare, B. (2021)",
    "Tarnley Vale Lighting Agency. (2022)",
    // Its heading leads to no reference, so it stands at the end under that.
    "Brandsly (2009)",
];

/// That the references stand in their order and each part under its heading.
#[track_caller]
pub fn assert_whole(text: &str) {
    let mut at = 0;
    for author in FIRST_AUTHORS {
        let found = text.get(at..).unwrap().find(author);
        at += found.unwrap_or_else(|| panic!("{author} is missing or out of order:\n{text}"));
    }
    // One entry has no comments and several have no quotations; every entry has a summary.
    assert_eq!(text.matches("Summary").count(), 11);
    assert_eq!(text.matches("My comments").count(), 10);
    let entry = text.find("Harrow, A. (2014)").unwrap();
    let entry = &text[entry..text.find("Harrow, M. (2019a)").unwrap()];
    let parts = [
        "A case study of gas lighting",
        "buying darkness as well as light",
        "Thrift has been",
    ];
    let places: Vec<usize> = parts.iter().map(|part| entry.find(part).unwrap()).collect();
    assert!(places.is_sorted(), "{places:?}");
}

#[test]
fn markdown_stands_in_order_and_apart() {
    let (_folder, path) = written("bibliography.md", &[]);
    let text = fs::read_to_string(path).unwrap().replace('\\', "");
    assert_whole(&text);
    assert!(
        text.contains("*Everyday Sociology of Place*, *4*(2), 88–95."),
        "{text}"
    );
    let printed = run(&demo(), &["bibliography"]);
    assert_eq!(
        String::from_utf8(printed.stdout).unwrap().replace('\\', ""),
        text
    );
}

#[test]
fn html_holds_the_same() {
    let (_folder, path) = written("bibliography.html", &[]);
    let page = scraper::Html::parse_document(&fs::read_to_string(path).unwrap());
    let text: String = page.root_element().text().collect();
    assert_whole(&text);
}

#[test]
fn another_style_by_its_name() {
    let (_folder, path) = written("b.md", &["--style", "chicago-author-date"]);
    let text = fs::read_to_string(path).unwrap();
    assert!(
        text.contains("Harrow, Mirren. 2019a. “Dark Hours, Fuller Stigmas"),
        "{text}"
    );
    let output = run(&demo(), &["bibliography", "--style", "chicago-autor-date"]);
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("did you mean chicago-author-date"), "{said}");
    let listed = run(&demo(), &["bibliography", "--styles"]);
    assert!(
        String::from_utf8(listed.stdout)
            .unwrap()
            .lines()
            .any(|line| line == "apa")
    );
}

#[test]
fn entries_without_reference_come_last_and_are_told() {
    let review = Review::of_two()
        .entry("harrow2019", "A field study.", "", "Mine.")
        .note(
            "lost.md",
            "# Barlow (1999)\n\n## Summary\n\nNo reference of the review.\n",
        );
    let output = review.run(&["bibliography"]);
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(
        text.find("Harrow, A. (2019)").unwrap() < text.find("Barlow (1999)").unwrap(),
        "{text}"
    );
    assert!(
        String::from_utf8(output.stderr)
            .unwrap()
            .contains("Barlow (1999)")
    );
    let empty = Review::of_two();
    let output = empty.run(&["bibliography"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(
        String::from_utf8(output.stderr)
            .unwrap()
            .contains("no entries")
    );
}

#[test]
fn files_of_the_review_are_never_replaced() {
    let output = run(&demo(), &["bibliography", "--out", "references.bib"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(Path::new(&demo()).join("references.bib").is_file());
}
