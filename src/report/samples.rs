//! Reports made by hand for the tests of the writers. All texts are invented.

use std::path::PathBuf;
use std::sync::Arc;

use crate::findings::applying_decisions::Lapsed;
use crate::findings::since::{Past, Progress, Since};
use crate::findings::{
    CheckReport, Compared, Credit, CreditState, DraftPlace, DraftReport, Evidence, Explained,
    Finding, Kind, NotePlace, Settled, SourcePlace, Weight,
};
use crate::overlap::{Counterpart, Degree, Measures, SharedPlace};
use crate::review::{Key, LeftOut, PartKind, Why};
use crate::text::{Block, BlockKind, ByteRange, MarkedText, Origin, PageLabel, Pages, Text};

const DRAFT: &str = "Pollen is transported less far where the lights stay on until morning, because the \
    moths that would carry it circle below the lamps and are caught there by bats (Harrow, 2019).";

const SOURCE: &str = "Pollen is carried less far where the lamps stay lit until morning: the moths that \
    would carry it are circling below the lamps, and there the bats take them.";

/// Pairs of wording, draft and source, with the way they answer to each other, in order.
const ANSWERS: [(&str, &str, Counterpart); 9] = [
    ("Pollen is", "Pollen is", Counterpart::String),
    ("transported", "carried", Counterpart::Synonym),
    (
        "less far where the",
        "less far where the",
        Counterpart::String,
    ),
    ("lights", "lamps", Counterpart::Synonym),
    ("stay", "stay", Counterpart::Form),
    ("until morning", "until morning", Counterpart::String),
    (
        "moths that would carry it",
        "moths that would carry it",
        Counterpart::String,
    ),
    ("circle", "circling", Counterpart::Stem),
    (
        "below the lamps and",
        "below the lamps, and",
        Counterpart::String,
    ),
];

/// Where the draft's passage begins in its Text.
const DRAFT_START: usize = 1200;
/// Where the source's passage begins in its Text.
const SOURCE_START: usize = 5000;

fn range_of(words: &str, text: &str, start: usize) -> ByteRange {
    let at = start + text.find(words).unwrap();
    ByteRange::of(at, at + words.len())
}

fn shared() -> Vec<SharedPlace> {
    ANSWERS
        .into_iter()
        .map(|(draft, source, by)| SharedPlace {
            draft: range_of(draft, DRAFT, DRAFT_START),
            source: range_of(source, SOURCE, SOURCE_START),
            by,
        })
        .collect()
}

/// Measures with every field filled.
pub(super) const MEASURES: Measures = Measures {
    words: 31,
    string_share: 19.0 / 31.0,
    longest_string: 5,
    content_words: 14,
    kept_content: 11.0 / 14.0,
    swapped: 2,
    order: 1.0,
    sequence: 2.0 * 22.5 / (31.0 + 29.0),
    stretch: 29,
    unique_share: Some(16.0 / 31.0),
};

/// A place of the draft.
pub(super) fn draft_place(text: &str, line: usize, start: usize) -> DraftPlace {
    DraftPlace {
        range: ByteRange::of(start, start + text.len()),
        line,
        page: None,
        text: text.to_owned(),
    }
}

/// A close paraphrase with everything a finding can carry.
pub(super) fn close_paraphrase() -> Finding {
    Finding {
        id: "k7mw-2f9d".to_owned(),
        kind: Kind::CloseParaphrase,
        weight: Weight::Look,
        draft: DraftPlace {
            page: Some(PageLabel::new("7")),
            ..draft_place(DRAFT, 14, DRAFT_START)
        },
        source: Some(SourcePlace {
            key: Key::new("harrow2019"),
            name: "Harrow (2019)".to_owned(),
            path: PathBuf::from("sources/harrow2019.txt"),
            range: ByteRange::of(SOURCE_START, SOURCE_START + SOURCE.len()),
            pages: Some((PageLabel::new("14"), PageLabel::new("15"))),
            text: SOURCE.to_owned(),
            page_marks: Vec::new(),
        }),
        note: Some(NotePlace {
            entry: "harrow2019".to_owned(),
            path: PathBuf::from("notes/lamps.md"),
            part: PartKind::Summary,
            marked: false,
            range: ByteRange::of(310, 420),
            text: "Pollen is carried less far where the lamps stay lit until morning.".to_owned(),
            from_source: Some((Degree::Verbatim, 0.0123)),
            to_draft: Some((Degree::NearCopy, 0.18)),
        }),
        degree: Some(Degree::LightRevision),
        measures: Some(MEASURES),
        credit: Some(Credit {
            state: CreditState::Credited,
            citations: vec!["(Harrow, 2019)".to_owned()],
        }),
        evidence: Evidence {
            shared: shared(),
            differences: Vec::new(),
            also_in: vec![Key::new("okoro2021")],
        },
        advice: "The idea is credited, but the sentence keeps the source's frame. Write the point again \
            from memory, or quote the part whose wording matters."
            .to_owned(),
        settled: None,
        surroundings: String::new(),
    }
}

/// A quotation that differs from its source.
pub(super) fn altered_quotation() -> Finding {
    let text = "“they circle until the light is gone”";
    let found = "they circle until the light fails";
    Finding {
        id: "a3qx-81nb".to_owned(),
        kind: Kind::AlteredQuotation,
        weight: Weight::Act,
        draft: draft_place(text, 21, 2000),
        source: Some(SourcePlace {
            key: Key::new("harrow2019"),
            name: "Harrow (2019)".to_owned(),
            path: PathBuf::from("sources/harrow2019.txt"),
            range: ByteRange::of(6100, 6100 + found.len()),
            pages: Some((PageLabel::new("16"), PageLabel::new("16"))),
            text: found.to_owned(),
            page_marks: Vec::new(),
        }),
        note: None,
        degree: None,
        measures: None,
        credit: None,
        evidence: Evidence {
            differences: vec![
                ("is gone".to_owned(), "fails".to_owned()),
                (String::new(), "at last".to_owned()),
            ],
            ..Evidence::default()
        },
        advice: "Copy the words again from page 16, or show the change with [brackets].".to_owned(),
        settled: None,
        surroundings: String::new(),
    }
}

/// A finding without a source.
pub(super) fn cited_not_listed() -> Finding {
    Finding {
        id: "c0dd-5555".to_owned(),
        kind: Kind::CitedNotListed,
        weight: Weight::Look,
        draft: draft_place("(Harrow, 2018)", 30, 2600),
        source: None,
        note: None,
        degree: None,
        measures: None,
        credit: None,
        evidence: Evidence::default(),
        advice: "The references hold Harrow (2019); check the year.".to_owned(),
        settled: None,
        surroundings: String::new(),
    }
}

/// A finding that the writer has decided on.
pub(super) fn settled() -> Finding {
    Finding {
        id: "f00d-0001".to_owned(),
        draft: draft_place("part-night lighting of residential streets", 40, 3000),
        settled: Some(Settled {
            because: "the name of the scheme".to_owned(),
            on: "2026-03-02".to_owned(),
            decision: "f00d-0001.5e6f7a8b".to_owned(),
        }),
        ..cited_not_listed()
    }
}

/// A draft's Text that holds the wording of the findings where they say it stands, a paragraph each.
pub(super) fn text_of(findings: &[Finding]) -> Arc<MarkedText> {
    let mut content = String::new();
    let mut blocks = Vec::new();
    for finding in findings {
        let DraftPlace { range, text, .. } = &finding.draft;
        if content.len() < range.start() {
            content.push_str(&" ".repeat(range.start() - content.len()));
            content.push_str(text);
            blocks.push(Block {
                kind: BlockKind::Paragraph,
                range: *range,
            });
        }
    }
    let origin = Origin::Same { skipped: 0 };
    let text = Text::new(content, blocks, Pages::default(), origin);
    Arc::new(MarkedText::new(text))
}

/// The first draft of the report against an earlier version: of its findings one is edited, one is as
/// it was, two are new; two are mended.
fn since() -> Since {
    let past = |line, kind, closeness, text: &str| Past {
        id: format!("old-{line}"),
        kind,
        closeness,
        line,
        text: text.to_owned(),
    };
    Since {
        path: PathBuf::from("old/chapter.md"),
        progress: vec![
            Progress::Changed(past(
                12,
                Kind::UnmarkedCopy,
                Some((Degree::NearCopy, 0.112)),
                DRAFT,
            )),
            Progress::Still,
            Progress::New,
            Progress::New,
        ],
        mended: vec![
            past(
                3,
                Kind::UnmarkedCopy,
                Some((Degree::Verbatim, 0.0)),
                "they circle until the light fails",
            ),
            past(18, Kind::CitedNotListed, None, "(Okoro, 2012)"),
        ],
    }
}

/// A report on two drafts: one with findings of every sort, one with none.
pub(super) fn report() -> CheckReport {
    let findings = vec![
        close_paraphrase(),
        altered_quotation(),
        cited_not_listed(),
        settled(),
    ];
    CheckReport {
        review: PathBuf::from("review"),
        sources: 12,
        source_words: 84_210,
        compared: vec![Compared {
            key: Key::new("harrow2019"),
            name: "Harrow (2019)".to_owned(),
            path: PathBuf::from("sources/harrow2019.txt"),
            words: 84_210,
            pages: Some((PageLabel::new("9"), PageLabel::new("31"))),
        }],
        entries: 10,
        drafts: vec![
            DraftReport {
                path: PathBuf::from("chapter.md"),
                words: 4210,
                quoted_words: 312,
                text: text_of(&findings),
                block_words: Vec::new(),
                findings,
                explained: vec![Explained {
                    draft: draft_place("on the one hand and on the other hand", 9, 700),
                    source: Key::new("okoro2021"),
                    why: "a stock phrase of academic prose".to_owned(),
                }],
                lapsed: vec![Lapsed {
                    decision: "cp-00c0ffee.12345678".to_owned(),
                    kind: "close-paraphrase".to_owned(),
                    on: "2026-02-27".to_owned(),
                    because: "the measurement can hardly be put otherwise".to_owned(),
                    text: "Pollen is transported less far where the lamps stay on until morning, because ..."
                        .to_owned(),
                    now: "k7mw-2f9d".to_owned(),
                }],
                since: Some(since()),
                remarks: vec!["read as Windows-1252".to_owned()],
                bytes: None,
            },
            DraftReport {
                path: PathBuf::from("outlook.md"),
                words: 800,
                quoted_words: 0,
                text: text_of(&[]),
                block_words: Vec::new(),
                findings: Vec::new(),
                explained: Vec::new(),
                lapsed: Vec::new(),
                since: None,
                remarks: Vec::new(),
                bytes: None,
            },
        ],
        left_out: vec![LeftOut {
            what: "sources/lindqvist2014.txt".to_owned(),
            why: Why::Unread(
                "no words could be read in it; store the text once more and check it".to_owned(),
            ),
        }],
        unread: Vec::new(),
    }
}
