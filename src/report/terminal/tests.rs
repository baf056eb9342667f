//! The printed report as a whole.

use unicode_width::UnicodeWidthStr;

use super::*;
use crate::findings::{Finding, Kind, Settled};
use crate::report::samples;
use crate::review::Why;

/// Everything there is to show.
const ALL: Shown = Shown {
    explained: true,
    settled: true,
};

fn shown(report: &CheckReport, width: usize, colours: Colours) -> String {
    let mut out = Vec::new();
    write(report, &Look::new(width, colours), ALL, &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

fn plain(report: &CheckReport) -> String {
    shown(report, 80, Colours::Off)
}

/// A report on one draft with the given findings.
fn report_of(findings: Vec<Finding>) -> CheckReport {
    let mut report = samples::report();
    report.drafts.truncate(1);
    report.drafts[0].findings = findings;
    report
}

/// The text with its escape codes taken out.
fn without_codes(text: &str) -> String {
    let mut parts = text.split('\u{1b}');
    let mut bare = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        bare.push_str(part.split_once('m').unwrap().1);
    }
    bare
}

#[test]
fn a_finding_as_printed_at_80_columns() {
    let finding = samples::close_paraphrase();
    let look = Look::new(80, Colours::Off);
    let mut scale = Vec::new();
    let position = samples::MEASURES.position();
    // The boundaries of the scale are measured, so the place on it is not written out here.
    scale::write_one(
        &mut Sheet::new(&mut scale, &look),
        finding.degree.unwrap(),
        position,
    )
    .unwrap();
    let scale = String::from_utf8(scale).unwrap();
    let expected = format!(
        "\
 1. Much of the source's wording is kept (close-paraphrase)
    chapter.md:14, page 7 · worth a look · ID k7mw-2f9d

   draft   Pollen is transported less far where the lights stay on until
           ========= ~~~~~~~~~~~ ================== ~~~~~~ ----    =====
           morning, because the moths that would carry it circle below the lamps
           =======              ========================= ------ ===============
           and are caught there by bats (Harrow, 2019).
           ===
   source  Harrow (2019), pp. 14-15 [harrow2019]
           Pollen is carried less far where the lamps stay lit until morning:
           ========= ~~~~~~~ ================== ~~~~~ ----     =============
           the moths that would carry it are circling below the lamps, and there
               =========================     -------- ====================
           the bats take them.

{scale}   why     19 of 31 words stand in shared strings; the longest has 5. 11 of 14
           content words kept, 2 of them as synonyms; in the same order. 22½
           kept in sequence, of 31 here and 29 there. Unique links: 52 % of
           words, Keck's near copy (2006, from memory).
   credit  the source is named nearby: (Harrow, 2019)
   also in okoro2021
   trail   chapter.md:14: close already in the note
           <- near copy (0.18) from notes/lamps.md, summary of harrow2019
           <- verbatim (0.01) from Harrow (2019), pp. 14-15
   mend    The idea is credited, but the sentence keeps the source's frame.
           Write the point again from memory, or quote the part whose wording
           matters.
"
    );
    let printed = plain(&report_of(vec![finding]));
    assert!(printed.contains(&expected), "{printed}");
}

#[test]
fn quotations_and_citations_are_shorter() {
    let printed = plain(&report_of(vec![
        samples::altered_quotation(),
        samples::cited_not_listed(),
    ]));
    let expected = "\
 1. A quotation differs from its source (altered-quotation)
    chapter.md:21 · please mend · ID a3qx-81nb

   draft   “they circle until the light is gone”
   source  Harrow (2019), p. 16 [harrow2019]
           they circle until the light fails
   differs \"is gone\" in the draft, \"fails\" in the source
           the draft leaves out \"at last\"
   mend    Copy the words again from page 16, or show the change with
           [brackets].

 2. A cited work is not among the references (cited-not-listed)
    chapter.md:30 · worth a look · ID c0dd-5555

   draft   (Harrow, 2018)
   mend    The references hold Harrow (2019); check the year.
";
    assert!(printed.contains(expected), "{printed}");
}

#[test]
fn the_head_counts_by_weight_and_kind_and_the_foot_by_source() {
    let printed = plain(&samples::report());
    for line in [
        "chapter.md: 4,210 words (312 of them quoted), 3 places to look at",
        "   please mend: 1",
        "      1  A quotation differs from its source: 2",
        "   worth a look: 2",
        "      1  Much of the source's wording is kept: 1",
        "      1  A cited work is not among the references: 3",
        "      2  Harrow (2019) [harrow2019]",
        "   2 drafts (5,010 words) with 12 stored sources (84,210 words) and 10 entries",
        " - sources/lindqvist2014.txt: no words could be read in it; store the text once",
        "   - chapter.md:9, also in okoro2021: \"on the one hand and on the other...\": a",
        "   - chapter.md:40, cited-not-listed, 2026-03-02: the name of the scheme (ID",
        " - A finding is a place to look at, not a judgement about a person.",
    ] {
        assert!(
            printed.lines().any(|other| other == line),
            "missing: {line}\n{printed}"
        );
    }
    let (head, rest) = printed.split_once("Marks ").unwrap();
    assert!(head.contains("\nAt a glance\n"), "{head}");
    let (_, foot) = rest.split_once("Findings by source").unwrap();
    for part in [head, foot] {
        assert!(!part.contains('%') && !part.contains("score"), "{part}");
    }
    assert!(!foot.contains("please mend"), "told twice: {foot}");
}

#[test]
fn a_clean_draft_gets_good_news_and_a_caution() {
    let unwrapped = |report: &CheckReport| {
        let printed = plain(report);
        printed.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let mut report = report_of(Vec::new());
    let clean = unwrapped(&report);
    assert!(clean.contains("no wording here needs another look. That is no clearance"));
    assert!(!clean.contains("Marks") && !clean.contains("At a glance"));
    report.drafts[0].findings.push(samples::settled());
    let settled = unwrapped(&report);
    assert!(
        settled.contains("everything that needed another look is settled. That is no clearance")
    );
    assert!(!settled.contains(" 1. "));
}

#[test]
fn a_draft_without_words_gets_no_good_news() {
    let mut report = report_of(Vec::new());
    report.drafts[0].words = 0;
    let printed = plain(&report);
    assert!(printed.starts_with("chapter.md: 0 words"), "{printed}");
    assert!(!printed.contains("Good news"), "{printed}");
    let words = printed.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("no prose to compare"), "{printed}");
    assert!(words.contains("ownwords text chapter.md"), "{printed}");
}

#[test]
fn long_wordings_are_printed_in_whole_on_demand() {
    let mut finding = samples::close_paraphrase();
    finding.draft.text = (0..500).map(|n| format!("word{n} ")).collect();
    let report = report_of(vec![finding]);
    let cut = plain(&report);
    assert!(
        cut.contains("left out ...]") && cut.contains("--whole"),
        "{cut}"
    );
    let mut out = Vec::new();
    let look = Look::new(80, Colours::Off).in_whole(true);
    write(&report, &look, Shown::default(), &mut out).unwrap();
    let whole = String::from_utf8(out).unwrap();
    assert!(
        !whole.contains("left out ...]") && !whole.contains("--whole"),
        "{whole}"
    );
    for n in 0..500 {
        assert!(whole.contains(&format!("word{n} ")) || whole.contains(&format!("word{n}\n")));
    }
}

#[test]
fn explained_overlaps_are_reported_or_listed() {
    let report = samples::report();
    let mut out = Vec::new();
    write(
        &report,
        &Look::new(80, Colours::Off),
        Shown::default(),
        &mut out,
    )
    .unwrap();
    let brief = String::from_utf8(out).unwrap();
    assert!(
        brief.contains("1 overlap was taken for fixed wording"),
        "{brief}"
    );
    assert!(!brief.contains("a stock phrase") && plain(&report).contains("a\n     stock phrase"));
}

#[test]
fn colours_only_repeat_what_characters_say() {
    let report = samples::report();
    for width in [60, 80, 100] {
        let coloured = shown(&report, width, Colours::On);
        assert!(coloured.contains('\u{1b}'));
        let bare: Vec<String> = without_codes(&coloured)
            .lines()
            .map(|line| line.trim_end().to_owned())
            .collect();
        let plain = shown(&report, width, Colours::Off);
        assert_eq!(bare, plain.lines().collect::<Vec<_>>());
        let long = plain.lines().find(|line| line.width() > width);
        assert_eq!(long, None);
    }
}

#[test]
fn a_finding_of_any_length_is_kept_short() {
    let mut finding = samples::close_paraphrase();
    finding.draft.text = "moths and lamps ".repeat(400);
    if let Some(source) = &mut finding.source {
        source.text = "lamps and moths ".repeat(400);
    }
    let printed = plain(&report_of(vec![finding]));
    let (_, from) = printed.split_once("\n 1. ").unwrap();
    let (finding, _) = from.split_once("\nFindings by source").unwrap();
    let lines = finding.lines().count();
    // Two wordings of four lines with as many of marks, and everything else that a finding can hold.
    assert!((20..=36).contains(&lines), "{lines} lines: {finding}");
}

#[test]
fn nothing_of_the_users_can_steer_the_terminal() {
    let evil = "\u{1b}]0;x\u{7}\u{202e}\r";
    let mut finding = samples::close_paraphrase();
    finding.id.push_str(evil);
    finding.advice.push_str(evil);
    finding.draft.text.push_str(evil);
    finding.settled = Some(Settled {
        because: evil.to_owned(),
        on: evil.to_owned(),
        decision: String::new(),
    });
    let mut open = samples::close_paraphrase();
    open.draft.text.push_str(evil);
    open.evidence.differences = vec![(evil.to_owned(), evil.to_owned())];
    open.evidence.also_in = vec![crate::review::Key::new(evil)];
    if let (Some(source), Some(note), Some(credit)) =
        (&mut open.source, &mut open.note, &mut open.credit)
    {
        source.name.push_str(evil);
        source.text.push_str(evil);
        source.key = crate::review::Key::new(evil);
        source.pages = Some((
            crate::text::PageLabel::new("1\u{1b}2"),
            crate::text::PageLabel::new("3"),
        ));
        note.entry.push_str(evil);
        note.path.push(evil);
        credit.citations.push(evil.to_owned());
    }
    let mut report = report_of(vec![open, finding]);
    report.review.push(evil);
    report.drafts[0].path.push(evil);
    report.drafts[0].remarks.push(evil.to_owned());
    report.drafts[0].explained[0].why.push_str(evil);
    report.left_out[0].what.push_str(evil);
    let why = report.left_out[0].why.to_string();
    report.left_out[0].why = Why::Unread(why + evil);
    let mut printed = plain(&report).into_bytes();
    write_short(&report, &mut printed).unwrap();
    let printed = String::from_utf8(printed).unwrap();
    let bad = |c: &char| (c.is_control() && *c != '\n') || *c == '\u{202e}';
    assert_eq!(printed.chars().find(bad), None);
}

#[test]
fn the_short_form_has_a_line_for_each_open_or_mended_finding() {
    let mut out = Vec::new();
    write_short(&samples::report(), &mut out).unwrap();
    let expected = "\
chapter.md:14: look: close-paraphrase, changed: Pollen is transported less far where the lights...
chapter.md:21: act: altered-quotation: “they circle until the light is gone”
chapter.md:30: look: cited-not-listed, new: (Harrow, 2018)
old/chapter.md:3: mended: unmarked-copy: they circle until the light fails
old/chapter.md:18: mended: cited-not-listed: (Okoro, 2012)
";
    assert_eq!(String::from_utf8(out).unwrap(), expected);
}

#[test]
fn every_kind_can_be_printed() {
    for kind in Kind::ALL {
        let finding = Finding {
            kind,
            weight: kind.about().weight,
            ..samples::close_paraphrase()
        };
        let printed = shown(&report_of(vec![finding]), 60, Colours::Off);
        assert!(printed.contains(&format!("({})", kind.name())), "{printed}");
    }
}
