//! Word processors' files against readers nobody here wrote: pandoc writes a document of ours as .docx
//! and .odt, LibreOffice converts each to the other, and the words that ownwords reads from all four are
//! set against pandoc's plain reading of the same file.

use std::path::{Path, PathBuf};
use std::process::Command;

use super::outside;
use crate::common::{COPIED, OWN, Review};

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
    outside(
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
    outside("pandoc", &["draft.md", "-o", "draft.docx"], root);
    outside("pandoc", &["draft.md", "-o", "draft.odt"], root);
    std::fs::create_dir(root.join("office")).unwrap();
    let convert = |kind: &str, file: &str| {
        outside(
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
            outside("pandoc", &arguments, &root);
            let made = std::fs::read(root.join(&name)).unwrap();
            review.check_as(&format!("drafts/{name}"), made)
        };
        of(113, "1.").assert_silent();
        of(114, "1.").assert_kinds(&["page-mismatch"]);
        // Without numbers in the list there is no work that they could mean.
        assert!(!of(113, "-").kinds().is_empty(), "{format}");
    }
}
