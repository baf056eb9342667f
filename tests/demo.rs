//! The demo review, checked as a user checks it, in both directions: each planted case is found with
//! its kind, source, page, degree and credit, and nothing else is found.

use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("corpus-demo")
}

fn run(arguments: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_ownwords"))
        .current_dir(demo())
        .args(arguments)
        .output()
        .expect("the program starts");
    assert!(
        output.status.code().is_some_and(|code| code < 2),
        "{arguments:?}: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout).expect("the output is UTF-8")
}

fn planted() -> Value {
    let path = demo().join("planted.json");
    let file = std::fs::read_to_string(&path).expect("corpus-demo/planted.json is there");
    serde_json::from_str(&file).expect("corpus-demo/planted.json is JSON")
}

/// Where a passage of the draft file stands in its Text: markup aside, blank space alike.
#[track_caller]
fn locate(text: &str, passage: &str) -> std::ops::Range<usize> {
    let plain: Vec<char> = passage
        .chars()
        .filter(|c| !c.is_whitespace() && !"*_>".contains(*c))
        .collect();
    let stripped: Vec<(usize, char)> = text
        .char_indices()
        .filter(|(_, c)| !c.is_whitespace() && !"*_>".contains(*c))
        .collect();
    let at = stripped
        .windows(plain.len())
        .position(|window| window.iter().map(|(_, c)| *c).eq(plain.iter().copied()))
        .unwrap_or_else(|| panic!("not in the draft: {passage}"));
    let (last, c) = stripped[at + plain.len() - 1];
    stripped[at].0..last + c.len_utf8()
}

struct Draft {
    findings: Vec<Value>,
    text: String,
}

fn check(draft: &str) -> Draft {
    let report: Value =
        serde_json::from_str(&run(&["check", "--format", "json", draft])).expect("JSON");
    Draft {
        findings: report["drafts"][0]["findings"]
            .as_array()
            .expect("a list")
            .clone(),
        text: run(&["text", "--plain", draft]),
    }
}

fn range(finding: &Value) -> std::ops::Range<usize> {
    let at = |name: &str| finding["draft"][name].as_u64().expect("a position") as usize;
    at("start")..at("end")
}

/// Whether two ranges are the same place: each lies for the most part in the other.
fn same_place(a: &std::ops::Range<usize>, b: &std::ops::Range<usize>) -> bool {
    let common = a.end.min(b.end).saturating_sub(a.start.max(b.start));
    common * 10 >= a.len() * 7 && common * 10 >= b.len() * 7
}

/// What a finding says differently from the planted case; empty where they agree.
fn differences(case: &Value, finding: &Value) -> Vec<String> {
    let mut differences = Vec::new();
    let mut compare = |what: &str, expected: &Value, found: &Value| {
        if !expected.is_null() && expected != found {
            differences.push(format!("{what}: planted {expected}, found {found}"));
        }
    };
    compare("degree", &case["degree"], &finding["degree"]);
    compare("source", &case["source"], &finding["source"]["key"]);
    compare("credit", &case["credit"], &finding["credit"]["state"]);
    compare("entry", &case["note"]["entry"], &finding["note"]["entry"]);
    compare("part", &case["note"]["part"], &finding["note"]["part"]);
    if let Some(page) = case["page"].as_str() {
        let pages = finding["source"]["page"].as_str().unwrap_or("none");
        if !pages.split(['-', '–']).any(|label| label == page) {
            differences.push(format!("page: planted {page}, found {pages}"));
        }
    }
    if finding["settled"].is_null() == (case["settled"] == true) {
        differences.push(format!("settled: found {}", finding["settled"]));
    }
    if let Some(near) = case["near"].as_str() {
        let advice = finding["advice"].as_str().unwrap_or_default();
        if !advice.contains(near) {
            differences.push(format!("near: {near} is not in {advice:?}"));
        }
    }
    differences
}

/// Holds a draft with at least so many planted cases to them.
fn both_directions(draft: &str, least: usize) {
    let planted = planted();
    let checked = check(draft);
    let of_draft = |list: &str| -> Vec<Value> {
        let list = planted[list].as_array().expect("a list");
        list.iter()
            .filter(|item| item["draft"] == draft)
            .cloned()
            .collect()
    };
    let cases = of_draft("cases");
    let mut wrong = Vec::new();
    let mut expected = vec![false; checked.findings.len()];
    for case in &cases {
        let place = locate(&checked.text, case["text"].as_str().expect("a text"));
        let found = checked.findings.iter().enumerate().find(|(at, finding)| {
            !expected[*at] && finding["kind"] == case["kind"] && same_place(&range(finding), &place)
        });
        match found {
            Some((at, finding)) => {
                expected[at] = true;
                for difference in differences(case, finding) {
                    wrong.push(format!("{} ({}): {difference}", case["id"], case["kind"]));
                }
            }
            None => wrong.push(format!(
                "{} ({}) was not found: {}",
                case["id"], case["kind"], case["text"]
            )),
        }
    }
    for (finding, _) in checked
        .findings
        .iter()
        .zip(&expected)
        .filter(|(_, expected)| !**expected)
    {
        wrong.push(format!(
            "not planted: {} {} {} {}: {}",
            finding["kind"],
            finding["degree"],
            finding["source"]["key"],
            finding["weight"],
            finding["draft"]["text"]
        ));
    }
    for honest in of_draft("honest") {
        let place = locate(&checked.text, honest["text"].as_str().expect("a text"));
        for finding in &checked.findings {
            let found = range(finding);
            let common = found
                .end
                .min(place.end)
                .saturating_sub(found.start.max(place.start));
            if common * 2 > place.len() {
                wrong.push(format!(
                    "an honest passage became {}: {}",
                    finding["kind"], honest["text"]
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{draft}:\n{}", wrong.join("\n"));
    assert!(
        cases.len() >= least,
        "{draft} has {} planted cases",
        cases.len()
    );
}

#[test]
fn chapter_1_in_both_directions() {
    both_directions("drafts/chapter-1.md", 11);
}

#[test]
fn chapter_2_in_both_directions() {
    both_directions("drafts/chapter-2.md", 11);
}

#[test]
fn chapter_3_in_both_directions() {
    both_directions("drafts/chapter-3.md", 9);
}

/// The third chapter against its earlier version: each planted case is mended, still there, changed or
/// new as planted, and nothing else is.
#[test]
fn chapter_3_since_its_earlier_version() {
    let planted = planted();
    let wanted = &planted["since"];
    let (draft, earlier) = (
        wanted["draft"].as_str().unwrap(),
        wanted["earlier"].as_str().unwrap(),
    );
    let report: Value = serde_json::from_str(&run(&[
        "check", "--format", "json", draft, "--since", earlier,
    ]))
    .expect("JSON");
    let found = &report["drafts"][0];
    let since = &found["since"];
    let mended: Vec<&Value> = since["mended"]
        .as_array()
        .unwrap()
        .iter()
        .map(|past| &past["text"])
        .collect();
    assert_eq!(
        mended,
        wanted["mended"]
            .as_array()
            .unwrap()
            .iter()
            .collect::<Vec<_>>()
    );
    let text = run(&["text", "--plain", draft]);
    // The planted case of a finding, by its kind and place.
    let case_of = |id: &Value| -> Value {
        let findings = found["findings"].as_array().unwrap();
        let finding = findings
            .iter()
            .find(|finding| finding["id"] == *id)
            .expect("a finding");
        let cases = planted["cases"].as_array().unwrap().iter();
        let case = cases.filter(|case| case["draft"] == draft).find(|case| {
            case["kind"] == finding["kind"]
                && same_place(
                    &range(finding),
                    &locate(&text, case["text"].as_str().unwrap()),
                )
        });
        case.map_or(Value::Null, |case| case["id"].clone())
    };
    for state in ["still", "changed", "new"] {
        let ids = since[state].as_array().unwrap().iter();
        let mut cases: Vec<Value> = ids
            .map(|id| case_of(if state == "changed" { &id["id"] } else { id }))
            .collect();
        cases.sort_by_key(Value::to_string);
        assert_eq!(cases, *wanted[state].as_array().unwrap(), "{state}");
    }
}

/// The same bytes whatever the number of threads, and for a draft whether others are checked with it.
#[test]
fn the_same_output_with_any_number_of_threads() {
    let drafts = ["drafts/chapter-1.md", "drafts/chapter-2.md"];
    for format in ["json", "terminal"] {
        let one = run(&[
            "check", "--jobs", "1", "--format", format, drafts[0], drafts[1],
        ]);
        for jobs in ["2", "3", "8"] {
            let many = run(&[
                "check", "--jobs", jobs, "--format", format, drafts[0], drafts[1],
            ]);
            assert!(
                one == many,
                "{format} with {jobs} jobs differs from one job"
            );
        }
    }
    let together: Value =
        serde_json::from_str(&run(&["check", "--format", "json", drafts[0], drafts[1]]))
            .expect("JSON");
    for (number, draft) in drafts.iter().enumerate() {
        let alone: Value =
            serde_json::from_str(&run(&["check", "--format", "json", draft])).expect("JSON");
        assert_eq!(
            together["drafts"][number]["findings"],
            alone["drafts"][0]["findings"]
        );
    }
}
