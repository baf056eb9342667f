//! Findings in files that a draft includes are told where these files have them.

use crate::common::{OWN, Review};
use serde_json::Value;

const COPIED: &str = "the campion received one visit for every four that it received in the dark";

#[test]
fn findings_have_their_place_in_the_included_file() {
    let included = format!("\u{feff}\\section{{Dark}}\n\nI know that {COPIED}.\n");
    let main = format!(
        "\\documentclass{{book}}\n\\begin{{document}}\n{OWN}\n\n\\include{{parts/one}}\n\nHere too {COPIED}.\n\\end{{document}}\n"
    );
    let review = Review::of_two()
        .file("drafts/parts/one.tex", included)
        .file("drafts/main.tex", main);
    let report = |format: &str| {
        let output = review.run(&["check", "drafts/main.tex", "--format", format]);
        String::from_utf8(output.stdout).unwrap()
    };
    let lines = report("lines");
    let copies: Vec<&str> = lines.lines().filter(|line| line.contains("copy")).collect();
    let starts = |wanted: &str| copies.iter().any(|line| line.starts_with(wanted));
    assert_eq!(copies.len(), 2, "{lines}");
    assert!(starts("drafts/parts/one.tex:3:1: "), "{lines}");
    assert!(starts("drafts/main.tex:7:1: "), "{lines}");

    let sarif: Value = serde_json::from_str(&report("sarif")).unwrap();
    let results = sarif["runs"][0]["results"].as_array().unwrap();
    let places: Vec<(&str, u64)> = results
        .iter()
        .map(|result| {
            let place = &result["locations"][0]["physicalLocation"];
            let uri = place["artifactLocation"]["uri"].as_str().unwrap();
            (uri, place["region"]["startLine"].as_u64().unwrap())
        })
        .collect();
    assert_eq!(
        places,
        [("drafts/parts/one.tex", 3), ("drafts/main.tex", 7)]
    );
}
