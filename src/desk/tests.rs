//! The desk as a page uses it: by requests.

use std::path::Path;

use serde_json::{Value, json};

use super::{Answer, Desk, Request, Taken, demo};

const COPIED: &str = "The lane behind the mill stayed dark from eleven until five in both summers.";
const REFERENCES: &str = "@book{vane2011, author={Vane, Ada}, title={Mill lanes}, date={2011}}";

fn empty() -> Desk {
    Desk::empty(Box::new(|_| {}))
}

fn request(request: Value) -> Request {
    serde_json::from_value(request).unwrap()
}

#[track_caller]
fn asked(desk: &mut Desk, what: Value) -> Value {
    match desk.answer(request(what)).unwrap() {
        Answer::Json(json) => json,
        Answer::File(taken) => panic!("a file: {}", taken.name),
    }
}

#[track_caller]
fn taken(desk: &mut Desk, what: Value) -> Taken {
    match desk.answer(request(what)).unwrap() {
        Answer::File(taken) => taken,
        Answer::Json(json) => panic!("no file: {json}"),
    }
}

fn files(all: &[(&str, &str)]) -> Vec<(String, Vec<u8>)> {
    let all = all.iter();
    all.map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec()))
        .collect()
}

/// A desk with a draft that copies a sentence.
fn with_a_copy() -> Desk {
    let mut desk = empty();
    desk.put(files(&[
        (
            "my draft.md",
            &format!("In those years all was quiet. {COPIED}"),
        ),
        (
            "vane2011.txt",
            &format!("[p. 7]\n\n{COPIED}\n\nAnother <b>word</b>."),
        ),
        ("library.bib", REFERENCES),
    ]));
    desk
}

#[test]
fn the_demo_is_the_folder() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("corpus-demo");
    let mut there: Vec<String> = ["ownwords.toml", "decisions.toml", "references.bib"]
        .map(str::to_owned)
        .into();
    for folder in ["drafts", "earlier", "notes", "sources"] {
        let entries = std::fs::read_dir(root.join(folder)).unwrap();
        there.extend(
            entries.map(|entry| format!("{folder}/{}", entry.unwrap().file_name().display())),
        );
    }
    there.sort();
    let mut held: Vec<&str> = demo::FILES.iter().map(|(path, _)| *path).collect();
    held.sort_unstable();
    assert_eq!(held, there);
}

#[test]
fn from_files_to_a_finding_with_its_source() {
    let mut desk = with_a_copy();
    let overview = asked(&mut desk, json!({"ask": "overview"}));
    assert_eq!(overview["drafts"][0]["mend"], 1, "{overview}");
    let finding = asked(&mut desk, json!({"ask": "finding", "at": 0}));
    let page = finding["page"].as_str().unwrap();
    assert!(page.contains("<mark>The lane behind"), "{page}");
    assert!(page.contains("Another &lt;b&gt;word&lt;/b&gt;."), "{page}");
    assert!(
        finding["html"]
            .as_str()
            .unwrap()
            .contains("Vane (2011), p. 7"),
        "{finding}"
    );
    let placed =
        |desk: &mut Desk, text: &str| asked(desk, json!({"ask": "place", "at": 0, "text": text}));
    assert_eq!(placed(&mut desk, COPIED)["degree"], "verbatim");
    let own = "Nobody lit that road at night for two years running, early risers got used to it.";
    assert_eq!(placed(&mut desk, own)["degree"], "restructured");
    assert!(placed(&mut desk, "  Dark. ")["none"].is_string());
}

#[test]
fn a_role_that_is_given_counts() {
    let mut desk = empty();
    desk.put(files(&[("one.md", COPIED), ("two.md", COPIED)]));
    let overview = asked(&mut desk, json!({"ask": "overview"}));
    assert_eq!(overview["files"][0]["asked"], true, "{overview}");
    assert!(overview["closed"].is_string(), "{overview}");
    let overview = asked(
        &mut desk,
        json!({"ask": "role", "name": "two.md", "role": "source"}),
    );
    assert_eq!(overview["files"][1]["asked"], false, "{overview}");
    assert_eq!(overview["drafts"][0]["mend"], 1, "{overview}");
    let overview = asked(&mut desk, json!({"ask": "remove", "name": "two.md"}));
    assert!(overview["closed"].is_string(), "{overview}");
}

#[test]
fn a_draft_put_down_again_is_checked_anew() {
    let mut desk = with_a_copy();
    let before = desk.revision();
    desk.put(files(&[("my draft.md", "In those years all was quiet.")]));
    let overview = asked(&mut desk, json!({"ask": "overview"}));
    assert_eq!(overview["drafts"][0]["mend"], 0, "{overview}");
    assert_eq!(overview["files"].as_array().map(Vec::len), Some(3));
    assert!(desk.revision() > before);
}

#[test]
fn what_is_settled_goes_into_the_zip_and_comes_back() {
    let mut desk = with_a_copy();
    let id = asked(&mut desk, json!({"ask": "finding", "at": 0}))["id"].clone();
    let blank = request(json!({"ask": "settle", "id": id, "because": " ", "on": "2026-12-01"}));
    assert!(desk.answer(blank).is_err());
    let settled = asked(
        &mut desk,
        json!({"ask": "settle", "id": id, "because": "as agreed", "on": "2026-12-01"}),
    );
    assert_eq!(
        (&settled["drafts"][0]["mend"], &settled["decisions"]),
        (&json!(0), &json!(1))
    );
    let zip = taken(&mut desk, json!({"ask": "take", "what": "review"}));
    assert_eq!(
        zip,
        taken(&mut desk, json!({"ask": "take", "what": "review"}))
    );
    let mut again = empty();
    again.put(vec![(zip.name, zip.bytes)]);
    let overview = asked(&mut again, json!({"ask": "overview"}));
    assert_eq!(
        (
            &overview["drafts"][0]["mend"],
            &overview["drafts"][0]["settled"]
        ),
        (&json!(0), &json!(1)),
        "{overview}"
    );
    let decision = asked(&mut again, json!({"ask": "finding", "at": 0}))["settled"].clone();
    let open = asked(&mut again, json!({"ask": "undo", "decision": decision}));
    assert_eq!(
        (&open["drafts"][0]["mend"], &open["decisions"]),
        (&json!(1), &json!(0))
    );
}

#[test]
fn everything_can_be_taken_away() {
    let mut desk = empty();
    let overview = asked(&mut desk, json!({"ask": "demo"}));
    assert!(
        overview["drafts"]
            .as_array()
            .is_some_and(|drafts| drafts.len() == 4),
        "{overview}"
    );
    for (what, name) in [
        ("page", "report.html"),
        ("table", "findings.csv"),
        ("quotations", "quotations.csv"),
        ("bibliography", "bibliography.docx"),
        ("review", "review.zip"),
    ] {
        let file = taken(&mut desk, json!({"ask": "take", "what": what}));
        assert_eq!(file.name, name);
        assert!(file.bytes.len() > 500, "{name}");
    }
    let margin = request(json!({"ask": "take", "what": "margin", "draft": 0}));
    let why = desk.answer(margin).unwrap_err().to_string();
    assert!(why.contains("Word"), "{why}");
    let class = json!({"ask": "take", "what": "exercise", "passage": COPIED, "rewrites": [{"name": "Ann", "text": COPIED}]});
    let sheet = String::from_utf8(taken(&mut desk, class).bytes).unwrap();
    assert!(!sheet.contains("Ann") && !sheet.contains("verbatim"));
}

#[test]
fn screens_of_notes_and_quotations() {
    let mut desk = empty();
    asked(&mut desk, json!({"ask": "demo"}));
    let notes = asked(&mut desk, json!({"ask": "notes"}));
    let html = notes["html"].as_str().unwrap();
    let leaves = html.matches("class=\"noted\"").count();
    assert!(leaves > 5, "{leaves}");
    assert_eq!(notes["drawn"].as_array().map(Vec::len), Some(leaves));
    let quotations = asked(&mut desk, json!({"ask": "quotations"}));
    assert!(
        quotations["html"]
            .as_str()
            .unwrap()
            .contains("to be mended")
    );
}

#[test]
fn without_files_every_request_says_what_to_do() {
    for what in ["draft", "finding", "place", "notes", "quotations", "take"] {
        let request = request(
            json!({"ask": what, "number": 0, "at": 0, "text": "Moths circle the lamp.", "what": "page"}),
        );
        let why = empty().answer(request).unwrap_err().to_string();
        assert!(why.contains("add"), "{what}: {why}");
    }
}
