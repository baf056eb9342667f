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
fn the_preface_in_both_directions() {
    both_directions("drafts/preface.md", 6);
}

/// A text without quotation marks, blank space and signs of emphasis, which the Text of a file may show
/// otherwise than the file.
fn bare(text: &str) -> String {
    text.chars()
        .filter(|c| !c.is_whitespace() && !"*_>\"“”‘’'".contains(*c))
        .collect()
}

/// The quotations of the account for which `is` says yes of its item and of itself, as `file: text`.
fn accounted(account: &Value, is: impl Fn(&Value, &Value) -> bool) -> Vec<(String, Value)> {
    let list = |value: &Value| value.as_array().expect("a list").clone();
    let mut found = Vec::new();
    for item in list(&account["quotations"]) {
        for place in list(&item["places"]) {
            if is(&item, &place) {
                let path = place["path"].as_str().expect("a path");
                let text = bare(place["text"].as_str().expect("a text"));
                found.push((format!("{path}: {text}"), place));
            }
        }
    }
    found
}

/// The account of the quotations: what is planted is told as what it is, and nothing else is told so.
#[test]
fn the_account_of_quotations_in_both_directions() {
    let planted = planted();
    let account: Value =
        serde_json::from_str(&run(&["quotations", "--format", "json"])).expect("JSON");
    let empty = |value: &Value| value.as_array().expect("a list").is_empty();
    let in_notes = |place: &Value| place["where"] == "notes";
    let to_mend = |_: &Value, place: &Value| place["to_mend"] == true && empty(&place["unmarked"]);
    let unused = |item: &Value, place: &Value| {
        in_notes(place) && item["used"] == false && empty(&place["unmarked"])
    };
    let unmarked = |_: &Value, place: &Value| !empty(&place["unmarked"]);
    let secondary = |_: &Value, place: &Value| place["secondary"] == true;
    let found = [
        ("to_mend", accounted(&account, to_mend)),
        ("noted_unused", accounted(&account, unused)),
        ("used_unmarked", accounted(&account, unmarked)),
        ("secondary", accounted(&account, secondary)),
    ];
    let mut wrong = Vec::new();
    for (list, found) in found {
        let cases = planted["quotations"][list].as_array().expect("a list");
        let name = |case: &Value| {
            let text = bare(case["text"].as_str().expect("a text"));
            format!("{}: {text}", case["file"].as_str().expect("a file"))
        };
        for case in cases {
            let Some((_, place)) = found.iter().find(|(found, _)| *found == name(case)) else {
                wrong.push(format!("{} is not told as {list}", case["id"]));
                continue;
            };
            for field in ["wording", "page", "credit"] {
                if !case[field].is_null() && case[field] != place[field] {
                    wrong.push(format!("{}: {field} is {}", case["id"], place[field]));
                }
            }
        }
        for (text, _) in found {
            if !cases.iter().any(|case| name(case) == text) {
                wrong.push(format!("told as {list}, not planted: {text}"));
            }
        }
    }
    // Each item that is used twice holds one planted text, and the other way round.
    let twice = planted["quotations"]["used_twice"]
        .as_array()
        .expect("a list");
    let items = account["quotations"].as_array().expect("a list").iter();
    let items: Vec<&Value> = items.filter(|item| item["used_twice"] == true).collect();
    for case in twice {
        let wanted = bare(case["text"].as_str().expect("a text"));
        let holds = |item: &&Value| {
            let mut places = item["places"].as_array().expect("a list").iter();
            places.any(|place| {
                place["path"] == case["file"]
                    && bare(place["text"].as_str().expect("a text")) == wanted
            })
        };
        if items.iter().filter(|item| holds(item)).count() != 1 {
            wrong.push(format!("{} is not told as used twice", case["id"]));
        }
    }
    if items.len() != twice.len() {
        wrong.push(format!(
            "{} are used twice, {} planted",
            items.len(),
            twice.len()
        ));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    // The counts at the top are those of the list.
    let unused = planted["quotations"]["noted_unused"].as_array();
    let unused = unused.expect("a list").len();
    assert_eq!(account["counts"]["noted_unused"], unused);
    assert_eq!(account["counts"]["used_twice"], twice.len());
}

/// The check of the notes, with each finding's file beside it.
fn check_notes(arguments: &[&str]) -> (Value, Vec<(String, Value)>) {
    let arguments = [&["notes", "--format", "json"], arguments].concat();
    let report: Value = serde_json::from_str(&run(&arguments)).expect("JSON");
    let mut findings = Vec::new();
    for entry in report["entries"].as_array().expect("a list") {
        let path = entry["path"].as_str().expect("a path");
        for finding in entry["findings"].as_array().expect("a list") {
            findings.push((path.to_owned(), finding.clone()));
        }
    }
    (report, findings)
}

#[test]
fn the_notes_in_both_directions() {
    let planted = planted();
    let list = |name: &str| planted[name].as_array().expect("a list").clone();
    let (report, findings) = check_notes(&[]);
    let mut wrong = Vec::new();
    let mut expected = vec![false; findings.len()];
    let plain = |file: &Value| run(&["text", "--plain", file.as_str().expect("a file")]);
    for case in list("notes") {
        let place = locate(
            &plain(&case["file"]),
            case["text"].as_str().expect("a text"),
        );
        let found = findings.iter().enumerate().find(|(at, (path, finding))| {
            !expected[*at]
                && case["file"] == path.as_str()
                && finding["kind"] == case["kind"]
                && same_place(&range(finding), &place)
        });
        match found {
            Some((at, (_, finding))) => {
                expected[at] = true;
                for difference in differences(&case, finding) {
                    wrong.push(format!("{} ({}): {difference}", case["id"], case["kind"]));
                }
            }
            None => wrong.push(format!("{} ({}) was not found", case["id"], case["kind"])),
        }
    }
    for ((path, finding), _) in findings.iter().zip(&expected).filter(|(_, found)| !**found) {
        wrong.push(format!(
            "not planted: {path}: {} {}",
            finding["kind"], finding["draft"]["text"]
        ));
    }
    for honest in list("honest_notes") {
        let place = locate(
            &plain(&honest["file"]),
            honest["text"].as_str().expect("a text"),
        );
        let of_file = findings
            .iter()
            .filter(|(path, _)| honest["file"] == path.as_str());
        for (_, finding) in of_file {
            let found = range(finding);
            if found.start < place.end && place.start < found.end {
                wrong.push(format!(
                    "an honest note became {}: {}",
                    finding["kind"], honest["text"]
                ));
            }
        }
    }
    let told: Vec<Value> = report["not_entries"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|one| serde_json::json!({"file": one["path"], "heading": one["heading"], "words": one["words"]}))
        .collect();
    assert_eq!(told, list("not_entries"));
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(list("notes").len() > 10 && list("honest_notes").len() > 10);
}

#[test]
fn each_entry_alone_is_told_as_among_the_others() {
    let (report, _) = check_notes(&[]);
    let entries = report["entries"].as_array().expect("a list");
    let clean = entries.iter().filter(|entry| entry["clean"] == true);
    assert_eq!(clean.count(), 1);
    for entry in entries {
        let Some(key) = entry["key"].as_str() else {
            continue;
        };
        let (alone, _) = check_notes(&["--entry", key]);
        let mut among = entry.clone();
        // Order is asked of all entries together.
        let findings = among["findings"].as_array_mut().expect("a list");
        findings.retain(|finding| finding["kind"] != "entry-order");
        among["clean"] = findings.is_empty().into();
        assert_eq!(alone["entries"], serde_json::json!([among]), "{key}");
        assert_eq!(alone["references_without_entry"], serde_json::json!([]));
    }
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
