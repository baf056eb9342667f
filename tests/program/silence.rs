//! Where wording tells and where it doesn't: words that are shared in another order, and what is alike in texts that
//! owe each other nothing.

use crate::common::{OWN, QUILL_REFERENCE, Review};

/// A review whose one source says this among other things.
fn with(said: &str) -> Review {
    let source = format!(
        "[p. 9]\n\nThe lantern stood by the weir all winter and nobody asked who had paid for it.\n\n{said}\n\n\
         In spring it was taken down, and the bats came back within the week.\n"
    );
    Review::new()
        .reference(QUILL_REFERENCE)
        .source("quill2016.txt", source)
}

#[test]
fn words_in_another_order_show_their_source() {
    let review = with(
        "Beaver dams delay a flood but do not prevent it. While the ponds fill, the peak is held back by several hours; once \
         they are full, the water passes as if no dam were there. In a wet month the ponds are always full. The effect on floods \
         is consequently greatest in late summer, when few floods occur, and smallest in February, when most of them do.",
    );
    let reordered = "In late summer a beaver pond has room for water, and a peak would be delayed by hours, if there were one. \
         The floods, however, come in February. After a wet month no pond has room left, the river passes each dam as if it \
         had never been built, and nothing is held back. For prevention, therefore, the effect is of no use.";
    let checked = review.check(&format!("{OWN}\n\n{reordered}\n\n{OWN}\n"));
    checked.assert_kinds(&["uncredited-paraphrase"]);
    assert_eq!(checked.findings()[0]["degree"], "heavy revision");
    // Another author on the topic.
    let independent = "Reintroduced beavers raised the water table along four of the five streams that were monitored. Peak flows \
         downstream fell by between ten and thirty per cent, but the records cover six years only and contain no flood of \
         the size for which defences are designed.";
    review
        .check(&format!("{OWN}\n\n{independent}\n\n{OWN}\n"))
        .assert_silent();
}

#[test]
fn a_phrase_of_common_words_is_explained() {
    let review = with("At noon she went out to the back of the house with her tables.");
    let checked = review.check(&format!(
        "{OWN} Nobody walks out to the back of the house, it seems.\n"
    ));
    checked.assert_silent();
    let explained = checked.explained();
    assert!(
        explained.iter().any(|why| why.contains("common words")),
        "{explained:?}"
    );
    // As many words that tell are a copy.
    let review = with("The heron swallowed eleven startled newts beside the weir.");
    review
        .check(&format!(
            "{OWN} There the heron swallowed eleven startled newts beside her, and left.\n"
        ))
        .assert_kinds(&["unmarked-copy"]);
}

#[test]
fn a_list_shows_no_source() {
    let listed = "There were oak, ash, elm, lime, hornbeam, willow and alder.";
    let review = with(listed);
    review
        .check(&format!(
            "{OWN} He planted alder, willow, hornbeam, elm, ash, lime and oak.\n"
        ))
        .assert_silent();
    // Taken over in its order it is a copy all the same.
    review
        .check(&format!(
            "{OWN} He planted oak, ash, elm, lime, hornbeam, willow and alder.\n"
        ))
        .assert_kinds(&["unmarked-copy"]);
}

#[test]
fn an_everyday_phrase_in_quotation_marks_is_tied_to_no_source() {
    let review = with("He told us that this was the best of all the days in the year.");
    let checked = review.check(&format!(
        "{OWN} People call it \"the best of all the days\" there.\n"
    ));
    checked.assert_kinds(&["quotation-without-credit"]);
    assert!(checked.findings()[0]["source"].is_null());
    let review = with("He told us that herons swallow startled newts by moonlight.");
    let checked = review.check(&format!(
        "{OWN} There \"herons swallow startled newts by moonlight\" always.\n"
    ));
    assert_eq!(checked.findings()[0]["source"]["key"], "quill2016");
}
