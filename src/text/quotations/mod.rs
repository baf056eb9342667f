//! Quotations: words marked as somebody else's.
//!
//! 1. In each block of prose or heading the quotation marks are found, with what each can do where
//!    it stands: open, close, or neither, as an apostrophe or a sign for inches does (`marks`).
//! 2. Opening and closing marks of one kind are paired, the inner before the outer (`pairing`).
//!    A mark that finds no partner gives no quotation; nothing after it is turned inside out.
//! 3. Where each paragraph of a long quotation begins with an opening mark and only the last ends
//!    with a closing one, the paragraphs are one quotation (`join_paragraphs`).
//! 4. A block quotation is a quotation as a whole. A citation at its end is part of it: where only the quoted
//!    words are needed, citations are left out.
//!
//! The cells of a table are read each for itself. Entries of reference lists and code hold no quotations.

mod marks;
mod pairing;

use std::cmp::Reverse;

use super::sentences::cells;
use super::{Block, BlockKind, ByteRange, Text};
use marks::Mark;
use pairing::Paired;

/// How a quotation is marked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum QuotationForm {
    /// Between quotation marks in the running text.
    Inline,
    /// Set off as a block of its own.
    Block,
}

/// One marked quotation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Quotation {
    /// How it is marked.
    pub form: QuotationForm,
    /// With its quotation marks.
    pub outer: ByteRange,
    /// Without them and the blank space inside them. In a quotation of several paragraphs the
    /// opening marks of the later ones are still inside.
    pub inner: ByteRange,
    /// 0 for a quotation of the writer's, 1 for one inside that, and so on.
    pub depth: u8,
}

/// The quotations of a Text in order of their start, outer before inner. Any two lie one inside the
/// other or apart.
#[must_use]
pub(crate) fn quotations(text: &Text) -> Vec<Quotation> {
    let mut found = Vec::new();
    // The quotation whose paragraphs so far each began with an opening mark.
    let mut unfinished: Option<Mark> = None;
    let mut covered = 0;
    for block in text.blocks() {
        let range = ByteRange::of(block.range.start().max(covered), block.range.end());
        covered = covered.max(range.end());
        if block.kind == BlockKind::Table {
            for cell in cells(text.content(), range) {
                found.extend(pairs_in(
                    text,
                    &pairing::pair(&marks::marks(text.content(), cell)),
                ));
            }
        }
        let holds = matches!(
            block.kind,
            BlockKind::Paragraph
                | BlockKind::Heading { .. }
                | BlockKind::BlockQuotation
                | BlockKind::ListItem
                | BlockKind::Footnote
        );
        if !holds || text.slice(range).trim().is_empty() {
            unfinished = None;
            continue;
        }
        if block.kind == BlockKind::BlockQuotation {
            found.push(quotation(text, QuotationForm::Block, range, range));
        }
        let content = text.content();
        let mut paired = pairing::pair(&marks::marks(content, range));
        if block.kind == BlockKind::Paragraph {
            let fresh = Block { range, ..*block };
            unfinished = join_paragraphs(content, &fresh, unfinished, &mut paired);
        } else {
            unfinished = None;
        }
        found.extend(pairs_in(text, &paired));
    }
    set_depths(&mut found);
    found
}

/// The quotations between paired marks.
fn pairs_in(text: &Text, paired: &Paired) -> Vec<Quotation> {
    let pairs = paired.pairs.iter();
    let inline = |(open, close): &(Mark, Mark)| {
        let outer = open.range.hull(close.range);
        let inner = ByteRange::of(open.range.end(), close.range.start());
        let quotation = quotation(text, QuotationForm::Inline, outer, inner);
        (!quotation.inner.is_empty()).then_some(quotation)
    };
    pairs.filter_map(inline).collect()
}

fn quotation(text: &Text, form: QuotationForm, outer: ByteRange, inner: ByteRange) -> Quotation {
    let slice = text.slice(inner);
    let start = inner.start() + (slice.len() - slice.trim_start().len());
    Quotation {
        form,
        outer,
        inner: ByteRange::of(start, start + slice.trim().len()),
        depth: 0,
    }
}

/// Carries a quotation over paragraphs: `open` is the mark left open by the paragraphs before. Its closing
/// mark must look like the end of the quotation (an end mark before it, a citation or the paragraph's end
/// after it), so that a forgotten mark does not swallow the paragraph up to the next quotation. Returns the
/// mark that is open after this paragraph.
fn join_paragraphs(
    content: &str,
    block: &Block,
    open: Option<Mark>,
    paired: &mut Paired,
) -> Option<Mark> {
    let slice = content.get(block.range.as_range()).unwrap_or_default();
    let ends_whole = slice.ends_with(['.', '!', '?', '…', ':']);
    let starts_here = |mark: &Mark| mark.range.start() == block.range.start();
    if let Some(open) = open {
        let unclosed = paired.unclosed.iter().find(|mark| starts_here(mark));
        if unclosed.is_some_and(|mark| mark.sign == open.sign) {
            return ends_whole.then_some(open);
        }
        let first = paired.pairs.iter_mut().find(|(mark, _)| starts_here(mark));
        if let Some((mark, close)) = first
            && mark.sign == open.sign
            && looks_final(content, block, close.range)
        {
            *mark = open;
        }
    }
    let last = paired.unclosed.iter().rev().find(|mark| mark.is_primary());
    last.copied().filter(|_| ends_whole)
}

fn looks_final(content: &str, block: &Block, close: ByteRange) -> bool {
    let before = content.get(block.range.start()..close.start());
    let behind = content.get(close.end()..block.range.end());
    let behind = behind.unwrap_or_default().trim_start();
    before.is_some_and(|before| before.ends_with(['.', '!', '?', '…']))
        || behind.starts_with(['(', '['])
        || behind.trim_matches(['.', ',', ';']).is_empty()
}

/// Puts quotations in order and counts how many others each lies in.
fn set_depths(found: &mut [Quotation]) {
    found.sort_by_key(|quotation| {
        let outer = quotation.outer;
        // A block quotation that is in quotation marks as a whole holds those marks.
        let inline = quotation.form == QuotationForm::Inline;
        (outer.start(), Reverse(outer.end()), inline)
    });
    let mut ends: Vec<usize> = Vec::new();
    for quotation in found {
        while ends
            .last()
            .is_some_and(|end| *end <= quotation.outer.start())
        {
            ends.pop();
        }
        quotation.depth = u8::try_from(ends.len()).unwrap_or(u8::MAX);
        ends.push(quotation.outer.end());
    }
}

#[cfg(test)]
mod tests;
