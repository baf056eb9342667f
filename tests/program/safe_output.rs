//! What stands in a user's files can't do anything where it is shown: every control character, every mark of writing
//! direction and every invisible character, in every field that a report shows, in every form of output. JSON and SARIF
//! carry what their standards allow.

use std::io::Read;
use std::process::Output;

use crate::common::{HARROW, HARROW_REFERENCE, OWN, QUILL, Review};
use serde_json::{Value, json};

/// Characters that no output may show as they are: the controls but for blank space and NUL (which makes a file
/// binary), marks of writing direction, separators, and what can't be seen.
fn harmful() -> Vec<char> {
    let controls = ('\u{1}'..='\u{1f}').chain('\u{7f}'..='\u{9f}');
    let controls = controls.filter(|c| !matches!(c, '\t' | '\n' | '\r'));
    let marks = ('\u{200b}'..='\u{200b}')
        .chain('\u{200e}'..='\u{200f}')
        .chain('\u{2028}'..='\u{202e}')
        .chain('\u{2060}'..='\u{206f}')
        .chain('\u{fff9}'..='\u{fffb}');
    let marks = marks.chain(['\u{61c}', '\u{feff}', '\u{e0001}', '\u{e007f}']);
    controls.chain(marks).collect()
}

/// A word of a field with all of them behind it.
fn field(name: &str) -> String {
    let all: String = harmful().into_iter().collect();
    format!("{name}{all}end")
}

/// The fields that a report shows.
const FIELDS: [&str; 13] = [
    "Zauthor",
    "Ztitle",
    "Zjournal",
    "Zheading",
    "Zsummary",
    "Zquotation",
    "Zcomment",
    "Zsource",
    "Zdraft",
    "Zsection",
    "Zreason",
    "Zterm",
    "Zfile",
];

const COPIED: &str = "Under the burning lamp the campion received one visit for every four that it received in the dark";

/// A file of characters holds a control for every thousand of them at most, else it is taken for a binary one. What
/// stands in a comment of Markdown is not read.
fn padded(text: &str) -> String {
    format!("{text}\n\n<!-- {} -->\n", "dark ".repeat(40_000))
}

/// A review with each of the fields full of them, and the name of its draft.
fn hostile() -> (Review, String) {
    let reference = HARROW_REFERENCE
        .replace("Harrow,", &format!("Harrow {},", field("Zauthor")))
        .replace(" title = {", &format!(" title = {{{} ", field("Ztitle")))
        .replace(
            "journaltitle = {",
            &format!("journaltitle = {{{} ", field("Zjournal")),
        );
    let source = HARROW.replace(
        "received in the dark.",
        &format!("received in the dark {}.", field("Zsource")),
    );
    let entry = format!(
        "# {} Brandsley (2009)\n\n## Summary\n\n{OWN}\n\n# harrow2019\n\n## Summary\n\n{COPIED} {}. I think so.\n\n## Quotations\n\n\
         \"The drop was steepest for the {} carpets and pugs\" (p. 113)\n\n## Comments\n\n{} {OWN}\n",
        field("Zheading"),
        field("Zsummary"),
        field("Zquotation"),
        field("Zcomment")
    );
    let draft = format!(
        "# {}\n\n{OWN} {COPIED} {}. \"Hawk moths, by contrast, left the {} lamp after minutes\" [@harrow2019, p. 3]. {} {OWN}\n\n\
         {COPIED} (Quill, 2016).\n",
        field("Zsection"),
        field("Zdraft"),
        field("Zquotation"),
        field("Zterm"),
    );
    let name = format!("drafts/{}.md", field("Zfile"));
    let term = json!([format!("the campion received {}", field("Zterm"))]).to_string();
    // TOML wants the one control spelled out that JSON does not.
    let term = term.replace('\u{7f}', "\\u007f");
    let review = Review::new()
        .reference(&reference)
        .reference(crate::common::QUILL_REFERENCE)
        .source("harrow2019.md", padded(&source))
        .source("quill2016.txt", QUILL)
        .note("entries.md", &padded(&entry))
        .setting(&format!("terms = {term}"))
        .file(&name, padded(&draft));
    (review, name)
}

/// What was printed, on both outputs.
fn printed(output: &Output) -> String {
    assert!(output.status.code().is_some(), "{output:?}");
    let both = [output.stdout.as_slice(), &output.stderr].concat();
    String::from_utf8(both).unwrap()
}

/// The parts of a package that hold text.
fn unpacked(path: &std::path::Path) -> String {
    let mut package = zip::ZipArchive::new(std::fs::File::open(path).unwrap()).unwrap();
    let mut all = String::new();
    for at in 0..package.len() {
        let mut part = package.by_index(at).unwrap();
        if part.name().is_ok_and(|name| name.ends_with(".xml")) {
            part.read_to_string(&mut all).unwrap();
        }
    }
    all
}

#[track_caller]
fn assert_safe(what: &str, shown: &str) {
    let harmful = harmful();
    for (number, line) in shown.split('\n').enumerate() {
        let found = line.chars().find(|c| harmful.contains(c));
        assert!(
            found.is_none(),
            "{what}, line {}: {found:?} in {line:?}",
            number + 1
        );
    }
}

#[test]
fn nothing_harmful_is_shown_in_any_form() {
    let (review, draft) = hostile();
    let checked = review.run(&["check", &draft, "--format", "json"]);
    let said = String::from_utf8_lossy(&checked.stderr);
    let checked: Value = serde_json::from_slice(&checked.stdout).expect(&said);
    let ids = checked["drafts"][0]["findings"].as_array().unwrap();
    let id = crate::common::text(&ids[0]["id"]);
    let reason = field("Zreason");
    let settled = review.run(&["settle", id, "--because", &reason, "--in", &draft]);
    assert_eq!(settled.status.code(), Some(0), "{settled:?}");
    assert_safe("settle", &printed(&settled));

    let title = field("Ztitle");
    let forms: &[&[&str]] = &[
        &[
            "check",
            &draft,
            "--show-settled",
            "--show-explained",
            "--whole",
        ],
        &["check", &draft],
        &["check", &draft, "--quiet"],
        &["check", &draft, "--format", "lines"],
        &["check", &draft, "--format", "markdown"],
        &["check", &draft, "--format", "csv"],
        &["check", &draft, "--format", "page"],
        &["check", &draft, "--since", &draft],
        &["notes", "--whole", "--show-explained"],
        &["notes", "--quiet"],
        &["quotations", "--whole"],
        &["quotations", "--quiet"],
        &["quotations", "--format", "csv"],
        &["settle", "--list"],
        &["settle", "--undo", id],
        &["settle", "--term", &title],
        &["bibliography"],
        &["bibliography", "--title", &title, "--format", "markdown"],
        &["bibliography", "--title", &title, "--format", "html"],
        &["bibliography", "--style", &title],
        &["place", "--source", "sources/harrow2019.md", &draft],
        &[
            "place",
            "--source",
            "sources/harrow2019.md",
            &draft,
            "--format",
            "page",
        ],
        &["place", "--review", ".", &draft],
        &["text", &draft],
        &["text", "notes/entries.md"],
        &["explain", "terms"],
        &["explain", &title],
        &["check", &format!("{draft}.none")],
        &["check", "--review", &title, &draft],
    ];
    let mut all = String::new();
    for arguments in forms {
        let shown = printed(&review.run(arguments));
        assert_safe(&format!("{arguments:?}"), &shown);
        all.push_str(&shown);
    }
    let out = review.path("bibliography.docx");
    let made = review.run(&[
        "bibliography",
        "--title",
        &title,
        "--out",
        "bibliography.docx",
    ]);
    assert_eq!(made.status.code(), Some(0), "{made:?}");
    let document = unpacked(&out);
    assert_safe("bibliography.docx", &document);
    all.push_str(&document);
    for name in FIELDS {
        assert!(all.contains(name), "{name} is shown nowhere");
    }
}

#[test]
fn comments_in_the_margin_hold_nothing_harmful() {
    let (review, _) = hostile();
    let words = format!(
        "{COPIED}. \"Hawk moths, by contrast, left the lamp after minutes\" [@harrow2019, p. 3]."
    );
    let docx = crate::common::word::document(
        &crate::common::word::p(&crate::common::word::t(&words)),
        &[],
    );
    let review = review.file("drafts/plain.docx", docx);
    let made = review.run(&[
        "check",
        "drafts/plain.docx",
        "--format",
        "margin",
        "--out",
        "out.docx",
    ]);
    assert_eq!(made.status.code(), Some(1), "{made:?}");
    let document = unpacked(&review.path("out.docx"));
    assert!(
        document.contains("Zauthor"),
        "no name of a source: {document}"
    );
    assert_safe("out.docx", &document);
}

/// JSON spells out the controls that it must; the other forms for programs are JSON too.
#[test]
fn json_is_json() {
    let (review, draft) = hostile();
    for arguments in [
        &["check", &draft, "--format", "json"][..],
        &["check", &draft, "--format", "sarif"],
        &["notes", "--format", "json"],
        &["quotations", "--format", "json"],
        &["settle", "--list", "--format", "json"],
        &[
            "place",
            "--source",
            "sources/harrow2019.md",
            &draft,
            "--format",
            "json",
        ],
        &["place", "--review", ".", &draft, "--format", "json"],
    ] {
        let output = review.run(arguments);
        let text = String::from_utf8(output.stdout).unwrap();
        assert!(!text.is_empty(), "{arguments:?}");
        let raw = text.chars().find(|c| *c < ' ' && *c != '\n');
        assert_eq!(raw, None, "{arguments:?}");
        for value in serde_json::Deserializer::from_str(&text).into_iter::<Value>() {
            assert!(value.unwrap().is_object(), "{arguments:?}");
        }
    }
}
