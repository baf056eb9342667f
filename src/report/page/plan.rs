//! The plan of a page: what each finding is called there, under which address it stands, and into which
//! sections each draft falls. Made once, before anything is written.

use std::collections::BTreeSet;
use std::ops::Range;

use crate::findings::since::Progress;
use crate::findings::{CheckReport, DraftReport, Finding, Kind};
use crate::review::Key;
use crate::text::{BlockKind, ByteRange};

/// Headings of a draft that still make sections; where there are more, the lower levels make none.
const MOST_SECTIONS: usize = 24;

/// Everything that is to be shown.
pub(super) struct Plan<'r> {
    /// The result.
    pub report: &'r CheckReport,
    /// The drafts in order.
    pub drafts: Vec<DraftPlan<'r>>,
    /// The sources that findings lead to, as they are chosen from.
    pub sources: Vec<NamedSource<'r>>,
}

/// A source that findings lead to.
pub(super) struct NamedSource<'r> {
    /// Its key.
    pub key: &'r Key,
    /// What it is called on the page.
    pub name: String,
}

/// One draft.
pub(super) struct DraftPlan<'r> {
    /// From 1.
    pub number: usize,
    /// Its result.
    pub report: &'r DraftReport,
    /// Its findings, open and settled, in order.
    pub items: Vec<Item<'r>>,
    /// Its sections in order; empty where it has no headings.
    pub sections: Vec<Section>,
}

/// One finding with its place on the page.
pub(super) struct Item<'r> {
    /// The finding.
    pub finding: &'r Finding,
    /// How many findings of the page come before it.
    pub index: usize,
    /// What a reader calls it: its number among the open ones as in every report, `s1` if it is settled.
    pub label: String,
    /// What it is against the earlier draft, where there is one.
    pub progress: Option<&'r Progress>,
    /// Its address on the page: its own name, with the draft's number where two drafts hold the same.
    pub anchor: String,
}

/// A stretch of a draft under one heading.
pub(super) struct Section {
    /// From 1.
    pub number: usize,
    /// The heading; `None` for what stands before the first.
    pub heading: Option<ByteRange>,
    /// The numbers of its blocks.
    pub blocks: Range<usize>,
    /// Where it stands.
    pub range: ByteRange,
    /// Its words.
    pub words: usize,
    /// Words of them in marked quotations.
    pub quoted: usize,
}

/// How kinds look alike: four families, each with its own line below the words and its own sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Family {
    /// Words of a source taken over.
    Copying,
    /// Wording of a source changed.
    Paraphrase,
    /// Marked quotations.
    Quoting,
    /// Works cited and listed.
    Works,
}

impl Family {
    /// All, in order.
    pub(super) const ALL: [Self; 4] = [Self::Copying, Self::Paraphrase, Self::Quoting, Self::Works];

    /// The family of a kind.
    pub(super) fn of(kind: Kind) -> Self {
        match kind {
            Kind::UnmarkedCopy
            | Kind::LostQuotationMarks
            | Kind::CommentCopiesSource
            | Kind::OwnWordsRepeated => Self::Copying,
            Kind::CloseParaphrase
            | Kind::UncreditedParaphrase
            | Kind::CreditElsewhere
            | Kind::OwnVoiceInSummary => Self::Paraphrase,
            Kind::CitedNotListed
            | Kind::ListedNotCited
            | Kind::CitedWithoutEntry
            | Kind::EntryWithoutReference
            | Kind::EntryIncomplete
            | Kind::EntryOrder => Self::Works,
            Kind::QuotationWithoutPage
            | Kind::QuotationWithoutCredit
            | Kind::AlteredQuotation
            | Kind::PageMismatch
            | Kind::QuotationNotFound
            | Kind::LongQuotationInline
            | Kind::HeavilyQuoted => Self::Quoting,
        }
    }

    /// The class in the style sheet.
    pub(super) fn class(self) -> &'static str {
        match self {
            Self::Copying => "fc",
            Self::Paraphrase => "fp",
            Self::Quoting => "fq",
            Self::Works => "fw",
        }
    }

    /// What its line means.
    pub(super) fn meaning(self) -> &'static str {
        match self {
            Self::Copying => "double line: a source's own words",
            Self::Paraphrase => "wavy line: a source's wording, changed",
            Self::Quoting => "dashed line: a quotation",
            Self::Works => "dotted line: a cited or listed work",
        }
    }
}

impl<'r> Plan<'r> {
    /// The plan of a report.
    pub(super) fn new(report: &'r CheckReport) -> Self {
        let mut taken = BTreeSet::new();
        let mut index = 0;
        let mut drafts = Vec::new();
        for (draft, number) in report.drafts.iter().zip(1..) {
            let mut open = 0;
            let mut settled = 0;
            let mut items = Vec::new();
            let progress = draft.since.as_ref().map(|since| since.progress.as_slice());
            let mut progress = progress.unwrap_or_default().iter();
            for finding in &draft.findings {
                let label = if finding.settled.is_some() {
                    settled += 1;
                    format!("s{settled}")
                } else {
                    open += 1;
                    format!("{open}")
                };
                let anchor = anchor(&finding.id, number, &mut taken);
                items.push(Item {
                    finding,
                    index,
                    label,
                    progress: progress.next(),
                    anchor,
                });
                index += 1;
            }
            drafts.push(DraftPlan {
                number,
                report: draft,
                items,
                sections: sections(draft),
            });
        }
        Self {
            report,
            drafts,
            sources: sources(report),
        }
    }

    /// What a finding's source is called, and its number in the list to choose from.
    pub(super) fn source_of(&self, finding: &Finding) -> Option<(usize, &str)> {
        let key = &finding.source.as_ref()?.key;
        let all = self.sources.iter().enumerate();
        let mut named = all.filter(|(_, source)| source.key == key);
        named.next().map(|(at, source)| (at, source.name.as_str()))
    }

    /// All findings of all drafts.
    pub(super) fn items(&self) -> impl Iterator<Item = &Item<'r>> {
        self.drafts.iter().flat_map(|draft| &draft.items)
    }
}

impl DraftPlan<'_> {
    /// The section a position stands in.
    pub(super) fn section_at(&self, position: usize) -> Option<&Section> {
        let behind = self
            .sections
            .partition_point(|section| section.range.start() <= position);
        self.sections.get(behind.checked_sub(1)?)
    }

    /// What a section is called.
    pub(super) fn title_of(&self, section: &Section) -> &str {
        let text = &self.report.text.text;
        section
            .heading
            .map_or("Beginning", |range| text.slice(range))
    }
}

/// The sources that findings lead to, in order of their names. Where two have the same, the keys distinguish
/// them.
fn sources(report: &CheckReport) -> Vec<NamedSource<'_>> {
    let findings = report.drafts.iter().flat_map(|draft| &draft.findings);
    let places = findings.filter_map(|finding| finding.source.as_ref());
    let names: BTreeSet<(&str, &Key)> = places
        .map(|place| (place.name.as_str(), &place.key))
        .collect();
    let is_shared = |name: &str| names.iter().filter(|(other, _)| *other == name).count() > 1;
    let named = names.iter().map(|(name, key)| NamedSource {
        key,
        name: if is_shared(name) {
            format!("{name} [{key}]")
        } else {
            (*name).to_owned()
        },
    });
    named.collect()
}

/// An address that no other finding of the page has. Names are made by us of letters, digits and hyphens;
/// anything else is left out, so that an address is never more than that.
fn anchor(id: &str, draft: usize, taken: &mut BTreeSet<String>) -> String {
    let plain = |c: &char| c.is_ascii_alphanumeric() || *c == '-';
    let id: String = id.chars().filter(plain).collect();
    let mut anchor = id.clone();
    let mut count = draft;
    while anchor.is_empty() || taken.contains(&anchor) {
        anchor = format!("{id}.{count}");
        count += 1;
    }
    taken.insert(anchor.clone());
    anchor
}

/// The sections of a draft: from each heading to the next, down to the lowest level at which there are not
/// too many.
fn sections(draft: &DraftReport) -> Vec<Section> {
    let text = &draft.text.text;
    let blocks = text.blocks();
    let headings = |most: u8| {
        let all = blocks.iter().enumerate();
        all.filter_map(move |(number, block)| match block.kind {
            BlockKind::Heading { level } if level <= most => Some(number),
            _ => None,
        })
    };
    let Some(most) = (1..=6).rev().find(|most| {
        let count = headings(*most).count();
        (1..=MOST_SECTIONS).contains(&count)
    }) else {
        return Vec::new();
    };
    let starts: Vec<usize> = headings(most).collect();
    let first = starts.first().copied().unwrap_or(0);
    let ends = starts.iter().copied().skip(1).chain([blocks.len()]);
    let under = starts.iter().copied().zip(ends);
    let under = under.map(|(from, to)| (Some(from), from..to));
    let before = (first > 0).then_some((None, 0..first));
    let all = before.into_iter().chain(under).zip(1..);
    all.map(|((heading, within), number)| {
        let of_blocks = blocks.get(within.clone()).unwrap_or_default();
        let ranges = of_blocks.iter().map(|block| block.range);
        let counts = draft.block_words.get(within.clone()).unwrap_or_default();
        Section {
            number,
            heading: heading.and_then(|number| Some(blocks.get(number)?.range)),
            blocks: within,
            range: ranges.reduce(ByteRange::hull).unwrap_or_default(),
            words: counts.iter().map(|count| count.words).sum(),
            quoted: counts.iter().map(|count| count.quoted).sum(),
        }
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::samples;

    #[test]
    fn open_findings_are_numbered_as_in_every_report() {
        let report = samples::report();
        let plan = Plan::new(&report);
        let labels: Vec<&str> = plan.items().map(|item| item.label.as_str()).collect();
        assert_eq!(labels, ["1", "2", "3", "s1"]);
    }

    #[test]
    fn addresses_are_plain_and_never_the_same() {
        let mut taken = BTreeSet::new();
        let table = [
            ("uc-1f", 1, "uc-1f"),
            ("uc-1f", 2, "uc-1f.2"),
            ("uc-1f", 2, "uc-1f.3"),
            ("\"><b>", 1, "b"),
            ("", 1, ".1"),
        ];
        for (id, draft, shown) in table {
            assert_eq!(anchor(id, draft, &mut taken), shown);
        }
    }
}
