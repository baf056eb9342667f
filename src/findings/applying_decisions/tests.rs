use super::super::{DraftPlace, Kind, Weight};
use super::*;

const COPY: &str = "the moths stay at the lamp until the morning comes";

/// What stands on every place where the words stand, in order.
fn seen(text: &Text, words: &[&str]) -> Vec<Observation> {
    let mut found: Vec<Observation> = words
        .iter()
        .flat_map(|words| text.content().match_indices(words))
        .map(|(at, words)| {
            let place = DraftPlace {
                range: ByteRange::of(at, at + words.len()),
                line: text.line(at),
                page: None,
                text: words.to_owned(),
            };
            Observation::new(
                Kind::UnmarkedCopy,
                Weight::Act,
                place,
                "Quote it.".to_owned(),
            )
        })
        .collect();
    found.sort_by_key(|finding| finding.draft.range);
    found
}

fn applied(decisions: &Decisions, content: &str, words: &[&str]) -> (Vec<Finding>, Vec<Lapsed>) {
    let text = Text::paragraph(content);
    findings(decisions, "draft.md", &text, seen(&text, words))
}

/// Decisions on some of the findings in a text.
fn decide(content: &str, words: &[&str], which: &[usize]) -> Decisions {
    let (findings, _) = applied(&Decisions::default(), content, words);
    let decision = |number: &usize| {
        let finding = &findings[*number];
        Decision {
            id: id::without_count(&finding.id).to_owned(),
            place: finding.surroundings.clone(),
            kind: finding.kind.name().to_owned(),
            draft: "draft.md".to_owned(),
            on: "2026-03-02".to_owned(),
            because: format!("reason {number}"),
            text: excerpt(&finding.draft.text),
        }
    };
    Decisions::new(which.iter().map(decision).collect())
}

/// Which of the findings are settled, by the number in the reason.
fn reasons(findings: &[Finding]) -> Vec<Option<&str>> {
    findings
        .iter()
        .map(|finding| {
            finding
                .settled
                .as_ref()
                .map(|settled| settled.because.as_str())
        })
        .collect()
}

#[test]
fn equal_passages_keep_their_own_decisions() {
    let before =
        format!("We know that {COPY} in every lane of the town. And yet {COPY} says nobody here.");
    let settled = decide(&before, &[COPY], &[1]);
    let table = [
        // as it was
        (before.clone(), vec![None, Some("reason 1")]),
        // another one before them, another one behind
        (
            format!("First of all {COPY} again and again. {before}"),
            vec![None, None, Some("reason 1")],
        ),
        (
            format!("{before} Once more {COPY} as was said."),
            vec![None, Some("reason 1"), None],
        ),
        // the other one is gone
        (
            format!("And yet {COPY} says nobody here."),
            vec![Some("reason 1")],
        ),
        // they change places
        (
            format!(
                "And yet {COPY} says nobody here. We know that {COPY} in every lane of the town."
            ),
            vec![Some("reason 1"), None],
        ),
        // the words on one side change
        (
            format!(
                "We know that {COPY} in every lane of the town. And still {COPY} says nobody here."
            ),
            vec![None, Some("reason 1")],
        ),
        // only one is left and its neighbours have changed: the words are the same
        (
            format!("Elsewhere it is said: {COPY}."),
            vec![Some("reason 1")],
        ),
        // two are left and nothing shows which was meant: both stay open
        (format!("Here {COPY}, but there {COPY}."), vec![None, None]),
    ];
    for (content, wanted) in table {
        let (findings, _) = applied(&settled, &content, &[COPY]);
        assert_eq!(reasons(&findings), wanted, "{content}");
    }
}

#[test]
fn wrapping_and_marks_change_nothing() {
    let before = format!("We know that {COPY} in every lane.");
    let settled = decide(&before, &[COPY], &[0]);
    let wrapped = COPY.replace(" at the", "\n  at the");
    let content = before
        .replace(COPY, &wrapped)
        .replace("know that", "know\nthat");
    let (findings, lapsed) = applied(&settled, &content, &[&wrapped]);
    assert_eq!(reasons(&findings), [Some("reason 0")]);
    assert!(lapsed.is_empty());
}

#[test]
fn a_changed_passage_lapses_and_a_mended_one_is_no_news() {
    let before = format!("We know that {COPY} in every lane.");
    let settled = decide(&before, &[COPY], &[0]);
    let changed = "the moths all stay at the lamp until the morning comes";
    let (changed_findings, lapsed) =
        applied(&settled, &format!("We know that {changed}."), &[changed]);
    assert_eq!(reasons(&changed_findings), [None]);
    assert_eq!(lapsed.len(), 1);
    assert_eq!(lapsed[0].now, changed_findings[0].id);
    assert_eq!(lapsed[0].on, "2026-03-02");
    let other = "the clerks counted every last bus that went by at night";
    for (content, words) in [
        ("Nothing here.".to_owned(), other),
        (format!("So {other}."), other),
    ] {
        let (_, lapsed) = applied(&settled, &content, &[words]);
        assert!(lapsed.is_empty(), "{content}");
    }
    // Of another draft nothing is said here.
    let text = Text::paragraph(changed);
    let (_, lapsed) = findings(&settled, "other.md", &text, seen(&text, &[changed]));
    assert!(lapsed.is_empty());
}

#[test]
fn another_kind_on_the_same_words_is_not_settled_with_it() {
    let before = format!("We know that {COPY}.");
    let settled = decide(&before, &[COPY], &[0]);
    let text = Text::paragraph(&before);
    let mut other = seen(&text, &[COPY]);
    other[0].kind = Kind::CloseParaphrase;
    let (other, _) = findings(&settled, "draft.md", &text, other);
    assert!(other[0].settled.is_none());
    // Nor is a decision whose ID fits and whose kind does not.
    let changed = settled.all().iter().map(|decision| Decision {
        kind: Kind::CloseParaphrase.name().to_owned(),
        ..decision.clone()
    });
    let changed = Decisions::new(changed.collect());
    let (same, _) = findings(&changed, "draft.md", &text, seen(&text, &[COPY]));
    assert!(same[0].settled.is_none());
    let (same, _) = findings(&settled, "draft.md", &text, seen(&text, &[COPY]));
    assert!(same[0].settled.is_some());
}

#[test]
fn surroundings_never_cut_a_character() {
    let text = Text::paragraph("äöü – ß « é » 漢字 and so on");
    for (start, _) in text.content().char_indices() {
        for (end, _) in text
            .content()
            .char_indices()
            .filter(|(end, _)| *end >= start)
        {
            assert_eq!(surroundings(&text, ByteRange::of(start, end)).len(), 8);
        }
    }
}

#[test]
fn the_words_around_are_the_same_however_long_the_sentence() {
    let long = |number: usize| {
        let words = (0..number).map(|number| format!("wörd{number}"));
        words.collect::<Vec<_>>().join(" ")
    };
    let blank = "  \n".repeat(BYTES_AROUND);
    let texts = [
        String::new(),
        "Short.".to_owned(),
        long(3),
        long(500),
        format!("First one. {}", long(500)),
        format!("{}. Last", long(500)),
        format!("{}{blank}", long(500)),
        format!("{blank}{}", long(500)),
        "x".repeat(5 * BYTES_AROUND),
        format!("a b {} c d", "ü".repeat(3 * BYTES_AROUND)),
    ];
    let is_end = |c: char| matches!(c, '.' | '?' | '!');
    for text in &texts {
        for from_end in [true, false] {
            let whole = match from_end {
                true => text.rsplit(is_end).next(),
                false => text.split(is_end).next(),
            };
            let around = |text| words(text, from_end).take(WORDS_AROUND).collect::<Vec<_>>();
            let beside = sentence_beside(text, from_end);
            assert_eq!(around(beside), around(whole.unwrap()), "{text}");
        }
    }
}
