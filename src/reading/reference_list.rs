//! The document's own list of references: what stands below a heading such as *References*, or else what has
//! the form of a list at the document's end ([`form`]).

mod form;

use unicode_normalization::UnicodeNormalization as _;

use crate::text::{Block, BlockKind, ByteRange};

/// Headings of a list of references, in small letters, language by language.
#[rustfmt::skip]
const HEADINGS: &[&str] = &[
    // English
    "references", "reference list", "list of references", "references cited", "bibliography",
    "select bibliography", "selected bibliography", "works cited", "works consulted",
    "literature cited", "cited literature", "sources cited", "cited works",
    // German
    "literatur", "literaturverzeichnis", "quellenverzeichnis", "quellen- und literaturverzeichnis",
    "quellen und literatur", "zitierte literatur", "bibliographie", "bibliografie",
    // French
    "références", "références bibliographiques", "ouvrages cités", "bibliographie sélective",
    "sources et bibliographie",
    // Spanish
    "referencias", "referencias bibliográficas", "bibliografía", "obras citadas",
    "lista de referencias",
    // Portuguese
    "referências", "referências bibliográficas", "bibliografia",
    // Italian
    "riferimenti bibliografici", "opere citate",
    // Dutch
    "literatuur", "literatuurlijst", "bronnenlijst", "geraadpleegde literatuur",
    // Swedish
    "källor", "källförteckning", "referenser", "referenslista", "litteratur",
    "litteraturförteckning",
    // Norwegian and Danish
    "litteraturliste", "referanser", "referencer", "kildeliste", "referanseliste",
    "litteraturfortegnelse",
    // Finnish
    "lähteet", "lähdeluettelo", "kirjallisuus", "viitteet",
];

/// Whether a heading is that of a list of references, whatever its number, emphasis or attribute:
/// `7. References`, `**Bibliography**`, `Works Cited {.unnumbered}`.
pub(super) fn is_heading(heading: &str) -> bool {
    if heading.len() > 100 {
        return false;
    }
    let heading = heading.split('{').next().unwrap_or_default();
    let heading = heading.trim_matches(|c: char| !c.is_alphabetic());
    // A Roman numeral before the words.
    let heading = match heading.split_once(". ") {
        Some((number, rest)) if number.chars().all(|c| "IVX".contains(c)) => rest.trim(),
        _ => heading,
    };
    let heading: String = heading.nfc().flat_map(char::to_lowercase).collect();
    HEADINGS.contains(&heading.as_str())
}

/// Turns the paragraphs and list items below such a heading into entries of the list, up to the next heading
/// of the same or a higher level. A paragraph whose lines are separate entries is split into them.
pub(super) fn mark(content: &str, blocks: Vec<Block>) -> Vec<Block> {
    let slice = |block: &Block| content.get(block.range.as_range()).unwrap_or_default();
    let mut marked = Vec::with_capacity(blocks.len());
    let mut list_level = None;
    for block in blocks {
        match (block.kind, list_level) {
            (BlockKind::Heading { level }, _) => {
                if list_level.is_none_or(|list| level <= list) {
                    list_level = is_heading(slice(&block)).then_some(level);
                }
                marked.push(block);
            }
            (BlockKind::Paragraph | BlockKind::ListItem | BlockKind::BlockQuotation, Some(_)) => {
                marked.extend(
                    entries(content, block.range)
                        .into_iter()
                        .map(|range| Block {
                            kind: BlockKind::ReferenceListItem,
                            range,
                        }),
                );
            }
            _ => marked.push(block),
        }
    }
    let known = |block: &Block| block.kind == BlockKind::ReferenceListItem;
    if !marked.iter().any(known) {
        mark_by_form(content, &mut marked);
    }
    marked
}

/// Whether the format numbers most entries of the list of references. `numbered` is where items with such
/// numbers start, in order: the numbers of an ordered list are not part of the Text.
pub(super) fn is_numbered(blocks: &[Block], numbered: &[usize]) -> bool {
    let entries = blocks
        .iter()
        .filter(|block| block.kind == BlockKind::ReferenceListItem);
    let is_item = |block: &&Block| numbered.binary_search(&block.range.start()).is_ok();
    let (all, items) = (entries.clone().count(), entries.filter(is_item).count());
    all > 0 && items * 3 >= all * 2
}

/// Marks the list at the document's end that has no heading.
fn mark_by_form(content: &str, blocks: &mut Vec<Block>) {
    let cut = |block: &Block| entries(content, block.range);
    let Some(first) = form::first_of_list(content, blocks, cut) else {
        return;
    };
    let tail = blocks.split_off(first);
    for block in tail {
        match block.kind {
            BlockKind::Paragraph | BlockKind::ListItem => {
                blocks.extend(cut(&block).into_iter().map(|range| Block {
                    kind: BlockKind::ReferenceListItem,
                    range,
                }));
            }
            _ => blocks.push(block),
        }
    }
}

/// The entries in a block: one, or one for each line where the lines are plainly entries. They are if some
/// lines are indented and others are not, or if every line holds a year and ends like an entry.
fn entries(content: &str, range: ByteRange) -> Vec<ByteRange> {
    let lines = lines(content, range);
    let is_indented = |line: &ByteRange| {
        let before = content.get(..line.start()).unwrap_or_default();
        before.ends_with("  ") || before.ends_with('\t')
    };
    // The block starts after the indentation of its first line, so whether that line is indented is unknown.
    let hanging =
        lines.iter().skip(1).any(is_indented) && lines.iter().any(|line| !is_indented(line));
    let complete = |line: &ByteRange| {
        let entry = content.get(line.as_range()).unwrap_or_default();
        has_year(entry) && (entry.ends_with('.') || entry.contains("://"))
    };
    let each = lines.len() > 1 && lines.iter().all(complete);
    if !hanging && !each {
        return vec![range];
    }
    let mut entries: Vec<ByteRange> = Vec::new();
    for line in lines {
        match entries.last_mut() {
            Some(last) if !each && is_indented(&line) => *last = last.hull(line),
            _ => entries.push(line),
        }
    }
    entries
}

/// The lines of a range that are not blank, without the blank space around them.
fn lines(content: &str, range: ByteRange) -> Vec<ByteRange> {
    let block = content.get(range.as_range()).unwrap_or_default();
    let mut lines = Vec::new();
    let mut start = range.start();
    for line in block.split_inclusive(['\n', '\r']) {
        let solid = line.trim();
        let lead = line.len() - line.trim_start().len();
        if !solid.is_empty() {
            lines.push(ByteRange::of(start + lead, start + lead + solid.len()));
        }
        start += line.len();
    }
    lines
}

fn has_year(entry: &str) -> bool {
    let digits = |c: char| c.is_ascii_digit();
    entry.contains("n.d.")
        || entry.split(|c: char| !digits(c)).any(|number| {
            number.len() == 4
                && number
                    .parse::<u32>()
                    .is_ok_and(|year| (1400..2100).contains(&year))
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_by_case() {
        for heading in [
            "References",
            "7. References",
            "VII. Works Cited",
            "BIBLIOGRAPHY:",
            "**Literature cited**",
            "References {#refs .unnumbered}",
            "Literaturverzeichnis",
            "4 Références",
            "Re\u{301}fe\u{301}rences bibliographiques",
            "REFERENCIAS",
            "Källor",
            "LÄHTEET",
        ] {
            assert!(is_heading(heading), "{heading}");
        }
        for heading in [
            "Sources",
            "References to light",
            "Summary",
            "Literature review",
            "",
        ] {
            assert!(!is_heading(heading), "{heading}");
        }
    }

    #[test]
    fn entries_by_case() {
        let cases: &[(&str, usize)] = &[
            ("Harrow, A. (2014). Lamps. Night Press.", 1),
            ("Harrow, A. (2014). Lamps and\nmoths. Night Press.", 1),
            ("Harrow, A. (2014). Lamps.\nOkoro, B. (2016). Moths.", 2),
            (
                "Harrow, A. (2014). Lamps and\n    moths.\nOkoro, B. (2016).\n\tMoths.",
                2,
            ),
            ("Harrow, A. (2014). Lamps.\n    Night Press.", 1),
        ];
        for (content, expected) in cases {
            let found = entries(content, ByteRange::of(0, content.len()));
            assert_eq!(found.len(), *expected, "in {content:?}");
        }
    }

    #[test]
    fn the_list_ends_at_the_next_heading_of_its_level() {
        let content = "References\nBooks\nA 2014.\nAppendix\nText";
        let mut start = 0;
        let kinds = [2, 3, 0, 2, 0].map(|level| match level {
            0 => BlockKind::Paragraph,
            level => BlockKind::Heading { level },
        });
        let blocks = content.split('\n').zip(kinds).map(|(line, kind)| {
            let range = ByteRange::of(start, start + line.len());
            start += line.len() + 1;
            Block { kind, range }
        });
        let kinds: Vec<_> = mark(content, blocks.collect())
            .iter()
            .map(|block| block.kind.name())
            .collect();
        assert_eq!(
            kinds,
            ["heading", "heading", "reference", "heading", "paragraph"]
        );
    }
}
