//! Where words stand in a text without page numbers: the heading above them and the paragraph below it. Style guides ask for
//! these where a source has no pages (published: APA 7 section 8.28; MLA 9 section 6.20; Chicago 17 section 14.24; from
//! memory).

use crate::text::{BlockKind, ByteRange, Text};

/// The place in words, `the section “Results”, paragraph 2`; without a heading only the paragraph, counted from the beginning.
pub(super) fn place(text: &Text, range: ByteRange) -> String {
    let blocks = text.blocks();
    let at = blocks.partition_point(|block| block.range.start() <= range.start());
    let before = blocks.get(..at).unwrap_or_default();
    let heading = before
        .iter()
        .rposition(|block| matches!(block.kind, BlockKind::Heading { .. }));
    let below = heading.map_or(0, |heading| heading + 1);
    let counted = before.get(below..).unwrap_or_default().iter();
    let number = counted.filter(|block| block.kind.is_prose()).count().max(1);
    let words = heading.and_then(|heading| blocks.get(heading));
    let words = words.map(|block| text.slice(block.range).trim_matches(['#', ' ', '\n']));
    match words {
        Some(words) if !words.is_empty() => {
            let words: Vec<&str> = words.split_whitespace().collect();
            format!("the section “{}”, paragraph {number}", words.join(" "))
        }
        _ => format!("paragraph {number}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::{Format, from_bytes};

    #[test]
    fn a_place_is_named_by_heading_and_paragraph() {
        let html =
            "<p>Lamps.</p><h2>What came back</h2><p>Bats.</p><p>The miller kept a tally.</p>";
        let text = from_bytes(html.as_bytes().to_vec(), Format::Html)
            .unwrap()
            .text;
        let named = |words: &str| {
            let at = text.content().find(words).unwrap();
            place(&text, ByteRange::of(at, at + words.len()))
        };
        assert_eq!(named("Lamps"), "paragraph 1");
        assert_eq!(named("Bats"), "the section “What came back”, paragraph 1");
        assert_eq!(
            named("a tally"),
            "the section “What came back”, paragraph 2"
        );
    }
}
