//! `ownwords notes`: each kind that can be found in notes, in both directions, and every layout of notes.

use std::fs;
use std::io::Write as _;

use crate::common::{HARROW_REFERENCE, QUILL_REFERENCE, Review, run, text};
use serde_json::Value;

/// A sentence of the first source.
const COPIED: &str =
    "Moths that came near turned towards the lantern within a few wingbeats and stayed with it";

/// A summary, a quotation and a comment that nothing is to be said of.
const SUMMARY: &str = "A count on one unlit lane and one lit lane over two years. Plants that depend on night \
    insects did worse near the light; a plant with daytime guests did not.";
const QUOTATION: &str =
    "- “heavy fliers pay a toll and light ones pay with the whole night” (p. 113)";
const COMMENT: &str = "One lane is not many. I want to see this done on a hill.";

struct Notes {
    json: Value,
    code: i32,
    stderr: String,
}

impl Notes {
    fn of(review: &Review, arguments: &[&str]) -> Self {
        let output = review.run(&[&["notes", "--format", "json"], arguments].concat());
        let stdout = String::from_utf8(output.stdout).unwrap();
        Self {
            json: serde_json::from_str(&stdout).unwrap_or_default(),
            code: output.status.code().unwrap(),
            stderr: String::from_utf8(output.stderr).unwrap(),
        }
    }

    fn entries(&self) -> &[Value] {
        self.json["entries"]
            .as_array()
            .unwrap_or_else(|| panic!("{}", self.stderr))
    }

    fn findings(&self) -> Vec<&Value> {
        let entries = self.entries().iter();
        entries
            .flat_map(|entry| entry["findings"].as_array().unwrap())
            .collect()
    }

    #[track_caller]
    fn assert_kinds(&self, kinds: &[&str]) -> &Self {
        let found: Vec<&str> = self
            .findings()
            .iter()
            .map(|finding| text(&finding["kind"]))
            .collect();
        assert_eq!(found, kinds, "{:#?}", self.findings());
        assert_eq!(self.code, i32::from(!kinds.is_empty()), "{}", self.stderr);
        self
    }
}

/// One entry on the first source, checked.
#[track_caller]
fn entry(summary: &str, quotations: &str, comments: &str, kinds: &[&str]) -> Notes {
    let review = Review::of_two().entry("harrow2019", summary, quotations, comments);
    let notes = Notes::of(&review, &[]);
    notes.assert_kinds(kinds);
    notes
}

#[test]
fn an_honest_entry_is_clean_and_says_so() {
    let notes = entry(SUMMARY, QUOTATION, COMMENT, &[]);
    assert_eq!(notes.entries()[0]["clean"], true);
    assert_eq!(notes.entries()[0]["quotations"], 1);
    let review = Review::of_two().entry("harrow2019", SUMMARY, QUOTATION, COMMENT);
    let said = String::from_utf8(review.run(&["notes"]).stdout).unwrap();
    assert!(
        said.contains("   clean   Harrow (2019), notes/harrow2019.md:1: "),
        "{said}"
    );
    assert!(said.contains("1 entry, nothing to look at"), "{said}");
}

#[test]
fn copying_in_the_summary() {
    let notes = entry(
        &format!("{SUMMARY} {COPIED}."),
        QUOTATION,
        COMMENT,
        &["unmarked-copy"],
    );
    let finding = notes.findings()[0];
    assert_eq!(finding["source"]["key"], "harrow2019");
    assert_eq!(finding["source"]["page"], "113");
    assert_eq!(finding["draft"]["text"], format!("{COPIED}."));
    assert_eq!(finding["credit"], Value::Null);
    // With marks and page it is a quotation.
    let marked = format!("{SUMMARY} “{COPIED}” (p. 113).");
    entry(&marked, QUOTATION, COMMENT, &[]);
}

#[test]
fn a_summary_too_close_in_wording() {
    let close = "A gardener who looks at bryony alone would thus call the lamp harmless. Anyone who wishes to learn what \
        a lamp does to hedges must ask the plant which has no other client.";
    let notes = entry(close, QUOTATION, COMMENT, &["close-paraphrase"]);
    assert!(notes.findings()[0]["degree"].is_string());
    // The same thing told freely needs no citation in an entry on this work.
    let free = "Bryony tells a gardener nothing about lamps, because daytime bees make good whatever the moths of the \
        lane neglect; campion, with no second customer to rely on, is the plant of the hedge to be asked, and there \
        the seeds were down by a third.";
    entry(free, QUOTATION, COMMENT, &[]);
}

#[test]
fn wording_of_another_source() {
    let taken = "Older residents remembered the gas, which had also gone out at midnight";
    let summary = format!("{SUMMARY} {taken}.");
    let notes = entry(&summary, QUOTATION, COMMENT, &["unmarked-copy"]);
    let finding = notes.findings()[0];
    assert_eq!(finding["source"]["key"], "quill2016");
    assert_eq!(finding["credit"]["state"], "elsewhere");
    assert!(
        text(&finding["advice"]).contains("Quill (2016)"),
        "{finding}"
    );
}

#[test]
fn pages_of_quotations() {
    let bare = "“heavy fliers pay a toll and light ones pay with the whole night”";
    for (written, kinds) in [
        (format!("- {bare} (p. 113)"), &[][..]),
        (format!("- {bare} [113]"), &[]),
        (format!("- {bare}, p. 113"), &[]),
        (format!("- {bare} (p. 113, my emphasis)"), &[]),
        (format!("p. 113: {bare}"), &[]),
        (format!("{bare} (Harrow, 2019, p. 113)"), &[]),
        (format!("> {} (p. 113)", bare.trim_matches(['“', '”'])), &[]),
        (format!("- {bare}"), &["quotation-without-page"]),
        (format!("- {bare} (2019)"), &["quotation-without-page"]),
        (format!("- {bare} (p. 114)"), &["page-mismatch"]),
        (format!("1. {bare}"), &["quotation-without-page"]),
    ] {
        entry(SUMMARY, &written, COMMENT, kinds);
    }
}

#[test]
fn a_page_behind_a_quotation_is_not_one_of_the_work_named_before() {
    let comment = format!("{COMMENT} Compare Quill (2016).");
    // The next part begins with a quotation and a page alone.
    let review = Review::of_two().note(
        "harrow2019.md",
        &format!("# harrow2019\n\n## Summary\n\n{SUMMARY}\n\n## Comments\n\n{comment}\n\n## Quotations\n\n{QUOTATION}\n"),
    );
    Notes::of(&review, &[]).assert_kinds(&[]);
    // Within one sentence the work named there is meant.
    let other =
        format!("{COMMENT} Quill (2016) says that people “had begun to notice owls” (p. 21).");
    entry(SUMMARY, QUOTATION, &other, &[]);
}

#[test]
fn altered_and_misplaced_quotations() {
    let altered = "- “heavy fliers pay a toll and light ones pay with the entire night” (p. 113)";
    let notes = entry(SUMMARY, altered, COMMENT, &["altered-quotation"]);
    assert_eq!(notes.findings()[0]["differences"][0]["draft"], "entire");
    let misplaced =
        format!("{QUOTATION}\n- “What people feared was not theft but stumbling.” (p. 21)");
    let notes = entry(SUMMARY, &misplaced, COMMENT, &["credit-elsewhere"]);
    assert_eq!(notes.findings()[0]["source"]["key"], "quill2016");
    let nowhere =
        format!("{QUOTATION}\n- “the night has its own gardeners and pays them” (p. 113)");
    entry(SUMMARY, &nowhere, COMMENT, &["quotation-not-found"]);
}

#[test]
fn source_wording_in_the_comments() {
    let notes = entry(
        SUMMARY,
        QUOTATION,
        &format!("{COPIED}. {COMMENT}"),
        &["comment-copies-source"],
    );
    assert_eq!(notes.findings()[0]["degree"], "verbatim");
    let quoted = format!("“{COPIED}” (p. 113) is what I shall never believe.");
    entry(SUMMARY, QUOTATION, &quoted, &[]);
    // Comments may say freely what the source says.
    let free =
        "So bees, who come by day, hide from the gardener what the lamp took from the campion.";
    entry(SUMMARY, QUOTATION, free, &[]);
}

#[test]
fn own_voice_in_the_summary() {
    let own = format!("{SUMMARY} I doubt that this holds on hills.");
    let notes = entry(&own, QUOTATION, COMMENT, &["own-voice-in-summary"]);
    let finding = notes.findings()[0];
    assert_eq!(
        finding["draft"]["text"],
        "I doubt that this holds on hills."
    );
    assert_eq!(finding["weight"], "look");
    let plural = format!("{SUMMARY} We see fewer seeds.");
    let notes = entry(&plural, QUOTATION, COMMENT, &["own-voice-in-summary"]);
    assert_eq!(notes.findings()[0]["weight"], "know");
    let quoted = format!("{SUMMARY} It begins “In those six hours we counted visits” (p. 113).");
    entry(&quoted, QUOTATION, COMMENT, &[]);
    // In the comments it is at home.
    let comment = "I doubt that this holds on my hill. We shall see.";
    entry(SUMMARY, QUOTATION, comment, &[]);
}

#[test]
fn missing_parts() {
    let cases = [
        ("", QUOTATION, COMMENT, "summary", "look"),
        (SUMMARY, QUOTATION, "", "comments", "look"),
        (SUMMARY, "", COMMENT, "quotations", "know"),
        ("", QUOTATION, "", "summary and no comments", "look"),
    ];
    for (summary, quotations, comments, missing, weight) in cases {
        let notes = entry(summary, quotations, comments, &["entry-incomplete"]);
        let finding = notes.findings()[0];
        let advice = text(&finding["advice"]);
        assert!(
            advice.starts_with(&format!("The entry has no {missing}.")),
            "{advice}"
        );
        assert_eq!(finding["weight"], weight);
        assert_eq!(finding["draft"]["text"], "harrow2019");
    }
    // A quotation in the summary is one.
    let quoting = format!("{SUMMARY} It says that “heavy fliers pay a toll” (p. 113).");
    entry(&quoting, "", COMMENT, &[]);
}

#[test]
fn entries_and_references_without_each_other() {
    let review = Review::of_two().note(
        "notes.md",
        &format!("# Harow (2019)\n\n## Summary\n\n{SUMMARY}\n\n## Quotations\n\n{QUOTATION}\n\n## Comments\n\n{COMMENT}\n"),
    );
    let notes = Notes::of(&review, &[]);
    notes.assert_kinds(&["entry-without-reference"]);
    let without = notes.json["references_without_entry"].as_array().unwrap();
    let keys: Vec<&str> = without.iter().map(|one| text(&one["key"])).collect();
    assert_eq!(keys, ["harrow2019", "quill2016"]);
}

fn long_file(headings: &[&str]) -> String {
    let entry = |heading: &&str| {
        format!("## {heading}\n\n### Summary\n\n{SUMMARY}\n\n### Comments\n\n{COMMENT}\n\n")
    };
    headings.iter().map(entry).collect()
}

#[test]
fn order_of_entries() {
    let more = "@misc{adams2001, author = {Adams, Una}, title = {Lanes}, year = {2001}}\n\
        @misc{harrow2012, author = {Harrow, Anna}, title = {Kerbs}, year = {2012}}";
    let out_of_order = |headings: &[&str]| -> Vec<(String, String)> {
        let review = Review::of_two()
            .reference(more)
            .note("all.md", &long_file(headings));
        let notes = Notes::of(&review, &[]);
        let findings = notes.findings();
        let order = findings.iter().filter(|one| one["kind"] == "entry-order");
        order
            .map(|one| {
                let place = text(&one["draft"]["text"]).to_owned();
                (place, text(&one["advice"]).to_owned())
            })
            .collect()
    };
    assert_eq!(
        out_of_order(&[
            "Adams (2001)",
            "Harrow (2012)",
            "Harrow (2019)",
            "Quill (2016)"
        ]),
        []
    );
    let told = out_of_order(&[
        "Quill (2016)",
        "Adams (2001)",
        "Harrow (2012)",
        "Harrow (2019)",
    ]);
    assert_eq!(told.len(), 1);
    assert_eq!(told[0].0, "Quill (2016)");
    assert!(
        told[0].1.contains("after the one on Harrow (2019)"),
        "{told:?}"
    );
    let told = out_of_order(&[
        "Adams (2001)",
        "Harrow (2019)",
        "Quill (2016)",
        "Harrow (2012)",
    ]);
    assert_eq!(told.len(), 1);
    assert!(
        told[0].1.contains("before the one on Harrow (2019)"),
        "{told:?}"
    );
    // Files of their own have no order.
    let review = Review::of_two()
        .note("1.md", &long_file(&["Quill (2016)"]))
        .note("2.md", &long_file(&["Harrow (2019)"]));
    let notes = Notes::of(&review, &[]);
    assert!(
        notes
            .findings()
            .iter()
            .all(|one| one["kind"] != "entry-order")
    );
}

#[test]
fn one_long_file_in_plain_text() {
    let note = format!(
        "Harrow (2019)\n\nSummary\n{SUMMARY} {COPIED}.\n\nZitate\n{}\n\nKommentar\n{COMMENT}\n\nQuill (2016)\n\n\
         Résumé\nVoices from one street.\n\nCitations\n\"What people feared was not theft but stumbling.\" (p. 21)\n\n\
         Remarques\nShort, and good on kerbs.\n",
        QUOTATION.trim_start_matches("- ")
    );
    let review = Review::of_two().note("all.txt", &note);
    let notes = Notes::of(&review, &[]);
    notes.assert_kinds(&["unmarked-copy"]);
    assert_eq!(notes.entries().len(), 2);
    assert_eq!(notes.entries()[1]["quotations"], 1);
}

#[test]
fn headings_of_other_languages_are_a_setting() {
    let note = format!(
        "# harrow2019\n\n## Tiivistelmä\n\n{SUMMARY}\n\n## Lainaukset\n\n{QUOTATION}\n\n## Omat ajatukset\n\n{COMMENT}\n"
    );
    let review = || Review::of_two().note("harrow2019.md", &note);
    let known = review()
        .setting("summary_headings = [\"Tiivistelmä\"]")
        .setting("quotations_headings = [\"Lainaukset\"]")
        .setting("comments_headings = [\"Omat ajatukset\"]");
    Notes::of(&known, &[]).assert_kinds(&[]);
    // Unknown, they are headings inside a summary, and comments are missed.
    let kinds: Vec<String> = Notes::of(&review(), &[])
        .findings()
        .iter()
        .map(|one| text(&one["kind"]).to_owned())
        .collect();
    assert!(kinds.contains(&"entry-incomplete".to_owned()), "{kinds:?}");
}

#[test]
fn annotations_in_a_bibliography_file() {
    let annotated = HARROW_REFERENCE.replace(
        "  year = {2019},",
        &format!("  year = {{2019}},\n  annote = {{{SUMMARY}\n\n    {COPIED}.\n\n    Comments: {COMMENT}}},"),
    );
    let review = Review::of_two().file("references.bib", format!("{QUILL_REFERENCE}\n{annotated}"));
    let notes = Notes::of(&review, &[]);
    notes.assert_kinds(&["unmarked-copy"]);
    let entry = &notes.entries()[0];
    assert_eq!(entry["path"], "references.bib");
    assert_eq!(entry["parts"].as_array().unwrap().len(), 2);
    let line = notes.findings()[0]["draft"]["line"].as_u64().unwrap();
    let file = fs::read_to_string(review.path("references.bib")).unwrap();
    let there = file
        .lines()
        .nth(usize::try_from(line).unwrap() - 1)
        .unwrap();
    assert!(there.contains(COPIED), "{line}: {there}");
    // It lies on the trail of a draft like any other note.
    let checked = review.check(&format!("{} {COPIED} (Harrow, 2019).", crate::common::OWN));
    assert_eq!(checked.of_kind("unmarked-copy")["note"]["part"], "summary");
    // A remark on a reference is no entry.
    let remark = HARROW_REFERENCE.replace("  year", "  note = {Read in the library},\n  year");
    let review = Review::of_two().file("references.bib", format!("{QUILL_REFERENCE}\n{remark}"));
    assert_eq!(Notes::of(&review, &[]).code, 2);
}

#[test]
fn an_abstract_stands_in_for_a_source() {
    let with_abstract = |reference: &str| {
        let field = format!("  abstract = {{{COPIED}, some of them until morning.}},\n  year");
        reference.replace("  year", &field)
    };
    let review = |stored: bool| {
        let review = Review::new()
            .reference(&with_abstract(HARROW_REFERENCE))
            .entry(
                "harrow2019",
                &format!("{SUMMARY} {COPIED}."),
                QUOTATION,
                COMMENT,
            );
        if stored {
            review.source("harrow2019.txt", crate::common::HARROW)
        } else {
            review
        }
    };
    let notes = Notes::of(&review(false), &[]);
    notes.assert_kinds(&["unmarked-copy"]);
    assert_eq!(notes.entries()[0]["source"], "abstract");
    let source = &notes.findings()[0]["source"];
    assert_eq!(source["name"], "Harrow (2019), abstract");
    assert_eq!(source["path"], "references.bib");
    let notes = Notes::of(&review(true), &[]);
    notes.assert_kinds(&["unmarked-copy"]);
    assert_eq!(
        notes.findings()[0]["source"]["path"],
        "sources/harrow2019.txt"
    );
}

#[test]
fn what_is_no_entry_is_listed() {
    let note = format!(
        "# My reading\n\nBegun in spring.\n\n## harrow2019\n\n### Summary\n\n{SUMMARY}\n\n### Quotations\n\n{QUOTATION}\n\n\
         ### Comments\n\n{COMMENT}\n\n## Themes\n\nKerbs and owls.\n\nAnd lamps.\n"
    );
    let review = Review::of_two()
        .note("all.md", &note)
        .note("loose.md", "Only a thought.\n");
    let notes = Notes::of(&review, &[]);
    notes.assert_kinds(&[]);
    let listed: Vec<String> = notes.json["not_entries"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| format!("{} {} {}", one["line"], one["heading"], one["words"]))
        .collect();
    assert_eq!(listed, ["1 \"My reading\" 3", "19 \"Themes\" 5"]);
    let left_out = notes.json["left_out"].as_array().unwrap();
    assert!(
        left_out.iter().any(|left| left["what"] == "notes/loose.md"),
        "{left_out:?}"
    );
}

#[test]
fn one_entry_at_a_time_and_keys_mistyped() {
    let review = Review::of_two().entry("harrow2019", &format!("{COPIED}."), QUOTATION, COMMENT);
    Notes::of(&review, &["--entry", "Harrow2019"]).assert_kinds(&["unmarked-copy"]);
    let said = |key: &str| {
        let notes = Notes::of(&review, &["--entry", key]);
        assert_eq!(notes.code, 2);
        notes.stderr
    };
    assert!(said("harow2019").contains("did you mean harrow2019?"));
    assert!(said("quill2016").contains("Quill (2016) is among the references"));
    assert!(said("xyz").contains("`ownwords notes` lists the entries"));
}

#[test]
fn notes_without_notes_and_drafts_that_are_notes() {
    let review = Review::of_two();
    let notes = Notes::of(&review, &[]);
    assert_eq!(notes.code, 2);
    assert!(
        notes.stderr.contains("no entry was found in the notes"),
        "{}",
        notes.stderr
    );
    let review = review.entry("harrow2019", SUMMARY, QUOTATION, COMMENT);
    for (path, hint) in [
        ("notes/harrow2019.md", "`ownwords notes`"),
        ("sources/quill2016.txt", "a stored source, not a draft"),
    ] {
        let output = review.run(&["check", path]);
        assert_eq!(output.status.code(), Some(2));
        let said = String::from_utf8(output.stderr).unwrap();
        assert!(said.contains(hint), "{said}");
    }
}

#[test]
fn quiet_and_out() {
    let review = Review::of_two().entry("harrow2019", &format!("{COPIED}."), QUOTATION, COMMENT);
    let output = review.run(&["notes", "--quiet", "--out", "notes.txt"]);
    assert_eq!(output.status.code(), Some(1));
    let written = fs::read_to_string(review.path("notes.txt")).unwrap();
    assert_eq!(
        written,
        "notes/harrow2019.md:5: act: unmarked-copy: Moths that came near turned towards the lantern...\n"
    );
    let output = review.run(&["notes", "--out", "notes/harrow2019.md"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(run(review.root(), &["notes", "--help"]).status.success());
}

/// A zip archive of some files.
fn zipped(files: &[(&str, String)]) -> Vec<u8> {
    let mut archive = zip::ZipWriter::new(std::io::Cursor::new(Vec::new()));
    for (name, content) in files {
        let options = zip::write::SimpleFileOptions::default();
        archive.start_file(*name, options).unwrap();
        archive.write_all(content.as_bytes()).unwrap();
    }
    archive.finish().unwrap().into_inner()
}

/// Two entries as (level of heading or 0, text), as a person writes them in one long document.
fn document() -> Vec<(u8, String)> {
    let quotation = QUOTATION.trim_start_matches("- ");
    let parts = [
        (1, "Harrow (2019)"),
        (2, "Summary"),
        (0, SUMMARY),
        (0, COPIED),
        (2, "Quotations"),
        (0, quotation),
        (2, "My comments"),
        (0, COMMENT),
        (1, "Quill (2016)"),
        (2, "Summary"),
        (0, "Voices from one street."),
        (2, "Quotations"),
        (
            0,
            "“What people feared was not theft but stumbling” (p. 21)",
        ),
        (2, "My comments"),
        (0, "Short, and good on kerbs."),
    ];
    parts
        .into_iter()
        .map(|(level, text)| (level, text.to_owned()))
        .collect()
}

fn word() -> Vec<u8> {
    let name = "http://schemas.openxmlformats.org/wordprocessingml/2006/main";
    let paragraph = |(level, text): (u8, String)| {
        let style = match level {
            0 => String::new(),
            level => format!("<w:pPr><w:pStyle w:val=\"Heading{level}\"/></w:pPr>"),
        };
        format!("<w:p>{style}<w:r><w:t>{text}</w:t></w:r></w:p>")
    };
    let body: String = document().into_iter().map(paragraph).collect();
    let style = |level: u8| {
        format!(
            "<w:style w:type=\"paragraph\" w:styleId=\"Heading{level}\"><w:name w:val=\"heading {level}\"/></w:style>"
        )
    };
    let of_office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    let of_package = "http://schemas.openxmlformats.org/package/2006/relationships";
    zipped(&[
        (
            "_rels/.rels",
            format!(
                "<Relationships xmlns=\"{of_package}\"><Relationship Id=\"r1\" Type=\"{of_office}/officeDocument\" Target=\"word/document.xml\"/></Relationships>"
            ),
        ),
        (
            "word/_rels/document.xml.rels",
            format!(
                "<Relationships xmlns=\"{of_package}\"><Relationship Id=\"r1\" Type=\"{of_office}/styles\" Target=\"styles.xml\"/></Relationships>"
            ),
        ),
        (
            "word/styles.xml",
            format!(
                "<w:styles xmlns:w=\"{name}\">{}{}</w:styles>",
                style(1),
                style(2)
            ),
        ),
        (
            "word/document.xml",
            format!("<w:document xmlns:w=\"{name}\"><w:body>{body}</w:body></w:document>"),
        ),
    ])
}

fn open_document() -> Vec<u8> {
    let names = "xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\"";
    let paragraph = |(level, text): (u8, String)| match level {
        0 => format!("<text:p>{text}</text:p>"),
        level => format!("<text:h text:outline-level=\"{level}\">{text}</text:h>"),
    };
    let body: String = document().into_iter().map(paragraph).collect();
    zipped(&[
        (
            "mimetype",
            "application/vnd.oasis.opendocument.text".to_owned(),
        ),
        (
            "content.xml",
            format!(
                "<office:document-content {names}><office:body><office:text>{body}</office:text></office:body></office:document-content>"
            ),
        ),
    ])
}

#[test]
fn documents_of_word_processors_with_headings() {
    for (name, bytes) in [("all.docx", word()), ("all.odt", open_document())] {
        let review = Review::of_two().file(&format!("notes/{name}"), bytes);
        let notes = Notes::of(&review, &[]);
        notes.assert_kinds(&["unmarked-copy"]);
        let entries = notes.entries();
        assert_eq!(entries.len(), 2, "{name}");
        assert_eq!(entries[0]["key"], "harrow2019");
        assert_eq!(entries[1]["quotations"], 1);
        assert_eq!(entries[1]["clean"], true);
    }
}

#[test]
fn the_same_words_in_two_entries_have_the_same_names_whichever_is_shown() {
    let copied = "Hawk moths, by contrast, left the lamp after some minutes and went back to the honeysuckle.";
    let entry = |key: &str| format!("# {key}\n\n## Summary\n\n{copied}\n\n## Comments\n\nSo.\n\n");
    let review = Review::of_two()
        .note("all.md", &(entry("harrow2019") + &entry("quill2016")))
        .file("drafts/own.md", crate::common::OWN);
    // The names of the copies, and which of them are settled.
    let copies = |arguments: &[&str]| -> Vec<(String, bool)> {
        let output = review.run(&[&["notes", "--format", "json"], arguments].concat());
        let json: Value = serde_json::from_slice(&output.stdout).unwrap();
        let entries = json["entries"].as_array().unwrap().iter();
        let findings = entries.flat_map(|entry| entry["findings"].as_array().unwrap());
        let copies = findings.filter(|finding| finding["kind"] == "unmarked-copy");
        copies
            .map(|copy| (text(&copy["id"]).to_owned(), !copy["settled"].is_null()))
            .collect()
    };
    let all = copies(&[]);
    assert_eq!(all.len(), 2, "{all:?}");
    assert_ne!(all[0].0, all[1].0);
    assert_eq!(copies(&["--entry", "quill2016"]), all[1..]);
    // What is decided on the one says nothing of the other, whether one or both are shown.
    let output = review.run(&["settle", &all[0].0, "--because", "agreed"]);
    assert!(output.status.success(), "{output:?}");
    let settled = [(all[0].0.clone(), true), all[1].clone()];
    assert_eq!(copies(&[]), settled);
    assert_eq!(copies(&["--entry", "harrow2019"]), settled[..1]);
    assert_eq!(copies(&["--entry", "quill2016"]), settled[1..]);
}
