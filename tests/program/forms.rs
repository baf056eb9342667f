//! Reports for editors, version control and messages, as the built program writes them.

use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

const DRAFT: &str = "corpus-demo/drafts/chapter-1.md";

fn report(format: &str, draft: &str) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_ownwords"))
        .args([
            "check",
            "--review",
            "corpus-demo",
            "--format",
            format,
            draft,
        ])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("the program runs");
    assert_eq!(
        output.status.code(),
        Some(1),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout).expect("reports are UTF-8")
}

/// The findings of the JSON report that are not settled.
fn open_findings(draft: &str) -> Vec<Value> {
    let report: Value = serde_json::from_str(&report("json", draft)).unwrap();
    let findings = report["drafts"][0]["findings"].as_array().unwrap();
    let open = findings
        .iter()
        .filter(|finding| finding["settled"].is_null());
    open.cloned().collect()
}

/// The place that a byte of a file has in an editor: line and column from 1, in characters.
fn place(content: &str, at: usize) -> (usize, usize) {
    let before = &content[..at];
    let line_start = before.rfind('\n').map_or(0, |end| end + 1);
    let line = 1 + before.matches('\n').count();
    (line, 1 + before[line_start..].chars().count())
}

#[test]
fn lines_lead_to_the_words_in_the_file() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let content = std::fs::read_to_string(root.join(DRAFT)).unwrap();
    let lines = report("lines", DRAFT);
    let findings = open_findings(DRAFT);
    assert_eq!(lines.lines().count(), findings.len());
    for (line, finding) in lines.lines().zip(findings) {
        let rest = line.strip_prefix(&format!("{DRAFT}:")).expect(line);
        let mut parts = rest.splitn(3, ':');
        let mut number = || parts.next().unwrap().parse::<usize>().expect(line);
        let told = (number(), number());
        // The passage's first word stands there, whatever markup is between the words.
        let words = finding["draft"]["text"].as_str().unwrap();
        let first = words.split_whitespace().next().unwrap();
        let first = first.trim_matches(|c: char| !c.is_alphanumeric());
        let starts = content
            .match_indices(first)
            .map(|(at, _)| place(&content, at));
        let near = |(line, column): (usize, usize)| line == told.0 && column.abs_diff(told.1) <= 3;
        assert!(starts.into_iter().any(near), "{line}\n{words}");
        assert!(line.contains(finding["id"].as_str().unwrap()));
    }
}

/// The schema of SARIF 2.1.0 as OASIS publishes it, which the crate `serde-sarif` carries. Its source is fetched
/// by name and never compiled.
fn sarif_schema() -> Value {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked"])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("cargo runs");
    assert!(
        output.status.success(),
        "the crate serde-sarif, which carries the schema, could not be fetched: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    let metadata: Value = serde_json::from_slice(&output.stdout).unwrap();
    let packages = metadata["packages"].as_array().unwrap();
    let package = packages
        .iter()
        .find(|package| package["name"] == "serde-sarif")
        .expect("serde-sarif is among the development dependencies");
    let manifest = PathBuf::from(package["manifest_path"].as_str().unwrap());
    let schema = std::fs::read(manifest.with_file_name("src").join("schema.json")).unwrap();
    let mut schema: Value = serde_json::from_slice(&schema).unwrap();
    // As published, the pattern for languages has a bracket too many, which strict readers refuse.
    for definition in ["run", "toolComponent"] {
        let language = &mut schema["definitions"][definition]["properties"]["language"];
        language.as_object_mut().unwrap().remove("pattern");
    }
    schema
}

#[test]
fn sarif_holds_to_the_standard() {
    let schema = sarif_schema();
    let validator = jsonschema::validator_for(&schema).unwrap();
    // A check that can't fail is none.
    assert!(!validator.is_valid(&serde_json::json!({ "version": "2.1.0", "runs": [{}] })));
    let written: Value = serde_json::from_str(&report("sarif", DRAFT)).unwrap();
    let errors: Vec<String> = validator
        .iter_errors(&written)
        .map(|error| format!("{}: {error}", error.instance_path()))
        .collect();
    assert!(errors.is_empty(), "{errors:#?}");

    let run = &written["runs"][0];
    let results = run["results"].as_array().unwrap();
    let open = results
        .iter()
        .filter(|result| result["suppressions"].is_null());
    let findings = open_findings(DRAFT);
    assert_eq!(open.clone().count(), findings.len());
    for (result, finding) in open.zip(findings) {
        assert_eq!(result["ruleId"], finding["kind"]);
        let rule = result["ruleIndex"].as_u64().unwrap() as usize;
        assert_eq!(run["tool"]["driver"]["rules"][rule]["id"], result["ruleId"]);
        assert_eq!(
            result["partialFingerprints"]["ownwordsFinding/v1"],
            finding["id"]
        );
        let location = &result["locations"][0]["physicalLocation"];
        assert_eq!(location["artifactLocation"]["uri"], DRAFT);
        assert!(location["region"]["startLine"].as_u64() >= Some(1));
    }
}

#[test]
fn markdown_tells_every_finding_and_the_cautions() {
    let written = report("markdown", DRAFT);
    let findings = open_findings(DRAFT);
    assert_eq!(written.matches("\n## ").count(), findings.len());
    assert_eq!(written.matches("**To mend:** ").count(), findings.len());
    for finding in findings {
        assert!(written.contains(finding["id"].as_str().unwrap()));
    }
    assert!(written.contains("not a judgement about a person"));
    assert!(!written.contains('\u{1b}'));
}
