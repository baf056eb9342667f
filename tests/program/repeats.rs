//! The writer's own wording that stands in two chapters: told only where it is asked for.

use crate::common::{HARROW_REFERENCE, OWN, Review, text};
use serde_json::Value;

const MINE: &str = "I take a visit to be any touch of the open flower that lasts for a second or more, whoever makes it.";
const COPIED: &str =
    "Hawk moths, by contrast, left the lamp after some minutes and went back to the honeysuckle.";
const QUOTED: &str = "\"Under the burning lamp the campion received one visit for every four that it received in the dark\" (Harrow, 2019, p. 113).";

fn review(first: &str, second: &str) -> Review {
    Review::of_two()
        .file(
            "drafts/chapter-1.md",
            format!(
                "# On visits and lamps in the hedges of this parish and others nearby\n\n{first}\n"
            ),
        )
        .file(
            "drafts/chapter-2.md",
            format!(
                "# On visits and lamps in the hedges of this parish and others nearby\n\n{second}\n"
            ),
        )
}

fn repeated(review: &Review, more: &[&str]) -> Vec<Value> {
    let checked = review.check_with(&[&["drafts"], more].concat());
    let drafts = checked.json["drafts"].as_array().unwrap();
    let findings = drafts
        .iter()
        .flat_map(|draft| draft["findings"].as_array().unwrap());
    findings
        .filter(|finding| finding["kind"] == "own-words-repeated")
        .cloned()
        .collect()
}

#[test]
fn own_words_are_told_at_the_later_place_when_asked_for() {
    let review = review(
        &format!("{MINE} And so on."),
        &format!("To begin with: {MINE} More follows."),
    );
    assert!(repeated(&review, &[]).is_empty(), "off by default");
    let found = repeated(&review, &["--repeats"]);
    assert_eq!(found.len(), 1, "{found:#?}");
    assert!(
        text(&found[0]["draft"]["text"]).starts_with("I take a visit"),
        "{found:#?}"
    );
    assert!(
        text(&found[0]["advice"]).contains("drafts/chapter-1.md, line 3"),
        "{found:#?}"
    );
    assert_eq!(found[0]["weight"], "know");
    // The setting does the same, and its number counts.
    let words = MINE.split_whitespace().count();
    assert_eq!(
        repeated(&review.setting(&format!("repeated_words = {words}")), &[]).len(),
        1
    );
    let review = self::review(MINE, MINE).setting(&format!("repeated_words = {}", words + 1));
    assert!(
        repeated(&review, &["--repeats"]).is_empty(),
        "the setting is stronger than the usual number"
    );
}

#[test]
fn what_is_not_the_writers_own_is_left_alone() {
    for both in [COPIED, QUOTED, OWN.get(..40).unwrap()] {
        let review = review(
            &format!("As I said, {both}"),
            &format!("Let me repeat: {both}"),
        );
        assert!(repeated(&review, &["--repeats"]).is_empty(), "{both}");
    }
    let listed = format!(
        "# References\n\nHarrow, A. (2019). {}",
        "Campion after eleven and a good many further words of a long title. Annals of the Unlit Lane, 113-114."
    );
    let review = review(
        &format!("One (Harrow, 2019).\n\n{listed}"),
        &format!("Two (Harrow, 2019).\n\n{listed}"),
    )
    .reference(&HARROW_REFERENCE.replace("harrow2019", "harrow2019x"));
    assert!(
        repeated(&review, &["--repeats"]).is_empty(),
        "lists of references"
    );
    // Within one chapter, and with one chapter alone, there is nothing to compare.
    let one = self::review(&format!("{MINE} {MINE}"), OWN);
    assert!(repeated(&one, &["--repeats"]).is_empty());
}

#[test]
fn of_three_chapters_the_longest_run_is_told_once() {
    let review = review(MINE, &format!("{MINE} {}", OWN))
        .file("drafts/chapter-3.md", format!("{MINE} {OWN}\n"));
    let found = repeated(&review, &["--repeats"]);
    assert_eq!(found.len(), 2, "{found:#?}");
    assert!(
        text(&found[1]["advice"]).contains("chapter-2.md"),
        "{found:#?}"
    );
}

#[test]
fn it_can_be_settled() {
    let review = review(MINE, MINE).setting("repeated_words = 12");
    let id = text(&repeated(&review, &[])[0]["id"]).to_owned();
    let settled = review.run(&["settle", &id, "--because", "each chapter is read alone"]);
    assert!(
        settled.status.success(),
        "{}",
        String::from_utf8_lossy(&settled.stderr)
    );
    assert!(!repeated(&review, &[])[0]["settled"].is_null());
}
