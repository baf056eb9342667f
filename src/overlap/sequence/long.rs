//! Sequences in long texts: the strings that both texts share in order lead through them, and only what
//! stands between two of these is compared word by word.
//!
//! The texts become steps: a string, or what stands between two strings. The best stretch is a row of
//! consecutive steps. The result may fall short of the best sequence in two ways: by strings that do not keep
//! the order, and at the ends of the stretch by words that do not pay for the step they belong to.

use std::ops::Range;

use super::Sequence;
use super::keeps::Keeps;
use crate::overlap::alignment::{Alignment, Tile};
use crate::overlap::positions::ListRange;

/// Words of the source before the first string and after the last: so many for each such word of the rewrite,
/// and so many besides.
const REACH_PER_WORD: usize = 2;
const REACH: usize = 8;

/// A string, or what stands between two, with what is kept in it.
pub(super) struct Step {
    kept: f32,
    source: Range<usize>,
}

/// The steps of a rewrite through its source, in order and without gaps. In parts with more pairs of words
/// than `most_pairs` nothing is kept, since they share no string that keeps the order.
pub(super) fn steps(keeps: &Keeps, alignment: &Alignment, most_pairs: usize) -> Vec<Step> {
    let strings = alignment.tiles_in_order();
    let (Some(first), Some(last)) = (strings.first(), strings.last()) else {
        return Vec::new();
    };
    let between = |ours: Range<usize>, source: Range<usize>| {
        let is_short = ours.len().saturating_mul(source.len()) <= most_pairs;
        let both = (ours, source.clone());
        let kept = if is_short {
            keeps.best_at_cost(both, 0.0)
        } else {
            Sequence::default()
        };
        (kept, source)
    };
    let whole = |(kept, source): (Sequence, Range<usize>)| Step {
        kept: kept.kept,
        source,
    };
    let mut steps = Vec::with_capacity(2 * strings.len() + 1);
    let reach = |words: usize| REACH_PER_WORD * words + REACH;
    let from = first.source.start();
    let lead = between(
        0..first.draft.start(),
        from.saturating_sub(reach(first.draft.start()))..from,
    );
    if lead.0.kept > 0.0 {
        let kept = lead.0.kept;
        steps.push(Step {
            kept,
            source: lead.0.stretch.start()..from,
        });
    }
    let mut before: Option<&Tile> = None;
    for tile in &strings {
        if let Some(before) = before {
            let ours = before.draft.end()..tile.draft.start();
            steps.push(whole(between(
                ours,
                before.source.end()..tile.source.start(),
            )));
        }
        steps.push(Step {
            kept: tile.draft.len() as f32,
            source: tile.source.as_range(),
        });
        before = Some(tile);
    }
    let ours = last.draft.end()..keeps.len();
    let end = last.source.end();
    let tail = between(
        ours.clone(),
        end..(end + reach(ours.len())).min(keeps.source_len()),
    );
    if tail.0.kept > 0.0 {
        let kept = tail.0.kept;
        steps.push(Step {
            kept,
            source: end..tail.0.stretch.end(),
        });
    }
    steps
}

/// The row of steps that keeps most when each word of the source costs `cost` (Kadane's maximum segment, Bentley 1984,
/// *Communications of the ACM* 27(9)).
pub(super) fn best_at_cost(steps: &[Step], cost: f32) -> Sequence {
    let (mut best, mut most) = (Sequence::default(), 0.0);
    let (mut gain, mut kept, mut start) = (0.0, 0.0, 0);
    for step in steps {
        if gain <= 0.0 {
            (gain, kept, start) = (0.0, 0.0, step.source.start);
        }
        gain += step.kept - cost * step.source.len() as f32;
        kept += step.kept;
        if gain > most {
            most = gain;
            let stretch = ListRange::of(start, step.source.end);
            best = Sequence { kept, stretch };
        }
    }
    best
}
