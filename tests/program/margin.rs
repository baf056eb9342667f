//! `check --format margin`: what is refused. What it writes is held to LibreOffice's reading in
//! `reference_readers/margin.rs`.

use crate::common::Review;
use crate::common::word::intricate;

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
