//! Word and OpenDocument files as drafts, sources and notes: citations stored in them, and files that are
//! broken. What is read from them is held to other readers in `reference_readers/office.rs`.

use crate::common::word::{document, field, p, raw, t, with_sources};
use crate::common::{COPIED, HARROW, HARROW_REFERENCE, OWN, QUILL, Review, text};

/// A citation as reference managers store it: the works cited, each with its reference.
fn stored(visible: &str, locator: &str) -> String {
    let item = r#"{"id":4711,"type":"article-journal","title":"Campion after eleven","author":[{"family":"Harrow","given":"Anna"}],"issued":{"date-parts":[[2019]]}}"#;
    let json =
        format!(r#"{{"citationItems":[{{"id":4711,"itemData":{item},"locator":"{locator}"}}]}}"#);
    field(&format!(" ADDIN ITEM CSL_CITATION {json} "), visible)
}

/// A draft with a marked quotation and a stored citation.
fn cited(visible: &str, locator: &str) -> Vec<u8> {
    let quoted = format!("{OWN} Under a lamp “{COPIED}” ");
    document(
        &p(&format!(
            "{}{}{}",
            t(&quoted),
            stored(visible, locator),
            t(".")
        )),
        &[],
    )
}

#[test]
fn stored_citations_credit_the_sources_of_the_review() {
    // The reference manager's key is a number; the review's is harrow2019.
    let review = Review::new()
        .reference(HARROW_REFERENCE)
        .source("harrow2019.txt", HARROW);
    review
        .check_as("drafts/a.docx", cited("(Harrow, 2019, p. 113)", "113"))
        .assert_silent();
    // What counts is what is stored, in whatever style it is shown.
    review
        .check_as("drafts/a.docx", cited("[1]", "113"))
        .assert_silent();
    let checked = review.check_as("drafts/a.docx", cited("[1]", "112"));
    checked.assert_kinds(&["page-mismatch"]);
}

#[test]
fn no_bibliography_file_is_needed_where_the_draft_carries_its_references() {
    let review = Review::new()
        .source("harrow2019.txt", HARROW)
        .source("quill2016.txt", QUILL);
    let checked = review.check_as("drafts/a.docx", cited("(Harrow, 2019, p. 113)", "113"));
    checked.assert_silent();
    assert!(
        !checked
            .left_out()
            .iter()
            .any(|left| left.starts_with("references:")),
        "{:?}",
        checked.left_out()
    );
    let checked = review.check_as("drafts/a.docx", cited("(Harrow, 2019, p. 114)", "114"));
    assert_eq!(
        text(&checked.of_kind("page-mismatch")["source"]["key"]),
        "harrow2019"
    );
}

/// Word's own citations carry their references in the file, so that a review needs no bibliography.
#[test]
fn words_own_citations_credit_the_sources_of_the_review() {
    let sources = "<b:Source><b:Tag>Har19</b:Tag><b:SourceType>JournalArticle</b:SourceType><b:Title>Campion after eleven</b:Title>\
        <b:Year>2019</b:Year><b:Author><b:Author><b:NameList><b:Person><b:Last>Harrow</b:Last><b:First>Anna</b:First></b:Person>\
        </b:NameList></b:Author></b:Author></b:Source>";
    let cited = |switches: &str| {
        let body = p(&format!(
            "{}{}{}",
            t(&format!("{OWN} Under a lamp “{COPIED}” ")),
            // What the field shows counts for less than what it says.
            field(&format!(" CITATION Har19 {switches}\\l 1033 "), "[1]"),
            t(".")
        ));
        with_sources(&body, &[], Some(sources))
    };
    let known = Review::new()
        .reference(HARROW_REFERENCE)
        .source("harrow2019.txt", HARROW);
    let unknown = Review::new().source("harrow2019.txt", HARROW);
    for review in [known, unknown] {
        review
            .check_as("drafts/a.docx", cited("\\p 113 "))
            .assert_silent();
        let checked = review.check_as("drafts/a.docx", cited("\\p 112 "));
        checked.assert_kinds(&["page-mismatch"]);
        assert_eq!(
            text(&checked.of_kind("page-mismatch")["source"]["key"]),
            "harrow2019"
        );
        review
            .check_as("drafts/a.docx", cited(""))
            .assert_kinds(&["quotation-without-page"]);
    }
}

#[test]
fn word_files_are_drafts_sources_and_notes() {
    let source = document(
        &[
            p(&t("[p. 113]")),
            p(&t(&HARROW.replace("[p. 113]", "").replace("[p. 114]", ""))),
        ]
        .concat(),
        &[],
    );
    let review = Review::new()
        .reference(HARROW_REFERENCE)
        .source("harrow2019.docx", source);
    let draft = document(&p(&t(&format!("{OWN} I know that {COPIED}."))), &[]);
    let checked = review.check_as("drafts/a.docx", draft);
    assert_eq!(
        text(&checked.of_kind("unmarked-copy")["source"]["key"]),
        "harrow2019"
    );
    let heading = |level: u8, text: &str| {
        format!(
            "<w:p><w:pPr><w:outlineLvl w:val=\"{level}\"/></w:pPr>{}</w:p>",
            t(text)
        )
    };
    let notes = [
        heading(0, "harrow2019"),
        heading(1, "Quotations"),
        p(&t(&format!("“{COPIED}” (p. 113)"))),
    ]
    .concat();
    let review = review.file("notes/all.docx", document(&notes, &[]));
    let checked = review.check_as(
        "drafts/a.docx",
        document(&p(&t(&format!("{OWN} I know that {COPIED}."))), &[]),
    );
    checked.of_kind("lost-quotation-marks");
}

#[test]
fn broken_and_hostile_files_are_told_and_the_rest_is_checked() {
    let bomb = format!("<!DOCTYPE w [<!ENTITY a \"{}\">]>", "lamp ".repeat(100));
    let deep = "<w:sdt>".repeat(5000);
    let entities = raw(&[(
        "word/document.xml",
        &format!("{bomb}<w:document>&a;</w:document>"),
    )]);
    let nested = raw(&[("word/document.xml", &deep)]);
    let blank = " ".repeat(100_000_000);
    let swollen = raw(&[("word/document.xml", &blank)]);
    assert!(swollen.len() < 1_000_000, "it packs well");
    let cut = document(&p(&t(HARROW)), &[]);
    let locked: Vec<u8> = [0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1]
        .into_iter()
        .chain("EncryptedPackage".encode_utf16().flat_map(u16::to_le_bytes))
        .collect();
    let review = Review::of_two()
        .source("entities.docx", entities)
        .source("nested.docx", nested)
        .source("swollen.odt", raw(&[("content.xml", &blank)]))
        .source("swollen.docx", swollen)
        .source("cut.docx", &cut[..cut.len() / 2])
        .source("locked.docx", locked)
        .source("other.docx", raw(&[("content.xml", "<a/>")]));
    let started = std::time::Instant::now();
    let checked = review.check_as(
        "drafts/a.docx",
        document(&p(&t(&format!("{OWN} I know that {COPIED}."))), &[]),
    );
    assert!(started.elapsed().as_secs() < 30, "{:?}", started.elapsed());
    checked.of_kind("unmarked-copy");
    let left = checked.left_out();
    for (name, why) in [
        ("entities.docx", "entities of its own"),
        ("nested.docx", "deep inside one another"),
        ("swollen.odt", "unpacks from"),
        ("swollen.docx", "unpacks from"),
        ("cut.docx", "damaged"),
        ("locked.docx", "password"),
        ("other.docx", "OpenDocument"),
    ] {
        let told = left
            .iter()
            .any(|line| line.contains(name) && line.contains(why));
        assert!(told, "{name} should be told with {why:?} in {left:#?}");
    }
}
