use super::super::lexicon::Counted;
use super::*;
use crate::text::{MarkedText, Text};

const SOURCE: &str = "Moths that circled the lamps of the quarry road carried less pollen to the campion \
    than moths from the dark side of the valley.";

/// How likely each text rewords the source.
fn likeness(texts: &[&str]) -> Vec<Likeness> {
    likeness_to(SOURCE, texts)
}

fn likeness_to(source: &str, texts: &[&str]) -> Vec<Likeness> {
    let marked: Vec<MarkedText> = [source]
        .iter()
        .chain(texts)
        .map(|text| MarkedText::source(Text::paragraph(text)))
        .collect();
    let all: Vec<&MarkedText> = marked.iter().collect();
    let mut lexicon = Lexicon::default();
    let forms = lexicon.intern_all(&all, Counted::Yes);
    let stretch = |forms: &Vec<FormId>| WeighedWords::new(forms, |_| false, &lexicon);
    let source = stretch(&forms[0]);
    forms[1..]
        .iter()
        .map(|forms| Likeness::of(&stretch(forms), &source))
        .collect()
}

#[test]
fn the_further_from_the_source_the_less_likely() {
    let ladder = likeness(&[
        SOURCE,
        "Moths that circled the lamps of the quarry road brought less pollen to the campion than moths from the dark \
         side of the valley.",
        "Moths circling lamps along the quarry road brought the campion less pollen than those from the valley's \
         dark side.",
        "Less pollen reached the campion by moths from the lit road than by those from the dark part of the valley.",
        "The council voted in autumn to widen the bridge and to pay for it by a levy on carts.",
    ]);
    let nats: Vec<f32> = ladder.iter().map(Likeness::nats).collect();
    assert!(nats.is_sorted_by(|a, b| a > b), "{nats:?}");
    assert!(nats[3] > 10.0 && nats[4] < -5.0, "{nats:?}");
}

#[test]
fn a_synonym_is_likelier_than_another_word() {
    let near = |one: &str, other: &str| crate::wording::synonyms::nearness(one, other);
    assert_eq!(near("begin", "start"), Some(Nearness::SameSense));
    assert_eq!(near("cottag", "hous"), Some(Nearness::OneHop));
    let nats: Vec<f32> = likeness_to(
        "The keeper began the count behind the cottage at noon.",
        &[
            "The keeper began the count behind the cottage at noon.",
            "The keeper started the count behind the cottage at noon.",
            "The keeper painted the count behind the cottage at noon.",
            // One step away.
            "The keeper began the count behind the house at noon.",
            "The keeper began the count behind the bread at noon.",
        ],
    )
    .iter()
    .map(Likeness::nats)
    .collect();
    assert!(nats[0] > nats[1] && nats[1] > nats[2] + 0.5, "{nats:?}");
    assert!(nats[0] > nats[3] && nats[3] > nats[4] + 0.5, "{nats:?}");
}

#[test]
fn what_only_one_side_has_counts_against_it() {
    let [whole, part] = likeness(&[
        SOURCE,
        "Moths carried less pollen. The council voted in autumn to widen the bridge and to pay for it by a levy on \
         carts, and nobody spoke against it.",
    ])[..] else {
        panic!("two texts")
    };
    assert!(whole.forth > part.forth && whole.back > part.back);
    // The sentence about the council is not in the source: it counts against the draft, not against the
    // source.
    assert!(part.forth < part.back);
}

#[test]
fn fixed_words_neither_gain_nor_lose() {
    let text = MarkedText::source(Text::paragraph(SOURCE));
    let mut lexicon = Lexicon::default();
    let forms = lexicon.intern_all(&[&text], Counted::Yes).remove(0);
    let free = WeighedWords::new(&forms, |_| false, &lexicon);
    let fixed = WeighedWords::new(&forms, |_| true, &lexicon);
    let likeness = Likeness::of(&fixed, &free);
    assert!(likeness.forth.max(likeness.back) <= 0.0, "{likeness:?}");
    assert!(likeness.weight == 0.0);
}

#[test]
fn long_stretches_are_cut_and_nothing_is_lost() {
    let words: Vec<String> = (0..900).map(|number| format!("word{number}")).collect();
    let text = MarkedText::source(Text::paragraph(&words.join(" ")));
    let mut lexicon = Lexicon::default();
    let forms = lexicon.intern_all(&[&text], Counted::Yes).remove(0);
    let whole = WeighedWords::new(&forms, |_| false, &lexicon);
    let likeness = Likeness::of(&whole, &whole);
    assert!(likeness.forth > 0.5 * likeness.weight, "{likeness:?}");
}

#[test]
fn a_long_stretch_has_to_show_more_up_to_a_limit() {
    let heavier = |weight: f32| value(20.0, weight, weight - 50.0);
    assert!(heavier(60.0) > heavier(100.0) && heavier(100.0) > heavier(180.0));
    assert_eq!(heavier(300.0), heavier(900.0));
    // Whichever of the two is the heavier one counts.
    assert_eq!(value(20.0, 60.0, 120.0), value(20.0, 120.0, 60.0));
}

#[test]
fn empty_stretches_are_not_an_error() {
    let empty = WeighedWords::default();
    let likeness = Likeness::of(&empty, &empty);
    assert!(likeness.nats() == 0.0 && sureness(value(likeness.nats(), 0.0, 0.0)) < 0.5);
}
