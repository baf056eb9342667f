use proptest::prelude::*;

use super::{Bare, Locator, locator_at};
use crate::text::PageLabel;

/// `Page 3,7-9`; an open end shows as `12-`.
fn shown(text: &str) -> String {
    let Some(locator) = Locator::parse(text) else {
        return "none".to_owned();
    };
    let stretch = |(first, last): &(String, String)| {
        if first == last {
            first.clone()
        } else {
            format!("{first}-{last}")
        }
    };
    let stretches: Vec<_> = locator.stretches.iter().map(stretch).collect();
    format!("{:?} {}", locator.unit, stretches.join(","))
}

#[test]
fn locators_are_read() {
    // APA 7 sections 8.13, 8.25 and 8.28; Chicago 17 section 9.61 for shortened ends (from memory).
    let cases = [
        ("p. 12", "Page 12"),
        ("p.12", "Page 12"),
        ("p 12", "Page 12"),
        ("P. 12", "Page 12"),
        ("p.\u{a0}12", "Page 12"),
        ("pp. 12–14", "Page 12-14"),
        ("pp. 12-4", "Page 12-14"),
        ("pp. 113–14", "Page 113-114"),
        ("pp. 1496–500", "Page 1496-1500"),
        ("pp. 100–04", "Page 100-104"),
        ("pp. 199–01", "Page 199-201"),
        ("pp. 12 – 14", "Page 12-14"),
        ("pp. 12--14", "Page 12-14"),
        ("pp. 3, 7–9", "Page 3,7-9"),
        ("pp. 3, 7–9, and 12", "Page 3,7-9,12"),
        ("pp. 3 & 7", "Page 3,7"),
        ("p. 1,203", "Page 1203"),
        ("pp. 1,203–8", "Page 1203-1208"),
        ("pp. xii–xv", "Page xii-xv"),
        ("p. xiv", "Page xiv"),
        ("pp. S12–14", "Page S12-S14"),
        ("p. A-3", "Page A-3"),
        ("p. e0142", "Page e0142"),
        ("p. 12a", "Page 12a"),
        ("p. 12n3", "Page 12"),
        ("p. 12f.", "Page 12-13"),
        ("pp. 12ff.", "Page 12-"),
        ("S. 12 ff.", "Page 12-"),
        ("S. 12", "Page 12"),
        ("s. 12", "Section 12"),
        ("45", "Page 45"),
        ("45-47", "Page 45-47"),
        ("xii", "Page xii"),
        ("12:45-47", "Page 45-47"),
        ("2:345", "Page 345"),
        ("0:24", "Other 0:24"),
        ("1:12:30", "Other 1:12:30"),
        ("para. 4", "Paragraph 4"),
        ("paras. 4–5", "Paragraph 4-5"),
        ("¶ 4", "Paragraph 4"),
        ("¶¶ 4–5", "Paragraph 4-5"),
        ("chap. 3", "Chapter 3"),
        ("ch. 3", "Chapter 3"),
        ("Chapter IV", "Chapter IV"),
        ("sec. 2.1", "Section 2.1"),
        ("§ 2", "Section 2"),
        ("§§ 2-4", "Section 2-4"),
        ("Table 2", "Other 2"),
        ("Fig. 3a", "Other 3a"),
        ("Figure A1", "Other A1"),
        ("n. 4", "Other 4"),
        ("ll. 10–12", "Other 10-12"),
        ("chap. 3, p. 12", "Page 12"),
        ("p. 12, Fig. 3", "Page 12"),
        ("vol. 2, pp. 40–41", "Page 40-41"),
        ("chiefly", "none"),
        ("", "none"),
        ("p.", "none"),
        ("p. of", "none"),
        ("12 sites", "none"),
        ("12%", "none"),
        ("mix", "none"),
        ("p. 3, 2015", "none"),
        ("1234567890", "none"),
        ("12 p.", "none"),
        ("ixi", "none"),
    ];
    for (text, expected) in cases {
        assert_eq!(shown(text), expected, "{text}");
    }
}

#[test]
fn the_words_stay() {
    let (locator, end) = locator_at("pp. 113–14, emphasis added", Bare::None).unwrap();
    assert_eq!(locator.to_string(), "pp. 113–14");
    assert_eq!(end, "pp. 113–14".len());
}

#[test]
fn coverage() {
    // locator, first page, last page, covered
    let cases = [
        ("p. 12", "12", "12", true),
        ("p. 12", "12", "13", false),
        ("p. 12", "13", "13", false),
        ("pp. 12–14", "13", "14", true),
        ("pp. 12–14", "14", "15", false),
        ("pp. 12-4", "13", "14", true),
        ("pp. 3–4, 5", "4", "5", true),
        ("pp. 3, 5", "3", "5", false),
        ("pp. 12ff.", "13", "15", true),
        ("pp. 12ff.", "11", "12", false),
        ("p. 12f.", "12", "13", true),
        ("pp. viii–x", "ix", "ix", true),
        ("pp. viii–x", "IX", "X", true),
        ("pp. viii–x", "9", "9", false),
        ("p. 12", "xii", "xii", false),
        ("pp. S9–S12", "S10", "S11", true),
        ("pp. S9–S12", "T10", "T10", false),
        ("pp. xvi, 1", "xvi", "1", true),
        ("p. xvi", "xvi", "1", false),
        ("p. 12a", "12A", "12A", true),
        ("pp. 14–12", "13", "13", true),
        ("para. 12", "12", "12", false),
    ];
    for (text, first, last, expected) in cases {
        let locator = Locator::parse(text).unwrap();
        let covered = locator.pages_cover(&PageLabel::new(first), &PageLabel::new(last));
        assert_eq!(covered, expected, "{text} over {first} to {last}");
    }
}

proptest! {
    #[test]
    fn any_string_is_read_or_refused(text in "(?s).{0,60}") {
        if let Some((locator, end)) = locator_at(&text, Bare::Pages) {
            prop_assert_eq!(text.get(..end), Some(locator.written.as_str()));
            prop_assert!(!locator.stretches.is_empty());
        }
    }

    #[test]
    fn likely_strings_are_read_or_refused(
        text in "(pp?\\. ?|§ |vol\\. |S\\. )?[0-9ivxSA]{1,8}([-–,: ]{0,2}[0-9fxv]{1,8}){0,4}\\.?",
    ) {
        if let Some((locator, end)) = locator_at(&text, Bare::Pages) {
            prop_assert_eq!(text.get(..end), Some(locator.written.as_str()));
        }
    }

    /// A range written out in full covers the pages between, however the end was shortened.
    #[test]
    fn shortened_ends_mean_the_same(from in 1_u32..5000, length in 0_u32..90) {
        let to = from + length;
        let long = Locator::parse(&format!("pp. {from}–{to}")).unwrap();
        let (first, last) = (from.to_string(), to.to_string());
        let common = first.chars().zip(last.chars()).take_while(|(a, b)| a == b).count();
        let kept = if first.len() == last.len() { common.min(last.len() - 1) } else { 0 };
        let short = Locator::parse(&format!("pp. {from}–{}", last.get(kept..).unwrap())).unwrap();
        prop_assert_eq!(&long.stretches, &short.stretches);
        prop_assert!(short.pages_cover(&PageLabel::new(&first), &PageLabel::new(&last)));
        let beyond = PageLabel::new(&(to + 1).to_string());
        prop_assert!(!short.pages_cover(&PageLabel::new(&first), &beyond));
    }
}
