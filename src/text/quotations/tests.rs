use proptest::prelude::*;

use super::*;
use crate::text::{Origin, Pages};

/// The inner text of each quotation, with `>` for each level it lies deeper.
fn shown(text: &Text) -> Vec<String> {
    quotations(text)
        .iter()
        .map(|quotation| {
            let depth = ">".repeat(usize::from(quotation.depth));
            format!("{depth}{}", text.slice(quotation.inner))
        })
        .collect()
}

#[track_caller]
fn assert_quotations(cases: &[(&str, &[&str])]) {
    let wrong: Vec<String> = cases
        .iter()
        .filter_map(|(content, expected)| {
            let found = shown(&Text::paragraph(content));
            (found != *expected).then(|| format!("{content}\n  was {found:?}\n"))
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.concat());
}

#[test]
fn each_kind_of_mark() {
    assert_quotations(&[
        ("No marks at all.", &[]),
        ("He says “lamps dim” and goes.", &["lamps dim"]),
        ("He says \"lamps dim\" and goes.", &["lamps dim"]),
        ("He says ‘lamps dim’ and goes.", &["lamps dim"]),
        ("He says 'lamps dim' and goes.", &["lamps dim"]),
        ("Il dit « la nuit » et part.", &["la nuit"]),
        ("Il dit «\u{A0}la nuit\u{A0}» et part.", &["la nuit"]),
        ("Er sagt »die Nacht« und geht.", &["die Nacht"]),
        ("Er sagt „die Nacht“ und geht.", &["die Nacht"]),
        ("Er sagt ‚die Nacht‘ und geht.", &["die Nacht"]),
        ("Mówi „noc” i idzie.", &["noc"]),
        ("Hon säger ”natten” och går.", &["natten"]),
        ("Hon säger »natten» och går.", &["natten"]),
        (
            "Er sagt ›die Nacht‹, sie ‹la nuit›.",
            &["die Nacht", "la nuit"],
        ),
        ("“Lamps dim.” “Moths fly.”", &["Lamps dim.", "Moths fly."]),
        (
            "\"Lamps dim.\" \"Moths fly.\"",
            &["Lamps dim.", "Moths fly."],
        ),
        ("'Lamps dim.' 'Moths fly.'", &["Lamps dim.", "Moths fly."]),
        (
            "(\"lamps\"), [\"moths\"]; \"plants\".",
            &["lamps", "moths", "plants"],
        ),
        ("lamps—\"moths\"—plants", &["moths"]),
        (
            "*\"lamps\"* and _'moths'_ and \"*plants*\"",
            &["lamps", "moths", "*plants*"],
        ),
        ("\"Lamps dim.\"12 So \"moths.\"", &["Lamps dim.", "moths."]),
        ("\"lamps\"3 and \"moths\"", &["lamps", "moths"]),
        (
            "“Lamps dim. Moths fly.\nPlants wait” (p. 3).",
            &["Lamps dim. Moths fly.\nPlants wait"],
        ),
        (
            "\"... the lamps\" and \"moths ...\"",
            &["... the lamps", "moths ..."],
        ),
        (
            "\"[T]he lamps\" and '[t]he moths'",
            &["[T]he lamps", "[t]he moths"],
        ),
        ("“” and \"\" and ' '", &[]),
    ]);
}

#[test]
fn quotations_in_quotations() {
    assert_quotations(&[
        ("“a ‘b’ c”", &["a ‘b’ c", ">b"]),
        ("‘a “b” c’", &["a “b” c", ">b"]),
        ("\"a 'b' c\"", &["a 'b' c", ">b"]),
        ("'a \"b\" c'", &["a \"b\" c", ">b"]),
        ("“a ‘b “c” d’ e”", &["a ‘b “c” d’ e", ">b “c” d", ">>c"]),
        ("“‘a’ b”", &["‘a’ b", ">a"]),
        ("\"'a' b\"", &["'a' b", ">a"]),
        ("\"b 'a'\"", &["b 'a'", ">a"]),
        ("“b ‘a’”", &["b ‘a’", ">a"]),
        ("„a ‚b‘ c“", &["a ‚b‘ c", ">b"]),
        ("«a “b” c»", &["a “b” c", ">b"]),
        // Marks of the same kind left as they stood in the source.
        (
            "“It is “skyglow” there” (p. 3)",
            &["It is “skyglow” there", ">skyglow"],
        ),
        (
            "\"It is \"skyglow\" there\" (p. 3)",
            &["It is \"skyglow\" there", ">skyglow"],
        ),
    ]);
}

#[test]
fn apostrophes_are_no_quotation_marks() {
    assert_quotations(&[
        ("They don't and didn’t and don‘t.", &[]),
        ("The moths' wings and the lamps’ poles.", &[]),
        ("In the '90s and the ’90s and ‘90s.", &[]),
        ("The summer of '14 and '15 was dark.", &[]),
        ("Rock 'n' roll and rock ’n’ roll and rock ‘n’ roll.", &[]),
        ("'Tis dark, 'twas darker; get 'em.", &[]),
        ("A 5\" pipe, a 6' pole, 5'10\" tall, 3′ 4″.", &[]),
        (
            "'The moths' wings are grey' and 'so it is'.",
            &["The moths' wings are grey", "so it is"],
        ),
        (
            "‘The moths’ wings are grey’ and so.",
            &["The moths’ wings are grey"],
        ),
        (
            "‘They don’t fly’ and 'they can't see'.",
            &["They don’t fly", "they can't see"],
        ),
        ("The term 'moths' is old.", &["moths"]),
        ("The term 'moths' puzzles us.", &["moths"]),
        (
            "The terms ‘moths’ and ‘lamps’ are old.",
            &["moths", "lamps"],
        ),
        (
            "“The moths’ wings” and “the lamps' poles”.",
            &["The moths’ wings", "the lamps' poles"],
        ),
        (
            "“The moths' wings,” he said, “don't shine.”",
            &["The moths' wings,", "don't shine."],
        ),
        ("\"A 5\" pipe\" and \"lamps\".", &["A 5\" pipe", "lamps"]),
        ("\"In 2014\" and \"in 2016\".", &["In 2014", "in 2016"]),
        (
            "He wrote 'the '90s were dark' there.",
            &["the '90s were dark"],
        ),
        (
            "Harrow's 'dark sky' isn't Okoro's ‘dark sky’.",
            &["dark sky", "dark sky"],
        ),
    ]);
}

#[test]
fn a_mark_without_partner_turns_nothing_inside_out() {
    assert_quotations(&[
        ("He says “lamps dim and goes.", &[]),
        ("He says lamps dim” and goes.", &[]),
        ("“Lamps dim. He says “moths fly” and goes.", &["moths fly"]),
        ("“Lamps” dim” and “moths” fly.", &["Lamps", "moths"]),
        (
            "\"Lamps dim. He says \"moths fly\" and goes.",
            &["moths fly"],
        ),
        (
            "Lamps dim\" and \"moths fly\" and \"plants wait\".",
            &["moths fly", "plants wait"],
        ),
        ("Lamps \" dim and \"moths fly\" and so.", &["moths fly"]),
        ("\"Lamps dim \" and \"moths fly\".", &["moths fly"]),
        (
            "A 5\" lamp and \"moths\" and a 6\" pole and \"plants\".",
            &["moths", "plants"],
        ),
        ("'Lamps dim and 'moths fly' there.", &["moths fly"]),
        ("He says ‘lamps dim and “moths fly” there.", &["moths fly"]),
        ("“Lamps ‘dim” and moths’ wings.", &["Lamps ‘dim"]),
        ("« Lamps dim “moths fly” there.", &["moths fly"]),
        (
            "\"Lamps 'dim\" and \"moths' wings\".",
            &["Lamps 'dim", "moths' wings"],
        ),
    ]);
}

fn blocks(parts: &[(BlockKind, &str)]) -> Text {
    let mut content = String::new();
    let mut blocks = Vec::new();
    for (kind, part) in parts {
        let start = content.len();
        content.push_str(part);
        blocks.push(Block {
            kind: *kind,
            range: ByteRange::of(start, content.len()),
        });
        content.push_str("\n\n");
    }
    Text::new(content, blocks, Pages::default(), Origin::Recoded)
}

fn paragraphs(parts: &[&str]) -> Text {
    let parts: Vec<_> = parts
        .iter()
        .map(|part| (BlockKind::Paragraph, *part))
        .collect();
    blocks(&parts)
}

#[test]
fn a_quotation_of_several_paragraphs() {
    let text = paragraphs(&[
        "He writes: “One.",
        "“Two ‘b’.",
        "“Three.” So it is, “he says”.",
    ]);
    let expected = ["One.\n\n“Two ‘b’.\n\n“Three.", ">b", "he says"];
    assert_eq!(shown(&text), expected);
    let text = paragraphs(&["He writes: \"One.", "\"Two\" (p. 3)."]);
    assert_eq!(shown(&text), ["One.\n\n\"Two"]);
    let text = Text::paragraph("He writes: “One.\n\n“Two.\n\n“Three.” So.");
    assert_eq!(shown(&text), ["One.\n\n“Two.\n\n“Three."]);
}

#[test]
fn a_forgotten_mark_does_not_swallow_the_next_paragraph() {
    let text = paragraphs(&["He writes: “One.", "“Skyglow” is a term.", "“So.”"]);
    assert_eq!(shown(&text), ["Skyglow", "So."]);
    let text = paragraphs(&["He writes: “One.", "Then “two.”"]);
    assert_eq!(shown(&text), ["two."]);
}

#[test]
fn a_block_quotation_is_one_quotation() {
    let text = blocks(&[
        (BlockKind::Paragraph, "He writes:"),
        (BlockKind::BlockQuotation, "Lamps “dim” at night (p. 3)"),
        (BlockKind::BlockQuotation, "“All of it.”"),
        (BlockKind::ReferenceListItem, "Harrow. “Lamps.”"),
        (BlockKind::Code, "print(\"x\")"),
        (BlockKind::Table, "\"a\"\t\"b\""),
        (BlockKind::Footnote, "See “this”."),
    ]);
    let expected = [
        "Lamps “dim” at night (p. 3)",
        ">dim",
        "“All of it.”",
        ">All of it.",
        "a",
        "b",
        "this",
    ];
    assert_eq!(shown(&text), expected);
    assert_eq!(quotations(&text)[0].form, QuotationForm::Block);
    assert_eq!(quotations(&text)[1].form, QuotationForm::Inline);
}

fn marked_prose() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        5 => "[a-z]{1,6}",
        4 => "[ \n]{1,2}",
        6 => prop::sample::select("\"'“”‘’„‚«»‹›‟‛".chars().collect::<Vec<_>>()).prop_map(String::from),
        2 => "[.,;:!?()*_—0-9]",
        1 => Just("\n\n".to_owned()),
        1 => any::<char>().prop_map(String::from),
    ];
    prop::collection::vec(piece, 0..60).prop_map(|parts| parts.concat())
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 2000,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn quotations_nest(parts in prop::collection::vec((marked_prose(), any::<bool>()), 1..4)) {
        let parts: Vec<_> = parts
            .iter()
            .map(|(part, quoted)| {
                let kind = if *quoted { BlockKind::BlockQuotation } else { BlockKind::Paragraph };
                (kind, part.as_str())
            })
            .collect();
        let text = blocks(&parts);
        let found = quotations(&text);
        for (index, one) in found.iter().enumerate() {
            prop_assert!(text.content().get(one.outer.as_range()).is_some());
            prop_assert!(!text.slice(one.inner).is_empty());
            prop_assert!(one.outer.covers(one.inner));
            let holders = found[..index].iter().filter(|other| other.outer.covers(one.outer));
            prop_assert_eq!(holders.count(), usize::from(one.depth));
            for other in &found[index + 1..] {
                prop_assert!(one.outer <= other.outer || one.outer.covers(other.outer));
                prop_assert!(one.outer.covers(other.outer) || !one.outer.overlaps(other.outer));
            }
        }
    }

    #[test]
    fn a_quotation_among_plain_words_is_found(
        before in "[a-z]{2,8}( [a-z]{2,8}){0,4}",
        inside in "[a-r]{3,8}( [a-r]{2,8}){0,9}",
        behind in "[a-z]{2,8}( [a-z]{2,8}){0,4}",
        mark in prop::sample::select(vec![('“', '”'), ('‘', '’'), ('"', '"'), ('\'', '\''), ('«', '»')]),
    ) {
        let content = format!("{before} {}{inside}{} {behind}", mark.0, mark.1);
        prop_assert_eq!(shown(&Text::paragraph(&content)), [inside]);
    }
}
