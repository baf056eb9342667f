//! What holds for every text: places, order, bounds.

use proptest::prelude::*;

use super::super::{Citation, citations};
use super::shown;
use crate::text::{Block, BlockKind, ByteRange, Origin, Pages, Text};

/// What the range of the first citation and its aside hold.
#[track_caller]
fn places(text: &str) -> (String, String) {
    let text = Text::paragraph(text);
    let citation = citations(&text).into_iter().next().unwrap();
    (
        text.slice(citation.range).to_owned(),
        text.slice(citation.aside).to_owned(),
    )
}

#[test]
fn a_range_holds_the_names_and_an_aside_the_bracket() {
    let remark = "x (a list of all the lamps in use is given; see Lindqvist, 2014)";
    let behind = "x (Lindqvist, 2014, where a list of all the lamps that were in use is given)";
    let cases = [
        (
            "so (see Lindqvist, 2014), x",
            "(see Lindqvist, 2014)",
            "(see Lindqvist, 2014)",
        ),
        (
            "As Lindqvist and Okoro (2014) x",
            "Lindqvist and Okoro (2014)",
            "(2014)",
        ),
        (
            "As Lindqvist et al.’s (2014) x",
            "Lindqvist et al.’s (2014)",
            "(2014)",
        ),
        (
            "By A. van der Berg (2014) x",
            "A. van der Berg (2014)",
            "(2014)",
        ),
        (
            "the Lamp Survey (LS, 2014) x",
            "Lamp Survey (LS, 2014)",
            "(LS, 2014)",
        ),
        ("so [12, 13] x", "[12, 13]", "[12, 13]"),
        ("as @a [p. 3] x", "@a [p. 3]", "@a [p. 3]"),
        ("as @a [sic] x", "@a", "@a"),
        ("so [-@a] x", "[-@a]", "[-@a]"),
        (remark, "see Lindqvist, 2014", "see Lindqvist, 2014"),
        (behind, "(Lindqvist, 2014", "(Lindqvist, 2014"),
    ];
    for (text, range, aside) in cases {
        assert_eq!(places(text), (range.to_owned(), aside.to_owned()), "{text}");
    }
}

fn blocks(parts: &[(BlockKind, &str)]) -> Text {
    let mut content = String::new();
    let mut blocks = Vec::new();
    for (kind, part) in parts {
        let start = content.len();
        content.push_str(part);
        blocks.push(Block {
            kind: *kind,
            range: ByteRange::of(start, content.len()),
        });
        content.push_str("\n\n");
    }
    Text::new(
        content,
        blocks,
        Pages::default(),
        Origin::Same { skipped: 0 },
    )
}

#[test]
fn code_and_reference_lists_hold_none() {
    let cite = "so (Lindqvist, 2014)";
    let text = blocks(&[
        (BlockKind::Code, cite),
        (BlockKind::ReferenceListItem, cite),
        (BlockKind::Heading { level: 1 }, cite),
        (BlockKind::Footnote, cite),
    ]);
    assert_eq!(shown(&citations(&text)), "Lindqvist|2014 / Lindqvist|2014");
}

/// APA 7 section 8.27: the page of a block quotation stands after its last mark.
#[test]
fn a_block_quotation_takes_up_its_introduction() {
    let (prose, set_off) = (BlockKind::Paragraph, BlockKind::BlockQuotation);
    let quoted = "Lamps fail. Moths come. None stay. (p. 3)";
    let introduced = blocks(&[(prose, "Lindqvist (2014) holds:"), (set_off, quoted)]);
    let expected = "~Lindqvist|2014 / Lindqvist|2014|p. 3";
    assert_eq!(shown(&citations(&introduced)), expected);
    let next = blocks(&[(prose, "Lindqvist (2014) holds so."), (prose, quoted)]);
    assert_eq!(shown(&citations(&next)), "~Lindqvist|2014");
    let far = blocks(&[
        (prose, "Lindqvist (2014) holds so."),
        (prose, "Others do not."),
        (set_off, quoted),
    ]);
    assert_eq!(shown(&citations(&far)), "~Lindqvist|2014");
}

#[test]
fn nothing_reaches_across_blocks() {
    let (prose, list) = (BlockKind::Paragraph, BlockKind::ListItem);
    let text = blocks(&[
        (prose, "as in Lindqvist"),
        (list, "(2014) and (Okoro,"),
        (list, "2014)"),
    ]);
    assert_eq!(shown(&citations(&text)), "");
}

#[test]
fn long_brackets_are_none() {
    let long = format!("({} Lindqvist, 2014)", "lamp ".repeat(120));
    assert!(citations(&Text::paragraph(&long)).is_empty());
    let many = format!("[{}]", "1-50,".repeat(100));
    assert!(citations(&Text::paragraph(&many)).is_empty());
}

/// Inputs made to be slow stay proportional to their length. The limit is far above what is
/// needed (some tens of milliseconds), far below what anything quadratic would take (hours).
#[test]
fn hostile_texts_take_linear_time() {
    let patterns = [
        "(",
        "[",
        "@",
        "@a",
        "(2014)",
        "A (2014",
        "A (2014) ",
        "(A,2014,",
        "[1,",
        "(p. 3)",
        "”(1)",
        "A, ",
        "A and ",
        "A. ",
        "(A 1 1 1 1 1 1 1 1 1 1 1 1)",
        "[@a;@b;@c]",
        "a@",
        "”(2014)",
        "“a” (2014, 3",
        "(1, 1, 1, 1",
    ];
    let in_prose = patterns.map(|pattern| (pattern, BlockKind::Paragraph));
    let notes = [
        "Ibid. ",
        "A, B, 1; ",
        "A, “B",
        "A, B, 2014",
        "A, B (2014). ",
        "Lindqvist, Dark Street, 47; ",
        "A. B., op. cit.; ",
        "(A; ",
        "^[A, B, 1]",
        "lamps¹ ",
        "lamps (1) ",
        "¹",
    ];
    let in_notes = notes.map(|pattern| (pattern, BlockKind::Footnote));
    let numbered = notes.map(|pattern| (pattern, BlockKind::Paragraph));
    for (pattern, kind) in in_prose.into_iter().chain(in_notes).chain(numbered) {
        let content = pattern.repeat(400_000 / pattern.len());
        let text = blocks(&[
            (kind, &content),
            (BlockKind::ReferenceListItem, "[1] Lamps."),
        ]);
        let begun = std::time::Instant::now();
        let _ = citations(&text);
        let taken = begun.elapsed();
        assert!(taken.as_secs() < 20, "{pattern} took {taken:?}");
    }
}

fn sound(text: &Text, found: &[Citation]) -> Result<(), TestCaseError> {
    let mut floor = 0;
    for citation in found {
        for range in [citation.range, citation.aside] {
            prop_assert!(!range.is_empty());
            prop_assert!(text.content().get(range.as_range()).is_some(), "{range:?}");
        }
        prop_assert!(citation.range.start() >= floor, "overlap");
        prop_assert!(citation.range.covers(citation.aside));
        floor = citation.range.end();
        prop_assert!(!citation.cites.is_empty());
        let mut place = citation.range.start();
        for cite in &citation.cites {
            prop_assert!(text.content().get(cite.range.as_range()).is_some());
            prop_assert!(citation.range.covers(cite.range));
            prop_assert!(cite.range.start() >= place);
            place = cite.range.start();
        }
    }
    Ok(())
}

/// Pieces of which citations and their look-alikes are made.
const PIECES: &[&str] = &[
    "^[",
    "¹",
    "²⁻³",
    "Ibid.",
    "op. cit.",
    "’s trial",
    "“Moths,”",
    "Dark Street",
    ", 47",
    "(",
    ")",
    "[",
    "]",
    "@",
    "@a",
    "-",
    "–",
    ",",
    ";",
    ":",
    ".",
    "/",
    " ",
    "  ",
    "\n",
    "&",
    "and",
    "et al.",
    "Lindqvist",
    "Okoro",
    "van",
    "de",
    "of",
    "the",
    "Department",
    "Act",
    "II",
    "A.",
    "Jr.",
    "’s",
    "’",
    "“",
    "”",
    "\"",
    "2014",
    "2014a",
    "b",
    "1898",
    "n.d.",
    "in press",
    "p. 3",
    "pp. 3–4",
    "14",
    "12:45",
    "ca.",
    "see",
    "cf.",
    "ibid.",
    "May",
    "Table",
    "ö",
    "王",
    "É",
    "\u{301}",
    "\u{a0}",
    "{",
    "}",
    "¶ 4",
    "§",
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn any_text_is_read(content in "(?s).{0,200}") {
        let text = Text::paragraph(&content);
        sound(&text, &citations(&text))?;
    }

    #[test]
    fn likely_texts_are_read(pieces in prop::collection::vec(prop::sample::select(PIECES), 0..60)) {
        let content = pieces.concat();
        let text = Text::paragraph(&content);
        sound(&text, &citations(&text))?;
        let text = Text::paragraph(&pieces.join(" "));
        sound(&text, &citations(&text))?;
        let (prose, note, entry) = (BlockKind::Paragraph, BlockKind::Footnote, BlockKind::ReferenceListItem);
        let text = blocks(&[(note, &content), (prose, &content), (entry, "[9] Lamps."), (note, &content)]);
        sound(&text, &citations(&text))?;
    }

    /// A citation is found whatever prose stands around it, and at its place.
    #[test]
    fn a_planted_citation_is_found(
        before in "[a-zäöü ,.]{0,80}",
        name in "[A-ZÄÖ][a-zéü]{5,9}qvist",
        year in 1900_i32..2030,
        page in 1_u32..900,
        behind in "[a-zäöü ,.]{0,80}",
    ) {
        let planted = format!("({name}, {year}, p. {page})");
        let text = Text::paragraph(&format!("{before} {planted}{behind}"));
        let found = citations(&text);
        prop_assert_eq!(shown(&found), format!("{name}|{year}|p. {page}"));
        prop_assert_eq!(text.slice(found[0].range), planted);
    }
}
