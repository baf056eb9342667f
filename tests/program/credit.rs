//! Which citation credits a passage: the one at the sentence itself, and those around it only where it has none.

use std::path::Path;
use std::sync::Arc;

use crate::common::{COPIED, HARROW, HARROW_REFERENCE, Review as Folder};
use ownwords::Session;
use ownwords::findings::CreditState;
use ownwords::reading::{Format, Memory, from_bytes};
use ownwords::review::{Options, Review};

const OTHER: &str =
    "@book{vane2003,\n  author = {Vane, Cora},\n  title = {Ferries},\n  year = {2003},\n}\n";

/// The state of the credit of the copied words in a draft, and the citations that are named.
fn credit(draft: &str) -> (CreditState, Vec<String>) {
    let references = format!("{HARROW_REFERENCE}\n{OTHER}");
    let files = Memory::from_iter([
        ("sources/harrow2019.txt", HARROW),
        ("references.bib", references.as_str()),
    ]);
    let review = Review::open_from(Arc::new(files), Path::new("."), &Options::default());
    let session = Session::new(review.unwrap());
    let read = from_bytes(draft.as_bytes().to_vec(), Format::Markdown).unwrap();
    let file = session.review.draft_of(Path::new("draft.md"), read.text);
    let report = session.lay(&file).report();
    let copied = report
        .findings
        .into_iter()
        .find(|finding| finding.source.is_some());
    let credit = copied.expect("the copied words are found").credit;
    let credit = credit.expect("credit is asked of a copy");
    (credit.state, credit.citations)
}

#[test]
fn the_citation_at_the_sentence_decides() {
    use CreditState::{Credited, Elsewhere, None};
    let (right, wrong) = ("(Harrow, 2019)", "(Vane, 2003)");
    let cases = [
        (format!("We saw that {COPIED} {right}."), Credited),
        (
            format!("We saw that {COPIED}. So it went on {right}."),
            Credited,
        ),
        (
            format!("So it began {right}. We saw that {COPIED}."),
            Credited,
        ),
        (format!("We saw that {COPIED} {wrong}."), Elsewhere),
        // The next sentence, or the one before, names the right work, and this one another.
        (
            format!("We saw that {COPIED} {wrong}. Others agree {right}."),
            Elsewhere,
        ),
        (
            format!("Others agree {right}. We saw that {COPIED} {wrong}."),
            Elsewhere,
        ),
        (
            format!(
                "We saw that {COPIED}.[^1] Others agree {right}.\n\n[^1]: Vane, *Ferries* (2003)."
            ),
            Elsewhere,
        ),
        // Both stand at the sentence.
        (
            format!("We saw that {COPIED} (Vane, 2003; Harrow, 2019)."),
            Credited,
        ),
        // For contrast, or pointing further.
        (
            format!("Others agree {right}. We saw that {COPIED} (but see Vane, 2003)."),
            Credited,
        ),
        (
            format!(
                "Others agree {right}. We saw that {COPIED} (see also Vane, 2003, for ferries)."
            ),
            Credited,
        ),
        (
            format!("Others agree {right}. Unlike Vane (2003), we saw that {COPIED}."),
            Credited,
        ),
        (
            format!("Others agree {right}. We saw that {COPIED}, whereas Vane (2003) did not."),
            Credited,
        ),
        (
            format!("Others agree {right}. We saw that {COPIED}; Vane (2003) disagrees."),
            Credited,
        ),
        (
            format!("Others agree {right}. As Vane (2003) says, {COPIED}."),
            Elsewhere,
        ),
        (
            format!(
                "In a long study of the harbour Vane (2003) says that {COPIED}. Others agree {right}."
            ),
            Elsewhere,
        ),
        (
            format!("But Vane (2003) says that {COPIED}. Others agree {right}."),
            Elsewhere,
        ),
        (
            format!(
                "While Vane (2003) holds otherwise, we saw that {COPIED}. Others agree {right}."
            ),
            Credited,
        ),
        // What no reference answers to decides nothing.
        (
            format!("We saw that {COPIED} (Nobody, 1950). Others agree {right}."),
            Credited,
        ),
        (
            format!("We saw that {COPIED}. Others agree {wrong}."),
            Elsewhere,
        ),
        (format!("We saw that {COPIED}."), None),
    ];
    for (draft, wanted) in cases {
        assert_eq!(credit(&draft).0, wanted, "{draft}");
    }
}

/// APA 7 section 8.1 and MLA 9 section 6.45 (from memory): a work named in the sentence holds until another is named or
/// the paragraph ends.
#[test]
fn a_work_named_in_the_sentence_holds_on() {
    use CreditState::{Credited, Elsewhere, None};
    let own = "It took long. Nobody helped. It rained.";
    let cases = [
        (
            format!("Harrow (2019) counted moths. {own} We saw that {COPIED}."),
            Credited,
        ),
        (
            format!("Harrow (2019) counted moths (p. 3). {own} We saw that {COPIED}."),
            Credited,
        ),
        // A work that is named after the passage does not take its credit away.
        (
            format!(
                "Harrow (2019) counted moths. {own} We saw that {COPIED}. Vane (2003) did not."
            ),
            Credited,
        ),
        (
            format!(
                "Harrow (2019) counted moths. Vane (2003) counted ferries. {own} We saw that {COPIED}."
            ),
            None,
        ),
        (
            format!(
                "Harrow (2019) counted moths, others ferries (Vane, 2003). {own} We saw that {COPIED}."
            ),
            None,
        ),
        (
            format!("Harrow (2019) counted moths.\n\n{own} We saw that {COPIED}."),
            None,
        ),
        // Only what is named in the sentence holds on, and no other work is blamed for it.
        (
            format!("Moths were counted (Harrow, 2019). {own} We saw that {COPIED}."),
            None,
        ),
        (
            format!("Vane (2003) counted ferries. {own} We saw that {COPIED}."),
            None,
        ),
        (
            format!("Harrow (2019) counted moths. {own} We saw that {COPIED} (Vane, 2003)."),
            Elsewhere,
        ),
    ];
    for (draft, wanted) in cases {
        assert_eq!(credit(&draft).0, wanted, "{draft}");
    }
}

#[test]
fn only_what_decides_is_named() {
    let draft = format!("We saw that {COPIED} (Vane, 2003). Others agree (Harrow, 2019).");
    assert_eq!(credit(&draft).1, ["(Vane, 2003)"]);
}

#[test]
fn a_source_named_as_reference_managers_name_it_is_credited() {
    let name = "sources/Harrow - 2019 - Campion after….txt";
    let files = Memory::from_iter([(name, HARROW), ("references.bib", HARROW_REFERENCE)]);
    let review = Review::open_from(Arc::new(files), Path::new("."), &Options::default());
    let review = review.unwrap();
    assert_eq!(review.sources[0].key.as_str(), "harrow2019");
    let left: Vec<String> = review
        .left_out
        .iter()
        .map(|left| format!("{}: {}", left.what, left.why))
        .collect();
    assert!(
        left.iter()
            .any(|left| left.contains("taken for Harrow (2019), key harrow2019")),
        "{left:?}"
    );
    let session = Session::new(review);
    let draft = format!("We saw that {COPIED} (Harrow, 2019).");
    let read = from_bytes(draft.into_bytes(), Format::Markdown).unwrap();
    let file = session.review.draft_of(Path::new("draft.md"), read.text);
    let report = session.lay(&file).report();
    let credit = report.findings[0].credit.as_ref().unwrap();
    assert_eq!(credit.state, CreditState::Credited);
}

#[test]
fn a_quotation_of_nobody_stored_is_not_laid_at_a_work_named_earlier() {
    let draft = "Harrow (2019) wrote of moths on twelve lanes. In my own street nobody thinks about insects. The baker rises at \
                 four and the postman at five. My neighbour said it to me over the fence: “I never leave my own porch light \
                 burning after supper anymore.”\n";
    let review = Folder::new()
        .reference(HARROW_REFERENCE)
        .source("harrow2019.txt", HARROW);
    let found = review.check(draft).json["drafts"][0]["findings"].clone();
    assert_eq!(found[0]["kind"], "quotation-without-credit", "{found}");
    assert_eq!(found.as_array().map(Vec::len), Some(1), "{found}");
    assert!(!found.to_string().contains("harrow2019"), "{found}");
}
