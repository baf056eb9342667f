use super::*;
use crate::text::{ByteRange, NoteCall};

fn text(content: &str) -> Text {
    read(content, &Origin::Same { skipped: 0 }).0
}

#[test]
fn blocks_by_case() {
    let cases: &[(&str, &[&str])] = &[
        ("", &[]),
        (
            "Lamps *dim* at\n**night**.\n\nMoths.",
            &["paragraph: Lamps dim at/night.", "paragraph: Moths."],
        ),
        (
            "Lamps  \ndim\\\nnow<br>yes",
            &["paragraph: Lamps/dim/now/yes"],
        ),
        (
            "# Lamps\n\n## Moths {#moths}\n\nOld\n===",
            &["h1: Lamps", "h2: Moths {#moths}", "h1: Old"],
        ),
        (
            "A [link](http://a.example \"t\"), <http://b.example>, ![a lamp](c.png).",
            &["paragraph: A link, , a lamp."],
        ),
        (
            "So `x y` &amp; a &lt; b \\* c &mdash; &nbsp;d",
            &["paragraph: So x y & a < b * c — \u{A0}d"],
        ),
        (
            "~~old~~ a_b_c <u>dim</u> <!-- x -->",
            &["paragraph: old a_b_c dim"],
        ),
        ("---\ntitle: T\n---\n\nLamps.", &["paragraph: Lamps."]),
        (
            "Lamps.\n\n---\n\nMoths.",
            &["paragraph: Lamps.", "paragraph: Moths."],
        ),
        (
            "> Lamps\n> dim.\n>\n> - Moths\n>\n> > fly.\n\nSo.",
            &["block quotation: Lamps/dim.//Moths//fly.", "paragraph: So."],
        ),
        (
            "> One.\n\n> Two.",
            &["block quotation: One.", "block quotation: Two."],
        ),
        (
            "- Lamps\n  - Moths\n\n  more\n- Plants",
            &[
                "list item: Lamps",
                "list item: Moths",
                "list item: more",
                "list item: Plants",
            ],
        ),
        (
            "1. Lamps\n\n   > Dim.\n\n2. [x] Moths",
            &[
                "list item: Lamps",
                "block quotation: Dim.",
                "list item: Moths",
            ],
        ),
        ("- [x] Moths", &["list item: Moths"]),
        (
            "```\nlet x;\n```\n\n    y\n\nz",
            &["code: let x;", "code: y", "paragraph: z"],
        ),
        ("|a|b|\n|-|-|\n|c||\n|d *e*|f|", &["table: a\tb/c\t/d e\tf"]),
        (
            "Lamps[^1] dim.\n\n[^1]: A note.\n\n    More.",
            &[
                "paragraph: Lamps dim.",
                "footnote: A note.",
                "footnote: More.",
            ],
        ),
        (
            "So [@harrow2014, p. 3] and @okoro_b [p. 12] say.",
            &["paragraph: So [@harrow2014, p. 3] and @okoro_b [p. 12] say."],
        ),
        ("<div>\nlost\n</div>\n\nkept", &["paragraph: kept"]),
        (
            "Lamps\r\ndim.\r\n\r\nMoths.",
            &["paragraph: Lamps/dim.", "paragraph: Moths."],
        ),
        // Pages.
        (
            "[p. 3]\n\nLamps\n\n[p. 4]\n\ndim.\n\n[p. 5] Moths.",
            &["paragraph: Lamps//[p. 4]//dim.", "paragraph: Moths."],
        ),
        (
            "> Lamps\n> [p. 4]\n> dim.",
            &["block quotation: Lamps/[p. 4]/dim."],
        ),
        (
            "> Lamps\n\n[p. 4]\n\n> dim.",
            &["block quotation: Lamps//[p. 4]//dim."],
        ),
        // References.
        (
            "# References\n\nHarrow (2014).\n\n- Okoro (2016).\n\n## Books\n\nX.\n\n# End\n\nY.",
            &[
                "h1: References",
                "reference: Harrow (2014).",
                "reference: Okoro (2016).",
                "h2: Books",
                "reference: X.",
                "h1: End",
                "paragraph: Y.",
            ],
        ),
    ];
    let shown = |content: &str| -> Vec<String> {
        let text = text(content);
        text.blocks()
            .iter()
            .map(|block| {
                let name = match block.kind {
                    BlockKind::Heading { level } => format!("h{level}"),
                    kind => kind.name().to_owned(),
                };
                format!("{name}: {}", text.slice(block.range).replace('\n', "/"))
            })
            .collect()
    };
    let wrong: Vec<String> = cases
        .iter()
        .filter_map(|(content, expected)| {
            let found = shown(content);
            (found != *expected).then(|| format!("{content:?}\n  was {found:?}\n"))
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.concat());
}

#[test]
fn a_text_leads_back_to_its_file() {
    let file = "\u{FEFF}# A *Lamp*\n\nIt &amp; `x  y` dims\nat [night](u).";
    let (text, html) = read(&file[3..], &Origin::Same { skipped: 3 });
    assert!(!html);
    assert_eq!(text.content(), "A Lamp\n\nIt & x  y dims\nat night.");
    let lead = |part: &str| {
        let start = text.content().find(part).unwrap();
        let range = ByteRange::of(start, start + part.len());
        text.origin()
            .file_range(range)
            .map(|range| &file[range.as_range()])
    };
    assert_eq!(lead("A Lamp"), Some("A *Lamp"));
    assert_eq!(lead("dims\nat"), Some("dims\nat"));
    assert_eq!(lead("x  y"), Some("x  y"));
    assert_eq!(lead("night"), Some("night"));
    assert_eq!(lead("&"), None);
    assert_eq!(lead("\n\n"), None);
}

#[test]
fn html_blocks_are_reported_but_not_comments() {
    let html = |content| read(content, &Origin::Recoded).1;
    assert!(html("<div>\nlost\n</div>"));
    assert!(!html("<!-- a\nb -->\n\nLamps <b>dim</b>."));
}

/// The words before each call, and the note it leads to.
fn calls(content: &str) -> Vec<(String, String)> {
    let text = text(content);
    let call = |call: &NoteCall| {
        let before = &text.content()[..call.at];
        let word = before.rsplit([' ', '\n']).next().unwrap_or_default();
        (word.to_owned(), text.slice(call.note).to_owned())
    };
    text.note_calls().iter().map(call).collect()
}

#[test]
fn footnote_calls_lead_to_their_notes() {
    let cases: &[(&str, &[(&str, &str)])] = &[
        (
            "Lamps *fail*.[^1] Moths[^b] fly.\n\n[^b]: Plants,\n    *too*.\n\n    More.\n\n[^1]: A note.\n\nSo.[^1]",
            &[
                ("fail.", "A note."),
                ("Moths", "Plants,\ntoo.\n\nMore."),
                ("So.", "A note."),
            ],
        ),
        ("Lamps[^none] fail.", &[]),
        ("Lamps fail.\n\n[^1]: Never called.", &[]),
        ("Lamps[^1] fail.\n\n[^1]:\n\nSo.", &[]),
        ("> Lamps fail.[^1]\n\n[^1]: Ibid.", &[("fail.", "Ibid.")]),
    ];
    for (content, wanted) in cases {
        let found = calls(content);
        let found: Vec<(&str, &str)> = found
            .iter()
            .map(|(word, note)| (word.as_str(), note.as_str()))
            .collect();
        assert_eq!(found, *wanted, "{content}");
    }
}
