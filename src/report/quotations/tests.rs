//! The account's writers against each other and against their contract, on an account read from a small review.

use super::*;
use crate::findings::account::{Account, Credited, Fidelity, PageCheck};
use crate::findings::session::Session;
use crate::report::{Colours, Look};
use serde_json::{Value, json};

const SOURCE: &str = "[p. 12]\n\nThe keepers walked the quay and counted wings until the last bell had rung \
    and the\n\n[p. 13]\n\nferry had crossed for good. They recieved no coat in all those years.\n";

const NOTES: &str = "# vane2003\n\n## Summary\n\nKeepers.\n\n## Quotations\n\n- \"The keepers walked the quay and \
    counted wings\" (p. 12)\n- \"They recieved no coat in all those years\"\n\n## Comments\n\nGood.\n";

const DRAFT: &str = "# One\n\nOf them \"the keepers walked the quay\" (Vane, 2003, p. 13) is said.\n\n## =Two\n\n\
    And \"the keepers strolled the quay and counted wings\" (Vane, 2003, p. 12). But \"the last bell had rung and the \
    ferry had crossed\" (Vane, 2003, p. 12).\n\n> =SUM(A1) is what they counted in those nights.\n\nThe rest is mine. Of it they said \"the night had no \
    doors at all\" once. Nobody else did, and so on. Truly, they recieved no coat in all those years.\n";

fn account() -> Account {
    let folder = tempfile::tempdir().unwrap();
    let file = |name: &str, content: &str| {
        let path = folder.path().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, content).unwrap();
        path
    };
    file("ownwords.toml", "");
    file(
        "references.bib",
        "@book{vane2003, author = {Vane, Tilda}, title = {Dark money}, year = {2003}}",
    );
    file("sources/vane2003.txt", SOURCE);
    file("notes/vane2003.md", NOTES);
    let draft = file("drafts/one.md", DRAFT);
    let session = Session::open(folder.path()).unwrap();
    session.quotations(&[draft]).unwrap()
}

fn printed(account: &Account) -> Value {
    let mut out = Vec::new();
    json::write(account, &mut out).unwrap();
    serde_json::from_slice(&out).unwrap()
}

#[test]
fn the_account_keeps_its_contract_and_the_contract_can_say_no() {
    let schema: Value = serde_json::from_str(QUOTATIONS_SCHEMA).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let value = printed(&account());
    let faults: Vec<String> = validator
        .iter_errors(&value)
        .map(|fault| format!("{fault} at {}", fault.instance_path()))
        .collect();
    assert!(faults.is_empty(), "{faults:#?}");
    let changes: [(&str, Value); 7] = [
        ("/version", json!(2)),
        ("/drafts/0/share", json!(1.2)),
        ("/quotations/0/places/0/wording", json!("good")),
        ("/quotations/0/places/0/page", json!("12")),
        ("/quotations/0/places/0/found/0", json!({})),
        ("/quotations/0/places", json!([])),
        ("/counts/exact", json!(-1)),
    ];
    for (place, wrong) in changes {
        let mut changed = value.clone();
        *changed.pointer_mut(place).unwrap() = wrong;
        assert!(!validator.is_valid(&changed), "{place} went through");
    }
}

#[test]
fn the_schema_lists_exactly_the_names() {
    let schema: Value = serde_json::from_str(QUOTATIONS_SCHEMA).unwrap();
    let names = |field: &str| schema["$defs"]["place"]["properties"][field]["enum"].clone();
    assert_eq!(names("wording"), json!(Fidelity::ALL.map(Fidelity::name)));
    assert_eq!(names("page"), json!(PageCheck::ALL.map(PageCheck::name)));
    assert_eq!(names("credit"), json!(Credited::ALL.map(Credited::name)));
    let check: Value = serde_json::from_str(crate::report::json::CHECK_SCHEMA).unwrap();
    assert_eq!(schema["$defs"]["source"], check["$defs"]["source"]);
}

#[test]
fn the_table_can_be_read_back_and_holds_no_formula() {
    let account = account();
    let mut out = Vec::new();
    spreadsheet::write(&account, &mut out).unwrap();
    let text = String::from_utf8(out).unwrap();
    assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let columns: Vec<String> = reader
        .headers()
        .unwrap()
        .iter()
        .map(str::to_owned)
        .collect();
    assert_eq!(columns, spreadsheet::COLUMNS);
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), account.all().count());
    let at = |name: &str| {
        spreadsheet::COLUMNS
            .iter()
            .position(|column| *column == name)
            .unwrap()
    };
    let texts: Vec<&str> = rows.iter().map(|row| &row[at("text")]).collect();
    assert!(
        texts.contains(&"\"the keepers walked the quay\""),
        "{texts:?}"
    );
    assert!(
        texts.iter().any(|text| text.starts_with("'=SUM(A1)")),
        "{texts:?}"
    );
    assert!(rows.iter().any(|row| &row[at("section")] == "'=Two"));
    let formula = |cell: &str| cell.starts_with(['=', '+', '-', '@']);
    assert!(!rows.iter().flatten().any(formula));
}

#[test]
fn the_report_says_what_is_what_and_fits() {
    let account = account();
    for width in [60, 80, 100] {
        let mut out = Vec::new();
        terminal::write(&account, &Look::new(width, Colours::Off), &mut out).unwrap();
        let text = String::from_utf8(out).unwrap();
        let long = text.lines().find(|line| line.chars().count() > width);
        assert_eq!(long, None, "{width}");
        let one_line = text.split_whitespace().collect::<Vec<_>>().join(" ");
        for said in [
            "\"strolled\" here, \"walked\" in the source",
            "p. 13 is cited, but the words are on p. 12",
            "p. 12 is only a part of it: cite pp. 12-13",
            "no page: the words are on p. 13",
            "used twice",
            "without its quotation marks",
            "noted nowhere",
            "no citation: say whose words they are",
        ] {
            assert!(one_line.contains(said), "{said} is not in:\n{text}");
        }
        assert!(!text.contains("[p. 13]"), "{text}");
    }
}

#[test]
fn the_short_form_has_a_line_for_each_to_mend() {
    let account = account();
    let mut out = Vec::new();
    terminal::write_short(&account, &mut out).unwrap();
    let text = String::from_utf8(out).unwrap();
    let lines = |quoted: &crate::findings::account::Quoted| {
        usize::from(quoted.is_amiss()) + quoted.unmarked.len()
    };
    let wanted: usize = account.all().map(lines).sum();
    assert_eq!(text.lines().count(), wanted, "{text}");
    assert!(
        text.contains("one.md:7: words changed: \"the keepers strolled"),
        "{text}"
    );
}
