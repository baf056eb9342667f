//! What is left of the markup.

use super::*;
use proptest::prelude::*;

#[track_caller]
fn assert_blocks(rst: &str, expected: &[(&str, &str)]) {
    let text = read(rst, &Origin::Same { skipped: 0 });
    let blocks: Vec<_> = text
        .blocks()
        .iter()
        .map(|block| (block.kind.name(), text.slice(block.range)))
        .collect();
    assert_eq!(blocks, expected, "in {rst:?}");
}

#[test]
fn documents_by_case() {
    assert_blocks(
        "========\nOn lamps\n========\n\nFirst\n-----\n\nLamps are *lit* and\n**old** ``a_b``.\n\n   Words of theirs.\n   Still.\n\n   More.\n\nBehind it.\n\n\
         .. a comment\n   goes on\n\n.. image:: x.png\n   :width: 3\n\nNext\n=====\n",
        &[
            ("heading", "On lamps"),
            ("heading", "First"),
            ("paragraph", "Lamps are lit and\nold a_b."),
            ("block quotation", "Words of theirs.\nStill.\n\nMore."),
            ("paragraph", "Behind it."),
            ("heading", "Next"),
        ],
    );
    assert_blocks(
        "- One\n- Two\n  more\n\n  still two\n\n1. Three\n\nSo::\n\n  code *a*\n\nEnd.\n\n\
         .. epigraph::\n\n   Theirs.\n\n== ==\na  b\n== ==\nc  d\n== ==\n\n+---+---+\n| a | b |\n+---+---+\n\n.. note::\n\n   Mind it.\n",
        &[
            ("list item", "One"),
            ("list item", "Two\nmore"),
            ("list item", "still two"),
            ("list item", "Three"),
            ("paragraph", "So:"),
            ("code", "code *a*"),
            ("paragraph", "End."),
            ("block quotation", "Theirs."),
            ("table", "a\tb\nc\td"),
            ("table", "a\tb"),
            ("paragraph", "Mind it."),
        ],
    );
}

#[test]
fn lines_by_case() {
    for (rst, expected) in [
        (
            "a `lamp <http://x.example>`_ and `moth`_ here_.",
            "a lamp and moth here.",
        ),
        ("a :term:`lamp` is", "a lamp is"),
        ("two \\* three * four and a_b", "two * three * four and a_b"),
        ("re\\ ``lit``", "relit"),
        ("at 10:30 it: was", "at 10:30 it: was"),
    ] {
        let text = read(rst, &Origin::Same { skipped: 0 });
        assert_eq!(text.content(), expected, "in {rst}");
    }
}

#[test]
fn footnotes() {
    let rst = "Lamps [1]_ are [#]_ lit [2]_.\n\n.. [1] A note\n   that goes on.\n.. [#] Another.\n";
    let text = read(rst, &Origin::Same { skipped: 0 });
    assert!(text.content().starts_with("Lamps are lit."));
    let notes: Vec<_> = text
        .note_calls()
        .iter()
        .map(|call| (&text.content()[..call.at], text.slice(call.note)))
        .collect();
    assert_eq!(
        notes,
        [
            ("Lamps", "A note\nthat goes on."),
            ("Lamps are", "Another.")
        ]
    );
}

proptest! {
    #[test]
    fn reading_never_panics(parts in prop::collection::vec(prop_oneof![
        Just("===\n"), Just("---\n"), Just(".. "), Just("[1]_"), Just(".. [1] a\n"), Just("\n"), Just("\n\n"), Just("é"), Just("*"),
        Just("``"), Just("`a <b>`_"), Just("   "), Just("::\n"), Just("== ==\n"), Just("+--+\n"), Just("- "), Just("1. "), Just("lamp "),
        Just("\\"), Just("|"), Just(".. note::\n"), Just(":a:`b`"), Just("_"),
    ], 0..40)) {
        let text = read(&parts.concat(), &Origin::Same { skipped: 0 });
        for block in text.blocks() {
            prop_assert!(text.content().get(block.range.as_range()).is_some());
        }
    }
}
