//! Cases at the edges of the rules: each was once told wrongly, or not at all.

use crate::common::{OWN, Review};

const COPIED: &str = "Under the burning lamp the campion received one visit for every four that it received in the dark";

const RESTRUCTURED: &str = "Bryony tells a gardener nothing about lamps, because daytime bees make good whatever \
    the moths of the lane neglect; campion, with no second customer to rely on, is the plant of the hedge to be \
    asked, and there the seeds were down by a third";

fn draft(sentence: &str) -> String {
    format!("{OWN} {sentence}\n\n{OWN}\n")
}

#[test]
fn shouted_words_are_no_names() {
    let checked = Review::of_two().check(&draft(&format!("{}.", COPIED.to_uppercase())));
    checked.assert_kinds(&["unmarked-copy"]);
}

#[test]
fn a_citation_that_points_nowhere_is_not_credit_elsewhere() {
    let review = Review::of_two();
    let uncredited = review.check(&draft(&format!("{RESTRUCTURED}.")));
    uncredited.assert_kinds(&["uncredited-paraphrase"]);
    let misspelt = review.check(&draft(&format!("{RESTRUCTURED} (Harow, 2019).")));
    misspelt.assert_kinds(&["cited-not-listed"]);
}

#[test]
fn a_quotation_wholly_in_brackets_is_not_silent() {
    let checked = Review::of_two().check(&draft(&format!("They wrote: \"[{COPIED}]\".")));
    checked.assert_kinds(&["quotation-without-credit"]);
}

#[test]
fn a_heading_in_quotation_marks_is_no_quotation() {
    let heading = format!("# \"{COPIED}\"\n\n{OWN}\n");
    Review::of_two().check(&heading).assert_silent();
}

#[test]
fn words_left_out_between_make_no_verbatim_copy() {
    let dropped =
        "Under the lamp the campion received one visit for four that it received in the dark";
    let checked = Review::of_two().check(&draft(&format!("{dropped}.")));
    let [finding] = checked.findings() else {
        panic!("{:#?}", checked.brief())
    };
    assert_eq!(finding["degree"], "near copy", "{:#?}", checked.brief());
}

#[test]
fn words_swapped_within_the_frame_are_no_heavy_revision() {
    let swapped = "A gardener watching bryony alone would call lamps harmless. Whoever wishes to learn what lamps \
        do to hedges must ask a plant with no other client.";
    let checked = Review::of_two().check(&draft(swapped));
    let [finding] = checked.findings() else {
        panic!("{:#?}", checked.brief())
    };
    assert_eq!(
        finding["degree"],
        "light revision",
        "{:#?}",
        checked.brief()
    );
}

#[test]
fn passages_stay_within_their_paragraphs() {
    let two = format!(
        "{OWN}\n\n{COPIED}.\n\nThe drop was steepest for the small carpets and pugs, which weigh less than a grain of rice and tire soon.\n"
    );
    let checked = Review::of_two().check(&two);
    checked.assert_kinds(&["unmarked-copy", "unmarked-copy"]);
}
