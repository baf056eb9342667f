//! Bad input: every case ends in a message that names the file and what to do, what can be checked is
//! checked all the same, the exit status is 2 only where the job could not be done, and nothing in the
//! review folder is changed.

use std::collections::BTreeMap;
use std::collections::hash_map::DefaultHasher;
use std::fs::{self, File};
use std::hash::{Hash, Hasher};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant, SystemTime};

use crate::common::{Checked, HARROW, HARROW_REFERENCE, OWN, QUILL_REFERENCE, Review};

/// A draft with one finding from Harrow, so that it shows whether the rest is still checked.
const DRAFT: &str = "My question is a narrow one. Moths that came near turned towards the lantern within a few \
    wingbeats, and that is all I need.\n";

/// Name, size, time of change and content of everything below a folder; links are not followed.
fn listing(folder: &Path) -> BTreeMap<String, (u64, SystemTime, u64)> {
    let mut found = BTreeMap::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap().flatten() {
            let path = entry.path();
            let about = fs::symlink_metadata(&path).unwrap();
            let mut hasher = DefaultHasher::new();
            if about.is_dir() {
                folders.push(path.clone());
            } else if about.is_symlink() {
                fs::read_link(&path).unwrap().hash(&mut hasher);
            } else if about.is_file() && about.len() < 20_000_000 {
                fs::read(&path).unwrap().hash(&mut hasher);
            }
            let name = path.to_string_lossy().into_owned();
            found.insert(
                name,
                (about.len(), about.modified().unwrap(), hasher.finish()),
            );
        }
    }
    found
}

/// Checks drafts and holds that nothing in the folder was changed by it.
#[track_caller]
fn check(review: &Review, arguments: &[&str]) -> Checked {
    let before = listing(review.root());
    let checked = review.check_with(arguments);
    assert_eq!(listing(review.root()), before, "the folder was changed");
    assert!(!checked.stderr.contains("panicked"), "{}", checked.stderr);
    checked
}

/// Checks a draft that has the one finding of [`DRAFT`] whatever else is wrong with the review, and
/// holds that something was left out whose name and reason contain these words.
#[track_caller]
fn still_checked(review: Review, left_out: &[(&str, &str)]) {
    let review = review.file("drafts/draft.md", DRAFT);
    let checked = check(&review, &["drafts/draft.md"]);
    checked.assert_kinds(&["unmarked-copy"]);
    let told = checked.left_out();
    for (what, why) in left_out {
        let found = told
            .iter()
            .any(|line| line.starts_with(&format!("{what}: ")) && line.contains(why));
        assert!(found, "{what}: ...{why}... is not among {told:#?}");
    }
    // A reader of the terminal is told the same.
    let output = review.run(&["check", "drafts/draft.md"]);
    let report = String::from_utf8(output.stdout).unwrap();
    for (what, _) in left_out {
        assert!(
            report.contains(&format!(" - {what}: ")),
            "{what} is not in {report}"
        );
    }
}

/// Holds that the job can't be done: status 2, nothing printed, and a message of one line a file.
#[track_caller]
fn refused(review: &Review, arguments: &[&str], message: &[&str]) {
    let before = listing(review.root());
    let output = review.run(arguments);
    assert_eq!(listing(review.root()), before, "the folder was changed");
    let stderr = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2), "{stderr}");
    assert!(output.stdout.is_empty());
    assert!(
        stderr.starts_with("ownwords: ") && !stderr.contains("panicked"),
        "{stderr}"
    );
    for words in message {
        assert!(stderr.contains(words), "{words:?} is not in {stderr}");
    }
}

/// Runs a command to its end, or ends it after some seconds and fails. What it prints goes through
/// files, since a full pipe would hold it up.
#[track_caller]
fn within(seconds: u64, command: &mut Command) -> Ended {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name);
    let file = |name: &str| Stdio::from(File::create(path(name)).unwrap());
    let mut child: Child = command
        .stdout(file("stdout"))
        .stderr(file("stderr"))
        .spawn()
        .unwrap();
    let start = Instant::now();
    let status = loop {
        if let Some(status) = child.try_wait().unwrap() {
            break status;
        }
        if start.elapsed() > Duration::from_secs(seconds) {
            child.kill().unwrap();
            child.wait().unwrap();
            panic!("not done after {seconds} seconds");
        }
        std::thread::sleep(Duration::from_millis(20));
    };
    let read = |name: &str| fs::read_to_string(path(name)).unwrap();
    Ended {
        code: status.code(),
        stdout: read("stdout"),
        stderr: read("stderr"),
    }
}

struct Ended {
    code: Option<i32>,
    stdout: String,
    stderr: String,
}

fn program(review: &Review) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_ownwords"));
    command.current_dir(review.root());
    command
}

#[test]
fn the_draft_has_its_one_finding_in_a_sound_review() {
    let review = Review::of_two().file("drafts/draft.md", DRAFT);
    let checked = check(&review, &["drafts/draft.md"]);
    checked.assert_kinds(&["unmarked-copy"]);
    assert_eq!(checked.left_out(), [""; 0]);
}

#[test]
fn no_review() {
    let review = Review::of_two().file("drafts/draft.md", DRAFT);
    refused(
        &review,
        &["check", "--review", "lamps", "drafts/draft.md"],
        &["lamps", "no such folder", "ownwords start"],
    );
    refused(
        &review,
        &["check", "--review", "drafts/draft.md", "drafts/draft.md"],
        &["drafts/draft.md"],
    );
    let elsewhere = tempfile::tempdir().unwrap();
    let output = crate::common::run(elsewhere.path(), &["check", "draft.md"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("ownwords start"));
}

#[test]
fn nothing_to_compare_with() {
    let review = Review::new().file("draft.md", DRAFT);
    refused(
        &review,
        &["check", "draft.md"],
        &["nothing to compare with", "sources"],
    );
    fs::remove_dir(review.path("sources")).unwrap();
    fs::remove_dir(review.path("notes")).unwrap();
    refused(
        &review,
        &["check", "draft.md"],
        &["nothing to compare with", "sources"],
    );
}

#[test]
fn no_draft() {
    let review = Review::of_two()
        .file("drafts/draft.md", DRAFT)
        .file("drafts/bad.md", [0, 1, 2, 3])
        .file("pictures/lamp.png", [0, 1, 2, 3]);
    refused(
        &review,
        &["check", "gone.md"],
        &["gone.md: could not be read", "check that the file exists"],
    );
    refused(
        &review,
        &["check", "pictures"],
        &["pictures: no file in this folder", "name the files"],
    );
    refused(
        &review,
        &["check", "gone.md", "drafts/bad.md"],
        &["gone.md", "drafts/bad.md"],
    );
    // As long as one of them can be read, the others are only told of.
    let checked = check(&review, &["gone.md", "drafts/draft.md", "drafts/bad.md"]);
    checked.assert_kinds(&["unmarked-copy"]);
    let told = checked.left_out();
    assert!(
        told.iter()
            .any(|line| line.starts_with("gone.md: could not be read")),
        "{told:?}"
    );
    assert!(
        told.iter()
            .any(|line| line.starts_with("drafts/bad.md: this is not a text file")),
        "{told:?}"
    );
}

#[test]
fn empty_and_blank_drafts() {
    for (name, content) in [
        ("empty.md", ""),
        ("empty.txt", ""),
        ("blank.md", " \n\n\t \u{a0}\r\n\n"),
        ("blank.txt", "\n\n\n"),
        ("mark.txt", "\u{feff}"),
        ("signs.md", "***\n\n- - -\n"),
    ] {
        let review = Review::of_two().file(name, content);
        let checked = check(&review, &[name]);
        checked.assert_silent();
        let draft = &checked.json["drafts"][0];
        assert_eq!(draft["words"], 0, "{name}");
        let remarks = draft["remarks"].to_string();
        assert!(
            remarks.contains("no words") && remarks.contains("is it the one you meant"),
            "{name}: {remarks}"
        );
        let report = String::from_utf8(review.run(&["check", name]).stdout).unwrap();
        assert!(
            report.contains(name) && report.contains("no words"),
            "{report}"
        );
        assert!(!report.contains("Good news"), "{report}");
    }
}

#[test]
fn empty_sources_notes_and_references() {
    let review = Review::of_two()
        .source("other.txt", "")
        .note("notes.md", "\n")
        .file("references.ris", "");
    still_checked(
        review,
        &[
            ("sources/other.txt", "holds no text"),
            ("notes/notes.md", "holds no text"),
        ],
    );
}

/// The text in Windows-1252, with a word that shows it.
fn windows_1252(text: &str) -> Vec<u8> {
    let text = text
        .replace("My question", "My caf\u{e9} \u{2013} question")
        .replace("The lane", "The \u{201c}lane\u{201d}");
    let byte = |c: char| match c {
        '\u{2013}' => 0x96,
        '\u{201c}' => 0x93,
        '\u{201d}' => 0x94,
        c => u8::try_from(c).unwrap(),
    };
    text.chars().map(byte).collect()
}

fn utf_16(text: &str) -> Vec<u8> {
    std::iter::once(0xFEFF)
        .chain(text.encode_utf16())
        .flat_map(u16::to_be_bytes)
        .collect()
}

#[test]
fn other_encodings_are_read_and_said_so() {
    for (name, encoding, encode) in [
        (
            "Windows-1252",
            "read as Windows-1252",
            windows_1252 as fn(&str) -> Vec<u8>,
        ),
        ("UTF-16", "read as UTF-16", utf_16),
    ] {
        for ending in ["txt", "md"] {
            let draft = format!("draft.{ending}");
            let review = Review::of_two().file(&draft, encode(DRAFT));
            let checked = check(&review, &[&draft]);
            checked.assert_kinds(&["unmarked-copy"]);
            let remarks = checked.json["drafts"][0]["remarks"].to_string();
            assert!(remarks.contains(encoding), "{name}: {remarks}");
            let report = String::from_utf8(review.run(&["check", &draft]).stdout).unwrap();
            assert!(report.contains(encoding), "{report}");

            let source = format!("harrow2019.{ending}");
            let review = Review::new()
                .reference(HARROW_REFERENCE)
                .source(&source, encode(HARROW));
            still_checked(review, &[(&format!("sources/{source}"), encoding)]);
        }
    }
    let review = Review::of_two();
    fs::write(
        review.path("references.bib"),
        windows_1252(&HARROW_REFERENCE.replace("Anna", "Ann\u{e9}")),
    )
    .unwrap();
    still_checked(review, &[("references.bib", "Windows-1252")]);
}

/// Bytes of the beginning of a picture, and then any.
fn binary() -> Vec<u8> {
    let mut bytes = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec();
    let mut state = 7_u32;
    bytes.extend((0..5000).map(|_| {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (state >> 24) as u8
    }));
    bytes
}

#[test]
fn binary_files() {
    let review = Review::of_two()
        .file("draft.md", binary())
        .file("draft", binary());
    refused(
        &review,
        &["check", "draft.md"],
        &[
            "draft.md: this is not a text file",
            "name a text or Markdown file",
        ],
    );
    refused(
        &review,
        &["check", "draft"],
        &["draft: this is not a text file"],
    );
    let review = Review::of_two()
        .source("photo.txt", binary())
        .note("scan.md", &"\u{0}\u{1}".repeat(99));
    still_checked(
        review,
        &[
            ("sources/photo.txt", "not a text file"),
            ("notes/scan.md", "not a text file"),
        ],
    );
}

#[test]
fn endings_that_cannot_be_read() {
    let review = Review::of_two().file("draft.xyz", DRAFT);
    refused(
        &review,
        &["check", "draft.xyz"],
        &["draft.xyz: files ending in .xyz can't be read", ".md"],
    );
    still_checked(
        Review::of_two().source("harrow2019.xyz", HARROW),
        &[("sources/harrow2019.xyz", ".xyz can't be read")],
    );
}

#[test]
fn references_and_sources_that_do_not_pair_up() {
    let review = Review::of_two().source("harow2019.txt", "An old copy of other words.\n");
    fs::remove_file(review.path("sources/quill2016.txt")).unwrap();
    still_checked(
        review,
        &[
            (
                "sources/harow2019.txt",
                "no reference has the key harow2019",
            ),
            (
                "sources/harow2019.txt",
                "did you mean Harrow (2019), key harrow2019",
            ),
            ("quill2016", "no stored source"),
        ],
    );
    let twice = Review::of_two().source("harrow2019.md", "Nothing of the kind.\n");
    still_checked(
        twice,
        &[(
            "sources/harrow2019.txt",
            "belongs to harrow2019 like sources/harrow2019.md; both were compared",
        )],
    );
}

#[test]
fn a_key_that_two_references_have() {
    let review = Review::of_two()
        .reference(&HARROW_REFERENCE.replace("Campion after eleven", "Another title"));
    still_checked(review, &[("references.bib", "harrow2019")]);
}

#[test]
fn no_references() {
    let review = Review::of_two();
    fs::remove_file(review.path("references.bib")).unwrap();
    still_checked(
        review,
        &[
            ("references", "no bibliography file"),
            ("sources/harrow2019.txt", "no reference has the key"),
        ],
    );
    let named = Review::of_two().setting("references = [\"mine.bib\"]");
    still_checked(named, &[("mine.bib", "could not be read")]);
}

#[test]
fn broken_bibliographies() {
    let broken = "@article{vane2003,\n  author = {Vane, Ida,\n  title = {Beds},\n\n";
    let review = Review::of_two().file(
        "references.bib",
        format!("{broken}{HARROW_REFERENCE}{QUILL_REFERENCE}"),
    );
    still_checked(
        review,
        &[("references.bib", "line 1"), ("references.bib", "brace")],
    );
    // The entries behind the broken one are there.
    let review = Review::of_two()
        .file(
            "references.bib",
            format!("{broken}{HARROW_REFERENCE}{QUILL_REFERENCE}"),
        )
        .file(
            "draft.md",
            format!("{OWN} Others agree (Harrow, 2019; Quill, 2016).\n"),
        );
    check(&review, &["draft.md"]).assert_silent();
    still_checked(
        Review::of_two().file("references.json", "[{\"id\": "),
        &[("references.json", "no JSON")],
    );
    still_checked(
        Review::of_two().file("references.bib", binary()),
        &[("references.bib", "")],
    );
}

#[test]
fn settings_that_cannot_be_used() {
    for (settings, message) in [
        (
            "run_wrds = 7",
            &[
                "ownwords.toml, line 1",
                "no setting \"run_wrds\"",
                "did you mean run_words?",
            ][..],
        ),
        (
            "\n\nqwertz = 1",
            &["ownwords.toml, line 3", "ownwords explain settings"],
        ),
        (
            "run_words = \"seven\"",
            &[
                "ownwords.toml, line 1",
                "run_words takes a whole number from 4 to 40",
            ],
        ),
        (
            "run_words = 1",
            &["ownwords.toml, line 1", "out of range", "4 to 40"],
        ),
        ("run_words = ", &["ownwords.toml, line 1"]),
        ("run_words = 7\nrun_words = 8", &["ownwords.toml, line 2"]),
    ] {
        let review = Review::of_two()
            .file("ownwords.toml", settings)
            .file("draft.md", DRAFT);
        refused(&review, &["check", "draft.md"], message);
    }
    let review = Review::of_two()
        .file("draft.md", DRAFT)
        .file("ownwords.toml", [0xFF, 0xFE, 0xFD]);
    refused(
        &review,
        &["check", "draft.md"],
        &["ownwords.toml", "plain text"],
    );
    let review = Review::of_two().file("draft.md", DRAFT);
    refused(
        &review,
        &["check", "draft.md", "--run-words", "99"],
        &["command line", "4 to 40"],
    );
}

#[test]
fn folders_where_files_should_be() {
    let review = Review::of_two().file("draft.md", DRAFT);
    fs::remove_file(review.path("ownwords.toml")).unwrap();
    fs::create_dir(review.path("ownwords.toml")).unwrap();
    refused(
        &review,
        &["check", "--review", ".", "draft.md"],
        &["ownwords.toml"],
    );
    let review = Review::of_two();
    fs::create_dir(review.path("sources/folder.txt")).unwrap();
    fs::create_dir(review.path("notes/folder.md")).unwrap();
    fs::remove_dir(review.path("drafts")).unwrap();
    still_checked(review, &[]);
}

#[cfg(unix)]
#[test]
fn links_that_lead_nowhere_or_in_circles() {
    use std::os::unix::fs::symlink;
    let review = Review::of_two();
    symlink("gone.txt", review.path("sources/lost.txt")).unwrap();
    symlink("circle.txt", review.path("sources/circle.txt")).unwrap();
    symlink("..", review.path("sources/up")).unwrap();
    symlink(".", review.path("notes/here")).unwrap();
    symlink("gone.md", review.path("notes/lost.md")).unwrap();
    symlink("quill2016.txt", review.path("sources/linked.txt")).unwrap();
    still_checked(
        review,
        &[
            ("sources/lost.txt", "could not be read"),
            ("sources/circle.txt", "could not be read"),
            ("notes/lost.md", "could not be read"),
            ("sources/linked.txt", "no reference has the key linked"),
        ],
    );
    let review = Review::of_two();
    symlink("circle.md", review.path("circle.md")).unwrap();
    refused(
        &review,
        &["check", "circle.md"],
        &["circle.md: could not be read"],
    );
}

#[cfg(unix)]
#[test]
fn files_that_may_not_be_opened() {
    use std::os::unix::fs::PermissionsExt;
    let review = Review::of_two()
        .source("other.txt", "Secret.\n")
        .file("draft.md", DRAFT);
    for name in ["sources/other.txt", "draft.md"] {
        fs::set_permissions(review.path(name), fs::Permissions::from_mode(0o000)).unwrap();
    }
    if File::open(review.path("draft.md")).is_ok() {
        return; // root may open anything; folders and links above take the place of this
    }
    let output = review.run(&["check", "draft.md"]);
    assert_eq!(output.status.code(), Some(2));
    fs::set_permissions(review.path("draft.md"), fs::Permissions::from_mode(0o600)).unwrap();
    let told = review.check_with(&["draft.md"]).left_out();
    assert!(
        told.iter()
            .any(|line| line.starts_with("sources/other.txt: could not be read")),
        "{told:?}"
    );
}

#[cfg(unix)]
#[test]
fn a_pipe_among_the_sources_holds_nothing_up() {
    let review = Review::of_two().file("draft.md", DRAFT);
    for name in ["sources/pipe.txt", "notes/pipe.md"] {
        let made = Command::new("mkfifo")
            .arg(review.path(name))
            .status()
            .unwrap();
        assert!(made.success());
    }
    let output = within(30, program(&review).args(["check", "draft.md", "--quiet"]));
    assert_eq!(output.code, Some(1));
}

#[test]
fn files_far_over_the_limit_cost_neither_time_nor_memory() {
    let review = Review::of_two().file("draft.md", DRAFT);
    for name in [
        "huge.md",
        "huge.txt",
        "sources/huge.txt",
        "notes/huge.md",
        "references.json",
    ] {
        // Sparse: it takes no room on the disk, but would in memory.
        File::create(review.path(name))
            .unwrap()
            .set_len(200_000_000)
            .unwrap();
    }
    let start = Instant::now();
    for name in ["huge.md", "huge.txt"] {
        let message = ["200 MB is over the limit of 100 MB", "max_file_mb", name];
        refused(&review, &["check", name], &message);
        refused(&review, &["text", name], &message);
        refused(&review, &["place", "--source", name, "draft.md"], &message);
    }
    still_checked(
        review,
        &[
            ("sources/huge.txt", "200 MB is over the limit of 100 MB"),
            ("notes/huge.md", "200 MB is over the limit of 100 MB"),
            ("references.json", "200 MB is over the limit of 100 MB"),
        ],
    );
    assert!(
        start.elapsed() < Duration::from_secs(20),
        "{:?}",
        start.elapsed()
    );
}

#[test]
fn the_limit_is_a_setting() {
    let review = Review::of_two()
        .setting("max_file_mb = 1")
        .file("draft.md", "Moths. ".repeat(200_000));
    refused(
        &review,
        &["check", "draft.md"],
        &["draft.md: 2 MB is over the limit of 1 MB"],
    );
}

#[test]
fn what_a_file_may_unpack_into_is_a_setting() {
    let words = "Moths were seen by nobody that night. ".repeat(190_000);
    let content = format!(
        "<office:document-content xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" \
         xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\"><office:body><office:text><text:p>{words}</text:p>\
         </office:text></office:body></office:document-content>"
    );
    let draft = crate::common::word::raw(&[("content.xml", &content)]);
    let review = Review::of_two().file("draft.odt", draft);
    let review = review.setting("max_unpacked_mb = 10");
    let wanted = ["draft.odt: content.xml", "unpacks from", "max_unpacked_mb"];
    for command in ["check", "text"] {
        refused(&review, &[command, "draft.odt"], &wanted);
    }
    let review = review.file("ownwords.toml", "max_unpacked_mb = 12\n");
    let output = review.run(&["text", "--plain", "draft.odt"]);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    assert!(output.stdout.len() > 7_000_000);
}

/// Invented words of one to three syllables, always the same ones.
fn nonsense(bytes: usize) -> String {
    let mut state = 1_u32;
    let mut next = |below: u32| {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (state >> 16) % below
    };
    let mut text = String::with_capacity(bytes + 16);
    while text.len() < bytes {
        for _ in 0..=next(3) {
            text.push(char::from(b"bcdfglmnprst"[next(12) as usize]));
            text.push(char::from(b"aeiou"[next(5) as usize]));
        }
        text.push(' ');
    }
    text
}

#[test]
fn a_line_of_10_megabytes() {
    let line = nonsense(10_000_000);
    let copied = "Moths that came near turned towards the lantern within a few wingbeats";
    let review = Review::of_two().file("draft.md", format!("{line} {copied}"));
    let output = within(240, program(&review).args(["check", "draft.md", "--quiet"]));
    assert_eq!(output.code, Some(1), "{}", output.stderr);
    let told = output.stdout;
    assert!(
        told.starts_with("draft.md:1: act: unmarked-copy: Moths that came near"),
        "{told}"
    );
    let review = Review::of_two()
        .source("line.txt", &line)
        .file("draft.md", DRAFT);
    let output = within(240, program(&review).args(["check", "draft.md", "--quiet"]));
    assert_eq!(output.code, Some(1), "{}", output.stderr);
    assert!(output.stdout.starts_with("draft.md:1: act: unmarked-copy"));
}

#[test]
fn one_word_of_10_megabytes() {
    let review = Review::of_two()
        .source("word.txt", "a".repeat(10_000_000))
        .file("draft.md", "\u{e9}".repeat(5_000_000));
    let output = within(240, program(&review).args(["check", "draft.md", "--quiet"]));
    assert_eq!(output.code, Some(0), "{}", output.stderr);
}

/// Repetition is what makes a comparison of all with all explode.
#[test]
fn hostile_repetition_in_draft_and_source() {
    // Unoptimised, a million words take minutes. Where time grows with the square of the words, either
    // number takes far longer than is allowed here.
    let many = if cfg!(debug_assertions) {
        50_000
    } else {
        1_000_000
    };
    for (what, unit, times) in [
        ("a word", "lamp ", many),
        ("two words", "lamp moth ", many / 2),
        (
            "a sentence",
            "Moths circle the burning lamp until dawn. ",
            many / 10,
        ),
        (
            "a paragraph",
            "Moths circle the burning lamp until dawn.\n\n",
            many / 10,
        ),
        (
            "a quotation",
            "\"Moths circle the lamp\" (Harrow, 2019). ",
            many / 20,
        ),
        ("an opening mark", "\"", many),
        ("a bracket", "(", many),
        ("a citation", "(Harrow, 2019) ", many / 10),
        ("a quotation sign", "> ", many / 10),
    ] {
        let text = unit.repeat(times);
        let review = Review::of_two()
            .source("same.md", &text)
            .note("same.md", &text)
            .file("draft.md", &text);
        let output = within(90, program(&review).args(["check", "draft.md", "--quiet"]));
        assert!(
            output.code.is_some_and(|code| code < 2),
            "{what}: {}",
            output.stderr
        );
    }
}
