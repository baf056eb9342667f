//! `ownwords quotations` as a user drives it: which drafts are taken, what the exit status says, where the
//! output goes, what notes look like that it reads, and that hostile texts do no harm.

use crate::common::{HARROW_REFERENCE, OWN, Review, run, text};
use serde_json::Value;

/// Said by Harrow on p. 113 and p. 114.
const TOLL: &str = "heavy fliers pay a toll and light ones pay with the whole night";
const BRYONY: &str = "A gardener who looks only at bryony would therefore call the lamp harmless";

fn account(review: &Review, arguments: &[&str]) -> (Value, i32) {
    let all = [&["quotations", "--format", "json"], arguments].concat();
    let output = review.run(&all);
    let stdout = String::from_utf8(output.stdout).unwrap();
    let stderr = String::from_utf8(output.stderr).unwrap();
    let json = serde_json::from_str(&stdout);
    let json = json.unwrap_or_else(|error| panic!("{error}: {stdout}{stderr}"));
    (json, output.status.code().unwrap())
}

/// Each quotation in a line: where, wording, page, credit, form.
fn lines(account: &Value) -> Vec<String> {
    let items = account["quotations"].as_array().unwrap().iter();
    let places = items.flat_map(|item| item["places"].as_array().unwrap());
    let of = |place: &Value, name: &str| text(&place[name]).to_owned();
    places
        .map(|place| {
            let line = &place["line"];
            let fields = ["wording", "page", "credit", "form"].map(|name| of(place, name));
            format!("{}:{line} {}", of(place, "path"), fields.join(" "))
        })
        .collect()
}

#[test]
fn drafts_are_those_named_or_those_of_the_folder() {
    let quoted = |page: &str| format!("{OWN} \"{TOLL}\" (Harrow, 2019, p. {page}).\n");
    let review = Review::of_two()
        .file("drafts/a.md", quoted("113"))
        .file("drafts/deep/b.md", quoted("114"))
        .file("elsewhere.md", quoted("113"));
    let (all, code) = account(&review, &[]);
    assert_eq!(all["drafts_from"], "drafts");
    assert_eq!(
        lines(&all),
        [
            "drafts/a.md:1 exact right right inline",
            "drafts/deep/b.md:1 exact wrong right inline"
        ]
    );
    assert_eq!(code, 1);
    let (one, code) = account(&review, &["elsewhere.md"]);
    assert!(one["drafts_from"].is_null());
    assert_eq!(lines(&one), ["elsewhere.md:1 exact right right inline"]);
    assert_eq!(code, 0);
    // From outside, by the name of the folder.
    let root = review.root().display().to_string();
    let away = run(
        std::path::Path::new("/"),
        &["quotations", "--review", &root, "--format", "json"],
    );
    let away: Value = serde_json::from_slice(&away.stdout).unwrap();
    assert_eq!(lines(&away), lines(&all));
}

#[test]
fn without_drafts_the_notes_are_read() {
    let review = Review::of_two().entry(
        "harrow2019",
        "Counts.",
        &format!("\"{TOLL}\" (p. 113)"),
        "Good.",
    );
    std::fs::remove_dir(review.path("drafts")).unwrap();
    let (notes, code) = account(&review, &[]);
    assert_eq!(
        lines(&notes),
        ["notes/harrow2019.md:9 exact right right inline"]
    );
    assert_eq!(code, 0);
    let said = review.run(&["quotations"]);
    let said = String::from_utf8(said.stdout).unwrap();
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("only the notes were read"), "{said}");
    assert!(said.contains("nowhere yet"), "{said}");
}

#[test]
fn a_draft_that_cannot_be_read_is_told() {
    let review = Review::of_two().file("drafts/a.md", format!("{OWN}\n"));
    let output = review.run(&["quotations", "drafts/a.md", "drafts/none.md"]);
    assert_eq!(output.status.code(), Some(2));
    let stderr = String::from_utf8(output.stderr).unwrap();
    assert!(stderr.contains("drafts/none.md"), "{stderr}");
    assert!(!output.stdout.is_empty());
    let output = review.run(&["quotations", "drafts/none.md"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
}

#[test]
fn the_output_goes_to_a_file_and_never_over_one_that_is_read() {
    let review =
        Review::of_two().file("drafts/a.md", format!("{OWN} \"{TOLL}\" (Harrow, 2019).\n"));
    let output = review.run(&["quotations", "--format", "csv", "--out", "all.csv"]);
    assert_eq!(output.status.code(), Some(1));
    assert!(output.stdout.is_empty());
    let table = std::fs::read_to_string(review.path("all.csv")).unwrap();
    assert_eq!(table.lines().count(), 2);
    assert!(table.starts_with("source,reference,"));
    assert!(table.contains("\r\n") && table.contains(",missing,right,yes,no,1,"));
    let output = review.run(&["quotations", "--out", "drafts/a.md"]);
    assert_eq!(output.status.code(), Some(2));
    let quiet = review.run(&["quotations", "--quiet"]);
    let quiet = String::from_utf8(quiet.stdout).unwrap();
    assert_eq!(quiet.lines().count(), 1);
    assert!(
        quiet.starts_with("drafts/a.md:1: exact; no page: the words are on p. 113: "),
        "{quiet}"
    );
}

/// Pages of notes stand in many forms, and a quotation belongs to its entry unless a citation right behind it
/// says otherwise.
#[test]
fn notes_in_their_forms() {
    let table = [
        (format!("- \"{TOLL}\" (p. 113)"), "exact right right inline"),
        (format!("- \"{TOLL}\" (113)"), "exact right right inline"),
        (format!("- \"{TOLL}\", p. 113"), "exact right right inline"),
        (format!("- p. 113: \"{TOLL}\""), "exact right right inline"),
        (format!("- \"{TOLL}\" (p. 114)"), "exact wrong right inline"),
        (format!("- \"{TOLL}\""), "exact missing right inline"),
        (format!("> {TOLL} (p. 113)"), "exact right right block"),
        (
            format!("- \"{TOLL}\" (Harrow, 2019, p. 113)"),
            "exact right right inline",
        ),
        (
            format!("- \"{TOLL}\" (Quill, 2016, p. 21)"),
            "exact unknown elsewhere inline",
        ),
        (
            "- \"A baker who starts at three told us that he had bought a better lantern\" (p. 21)"
                .to_owned(),
            "exact unknown elsewhere inline",
        ),
        (
            "- \"heavy fliers pay a price and light ones pay with the whole night\" (p. 113)"
                .to_owned(),
            "altered right right inline",
        ),
        (
            "- \"nothing like this stands in any of the sources\" (p. 113)".to_owned(),
            "not-found unknown right inline",
        ),
    ];
    for (quotation, wanted) in table {
        let review = Review::of_two().entry("harrow2019", "Counts.", &quotation, "Good.");
        let (account, _) = account(&review, &[]);
        let wanted = format!("notes/harrow2019.md:9 {wanted}");
        assert_eq!(lines(&account), [wanted], "{quotation}");
    }
}

#[test]
fn what_is_noted_and_used_is_put_together() {
    let notes = format!("- \"{TOLL}\" (p. 113)\n- \"{BRYONY}\" (p. 114)\n");
    let review = Review::of_two().entry("harrow2019", "Counts.", &notes, "Good.").file(
        "drafts/a.md",
        format!(
            "# One\n\n{OWN} She says \"heavy fliers pay a toll\" (Harrow, 2019, p. 113).\n\n# Two\n\n{OWN} And again \"light ones \
             pay with the whole night\" (Harrow, 2019, p. 113). \"The drop was steepest for the small carpets\" (Harrow, \
             2019, p. 113).\n"
        ),
    );
    let (account, code) = account(&review, &[]);
    assert_eq!(code, 0, "{:?}", lines(&account));
    let items = account["quotations"].as_array().unwrap();
    let state = |item: &Value| {
        let count = item["places"].as_array().unwrap().len();
        let is = |name: &str| item[name].as_bool().unwrap();
        (count, is("noted"), is("used"), is("used_twice"))
    };
    let states: Vec<_> = items.iter().map(state).collect();
    // In order of the source: the drop, the toll, bryony.
    assert_eq!(
        states,
        [
            (1, false, true, false),
            // Two parts of one noted sentence: used at two places, but not the same words twice.
            (3, true, true, false),
            (1, true, false, false)
        ]
    );
    let counts = &account["counts"];
    assert_eq!(counts["noted_unused"], 1);
    assert_eq!(counts["used_not_noted"], 1);
    let sections = account["drafts"][0]["sections"].as_array().unwrap();
    let shares: Vec<_> = sections
        .iter()
        .map(|section| (text(&section["heading"]), section["quoted_words"].as_u64()))
        .collect();
    assert_eq!(shares, [("One", Some(5)), ("Two", Some(15))]);
}

#[test]
fn page_marks_are_in_no_report() {
    let source = "[p. 3]\n\nIn winter the gulls of the outer harbour were\n\n[p. 4]\n\nasleep when the lamp went out.\n";
    let review = Review::new()
        .reference(HARROW_REFERENCE)
        .source("harrow2019.txt", source)
        .file(
            "drafts/a.md",
            "So \"the gulls of the outer harbour were awake when the lamp went out\" (Harrow, 2019, pp. 3-4).\n",
        );
    for command in [&["quotations"][..], &["check", "drafts/a.md"]] {
        let output = review.run(command);
        let said = String::from_utf8(output.stdout).unwrap();
        assert!(said.contains("awake"), "{said}");
        assert!(!said.contains("[p. 4]"), "{said}");
    }
    let checked = review.check_with(&["drafts/a.md"]);
    let source = &checked.of_kind("altered-quotation")["source"];
    let mark = &source["page_marks"][0];
    let at = |value: &Value| usize::try_from(value.as_u64().unwrap()).unwrap();
    let from = at(&mark["start"]) - at(&source["start"]);
    let to = at(&mark["end"]) - at(&source["start"]);
    assert_eq!(text(&source["text"]).get(from..to), Some("[p. 4]"));
}

#[test]
fn hostile_texts_do_no_harm() {
    let evil = "=cmd|'/c calc'!A1 \u{1b}[2J\u{202e} he said so";
    let review = Review::of_two()
        .note("x.md", &format!("# harrow2019\n\n## Quotations\n\n> {evil}\n"))
        .file(
            "drafts/a.md",
            format!("# @home\n\n> {evil}\n\n\"[\" \"[[[[ ... ]\" \"… … … … …\" (Harrow, 2019\n\n> …\n\n> [sic]\n"),
        );
    for format in ["terminal", "json", "csv"] {
        let output = review.run(&["quotations", "--format", format]);
        assert!(
            output.status.code().is_some_and(|code| code < 2),
            "{format}"
        );
        let said = String::from_utf8(output.stdout).unwrap();
        if format == "terminal" {
            let bad = |c: &char| (c.is_control() && *c != '\n') || *c == '\u{202e}';
            assert_eq!(said.chars().find(bad), None);
        }
        if format == "csv" {
            let mut reader = csv::Reader::from_reader(said.as_bytes());
            let formula = |cell: &str| cell.starts_with(['=', '+', '-', '@']);
            assert!(!reader.records().any(|row| row.unwrap().iter().any(formula)));
        }
    }
}
