//! Citations, lists of references and entries that a slip keeps apart: named, in both directions, and works
//! that are only alike left alone.

use crate::common::{Review, text};

fn advice(review: &Review, draft: &str, kind: &str) -> Vec<String> {
    let checked = review.check(draft);
    checked.json["drafts"][0]["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|finding| finding["kind"] == kind)
        .map(|finding| text(&finding["advice"]).to_owned())
        .collect()
}

fn draft(cited: &str, listed: &str) -> String {
    format!(
        "Seed set followed the visits in this lane ({cited}), or so I read it.\n\n# References\n\n\
         Quill, B. (2016). *The long blink*. Lantern Gate Press.\n\n{listed}\n"
    )
}

const HARROW_LISTED: &str =
    "Harrow, A. (2019). Campion after eleven. *Annals of the Unlit Lane*, 113–114.";

#[test]
fn a_slip_is_named_on_both_sides() {
    let table = [
        (
            "Harrow, 2018",
            "with the year 2019",
            "The text cites Harrow (2018)",
        ),
        (
            "Harrow, 2091",
            "with the year 2019",
            "The text cites Harrow (2091)",
        ),
        (
            "Harow, 2019",
            "with the name spelled \"harrow\"",
            "The text cites Harow (2019)",
        ),
    ];
    let review = Review::of_two();
    for (cited, in_list, in_text) in table {
        let draft = draft(cited, HARROW_LISTED);
        let missing = advice(&review, &draft, "cited-not-listed");
        assert_eq!(missing.len(), 1, "{cited}: {missing:?}");
        assert!(
            missing[0].contains("\"Harrow, A. (2019).") && missing[0].contains(in_list),
            "{missing:?}"
        );
        let uncited = advice(&review, &draft, "listed-not-cited");
        let of_harrow: Vec<_> = uncited
            .iter()
            .filter(|advice| advice.contains(in_text))
            .collect();
        assert_eq!(of_harrow.len(), 1, "{cited}: {uncited:?}");
        assert_eq!(uncited.len(), 2, "Quill is never cited: {uncited:?}");
    }
}

#[test]
fn works_that_are_only_alike_are_not_offered() {
    let review = Review::of_two();
    for cited in ["Harrow, 2011", "Barlow, 2019", "Harow, 2018"] {
        let draft = draft(cited, HARROW_LISTED);
        let missing = advice(&review, &draft, "cited-not-listed");
        assert_eq!(missing.len(), 1, "{cited}: {missing:?}");
        assert!(!missing[0].contains("The list holds"), "{missing:?}");
        let uncited = advice(&review, &draft, "listed-not-cited");
        assert!(
            uncited
                .iter()
                .all(|advice| !advice.contains("The text cites")),
            "{uncited:?}"
        );
    }
    let right = draft("Harrow, 2019", HARROW_LISTED);
    assert!(advice(&review, &right, "cited-not-listed").is_empty());
    assert_eq!(
        advice(&review, &right, "listed-not-cited").len(),
        1,
        "only Quill is not cited"
    );
}

#[test]
fn an_entry_whose_heading_holds_a_slip_is_named() {
    let entry = |heading: &str| {
        Review::of_two()
            .entry("quill2016", "Interviews.", "", "Mine.")
            .note(
                "lost.md",
                &format!("# {heading}\n\n## Summary\n\nA field study.\n\n## Comments\n\nMine.\n"),
            )
    };
    let draft = "Seed set followed the visits in this lane (Harrow, 2019), or so I read it.\n";
    for heading in ["Harow (2019)", "Harrow (2018)"] {
        let told = advice(&entry(heading), draft, "cited-without-entry");
        assert_eq!(told.len(), 1, "{told:?}");
        assert!(
            told[0].contains(&format!("headed \"{heading}\"")),
            "{told:?}"
        );
    }
    let told = advice(&entry("Barlow (2011)"), draft, "cited-without-entry");
    assert!(told.len() == 1 && !told[0].contains("headed"), "{told:?}");
}
