//! One table of small cases, replayed through everything that must make no difference: the number of
//! threads, the format of draft and source, their line ends, a byte-order mark, and where lines are broken.

use crate::common::{HARROW_REFERENCE, OWN, QUILL_REFERENCE, Review, text};

/// What a case is and what is found in it, as `kind degree`; the degree only where there is one.
struct Case {
    draft: &'static str,
    source: &'static str,
    found: &'static [&'static str],
}

const CASES: &[Case] = &[
    Case {
        draft: "Nothing of it is alike, neither owls nor kerbs.",
        source: "The campion closes at dawn.",
        found: &[],
    },
    // Runs of words.
    Case {
        draft: "I had heard that the oldest lamps of the harbour were lit by hand until the war.",
        source: "It is said that the oldest lamps of the harbour were lit by hand until a strike.",
        found: &["unmarked-copy near copy"],
    },
    Case {
        draft: "Somebody wrote down that the oldest lamps of our village were kept.",
        source: "He never noticed that the oldest lamps of all were gone.",
        found: &[],
    },
    // Across the end of a sentence, and across punctuation that only one of them has.
    Case {
        draft: "The gulls were asleep. Nobody had told the keeper of it, or so it seemed.",
        source: "At four the gulls were asleep; nobody had told the keeper, who wept.",
        found: &["unmarked-copy verbatim"],
    },
    // Characters that look different and are the same word.
    Case {
        draft: "The keeper's naïve friend couldn't file the burnt-out wick of the harbour lamp.",
        source: "Then the keeper’s nai\u{308}ve friend couldn’t \u{fb01}le the burnt\u{2010}out wick of the har\u{ad}bour lamp.",
        found: &["unmarked-copy verbatim"],
    },
    // Words changed one by one.
    Case {
        draft: "A gardener looking at bryony alone would call lamps harmless. Whoever wishes to know what lamps do to a \
            hedge must ask a plant that has no other client (Harrow, 2019).",
        source: "A gardener who looks only at bryony would therefore call the lamp harmless. Whoever wants to know what \
            a lamp does to a hedge has to ask the plant that has no other customer.",
        found: &["close-paraphrase light revision"],
    },
    // Quotations.
    Case {
        draft: "She wrote that \"the gulls were asleep and nobody had told the keeper\" (Harrow, 2019, p. 3).",
        source: "[p. 3]\n\nAt four the gulls were asleep and nobody had told the keeper.",
        found: &[],
    },
    Case {
        draft: "She wrote that “the gulls were awake and nobody had told the keeper” (Harrow, 2019).",
        source: "[p. 3]\n\nAt four the gulls were asleep and nobody had told the keeper.",
        found: &["quotation-without-page", "altered-quotation"],
    },
    Case {
        draft: "She wrote that «the gulls were asleep and nobody had told the keeper» (Harrow, 2019, p. 4).",
        source: "[p. 3]\n\nAt four the gulls were asleep and nobody had told the keeper.\n\n[p. 4]\n\nThe end.",
        found: &["page-mismatch"],
    },
    Case {
        draft: "Somebody wrote that ‘the gulls were asleep and nobody had told the keeper’.",
        source: "At four the gulls were asleep and nobody had told the keeper.",
        found: &["quotation-without-credit"],
    },
    // A copy that goes over the page.
    Case {
        draft: "And then the gulls of the outer harbour were asleep when the lamp went out (Harrow, 2019).",
        source: "[p. 3]\n\nIn winter the gulls of the outer harbour were\n\n[p. 4]\n\nasleep when the lamp went out. So was I.",
        found: &["unmarked-copy near copy"],
    },
    // Credit to another.
    Case {
        draft: "The gulls of the outer harbour were asleep when the last lamp went out (Quill, 2016).",
        source: "The gulls of the outer harbour were asleep when the last lamp went out.",
        found: &["unmarked-copy verbatim"],
    },
    Case {
        draft: "Others agree (Vane, 1999).",
        source: "The campion closes at dawn.",
        found: &["cited-not-listed"],
    },
];

/// A way in which the same case may come.
struct Way {
    name: &'static str,
    draft: &'static str,
    source: &'static str,
    jobs: &'static str,
    write: fn(&str) -> String,
}

fn as_it_is(text: &str) -> String {
    text.to_owned()
}

fn with_crlf(text: &str) -> String {
    text.replace('\n', "\r\n")
}

fn with_mark(text: &str) -> String {
    format!("\u{feff}{text}")
}

/// Lines of some five words, as in a file that was wrapped by hand.
fn wrapped(text: &str) -> String {
    let mut lines = String::new();
    for (number, paragraph) in text.split("\n\n").enumerate() {
        lines += if number > 0 { "\n\n" } else { "" };
        for (at, word) in paragraph.split(' ').enumerate() {
            lines += match at {
                0 => "",
                at if at % 5 == 0 => "\n",
                _ => " ",
            };
            lines += word;
        }
    }
    lines
}

const USUAL: Way = Way {
    name: "usual",
    draft: "d.md",
    source: "harrow2019.txt",
    jobs: "2",
    write: as_it_is,
};

const WAYS: &[Way] = &[
    Way {
        name: "one thread",
        jobs: "1",
        ..USUAL
    },
    Way {
        name: "four threads",
        jobs: "4",
        ..USUAL
    },
    Way {
        name: "draft as plain text",
        draft: "d.txt",
        ..USUAL
    },
    Way {
        name: "source as Markdown",
        source: "harrow2019.md",
        ..USUAL
    },
    Way {
        name: "lines end with CR LF",
        write: with_crlf,
        ..USUAL
    },
    Way {
        name: "lines end with CR LF in plain text",
        draft: "d.txt",
        write: with_crlf,
        ..USUAL
    },
    Way {
        name: "byte-order mark",
        write: with_mark,
        ..USUAL
    },
    Way {
        name: "byte-order mark in plain text",
        draft: "d.txt",
        write: with_mark,
        ..USUAL
    },
    Way {
        name: "wrapped by hand",
        write: wrapped,
        ..USUAL
    },
    Way {
        name: "wrapped by hand with CR LF",
        draft: "d.txt",
        write: |text| with_crlf(&wrapped(text)),
        ..USUAL
    },
];

/// Everything that is found in a case on one way, with blank space alike.
fn found(case: &Case, way: &Way) -> Vec<[String; 5]> {
    let draft = format!("{OWN}\n\n{}\n\n{OWN}\n", case.draft);
    let review = Review::new()
        .reference(HARROW_REFERENCE)
        .reference(QUILL_REFERENCE)
        .source(way.source, (way.write)(&format!("{}\n", case.source)))
        .file(way.draft, (way.write)(&draft));
    let checked = review.check_with(&["--jobs", way.jobs, way.draft]);
    let one_line = |written: &str| written.split_whitespace().collect::<Vec<_>>().join(" ");
    let findings = checked.findings().iter().map(|finding| {
        [
            text(&finding["kind"]).to_owned(),
            text(&finding["degree"]).to_owned(),
            finding["position"].to_string(),
            one_line(text(&finding["draft"]["text"])),
            one_line(text(&finding["source"]["text"])),
        ]
    });
    findings.collect()
}

#[test]
fn each_case_has_its_findings() {
    let mut different = Vec::new();
    for case in CASES {
        let found = found(case, &USUAL);
        let brief: Vec<String> = found
            .iter()
            .map(|[kind, degree, ..]| format!("{kind} {degree}").trim_end().to_owned())
            .collect();
        if brief != case.found {
            different.push(format!("{}: {found:#?}", case.draft));
        }
    }
    assert!(different.is_empty(), "{}", different.join("\n"));
}

#[test]
fn they_are_the_same_on_every_way() {
    let mut different = Vec::new();
    for case in CASES {
        let usual = found(case, &USUAL);
        for way in WAYS {
            let other = found(case, way);
            if other != usual {
                different.push(format!(
                    "{}: {}\n  usual {usual:?}\n  here  {other:?}",
                    way.name, case.draft
                ));
            }
        }
    }
    assert!(different.is_empty(), "{}", different.join("\n"));
}
