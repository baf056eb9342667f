//! What is no finding, line by line of the list in `ownwords explain explained`. Each line is shown twice: with the
//! condition that protects the passage, and without it, so that the silence means something.

use crate::common::{HARROW, OWN, QUILL_REFERENCE, Review};

/// A sentence of the source on p. 113.
const COPIED: &str = "Under the burning lamp the campion received one visit for every four that it received in the dark";

#[test]
fn a_quotation_with_credit_and_locator() {
    let review = Review::of_two();
    review
        .check(&format!(
            "{OWN} Harrow puts it in a number: \"{COPIED}\" (Harrow, 2019, p. 113)."
        ))
        .assert_silent();
    review
        .check(&format!(
            "{OWN} Harrow puts it in a number: {COPIED} (Harrow, 2019, p. 113)."
        ))
        .assert_kinds(&["unmarked-copy"]);
    review
        .check(&format!(
            "{OWN} Harrow puts it in a number: \"{COPIED}\" (Harrow, 2019)."
        ))
        .assert_kinds(&["quotation-without-page"]);
    review
        .check(&format!("{OWN} It was put in a number: \"{COPIED}\"."))
        .assert_kinds(&["quotation-without-credit"]);
}

#[test]
fn a_block_quotation_with_credit_and_locator() {
    let review = Review::of_two();
    let quoted =
        format!("{OWN} Harrow puts it in a number:\n\n> {COPIED}. (Harrow, 2019, p. 113)\n\n{OWN}");
    review.check(&quoted).assert_silent();
    review
        .check(&quoted.replace("> ", ""))
        .assert_kinds(&["unmarked-copy"]);
}

#[test]
fn a_reference_list() {
    let imprint =
        "Printed for the Wardens of the Unlit Lane by a friend of moths in the lower mill";
    let review = Review::new().reference(QUILL_REFERENCE).source(
        "quill2016.txt",
        format!("The long blink is a book of few words. {imprint}, it says on the last leaf."),
    );
    let line = format!("Quill, B. (2016). The long blink. {imprint}.");
    let listed =
        format!("{OWN} Others looked at people (Quill, 2016).\n\n## References\n\n{line}\n");
    review.check(&listed).assert_silent();
    review
        .check(&format!(
            "{OWN} Others looked at people (Quill, 2016). {imprint}, the book came late.\n"
        ))
        .assert_kinds(&["unmarked-copy"]);
}

#[test]
fn a_heading() {
    let review = Review::of_two();
    let words = "Moths that came near turned towards the lantern within a few wingbeats";
    review
        .check(&format!("# {words}\n\n{OWN}\n"))
        .assert_silent();
    review
        .check(&format!("{words}.\n\n{OWN}\n"))
        .assert_kinds(&["unmarked-copy"]);
}

#[test]
fn a_title_inside_a_run() {
    let title = "Whoever lights a lane must answer for the hedge beside it";
    let source = format!(
        "Everything written since leans on {title}, which is out of print. No shop has a copy."
    );
    let draft = format!("{OWN} My teacher gave me {title} to read. {OWN}");
    let listed = |title: &str| {
        Review::new()
            .reference(QUILL_REFERENCE)
            .reference(&format!(
                "@book{{vane2003, author = {{Vane, Ida}}, title = {{{title}}}, year = {{2003}}}}"
            ))
            .source("quill2016.txt", &source)
    };
    let checked = listed(title).check(&draft);
    checked.assert_silent();
    assert_eq!(checked.explained(), ["the title of a work"]);
    listed("Hedges")
        .check(&draft)
        .assert_kinds(&["unmarked-copy"]);
}

#[test]
fn names_inside_a_run() {
    let review = |people: &str| {
        Review::new().reference(QUILL_REFERENCE).source(
            "quill2016.txt",
            format!(
                "The meeting of that winter was small. At the table sat {people}. They ate little."
            ),
        )
    };
    let named = "Josiah Creel, Edda Marling, Perrin Dunmallow, Tobias Quell and Linnet Orme";
    let draft = |people: &str| {
        format!(
            "{OWN} We owe the first survey to {people}, who all lived nearby (Quill, 2016). {OWN}"
        )
    };
    let checked = review(named).check(&draft(named));
    checked.assert_silent();
    assert_eq!(checked.explained(), ["names"]);
    let unnamed =
        "a retired lamplighter, the clever sexton, two tired bakers and the tallest schoolgirl";
    review(unnamed)
        .check(&draft(unnamed))
        .assert_kinds(&["unmarked-copy"]);
}

#[test]
fn numbers_inside_a_run() {
    let review = |counts: &str| {
        Review::new().reference(QUILL_REFERENCE).source(
            "quill2016.txt",
            format!("We went out in July. The nightly catches were {counts}. Rain ended the work."),
        )
    };
    let draft = |counts: &str| {
        format!(
            "{OWN} In the same month our own bowls took {counts} on the hill, unlike others (Quill, 2016). {OWN}"
        )
    };
    let numbers = "12, 14, 17, 21, 25, 30, 34 and 41";
    let checked = review(numbers).check(&draft(numbers));
    checked.assert_silent();
    assert_eq!(checked.explained(), ["numbers"]);
    let words = "dusty carpets, ragged pugs, drowned beetles and one furious hornet";
    review(words)
        .check(&draft(words))
        .assert_kinds(&["unmarked-copy"]);
}

#[test]
fn citations_inside_a_run() {
    // The bracket has more words in a row than a copy needs; only what stands around it counts.
    let bracket =
        "(see Brandsley, 2009, p. 12; Ilvane & Corrow, 2015, pp. 8-9; Vasnik et al., 2012, p. 3)";
    let bibliography = "\
        @book{brandsley2009, author = {Brandsley, Otto}, title = {Lamps}, year = {2009}}\n\
        @book{ilvane2015, author = {Ilvane, Ida and Corrow, Linnet}, title = {Beds}, year = {2015}}\n\
        @book{vasnik2012, author = {Vasnik, Irena and Moor, Una and Lee, Ada}, title = {Moons}, year = {2012}}";
    let review = |words: &str| {
        Review::new()
            .reference(bibliography)
            .reference(QUILL_REFERENCE)
            .source(
                "quill2016.txt",
                format!("A quarrel is going on. {words} {bracket}. It will not end soon."),
            )
    };
    let source = "Owls gain where the voles lose";
    review(source)
        .check(&format!(
            "{OWN} Three works disagree with me here {bracket}."
        ))
        .assert_silent();
    let longer = "Owls gain wherever the careless voles of the verge lose";
    review(longer)
        .check(&format!("{OWN} {longer} {bracket}."))
        .assert_kinds(&["unmarked-copy"]);
    // Nor does a citation set into the middle of a copy break it in two short pieces.
    let split = "Moths that came near turned towards (Harrow, 2019, p. 113) the lantern within a few wingbeats";
    let checked = Review::of_two().check(&format!("{OWN} {split}."));
    checked.assert_kinds(&["unmarked-copy"]);
    assert_eq!(
        checked.of_kind("unmarked-copy")["measures"]["longest_string"],
        12
    );
}

/// The writer's own telling of p. 114, far from the source's sentences, without a citation.
const RETOLD: &str = "Bryony tells a gardener nothing about lamps, because daytime bees make good whatever the moths \
    of the lane neglect; campion, with no second customer to rely on, is the plant of the hedge to be asked, and \
    there the seeds were down by a third.";

#[test]
fn the_writers_own_comments_reused() {
    let draft = format!("{OWN} {RETOLD}");
    Review::of_two()
        .check(&draft)
        .assert_kinds(&["uncredited-paraphrase"]);
    let checked = Review::of_two()
        .entry("harrow2019", "Counts on a dark lane.", "None.", RETOLD)
        .check(&draft);
    checked.assert_silent();
    assert_eq!(checked.explained(), ["your own comments on harrow2019"]);
    // A comment that copies the source protects nothing.
    let copied = format!("{COPIED}.");
    Review::of_two()
        .entry("harrow2019", "Counts on a dark lane.", "None.", &copied)
        .check(&format!("{OWN} {copied}"))
        .assert_kinds(&["unmarked-copy"]);
    // Nor do comments on another work.
    Review::of_two()
        .entry("quill2016", "Interviews.", "None.", RETOLD)
        .check(&draft)
        .assert_kinds(&["uncredited-paraphrase"]);
}

#[test]
fn the_writers_own_summary_reused_where_it_is_far_from_the_source() {
    let draft = format!("{OWN} {RETOLD}");
    let checked = Review::of_two()
        .entry("harrow2019", RETOLD, "None.", "Good work.")
        .check(&draft);
    checked.assert_silent();
    assert_eq!(
        checked.explained(),
        ["your own summary, which is far from the source"]
    );
    // A summary that stays close to the source is no shelter.
    let close = "A gardener who looks at bryony alone would thus call the lamp harmless. Anyone who wishes to learn what \
        a lamp does to hedges must ask the plant which has no other client.";
    let checked = Review::of_two()
        .entry("harrow2019", close, "None.", "Good work.")
        .check(&format!("{OWN} {close}"));
    checked.assert_kinds(&["close-paraphrase"]);
    assert_eq!(
        checked.of_kind("close-paraphrase")["note"]["part"],
        "summary"
    );
}

#[test]
fn own_notes_shelter_what_came_from_them_and_nothing_else() {
    // Half of the passage is in the comments; the other half is the source's, with words exchanged.
    let close = "A gardener who looks at bryony alone would thus call the lamp harmless. Anyone who wishes to learn what \
        a lamp does to hedges must ask the plant which has no other client.";
    Review::of_two()
        .entry(
            "harrow2019",
            "Counts on a dark lane.",
            "None.",
            "Bryony alone says little.",
        )
        .check(&format!("{OWN} Bryony alone says little. {close}"))
        .assert_kinds(&["close-paraphrase"]);
    // The comment is near to the source, and the draft nearer to the source than to the comment.
    let comment = "To ask bryony is to ask a gardener of the day; a lamp's harm to a hedge is told by a plant without \
        any other customer.";
    Review::of_two()
        .entry("harrow2019", "Counts on a dark lane.", "None.", comment)
        .check(&format!("{OWN} {close}"))
        .assert_kinds(&["close-paraphrase"]);
}

#[test]
fn comments_that_are_a_copy_or_nearly_one_shelter_nothing() {
    let near = "A gardener who looks only at bryony would call the lamp harmless. Whoever wants to know what a lamp \
        does to a hedge has to ask a plant that has no other customer.";
    let checked = Review::of_two()
        .entry("harrow2019", "Counts on a dark lane.", "None.", near)
        .check(&format!("{OWN} {near}"));
    checked.assert_kinds(&["unmarked-copy"]);
    let finding = checked.of_kind("unmarked-copy");
    assert_eq!(finding["note"]["part"], "comments");
    assert_eq!(finding["trail"]["stayed_close"], "in-note");
}

#[test]
fn stock_phrases_of_academic_prose() {
    let review = |words: &str| {
        Review::new().reference(QUILL_REFERENCE).source(
            "quill2016.txt",
            format!("Owls were seen. {words} the baker saw them first."),
        )
    };
    let stock = "On the other hand, it should be noted that";
    let checked = review(stock).check(&format!("{OWN} {stock} ferns prefer chalk."));
    checked.assert_silent();
    assert_eq!(checked.explained(), ["a stock phrase of academic prose"]);
    let own = "On the far bank, it must be sung that";
    review(own)
        .check(&format!("{OWN} {own} ferns prefer chalk."))
        .assert_kinds(&["unmarked-copy"]);
}

#[test]
fn the_reviews_own_terms() {
    let term = "Code of Practice for the Lighting of Minor Roads and Footpaths";
    let term = term.to_lowercase();
    let source =
        format!("The county follows the {term} since the spring. Nobody has read all of it.");
    let draft = format!("{OWN} My village ignores the {term} and is none the worse. {OWN}");
    let review = || {
        Review::new()
            .reference(QUILL_REFERENCE)
            .source("quill2016.txt", &source)
    };
    let checked = review()
        .setting(&format!("terms = [\"{term}\"]"))
        .check(&draft);
    checked.assert_silent();
    assert_eq!(
        checked.explained(),
        ["a fixed expression named in the settings"]
    );
    review().check(&draft).assert_kinds(&["unmarked-copy"]);
    // A term protects itself, not the sentence around it.
    let around = format!("Nobody who repairs the {term} has ever walked there after rain");
    Review::new()
        .reference(QUILL_REFERENCE)
        .source("quill2016.txt", format!("{around}. So it stays as it is."))
        .setting(&format!("terms = [\"{term}\"]"))
        .check(&format!("{OWN} {around}."))
        .assert_kinds(&["unmarked-copy"]);
}

#[test]
fn a_draft_of_ones_own_is_silent_and_the_sources_are_read() {
    let checked = Review::of_two().check(&format!("{OWN} Nobody is named here.\n"));
    checked.assert_silent();
    assert_eq!(checked.json["review"]["sources"], 2);
    assert!(HARROW.contains(COPIED));
}
