//! Quotations by the published rules: for each rule what may stand between the marks and what may not, and
//! which finding it gives. Sections of the style manuals are named from memory: APA 7 (2020), Chicago 17
//! (2017), MLA 9 (2021). All words are invented.

use crate::common::{Checked, Review, text};

/// The source. Between the first and the last page lies more than an ellipsis may stand for.
fn vane() -> String {
    let own =
        "Each week somebody rowed out to trim another wick and came home smelling of tallow. ";
    format!(
        "[p. 12]\n\n\
         The keepers of the lower town were paid by the dark hour and not by the lamp. “Nobody,” wrote their \
         clerk, “has ever thanked us for a night without light.” Every colour of lantern drew moths, and the \
         grey ones came first.3 On clear nights the keepers walked the quay and counted wings; on wet nights \
         they counted coins. Whoever looked after the out-\nermost post had to walk the farthest, past the \
         street-\nlight by the mole, and was paid the least, which seemed quite natural to everybody. They \
         recieved no coat—only a ﬁfth of a candle. By the time the last bell had rung and the\n\n\
         [p. 13]\n\n\
         ferry had crossed for good, not one lamp was burning on the water side. The moths returned to the \
         the privet within minutes. Creel once told the harbour board that “a lamp is a promise made to the \
         wrong animal”. Their numbers were not large, but they were moths that fed.\n\n\
         {}\n\n[p. 14]\n\n{}\n\n[p. 15]\n\n\
         A town that counts its lamps should also count its shadows. Nothing else is owed to the privet.\n",
        own.repeat(14),
        own.repeat(14)
    )
}

const ORRIN: &str = "[p. 71]\n\nIn our survey the hedge was a road with all its inns open, and the owls knew \
    every one of them by name.\n";

const REFERENCES: &str = "\
@book{vane2003, author = {Vane, Tilda}, title = {Dark money}, publisher = {Lantern Gate Press}, year = {2003}}
@book{orrin2011, author = {Orrin, Piet}, title = {Hedge survey}, publisher = {Lantern Gate Press}, year = {2011}}
@book{creel1903, author = {Creel, Josiah}, title = {Evidence}, publisher = {Harbour Board}, year = {1903}}
";

/// A rule with its origin, a sentence of a draft, and the findings on it: `kind`, or `kind: words of the advice`.
struct Rule {
    rule: &'static str,
    draft: &'static str,
    found: &'static [&'static str],
}

const fn rule(rule: &'static str, draft: &'static str, found: &'static [&'static str]) -> Rule {
    Rule { rule, draft, found }
}

const ALTERED: &[&str] = &["altered-quotation"];
const FINE: &[&str] = &[];

const RULES: &[Rule] = &[
    // Brackets: APA 7, 8.31; Chicago 17, 13.59-13.60; MLA 9, 6.55, 6.65.
    rule(
        "an explanation in brackets",
        "\"they counted coins [of copper]\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "a name in brackets for a pronoun",
        "\"on wet nights [the keepers] counted coins\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "a changed letter in brackets",
        "\"[T]he keepers walked the quay and counted wings\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "a changed ending in brackets",
        "\"the keepers walk[ed] the quay and count[ed] wings\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "another tense in brackets",
        "\"the keepers [walk] the quay and [count] wings\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "brackets do not stand for a sentence",
        "\"were paid by the dark hour and not by the lamp [and] the keepers walked the quay and counted wings\" \
         (Vane, 2003, p. 12).",
        ALTERED,
    ),
    rule(
        "an insertion without brackets",
        "\"on wet nights they mostly counted coins\" (Vane, 2003, p. 12).",
        ALTERED,
    ),
    rule(
        "round brackets are no square ones",
        "\"on wet nights they (the keepers) counted coins\" (Vane, 2003, p. 12).",
        ALTERED,
    ),
    // Ellipsis: APA 7, 8.31; Chicago 17, 13.50-13.58; MLA 9, 6.59-6.63.
    rule(
        "three dots",
        "\"the keepers walked the quay ... they counted coins\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "three spaced dots",
        "\"the keepers walked the quay . . . they counted coins\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "the character",
        "\"the keepers walked the quay … they counted coins\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "in brackets",
        "\"the keepers walked the quay [...] they counted coins\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "the character in brackets",
        "\"the keepers walked the quay […] they counted coins\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "four dots across sentences",
        "\"and not by the lamp. . . . Every colour of lantern drew moths\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "four close dots across sentences",
        "\"and not by the lamp.... Every colour of lantern drew moths\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "at start and end",
        "\"... the keepers walked the quay and counted wings ...\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "an omission without ellipsis",
        "\"were paid by the hour and not by the lamp\" (Vane, 2003, p. 12).",
        ALTERED,
    ),
    rule(
        "an ellipsis does not cover a changed word",
        "\"The keepers of the upper town were paid by the dark hour ... On clear nights the keepers walked the \
         quay\" (Vane, 2003, p. 12).",
        ALTERED,
    ),
    rule(
        "nor one far behind it",
        "\"The keepers of the lower town were paid by the dark hour ... not one lamp was shining on the water \
         side\" (Vane, 2003, pp. 12-13).",
        ALTERED,
    ),
    // [sic] and remarks: APA 7, 8.31-8.32; Chicago 17, 13.61-13.62; MLA 9, 6.57, 6.60.
    rule(
        "sic",
        "\"They recieved [sic] no coat\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "sic in italics",
        "\"The moths returned to the the [*sic*] privet within minutes\" (Vane, 2003, p. 13).",
        FINE,
    ),
    rule(
        "emphasis added inside",
        "\"Every colour of lantern *drew* [emphasis added] moths\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "emphasis added in the citation",
        "\"Every colour of lantern *drew* moths\" (Vane, 2003, p. 12, emphasis added).",
        FINE,
    ),
    rule(
        "emphasis in the original, in brackets of its own",
        "\"Every colour of lantern *drew* moths\" (Vane, 2003, p. 12) (emphasis in original).",
        FINE,
    ),
    rule(
        "italics mine inside",
        "\"Every colour of lantern *drew* (italics mine) moths\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "a misprint corrected without saying so",
        "\"They received no coat\" (Vane, 2003, p. 12).",
        &["altered-quotation: misprint"],
    ),
    rule(
        "a word mistyped",
        "\"the keepers wlaked the quay and counted wings\" (Vane, 2003, p. 12).",
        &["altered-quotation: mistyped"],
    ),
    // What needs no notice: APA 7, 8.30; Chicago 17, 13.7-13.8; MLA 9, 6.54, 6.67.
    rule(
        "another initial capital",
        "She says that \"every colour of lantern drew moths\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "the final mark inside",
        "Of that \"not one lamp was burning on the water side,\" she is sure (Vane, 2003, p. 13).",
        FINE,
    ),
    rule(
        "the final mark outside",
        "\"not one lamp was burning on the water side\"; so she writes (Vane, 2003, p. 13).",
        FINE,
    ),
    rule(
        "single marks inside double ones",
        "\"‘Nobody,’ wrote their clerk, ‘has ever thanked us for a night without light’\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "double marks inside single ones",
        "‘“Nobody,” wrote their clerk, “has ever thanked us for a night without light”’ (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "a word that the source breaks at its line's end",
        "\"Whoever looked after the outermost post had to walk the farthest\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "a compound that the source breaks at its hyphen",
        "\"past the street-light by the mole\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "ligatures, dashes, marks and spaces",
        "\"no coat - only a fifth  of a\u{a0}candle\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "the number of a footnote left out",
        "\"Every colour of lantern drew moths, and the grey ones came first. On clear nights the keepers walked \
         the quay\" (Vane, 2003, p. 12).",
        FINE,
    ),
    rule(
        "a number that is none of a footnote",
        "\"Every colour of lantern drew 3 moths, and the grey ones came first\" (Vane, 2003, p. 12).",
        ALTERED,
    ),
    // Spelling is the source's: APA 7, 8.31; Chicago 17, 13.7; MLA 9, 6.54.
    rule(
        "American for British",
        "\"Every color of lantern drew moths\" (Vane, 2003, p. 12).",
        &["altered-quotation: spelling"],
    ),
    rule(
        "two words for one",
        "\"which seemed quite natural to every body\" (Vane, 2003, p. 12).",
        &["altered-quotation: spelling"],
    ),
    rule(
        "another word",
        "\"Every shade of lantern drew moths\" (Vane, 2003, p. 12).",
        &["altered-quotation: brackets for what you put in"],
    ),
    // Pages: APA 7, 8.25; Chicago 17, 9.60, 14.148; MLA 9, 6.18.
    rule(
        "words over the page with both pages",
        "\"By the time the last bell had rung and the ferry had crossed for good\" (Vane, 2003, pp. 12-13).",
        FINE,
    ),
    rule(
        "words over the page with the first page only",
        "\"By the time the last bell had rung and the ferry had crossed for good\" (Vane, 2003, p. 12).",
        &["page-mismatch: begin there and run over to p. 13. Cite both pages: pp. 12–13"],
    ),
    rule(
        "words over the page with the last page only",
        "\"By the time the last bell had rung and the ferry had crossed for good\" (Vane, 2003, p. 13).",
        &["page-mismatch: begin before, on p. 12. Cite both pages: pp. 12–13"],
    ),
    rule(
        "words of one page with a range around it",
        "\"Their numbers were not large, but they were moths that fed\" (Vane, 2003, pp. 12-13).",
        FINE,
    ),
    rule(
        "a wrong range",
        "\"Their numbers were not large, but they were moths that fed\" (Vane, 2003, pp. 14-15).",
        &["page-mismatch: on p. 13"],
    ),
    // Two places: APA 7, 8.31; Chicago 17, 13.51; MLA 9, 6.63.
    rule(
        "two places without notice",
        "\"Their numbers were not large, but a town that counts its lamps should also count its shadows\" (Vane, \
         2003, pp. 13-15).",
        &["altered-quotation: at two places (p. 13 and p. 15). Nothing in the quotation says so"],
    ),
    rule(
        "two places with an ellipsis that can't stand for so much",
        "\"Their numbers were not large ... A town that counts its lamps should also count its shadows\" (Vane, \
         2003, pp. 13-15).",
        &["altered-quotation: at two places (p. 13 and p. 15). An ellipsis"],
    ),
    rule(
        "two places in another order",
        "\"they were moths that fed ... not one lamp was burning on the water side\" (Vane, 2003, p. 13).",
        &["altered-quotation: at two places"],
    ),
    rule(
        "two places as two quotations",
        "\"Their numbers were not large\" (Vane, 2003, p. 13). \"A town that counts its lamps should also count its \
         shadows\" (Vane, 2003, p. 15).",
        FINE,
    ),
    // Whose words: APA 7, 8.6; Chicago 17, 14.260; MLA 9, 6.77.
    rule(
        "another stored work has the words",
        "\"the hedge was a road with all its inns open\" (Vane, 2003, p. 12).",
        &["credit-elsewhere: Orrin (2011) has exactly these words (p. 71)"],
    ),
    rule(
        "another stored work has the words and the cited one is not stored",
        "\"the hedge was a road with all its inns open\" (Creel, 1903, p. 4).",
        &["credit-elsewhere: The cited work is not stored, and the text of Orrin (2011)"],
    ),
    rule(
        "another stored work has words like these and the cited one is not stored",
        "\"the hedge was a street with all its inns shut\" (Creel, 1903, p. 4).",
        &["quotation-not-found: not among the stored sources"],
    ),
    rule(
        "the page of the work that has the words, of several cited",
        "\"the hedge was a road with all its inns open\" (Vane, 2003, p. 12; Orrin, 2011, p. 71).",
        FINE,
    ),
    rule(
        "a wrong page of the work that has the words, of several cited",
        "\"the hedge was a road with all its inns open\" (Vane, 2003, p. 71; Orrin, 2011, p. 12).",
        &["page-mismatch: says p. 12"],
    ),
    rule(
        "as cited in: the work that was read has the words",
        "Creel saw \"a promise made to the wrong animal\" (1903, as cited in Vane, 2003, p. 13).",
        FINE,
    ),
    rule(
        "quoted in, by its page",
        "Creel saw \"a promise made to the wrong animal\" (quoted in Vane, 2003, p. 12).",
        &["page-mismatch: on p. 13"],
    ),
    rule(
        "as cited in a work that does not have them",
        "Creel saw \"a promise made to the wrong animal\" (Creel, 1903, as cited in Orrin, 2011, p. 71).",
        &["credit-elsewhere: Vane (2003) has exactly these words (p. 13)"],
    ),
    // Translations of one's own: APA 7, 8.16; Chicago 17, 11.14; MLA 9, 6.76.
    rule(
        "my translation",
        "\"the night keeps its own accounts of us\" (Vane, 2003, p. 12, my translation).",
        FINE,
    ),
    rule(
        "translated by the author, in brackets of its own",
        "\"the night keeps its own accounts of us\" (Vane, 2003, p. 12) [translated by the author].",
        FINE,
    ),
    rule(
        "no translation and not in the source",
        "\"the night keeps its own accounts of us\" (Vane, 2003, p. 12).",
        &["quotation-not-found: does not have these words"],
    ),
];

fn review() -> Review {
    Review::new()
        .reference(REFERENCES)
        .source("vane2003.txt", vane())
        .source("orrin2011.txt", ORRIN)
}

/// What is found, of citations and entries apart: those are other rules' matter.
fn found(checked: &Checked, draft: usize) -> Vec<(String, String)> {
    let findings = checked.json["drafts"][draft]["findings"]
        .as_array()
        .unwrap();
    findings
        .iter()
        .map(|finding| {
            let of = |name: &str| text(&finding[name]).to_owned();
            (of("kind"), of("advice"))
        })
        .filter(|(kind, _)| !kind.starts_with("cited") && !kind.starts_with("listed"))
        .collect()
}

#[test]
fn every_rule() {
    let mut review = review();
    let name = |number: usize| format!("drafts/{number}.md");
    for (number, rule) in RULES.iter().enumerate() {
        review = review.file(&name(number), format!("{}\n", rule.draft));
    }
    let names: Vec<String> = (0..RULES.len()).map(name).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let checked = review.check_with(&names);
    let mut wrong = Vec::new();
    for (number, rule) in RULES.iter().enumerate() {
        let found = found(&checked, number);
        let is_like =
            |(kind, advice): &(String, String), wanted: &str| match wanted.split_once(": ") {
                Some((wanted, words)) => kind == wanted && advice.contains(words),
                None => kind == wanted,
            };
        let same = found.len() == rule.found.len()
            && found
                .iter()
                .zip(rule.found)
                .all(|(found, wanted)| is_like(found, wanted));
        if !same {
            wrong.push(format!(
                "{}\n  {}\n  wanted {:?}\n  found {found:#?}",
                rule.rule, rule.draft, rule.found
            ));
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}
