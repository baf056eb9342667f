//! Decisions on findings, as a writer makes and takes them back, and what holds of them whatever the
//! texts: settling everything leaves nothing open, and an edit elsewhere changes nothing.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use crate::common::{HARROW, OWN, Review, run};
use serde_json::Value;

/// Two sentences of the source without marks, in paragraphs of their own.
const DRAFT: &str = "\
My question here is a narrow one, and I leave the politics of budgets to others.

It is said that hawk moths, by contrast, left the lamp after some minutes and went back to the honeysuckle, \
which I doubt.

My reading is another. Whoever wants to know what a lamp does to a hedge has to ask the plant that has no \
other customer.
";

fn with_draft(draft: &str) -> Review {
    Review::of_two().file("drafts/draft.md", draft)
}

fn ids(review: &Review, arguments: &[&str]) -> Vec<(String, bool)> {
    let checked = review.check_with(arguments);
    let findings = checked.json["drafts"][0]["findings"]
        .as_array()
        .unwrap()
        .clone();
    findings
        .iter()
        .map(|finding| {
            let id = finding["id"].as_str().unwrap().to_owned();
            (id, !finding["settled"].is_null())
        })
        .collect()
}

fn settle(review: &Review, arguments: &[&str]) -> (i32, String) {
    let output = review.run(&[&["settle"], arguments].concat());
    let said = format!("{}{}", text(&output.stdout), text(&output.stderr));
    (output.status.code().unwrap(), said)
}

#[test]
fn settled_findings_are_counted_not_shown_and_do_not_count_as_open() {
    let review = with_draft(DRAFT);
    let draft = "drafts/draft.md";
    let found = ids(&review, &[draft]);
    assert_eq!(found.len(), 2, "{found:?}");
    let (first, second) = (found[0].0.as_str(), found[1].0.as_str());

    let (code, said) = settle(
        &review,
        &[
            &first[..6],
            "--because",
            "my own earlier note",
            "--on",
            "2026-03-02",
        ],
    );
    assert_eq!(code, 0, "{said}");
    assert!(said.starts_with(&format!("settled {first} (")), "{said}");
    assert_eq!(
        ids(&review, &[draft]),
        [(first.to_owned(), true), (second.to_owned(), false)]
    );
    let printed = text(&review.run(&["check", draft]).stdout);
    assert!(
        printed.contains("1 finding is settled and not shown"),
        "{printed}"
    );
    assert!(!printed.contains("my own earlier note"));
    let shown = text(&review.run(&["check", draft, "--show-settled"]).stdout);
    assert!(shown.contains("2026-03-02: my own earlier note"), "{shown}");
    assert_eq!(
        review.run(&["check", "--quiet", draft]).status.code(),
        Some(1)
    );

    assert_eq!(settle(&review, &[second, "--because", "agreed"]).0, 0);
    let output = review.run(&["check", "--quiet", draft]);
    assert_eq!(output.status.code(), Some(0));
    assert!(output.stdout.is_empty());

    let (code, said) = settle(&review, &["--undo", first, second]);
    assert_eq!(code, 0, "{said}");
    assert_eq!(said.matches("open again").count(), 2, "{said}");
    assert!(ids(&review, &[draft]).iter().all(|(_, settled)| !settled));
}

#[test]
fn what_is_settled_already_names_what_to_take_back() {
    // The same words at two places: the ID alone would mean either.
    let copied = DRAFT.split("\n\n").nth(1).unwrap();
    let again = copied.replace("It is said", "Others write");
    let review = with_draft(&format!("{DRAFT}\n{again}\n"));
    assert_eq!(ids(&review, &["drafts/draft.md"]).len(), 3);
    for (id, _) in ids(&review, &["drafts/draft.md"]) {
        assert_eq!(settle(&review, &[&id, "--because", "agreed"]).0, 0);
    }
    for (id, _) in ids(&review, &["drafts/draft.md"]) {
        let (code, said) = settle(&review, &[&id, "--because", "again"]);
        assert_eq!(code, 2, "{said}");
        let (_, undo) = said.split_once("--undo ").expect("what to take back");
        let undo = undo.split(')').next().unwrap();
        let (code, said) = settle(&review, &["--undo", undo]);
        assert_eq!(code, 0, "{undo}: {said}");
        assert!(undo.contains('.'), "{undo} is the name of a decision");
    }
}

#[test]
fn several_are_settled_at_once_or_none() {
    let review = with_draft(DRAFT);
    let found = ids(&review, &["drafts/draft.md"]);
    let (first, second) = (found[0].0.as_str(), found[1].0.as_str());
    let (code, said) = settle(&review, &[first, "uc-nothing", "--because", "x"]);
    assert_eq!(code, 2, "{said}");
    assert!(!review.path("decisions.toml").exists());
    assert_eq!(
        settle(&review, &[first, second, first, "--because", "x"]).0,
        0
    );
    assert!(
        ids(&review, &["drafts/draft.md"])
            .iter()
            .all(|(_, settled)| *settled)
    );
}

#[test]
fn slips_are_answered_with_what_would_help() {
    let review = with_draft(DRAFT);
    let found = ids(&review, &["drafts/draft.md"]);
    let first = found[0].0.as_str();
    let mut slipped = first.to_owned();
    slipped.replace_range(4..5, "z");
    let because = ["--because", "x"];
    let table: Vec<(Vec<&str>, Vec<&str>)> = vec![
        (
            [&[slipped.as_str()], &because[..]].concat(),
            vec!["Did you mean", first, "--in"],
        ),
        (
            [&["uc"], &because[..]].concat(),
            vec!["several begin like this", "drafts/draft.md:"],
        ),
        (vec![first, "--because", "  "], vec!["the reason is empty"]),
        (vec![first], vec!["--because"]),
        (vec![], vec!["required"]),
        (vec!["--undo", first], vec!["no decision on this"]),
        (vec!["--term", " - "], vec!["holds no words"]),
        (vec!["--term", "of the"], vec!["of the", "small words"]),
        (
            vec![first, "--because", "x", "--in", "missing.md"],
            vec!["missing.md"],
        ),
        (vec!["--list", "--because", "x"], vec!["cannot be used"]),
    ];
    for (arguments, wanted) in table {
        let (code, said) = settle(&review, &arguments);
        assert_eq!(code, 2, "{arguments:?}: {said}");
        for part in wanted {
            assert!(
                said.contains(part),
                "{arguments:?} gave {said:?} without {part:?}"
            );
        }
    }
    assert_eq!(settle(&review, &[first, "--because", "once"]).0, 0);
    let (code, said) = settle(&review, &[first, "--because", "twice"]);
    assert_eq!(code, 2);
    assert!(
        said.contains("because: once") && said.contains("--undo"),
        "{said}"
    );
}

#[test]
fn a_changed_passage_is_told_and_listed() {
    let review = with_draft(DRAFT);
    for (id, _) in ids(&review, &["drafts/draft.md"]) {
        assert_eq!(
            settle(
                &review,
                &[&id, "--because", "as agreed", "--on", "2026-03-02"]
            )
            .0,
            0
        );
    }
    let states = |review: &Review| -> Vec<String> {
        let output = review.run(&["settle", "--list", "--format", "json"]);
        let list: Value = serde_json::from_slice(&output.stdout).unwrap();
        let schema = review.run(&["explain", "schema-decisions"]).stdout;
        let schema: Value = serde_json::from_slice(&schema).unwrap();
        let validator = jsonschema::validator_for(&schema).unwrap();
        let faults: Vec<String> = validator
            .iter_errors(&list)
            .map(|e| e.to_string())
            .collect();
        assert!(faults.is_empty(), "{faults:#?}");
        let mut states: Vec<String> = list["decisions"]
            .as_array()
            .unwrap()
            .iter()
            .map(|decision| decision["state"].as_str().unwrap().to_owned())
            .collect();
        states.sort();
        states
    };
    assert_eq!(states(&review), ["holds", "holds"]);
    let changed = DRAFT.replace(
        "after some minutes and went back",
        "after some few minutes and went back",
    );
    let review = review.file("drafts/draft.md", changed);
    assert_eq!(states(&review), ["changed", "holds"]);
    let printed = text(&review.run(&["check", "drafts/draft.md"]).stdout);
    let printed = printed.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        printed.contains("The passage settled on 2026-03-02 has changed; look again at "),
        "{printed}"
    );
    let listed = text(&review.run(&["settle", "--list"]).stdout);
    assert!(
        listed.contains("look again at") && listed.contains("holds"),
        "{listed}"
    );
    assert!(
        listed.lines().all(|line| line.chars().count() <= 80),
        "{listed}"
    );
    let review = review.file("drafts/draft.md", OWN);
    assert_eq!(states(&review), ["gone", "gone"]);
    let printed = text(&review.run(&["check", "drafts/draft.md"]).stdout);
    assert!(
        !printed.contains("look again"),
        "a mended passage is no news: {printed}"
    );
    let review = review.file("drafts/other.md", OWN);
    fs::remove_file(review.path("drafts/draft.md")).unwrap();
    assert_eq!(states(&review), ["not looked at", "not looked at"]);
}

#[test]
fn a_broken_file_is_told_by_check_and_refused_by_settle() {
    let review = with_draft(DRAFT);
    let found = ids(&review, &["drafts/draft.md"]);
    let broken = "scheme = \"ownwords-finding-1\"\n\n<<<<<<< mine\n[uc-1.0]\n";
    let review = review.file("decisions.toml", broken);
    let checked = review.check_with(&["drafts/draft.md"]);
    let told = checked.json["left_out"].to_string();
    assert!(
        told.contains("decisions.toml") && told.contains("line 3"),
        "{told}"
    );
    for arguments in [
        &[&found[0].0, "--because", "x"][..],
        &["--undo", "uc-1"],
        &["--list"],
    ] {
        let (code, said) = settle(&review, arguments);
        assert_eq!(code, 2);
        assert!(said.contains("decisions.toml, line 3: "), "{said}");
        assert_eq!(
            fs::read_to_string(review.path("decisions.toml")).unwrap(),
            broken
        );
    }
}

#[test]
fn a_shared_term_is_no_copy_for_anybody() {
    let review = with_draft(
        "The scheme wants to know what a lamp does to a hedge, and so do I in what follows.\n",
    )
    .setting("run_words = 6");
    assert_eq!(ids(&review, &["drafts/draft.md"]).len(), 1);
    let (code, said) = settle(&review, &["--term", "what a lamp does to a hedge"]);
    assert_eq!(code, 0, "{said}");
    assert!(ids(&review, &["drafts/draft.md"]).is_empty());
    let settings = fs::read_to_string(review.path("ownwords.toml")).unwrap();
    assert_eq!(
        settings, "run_words = 6\n",
        "the settings are the writer's own"
    );
    assert!(!said.contains("common word"), "{said}");
    let (code, said) = settle(&review, &["--term", "time"]);
    assert_eq!(code, 0, "{said}");
    assert!(
        said.contains("terms.txt now holds: time")
            && said.contains("is a common word. From now on"),
        "{said}"
    );
    let (_, said) = settle(&review, &["--term", "What a lamp does to a hedge"]);
    assert!(said.contains("already holds"), "{said}");
}

#[test]
fn editing_an_unrelated_paragraph_changes_no_decision_in_the_demo() {
    let folder = tempfile::tempdir().unwrap();
    copy(&crate::common::demo(), folder.path());
    let chapter = "drafts/chapter-1.md";
    let json = |arguments: &[&str]| -> Value {
        let output = run(
            folder.path(),
            &[&["check", "--format", "json"], arguments].concat(),
        );
        serde_json::from_slice(&output.stdout).unwrap()
    };
    let findings = json(&[chapter])["drafts"][0]["findings"]
        .as_array()
        .unwrap()
        .clone();
    let open: Vec<&str> = findings
        .iter()
        .filter(|finding| finding["settled"].is_null())
        .map(|finding| finding["id"].as_str().unwrap())
        .collect();
    let because = ["--because", "looked at", "--in", chapter];
    let output = run(
        folder.path(),
        &[&["settle"], open.as_slice(), &because].concat(),
    );
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    let all_settled = |what: &str| {
        let report = json(&[chapter]);
        let draft = &report["drafts"][0];
        let now = draft["findings"].as_array().unwrap();
        let open: Vec<_> = now.iter().filter(|f| f["settled"].is_null()).collect();
        assert!(open.is_empty(), "{what} reopened {open:#?}");
        assert_eq!(now.len(), findings.len(), "{what} lost a finding");
        assert_eq!(draft["lapsed"], serde_json::json!([]), "{what}");
    };
    all_settled("nothing");
    let content = fs::read_to_string(folder.path().join(chapter)).unwrap();
    let paragraphs: Vec<&str> = content.split("\n\n").collect();
    // Between every two paragraphs a new one, one at a time; a list of references is not prose.
    let list = paragraphs
        .iter()
        .position(|paragraph| paragraph.ends_with("References"));
    for at in 1..list.unwrap() {
        let mut edited = paragraphs.clone();
        if paragraphs[at].starts_with(['#', '>', '-']) {
            continue;
        }
        edited.insert(at, OWN);
        fs::write(folder.path().join(chapter), edited.join("\n\n")).unwrap();
        all_settled(&format!("a paragraph before {:?}", paragraphs[at]));
    }
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            copy(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), target).unwrap();
        }
    }
}

#[test]
fn many_runs_at_once_lose_no_decision() {
    let sentences: Vec<&str> = HARROW
        .split_inclusive(". ")
        .filter(|sentence| sentence.split_whitespace().count() > 12)
        .collect();
    let draft: String = sentences
        .iter()
        .map(|sentence| format!("{OWN} {sentence}\n\n{OWN}\n\n"))
        .collect();
    let review = with_draft(&draft);
    let found = ids(&review, &["drafts/draft.md"]);
    assert!(found.len() >= 6, "{found:?}");
    let runs: Vec<_> = found
        .iter()
        .map(|(id, _)| {
            Command::new(env!("CARGO_BIN_EXE_ownwords"))
                .current_dir(review.root())
                .args(["settle", id, "--because", "at once"])
                .stdout(Stdio::null())
                .spawn()
                .unwrap()
        })
        .collect();
    for mut run in runs {
        assert!(run.wait().unwrap().success());
    }
    assert!(
        ids(&review, &["drafts/draft.md"])
            .iter()
            .all(|(_, settled)| *settled)
    );
}

/// Numbers that look random and are the same in every run (xorshift, Marsaglia 2003).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, limit: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % limit
    }
}

/// Killed at any moment: the old file or the new one, and the next run does its work.
#[test]
fn a_run_that_is_killed_leaves_the_old_or_the_new_file() {
    let review = with_draft(DRAFT);
    let (id, _) = ids(&review, &["drafts/draft.md"]).remove(0);
    // A long file, so that many of the kills fall into the writing.
    let mut long = String::from("scheme = \"ownwords-finding-1\"\n");
    for number in 0..500 {
        long.push_str(&format!(
            "\n[cp-{number:08x}.00000000]\nkind = \"close-paraphrase\"\ndraft = \"drafts/old.md\"\non = \"2026-03-02\"\n\
             because = \"looked at with care and left as it stands\"\ntext = \"moths that came near turned towards the lantern ...\"\n"
        ));
    }
    let path = review.path("decisions.toml");
    fs::write(&path, &long).unwrap();
    let arguments = ["settle", &id, "--because", "x", "--on", "2026-03-02"];
    let start = || {
        Command::new(env!("CARGO_BIN_EXE_ownwords"))
            .current_dir(review.root())
            .args(arguments)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap()
    };
    let begun = Instant::now();
    assert!(start().wait().unwrap().success());
    let whole = u64::try_from(begun.elapsed().as_micros()).unwrap();
    let new = fs::read_to_string(&path).unwrap();
    assert_ne!(new, long);
    fs::write(&path, &long).unwrap();

    let mut numbers = Numbers(0x2545_f491_4f6c_dd1d);
    let (mut old_left, mut new_left, mut in_the_writing) = (0, 0, 0);
    for _ in 0..200 {
        let mut run = start();
        std::thread::sleep(Duration::from_micros(numbers.below(whole * 6 / 5)));
        // A run that is over can't be killed.
        let _ = run.kill();
        run.wait().unwrap();
        let temporary = review.path(".decisions.toml.new");
        in_the_writing += u32::from(temporary.exists());
        match fs::read_to_string(&path).unwrap() {
            now if now == long => old_left += 1,
            now if now == new => {
                new_left += 1;
                fs::write(&path, &long).unwrap();
            }
            torn => panic!("a torn file of {} bytes", torn.len()),
        }
    }
    assert!(
        old_left > 0 && new_left > 0,
        "the kills all fell on one side: {old_left} before, {new_left} behind, {in_the_writing} in the writing"
    );
    // Whatever was left lying about, the next run does its work and leaves nothing.
    assert!(start().wait().unwrap().success());
    assert_eq!(fs::read_to_string(&path).unwrap(), new);
    let mut left: Vec<String> = fs::read_dir(review.root())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.starts_with('.'))
        .collect();
    left.sort();
    assert!(left.is_empty(), "{left:?}");
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}
