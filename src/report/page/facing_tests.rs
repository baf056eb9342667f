use super::*;
use crate::report::samples;
use proptest::prelude::*;

/// The upper and the lower line of a row, read on.
fn lines(parts: &[Part]) -> (String, String) {
    let (mut above, mut below) = (Vec::new(), Vec::new());
    for part in parts {
        match part {
            Part::Pair { source, draft, .. } => {
                above.extend(source.iter().cloned());
                below.extend(draft.iter().cloned());
            }
            Part::Between { source, draft } => {
                above.extend(source.iter().flat_map(|piece| piece.words.clone()));
                below.extend(draft.iter().flat_map(|piece| piece.words.clone()));
            }
        }
    }
    (above.join(" "), below.join(" "))
}

fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn both_lines_read_on_as_their_texts() {
    let finding = samples::close_paraphrase();
    let parts = facing(&finding).unwrap();
    let (above, below) = lines(&parts);
    assert_eq!(above, words(&finding.source.as_ref().unwrap().text));
    assert_eq!(below, words(&finding.draft.text));
    assert_eq!(
        swapped(&parts),
        [("carried", "transported"), ("lamps", "lights")]
            .map(|(one, other)| (one.to_owned(), other.to_owned()))
    );
    assert!(moved(&parts).is_empty());
}

/// A finding of two wordings with the given stretches shared.
fn finding(draft: &str, source: &str, shared: &[(&str, &str)]) -> Finding {
    let mut finding = samples::close_paraphrase();
    finding.draft = samples::draft_place(draft, 1, 100);
    let place = finding.source.as_mut().unwrap();
    place.text = source.to_owned();
    place.range = ByteRange::of(900, 900 + source.len());
    let range = |text: &str, words: &str, start| {
        let at = start + text.find(words).unwrap();
        ByteRange::of(at, at + words.len())
    };
    finding.evidence.shared = shared
        .iter()
        .map(|(ours, theirs)| SharedPlace {
            draft: range(draft, ours, 100),
            source: range(source, theirs, 900),
            by: Counterpart::String,
        })
        .collect();
    finding
}

#[test]
fn a_clause_moved_to_the_front_is_moved_not_the_rest() {
    let finding = finding(
        "“Below the lamps” the small moths of the lane went round until it was morning.",
        "The small moths of the lane went round until morning, below the lamps.",
        &[
            ("Below the lamps", "below the lamps"),
            (
                "the small moths of the lane went round until",
                "The small moths of the lane went round until",
            ),
            ("morning", "morning"),
        ],
    );
    let parts = facing(&finding).unwrap();
    assert_eq!(moved(&parts), ["Below the lamps"]);
    let (above, below) = lines(&parts);
    assert_eq!(above, finding.source.as_ref().unwrap().text);
    assert_eq!(below, finding.draft.text);
    let letters: Vec<Option<usize>> = parts
        .iter()
        .flat_map(|part| match part {
            Part::Between { source, draft } => [source.clone(), draft.clone()].concat(),
            Part::Pair { .. } => Vec::new(),
        })
        .map(|piece| piece.moved)
        .collect();
    // Once in the draft's line, once in the source's, and the two words put in.
    assert_eq!(letters, [Some(0), None, Some(0)]);
}

#[test]
fn words_cut_otherwise_share_a_column() {
    let finding = finding(
        "part-night light",
        "part night light",
        &[("part-night light", "part night light")],
    );
    let parts = facing(&finding).unwrap();
    let expected = Part::Pair {
        by: Counterpart::String,
        source: vec!["part night light".to_owned()],
        draft: vec!["part-night light".to_owned()],
    };
    assert_eq!(parts, [expected]);
}

#[test]
fn a_quotation_faces_its_source_word_by_word() {
    let parts = facing(&samples::altered_quotation()).unwrap();
    let (above, below) = lines(&parts);
    assert_eq!(above, "they circle until the light fails");
    assert_eq!(below, "“they circle until the light is gone”");
    assert!(matches!(&parts[0], Part::Pair { draft, .. } if draft.len() == 5));
    assert!(matches!(&parts[1], Part::Between { draft, .. } if draft[0].words.len() == 2));
}

#[test]
fn letters_go_round() {
    let shown: Vec<String> = [0, 25, 26, 53].map(letter).into();
    assert_eq!(shown, ["a", "z", "a2", "b3"]);
}

proptest! {
    #[test]
    fn any_places_are_no_trouble(
        draft in "[a-c é,.“ \n\u{202e}]{0,60}",
        source in "[a-c é,.“ \n<]{0,60}",
        places in proptest::collection::vec((0usize..70, 0usize..9, 0usize..70, 0usize..9), 0..6),
    ) {
        let mut finding = finding(&draft, &source, &[]);
        let mut at = 0;
        for (skip, length, from, source_length) in places {
            let start = at + skip;
            at = start + length;
            finding.evidence.shared.push(SharedPlace {
                draft: ByteRange::of(100 + start, 100 + at),
                source: ByteRange::of(900 + from, 900 + from + source_length),
                by: Counterpart::Form,
            });
        }
        let parts = facing(&finding).unwrap_or_default();
        let (above, below) = lines(&parts);
        let harmful = (above + &below).contains('\u{202e}');
        prop_assert!(!harmful);
    }

    #[test]
    fn both_lines_always_read_on_as_their_texts(
        (order, lengths) in (1usize..9).prop_flat_map(|count| {
            let order = Just((0..count).collect::<Vec<_>>()).prop_shuffle();
            (order, proptest::collection::vec((0usize..3, 1usize..4), count))
        }),
        marks in proptest::collection::vec("[,.;]?", 60),
    ) {
        // Each stretch is a few words of its own, with words of no account before it.
        let stretch = |number: usize| -> Vec<String> {
            (0..lengths[number].1).map(|at| format!("w{number}x{at}")).collect()
        };
        let laid = |order: &[usize], side: &str| {
            let mut text = String::new();
            let mut places = vec![ByteRange::default(); order.len()];
            let mut marks = marks.iter();
            for number in order {
                for at in 0..lengths[*number].0 {
                    text.push_str(&format!("{side}{at}{} ", marks.next().unwrap()));
                }
                let from = text.len();
                text.push_str(&stretch(*number).join(" "));
                places[*number] = ByteRange::of(from, text.len());
                text.push_str(&format!("{} ", marks.next().unwrap()));
            }
            (text.trim_end().to_owned(), places)
        };
        let in_order: Vec<usize> = (0..order.len()).collect();
        let (draft, ours) = laid(&in_order, "d");
        let (source, theirs) = laid(&order, "s");
        let mut finding = finding(&draft, &source, &[]);
        finding.evidence.shared = ours
            .iter()
            .zip(&theirs)
            .map(|(ours, theirs)| SharedPlace {
                draft: ByteRange::of(100 + ours.start(), 100 + ours.end()),
                source: ByteRange::of(900 + theirs.start(), 900 + theirs.end()),
                by: Counterpart::String,
            })
            .collect();
        let parts = facing(&finding).unwrap();
        let (above, below) = lines(&parts);
        prop_assert_eq!(above, source);
        prop_assert_eq!(below, draft);
    }
}
