//! `place --review`: where in the sources a rewrite most likely comes from.

use std::path::Path;

use crate::common::run;
use serde_json::{Value, json};

fn repository() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The lines that answer to some rewrites, of which each is a line's id and text.
fn traced(rewrites: &[(&str, &str)], more: &[&str]) -> Vec<Value> {
    let folder = tempfile::tempdir().unwrap();
    let lines: Vec<String> = rewrites
        .iter()
        .map(|(id, rewrite)| json!({"id": id, "rewrite": rewrite}).to_string())
        .collect();
    let pairs = folder.path().join("rewrites.jsonl");
    std::fs::write(&pairs, lines.join("\n")).unwrap();
    let pairs = pairs.display().to_string();
    let mut arguments = vec!["place", "--review", "corpus-demo", "--pairs", &pairs];
    arguments.extend(more);
    let output = run(repository(), &arguments);
    assert_eq!(String::from_utf8_lossy(&output.stderr), "");
    assert_eq!(output.status.code(), Some(0));
    let schema = run(repository(), &["explain", "schema-place"]).stdout;
    let schema = jsonschema::validator_for(&serde_json::from_slice(&schema).unwrap()).unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    let line = |line: &str| {
        let line: Value = serde_json::from_str(line).unwrap();
        assert!(schema.is_valid(&line), "{line}");
        line
    };
    let lines: Vec<Value> = text.lines().map(line).collect();
    let ids: Vec<&str> = rewrites.iter().map(|(id, _)| *id).collect();
    let answered: Vec<&str> = lines
        .iter()
        .map(|line| line["id"].as_str().unwrap())
        .collect();
    assert_eq!(answered, ids);
    lines
}

/// A text without the lines that mark its pages.
fn without_page_marks(text: &str) -> String {
    let lines: Vec<&str> = text
        .lines()
        .filter(|line| !line.starts_with("[p. "))
        .collect();
    lines.join("\n")
}

/// Sentences of a stored source, each with an id.
fn sentences(source: &str) -> Vec<(String, String)> {
    let text = std::fs::read_to_string(repository().join(source)).unwrap();
    let text = without_page_marks(&text);
    let blocks = text.split("\n\n").map(|block| block.replace('\n', " "));
    blocks
        .flat_map(|block| {
            let sentences = block.split_inclusive(". ");
            sentences
                .map(|sentence| sentence.trim().to_owned())
                .collect::<Vec<_>>()
        })
        .filter(|sentence| sentence.split_whitespace().count() >= 12 && !sentence.contains('['))
        .enumerate()
        .map(|(number, sentence)| (number.to_string(), sentence))
        .collect()
}

#[test]
fn sentences_of_a_source_lead_back_to_it() {
    let all = sentences("corpus-demo/sources/harrow2019a.txt");
    assert!(all.len() >= 20, "{}", all.len());
    let rewrites: Vec<(&str, &str)> = all
        .iter()
        .map(|(id, s)| (id.as_str(), s.as_str()))
        .collect();
    for (line, (_, sentence)) in traced(&rewrites, &[]).iter().zip(&rewrites) {
        assert_eq!(line["origin"]["key"], "harrow2019a", "{line}");
        assert!(line["sureness"].as_f64().unwrap() > 0.9, "{line}");
        let origin = without_page_marks(line["origin"]["text"].as_str().unwrap());
        let origin = origin.replace('\n', " ");
        let first: Vec<&str> = sentence.split_whitespace().take(6).collect();
        assert!(origin.contains(&first.join(" ")), "{sentence}\n{origin}");
    }
}

#[test]
fn what_nobody_stored_is_not_sure() {
    let rewrites = [
        (
            "council",
            "The council voted in spring to widen the bridge and to pay for it by a levy on carts and barges.",
        ),
        ("few", "Zyzzyva quokkas."),
        ("none", "It was what it was, and so were they."),
    ];
    for line in traced(&rewrites, &[]) {
        assert!(line["sureness"].as_f64().unwrap() < 0.2, "{line}");
        assert!(line.get("degree").is_none(), "{line}");
        assert_eq!(line["origin"].is_null(), line["id"] != "council", "{line}");
    }
}

#[test]
fn threads_make_no_difference() {
    let all = sentences("corpus-demo/sources/harrow2019a.txt");
    let rewrites: Vec<(&str, &str)> = all
        .iter()
        .map(|(id, s)| (id.as_str(), s.as_str()))
        .collect();
    assert_eq!(
        traced(&rewrites, &["--jobs", "1"]),
        traced(&rewrites, &["--jobs", "3"])
    );
}

#[test]
fn a_file_is_traced_for_reading() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("mine.txt");
    let all = sentences("corpus-demo/sources/harrow2019a.txt");
    std::fs::write(&path, &all[3].1).unwrap();
    let path = path.display().to_string();
    let output = run(repository(), &["place", "--review", "corpus-demo", &path]);
    let said = String::from_utf8(output.stdout).unwrap();
    assert_eq!(output.status.code(), Some(0), "{said}");
    assert!(
        said.contains("Harrow (2019a), p. 109") && said.contains("very likely (sureness "),
        "{said}"
    );
    assert!(said.contains("verbatim"), "{said}");
    assert!(said.contains("not a judgement about a person"), "{said}");
}

#[test]
fn bad_lines_are_told_and_the_others_answered() {
    let folder = tempfile::tempdir().unwrap();
    let pairs = folder.path().join("rewrites.jsonl");
    let lines = [
        r#"{"id": 1, "rewrite": ""}"#,
        r#"{"id": 2}"#,
        r#"{"id": 3, "rewrite": "Lamps hold moths and moths hold still beside lamps."}"#,
    ];
    std::fs::write(&pairs, lines.join("\n")).unwrap();
    let pairs = pairs.display().to_string();
    let output = run(
        repository(),
        &["place", "--review", "corpus-demo", "--pairs", &pairs],
    );
    let faults = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(
        faults.contains("line 1: the rewrite holds no words"),
        "{faults}"
    );
    assert!(
        faults.contains("line 2: \"rewrite\" is missing"),
        "{faults}"
    );
    assert!(
        faults.contains(
            r#"2 lines were left out; a line has to hold an object such as {"id": 1, "rewrite": "#
        ),
        "{faults}"
    );
    let answers = String::from_utf8(output.stdout).unwrap();
    assert_eq!(answers.lines().count(), 1);
    assert!(answers.starts_with(r#"{"id":3,"#), "{answers}");
}

#[test]
fn a_quotation_is_found_in_spite_of_its_marks() {
    let all = sentences("corpus-demo/sources/harrow2019a.txt");
    let quoted = format!("\u{201c}{}\u{201d} (Harrow, 2019a, p. 1).", all[5].1);
    let line = traced(&[("quoted", &quoted)], &[]).remove(0);
    assert_eq!(line["origin"]["key"], "harrow2019a");
    assert!(line["sureness"].as_f64().unwrap() > 0.9, "{line}");
}

#[test]
fn a_chapter_is_no_passage() {
    let chapter = "corpus-demo/drafts/chapter-1.md";
    let output = run(repository(), &["place", "--review", "corpus-demo", chapter]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(
        said.contains("more than one passage") && said.contains("ownwords check"),
        "{said}"
    );
}

/// Shared stretches stand where they are said to stand: in the rewrite's file and in the whole source, page marks and
/// all.
#[test]
fn shared_stretches_have_their_places_in_the_source() {
    let folder = tempfile::tempdir().unwrap();
    let rewrite = "Under the burning lamp the campion received one visit for every four that it received in the \
        dark. Moths that came near it turned to the lantern within a few wingbeats.";
    let source =
        crate::common::HARROW.replace("received in the dark.", "received\n[p. 114]\nin the dark.");
    let review = crate::common::Review::new()
        .reference(crate::common::HARROW_REFERENCE)
        .source("harrow2019.txt", &source);
    let path = folder.path().join("rewrite.txt");
    std::fs::write(&path, rewrite).unwrap();
    let path = path.display().to_string();
    let json = review.run(&["place", "--review", ".", "--format", "json", &path]);
    let json: Value = serde_json::from_slice(&json.stdout).unwrap();
    let origin = &json["origin"];
    let source = review.run(&["text", "--plain", origin["path"].as_str().unwrap()]);
    let source = String::from_utf8(source.stdout).unwrap();
    let slice = |text: &str, range: &Value| {
        let at = |end: &str| usize::try_from(range[end].as_u64().unwrap()).unwrap();
        text[at("start")..at("end")].to_owned()
    };
    assert_eq!(origin["text"], slice(&source, origin));
    assert_eq!(origin["page_marks"].as_array().map(Vec::len), Some(1));
    let shared = json["shared"].as_array().unwrap();
    let strings = shared.iter().filter(|place| place["by"] == "string");
    let mut count = 0;
    for place in strings {
        let words = |text: String| -> Vec<String> {
            let text = without_page_marks(&text).to_lowercase();
            text.split_whitespace().map(str::to_owned).collect()
        };
        assert_eq!(
            words(slice(rewrite, &place["draft"])),
            words(slice(&source, &place["source"])),
            "{place}"
        );
        count += 1;
    }
    assert!(count > 0, "{json}");
}
