//! Credit: whether a citation near a passage points at the source it comes from.

use crate::review::Key;
use crate::text::ByteRange;

use super::laid::LaidDraft;
use super::{Credit, CreditState};

/// The credit of a stretch of the draft that comes from the given reference.
#[must_use]
pub(crate) fn credit(laid: &LaidDraft, range: ByteRange, key: &Key) -> Credit {
    let nearby = laid.nearby(range);
    let state = if nearby.iter().any(|credited| credited.points_at(key)) {
        CreditState::Credited
    } else if nearby.iter().any(|credited| credited.is_resolved()) {
        CreditState::Elsewhere
    } else {
        CreditState::None
    };
    let written = |range: ByteRange| {
        let words: Vec<&str> = laid.text().text.slice(range).split_whitespace().collect();
        words.join(" ")
    };
    let mut citations: Vec<String> = Vec::new();
    for citation in nearby
        .iter()
        .map(|credited| written(credited.citation.range))
    {
        if !citations.contains(&citation) {
            citations.push(citation);
        }
    }
    Credit { state, citations }
}
