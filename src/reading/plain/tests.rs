use super::*;

/// The blocks as `kind: text`, line ends shown as `/`.
fn shown(content: &str) -> Vec<String> {
    let text = read(content.to_owned(), Origin::Same { skipped: 0 });
    text.blocks()
        .iter()
        .map(|block| {
            let name = match block.kind {
                BlockKind::Heading { level } => format!("h{level}"),
                kind => kind.name().to_owned(),
            };
            let slice = text
                .slice(block.range)
                .replace("\r\n", "/")
                .replace(['\n', '\r'], "/");
            format!("{name}: {slice}")
        })
        .collect()
}

#[test]
fn blocks_by_case() {
    let cases: &[(&str, &[&str])] = &[
        ("", &[]),
        (" \n\t\n\r\n ", &[]),
        ("Lamps dim.", &["paragraph: Lamps dim."]),
        (
            "Lamps\ndim.\n\n\nMoths\nfly.\n",
            &["paragraph: Lamps/dim.", "paragraph: Moths/fly."],
        ),
        (
            "Lamps\r\ndim.\r\n\r\nMoths.",
            &["paragraph: Lamps/dim.", "paragraph: Moths."],
        ),
        (
            "Lamps\rdim.\r\rMoths.",
            &["paragraph: Lamps/dim.", "paragraph: Moths."],
        ),
        (
            "Lamps.\n \t \nMoths.",
            &["paragraph: Lamps.", "paragraph: Moths."],
        ),
        (
            "Lamps.\n\n* * *\n\nMoths.",
            &["paragraph: Lamps.", "paragraph: Moths."],
        ),
        // Headings.
        (
            "Lamps at Night\n\nThey dim.",
            &["h2: Lamps at Night", "paragraph: They dim."],
        ),
        ("Lamps at Night", &["paragraph: Lamps at Night"]),
        (
            "They dim.\n\nLamps at Night",
            &["paragraph: They dim.", "paragraph: Lamps at Night"],
        ),
        (
            "Lamps dim.\n\nMoths fly.",
            &["paragraph: Lamps dim.", "paragraph: Moths fly."],
        ),
        (
            "They saw the\n\nLamps at Night\n\nThen.",
            &[
                "paragraph: They saw the",
                "paragraph: Lamps at Night",
                "paragraph: Then.",
            ],
        ),
        (
            "They saw Lamps\n\nand then left.",
            &["paragraph: They saw Lamps", "paragraph: and then left."],
        ),
        (
            "“Lamps at night”\n\nThen.",
            &["paragraph: “Lamps at night”", "paragraph: Then."],
        ),
        (
            "Lamps (Harrow, 2014)\n\nThen.",
            &["paragraph: Lamps (Harrow, 2014)", "paragraph: Then."],
        ),
        (
            "2.1 Lamps\n\nThey dim.",
            &["h3: 2.1 Lamps", "paragraph: They dim."],
        ),
        (
            "3 Which lamp?\n\nThis.",
            &["h2: 3 Which lamp?", "paragraph: This."],
        ),
        (
            "1. Lamps\n\nThey dim.",
            &["h2: 1. Lamps", "paragraph: They dim."],
        ),
        (
            "Lamps\n=====\nThey dim.\n\nMoths\n---\n\nThey fly.",
            &[
                "h1: Lamps",
                "paragraph: They dim.",
                "h2: Moths",
                "paragraph: They fly.",
            ],
        ),
        (
            "# Lamps\n\nThey dim.\n## Moths\nfly",
            &["h1: Lamps", "paragraph: They dim./## Moths/fly"],
        ),
        ("#1 of the lamps", &["paragraph: #1 of the lamps"]),
        // Quotations.
        (
            "He wrote:\n\n    Lamps dim\n    at night.\n\nSo it is.",
            &[
                "paragraph: He wrote:",
                "block quotation: Lamps dim/    at night.",
                "paragraph: So it is.",
            ],
        ),
        (
            "He wrote:\n\n\tLamps dim.\n\n\tMoths fly.\n\nSo it is, he said.",
            &[
                "paragraph: He wrote:",
                "block quotation: Lamps dim./\u{2f}\tMoths fly.",
                "paragraph: So it is, he said.",
            ],
        ),
        (
            "    Lamps dim.\n\n    Moths fly.",
            &["paragraph: Lamps dim.", "paragraph: Moths fly."],
        ),
        (
            "    Lamps dim\nat night.\n\n    Moths fly\nby day.",
            &[
                "paragraph: Lamps dim/at night.",
                "paragraph: Moths fly/by day.",
            ],
        ),
        (
            "He wrote:\n\n> Lamps dim\n> at night.\n\nSo.",
            &[
                "paragraph: He wrote:",
                "block quotation: > Lamps dim/> at night.",
                "paragraph: So.",
            ],
        ),
        // Lists.
        (
            "- Lamps\n- Moths\n  fly",
            &["list item: Lamps", "list item: Moths/  fly"],
        ),
        (
            "We saw:\n* Lamps\n* Moths",
            &["paragraph: We saw:", "list item: Lamps", "list item: Moths"],
        ),
        (
            "1. Lamps\n2) Moths",
            &["list item: Lamps", "list item: Moths"],
        ),
        (
            "1. Lamps\n\n2. Moths\n\n3. Plants",
            &["list item: Lamps", "list item: Moths", "list item: Plants"],
        ),
        (
            "They saw them in\n2014. It was night\n- or day",
            &["paragraph: They saw them in/2014. It was night/- or day"],
        ),
        (
            "- Lamps\n\n    They dim.\n\nSo it is and stays.",
            &[
                "list item: Lamps",
                "list item: They dim.",
                "paragraph: So it is and stays.",
            ],
        ),
        // Pages.
        (
            "[p. 3]\n\nLamps\n\n[p. 4]\n\nDim.\n\n[p. 5]\n\nMoths.",
            &["paragraph: Lamps//[p. 4]//Dim.", "paragraph: Moths."],
        ),
        (
            "Lamps\n[p. 4]\ndim.\n[p. 5]\nMoths.",
            &["paragraph: Lamps/[p. 4]/dim./[p. 5]/Moths."],
        ),
        (
            "Lamps dim\n\n[p. 4] at night.",
            &["paragraph: Lamps dim//[p. 4] at night."],
        ),
        (
            "Lamps dim.\n\n[p. 4] At night.",
            &["paragraph: Lamps dim.", "paragraph: At night."],
        ),
        (
            "[p. 1]\nLamps at Night\n\nThey dim.",
            &["h2: Lamps at Night", "paragraph: They dim."],
        ),
        // References.
        (
            "Lamps.\n\nReferences\n\nHarrow, A. (2014). Lamps.\n\nOkoro, B. (2016).",
            &[
                "paragraph: Lamps.",
                "h2: References",
                "reference: Harrow, A. (2014). Lamps.",
                "reference: Okoro, B. (2016).",
            ],
        ),
        (
            "Works Cited\nHarrow, A. (2014). Lamps.\nOkoro, B. (2016). Moths.",
            &[
                "h2: Works Cited",
                "reference: Harrow, A. (2014). Lamps.",
                "reference: Okoro, B. (2016). Moths.",
            ],
        ),
        (
            "References\n\nHarrow (2014).\n\nAppendix\n\nLamps.",
            &[
                "h2: References",
                "reference: Harrow (2014).",
                "h2: Appendix",
                "paragraph: Lamps.",
            ],
        ),
    ];
    let wrong: Vec<String> = cases
        .iter()
        .filter_map(|(content, expected)| {
            let found = shown(content);
            (found != *expected).then(|| format!("{content:?}\n  was {found:?}\n"))
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.concat());
}
