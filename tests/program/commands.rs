//! The built program, driven as a user drives it: help, explanations, completions, manual pages, and
//! what happens when the job can't be done.

use std::fs;

use assert_cmd::Command;
use assert_cmd::assert::Assert;

fn ownwords() -> Command {
    let mut command = Command::cargo_bin("ownwords").unwrap();
    command.env_remove("NO_COLOR").env_remove("TERM");
    command
}

fn run(arguments: &[&str]) -> Assert {
    ownwords().args(arguments).assert()
}

fn output(assert: &Assert) -> String {
    String::from_utf8(assert.get_output().stdout.clone()).unwrap()
}

fn errors(assert: &Assert) -> String {
    String::from_utf8(assert.get_output().stderr.clone()).unwrap()
}

#[test]
fn help_teaches_by_example() {
    let whole = output(&run(&["--help"]).code(0));
    assert!(
        whole.contains("ownwords check lamps/drafts/chapter.md"),
        "{whole}"
    );
    for command in [
        "start",
        "check",
        "notes",
        "quotations",
        "place",
        "text",
        "explain",
        "completions",
        "man",
    ] {
        assert!(
            whole.contains(&format!("  {command} ")),
            "{command} is not listed"
        );
        let help = output(&run(&[command, "--help"]).code(0));
        assert!(help.contains("For example"), "{command} gives no example");
        assert!(
            help.contains(&format!("  ownwords {command}"))
                || help.contains(&format!("    ownwords {command}"))
        );
        let long = help.lines().find(|line| line.chars().count() > 100);
        assert_eq!(long, None, "{command}");
    }
}

#[test]
fn every_topic_of_the_list_can_be_explained() {
    let list = output(&run(&["explain"]).code(0));
    let topics: Vec<&str> = list
        .lines()
        .filter(|line| line.starts_with("   ") && !line.starts_with("    "))
        .filter_map(|line| line.split_whitespace().next())
        .collect();
    assert!(topics.len() > 25, "{topics:?}");
    for topic in topics {
        let explained = output(&run(&["explain", topic]).code(0));
        assert!(explained.len() > 150, "{topic}: {explained}");
    }
    let spaced = output(&run(&["explain", "near", "copy"]).code(0));
    assert!(spaced.starts_with("Near copy"), "{spaced}");
}

#[test]
fn an_unknown_topic_names_the_nearest() {
    let said = errors(&run(&["explain", "unmarked-cpy"]).code(2));
    assert!(said.starts_with("ownwords: "), "{said}");
    assert!(said.contains("did you mean \"unmarked-copy\"?"), "{said}");
}

#[test]
fn the_schemas_are_printed_as_they_are_kept() {
    let check = output(&run(&["explain", "schema"]).code(0));
    assert_eq!(check, include_str!("../../src/report/check.schema.json"));
    let notes = output(&run(&["explain", "schema-notes"]).code(0));
    assert_eq!(notes, include_str!("../../src/report/notes.schema.json"));
    let place = output(&run(&["explain", "schema-place"]).code(0));
    assert_eq!(place, include_str!("../../src/report/place.schema.json"));
    let quotations = output(&run(&["explain", "schema-quotations"]).code(0));
    assert_eq!(
        quotations,
        include_str!("../../src/report/quotations.schema.json")
    );
}

#[test]
fn completions_and_manual_pages_know_the_options() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let script = output(&run(&["completions", shell]).code(0));
        assert!(script.contains("show-explained"), "{shell}");
    }
    let whole = output(&run(&["man"]).code(0));
    assert!(
        whole.contains(".TH ownwords") && whole.contains("check"),
        "{whole}"
    );
    let check = output(&run(&["man", "check"]).code(0));
    assert!(check.contains("run\\-words"), "{check}");
    assert!(errors(&run(&["man", "chekc"]).code(2)).contains("is no command"));
}

#[test]
fn slips_on_the_command_line_end_with_2() {
    for arguments in [
        &["chekc"][..],
        &["check"],
        &["check", "a.md", "--format", "xml"],
        &["check", "a.md", "--jobs", "0"],
        &["place", "a.txt"],
        &["place", "--pairs", "-", "a.txt"],
        &[],
    ] {
        let assert = run(arguments).code(2);
        assert_eq!(output(&assert), "", "{arguments:?}");
        assert!(!errors(&assert).is_empty(), "{arguments:?}");
    }
}

#[test]
fn words_that_stand_in_reports_can_be_explained() {
    for (word, said) in [
        ("nats", "ownwords explain thresholds"),
        ("sureness", "ownwords explain thresholds"),
        ("stayed_close", "lost-marks"),
        ("synonym", "~~~"),
        ("know", "good to know"),
        ("credited", "credit_sentences"),
    ] {
        let explained = output(&run(&["explain", word]).code(0));
        assert!(explained.contains(said), "{word}: {explained}");
    }
    let said = errors(&run(&["explain", "paraphrase"]).code(2));
    assert!(
        said.contains(r#"did you mean "close-paraphrase" or "uncredited-paraphrase"?"#),
        "{said}"
    );
}

#[test]
fn rewrites_alone_are_told_what_they_can_be_set_against() {
    let said = errors(&run(&["place", "a.txt"]).code(2));
    for way in [
        "ownwords place --source passage.txt rewrite.txt",
        "ownwords place --review my-review rewrite.txt",
    ] {
        assert!(said.contains(way), "{said}");
    }
}

#[test]
fn a_rewrite_that_cannot_be_read_is_told_and_the_others_are_placed() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, content: &str| {
        let path = folder.path().join(name);
        fs::write(&path, content).unwrap();
        path.display().to_string()
    };
    let passage = write("passage.txt", "Campion under the lamp set fewer seeds.");
    let good = write("good.txt", "Under the lamp campion set fewer seeds.");
    let empty = write("empty.txt", " ... \n");
    let missing = folder.path().join("missing.txt").display().to_string();
    for against in [["--source", passage.as_str()], ["--review", "corpus-demo"]] {
        let place = |rewrites: &[&str]| {
            let assert = run(&[&["place", "--format", "json"], &against[..], rewrites].concat());
            let assert = assert.code(2);
            (output(&assert), errors(&assert))
        };
        let (printed, said) = place(&[&missing, &good, &empty]);
        let told: Vec<&str> = said.lines().collect();
        assert_eq!(told.len(), 2, "{said}");
        assert!(
            told[0].starts_with(&format!("ownwords: {missing}: ")),
            "{said}"
        );
        assert!(
            told[1].starts_with(&format!("ownwords: {empty}: holds no words")),
            "{said}"
        );
        assert_eq!(printed.lines().count(), 1, "{printed}");
        assert!(printed.contains("good.txt"), "{printed}");
        // Where nothing is left there is no report.
        let (printed, said) = place(&[&missing, &empty]);
        assert_eq!(printed, "");
        assert_eq!(said.lines().count(), 2, "{said}");
    }
}

#[test]
fn errors_name_the_file_and_what_to_do() {
    let folder = tempfile::tempdir().unwrap();
    let missing = folder.path().join("missing.txt");
    let missing = missing.to_str().unwrap();
    for arguments in [
        &["text", missing][..],
        &["place", "--source", missing, missing],
        &["place", "--pairs", missing],
        &["check", "--review", missing, missing],
    ] {
        let assert = run(arguments).code(2);
        let said = errors(&assert);
        assert!(
            said.starts_with("ownwords: ") && said.contains("missing.txt"),
            "{said}"
        );
        assert!(!said.contains("panicked"), "{said}");
        assert_eq!(output(&assert), "");
    }
    let no_review = ownwords()
        .current_dir(folder.path())
        .args(["check", "draft.md"])
        .assert()
        .code(2);
    assert!(
        errors(&no_review).contains("ownwords start"),
        "{}",
        errors(&no_review)
    );
}

#[test]
fn file_names_cannot_steer_the_terminal() {
    let said = errors(&run(&["text", "no\u{1b}[2Jsuch\u{202e}.txt"]).code(2));
    assert!(said.contains(r"no\u{1b}[2Jsuch\u{202e}.txt"), "{said:?}");
}

#[cfg(unix)]
#[test]
fn names_that_are_no_unicode_are_no_trouble() {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt;
    let name = OsStr::from_bytes(b"caf\xe9.txt");
    for arguments in [
        &["text"][..],
        &["check"],
        &["place", "--pairs"],
        &["explain"],
        &["man"],
    ] {
        let assert = ownwords().args(arguments).arg(name).assert().code(2);
        let said = errors(&assert);
        assert!(!said.contains("panicked"), "{said}");
    }
}

#[test]
fn the_output_replaces_no_file_that_is_read() {
    let folder = tempfile::tempdir().unwrap();
    let draft = folder.path().join("draft.txt");
    fs::write(&draft, "Moths circle below the lamps.").unwrap();
    let path = draft.to_str().unwrap();
    let said = errors(&run(&["text", path, "--plain", "--out", path]).code(2));
    assert!(said.contains("would replace"), "{said}");
    assert_eq!(
        fs::read_to_string(&draft).unwrap(),
        "Moths circle below the lamps."
    );
}

#[test]
fn output_goes_to_a_file_in_whole() {
    let folder = tempfile::tempdir().unwrap();
    let report = folder.path().join("scale.txt");
    let path = report.to_str().unwrap();
    let assert = run(&["explain", "scale", "--out", path]).code(0);
    assert_eq!(output(&assert), "");
    let written = fs::read_to_string(&report).unwrap();
    assert_eq!(written, output(&run(&["explain", "scale"]).code(0)));
}

#[test]
fn colours_are_off_in_a_pipe_and_on_when_asked_for() {
    assert!(!output(&run(&["explain", "scale"])).contains('\u{1b}'));
    assert!(output(&run(&["explain", "scale", "--color", "always"])).contains('\u{1b}'));
    assert!(!output(&run(&["--color", "never", "explain", "scale"])).contains('\u{1b}'));
}

#[cfg(unix)]
#[test]
fn a_closed_pipe_ends_the_writing_quietly() {
    use std::process::{Command, Stdio};
    let mut child = Command::new(assert_cmd::cargo::cargo_bin("ownwords"))
        .args(["explain", "schema"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let ended = child.wait_with_output().unwrap();
    assert_eq!(ended.status.code(), Some(0));
    assert_eq!(String::from_utf8(ended.stderr).unwrap(), "");
}

#[test]
fn a_bad_line_of_pairs_is_told_and_the_others_are_printed() {
    let lines = "{\"id\": \"a\", \"source\": \"Lamps hold moths.\", \"rewrite\": \"Lamps hold moths.\"}\n\
        \n\
        nonsense\n\
        {\"id\": 3}\n\
        {\"id\": 2, \"source\": \"Lamps hold moths.\", \"rewrite\": \"Bats feed at dusk.\", \"label\": 1}\n";
    let assert = ownwords()
        .args(["place", "--pairs", "-"])
        .write_stdin(lines)
        .assert()
        .code(2);
    let said = errors(&assert);
    let told: Vec<&str> = said.lines().collect();
    assert_eq!(
        told,
        [
            "ownwords: standard input: line 3: this is no JSON object",
            "ownwords: standard input: line 4: \"source\" is missing, \"rewrite\" is missing",
            "ownwords: standard input: 2 lines were left out; a line has to hold an object such as \
             {\"id\": 1, \"source\": \"Lamps hold moths.\", \"rewrite\": \"Moths stay at lamps.\"}. Correct \
             these lines and run this again.",
        ]
    );
    let printed = output(&assert);
    let ids: Vec<serde_json::Value> = printed
        .lines()
        .map(|line| serde_json::from_str::<serde_json::Value>(line).unwrap()["id"].clone())
        .collect();
    assert_eq!(ids, [serde_json::json!("a"), serde_json::json!(2)]);
}

#[test]
fn pairs_come_out_in_order_whatever_the_number_of_threads() {
    let lines: String = (0..5000)
        .map(|id| {
            let rewrite = "lamp ".repeat(1 + id % 7);
            format!(
                "{{\"id\": {id}, \"source\": \"The lamp is lit.\", \"rewrite\": \"{rewrite}\"}}\n"
            )
        })
        .collect();
    let placed = |jobs: &str| {
        let assert = ownwords()
            .args(["place", "--pairs", "-", "--jobs", jobs])
            .write_stdin(lines.clone())
            .assert()
            .code(0);
        output(&assert)
    };
    let one = placed("1");
    assert_eq!(one.lines().count(), 5000);
    assert!(one.lines().nth(4321).unwrap().starts_with("{\"id\":4321,"));
    assert_eq!(one, placed("3"));
}
