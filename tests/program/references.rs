//! Bibliographies and reference lists as writers have them: encodings, line ends, accents, duplicates and
//! broken records, lists with headings of other languages, with numbers, or with no heading at all.

use crate::common::{HARROW, OWN, Review, text};

/// Words of Harrow's on page 113.
const QUOTED: &str = "heavy fliers pay a toll and light ones pay with the whole night";

const BIBTEX: &str = "@article{ödegård2019,\n  author = {Ödegård, Zoë},\n  title = {Grüne Lampen: café at night},\n  \
                      year = {2019},\n}\n";

const RIS: &str = "TY  - JOUR\nID  - ödegård2019\nAU  - Ödegård, Zoë\nTI  - Grüne Lampen: café at night\nPY  - 2019\nER  - \n";

/// A draft whose quotation is credited to Ödegård.
fn draft() -> String {
    format!("{OWN}\n\nIn short, “{QUOTED}” (Ödegård, 2019, p. 113).\n\n{OWN}\n")
}

fn utf_16(content: &str, little: bool) -> Vec<u8> {
    let units = std::iter::once(0xFEFF).chain(content.encode_utf16());
    let bytes = |unit: u16| {
        if little {
            unit.to_le_bytes()
        } else {
            unit.to_be_bytes()
        }
    };
    units.flat_map(bytes).collect()
}

/// The characters of Windows-1252 that the tests use.
fn windows_1252(content: &str) -> Vec<u8> {
    let byte = |c: char| match c {
        '“' => 0x93,
        '”' => 0x94,
        '–' => 0x96,
        c => u8::try_from(u32::from(c)).unwrap(),
    };
    content.chars().map(byte).collect()
}

/// Accents as marks of their own.
fn decomposed(content: &str) -> String {
    content
        .replace('Ö', "O\u{308}")
        .replace('ö', "o\u{308}")
        .replace('å', "a\u{30a}")
        .replace('ë', "e\u{308}")
        .replace('ü', "u\u{308}")
        .replace('é', "e\u{301}")
}

/// What makes a file of a text.
type Form = fn(&str) -> Vec<u8>;

/// The same files in every encoding, with every line end, with accents of either kind: nothing to find.
#[test]
fn encodings_and_line_ends() {
    let forms: [(&str, Form); 10] = [
        ("UTF-8", |text| text.as_bytes().to_vec()),
        ("UTF-8 with a mark", |text| {
            format!("\u{feff}{text}").into_bytes()
        }),
        ("UTF-16 little", |text| utf_16(text, true)),
        ("UTF-16 big", |text| utf_16(text, false)),
        ("Windows-1252", windows_1252),
        ("CRLF", |text| text.replace('\n', "\r\n").into_bytes()),
        ("CR", |text| text.replace('\n', "\r").into_bytes()),
        ("NEL", |text| text.replace('\n', "\u{85}").into_bytes()),
        ("decomposed", |text| decomposed(text).into_bytes()),
        ("UTF-16 CRLF", |text| {
            utf_16(&text.replace('\n', "\r\n"), true)
        }),
    ];
    for (name, form) in forms {
        let review = || Review::new().source("ödegård2019.txt", form(HARROW));
        for (bibliography, content, draft_name) in [
            ("references.bib", BIBTEX, "drafts/draft.md"),
            ("references.ris", RIS, "drafts/draft.txt"),
        ] {
            let review = review().file(bibliography, form(content));
            let checked = review.check_as(draft_name, form(&draft()));
            assert!(
                checked.findings().is_empty(),
                "{name}: {:#?}",
                checked.brief()
            );
            // The page is read: another one is a mismatch.
            let wrong = draft().replace("p. 113", "p. 114");
            let checked = review.check_as(draft_name, form(&wrong));
            assert_eq!(checked.kinds(), ["page-mismatch"], "{name}, {draft_name}");
        }
    }
}

/// Keys and names are the same with composed and decomposed accents.
#[test]
fn accents_of_either_kind_match() {
    let cites = [
        "@ödegård2019 [p. 113]",
        "Ödegård (2019, p. 113)",
        "[@ödegård2019, p. 113]",
    ];
    for cite in cites {
        for decompose in [false, true] {
            let form = |text: &str| {
                if decompose {
                    decomposed(text)
                } else {
                    text.to_owned()
                }
            };
            let review = Review::new()
                .file("references.bib", decomposed(BIBTEX))
                .source("ödegård2019.txt", HARROW);
            let draft = format!("{OWN}\n\nIn short, “{QUOTED}”, says {}.\n", form(cite));
            let checked = review.check(&draft);
            assert!(
                checked.findings().is_empty(),
                "{cite}: {:#?}",
                checked.brief()
            );
        }
    }
}

#[test]
fn duplicates_and_broken_records_are_told_and_harm_nothing() {
    let bibliography = "@article{harrow2019, author = {Harrow, Anna}, title = {Campion after eleven}, year = {2019}, doi = {10.1/x}}\n\
                        @article{harrow19, author = {Harrow, A.}, title = {Campion After Eleven}, year = {2019}}\n\
                        @article{other, author = {Other, Ben}, title = {Lamps of it}, year = {2018}, doi = {https://doi.org/10.1/X}}\n\
                        @article{harrow2019, author = {Vane, Cara}, title = {Another}, year = {2011}}\n\
                        @article{broken, author = {Okoro, Ben, title = {Never closed}\n";
    let review = Review::new()
        .reference(bibliography)
        .source("harrow2019.txt", HARROW);
    let draft = format!("{OWN}\n\nIn short, “{QUOTED}” (Harrow, 2019, p. 113).\n");
    let checked = review.check(&draft);
    checked.assert_kinds(&[]);
    let told: Vec<&str> = checked.json["left_out"]
        .as_array()
        .unwrap()
        .iter()
        .map(|item| text(&item["why"]))
        .collect();
    for part in [
        "harrow19 has the same authors, year and title as harrow2019",
        "other has the same DOI as harrow2019",
        "the key harrow2019 appears a second time",
        "never closed",
    ] {
        assert!(
            told.iter().any(|why| why.contains(part)),
            "{part} is not in {told:#?}"
        );
    }
}

/// Numbers lead through the draft's own list to the reference, whatever stands over it.
#[test]
fn lists_in_drafts_lead_to_references() {
    let harrow = "Harrow, A. (2019). Campion after eleven. *Annals of the Unlit Lane*, 113–114.";
    let quill = "Quill, B. (2016). *The long blink*. Lantern Gate Press.";
    let review = Review::of_two();
    for heading in [
        "# References",
        "## Literaturverzeichnis",
        "# 7. Références",
        "# Källor",
        "",
    ] {
        let numbered = format!(
            "{heading}\n\n1. {harrow}\n2. {quill}\n3. Vane, C. (2001). Lamps. Night Press.\n"
        );
        let plain =
            format!("{heading}\n\n{harrow}\n\n{quill}\n\nVane, C. (2001). Lamps. Night Press.\n");
        for (list, cites, none) in [
            (&numbered, ["[1, p. 113]", "[2]", "[3]"], "[9]"),
            (&numbered, ["(1, p. 113)", "(2)", "(3)"], "[9]"),
            (
                &plain,
                ["(Harrow, 2019, p. 113)", "(Quill, 2016)", "(Vane, 2001)"],
                "(Okoro, 2003)",
            ),
        ] {
            let [first, second, third] = cites;
            let body = format!(
                "{OWN}\n\nIn short, “{QUOTED}” {first}. Others differ {second}, or agree {third}.\n\n"
            );
            let checked = review.check(&format!("{body}{list}"));
            assert!(
                checked.findings().is_empty(),
                "{heading} {cites:?}: {:#?}",
                checked.brief()
            );
            let checked = review.check(&format!("{}{list}", body.replace(third, none)));
            assert_eq!(
                checked.kinds(),
                ["cited-not-listed", "listed-not-cited"],
                "{heading} {cites:?}"
            );
        }
    }
}

/// A list may give a title in another language or a year of another edition; its DOI says which work it is.
#[test]
fn a_list_entry_is_the_work_of_its_doi() {
    let review = Review::of_two().reference(
        "@article{campion, author = {Harrow, Anna}, title = {Nights of the campion}, year = {2018}, doi = {10.5555/Campion}}",
    );
    let review = review.source("campion.txt", "[p. 7]\n\nNobody counted the nights on which the campion stood open for no visitor at all.\n");
    let check = |page: u8, doi: &str| {
        review.check(&format!(
            "{OWN}\n\nIn short, “nobody counted the nights on which the campion stood open” [1, p. {page}].\n\n\
             # References\n\n[1] Harrow, A. (2020). Lichtnelkennächte. {doi}\n"
        ))
    };
    let doi = "https://doi.org/10.5555/CAMPION";
    check(7, doi).assert_silent();
    check(8, doi).assert_kinds(&["page-mismatch"]);
    // Without it there is nothing to look the page up in.
    check(8, "").assert_silent();
}
