//! The bibliography of a review: each reference that an entry is about, set in a style, with the parts of its entries.

use std::collections::BTreeMap;

use super::{Bibliography, BibliographyEntry, Paragraph, Styled, Styles};
use crate::review::{Entry, Key, PartKind, Review};
use crate::text::{BlockKind, ByteRange, Text};

/// The bibliography of a review, and the headings of entries without a reference.
#[must_use]
pub fn of_review(review: &Review, styles: &Styles, title: &str) -> (Bibliography, Vec<String>) {
    let mut by_key: BTreeMap<&Key, Vec<&Entry>> = BTreeMap::new();
    let mut without: Vec<&Entry> = Vec::new();
    for entry in &review.entries {
        match entry
            .key
            .as_ref()
            .filter(|key| review.references.get(key).is_some())
        {
            Some(key) => by_key.entry(key).or_default().push(entry),
            None => without.push(entry),
        }
    }
    let mut items = review.csl_items();
    items.retain(|key, _| by_key.contains_key(key));
    let mut entries: Vec<BibliographyEntry> = styles
        .format(&items)
        .into_iter()
        .filter_map(|(key, reference)| {
            let of_key = by_key.remove(&key)?;
            Some(entry(review, reference, &of_key))
        })
        .collect();
    // What the style could not set still stands there, by its name.
    for (key, of_key) in by_key {
        let name = review
            .references
            .get(key)
            .map_or_else(|| key.to_string(), |r| r.name());
        entries.push(entry(review, vec![plain(name)], &of_key));
    }
    without.sort_by_key(|entry| entry.heading.to_lowercase());
    for one in &without {
        entries.push(entry(review, vec![plain(one.heading.clone())], &[one]));
    }
    let bibliography = Bibliography {
        title: title.to_owned(),
        style: styles.name().to_owned(),
        entries,
    };
    let headings = without
        .into_iter()
        .map(|entry| entry.heading.clone())
        .collect();
    (bibliography, headings)
}

fn plain(text: String) -> Styled {
    Styled {
        text,
        ..Styled::default()
    }
}

fn entry(review: &Review, reference: Vec<Styled>, entries: &[&Entry]) -> BibliographyEntry {
    let wanted = [PartKind::Summary, PartKind::Quotations, PartKind::Comments];
    let part = |kind: PartKind| {
        let mut paragraphs = Vec::new();
        for entry in entries {
            let Some(file) = review.note_files.get(entry.file) else {
                continue;
            };
            for part in entry.parts.iter().filter(|part| part.kind == kind) {
                paragraphs.extend(paragraphs_of(&file.text.text, part.range));
            }
        }
        (!paragraphs.is_empty()).then_some((kind, paragraphs))
    };
    BibliographyEntry {
        reference,
        parts: wanted.into_iter().filter_map(part).collect(),
    }
}

/// The paragraphs of a stretch of notes, each on one line.
fn paragraphs_of(text: &Text, range: ByteRange) -> Vec<Paragraph> {
    let blocks = text
        .blocks()
        .iter()
        .filter(|block| block.range.overlaps(range));
    let paragraphs = blocks.map(|block| {
        let written = text.slice(block.range.intersection(range));
        Paragraph {
            item: block.kind == BlockKind::ListItem,
            quotation: block.kind == BlockKind::BlockQuotation,
            text: written.split_whitespace().collect::<Vec<_>>().join(" "),
        }
    });
    paragraphs
        .filter(|paragraph| !paragraph.text.is_empty())
        .collect()
}
