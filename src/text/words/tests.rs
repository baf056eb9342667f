use proptest::prelude::*;

use super::*;
use crate::text::{Block, Origin, PageLabel, PageStart, Pages};

fn is_word(form: &str) -> bool {
    let known = [
        "well", "known", "in", "deed", "indeed", "night", "part", "long", "term", "a", "light",
    ];
    known.contains(&form)
}

#[track_caller]
fn assert_words(content: &str, expected: &[&str]) {
    let text = Text::paragraph(content);
    let found = words_with(&text, is_word);
    let found: Vec<&str> = found.iter().map(|word| text.slice(*word)).collect();
    assert_eq!(found, expected, "in {content:?}");
}

#[test]
fn words_by_case() {
    let cases: &[(&str, &[&str])] = &[
        ("", &[]),
        (" \n ... -- ", &[]),
        ("Moths fly.", &["Moths", "fly"]),
        ("don't, moths' wings", &["don't", "moths", "wings"]),
        ("don’t, moths’ wings", &["don’t", "moths", "wings"]),
        ("the '90s", &["the", "90s"]),
        ("part-night lighting", &["part", "night", "lighting"]),
        ("lamps—moths–plants", &["lamps", "moths", "plants"]),
        (
            "1,203 moths, 3.5 lux, 1, 2",
            &["1,203", "moths", "3.5", "lux", "1", "2"],
        ),
        ("see p.12 or 12:30", &["see", "p", "12", "or", "12", "30"]),
        (
            "e.g. the U.S. and Ph.D. work",
            &["e.g", "the", "U.S", "and", "Ph.D", "work"],
        ),
        ("the lamps.However, it", &["the", "lamps", "However", "it"]),
        (
            "the\u{202F}lamps 1\u{202F}203",
            &["the", "lamps", "1\u{202F}203"],
        ),
        (
            "_glow_ and __glow__ snake_case",
            &["glow", "and", "glow", "snake", "case"],
        ),
        ("lamps:moths é:é", &["lamps", "moths", "é", "é"]),
        ("café_noir naïve", &["café", "noir", "naïve"]),
        ("“glow”—so-called", &["glow", "so", "called"]),
        (
            "li\u{AD}ght li\u{200D}ght li\u{200B}ght \u{FEFF}x",
            &["li\u{AD}ght", "li\u{200D}ght", "li\u{200B}ght", "x"],
        ),
        (
            "cafe\u{301} e\u{301}te\u{301}",
            &["cafe\u{301}", "e\u{301}te\u{301}"],
        ),
        ("光害 glow", &["光", "害", "glow"]),
        ("свет и тьма", &["свет", "и", "тьма"]),
        // Broken at a line end.
        ("light-\ning", &["light-\ning"]),
        ("light-\r\n  ing", &["light-\r\n  ing"]),
        ("light- \ning", &["light- \ning"]),
        ("light‐\ning", &["light‐\ning"]),
        ("li\u{AD}\nght", &["li\u{AD}\nght"]),
        ("in\u{AD}\nlong", &["in\u{AD}\nlong"]),
        ("in-\ndeed", &["in-\ndeed"]),
        ("il-\nlumi-\nnated now", &["il-\nlumi-\nnated", "now"]),
        // Not broken: a compound, a name, a dash, a number, a blank line.
        ("well-\nknown", &["well", "known"]),
        ("long-\nterm", &["long", "term"]),
        ("Harrow-\nLindqvist", &["Harrow", "Lindqvist"]),
        ("light--\ning", &["light", "ing"]),
        ("light -\ning", &["light", "ing"]),
        ("light—\ning", &["light", "ing"]),
        ("1990-\nbased", &["1990", "based"]),
        ("light-\n\ning", &["light", "ing"]),
        ("light-\n“ing”", &["light", "ing"]),
    ];
    for (content, expected) in cases {
        assert_words(content, expected);
    }
}

#[test]
fn bare_words_are_runs_of_letters_and_digits() {
    let words = |text| -> Vec<&str> { bare_words(text).collect() };
    assert_eq!(
        words("“Don’t”, 3.5 é-à _x_"),
        ["Don", "t", "3", "5", "é", "à", "x"]
    );
    assert_eq!(words(" – "), [""; 0]);
    assert_eq!(bare_words("a, b!").next_back(), Some("b"));
}

#[test]
fn without_a_dictionary_parts_are_joined() {
    let text = Text::paragraph("night-\ntime");
    assert_eq!(words(&text).len(), 1);
}

#[test]
fn no_words_in_page_marks_and_code_and_outside_blocks() {
    let content = "one [p. 7] two\n\nlet x\n\nlost\n\nthree-\n[p. 8]\nfour";
    let block = |kind, part: &str| {
        let start = content.find(part).unwrap();
        Block {
            kind,
            range: ByteRange::of(start, start + part.len()),
        }
    };
    let page = |part: &str| PageStart {
        label: PageLabel::new("7"),
        mark: block(BlockKind::Paragraph, part).range,
    };
    let text = Text::new(
        content.to_owned(),
        vec![
            block(BlockKind::Paragraph, "one [p. 7] two"),
            block(BlockKind::Code, "let x"),
            block(BlockKind::Paragraph, "three-\n[p. 8]\nfour"),
        ],
        Pages::new(vec![page("[p. 7]"), page("[p. 8]")]),
        Origin::Same { skipped: 0 },
    );
    let found: Vec<&str> = words(&text).iter().map(|word| text.slice(*word)).collect();
    assert_eq!(found, ["one", "two", "three", "four"]);
}

#[test]
fn overlapping_blocks_give_each_word_once() {
    let block = |start, end| Block {
        kind: BlockKind::Paragraph,
        range: ByteRange::new(start, end),
    };
    let text = Text::new(
        "one two three".to_owned(),
        vec![block(0, 13), block(4, 7), block(4, 13)],
        Pages::default(),
        Origin::Recoded,
    );
    assert_eq!(words(&text).len(), 3);
}

/// Text in which the characters that matter to word boundaries are frequent.
fn tricky() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        4 => "[a-zA-Z]{1,4}",
        2 => "[0-9]{1,3}",
        3 => "[ \t\n\r\x0B\x0C]{1,2}",
        4 => "[-_.,;:'\"!?()]",
        3 => "[’‘“”–—…·é\u{301}\u{345}\u{AD}\u{200B}\u{200C}\u{200D}\u{FEFF}\u{2003}\u{3000}]",
        1 => "[א\"שアカ光ä😀🇩🇪👩٣،]",
        1 => any::<char>().prop_map(String::from),
    ];
    prop::collection::vec(piece, 0..40).prop_map(|parts| parts.concat())
}

fn by_unicode(content: &str) -> Vec<ByteRange> {
    content
        .unicode_word_indices()
        .map(|(start, word)| {
            let blank = word.len() - word.trim_start().len();
            ByteRange::of(start + blank, start + word.len())
        })
        .collect()
}

fn scanned<const DEPART: bool>(content: &str) -> Vec<ByteRange> {
    let mut found = Vec::new();
    scan::<DEPART>(content, ByteRange::of(0, content.len()), &mut found);
    found
}

/// The departures, said a second time and slowly: all of Unicode's words, cut and joined.
fn departing(content: &str) -> Vec<ByteRange> {
    let mut found: Vec<ByteRange> = Vec::new();
    for word in by_unicode(content) {
        let chars: Vec<(usize, char)> = content[word.as_range()].char_indices().collect();
        let mut part: Option<ByteRange> = None;
        let mut parts = Vec::new();
        for (index, (offset, c)) in chars.iter().enumerate() {
            let at = |index: usize| chars.get(index).map_or(' ', |(_, c)| *c);
            let lost = *c == '.'
                && index > 0
                && at(index - 1).is_ascii_lowercase()
                && at(index + 1).is_ascii_uppercase()
                && at(index + 2).is_ascii_lowercase();
            if *c == '_' || *c == ':' || lost {
                parts.extend(part.take());
            } else {
                let start = word.start() + offset;
                let this = ByteRange::of(start, start + c.len_utf8());
                part = Some(part.map_or(this, |part| part.hull(this)));
            }
        }
        parts.extend(part);
        parts.retain(|part| content[part.as_range()].chars().any(char::is_alphanumeric));
        for part in parts {
            let gap = found.last().map(|last| &content[last.end()..part.start()]);
            match gap {
                Some(gap) if !gap.is_empty() && gap.chars().all(|c| c == '\u{200B}') => {
                    let last = found.last_mut().unwrap();
                    *last = last.hull(part);
                }
                _ => found.push(part),
            }
        }
    }
    found
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_short_way_is_the_way_of_unicode(content in tricky()) {
        prop_assert_eq!(scanned::<false>(&content), by_unicode(&content));
    }

    #[test]
    fn any_text_at_all(content in any::<String>()) {
        prop_assert_eq!(scanned::<false>(&content), by_unicode(&content));
    }

    #[test]
    fn departures_are_the_stated_ones(content in tricky()) {
        prop_assert_eq!(scanned::<true>(&content), departing(&content));
    }

    #[test]
    fn words_are_sorted_disjoint_and_hold_a_letter_or_digit(content in tricky()) {
        let text = Text::paragraph(&content);
        let found = words(&text);
        prop_assert!(found.windows(2).all(|pair| pair[0].end() <= pair[1].start()));
        for word in found {
            let slice = content.get(word.as_range());
            prop_assert!(slice.is_some_and(|word| word.chars().any(char::is_alphanumeric)));
        }
    }
}
