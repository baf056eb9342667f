//! Each kind of finding with a small case that is one and a near one that is none; the degrees, the
//! states of credit, the trail through the notes, the settings, and the forms of references and citations.

use crate::common::{Checked, HARROW, HARROW_REFERENCE, OWN, QUILL, QUILL_REFERENCE, Review, text};

/// A sentence of Harrow's on p. 113.
const COPIED: &str = "Under the burning lamp the campion received one visit for every four that it received in the dark";

/// The same sentences at five distances; the source has them on p. 114.
const DEGREES: [(&str, &str); 5] = [
    (
        "verbatim",
        "A gardener who looks only at bryony would therefore call the lamp harmless. Whoever wants to know what a \
         lamp does to a hedge has to ask the plant that has no other customer.",
    ),
    (
        "near copy",
        "A gardener who looks at bryony only would thus call the lamp harmless. Whoever then wants to know what \
         a lamp may do to a hedge must ask the plant which has no other customer.",
    ),
    (
        "light revision",
        "A gardener looking at bryony alone would call lamps harmless. Whoever wishes to know what lamps do to a \
         hedge must ask a plant that has no other client.",
    ),
    (
        "heavy revision",
        "What a hedge loses by a lamp cannot be read off bryony, though a gardener may do so and find it harmless; \
         the plant to ask is one without another customer.",
    ),
    (
        "heavy revision",
        "Bryony tells a gardener nothing about lamps, because daytime bees make good whatever the moths of the lane \
         neglect; campion, with no second customer to rely on, is the plant of the hedge to be asked, and there the \
         seeds were down by a third.",
    ),
];

/// The same point restructured: its wording no longer shows where it is from.
const RESTRUCTURED: &str = "A gardener who trusts bryony will be misled about lamps, for it lives by the custom of bees; somebody \
    who plants campion, whose seeds fell by a third, learns within one season what light has taken away from the lane and \
    its moths and from everybody who enjoys them.";

fn draft(sentence: &str) -> String {
    format!("{OWN} {sentence}\n\n{OWN}\n")
}

#[test]
fn the_degrees_that_are_found() {
    for (degree, words) in DEGREES {
        let checked = Review::of_two().check(&draft(words));
        let [finding] = checked.findings() else {
            panic!("{degree}: {:#?}", checked.brief())
        };
        assert_eq!(finding["degree"], degree, "{:#?}", checked.brief());
        assert_eq!(finding["source"]["key"], "harrow2019");
        let kind = match degree {
            "verbatim" => "unmarked-copy",
            "near copy" | "light revision" => "close-paraphrase",
            _ => "uncredited-paraphrase",
        };
        assert_eq!(finding["kind"], kind, "{degree}");
    }
    Review::of_two().check(&draft(RESTRUCTURED)).assert_silent();
}

#[test]
fn unmarked_copy() {
    let review = Review::of_two();
    let checked = review.check(&draft(&format!("{COPIED} (Harrow, 2019, p. 113).")));
    checked.assert_kinds(&["unmarked-copy"]);
    let finding = checked.of_kind("unmarked-copy");
    assert_eq!(finding["draft"]["text"], COPIED);
    assert_eq!(finding["source"]["text"], format!("{COPIED}."));
    assert_eq!(finding["source"]["page"], "113");
    assert_eq!(finding["degree"], "verbatim");
    assert_eq!(finding["position"], 0.0);
    assert_eq!(finding["credit"]["state"], "credited");
    assert_eq!(finding["measures"]["words"], 18);
    assert_eq!(finding["measures"]["longest_string"], 18);
    // The same point in the writer's own words, with credit, is what is asked for.
    let own = "For every moth at the lit campion there were four at the unlit one (Harrow, 2019, p. 113).";
    review.check(&draft(own)).assert_silent();
}

/// A quotation that stands marked in the notes.
const MARKED: &str = "heavy fliers pay a toll and light ones pay with the whole night";

/// A review whose notes hold these words in quotation marks.
fn with_marked_entry() -> Review {
    let quotation = format!("\"{MARKED}\" (p. 113)");
    Review::of_two().entry("harrow2019", "Counts.", &quotation, "Good.")
}

#[test]
fn lost_quotation_marks_with_a_stored_source() {
    let review = with_marked_entry;
    let lost = draft(&format!("In a word, {MARKED} (Harrow, 2019, p. 113)."));
    let checked = review().check(&lost);
    checked.assert_kinds(&["lost-quotation-marks"]);
    let finding = checked.of_kind("lost-quotation-marks");
    assert_eq!(finding["source"]["page"], "113");
    assert_eq!(finding["note"]["entry"], "harrow2019");
    assert_eq!(finding["note"]["path"], "notes/harrow2019.md");
    assert_eq!(finding["note"]["part"], "quotations");
    assert_eq!(finding["note"]["marked"], true);
    let kept = draft(&format!("In a word, \"{MARKED}\" (Harrow, 2019, p. 113)."));
    review().check(&kept).assert_silent();
    // Unmarked in the notes too, it is a copy, but no marks were lost.
    let unmarked = Review::of_two().entry(
        "harrow2019",
        &format!("Counts: {MARKED}."),
        "None.",
        "Good.",
    );
    unmarked.check(&lost).assert_kinds(&["unmarked-copy"]);
}

#[test]
fn what_was_noted_and_what_was_not_are_distinguished() {
    let review = with_marked_entry;
    let before = "Hawk moths, by contrast, left the lamp after some minutes and went back to the honeysuckle. We \
        take this to mean that";
    // Most of the copy was never noted.
    let checked = review().check(&draft(&format!("{before} {MARKED}.")));
    checked.assert_kinds(&["unmarked-copy"]);
    let advice = text(&checked.of_kind("unmarked-copy")["advice"]).to_owned();
    let noted = "13 stand in quotation marks in your notes";
    assert!(
        advice.contains(noted) && advice.contains("cite Harrow (2019)"),
        "{advice}"
    );
    // A few words more than were noted, and no citation.
    let checked = review().check(&draft(&format!("We take this to mean that {MARKED}.")));
    checked.assert_kinds(&["lost-quotation-marks"]);
    let advice = text(&checked.of_kind("lost-quotation-marks")["advice"]).to_owned();
    let noted = "13 of these words stand in quotation marks in your notes";
    assert!(
        advice.contains(noted) && advice.contains("6 more"),
        "{advice}"
    );
    assert!(advice.contains("cite Harrow (2019)"), "{advice}");
}

#[test]
fn lost_quotation_marks_without_a_stored_source() {
    let review = |quotation: &str| {
        Review::new()
            .reference(HARROW_REFERENCE)
            .entry("harrow2019", "Counts.", quotation, "Good.")
    };
    let lost = draft(&format!("In a word, {MARKED} (Harrow, 2019, p. 113)."));
    let checked = review(&format!("\"{MARKED}\" (p. 113)")).check(&lost);
    checked.assert_kinds(&["lost-quotation-marks"]);
    let finding = checked.of_kind("lost-quotation-marks");
    assert!(finding["source"].is_null() && finding["degree"].is_null());
    assert_eq!(finding["note"]["text"], MARKED);
    assert_eq!(finding["draft"]["text"], MARKED);
    review(MARKED).check(&lost).assert_silent();
}

#[test]
fn close_paraphrase() {
    let review = Review::of_two();
    for (degree, words) in &DEGREES[1..3] {
        let credited = words.trim_end_matches('.').to_owned() + " (Harrow, 2019, p. 114).";
        let checked = review.check(&draft(&credited));
        checked.assert_kinds(&["close-paraphrase"]);
        let finding = checked.of_kind("close-paraphrase");
        assert_eq!(finding["credit"]["state"], "credited");
        let weight = if *degree == "near copy" {
            "act"
        } else {
            "look"
        };
        assert_eq!(finding["weight"], weight);
    }
    for (_, words) in &DEGREES[3..] {
        let credited = words.trim_end_matches('.').to_owned() + " (Harrow, 2019, p. 114).";
        review.check(&draft(&credited)).assert_silent();
    }
}

#[test]
fn uncredited_paraphrase() {
    let review = Review::of_two();
    for (_, words) in &DEGREES[3..] {
        let checked = review.check(&draft(words));
        checked.assert_kinds(&["uncredited-paraphrase"]);
        assert_eq!(
            checked.of_kind("uncredited-paraphrase")["credit"]["state"],
            "none"
        );
    }
    // On the same subject, but no point of the source.
    let own = "In my own garden the bryony has never set seed at all, and no lamp within sight can be blamed for it.";
    review.check(&draft(own)).assert_silent();
}

#[test]
fn credit_elsewhere() {
    let review = Review::of_two();
    let point = DEGREES[3].1.trim_end_matches('.');
    let checked = review.check(&draft(&format!("{point} (Quill, 2016).")));
    checked.assert_kinds(&["credit-elsewhere"]);
    let finding = checked.of_kind("credit-elsewhere");
    assert_eq!(finding["source"]["key"], "harrow2019");
    assert_eq!(finding["credit"]["state"], "elsewhere");
    assert_eq!(
        finding["credit"]["citations"],
        serde_json::json!(["(Quill, 2016)"])
    );
    review
        .check(&draft(&format!("{point} (Harrow, 2019; Quill, 2016).")))
        .assert_silent();
    // A marked quotation under the wrong name.
    let quoted = draft(&format!("\"{COPIED}\" (Quill, 2016, p. 21)."));
    review.check(&quoted).assert_kinds(&["credit-elsewhere"]);
}

#[test]
fn credit_states() {
    let states = [
        ("(Harrow, 2019)", "credited"),
        ("(Harrow, 2019, p. 113)", "credited"),
        ("(see Quill, 2016; Harrow, 2019)", "credited"),
        ("(Quill, 2016)", "elsewhere"),
        ("", "none"),
    ];
    for (citation, state) in states {
        let checked = Review::of_two().check(&draft(&format!("{COPIED} {citation}.")));
        assert_eq!(
            checked.of_kind("unmarked-copy")["credit"]["state"],
            state,
            "{citation}"
        );
    }
    // By name in the sentence, and by a citation in the sentence before.
    for before in [
        "As Harrow (2019) reports:",
        "Harrow (2019) counted moths. It was clear:",
    ] {
        let checked = Review::of_two().check(&draft(&format!("{before} {COPIED}.")));
        assert_eq!(
            checked.of_kind("unmarked-copy")["credit"]["state"],
            "credited",
            "{before}"
        );
    }
}

#[test]
fn the_trail_from_draft_by_note_to_source() {
    let note = DEGREES[2].1;
    let near = note.replace("must ask", "should ask");
    let review = Review::of_two().entry("harrow2019", note, "None.", "Good.");
    let checked = review.check(&draft(&near));
    checked.assert_kinds(&["close-paraphrase"]);
    let trail = &checked.of_kind("close-paraphrase")["note"];
    assert_eq!(trail["entry"], "harrow2019");
    assert_eq!(trail["part"], "summary");
    assert_eq!(trail["marked"], false);
    assert_eq!(trail["text"], note);
    assert_eq!(trail["from_source"]["degree"], "light revision");
    assert_eq!(trail["to_draft"]["degree"], "near copy");
    let trail = &checked.of_kind("close-paraphrase")["trail"];
    let steps = trail["steps"].as_array().unwrap();
    let way: Vec<_> = steps
        .iter()
        .map(|step| {
            (
                text(&step["from"]),
                text(&step["to"]),
                text(&step["degree"]),
            )
        })
        .collect();
    assert_eq!(
        way,
        [
            ("source", "note", "light revision"),
            ("note", "draft", "near copy")
        ]
    );
    assert_eq!(trail["stayed_close"], "in-note");
    // Without the entry there is no trail.
    assert!(
        Review::of_two()
            .check(&draft(&near))
            .of_kind("close-paraphrase")["note"]
            .is_null()
    );
}

/// Where on the way the wording stayed close is said of each kind of way.
#[test]
fn where_the_wording_stayed_close() {
    let stayed = |summary: &str, quotations: &str, sentence: &str, kind: &str| {
        let review = Review::of_two().entry("harrow2019", summary, quotations, "Good.");
        let checked = review.check(&draft(sentence));
        let finding = checked.of_kind(kind).clone();
        text(&finding["trail"]["stayed_close"]).to_owned()
    };
    let copied = format!("{COPIED}.");
    assert_eq!(
        stayed(&copied, "None.", &copied, "unmarked-copy"),
        "in-note"
    );
    let quoted = format!("- \"{COPIED}\" (p. 113)");
    assert_eq!(
        stayed("Counts.", &quoted, &copied, "lost-quotation-marks"),
        "lost-marks"
    );
    let own = "Bryony lets a gardener think lamps harmless; it is the plant with no other customer that knows about \
        the hedge.";
    let source = "A gardener who looks only at bryony would therefore call the lamp harmless. Whoever wants to know \
        what a lamp does to a hedge has to ask the plant that has no other customer.";
    assert_eq!(stayed(own, "None.", source, "unmarked-copy"), "in-draft");
}

/// A quotation has its trail too: whether the slip was in the note already shows there.
#[test]
fn the_trail_of_a_quotation() {
    let altered = COPIED.replace("received one", "had one");
    for (noted, degree) in [(COPIED, "near copy"), (altered.as_str(), "verbatim")] {
        let quoted = format!("- \"{noted}\" (p. 113)");
        let checked = Review::of_two()
            .entry("harrow2019", "Counts.", &quoted, "Good.")
            .check(&draft(&format!(
                "She writes: \"{altered}\" (Harrow, 2019, p. 113)."
            )));
        let note = &checked.of_kind("altered-quotation")["note"];
        assert_eq!(note["part"], "quotations");
        assert_eq!(note["marked"], true);
        assert_eq!(note["to_draft"]["degree"], degree);
    }
    let checked = Review::of_two().check(&draft(&format!(
        "She writes: \"{altered}\" (Harrow, 2019, p. 113)."
    )));
    assert!(checked.of_kind("altered-quotation")["note"].is_null());
}

#[test]
fn quotation_without_page() {
    let review = Review::of_two();
    let checked = review.check(&draft(&format!("She writes: \"{COPIED}\" (Harrow, 2019).")));
    checked.assert_kinds(&["quotation-without-page"]);
    assert!(text(&checked.of_kind("quotation-without-page")["advice"]).contains("p. 113"));
    review
        .check(&draft(&format!(
            "She writes (Harrow, 2019, p. 113): \"{COPIED}\"."
        )))
        .assert_silent();
}

#[test]
fn quotation_without_credit() {
    let review = Review::of_two();
    let checked = review.check(&draft(&format!("Somebody wrote: \"{COPIED}\".")));
    checked.assert_kinds(&["quotation-without-credit"]);
    let finding = checked.of_kind("quotation-without-credit");
    assert_eq!(
        (&finding["weight"], &finding["source"]["key"]),
        (&"act".into(), &"harrow2019".into())
    );
    // Words that no stored source has are asked about more softly; three words are a term, no quotation.
    let unknown = review.check(&draft(
        "Somebody wrote: \"nobody in this town has ever seen a hornet\".",
    ));
    assert_eq!(
        unknown.of_kind("quotation-without-credit")["weight"],
        "look"
    );
    review
        .check(&draft("Somebody called it \"the long blink\"."))
        .assert_silent();
}

#[test]
fn altered_quotation() {
    let review = Review::of_two();
    let cited = |words: &str| draft(&format!("She writes: \"{words}\" (Harrow, 2019, p. 113)."));
    let altered = [
        ("burning", "shining", "shining", "burning"),
        ("every four", "four", "", "every"),
        (
            "the campion received",
            "the campion often received",
            "often",
            "",
        ),
    ];
    for (from, to, ours, theirs) in altered {
        let checked = review.check(&cited(&COPIED.replace(from, to)));
        checked.assert_kinds(&["altered-quotation"]);
        let differences = &checked.of_kind("altered-quotation")["differences"];
        assert_eq!(
            *differences,
            serde_json::json!([{"draft": ours, "source": theirs}])
        );
    }
    let allowed = [
        COPIED.replace("Under", "under"),
        COPIED.replace("Under", "[U]nder"),
        COPIED.replace("burning lamp", "burning [street] lamp"),
        COPIED.replace(
            "for every four that it received",
            "for every four ... received",
        ),
        COPIED.replace(
            "for every four that it received",
            "for every four […] received",
        ),
        format!("{COPIED}."),
        format!("{COPIED},"),
    ];
    for words in &allowed {
        review.check(&cited(words)).assert_silent();
    }
}

#[test]
fn page_mismatch() {
    let review = Review::of_two();
    let cited = |locator: &str| {
        draft(&format!(
            "She writes: \"{COPIED}\" (Harrow, 2019, {locator})."
        ))
    };
    for wrong in ["p. 114", "pp. 114-116", "p. 13"] {
        review.check(&cited(wrong)).assert_kinds(&["page-mismatch"]);
    }
    for right in ["p. 113", "pp. 113-114", "pp. 112–113", "pp. 113f.", "113"] {
        review.check(&cited(right)).assert_silent();
    }
    // Where the source has no pages nothing can be said.
    let without = HARROW.replace("[p. 113]", "").replace("[p. 114]", "");
    let bibliography = HARROW_REFERENCE.replace("  pages = {113--114},\n", "");
    Review::new()
        .reference(&bibliography)
        .source("harrow2019.txt", without)
        .check(&cited("p. 7"))
        .assert_silent();
}

#[test]
fn quotation_not_found() {
    let review = Review::of_two();
    let foreign = "no hornet was ever kinder than a dim lamp";
    let checked = review.check(&draft(&format!(
        "She writes: \"{foreign}\" (Harrow, 2019, p. 113)."
    )));
    checked.assert_kinds(&["quotation-not-found"]);
    assert_eq!(checked.of_kind("quotation-not-found")["weight"], "look");
    review
        .check(&draft(&format!(
            "She writes: \"{MARKED}\" (Harrow, 2019, p. 113)."
        )))
        .assert_silent();
    // Of a work that is not stored it is only good to know.
    let unstored = Review::new()
        .reference(HARROW_REFERENCE)
        .source("other.txt", QUILL);
    let checked = unstored.check(&draft(&format!(
        "She writes: \"{foreign}\" (Harrow, 2019, p. 113)."
    )));
    checked.assert_kinds(&["quotation-not-found"]);
    assert_eq!(checked.of_kind("quotation-not-found")["weight"], "know");
}

/// Forty words of the source.
const LONG: &str = "In those six hours we counted visits to campion, honeysuckle and white bryony by heat camera, and \
    compared them with visits under a lamp that burned until dawn. Under the burning lamp the campion received one \
    visit for every four";

#[test]
fn long_quotation_inline() {
    let long: Vec<&str> = LONG.split(' ').collect();
    assert_eq!(long.len(), 40);
    let review = |limit: &str| Review::of_two().setting(&format!("long_quotation_words = {limit}"));
    let inline = draft(&format!("She writes: \"{LONG}\" (Harrow, 2019, p. 113)."));
    review("40")
        .check(&inline)
        .assert_kinds(&["long-quotation-inline"]);
    review("41").check(&inline).assert_silent();
    let block = format!("{OWN}\n\n> {LONG} (Harrow, 2019, p. 113)\n\n{OWN}\n");
    review("40").check(&block).assert_silent();
}

#[test]
fn heavily_quoted() {
    // 18 of 36 words.
    let quoting = format!("She writes: \"{COPIED}\" (Harrow, 2019, p. 113). {OWN}");
    Review::of_two().check(&quoting).assert_silent();
    let limit =
        |percent: u8| Review::of_two().setting(&format!("heavily_quoted_percent = {percent}"));
    let checked = limit(48).check(&quoting);
    checked.assert_kinds(&["heavily-quoted"]);
    let advice = text(&checked.of_kind("heavily-quoted")["advice"]);
    assert!(advice.starts_with("18 of 36 words"), "{advice}");
    limit(50).check(&quoting).assert_silent();
}

#[test]
fn cited_not_listed() {
    let review = Review::of_two();
    let checked = review.check(&draft("Others agree (Harrow, 2018)."));
    checked.assert_kinds(&["cited-not-listed"]);
    let advice = text(&checked.of_kind("cited-not-listed")["advice"]);
    assert!(advice.contains("Harrow (2019)"), "{advice}");
    review
        .check(&draft("Others agree (Harrow, 2019)."))
        .assert_silent();
    // Where the draft has a list of its own, that list is asked.
    let listed = "Others agree (Harrow, 2019; Quill, 2016).\n\n## References\n\nHarrow, A. (2019). Campion after eleven. \
        *Annals of the Unlit Lane*, 113-114.\n";
    review
        .check(&format!("{OWN} {listed}"))
        .assert_kinds(&["cited-not-listed"]);
}

#[test]
fn listed_not_cited() {
    let lists = "\n\n## References\n\nHarrow, A. (2019). Campion after eleven. *Annals of the Unlit Lane*, 113-114.\n\n\
        Quill, B. (2016). *The long blink*. Lantern Gate Press.\n";
    let review = Review::of_two();
    let checked = review.check(&format!("{OWN} Others agree (Harrow, 2019).{lists}"));
    checked.assert_kinds(&["listed-not-cited"]);
    assert!(text(&checked.findings()[0]["draft"]["text"]).starts_with("Quill, B."));
    review
        .check(&format!(
            "{OWN} Others agree (Harrow, 2019; Quill, 2016).{lists}"
        ))
        .assert_silent();
}

#[test]
fn cited_without_entry() {
    let cited = draft("Others agree (Harrow, 2019; Quill, 2016).");
    let review = Review::of_two().entry("harrow2019", "Counts.", "None.", "Good.");
    let checked = review.check(&cited);
    checked.assert_kinds(&["cited-without-entry"]);
    assert!(text(&checked.findings()[0]["advice"]).starts_with("Quill (2016)"));
    let review = review.entry("quill2016", "Interviews.", "None.", "Good.");
    review.check(&cited).assert_silent();
    // Without any notes there is nothing to miss.
    Review::of_two().check(&cited).assert_silent();
}

#[test]
fn what_stands_before_the_family_name_does_not_hide_it() {
    for start in [
        "Read", "See", "Compare", "Contrast", "Consider", "Take", "Unlike", "Nor does", "As Anna",
    ] {
        Review::of_two()
            .check(&draft(&format!("{start} Harrow (2019) on this.")))
            .assert_silent();
    }
}

#[test]
fn the_length_of_a_run_is_a_setting() {
    // Seven words in a row, and seven only.
    let seven =
        draft("Nor did my neighbour know that moths pay with the whole night long ago, she said.");
    let source = HARROW.replace(
        "light ones pay with the whole night",
        "light moths pay with the whole night",
    );
    let review = |words: usize| {
        Review::new()
            .reference(HARROW_REFERENCE)
            .source("harrow2019.txt", &source)
            .setting(&format!("run_words = {words}"))
    };
    review(6).check(&seven).assert_kinds(&["unmarked-copy"]);
    review(7).check(&seven).assert_silent();
    // The command line outranks the file.
    let review = review(6);
    review.check(&seven);
    let checked = review.check_with(&["drafts/draft.md", "--run-words", "7"]);
    assert_eq!(checked.kinds(), [""; 0]);
}

#[test]
fn the_length_of_a_quotation_is_a_setting() {
    let review = |words: usize| Review::of_two().setting(&format!("quotation_words = {words}"));
    let short = draft("Somebody called it \"the long blink of owls\".");
    review(5)
        .check(&short)
        .assert_kinds(&["quotation-without-credit"]);
    review(6).check(&short).assert_silent();
}

#[test]
fn how_far_credit_reaches_is_a_setting() {
    let far = draft(&format!(
        "{COPIED}. I was surprised. So were they. I owe this to Harrow (2019)."
    ));
    for (sentences, state) in [(0, "none"), (1, "none"), (2, "none"), (3, "credited")] {
        let checked = Review::of_two()
            .setting(&format!("credit_sentences = {sentences}"))
            .check(&far);
        assert_eq!(
            checked.of_kind("unmarked-copy")["credit"]["state"],
            state,
            "{sentences}"
        );
    }
}

/// A draft with one quotation, its page wrong, so that only a citation that was understood is told of.
#[track_caller]
fn assert_understood(checked: &Checked, citation: &str) {
    checked.assert_kinds(&["page-mismatch"]);
    assert_eq!(
        checked.findings()[0]["source"]["key"],
        "harrow2019",
        "{citation}"
    );
}

#[test]
fn forms_of_citation() {
    let review = Review::of_two();
    for citation in [
        "(Harrow, 2019, p. 114)",
        "(Harrow 2019: 114)",
        "(see Harrow, 2019, p. 114)",
        "[@harrow2019, p. 114]",
        "[see @harrow2019, p. 114]",
        "[@harrow2019 p. 114; @quill2016]",
        "(Quill, 2016, p. 21; Harrow, 2019, p. 114)",
    ] {
        let checked = review.check(&draft(&format!("It was put so: \"{COPIED}\" {citation}.")));
        assert_understood(&checked, citation);
    }
    for narrative in [
        "Harrow (2019, p. 114) writes",
        "@harrow2019 [p. 114] writes",
        "Harrow (2019) writes (p. 114)",
    ] {
        let checked = review.check(&draft(&format!("{narrative}: \"{COPIED}\".")));
        assert_understood(&checked, narrative);
    }
}

#[test]
fn numbered_citations_lead_through_the_drafts_own_list() {
    let lists = "\n\n## References\n\n[1] Quill, B. The long blink. Lantern Gate Press, 2016.\n\n\
        [2] Harrow, A. Campion after eleven. Annals of the Unlit Lane, 2019.\n";
    let review = Review::of_two();
    let numbered = |number: &str| {
        format!("{OWN} It was put so: \"{COPIED}\" {number}.\n\nThere are two works [1, 2].{lists}")
    };
    review.check(&numbered("[2, p. 113]")).assert_silent();
    review
        .check(&numbered("[2, p. 114]"))
        .assert_kinds(&["page-mismatch"]);
    review
        .check(&numbered("[1, p. 113]"))
        .assert_kinds(&["credit-elsewhere"]);
    review
        .check(&numbered("[2, p. 113] and [3]"))
        .assert_kinds(&["cited-not-listed"]);
}

#[test]
fn references_in_csl_json_and_ris() {
    let csl = r#"[
      {"id": "harrow2019", "type": "article-journal", "title": "Campion after eleven",
       "author": [{"family": "Harrow", "given": "Anna"}], "issued": {"date-parts": [[2019]]},
       "container-title": "Annals of the Unlit Lane", "page": "113-114"},
      {"id": "quill2016", "type": "book", "title": "The long blink",
       "author": [{"family": "Quill", "given": "Bertram"}], "issued": {"date-parts": [[2016]]}}
    ]"#;
    let ris = "TY  - JOUR\nID  - harrow2019\nAU  - Harrow, Anna\nPY  - 2019\nTI  - Campion after eleven\n\
        JO  - Annals of the Unlit Lane\nSP  - 113\nEP  - 114\nER  - \n\n\
        TY  - BOOK\nID  - quill2016\nAU  - Quill, Bertram\nPY  - 2016\nTI  - The long blink\nER  - \n";
    let bibtex = format!("{HARROW_REFERENCE}{QUILL_REFERENCE}");
    for (name, content) in [
        ("references.json", csl),
        ("references.ris", ris),
        ("references.bib", &bibtex),
    ] {
        let review = Review::new()
            .file(name, content)
            .source("harrow2019.txt", HARROW)
            .source("quill2016.txt", QUILL);
        let checked = review.check(&draft(&format!(
            "She writes: \"{COPIED}\" (Harrow, 2019, p. 114)."
        )));
        assert_understood(&checked, name);
        assert_eq!(
            checked.findings()[0]["source"]["name"],
            "Harrow (2019)",
            "{name}"
        );
        let checked = review.check(&draft("Others agree (Quill, 2016; Quill, 2017)."));
        checked.assert_kinds(&["cited-not-listed"]);
        assert_eq!(checked.left_out(), [""; 0], "{name}");
    }
}

#[test]
fn many_notes_on_other_works_push_no_source_out() {
    let reworded =
        "The campion under a burning lamp got a single visit where it got four in the dark.";
    let draft = format!("{OWN}\n\n{reworded}\n");
    let check = |notes: usize| {
        let numbers = 0..notes;
        let review = numbers.fold(Review::of_two(), |review, number| {
            let summary = format!("Campion under burning lamps got a single visit for four in the dark, says {number}.");
            review.entry(&format!("other{number}"), &summary, "None.", "None.")
        });
        let checked = review.check(&draft);
        let kinds = checked.kinds().into_iter().map(str::to_owned);
        kinds.collect::<Vec<_>>()
    };
    let without = check(0);
    assert!(!without.is_empty());
    assert_eq!(check(20), without);
}
