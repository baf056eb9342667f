//! `check --format margin` as a user runs it, and the copy as LibreOffice reads it: opened, saved again as
//! OpenDocument, comments and the words they stand at read back.

use std::collections::BTreeMap;
use std::fs;
use std::io::{Cursor, Read as _};
use std::path::Path;

use quick_xml::events::Event;
use zip::ZipArchive;

use super::outside;
use crate::common::word::{document, field, intricate, odt, p, t};
use crate::common::{COPIED, OWN, Review, demo, run, text};

/// The most words of a comment.
const MOST_WORDS: usize = 59;

/// The packed bytes of each member of a package.
fn members(file: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut archive = ZipArchive::new(Cursor::new(fs::read(file).unwrap())).unwrap();
    let count = archive.len();
    let one = |index| {
        let mut member = archive.by_index_raw(index).unwrap();
        let mut packed = Vec::new();
        member.read_to_end(&mut packed).unwrap();
        (member.name().unwrap().into_owned(), packed)
    };
    (0..count).map(one).collect()
}

fn part(file: &Path, name: &str) -> String {
    let mut archive = ZipArchive::new(Cursor::new(fs::read(file).unwrap())).unwrap();
    let mut content = String::new();
    archive
        .by_name(name)
        .unwrap()
        .read_to_string(&mut content)
        .unwrap();
    content
}

/// The comments of an OpenDocument text: what each says, and the characters it stands at.
fn comments(content: &str) -> Vec<(String, String)> {
    let mut reader = quick_xml::Reader::from_str(content);
    reader.config_mut().expand_empty_elements = true;
    let mut open: Vec<(String, String, String)> = Vec::new();
    let (mut done, mut inside, mut skipped) = (Vec::new(), false, 0_usize);
    loop {
        let text = match reader.read_event().expect("LibreOffice writes sound XML") {
            Event::Eof => {
                // A comment without an end stands at a point.
                done.extend(open.into_iter().map(|(_, said, at)| (said, at)));
                return done;
            }
            Event::Start(start) => {
                let attribute = |name: &str| {
                    let found = start
                        .attributes()
                        .flatten()
                        .find(|found| found.key.into_inner() == name);
                    found
                        .map(|found| found.value.into_owned())
                        .unwrap_or_default()
                };
                match start.name().into_inner() {
                    "office:annotation" => {
                        inside = true;
                        open.push((attribute("office:name"), String::new(), String::new()));
                    }
                    "office:annotation-end" => {
                        let name = attribute("office:name");
                        if let Some(at) = open.iter().position(|(known, ..)| *known == name) {
                            let (_, said, words) = open.remove(at);
                            done.push((said, words));
                        }
                    }
                    "text:note"
                    | "text:tracked-changes"
                    | "dc:creator"
                    | "dc:date"
                    | "meta:creator-initials" => skipped += 1,
                    _ => {}
                }
                continue;
            }
            Event::End(end) => {
                match end.name().into_inner() {
                    "office:annotation" => inside = false,
                    "text:note"
                    | "text:tracked-changes"
                    | "dc:creator"
                    | "dc:date"
                    | "meta:creator-initials" => skipped -= 1,
                    "text:p" | "text:h" => open.iter_mut().for_each(|(_, said, words)| {
                        if inside {
                            said.push(' ')
                        } else {
                            words.push(' ')
                        }
                    }),
                    _ => {}
                }
                continue;
            }
            Event::Text(text) => text.to_string(),
            Event::GeneralRef(reference) => match &*reference {
                "amp" => "&".to_owned(),
                "lt" => "<".to_owned(),
                "gt" => ">".to_owned(),
                "quot" => "\"".to_owned(),
                "apos" => "'".to_owned(),
                // LibreOffice puts a line end behind a content control around a paragraph.
                "#x0d" => " ".to_owned(),
                other => panic!("unexpected reference {other}"),
            },
            _ => continue,
        };
        if skipped > 0 {
            continue;
        }
        match (inside, open.last_mut()) {
            (true, Some((_, said, _))) => said.push_str(&text),
            (false, _) => open
                .iter_mut()
                .for_each(|(_, _, words)| words.push_str(&text)),
            (true, None) => {}
        }
    }
}

/// The characters between the marks of each comment of a Word document.
fn marked(document: &str) -> Vec<String> {
    let numbers = document.split("commentRangeStart w:id=\"").skip(1);
    numbers
        .map(|rest| {
            let number = rest.split('"').next().unwrap();
            let end = format!("commentRangeEnd w:id=\"{number}\"");
            let inside = rest.split(&end).next().unwrap();
            let texts = inside.split("<w:t").skip(1).filter_map(|rest| {
                let (tag, rest) = rest.split_once('>')?;
                (tag.is_empty() || tag.starts_with(' '))
                    .then(|| rest.split("</w:t>").next().unwrap())
            });
            even(&texts.collect::<String>())
        })
        .collect()
}

/// Text with single blanks.
fn even(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Checks a draft in both forms and holds the copy to the findings, as LibreOffice reads it.
fn assert_commented(root: &Path, draft: &str) -> Vec<(String, String)> {
    let (stem, ending) = draft.rsplit('/').next().unwrap().split_once('.').unwrap();
    // A copy that is there already is not replaced, since a copy can't be told from a draft.
    let copy = format!("{stem}-commented.{ending}");
    let output = run(
        root,
        &["check", draft, "--format", "margin", "--out", &copy],
    );
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    let output = run(root, &["check", draft, "--format", "json"]);
    let json: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let mut wanted: Vec<String> = json["drafts"][0]["findings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|finding| even(text(&finding["draft"]["text"])))
        .collect();
    assert!(!wanted.is_empty());

    // Nothing but what has to differ does.
    let (before, after) = (members(&root.join(draft)), members(&root.join(&copy)));
    let allowed: &[&str] = match ending {
        "odt" => &["content.xml"],
        _ => &[
            "[Content_Types].xml",
            "word/document.xml",
            "word/comments.xml",
            "word/_rels/document.xml.rels",
        ],
    };
    for (name, packed) in &after {
        if before.get(name) != Some(packed) {
            assert!(
                allowed.contains(&name.as_str()),
                "{name} of {draft} differs"
            );
        }
    }
    assert!(before.keys().all(|name| after.contains_key(name)));

    outside(
        "soffice",
        &[
            "--headless",
            "--convert-to",
            "odt",
            "--outdir",
            "again",
            &copy,
        ],
        root,
    );
    let again = format!("again/{stem}-commented.odt");
    let found = comments(&part(&root.join(&again), "content.xml"));
    let mut stand: Vec<String> = found.iter().map(|(_, words)| even(words)).collect();
    stand.sort();
    wanted.sort();
    assert_eq!(stand, wanted, "{draft}");
    for (said, _) in &found {
        let words = said.split_whitespace().count();
        assert!((5..=MOST_WORDS).contains(&words), "{words} words: {said}");
    }
    // Nothing of the draft got lost on the way.
    let plain = |file: &str| {
        let output = run(root, &["text", "--plain", file]);
        even(&String::from_utf8(output.stdout).unwrap())
    };
    assert_eq!(plain(&copy), plain(draft));
    assert_eq!(plain(&again), plain(draft));
    found
}

#[test]
fn the_demo_drafts_get_their_comments_in_both_formats() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    copy_folder(&demo(), root);
    for chapter in ["chapter-1", "chapter-2"] {
        for ending in ["docx", "odt"] {
            let draft = format!("drafts/{chapter}.{ending}");
            outside(
                "pandoc",
                &[&format!("drafts/{chapter}.md"), "-o", &draft],
                root,
            );
            assert_commented(root, &draft);
        }
    }
}

fn copy_folder(from: &Path, to: &Path) {
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            fs::create_dir(&target).unwrap();
            copy_folder(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), target).unwrap();
        }
    }
}

#[test]
fn an_intricate_document_keeps_everything_it_has() {
    let review = Review::of_two().file("drafts/intricate.docx", intricate());
    let root = review.root();
    let output = review.run(&[
        "check",
        "drafts/intricate.docx",
        "--format",
        "margin",
        "--out",
        "copy.docx",
    ]);
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    outside(
        "soffice",
        &[
            "--headless",
            "--convert-to",
            "odt",
            "--outdir",
            "again",
            "copy.docx",
        ],
        root,
    );
    let found = comments(&part(&root.join("again/copy.odt"), "content.xml"));
    let mut stand: Vec<String> = found.iter().map(|(_, words)| even(words)).collect();
    let document = part(&root.join("copy.docx"), "word/document.xml");
    stand.extend(marked(&document));
    for words in [
        "Under the burning lamp the campion received one visit for every four that it received in the dark",
        "left the lamp after some minutes and went back to the honeysuckle",
        "Older residents remembered the gas, which had also gone out at midnight",
        "What people feared was not theft but stumbling.",
        "The council mended the kerb in the second winter",
        "Councils choose the hour by counting the last buses",
    ] {
        // LibreOffice shows a comment in a content control around paragraphs at a point.
        let times = if words.starts_with("Older") { 1 } else { 2 };
        let there = stand.iter().filter(|at| at.contains(words)).count();
        assert!(there >= times, "{there} at {words:?} among {stand:#?}");
    }
    assert!(
        found.iter().any(|(said, _)| said.contains("Which winter")),
        "the comment of somebody else is lost"
    );
    let plain = |file: &str| {
        even(&String::from_utf8(review.run(&["text", "--plain", file]).stdout).unwrap())
    };
    assert_eq!(plain("copy.docx"), plain("drafts/intricate.docx"));
    assert_eq!(
        plain("again/copy.odt"),
        plain("drafts/intricate.docx"),
        "LibreOffice reads less than there is"
    );
    for kept in [
        "<w:del w:id=\"102\"",
        "<w:ins w:id=\"101\"",
        "REF x",
        "w:fldCharType=\"end\"",
        "<w:alias w:val=\"Part\"/>",
    ] {
        assert!(document.contains(kept), "{kept} is lost");
    }
    // The wording in the note is told at the note's call.
    let call = document.find("<w:footnoteReference").unwrap();
    let before = &document[..call];
    assert!(
        before.ends_with("<w:r>") && before.trim_end_matches("<w:r>").ends_with("/>"),
        "{}",
        &before[before.len() - 120..]
    );
}

/// The one passage of a draft, where its comment stands in the copy that LibreOffice saved again, and the text of that.
fn saved_again(review: &Review, draft: &str) -> (String, String, String) {
    let copy = format!("copy.{}", draft.rsplit('.').next().unwrap());
    let arguments = ["check", draft, "--format", "margin", "--out", &copy];
    let output = review.run(&arguments);
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    let convert = [
        "--headless",
        "--convert-to",
        "odt",
        "--outdir",
        "again",
        &copy,
    ];
    outside("soffice", &convert, review.root());
    let found = comments(&part(&review.path("again/copy.odt"), "content.xml"));
    let [(_, stands)] = found.as_slice() else {
        panic!("{found:?}");
    };
    let json = review.run(&["check", draft, "--format", "json"]).stdout;
    let json: serde_json::Value = serde_json::from_slice(&json).unwrap();
    let passage = text(&json["drafts"][0]["findings"][0]["draft"]["text"]);
    let plain = review.run(&["text", "--plain", "again/copy.odt"]).stdout;
    let plain = String::from_utf8(plain).unwrap();
    (passage.to_owned(), stands.clone(), plain)
}

/// Text without blanks, since LibreOffice drops the one behind a field.
fn bare(text: &str) -> String {
    text.split_whitespace().collect()
}

/// Makes a field with a result.
type Making<'a> = &'a dyn Fn(&str) -> String;

#[test]
fn comments_are_never_shown_among_the_words_of_a_field() {
    let (one, other) = COPIED.split_at(COPIED.find("for every").unwrap());
    let simple = |result: &str| {
        format!(
            "<w:fldSimple w:instr=\" REF x \">{}</w:fldSimple>",
            t(result)
        )
    };
    // By kind of field, whether LibreOffice keeps marks inside of it.
    let fields: [(Making<'_>, bool); 5] = [
        (&|result| field(" REF x ", result), false),
        (&|result| field(" CITATION Har ", result), false),
        (&|result| field(" QUOTE \"x\" ", result), false),
        (&simple, false),
        (&|result| field(" HYPERLINK \\l \"x\" ", result), true),
    ];
    for (number, (field, keeps)) in fields.iter().enumerate() {
        let bodies = [
            // The passage begins outside and ends inside, begins inside and ends outside, stands inside.
            [
                t("So "),
                t(one),
                field(&format!("{other}, I hear")),
                t(", as they say."),
            ],
            [
                t("So "),
                field(&format!("I hear, {one}")),
                t(other),
                t(", as they say."),
            ],
            [
                t("So "),
                field(&format!("I hear, {COPIED}, too")),
                t(", as"),
                t(" they say."),
            ],
        ];
        for (place, body) in bodies.iter().enumerate() {
            let told = format!("field {number}, place {place}");
            let body = [p(&t(OWN)), p(&body.concat()), p(&t(OWN))].concat();
            let draft = document(&body, &[]);
            let review = Review::of_two().file("drafts/a.docx", draft);
            let (passage, stands, again) = saved_again(&review, "drafts/a.docx");
            let before = review.run(&["text", "--plain", "drafts/a.docx"]).stdout;
            let before = String::from_utf8(before).unwrap();
            assert_eq!(bare(&again), bare(&before), "{told}");
            let (stands, passage) = (bare(&stands), bare(&passage));
            assert!(stands.contains(&passage), "{told}: {stands}");
            assert_eq!(stands == passage, *keeps, "{told}: {stands}");
        }
    }
}

#[test]
fn the_copy_of_a_draft_in_utf16_opens() {
    let body = format!("<text:p>{OWN} Café.</text:p><text:p>Under a lamp {COPIED}.</text:p>");
    let review = Review::of_two().file("drafts/a.odt", odt(&body, "UTF-16"));
    let (passage, stands, again) = saved_again(&review, "drafts/a.odt");
    assert!(again.contains("Café."), "{again}");
    assert_eq!(even(&stands), passage);
}
