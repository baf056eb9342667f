//! Word processors' files against readers nobody here wrote: pandoc writes a document of ours as .docx
//! and .odt, LibreOffice converts each to the other, and the words that ownwords reads from all four are
//! set against pandoc's plain reading of the same file.
//!
//! Needs `pandoc` and `soffice` (Debian: pandoc, libreoffice-writer). Without them the test fails.

mod common;

use std::path::{Path, PathBuf};
use std::process::Command;

use common::word::{document, field, p, t, with_sources};
use common::{HARROW, HARROW_REFERENCE, OWN, QUILL, Review, text};

/// The least agreement of the words in order.
const AGREEMENT: f64 = 0.995;

/// A document with most of what word processors' files hold, in prose of our own. Its table has no
/// caption: pandoc moves captions behind their tables wherever they stand.
const DOCUMENT: &str = r#"# Lamps and moths

In the autumn the council of the valley switched off *half* of its lamps at midnight & asked nobody. The
moths — “the small ones, above all” — came back to the meadow within a week.[^back] Plants that open at night
were visited twice as often; see [the count](https://example.org/count?a=1&b=2).

> The lamps had drawn the moths away from the flowers for so long that nobody remembered the meadow as it
> had been before the road was lit.
>
> It took one dark week to bring it back.

## What was counted

- hawk-moths on bladder campion
- small moths on evening primrose

1. Before midnight, with lamps.
2. After midnight, without.

| species    | lit | dark |
|------------|-----|------|
| hawk-moth  | 3   | 11   |
| small moth | 20  | 54   |

The difference is plain: 3 < 11.[^difference] Nothing else changed in the valley, although the wind turned.

# References

Harrow, A. (2014). *Lamps of the valley*. Night Press.

Okoro, B. (2016). Moths and meadows. *Journal of Dusk*, 3(2), 113–129.

[^back]: Some say it took two weeks, **but** nobody counted.

[^difference]: Counted by hand.

    The second count agreed.
"#;

fn run(program: &str, arguments: &[&str], folder: &Path) {
    let status = Command::new(program)
        .args(arguments)
        .current_dir(folder)
        .env("HOME", folder)
        .output()
        .unwrap_or_else(|cause| panic!("{program} is needed for this test: {cause}"));
    assert!(
        status.status.success(),
        "{program} {arguments:?}: {status:?}"
    );
}

/// Words in order, of letters and digits alone.
fn words(text: &str) -> Vec<String> {
    let words = text.split(|c: char| !c.is_alphanumeric());
    words
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect()
}

/// The length of the longest common subsequence, over the longer of the two.
fn agreement(one: &[String], other: &[String]) -> f64 {
    let mut row = vec![0_usize; other.len() + 1];
    for word in one {
        let mut diagonal = 0;
        for (at, candidate) in other.iter().enumerate() {
            let above = row[at + 1];
            row[at + 1] = if word == candidate {
                diagonal + 1
            } else {
                above.max(row[at])
            };
            diagonal = above;
        }
    }
    row[other.len()] as f64 / one.len().max(other.len()).max(1) as f64
}

/// What `ownwords text --plain` prints.
fn plain(file: &Path) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_ownwords"))
        .args(["text", "--plain"])
        .arg(file)
        .output()
        .unwrap();
    assert!(output.status.success(), "{file:?}: {output:?}");
    String::from_utf8(output.stdout).unwrap()
}

/// What pandoc reads, without the numbers and signs that it puts before notes and items.
fn reference(file: &Path, folder: &Path) -> Vec<String> {
    let out = folder.join("reference.txt");
    let arguments = ["-t", "plain", "--wrap=none", "-o", "reference.txt"];
    let named = file.display().to_string();
    run(
        "pandoc",
        &[&[named.as_str()], &arguments[..]].concat(),
        folder,
    );
    let text = std::fs::read_to_string(out).unwrap();
    let lines = text.lines().map(|line| {
        let trimmed = line.trim_start();
        let digits = trimmed.trim_start_matches(|c: char| c.is_ascii_digit());
        let numbered = digits.len() < trimmed.len() && digits.starts_with(". ");
        if numbered {
            digits.to_owned()
        } else {
            line.to_owned()
        }
    });
    let text = lines.collect::<Vec<_>>().join("\n");
    // Notes are called as [1].
    let mut plain = text;
    for number in 1..10 {
        plain = plain.replace(&format!("[{number}]"), " ");
    }
    words(&plain)
}

#[test]
fn words_agree_with_other_readers_in_every_form() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    std::fs::write(root.join("draft.md"), DOCUMENT).unwrap();
    run("pandoc", &["draft.md", "-o", "draft.docx"], root);
    run("pandoc", &["draft.md", "-o", "draft.odt"], root);
    std::fs::create_dir(root.join("office")).unwrap();
    let convert = |kind: &str, file: &str| {
        run(
            "soffice",
            &[
                "--headless",
                "--convert-to",
                kind,
                "--outdir",
                "office",
                file,
            ],
            root,
        );
    };
    convert("docx:MS Word 2007 XML", "draft.odt");
    convert("odt", "draft.docx");
    let files = [
        "draft.docx",
        "draft.odt",
        "office/draft.docx",
        "office/draft.odt",
    ];
    let files: Vec<PathBuf> = files.iter().map(|name| root.join(name)).collect();
    // pandoc's reader of OpenDocument loses the head of a table, so each .odt is held to the .docx that it
    // was made from or beside.
    let mut texts = Vec::new();
    for file in &files {
        let own = plain(file);
        let agreed = agreement(&words(&own), &reference(&file.with_extension("docx"), root));
        assert!(agreed >= AGREEMENT, "{file:?}: {agreed:.4}\n{own}");
        texts.push(own.replace('\u{AD}', ""));
    }
    // Whoever wrote it, it is one text, block by block.
    for (file, text) in files.iter().zip(&texts) {
        assert_eq!(*text, texts[0], "{file:?}");
    }
}

#[test]
fn the_measure_can_fail() {
    let of = |text: &str| words(text);
    assert!((agreement(&of("a b c d"), &of("a b c d")) - 1.0).abs() < 1e-9);
    assert!((agreement(&of("a b c d"), &of("a c b d")) - 0.75).abs() < 1e-9);
    assert!(agreement(&of("a b"), &of("c")) < 0.1);
}

/// A citation as reference managers store it: the works cited, each with its reference.
fn stored(visible: &str, locator: &str) -> String {
    let item = r#"{"id":4711,"type":"article-journal","title":"Campion after eleven","author":[{"family":"Harrow","given":"Anna"}],"issued":{"date-parts":[[2019]]}}"#;
    let json =
        format!(r#"{{"citationItems":[{{"id":4711,"itemData":{item},"locator":"{locator}"}}]}}"#);
    field(&format!(" ADDIN ITEM CSL_CITATION {json} "), visible)
}

const COPIED: &str = "the campion received one visit for every four that it received in the dark";

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
fn numbered_citations_lead_through_an_ordered_list_in_every_format() {
    let review = Review::of_two();
    let draft = |page: u8, sign: &str| {
        let quill = "Quill, B. (2016). *The long blink*. Lantern Gate Press.";
        let harrow = "Harrow, A. (2019). Campion after eleven. *Annals of the Unlit Lane*.";
        format!(
            "{OWN} It was put so: “{COPIED}” (2, p. {page}). There are others (1).\n\n# References\n\n\
             {sign}  {quill}\n{sign}  {harrow}\n"
        )
    };
    let root = review.path("drafts");
    std::fs::create_dir_all(&root).unwrap();
    for format in ["docx", "odt", "html", "epub", "rst", "org"] {
        let of = |page: u8, sign: &str| {
            std::fs::write(root.join("a.txt"), draft(page, sign)).unwrap();
            let name = format!("a.{format}");
            let arguments = [
                "-f",
                "markdown",
                "--standalone",
                "a.txt",
                "-M",
                "title=A",
                "-o",
                &name,
            ];
            run("pandoc", &arguments, &root);
            let made = std::fs::read(root.join(&name)).unwrap();
            review.check_as(&format!("drafts/{name}"), made)
        };
        of(113, "1.").assert_silent();
        of(114, "1.").assert_kinds(&["page-mismatch"]);
        // Without numbers in the list there is no work that they could mean.
        assert!(!of(113, "-").kinds().is_empty(), "{format}");
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
    let entities = common::word::raw(&[(
        "word/document.xml",
        &format!("{bomb}<w:document>&a;</w:document>"),
    )]);
    let nested = common::word::raw(&[("word/document.xml", &deep)]);
    let blank = " ".repeat(100_000_000);
    let swollen = common::word::raw(&[("word/document.xml", &blank)]);
    assert!(swollen.len() < 1_000_000, "it packs well");
    let cut = document(&p(&t(HARROW)), &[]);
    let locked: Vec<u8> = [0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1]
        .into_iter()
        .chain("EncryptedPackage".encode_utf16().flat_map(u16::to_le_bytes))
        .collect();
    let review = Review::of_two()
        .source("entities.docx", entities)
        .source("nested.docx", nested)
        .source("swollen.odt", common::word::raw(&[("content.xml", &blank)]))
        .source("swollen.docx", swollen)
        .source("cut.docx", &cut[..cut.len() / 2])
        .source("locked.docx", locked)
        .source("other.docx", common::word::raw(&[("content.xml", "<a/>")]));
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
