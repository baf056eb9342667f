//! Citations in footnotes.

use super::super::citations;
use super::shown;
use crate::text::{Block, BlockKind, ByteRange, NoteCall, Origin, Pages, Text};

/// A Text of one paragraph and its footnotes, called in order.
fn with_notes(prose: &str, notes: &[&str]) -> Text {
    let mut content = prose.to_owned();
    let mut blocks = vec![Block {
        kind: BlockKind::Paragraph,
        range: ByteRange::of(0, prose.len()),
    }];
    let mut calls = Vec::new();
    for note in notes {
        content.push_str("\n\n");
        let range = ByteRange::of(content.len(), content.len() + note.len());
        content.push_str(note);
        blocks.push(Block {
            kind: BlockKind::Footnote,
            range,
        });
        calls.push(NoteCall {
            at: prose.len(),
            note: range,
        });
    }
    let origin = Origin::Same { skipped: 0 };
    Text::new(content, blocks, Pages::default(), origin).with_note_calls(calls)
}

#[track_caller]
fn check(cases: &[(&[&str], &str)]) {
    let wrong: Vec<String> = cases
        .iter()
        .filter_map(|(notes, expected)| {
            let found = shown(&citations(&with_notes("Lamps fail.", notes)));
            (found != *expected)
                .then(|| format!("{notes:?}\n    found {found}\n    not   {expected}"))
        })
        .collect();
    assert!(wrong.is_empty(), "\n{}\n", wrong.join("\n"));
}

/// Chicago 17 sections 14.19 to 14.36, from memory.
#[test]
fn full_and_short_notes() {
    check(&[
        (
            &["Ada Lindqvist, The Dark Street (Harbour Press, 2014), 45."],
            "note:Ada Lindqvist, The Dark Street|2014|45",
        ),
        (
            &["Ada Lindqvist, “Moths at Lamps,” Journal of Night 12, no. 3 (2014): 45–47."],
            "note:Ada Lindqvist, Moths at Lamps|2014|45–47",
        ),
        (
            &[
                "Ada Lindqvist and Ben Okoro, The Dark Street (Harbour: Night Press, 2014), pp. 45–7.",
            ],
            "note:Ada Lindqvist&Ben Okoro, The Dark Street|2014|pp. 45–7",
        ),
        (
            &[
                "Ada Lindqvist, Ben Okoro, and Cara Vane, The Dark Street (Harbour Press, 2014), 45.",
            ],
            "note:Ada Lindqvist&Ben Okoro&Cara Vane, The Dark Street|2014|45",
        ),
        (
            &["Ada Lindqvist et al., The Dark Street (Harbour Press, 2014)."],
            "note:Ada Lindqvist+, The Dark Street|2014",
        ),
        (&["Lindqvist, “Moths,” 47."], "note:Lindqvist, Moths||47"),
        (
            &["Lindqvist, Dark Street, 47."],
            "note:Lindqvist, Dark Street||47",
        ),
        (
            &["Lindqvist, ‘Moths at Lamps’, p. 47."],
            "note:Lindqvist, Moths at Lamps||p. 47",
        ),
        (
            &["Lindqvist and Okoro, Dark Street, 47–48."],
            "note:Lindqvist&Okoro, Dark Street||47–48",
        ),
        (
            &["Lindqvist, Moths, Lamps, and Streets, 47."],
            "note:Lindqvist, Moths, Lamps, and Streets||47",
        ),
        (
            &["See Lindqvist, Dark Street, 47; Okoro, “Lamps,” 3."],
            "note:See>Lindqvist, Dark Street||47 / note:Okoro, Lamps||3",
        ),
        (
            &["Ada Lindqvist, La rue sombre, Paris, Lampe, 2014, p. 45."],
            "note:Ada Lindqvist, La rue sombre|2014|p. 45",
        ),
        (
            &["Lindqvist, Ada: Die dunkle Straße, Hamburg 2014, S. 45."],
            "note:Lindqvist, Die dunkle Straße|2014|S. 45",
        ),
        (
            &["Ada Lindqvist, ed., The Dark Street (Harbour Press, 2014), 45."],
            "note:Ada Lindqvist, The Dark Street|2014|45",
        ),
        (
            &["Lindqvist, Dark Street, 47: “lamps fail when moths come.”"],
            "note:Lindqvist, Dark Street||47",
        ),
        (
            &["Vgl. Lindqvist 2014, S. 45."],
            "Vgl.>Lindqvist|2014|S. 45",
        ),
        (
            &["Lindqvist 2014: 45; Okoro and Vane 2015, 3."],
            "Lindqvist|2014|45 / Okoro&Vane|2015|3",
        ),
        (
            &["So Lindqvist (2014, p. 3) and others (see Okoro, 2015)."],
            "~Lindqvist|2014|p. 3 / see>Okoro|2015",
        ),
    ]);
}

/// Chicago 17 sections 14.34 and 14.36, from memory; *op. cit.* common practice of older notes.
#[test]
fn notes_take_up_earlier_ones() {
    let full = "Ada Lindqvist, The Dark Street (Harbour Press, 2014), 45.";
    let shown_full = "note:Ada Lindqvist, The Dark Street|2014|45";
    let also = "note:Ada Lindqvist, The Dark Street|2014";
    let cases: &[(&str, &str)] = &[
        ("Ibid., 48.", "|48"),
        ("Ibid.", "|45"),
        ("Ebd., S. 48.", "|S. 48"),
        ("See ibid., 48–49.", "|48–49"),
        ("Lindqvist, op. cit., 48.", "|48"),
        ("Lindqvist, op. cit., p. 48", "|p. 48"),
        ("Lindqvist, loc. cit.", "|45"),
        ("Lindqvist, a. a. O., S. 48.", "|S. 48"),
        ("Lindqvist (n 1) 48.", "|48"),
        ("Lindqvist, Dark Street, 48.", "|48"),
        ("Lindqvist, Dark Street.", ""),
    ];
    for (note, locator) in cases {
        check(&[(&[full, note], &format!("{shown_full} / {also}{locator}"))]);
    }
}

#[test]
fn remarks_are_no_citations() {
    for note in [
        "The lamps were counted in 2014, and again in 2016.",
        "Lindqvist, who came in 2014, counted 47 lamps.",
        "Harrow, Director of the Survey.",
        "In Sweden, lamps are dim; in Norway, 47 are not.",
        "Ibid is a word.",
        "Harrow v Okoro [2014] LR 3.",
        "Lighting Act 2003, s 12.",
        "47.",
        "“Moths,” she said, “are few.”",
        "See Figure 3, p. 12, and Table 2.",
        "Interview, 3 March 2014.",
        "",
    ] {
        check(&[(&[note], "")]);
    }
}

#[test]
fn notes_are_taken_in_the_order_of_their_calls() {
    let (prose, first, second) = ("One. Two.", "Lindqvist, Dark Street, 47.", "Ibid., 48.");
    // The second note stands before the first.
    let content = format!("{second}\n\n{prose}\n\n{first}");
    let range = |part: &str| {
        let start = content.find(part).unwrap();
        ByteRange::of(start, start + part.len())
    };
    let block = |kind, part| Block {
        kind,
        range: range(part),
    };
    let blocks = vec![
        block(BlockKind::Footnote, second),
        block(BlockKind::Paragraph, prose),
        block(BlockKind::Footnote, first),
    ];
    let call = |word: &str, note| NoteCall {
        at: range(word).end(),
        note: range(note),
    };
    let calls = vec![call("One.", first), call("Two.", second)];
    let origin = Origin::Same { skipped: 0 };
    let text = Text::new(content.clone(), blocks, Pages::default(), origin).with_note_calls(calls);
    assert_eq!(
        shown(&citations(&text)),
        "note:Lindqvist, Dark Street||48 / note:Lindqvist, Dark Street||47"
    );
}
