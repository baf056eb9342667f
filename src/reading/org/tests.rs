//! What is left of the markup.

use super::*;
use proptest::prelude::*;

#[track_caller]
fn assert_blocks(org: &str, expected: &[(&str, &str)]) {
    let text = read(org, &Origin::Same { skipped: 0 });
    let blocks: Vec<_> = text
        .blocks()
        .iter()
        .map(|block| (block.kind.name(), text.slice(block.range)))
        .collect();
    assert_eq!(blocks, expected, "in {org:?}");
}

#[test]
fn documents_by_case() {
    assert_blocks(
        "#+TITLE: On lamps\n#+AUTHOR: x\n* TODO First :tag:\n:PROPERTIES:\n:ID: 3\n:END:\nLamps are *lit* and\n/old/ =a_b=.\n\n\
         # a comment\n#+begin_quote\nWords of theirs.\n\nMore.\n#+end_quote\nBehind it.\n",
        &[
            ("heading", "On lamps"),
            ("heading", "First"),
            ("paragraph", "Lamps are lit and\nold a_b."),
            ("block quotation", "Words of theirs.\n\nMore."),
            ("paragraph", "Behind it."),
        ],
    );
    assert_blocks(
        "- One\n- Two\n  more\n1. Three\n\n| a | b |\n|---+---|\n| c | d |\n\n#+begin_src x\n  code *a*\n#+end_src\n\
         ** References\nHarrow (2014). Lamps.\n",
        &[
            ("list item", "One"),
            ("list item", "Two\nmore"),
            ("list item", "Three"),
            ("table", "a\tb\nc\td"),
            ("code", "code *a*"),
            ("heading", "References"),
            ("reference", "Harrow (2014). Lamps."),
        ],
    );
}

#[test]
fn lines_by_case() {
    for (org, expected) in [
        ("a [[http://x.example][lamp]] and [[b]]", "a lamp and b"),
        (
            "so [cite:@lind14 p. 12; see @pell20] it",
            "so [@lind14, p. 12; see @pell20] it",
        ),
        ("[cite/t:@lind14 p. 3] holds", "@lind14 [p. 3] holds"),
        (
            "2 * 3 and a_b and 1/2 or/and",
            "2 * 3 and a_b and 1/2 or/and",
        ),
        ("(/old/), *lit*!", "(old), lit!"),
        ("one\\\\\ntwo", "one\ntwo"),
        ("a@@html:<b>@@b", "ab"),
    ] {
        let text = read(org, &Origin::Same { skipped: 0 });
        assert_eq!(text.content(), expected, "in {org}");
    }
}

#[test]
fn footnotes() {
    let org = "Lamps[fn:1] are[fn:: an inline /note/] lit.\n\n[fn:1] A note\nthat goes on.\n";
    let text = read(org, &Origin::Same { skipped: 0 });
    let notes: Vec<_> = text
        .note_calls()
        .iter()
        .map(|call| (&text.content()[..call.at], text.slice(call.note)))
        .collect();
    assert_eq!(
        notes,
        [
            ("Lamps", "A note\nthat goes on."),
            ("Lamps are", "an inline note"),
        ]
    );
}

proptest! {
    #[test]
    fn reading_never_panics(parts in prop::collection::vec(prop_oneof![
        Just("* "), Just("[fn:1]"), Just("[fn:: "), Just("]"), Just("\n"), Just("\n\n"), Just("é"), Just("*"), Just("/"),
        Just("#+begin_quote\n"), Just("#+end_quote\n"), Just("[[a]["), Just("]]"), Just("| a |"), Just(":x:\n"), Just("lamp "),
        Just("[cite:@a"), Just("- "), Just("#+title: ü"), Just("#+begin_src\n"),
    ], 0..40)) {
        let text = read(&parts.concat(), &Origin::Same { skipped: 0 });
        for block in text.blocks() {
            prop_assert!(text.content().get(block.range.as_range()).is_some());
        }
    }
}
