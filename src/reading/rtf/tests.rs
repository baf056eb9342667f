//! What a word processor would show.

use super::*;
use crate::text::{Block, BlockKind};
use proptest::prelude::*;

#[track_caller]
fn assert_blocks(rtf: &str, expected: &[(&str, &str)]) {
    let text = read(rtf.as_bytes()).unwrap();
    let blocks: Vec<_> = text
        .blocks()
        .iter()
        .map(|block| (block.kind.name(), text.slice(block.range)))
        .collect();
    assert_eq!(blocks, expected, "in {rtf:?}");
}

#[test]
fn documents_by_case() {
    assert_blocks(
        "{\\rtf1\\ansi\\ansicpg1252{\\fonttbl{\\f0 Serif;}{\\f1\\fcharset204 Cyr;}}{\\colortbl;}\
         {\\stylesheet{\\s0 Normal;}{\\s1 heading 1;}{\\s5 Quotations;}{\\s6 Block Text;}}{\\*\\generator x;}\
         \\pard\\s1 First\\par\\pard Lamps {\\b are} caf\\'e9 \\u8212 ? {\\f1\\'e4\\'e0} \\ldblquote lit\\rdblquote .\\par\n\
         \\pard\\s5 Words of theirs.\\par More.\\par\\pard\\s6\\li480\\ri480 Others.\\par\\pard Behind\\~it.\\line Next\\par}",
        &[
            ("heading", "First"),
            ("paragraph", "Lamps are café — да “lit”."),
            ("block quotation", "Words of theirs.\n\nMore.\n\nOthers."),
            ("paragraph", "Behind\u{a0}it.\nNext"),
        ],
    );
    assert_blocks(
        "{\\rtf1 One{\\v hidden}{\\deleted gone} two {\\field{\\*\\fldinst PAGE}{\\fldrslt three}}{\\pict ffd8}\\par\
         \\pard\\li720\\ri720 Set off.\\par\\pard\\ls1{\\listtext 1.}Item\\par\\pard\\li720\\fi0 Also.\\par\\pard\\li720\\fi-360 \\bullet\\tab More\\par\
         \\trowd\\pard\\intbl a\\cell b\\cell\\row\\pard end \\bin3 xyz\\u-10179?\\u-8704? \\{x\\}}",
        &[
            ("paragraph", "One two three"),
            ("block quotation", "Set off."),
            ("list item", "Item"),
            ("block quotation", "Also."),
            ("list item", "More"),
            ("table", "a\tb"),
            ("paragraph", "end 😀 {x}"),
        ],
    );
}

/// The Text up to each call, and the note called.
#[track_caller]
fn assert_notes(rtf: &str, content: &str, expected: &[(&str, &str)]) {
    let text = read(rtf.as_bytes()).unwrap();
    assert_eq!(text.content(), content, "in {rtf:?}");
    let calls = text.note_calls().iter();
    let calls: Vec<_> = calls
        .map(|call| (&text.content()[..call.at], text.slice(call.note)))
        .collect();
    assert_eq!(calls, expected, "in {rtf:?}");
    let in_note = |block: &Block| {
        let mut calls = text.note_calls().iter();
        calls.any(|call| call.note.hull(block.range) == call.note)
    };
    for block in text.blocks() {
        let is_note = block.kind == BlockKind::Footnote;
        assert_eq!(is_note, in_note(block), "{block:?} in {rtf:?}");
    }
}

#[test]
fn footnotes_are_called_and_follow_the_text() {
    // The forms in which writers put them: beside the call, within it, marked as ignorable, as endnotes.
    for note in [
        "{\\super\\chftn}{\\footnote\\pard{\\super\\chftn} A {\\i note}.}",
        "{\\super\\chftn}{\\*\\footnote\\chftn\\~\\plain\\pard {\\pard \\ql \\f0 \\sa180 \\li0 \\fi0 A {\\i note}.\\par}\n}",
        "{\\super \\chftn{\\*\\footnote\\chftn\\pard\\plain \\s20\\li339\\ri0\\fi-339 \\tab A {\\i note}.}}",
        "{\\cs17\\super \\chftn {\\footnote \\ltrpar\\pard\\plain \\li720\\ri720 {\\cs17\\super \\chftn }{ A note.}}}",
        "{\\super\\chftn}{\\*\\footnote\\ftnalt\\chftn A note.}",
    ] {
        assert_notes(
            &format!("{{\\rtf1 Lamps{note} are.\\par Next\\par}}"),
            "Lamps are.\n\nNext\n\nA note.",
            &[("Lamps", "A note.")],
        );
    }
    assert_notes(
        "{\\rtf1 {\\*\\unknown \\footnote no}One{\\*\\footnote First.} two{\\v{\\footnote hidden}}{\\deleted{\\*\\footnote gone}}\\par\
         {\\pard\\li900\\ri900 Theirs{\\*\\footnote Second.{\\footnote deeper}\\par More.}\\par}",
        "One two\n\nTheirs\n\nFirst.\n\nSecond.\n\nMore.",
        &[("One", "First."), ("One two\n\nTheirs", "Second.\n\nMore.")],
    );
}

#[test]
fn settings_around_a_note_apply_within() {
    let rtf = "{\\rtf1{\\fonttbl{\\f1\\fcharset204 Cyr;}}\\uc0 One\\f1{\\footnote \\u8220 \\'e4\\u8221 x} two\\par}";
    assert_notes(rtf, "One two\n\n“д”x", &[("One", "“д”x")]);
}

#[test]
fn files_that_are_not_rtf() {
    assert!(matches!(read(b"PK"), Err(Unreadable::OtherFormat { .. })));
    let deep = b"{\\rtf1"
        .iter()
        .copied()
        .chain(std::iter::repeat_n(b'{', 20_000));
    let deep: Vec<u8> = deep.collect();
    assert!(matches!(read(&deep), Err(Unreadable::Excessive(_))));
}

proptest! {
    #[test]
    fn reading_never_panics(parts in prop::collection::vec(prop_oneof![
        Just("{"), Just("}"), Just("\\par "), Just("\\u-10179?"), Just("\\'e9"), Just("\\'"), Just("\\footnote x"), Just("{\\*\\footnote y"), Just("\\bin9999 "),
        Just("\\intbl a\\cell"), Just("\\row"), Just("lamp"), Just("\\s1"), Just("\\li900\\ri900"), Just("\\pard"), Just("\\*"), Just("\\"),
        Just("{\\stylesheet{\\s1 heading 1;}}"), Just("é"), Just("\\v"), Just("\\plain"),
    ], 0..40)) {
        let text = read(("{\\rtf1 ".to_owned() + &parts.concat()).as_bytes()).unwrap();
        for block in text.blocks() {
            prop_assert!(text.content().get(block.range.as_range()).is_some());
        }
    }
}
