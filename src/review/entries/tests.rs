//! Cases for note files, written as small Markdown: `#` lines are headings, blank lines part paragraphs.

use super::super::References;
use super::super::references::tests::reference;
use super::outline::PartHeadings;
use super::{Entry, Settings, Why, parse};
use crate::text::{Block, BlockKind, ByteRange, Origin, Pages, Text};

/// A Text of the written lines, as a Markdown reader gives it.
fn text(written: &str) -> Text {
    let mut blocks = Vec::new();
    let mut open: Option<(usize, usize)> = None;
    let close = |open: &mut Option<(usize, usize)>, blocks: &mut Vec<Block>| {
        if let Some((start, end)) = open.take() {
            blocks.push(Block {
                kind: BlockKind::Paragraph,
                range: ByteRange::of(start, end),
            });
        }
    };
    let mut at = 0;
    for line in written.split_inclusive('\n') {
        let (start, bare) = (at, line.trim_end());
        at += line.len();
        let level = bare.len() - bare.trim_start_matches('#').len();
        if bare.is_empty() {
            close(&mut open, &mut blocks);
        } else if let (1..=6, Ok(number)) = (level, u8::try_from(level)) {
            close(&mut open, &mut blocks);
            let inner = start + level + 1;
            let range = ByteRange::of(inner.min(start + bare.len()), start + bare.len());
            blocks.push(Block {
                kind: BlockKind::Heading { level: number },
                range,
            });
        } else {
            open = Some((open.map_or(start, |(first, _)| first), start + bare.len()));
        }
    }
    close(&mut open, &mut blocks);
    Text::new(
        written.to_owned(),
        blocks,
        Pages::default(),
        Origin::Same { skipped: 0 },
    )
}

fn list() -> References {
    References::new([
        reference(
            "harrow2019",
            "Harrow, Anna",
            Some(2019),
            "Moths at the lamp: a first count",
        ),
        reference(
            "lind2016",
            "Lind, Eva; Okoro, Ben",
            Some(2016),
            "Nectar after dark",
        ),
        reference("tarn", "Tarn, Lee", None, "Glow"),
    ])
}

fn read(written: &str, stem: &str) -> (Text, Vec<Entry>, Vec<String>) {
    let text = text(written);
    let mut reported = Vec::new();
    let headings = PartHeadings::of(&Settings::default());
    let entries = parse::entries(&text, stem, &headings, &list(), &mut |why| {
        reported.push(why)
    });
    (text, entries, reported.iter().map(Why::to_string).collect())
}

/// Entries as `key: part=body; part=body`.
fn shown(written: &str, stem: &str) -> Vec<String> {
    let (text, entries, _) = read(written, stem);
    let show = |entry: &Entry| {
        let parts = entry
            .parts
            .iter()
            .map(|part| format!("{}={}", part.kind.name(), text.slice(part.range)));
        let key = entry.key.as_ref().map_or("?", |key| key.as_str());
        format!("{key}: {}", parts.collect::<Vec<_>>().join("; "))
    };
    entries.iter().map(show).collect()
}

#[test]
fn note_files_fall_into_entries() {
    let cases: &[(&str, &[&str])] = &[
        // the usual form, under a heading for the whole
        (
            "# Notes\n\n## Harrow (2019)\n\nHarrow, A. (2019). Moths at the lamp: A first count.\n\n### Summary\n\nMoths come.\n\n\
             ### Quotations\n\n“Come” (p. 3)\n\n### My comments\n\nWhy?\n\n## Lind & Okoro (2016)\n\n### Summary\n\nNectar.\n",
            &[
                "harrow2019: reference=Harrow, A. (2019). Moths at the lamp: A first count.; summary=Moths come.; quotations=“Come” (p. 3); comments=Why?",
                "lind2016: summary=Nectar.",
            ],
        ),
        // any order, parts on the entry's own level, a heading below a part, an empty part
        (
            "## lind2016\n## Thoughts\nHm.\n## Excerpts\n## What it says\nOne.\n### Method\nTwo.\n",
            &["lind2016: comments=Hm.; quotations=; summary=One.\n### Method\nTwo."],
        ),
        // no part headings: summary, with the reference recognised
        (
            "# Harrow, A. (2019)\n\nHarrow (2019) counts moths.\n\nMore.\n\n# Tarn (n.d.)\n\nTarn, L. (n.d.). Glow.\n\nLight.\n",
            &[
                "harrow2019: summary=Harrow (2019) counts moths.\n\nMore.",
                "tarn: reference=Tarn, L. (n.d.). Glow.; summary=Light.",
            ],
        ),
        // the reference as the heading itself
        (
            "## Lind, E., & Okoro, B. (2016). Nectar after dark.\n\nPlants wait.\n",
            &[
                "lind2016: reference=Lind, E., & Okoro, B. (2016). Nectar after dark.; summary=Plants wait.",
            ],
        ),
        // labels instead of headings
        (
            "## Moths {#harrow2019}\n\n**Summary:** Moths come.\n\nAnd go.\n\n**Quotes**\n\n“Go” (p. 4)\n\nComments: Why:\nso.\nNotes: more\n",
            &[
                "harrow2019: summary=Moths come.\n\nAnd go.; quotations=“Go” (p. 4); comments=Why:\nso.; comments=more",
            ],
        ),
        // plain text without any heading
        (
            "Harrow (2019)\n\nSummary\nMoths come.\n\nLind & Okoro 2016\n\nNectar in the dark.\n",
            &[
                "harrow2019: summary=Moths come.",
                "lind2016: summary=Nectar in the dark.",
            ],
        ),
        // a heading of the same level that is neither entry nor part ends the entry; deeper ones don't
        (
            "## Tarn (n.d.)\n\nLight.\n\n### Lind & Okoro (2016)\n\nIn Tarn.\n\n## Themes\n\nOf my own.\n",
            &["tarn: summary=Light.\n\n### Lind & Okoro (2016)\n\nIn Tarn."],
        ),
        // *Notes* above entries is no part
        (
            "# Notes\n\n## Tarn (n.d.)\n\nLight.\n\n# Notes\n\n## lind2016\n\nNectar.\n",
            &["tarn: summary=Light.", "lind2016: summary=Nectar."],
        ),
        // a name alone counts where parts stand below
        (
            "## Tarn\n\n### Summary\n\nLight.\n\n## Harrow\n\nNothing below.\n",
            &["tarn: summary=Light."],
        ),
        // unknown headings with parts below, or written like a reference
        (
            "## Moth book\n\nMoths, A. (2001). Of moths.\n\n### Summary\n\nWings.\n\n## Harow (2019)\n\nMoths.\n\n## Themes\n\nMine.\n",
            &[
                "?: reference=Moths, A. (2001). Of moths.; summary=Wings.",
                "?: summary=Moths.",
            ],
        ),
        ("### Summary\n\nOf what?\n", &["?: summary=Of what?"]),
        ("Just thoughts.\n", &[]),
        ("", &[]),
    ];
    for (written, wanted) in cases {
        assert_eq!(&shown(written, "notes"), wanted, "{written}");
    }
}

#[test]
fn a_file_named_by_a_key_is_one_entry() {
    let written = "# Moths\n\nMoths come.\n\n## Comments\n\nWhy?\n";
    assert_eq!(
        shown(written, "harrow2019"),
        ["harrow2019: summary=Moths come.; comments=Why?"]
    );
    assert_eq!(
        shown("Moths come.\n", "Harrow (2019)"),
        ["harrow2019: summary=Moths come."]
    );
    let named = "# Tarn (n.d.)\n\nLight.\n";
    assert_eq!(
        shown(named, "harrow2019"),
        ["tarn: summary=Light."],
        "a heading says more than the file's name"
    );
}

#[test]
fn entries_without_a_reference_are_reported() {
    let (_, _, reported) = read(
        "## Moth book\n\n### Summary\n\nWings.\n\n## Harow (2019)\n\nMoths.\n",
        "notes",
    );
    assert_eq!(reported.len(), 2, "{reported:?}");
    assert!(
        reported[0].starts_with("line 1: the heading \"Moth book\" names no reference"),
        "{reported:?}"
    );
    assert!(
        reported[1].contains("did you mean Harrow (2019), key harrow2019"),
        "{reported:?}"
    );
    let (_, _, reported) = read("## Harrow (2019)\n\nMoths.\n", "notes");
    assert!(reported.is_empty(), "{reported:?}");
}

#[test]
fn an_entry_reaches_from_its_heading_to_its_last_word() {
    let (text, entries, _) = read(
        "Before.\n\n## Tarn (n.d.)\n\nLight.\n\n## Themes\n\nMine.\n",
        "notes",
    );
    assert_eq!(text.slice(entries[0].range), "Tarn (n.d.)\n\nLight.");
    assert_eq!(entries[0].heading, "Tarn (n.d.)");
}

proptest::proptest! {
    #[test]
    fn any_note_is_read_without_panic(written in "\\PC*|(#{1,3} |Summary|Notes|: ?|\n\n?|Harrow|é| \\(2019\\)|tarn|\\*\\*|\\{#|[a-z ]{1,5}){0,30}") {
        let (text, entries, _) = read(&written, "notes");
        for entry in &entries {
            proptest::prop_assert!(text.content().get(entry.range.as_range()).is_some());
            for part in &entry.parts {
                proptest::prop_assert!(text.content().get(part.range.as_range()).is_some());
                proptest::prop_assert!(entry.range.covers(part.range), "{:?} {:?}", entry, part);
            }
        }
        for pair in entries.windows(2) {
            proptest::prop_assert!(pair[0].range.end() <= pair[1].range.start(), "entries overlap");
        }
    }
}

#[test]
fn bold_lines_begin_entries_below_a_heading() {
    // Under a heading for the whole, with parts as headings or as labels, with title before the year, with a slash.
    let written = "# My notes\n\n**Harrow, Moths at the lamp (2019)**\n\nMoths come.\n\n**Lind/Okoro 2016**\n\n\
        Summary: Nectar.\n\nNothing else (Harrow, 2019).\n";
    assert_eq!(
        shown(written, "notes"),
        [
            "harrow2019: summary=Moths come.",
            "lind2016: summary=Nectar.\n\nNothing else (Harrow, 2019)."
        ]
    );
    let written = "# My notes\n\n**Lind & Okoro (2016)**\n\n## Summary\n\nNectar.\n\n**Harrow 2019**\n\n## Quotations\n\n“Come”\n";
    assert_eq!(
        shown(written, "notes"),
        ["lind2016: summary=Nectar.", "harrow2019: quotations=“Come”"]
    );
    // Within an entry that a heading begins, a line is a line; so is one that ends like a sentence.
    let written = "## Harrow (2019)\n\nMoths come.\n\nLind & Okoro (2016)\n\nMore.\n";
    assert_eq!(
        shown(written, "notes"),
        ["harrow2019: summary=Moths come.\n\nLind & Okoro (2016)\n\nMore."]
    );
    for line in [
        "lind2016 says otherwise",
        "**Lind & Okoro (2016)**",
        "Lind 2016 on nectar",
    ] {
        let written = format!(
            "## Harrow (2019)\n\n### Summary\n\nMoths come.\n\n{line}\n\n### Quotations\n\n“Come” (p. 3)\n"
        );
        let expected =
            format!("harrow2019: summary=Moths come.\n\n{line}; quotations=“Come” (p. 3)");
        assert_eq!(shown(&written, "notes"), [expected]);
    }
    // As a reference list writes it, in bold.
    let written = "# My notes\n\n**Lind, E., & Okoro, B. (2016). Nectar after dark.**\n\nNectar.\n\n**Harrow (2019):**\n\nMoths.\n";
    assert_eq!(
        shown(written, "notes")
            .iter()
            .map(|entry| &entry[..8])
            .collect::<Vec<_>>(),
        ["lind2016", "harrow20"]
    );
    let written = "# Spring\n\nAgainst this stands Harrow (2019).\n\nMore.\n";
    assert_eq!(shown(written, "notes"), [""; 0]);
}
