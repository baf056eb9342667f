use super::*;

/// A sheet of rows from the top, `|` between words.
fn sheet(rows: &[(&str, f32)]) -> Vec<Word> {
    let mut words = Vec::new();
    for (row, y) in rows {
        for (index, text) in row.split(' ').enumerate() {
            let x = 70.0 + 60.0 * index as f32;
            words.push(Word {
                text: text.to_owned(),
                x,
                end: x + 50.0,
                y: *y,
                size: 10.0,
                bold: false,
                raised: false,
                blank_before: index > 0,
                call: None,
            });
        }
    }
    words
}

fn left(cleared: &Cleared) -> Vec<String> {
    let text = |words: &Vec<Word>| {
        let words: Vec<&str> = words.iter().map(|word| word.text.as_str()).collect();
        words.join(" ")
    };
    cleared.sheets.iter().map(text).collect()
}

fn numbers(cleared: &Cleared) -> Vec<&str> {
    let numbers = cleared.numbers.iter();
    numbers
        .map(|number| number.as_deref().unwrap_or("-"))
        .collect()
}

#[test]
fn running_heads_and_numbers_are_removed_and_read() {
    let cleared = clear(vec![
        sheet(&[
            ("A title", 90.0),
            ("Lamps dim early.", 110.0),
            ("Moths rise.", 122.0),
        ]),
        sheet(&[
            ("114 Harrow", 40.0),
            ("They circle.", 90.0),
            ("Later they rest.", 102.0),
        ]),
        sheet(&[
            ("Night lamps 115", 40.0),
            ("Some feed.", 90.0),
            ("Few leave.", 102.0),
        ]),
        sheet(&[
            ("116 Harrow", 40.0),
            ("Others stay.", 90.0),
            ("All dim.", 102.0),
        ]),
    ]);
    assert_eq!(
        left(&cleared),
        [
            "A title Lamps dim early. Moths rise.",
            "They circle. Later they rest.",
            "Some feed. Few leave.",
            "Others stay. All dim."
        ]
    );
    assert_eq!(numbers(&cleared), ["113", "114", "115", "116"]);
    assert_eq!(cleared.seen, 3);
}

#[test]
fn what_only_looks_like_a_number_stays() {
    let cleared = clear(vec![
        sheet(&[
            ("In 1990 lamps", 90.0),
            ("were few.", 102.0),
            ("1990", 700.0),
        ]),
        sheet(&[
            ("By 2004 many", 90.0),
            ("were lit.", 102.0),
            ("2004", 700.0),
        ]),
        sheet(&[
            ("Then mix them", 90.0),
            ("with care.", 102.0),
            ("17", 700.0),
        ]),
    ]);
    assert_eq!(
        left(&cleared),
        [
            "In 1990 lamps were few. 1990",
            "By 2004 many were lit. 2004",
            "Then mix them with care. 17"
        ]
    );
    assert_eq!(numbers(&cleared), ["-", "-", "-"]);
}

#[test]
fn front_matter_counts_in_its_own_way() {
    let page = |number: &str, text: &str| {
        let more = format!("{} more text.", text.to_lowercase());
        sheet(&[(text, 90.0), (&more, 102.0), (number, 700.0)])
    };
    let cleared = clear(vec![
        page("iii", "Preface here"),
        page("iv", "It thanks"),
        page("v", "It ends"),
        page("1", "Lamps dim"),
        page("2", "Moths rise"),
        page("3", "Light fades"),
    ]);
    assert_eq!(numbers(&cleared), ["iii", "iv", "v", "1", "2", "3"]);
    assert!(
        left(&cleared)
            .iter()
            .all(|text| text.ends_with("more text."))
    );
}

#[test]
fn numbered_headings_and_what_stands_beside_them_stay() {
    // Headings on the top line of consecutive sheets, with the other column's line at the same height.
    let pages = [
        (
            "1 Lamps",
            "while moths rose again",
            "Lanes were dark until five",
        ),
        (
            "2 Methods",
            "and nobody counted them",
            "Cameras hung from every pole",
        ),
        (
            "3 Results",
            "so the campion waited",
            "Pugs tire before the carpets",
        ),
        (
            "4 Discussion",
            "but bryony had bees",
            "Councils ask the last bus",
        ),
    ];
    let sheets = |foot: bool| {
        let page = |(at, (heading, beside, below)): (usize, &(&str, &str, &str))| {
            let (top, number) = (format!("{heading} {beside}"), (41 + at).to_string());
            let mut rows = vec![(top.as_str(), 90.0), (below, 102.0)];
            if foot {
                rows.push((number.as_str(), 700.0));
            }
            sheet(&rows)
        };
        pages.iter().enumerate().map(page).collect::<Vec<_>>()
    };
    // Where pages are numbered, other numbers that increase are no page numbers, on however many sheets they stand.
    let cleared = clear(sheets(true));
    for (text, (heading, beside, below)) in left(&cleared).iter().zip(pages) {
        assert_eq!(*text, format!("{heading} {beside} {below}"));
    }
    assert_eq!(cleared.dropped, ["41", "42", "43", "44"]);
    // Without page numbers two are not enough.
    let cleared = clear(sheets(false).into_iter().skip(1).take(2).collect());
    assert_eq!(cleared.dropped, [""; 0]);
}

#[test]
fn a_heading_at_the_height_of_running_heads_stays() {
    let page = |head, first, second| sheet(&[(head, 40.0), (first, 90.0), (second, 102.0)]);
    let cleared = clear(vec![
        page("Annals of lamps", "One night", "the lane was dark."),
        page("Annals of lamps", "Two moths", "came to the campion."),
        page("Annals of lamps", "Three lamps", "burned until dawn."),
        page("Whose night is it", "Four keepers", "slept."),
    ]);
    assert_eq!(left(&cleared)[3], "Whose night is it Four keepers slept.");
    assert_eq!(cleared.dropped, ["Annals of lamps"; 3]);
}
