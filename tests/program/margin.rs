//! `check --format margin`: what is refused. What it writes is held to LibreOffice's reading in
//! `reference_readers/margin.rs`.

use std::fs;
use std::io::{Cursor, Read as _};

use crate::common::word::{intricate, odt};
use crate::common::{COPIED, OWN, Review};

#[test]
fn other_drafts_and_places_are_refused_with_what_to_do() {
    let review = Review::of_two()
        .file("drafts/a.md", "Lamps.")
        .file("drafts/a.docx", intricate())
        .file("drafts/b.docx", intricate());
    let told = |arguments: &[&str]| {
        let output = review.run(&[&["check", "--format", "margin"], arguments].concat());
        assert_eq!(output.status.code(), Some(2), "{output:?}");
        String::from_utf8(output.stderr).unwrap()
    };
    assert!(told(&["drafts/a.md", "--out", "c.docx"]).contains("--format page"));
    assert!(told(&["drafts/a.docx"]).contains("--out a-commented.docx"));
    assert!(
        told(&["drafts/a.docx", "drafts/b.docx", "--out", "c.docx"])
            .contains("one draft at a time")
    );
    assert!(told(&["drafts/a.docx", "--out", "drafts/a.docx"]).contains("name another file"));
    assert!(!review.path("c.docx").exists());
}

#[test]
fn a_draft_in_utf16_becomes_a_copy_that_says_what_it_is() {
    let body = format!("<text:p>{OWN} Under a lamp {COPIED}.</text:p>");
    let review = Review::of_two().file("drafts/a.odt", odt(&body, "UTF-16"));
    let output = review.run(&[
        "check",
        "drafts/a.odt",
        "--format",
        "margin",
        "--out",
        "copy.odt",
    ]);
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    let copy = fs::read(review.path("copy.odt")).unwrap();
    let mut archive = zip::ZipArchive::new(Cursor::new(copy)).unwrap();
    let mut content = String::new();
    let mut member = archive.by_name("content.xml").unwrap();
    member.read_to_string(&mut content).unwrap();
    assert!(content.starts_with("<?xml version=\"1.0\" encoding=\"UTF-8\"?>"));
    assert!(content.contains("<dc:creator>ownwords</dc:creator>"));
}

#[test]
fn a_draft_that_is_not_sound_gets_no_copy_and_the_reason() {
    let body = format!("<text:p>{OWN}<x:y/> Under a lamp {COPIED}.</text:p>");
    let review = Review::of_two().file("drafts/a.odt", odt(&body, "UTF-8"));
    let check = ["check", "drafts/a.odt"];
    // It can be checked all the same.
    assert_eq!(review.run(&check).status.code(), Some(1));
    let output = review.run(&[&check[..], &["--format", "margin", "--out", "copy.odt"]].concat());
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    let told = String::from_utf8(output.stderr).unwrap();
    assert!(
        told.contains("drafts/a.odt: comments can't be put into this file"),
        "{told}"
    );
    assert!(told.contains("the prefix of x:y is not declared"), "{told}");
    let there = fs::read_dir(review.root()).unwrap().flatten();
    let ours = there.map(|entry| entry.file_name().to_string_lossy().into_owned());
    let ours: Vec<String> = ours
        .filter(|name| name.contains("copy") || name.starts_with('.'))
        .collect();
    assert_eq!(ours, [""; 0]);
}
