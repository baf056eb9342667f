//! From a finding's range in the Text to a place in the package.

use crate::findings::Finding;
use crate::text::{ByteRange, Origin, Text};

use super::MarginError;

/// Where a comment stands in the part that holds the running text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Anchor {
    /// At these bytes.
    Passage(ByteRange),
    /// At the call of a note, whose start tag this is.
    Call(ByteRange),
}

/// The name of the part that holds the running text.
pub(super) fn main_part(text: &Text) -> Result<&str, MarginError> {
    match text.origin() {
        Origin::Package { parts, .. } => parts.first().map(String::as_str),
        _ => None,
    }
    .ok_or(MarginError::NoMargin)
}

/// Where the comment of a finding stands; `None` where the document holds no characters at all.
pub(super) fn anchor(text: &Text, finding: &Finding) -> Result<Option<Anchor>, MarginError> {
    let range = finding.draft.range;
    if text.slice(range) != finding.draft.text {
        return Err(MarginError::OtherFile);
    }
    let Origin::Package { calls, .. } = text.origin() else {
        return Err(MarginError::NoMargin);
    };
    let mut noted = text.note_calls().iter().zip(calls);
    let call = noted.find(|(call, _)| call.note.contains(range.start()));
    if let Some((_, (0, tag))) = call {
        return Ok(Some(Anchor::Call(*tag)));
    }
    let main = main_part(text)?;
    let hull = |range: ByteRange| {
        text.origin()
            .part_ranges(range)
            .filter(|found| found.part == main)
            .map(|found| found.range)
            .reduce(ByteRange::hull)
    };
    // What stands at no characters of the file is anchored at the first ones behind it.
    let behind = || hull(ByteRange::of(range.end(), text.content().len())).map(first_byte);
    let anywhere = || hull(ByteRange::of(0, text.content().len())).map(first_byte);
    let found = hull(range).or_else(behind).or_else(anywhere);
    Ok(found.map(Anchor::Passage))
}

/// The place where a stretch begins.
fn first_byte(range: ByteRange) -> ByteRange {
    ByteRange::of(range.start(), range.start())
}
