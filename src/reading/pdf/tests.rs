//! Sheets set by hand, glyph by glyph, and what is read from them.

use super::glyphs::Shown;
use super::*;
use crate::text::BlockKind;

mod order;

/// Sets lines of type on a sheet. Every glyph is half as wide as high, blanks too.
#[derive(Default)]
struct Setter {
    glyphs: Vec<Glyph>,
}

impl Setter {
    fn line(&mut self, x: f32, y: f32, size: f32, text: &str) -> f32 {
        let mut at = x;
        for c in text.chars() {
            self.glyph(at, y, size, Shown::Char(c));
            at += size / 2.0;
        }
        at
    }

    fn glyph(&mut self, x: f32, y: f32, size: f32, shown: Shown) {
        self.glyphs.push(Glyph {
            shown,
            x,
            y,
            end: x + size / 2.0,
            size,
            bold: false,
            turn: Turn::Upright,
            invisible: false,
        });
    }

    /// Lines 12 points apart; gives where the next would stand.
    fn lines(&mut self, x: f32, y: f32, size: f32, lines: &[&str]) -> f32 {
        for (index, text) in lines.iter().enumerate() {
            self.line(x, y + 1.2 * size * index as f32, size, text);
        }
        y + 1.2 * size * lines.len() as f32
    }
}

fn read_sheets(sheets: &[Setter]) -> Text {
    let words = sheets.iter().map(|setter| sheet(&setter.glyphs, false));
    text(None, words.collect()).0
}

/// The blocks as `kind: text`, line ends shown as `/`.
fn shown(text: &Text) -> Vec<String> {
    let blocks = text.blocks().iter();
    blocks
        .map(|block| {
            let slice = text.slice(block.range).replace('\n', "/");
            format!("{}: {slice}", block.kind.name())
        })
        .collect()
}

#[track_caller]
fn assert_reads(sheets: &[Setter], expected: &[&str]) {
    assert_eq!(shown(&read_sheets(sheets)), expected);
}

const LEFT: [&str; 6] = [
    "Lamps dim after midnight in the",
    "village, and the moths that had",
    "circled them go back to flowers",
    "which they visit until morning,",
    "as the first counts suggest for",
    "a summer that was rather wet.",
];
const RIGHT: [&str; 6] = [
    "Others find that the effect may",
    "fade by autumn. They counted on",
    "three sheets for twelve nights,",
    "and the order of the halves was",
    "drawn by lot in the evening, so",
    "that no one could choose it.",
];

#[test]
fn two_columns_below_a_title_are_read_one_after_the_other() {
    let mut setter = Setter::default();
    setter.line(
        80.0,
        80.0,
        16.0,
        "Part-night lighting and the moths of one village",
    );
    setter.lines(50.0, 120.0, 10.0, &LEFT);
    setter.lines(230.0, 120.0, 10.0, &RIGHT);
    assert_reads(
        &[setter],
        &[
            "heading: Part-night lighting and the moths of one village",
            &format!("paragraph: {}", LEFT.join("/")),
            &format!("paragraph: {}", RIGHT.join("/")),
        ],
    );
}

#[test]
fn columns_need_no_common_baselines_and_may_end_early() {
    let mut setter = Setter::default();
    setter.lines(50.0, 120.0, 10.0, &LEFT);
    setter.lines(230.0, 124.5, 10.0, &RIGHT[..3]);
    assert_reads(
        &[setter],
        &[
            &format!("paragraph: {}", LEFT.join("/")),
            &format!("paragraph: {}", RIGHT[..3].join("/")),
        ],
    );
}

#[test]
fn an_overlong_line_does_not_close_the_gap() {
    let mut setter = Setter::default();
    let mut left = LEFT;
    left[2] = "circled them go back to flowers now";
    setter.lines(50.0, 120.0, 10.0, &left);
    setter.lines(230.0, 120.0, 10.0, &RIGHT);
    let text = read_sheets(&[setter]);
    assert!(
        text.content().starts_with(&left.join("\n")),
        "{}",
        text.content()
    );
}

#[test]
fn a_wide_table_is_read_by_rows() {
    let mut setter = Setter::default();
    let end = setter.lines(
        50.0,
        120.0,
        10.0,
        &["The counts of all the nights follow here:"],
    );
    for (row, (night, lit, dark)) in [
        ("First", "34 moths", "41 moths"),
        ("Second", "28 moths", "45 moths"),
        ("Third", "31 moths", "39 moths"),
        ("Fourth", "30 moths", "40 moths"),
        ("Fifth", "29 moths", "44 moths"),
        ("Sixth", "36 moths", "37 moths"),
    ]
    .into_iter()
    .enumerate()
    {
        let y = end + 8.0 + 12.0 * row as f32;
        setter.line(50.0, y, 10.0, night);
        setter.line(150.0, y, 10.0, lit);
        setter.line(250.0, y, 10.0, dark);
    }
    let text = read_sheets(&[setter]);
    let table = text
        .blocks()
        .iter()
        .find(|block| block.kind == BlockKind::Table);
    let table = text.slice(table.unwrap().range);
    assert!(
        table.starts_with("First\t34 moths\t41 moths\nSecond\t28"),
        "{table}"
    );
}

#[test]
fn hyphens_at_line_ends_by_case() {
    let cases: &[(&[&str], &str)] = &[
        // The dictionary knows the joined word.
        (
            &["The street light-", "ing was dimmed."],
            "The street lighting/was dimmed.",
        ),
        // A compound of two words stays one with its hyphen.
        (
            &["It was a well-", "known effect."],
            "It was a well-known/effect.",
        ),
        // The document writes it with a hyphen elsewhere, or without.
        (
            &["The day-light and the day-", "light of June."],
            "The day-light and the day-light/of June.",
        ),
        (
            &["Zorbling moths go zor-", "bling at night."],
            "Zorbling moths go zorbling/at night.",
        ),
        (&["An Anglo-", "Saxon moth."], "An Anglo-Saxon/moth."),
        (&["From 2014-", "2016 only."], "From 2014-/2016 only."),
        (&["It was dim -", "and so on."], "It was dim -/and so on."),
        (&["A soft\u{AD}", "ened light."], "A softened/light."),
    ];
    for (lines, expected) in cases {
        let mut setter = Setter::default();
        setter.lines(50.0, 120.0, 10.0, lines);
        let text = read_sheets(&[setter]);
        let read = text.content().replace('\n', "/");
        // The rest of a broken word goes up to the line it began on.
        let read = read.replace("lighting was", "lighting/was");
        let words = |text: &str| text.replace('/', " ");
        assert_eq!(words(&read), words(expected), "{lines:?}");
    }
}

#[test]
fn ligatures_and_accents_become_letters() {
    let mut setter = Setter::default();
    let at = setter.line(50.0, 120.0, 10.0, "di");
    setter.glyph(at, 120.0, 10.0, Shown::Chars("ffi".into()));
    let at = setter.line(at + 5.0, 120.0, 10.0, "cult na");
    // The accent is drawn first, then the letter below it, a little aside.
    setter.glyph(at, 120.0, 10.0, Shown::Char('¨'));
    setter.glyph(at + 0.4, 120.0, 10.0, Shown::Char('ı'));
    let at = setter.line(at + 5.0, 120.0, 10.0, "ve caf");
    setter.glyph(at, 120.0, 10.0, Shown::Char('e'));
    setter.glyph(at, 118.0, 10.0, Shown::Char('´'));
    assert_reads(&[setter], &["paragraph: difficult naïve café"]);
}

#[test]
fn footnotes_follow_the_text_and_their_calls_are_known() {
    let mut setter = Setter::default();
    let at = setter.line(50.0, 120.0, 10.0, "Lamps dim after midnight.");
    setter.line(at, 116.5, 7.0, "1");
    setter.line(at + 9.0, 120.0, 10.0, "Moths go back");
    setter.lines(
        50.0,
        132.0,
        10.0,
        &["to the flowers which they visit, and stay."],
    );
    setter.line(50.0, 600.0, 6.0, "1");
    setter.line(55.0, 603.0, 8.0, "The summer was the wettest in");
    setter.line(50.0, 613.0, 8.0, "two decades.");
    let mut second = Setter::default();
    second.lines(50.0, 120.0, 10.0, &["In the dark they rest less."]);
    let text = read_sheets(&[setter, second]);
    assert_eq!(
        shown(&text),
        [
            "paragraph: Lamps dim after midnight. Moths go back/to the flowers which they visit, and stay.",
            "footnote: The summer was the wettest in/two decades.",
            "paragraph: In the dark they rest less.",
        ]
    );
    let [call] = text.note_calls() else {
        panic!("{:?}", text.note_calls());
    };
    assert!(text.content()[..call.at].ends_with("after midnight."));
    assert!(text.slice(call.note).starts_with("The summer"));
}

#[test]
fn a_paragraph_continues_across_pages_and_its_page_is_known() {
    let page = |number: &str, lines: &[&str]| {
        let mut setter = Setter::default();
        setter.lines(50.0, 120.0, 10.0, lines);
        setter.line(200.0, 700.0, 10.0, number);
        setter
    };
    let text = read_sheets(&[
        page(
            "12",
            &["Lamps dim after midnight in", "the village, and the moths"],
        ),
        page(
            "13",
            &["that had circled them leave.", "Then they rest a while."],
        ),
        page("14", &["    In the morning all is still."]),
    ]);
    assert_eq!(
        shown(&text)[0],
        "paragraph: Lamps dim after midnight in/the village, and the moths/that had circled them leave./Then they rest a while."
    );
    let page = |words: &str| {
        let at = text.content().find(words).unwrap();
        text.pages().at(at).map(|label| label.as_str().to_owned())
    };
    assert_eq!(page("the moths").as_deref(), Some("12"));
    assert_eq!(page("that had").as_deref(), Some("13"));
    assert_eq!(page("In the morning").as_deref(), Some("14"));
    assert_eq!(text.sheet_at(text.content().len() - 1), Some(3));
}

#[test]
fn lines_indented_on_both_sides_are_a_block_quotation() {
    let mut setter = Setter::default();
    let end = setter.lines(50.0, 120.0, 10.0, &LEFT);
    let end = setter.lines(
        80.0,
        end + 8.0,
        10.0,
        &[
            "Nobody who stands",
            "below a lamp will",
            "say moths are few.",
        ],
    );
    setter.lines(50.0, end + 8.0, 10.0, &RIGHT);
    assert_reads(
        &[setter],
        &[
            &format!("paragraph: {}", LEFT.join("/")),
            "block quotation: Nobody who stands/below a lamp will/say moths are few.",
            &format!("paragraph: {}", RIGHT.join("/")),
        ],
    );
}

#[test]
fn first_line_indents_and_lists_separate_paragraphs() {
    let mut setter = Setter::default();
    let end = setter.lines(50.0, 120.0, 10.0, &LEFT);
    setter.line(65.0, end, 10.0, "Others find that the effect");
    let end = setter.lines(50.0, end + 12.0, 10.0, &RIGHT[1..]);
    setter.line(60.0, end, 10.0, "• no sheet was moved;");
    setter.line(60.0, end + 12.0, 10.0, "• no lamp was changed.");
    let mut second = RIGHT;
    second[0] = "Others find that the effect";
    assert_reads(
        &[setter],
        &[
            &format!("paragraph: {}", LEFT.join("/")),
            &format!("paragraph: {}", second.join("/")),
            "list item: no sheet was moved;",
            "list item: no lamp was changed.",
        ],
    );
}

#[test]
fn text_without_ink_counts_where_there_is_no_other() {
    let mut scan = Setter::default();
    scan.lines(50.0, 120.0, 10.0, &LEFT);
    for glyph in &mut scan.glyphs {
        glyph.invisible = true;
    }
    let all = format!("paragraph: {}", LEFT.join("/"));
    assert_reads(&[scan], &[&all]);
    let mut hidden = Setter::default();
    hidden.lines(50.0, 120.0, 10.0, &LEFT);
    let drawn = hidden.glyphs.len();
    hidden.line(50.0, 400.0, 10.0, "hidden words");
    for glyph in hidden.glyphs.iter_mut().skip(drawn) {
        glyph.invisible = true;
    }
    assert_reads(&[hidden], &[&all]);
}

#[test]
fn what_is_drawn_twice_is_read_once() {
    let mut setter = Setter::default();
    for c in "bold".chars().enumerate() {
        let x = 50.0 + 5.0 * c.0 as f32;
        setter.glyph(x, 120.0, 10.0, Shown::Char(c.1));
        setter.glyph(x + 0.3, 120.0, 10.0, Shown::Char(c.1));
    }
    assert_reads(&[setter], &["paragraph: bold"]);
}
