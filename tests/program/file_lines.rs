//! Findings are told with the lines and columns of the draft's file, whatever its encoding, the ends of its lines and
//! the markup that the text read from it lacks.

use encoding_rs::{Encoding, UTF_8, WINDOWS_1252};

use crate::common::{COPIED, OWN, Review};

/// A draft in a format: markup that the text lacks, letters that take several bytes, then copied words.
fn draft(ending: &str) -> String {
    let before = match ending {
        "md" => {
            "---\ntitle: Naïve lamps\n---\n\n<!-- not\nread -->\n\n[ref]: https://example.org/\n\n# *Lamps*"
        }
        "tex" => "\\documentclass{book}\n% not\n% read\n\\begin{document}\n\\section{Lamps}",
        "org" => "#+title: Naïve lamps\n# not read\n\n* Lamps",
        "rst" => ".. not\n   read\n\nLamps\n=====",
        _ => "Naïve lamps\n===========",
    };
    format!(
        "{before}\n\n{OWN}\n\n{OWN} Café … naïve: “ß” is a letter, and I know\nthat {COPIED}.\n"
    )
}

fn encoded(content: &str, encoding: &str) -> Vec<u8> {
    let one_byte = |encoding: &'static Encoding| encoding.encode(content).0.into_owned();
    let units = || content.encode_utf16();
    match encoding {
        "UTF-8" => one_byte(UTF_8),
        "UTF-8 with a mark" => format!("\u{FEFF}{content}").into_bytes(),
        "Windows-1252" => one_byte(WINDOWS_1252),
        "UTF-16LE" => [
            vec![0xFF, 0xFE],
            units().flat_map(u16::to_le_bytes).collect(),
        ]
        .concat(),
        "UTF-16BE" => [
            vec![0xFE, 0xFF],
            units().flat_map(u16::to_be_bytes).collect(),
        ]
        .concat(),
        _ => unreachable!(),
    }
}

const ENCODINGS: [&str; 5] = [
    "UTF-8",
    "UTF-8 with a mark",
    "Windows-1252",
    "UTF-16LE",
    "UTF-16BE",
];

/// `LINE:COLUMN` of each finding.
fn places(review: &Review, name: &str) -> Vec<String> {
    let output = review.run(&["check", name, "--format", "lines"]);
    let lines = String::from_utf8(output.stdout).unwrap();
    let place = |line: &str| {
        let fields: Vec<&str> = line.split(':').collect();
        Some(format!("{}:{}", fields.get(1)?, fields.get(2)?))
    };
    lines.lines().filter_map(place).collect()
}

#[test]
fn lines_are_those_of_the_file_in_every_encoding() {
    let ends = ["\n", "\r\n", "\r", "\u{85}"];
    for (number, ending) in ["md", "tex", "org", "rst", "txt"].into_iter().enumerate() {
        let file = draft(ending);
        let before = &file[..file.find(COPIED).unwrap()];
        let line = 1 + before.matches('\n').count();
        let column = 1 + before.rsplit('\n').next().unwrap().chars().count();
        let expected = [format!("{line}:{column}")];
        let name = format!("drafts/draft.{ending}");
        for (shift, encoding) in ENCODINGS.into_iter().enumerate() {
            // In Windows-1252 the byte of the last one is an ellipsis.
            let there = if encoding == "Windows-1252" { 3 } else { 4 };
            let end = ends[(number + shift) % there];
            let bytes = encoded(&file.replace('\n', end), encoding);
            let review = Review::of_two().file(&name, bytes);
            let found = places(&review, &name);
            assert_eq!(found, expected, "{name}, {encoding}, {end:?}");
        }
    }
}

#[test]
fn lines_of_an_included_file_are_its_own_in_every_encoding() {
    let main = format!("{OWN}\n\n\\input{{part}}\n\n{OWN}\n");
    let part = format!("% not\n% read\n\nCafé … naïve. It counts that {COPIED}.\n");
    for (encoding, end) in ENCODINGS.into_iter().zip(["\r", "\r\n", "\n", "\r", "\n"]) {
        let review = Review::of_two().file("drafts/main.tex", &main).file(
            "drafts/part.tex",
            encoded(&part.replace('\n', end), encoding),
        );
        let output = review.run(&["check", "drafts/main.tex", "--format", "lines"]);
        let lines = String::from_utf8(output.stdout).unwrap();
        let expected = "drafts/part.tex:4:15: ";
        assert!(lines.starts_with(expected), "{encoding}, {end:?}: {lines}");
    }
}

#[test]
fn other_separators_end_no_line() {
    let file = format!("{OWN}\u{2028}{OWN}\u{2029}{OWN}\n\n{OWN} It counts that {COPIED}.\n");
    for encoding in ["UTF-8", "UTF-16LE"] {
        let review = Review::of_two().file("drafts/draft.md", encoded(&file, encoding));
        let column = 2 + OWN.chars().count();
        let expected = [format!("3:{column}")];
        assert_eq!(places(&review, "drafts/draft.md"), expected, "{encoding}");
    }
}
