//! Credit that stands in footnotes: it counts where the note is called, and its works are found by author
//! and title.

use crate::common::{OWN, Review};

/// Words of Harrow's on page 113, of Quill's on page 21.
const HARROWS: &str = "heavy fliers pay a toll and light ones pay with the whole night";
const QUILLS: &str = "spoke of them as one speaks of weather, with a shrug and a date";

/// A draft with a quotation whose footnote says `note`, and earlier a note that cites Harrow in full.
fn draft(quotation: &str, note: &str) -> String {
    format!(
        "{OWN} The lane was dark for two summers.[^1]\n\nThat is one case among many. In short, “{quotation}.”[^2]\n\n\
         [^1]: Anna Harrow, “Campion after Eleven,” *Annals of the Unlit Lane* 3, no. 1 (2019): 114.\n\n[^2]: {note}\n"
    )
}

#[test]
fn a_note_is_the_credit_of_its_quotation() {
    let review = Review::of_two();
    let fine = [
        (HARROWS, "Harrow, “Campion,” 113."),
        (
            HARROWS,
            "Anna Harrow, “Campion after Eleven,” *Annals of the Unlit Lane* 3, no. 1 (2019): 113–14.",
        ),
        (HARROWS, "Ibid., 113."),
        (HARROWS, "Harrow, op. cit., p. 113."),
        (HARROWS, "See Harrow 2019, 113."),
        (HARROWS, "Harrow (2019, p. 113)."),
        (HARROWS, "Harrow, “Campion,” 113; Quill, *Long Blink*, 3."),
        (QUILLS, "Quill, *Long Blink*, 21."),
        (
            QUILLS,
            "Bertram Quill, *The Long Blink* (Lantern Gate Press, 2016), 21. The kerb was mended later.",
        ),
    ];
    for (quotation, note) in fine {
        let checked = review.check(&draft(quotation, note));
        assert!(
            checked.findings().is_empty(),
            "{note}: {:#?}",
            checked.brief()
        );
    }
    let wrong = [
        (
            HARROWS,
            "Harrow, “Campion after Eleven.”",
            "quotation-without-page",
        ),
        (HARROWS, "Harrow, “Campion,” 114.", "page-mismatch"),
        (HARROWS, "Ibid.", "page-mismatch"),
        (HARROWS, "The moths were small.", "quotation-without-credit"),
        (HARROWS, "Quill, *Long Blink*, 21.", "credit-elsewhere"),
        (QUILLS, "Ibid., 21.", "credit-elsewhere"),
    ];
    for (quotation, note, kind) in wrong {
        let checked = review.check(&draft(quotation, note));
        assert_eq!(checked.kinds(), [kind], "{note}: {:#?}", checked.brief());
    }
    let checked = review.check(&draft(HARROWS, "Vane, “Lamps,” 9."));
    // A work that is not among the references may be the credit.
    assert_eq!(
        checked.kinds(),
        ["cited-not-listed"],
        "{:#?}",
        checked.brief()
    );
}

#[test]
fn a_note_is_the_credit_of_a_paraphrase() {
    let review = Review::of_two();
    let draft = |note: &str| {
        format!(
            "{OWN}\n\nA gardener looking at bryony alone would call lamps harmless. Whoever wishes to know what lamps do \
             to a hedge must ask a plant that has no other client.[^n]\n\n{OWN}\n\n[^n]: {note}\n"
        )
    };
    for (note, kind, state) in [
        ("Harrow, “Campion,” 114.", "close-paraphrase", "credited"),
        ("Quill, *Long Blink*, 21.", "credit-elsewhere", "elsewhere"),
        ("A remark.", "close-paraphrase", "none"),
    ] {
        let checked = review.check(&draft(note));
        let finding = checked.of_kind(kind);
        assert_eq!(
            finding["credit"]["state"],
            state,
            "{note}: {:#?}",
            checked.brief()
        );
    }
}

/// A call belongs to the sentence before it, wherever its note stands.
#[test]
fn the_place_of_the_call_counts() {
    let review = Review::of_two();
    let elsewhere = format!(
        "{OWN}[^1] The lane was long. It had no name. In short, “{HARROWS}.” {OWN}\n\n[^1]: Harrow, “Campion,” 113.\n"
    );
    let checked = review.check(&elsewhere);
    assert_eq!(
        checked.kinds(),
        ["quotation-without-credit"],
        "{:#?}",
        checked.brief()
    );
    let block = format!(
        "{OWN} So it was put:\n\n> {HARROWS}.[^1]\n\n{OWN}\n\n[^1]: Harrow, “Campion,” 113.\n"
    );
    review.check(&block).assert_silent();
}

#[test]
fn text_shows_which_note_a_call_leads_to() {
    let review = Review::of_two().file("drafts/notes.md", draft(HARROWS, "Ibid., 113."));
    let out = review.run(&["text", "drafts/notes.md"]);
    let out = String::from_utf8(out.stdout).unwrap();
    let out = out.split_whitespace().collect::<Vec<_>>().join(" ");
    for wanted in [
        "2 calls of footnotes",
        "note after \"the whole night.”\": line 7, Ibid., 113.",
        "called line 3, after \"the whole night.”\"",
        "cites Ibid., 113 (author and title): Anna Harrow, 2019, \"Campion after Eleven\", page 113",
    ] {
        assert!(out.contains(wanted), "{wanted} is not in\n{out}");
    }
}
