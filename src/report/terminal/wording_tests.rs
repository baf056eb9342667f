use super::*;
use crate::report::{Colours, Look};
use proptest::prelude::*;

/// Prints a wording of which the given words are marked.
fn printed(text: &str, marked: &[(&str, Counterpart)], width: usize, most: usize) -> String {
    let marks = marked.iter().map(|&(words, by)| {
        let start = text.find(words).unwrap();
        (ByteRange::of(start, start + words.len()), by)
    });
    let wording = Wording::new(text, ByteRange::of(0, text.len()), marks);
    let look = Look::new(width, Colours::Off);
    let mut out = Vec::new();
    wording
        .set(&look, most)
        .write(&mut Sheet::new(&mut out, &look), "draft")
        .unwrap();
    String::from_utf8(out).unwrap()
}

#[test]
fn marks_stand_below_their_words() {
    let shown = printed(
        "Pollen is transported less far\nwhere the lights stay on.",
        &[
            ("Pollen is", Counterpart::String),
            ("transported", Counterpart::Synonym),
            ("less far\nwhere the", Counterpart::String),
            ("stay", Counterpart::Stem),
        ],
        60,
        4,
    );
    let expected = "   draft   Pollen is transported less far where the lights\n           \
                    ========= ~~~~~~~~~~~ ==================\n           \
                    stay on.\n           ----\n";
    assert_eq!(shown, expected);
}

#[test]
fn wide_and_combined_characters_keep_the_marks_in_place() {
    let shown = printed(
        "夜の蛾 cafe\u{301} \u{202e}x moths",
        &[
            ("cafe\u{301}", Counterpart::String),
            ("moths", Counterpart::String),
        ],
        60,
        4,
    );
    let expected = "   draft   夜の蛾 cafe\u{301} \\u{202e}x moths\n           \
                    \u{20}      ====           =====\n";
    assert_eq!(shown, expected);
}

#[test]
fn long_wordings_lose_their_middle() {
    let text = (1..=90)
        .map(|n| format!("word{n:02}"))
        .collect::<Vec<_>>()
        .join(" ");
    let shown = printed(&text, &[], 60, 4);
    let expected = "   draft   word01 word02 word03 word04 word05 word06 word07\n           \
                    word08 word09 word10 word11 word12 word13 word14\n           \
                    [... 70 words left out ...]\n           \
                    word85 word86 word87 word88 word89 word90\n";
    assert_eq!(shown, expected);
}

#[test]
fn where_the_marks_are_in_the_middle_the_ends_are_left_out() {
    let text = (1..=90)
        .map(|n| format!("word{n:02}"))
        .collect::<Vec<_>>()
        .join(" ");
    let marked = [("word40 word41 word42 word43 word44", Counterpart::String)];
    let shown = printed(&text, &marked, 60, 4);
    let expected = "   draft   [... 35 words left out ...]\n           \
                    word36 word37 word38 word39 word40 word41 word42\n           \
                    \u{20}                           ====================\n           \
                    word43 word44 word45 word46 word47 word48 word49\n           \
                    =============\n           \
                    [... 41 words left out ...]\n";
    assert_eq!(shown, expected);
}

proptest! {
    #[test]
    fn any_text_and_any_marks_print_within_the_width(
        text in "[a-z \u{301}夜\u{1f469}\u{200d}\n\u{1b}]{0,300}",
        places in proptest::collection::vec((0usize..400, 0usize..60), 0..6),
        width in 60usize..=100,
        most in 0usize..6,
        whole in any::<bool>(),
    ) {
        let marks = places
            .into_iter()
            .map(|(start, length)| (ByteRange::of(start, start + length), Counterpart::String));
        let wording = Wording::new(&text, ByteRange::of(0, text.len()), marks);
        let look = Look::new(width, Colours::Off).in_whole(whole);
        let mut out = Vec::new();
        let set = wording.set(&look, most);
        set.write(&mut Sheet::new(&mut out, &look), "draft").unwrap();
        for line in String::from_utf8(out).unwrap().lines() {
            prop_assert!(line.width() <= width, "{} columns: {line:?}", line.width());
            prop_assert!(!line.chars().any(char::is_control));
        }
    }
}
