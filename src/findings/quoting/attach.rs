//! Which citation a quotation belongs to.

use crate::review::Key;
use crate::text::{ByteRange, Quotation, QuotationForm};

use crate::findings::citing::ResolvedCitation;
use crate::findings::laid::LaidDraft;

/// The citations that could belong to a quotation: those of its sentences and of the sentence before
/// and behind; for a block quotation also those inside it and in the block before.
#[must_use]
pub(super) fn near<'d>(laid: &'d LaidDraft, quotation: &Quotation) -> Vec<&'d ResolvedCitation> {
    let more = laid.session.review.settings.credit_sentences;
    let mut around = laid.around(quotation.outer, more);
    if quotation.form == QuotationForm::Block {
        let blocks = laid.text().text.blocks();
        let own = blocks.partition_point(|block| block.range.start() < quotation.outer.start());
        if let Some(before) = own.checked_sub(1).and_then(|number| blocks.get(number)) {
            let last = before.range.end().saturating_sub(1);
            around = around.hull(laid.around(ByteRange::of(last, before.range.end()), more));
        }
        if let Some(behind) = blocks.get(own + 1) {
            let first = ByteRange::of(behind.range.start(), behind.range.start() + 1);
            around = around.hull(laid.around(first, 0));
        }
    }
    laid.within(around)
}

/// The citation among `near` that a quotation belongs to. A bracket right behind the marks that names a
/// known work is its citation, whoever has the words; else one that names the source which has them comes
/// first; then any bracket right behind the marks; then those of its own sentence, one with a locator
/// before others; then whatever is nearest.
#[must_use]
pub(super) fn choose<'d>(
    near: &[&'d ResolvedCitation],
    laid: &LaidDraft,
    quotation: &Quotation,
    has_words: Option<&Key>,
) -> Option<&'d ResolvedCitation> {
    let own = laid.around(quotation.outer, 0);
    near.iter().copied().min_by_key(|credited| {
        let range = credited.place_near(quotation.outer);
        let behind = range.start() >= quotation.outer.end();
        let distance = if behind {
            range.start() - quotation.outer.end()
        } else {
            quotation.outer.start().saturating_sub(range.end())
        };
        let names_source = has_words.is_some_and(|key| credited.points_at(key));
        let has_locator = credited
            .citation
            .cites
            .iter()
            .any(|cite| cite.locator.is_some());
        let follows_closely = behind && distance <= CLOSE_BYTES && !credited.citation.narrative;
        let same_sentence = credited.touches(own);
        // A page alone takes up an earlier citation, which may be another quotation's.
        let is_page_alone = credited
            .citation
            .cites
            .iter()
            .all(|cite| cite.range == credited.citation.range);
        let closes = follows_closely && credited.is_resolved() && !is_page_alone;
        (
            !closes,
            !names_source,
            !follows_closely,
            !same_sentence,
            same_sentence && !has_locator,
            behind == credited.citation.narrative,
            distance,
        )
    })
}

/// Bytes between closing mark and bracket that still are "right behind".
pub(super) const CLOSE_BYTES: usize = 4;
