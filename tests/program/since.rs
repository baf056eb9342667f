//! A draft against its earlier version, and a folder of chapters.

use std::fs;

use crate::common::{OWN, Review, text};
use serde_json::Value;

const BUDGETS: &str = "I leave the politics of budgets to others for now.";
const HAWK: &str =
    "Hawk moths, by contrast, left the lamp after some minutes and went back to the honeysuckle.";
const PLANT: &str = "Whoever wants to know what a lamp does to a hedge has to ask the plant that has no other customer.";
const KERB: &str = "The council mended the kerb in the second winter, and complaints about the lighting ended within a month.";
const TURNED: &str =
    "Moths that came near turned towards the lantern within a few wingbeats and stayed with it.";

fn since(review: &Review, arguments: &[&str]) -> Value {
    review.check_with(arguments).json["drafts"][0]["since"].clone()
}

fn lengths(since: &Value) -> [usize; 4] {
    ["mended", "still", "changed", "new"].map(|name| since[name].as_array().unwrap().len())
}

fn draft(sentences: &[&str]) -> String {
    let paragraphs: Vec<String> = sentences
        .iter()
        .map(|s| format!("{OWN} {s} {BUDGETS}"))
        .collect();
    paragraphs.join("\n\n") + "\n"
}

#[test]
fn mended_still_there_changed_and_new() {
    let edited = HAWK.replace("after some minutes and", "after some few minutes and then");
    let review = Review::of_two()
        .file("old/draft.md", draft(&[HAWK, PLANT, KERB]))
        .file("drafts/draft.md", draft(&[KERB, TURNED, &edited]));
    let told = since(&review, &["drafts/draft.md", "--since", "old/draft.md"]);
    assert_eq!(lengths(&told), [1, 1, 1, 1], "{told:#}");
    assert!(
        text(&told["mended"][0]["text"]).contains("ask the plant"),
        "{told:#}"
    );
    assert!(
        text(&told["changed"][0]["was"]["text"]).contains("Hawk moths"),
        "{told:#}"
    );
    // A folder of earlier versions goes by names; the other direction is the mirror.
    assert_eq!(since(&review, &["drafts", "--since", "old"]), {
        let mut same = told.clone();
        same["path"] = "old/draft.md".into();
        same
    });
    let back = since(&review, &["old/draft.md", "--since", "drafts/draft.md"]);
    assert_eq!(lengths(&back), [1, 1, 1, 1]);
    let same = since(&review, &["old/draft.md", "--since", "old/draft.md"]);
    assert_eq!(lengths(&same), [0, 3, 0, 0]);
    assert_eq!(
        review.check_with(&["old/draft.md"]).json["drafts"][0]["since"],
        Value::Null
    );
}

#[test]
fn the_printed_account_goes_by_the_numbers_of_the_report() {
    let review = Review::of_two()
        .file("old/draft.md", draft(&[HAWK, PLANT]))
        .file("drafts/draft.md", draft(&[KERB, HAWK]));
    let output = review.run(&["check", "drafts/draft.md", "--since", "old"]);
    let printed = String::from_utf8(output.stdout).unwrap();
    let words = printed.split_whitespace().collect::<Vec<_>>().join(" ");
    for wanted in [
        "Since old/draft.md",
        "1 mended",
        "1 still there: 2",
        "0 changed",
        "1 new: 1",
    ] {
        assert!(words.contains(wanted), "{wanted} is missing:\n{printed}");
    }
    assert!(
        printed.lines().all(|line| line.chars().count() <= 80),
        "{printed}"
    );
}

#[test]
fn what_was_settled_is_not_called_mended() {
    let review = Review::of_two()
        .file("drafts/draft.md", draft(&[HAWK, PLANT]))
        .file("new/draft.md", draft(&[PLANT]));
    let found = review.check_with(&["drafts/draft.md"]);
    let id = text(&found.json["drafts"][0]["findings"][0]["id"]).to_owned();
    assert!(
        review
            .run(&["settle", &id, "--because", "x"])
            .status
            .success()
    );
    let told = since(&review, &["new/draft.md", "--since", "drafts/draft.md"]);
    assert_eq!(lengths(&told), [0, 1, 0, 0], "{told:#}");
}

#[test]
fn slips_say_what_to_name() {
    let review = Review::of_two()
        .file("drafts/one.md", draft(&[HAWK]))
        .file("drafts/two.md", draft(&[KERB]))
        .file("old/three.md", draft(&[KERB]));
    for (since, wanted) in [
        ("old/three.md", "name the folder"),
        ("old", "name the earlier version itself"),
        ("missing", "there is no such file or folder"),
    ] {
        let output = review.run(&["check", "drafts", "--since", since]);
        assert_eq!(output.status.code(), Some(2));
        let said = String::from_utf8(output.stderr).unwrap();
        assert!(said.contains(wanted), "{said}");
    }
    let review = review.file("old/one.md", draft(&[HAWK]));
    let checked = review.check_with(&["drafts", "--since", "old"]);
    assert_eq!(checked.json["drafts"][1]["since"], Value::Null);
    let told = checked.json["left_out"].to_string();
    assert!(
        told.contains("two.md") && told.contains("no file of this name"),
        "{told}"
    );
}

#[test]
fn a_folder_is_its_chapters_in_order() {
    let review = Review::of_two()
        .file("drafts/chapter-10.md", draft(&[HAWK]))
        .file("drafts/chapter-2.txt", draft(&[KERB]))
        .file("drafts/.chapter-3.md.swp", "x")
        .file("drafts/lamp.png", [0u8, 1, 2])
        .file("drafts/old/chapter-1.md", draft(&[PLANT]));
    let checked = review.check_with(&["drafts"]);
    let paths: Vec<&str> = checked.json["drafts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|draft| text(&draft["path"]))
        .collect();
    assert_eq!(paths, ["drafts/chapter-2.txt", "drafts/chapter-10.md"]);
    let told = checked.json["left_out"].to_string();
    assert!(
        told.contains("lamp.png") && told.contains("drafts/old"),
        "{told}"
    );
    assert!(!told.contains("swp"), "{told}");
    // The same without a name.
    let output = review.run(&["check", "--format", "json"]);
    let json: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(json["drafts"], checked.json["drafts"]);
    fs::remove_dir_all(review.path("drafts")).unwrap();
    let output = review.run(&["check"]);
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("no drafts were found here"), "{said}");
    fs::create_dir(review.path("empty")).unwrap();
    let output = review.run(&["check", "empty"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(
        String::from_utf8(output.stderr)
            .unwrap()
            .contains("no file in this folder")
    );
}

#[test]
fn an_earlier_version_that_is_not_there_is_said_to_be_missing() {
    let review = Review::of_two()
        .file("drafts/one.md", draft(&[HAWK]))
        .file("drafts/two.md", draft(&[KERB]));
    for drafts in [&["drafts/one.md"][..], &["drafts/one.md", "drafts/two.md"]] {
        let output = review.run(&[&["check"], drafts, &["--since", "handed-inn"]].concat());
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(2), "{said}");
        assert!(said.contains("handed-inn: there is no such file"), "{said}");
    }
}

#[test]
fn every_report_says_what_became_of_the_findings() {
    let edited = HAWK.replace("after some minutes and", "after some few minutes and then");
    let review = Review::of_two()
        .file("old/draft.md", draft(&[HAWK, PLANT, KERB]))
        .file("drafts/draft.md", draft(&[KERB, TURNED, &edited]));
    let written = |more: &[&str]| {
        let asked = ["check", "drafts/draft.md", "--since", "old/draft.md"];
        let output = review.run(&[&asked, more].concat());
        String::from_utf8(output.stdout).unwrap()
    };
    let markdown = written(&["--format", "markdown"]);
    let said = "Since old/draft.md: 1 mended, 1 still there, 1 changed, 1 new.";
    for wanted in [
        said,
        "- mended: line 3, ",
        "; new.",
        "; still there.",
        "; changed: was ",
    ] {
        assert!(
            markdown.replace('\\', "").contains(wanted),
            "{wanted}\n{markdown}"
        );
    }
    let page = written(&["--format", "page"]);
    for wanted in [
        said,
        "<li>Mended: line 3, ",
        "· new",
        "· still there",
        "· changed: was ",
    ] {
        assert!(page.contains(wanted), "{wanted}");
    }
    let lines = written(&["--format", "lines"]);
    let beginnings = ["[still there] ", "[new] ", "[changed: was unmarked-copy"];
    for (line, wanted) in lines.lines().zip(beginnings) {
        assert!(line.contains(wanted), "{line}");
    }
    let quiet = written(&["--quiet"]);
    for wanted in [", new: ", ", changed: ", "old/draft.md:3: mended: "] {
        assert!(quiet.contains(wanted), "{wanted}\n{quiet}");
    }
    let sarif: Value = serde_json::from_str(&written(&["--format", "sarif"])).unwrap();
    let results = sarif["runs"][0]["results"].as_array().unwrap();
    let states: Vec<&str> = results.iter().map(|r| text(&r["baselineState"])).collect();
    assert_eq!(states, ["unchanged", "new", "updated"]);
}

#[test]
fn an_earlier_file_is_of_one_draft() {
    let review = Review::of_two()
        .file("old/draft.md", draft(&[HAWK]))
        .file("old/other.md", draft(&[PLANT]))
        .file("drafts/one/draft.md", draft(&[HAWK]))
        .file("drafts/two/draft.md", draft(&[KERB]))
        .file("drafts/other.md", draft(&[PLANT]));
    let drafts = [
        "drafts/one/draft.md",
        "drafts/two/draft.md",
        "drafts/other.md",
    ];
    let checked = review.check_with(&[&drafts[..], &["--since", "old"]].concat());
    let since: Vec<bool> = (0..3)
        .map(|at| checked.json["drafts"][at]["since"].is_object())
        .collect();
    assert_eq!(since, [false, false, true]);
    let left = checked.json["left_out"].to_string();
    assert!(
        left.contains("drafts/one/draft.md") && left.contains("drafts/two/draft.md"),
        "{left}"
    );
}

#[test]
fn forms_go_by_their_common_names_too() {
    let review = Review::of_two().file("drafts/draft.md", draft(&[HAWK]));
    for (common, form) in [("html", "page"), ("md", "markdown")] {
        let written = |name: &str| {
            review
                .run(&["check", "drafts/draft.md", "--format", name])
                .stdout
        };
        assert!(!written(form).is_empty());
        assert_eq!(written(common), written(form), "{common}");
    }
}
