//! Ways: the best way of writing one stretch by going through another, word by word (Viterbi).
//!
//! The movements and their costs are those of the model in [`super::likeness`]. What each pair of words gains
//! is given by the caller.

/// The costs, in nats, of going on to the next word of the source, of skipping up to three, of staying or
/// going back up to three, and of leaping anywhere (to which the logarithm of the source's length is added).
const NEXT: f32 = -0.65;
const SKIP: f32 = -1.6;
const BACK: f32 = -3.6;
const LEAP: f32 = -1.65;

/// The costs of the first word added at a place and of each further one.
const ADDED: f32 = -1.9;
const MORE_ADDED: f32 = -1.8;

/// How far ahead and behind a place of the source counts as near: it is reached by skipping or going back.
const AHEAD: usize = 4;
const BEHIND: usize = 3;

/// Two stretches of words with what each pair of words gains. How well any part of the second corresponds to
/// the first can be computed from it, so that windows of a wide stretch are tried without comparing its words
/// again.
#[derive(Debug)]
pub(super) struct Pairs {
    /// For each word, whether adding it costs anything.
    ours: Vec<bool>,
    theirs: Vec<bool>,
    /// The gains, one row for each word of ours, and one row for each word of theirs.
    by_ours: Vec<f32>,
    by_theirs: Vec<f32>,
}

impl Pairs {
    /// The pairs of two stretches. For each word of the two it is given whether adding it costs anything. The
    /// gains have one row for each word of ours.
    pub(super) fn new(ours: Vec<bool>, theirs: Vec<bool>, gains: Vec<f32>) -> Self {
        let by_theirs = (0..theirs.len())
            .flat_map(|b| gains.iter().skip(b).step_by(theirs.len()).copied())
            .collect();
        Self {
            ours,
            theirs,
            by_ours: gains,
            by_theirs,
        }
    }

    /// The nats of our stretch as a rewording of the words of theirs from `from` up to, but not including,
    /// `to`.
    pub(super) fn forth(&self, from: usize, to: usize) -> f32 {
        let row = |at: usize| {
            let start = at * self.theirs.len();
            &self.by_ours[start + from..start + to]
        };
        best_ways(&self.ours, to - from, row)
            .pop()
            .unwrap_or_default()
    }

    /// The nats of the words of theirs from `from` on as a rewording of our stretch, for each end up to `to`: of the
    /// first word alone, of the first two ...
    pub(super) fn back(&self, from: usize, to: usize) -> Vec<f32> {
        let row = |at: usize| {
            let start = (from + at) * self.ours.len();
            &self.by_theirs[start..start + self.ours.len()]
        };
        best_ways(&self.theirs[from..to], self.ours.len(), row)
    }
}

/// The best ways of writing a stretch by going through another of `source` words: the nats gained or lost by
/// its first word, its first two, and so on. `costs` is whether adding each word costs anything, `gains` what
/// the word gains from each word of the source.
fn best_ways<'g>(costs: &[bool], source: usize, gains: impl Fn(usize) -> &'g [f32]) -> Vec<f32> {
    let spread = (source as f32).ln();
    let cost = |costs: bool, nats: f32| if costs { nats } else { 0.0 };
    // The best so far with the last word taken from each place of the source, and with it added after that
    // place.
    let mut taken = vec![f32::NEG_INFINITY; source];
    let mut added = vec![f32::NEG_INFINITY; source];
    // The better of the two before this word, with nothing to come from beyond either end.
    let mut left = vec![f32::NEG_INFINITY; AHEAD + source + BEHIND];
    let mut best = Vec::with_capacity(costs.len());
    for (at, costs) in costs.iter().enumerate() {
        let gains = gains(at);
        if at == 0 {
            for ((taken, added), gain) in taken.iter_mut().zip(&mut added).zip(gains) {
                (*taken, *added) = (gain - spread, cost(*costs, ADDED) - spread);
            }
        } else {
            let leap = best.last().copied().unwrap_or_default() + LEAP - spread;
            let (one, more) = (cost(*costs, ADDED), cost(*costs, MORE_ADDED));
            for (place, gain) in gains.iter().enumerate() {
                let near = &left[place..=place + AHEAD + BEHIND];
                let skip = near[0].max(near[1]).max(near[2]) + SKIP;
                let back = near[4].max(near[5]).max(near[6].max(near[7])) + BACK;
                let next = near[3] + NEXT;
                added[place] = (taken[place] + one).max(added[place] + more);
                taken[place] = next.max(skip).max(back.max(leap)) + gain;
            }
        }
        let mut most = f32::NEG_INFINITY;
        let places = taken.iter().zip(&added);
        for (left, (taken, added)) in left[AHEAD..].iter_mut().zip(places) {
            *left = taken.max(*added);
            most = most.max(*left);
        }
        best.push(most);
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Gains of two stretches of letters: equal letters gain, different letters lose.
    fn pairs(ours: &str, theirs: &str) -> Pairs {
        let gain = |a: char, b: char| if a == b { 5.0 } else { -1.0 };
        let gains = ours
            .chars()
            .flat_map(|a| theirs.chars().map(move |b| gain(a, b)))
            .collect();
        Pairs::new(vec![true; ours.len()], vec![true; theirs.len()], gains)
    }

    #[test]
    fn every_way_of_moving_has_its_cost() {
        let spread = 8_f32.ln();
        let cases = [
            ("abc", 15.0 - spread + 2.0 * NEXT),
            // Two skipped, one step back, and a leap.
            ("ade", 15.0 - spread + SKIP + NEXT),
            ("bag", 15.0 - spread + BACK + LEAP - spread),
            // A word of the writer's own is added or replaces another, whichever is cheaper.
            ("axbc", 15.0 - spread + 2.0 * NEXT + ADDED),
            ("axc", 10.0 - spread + (2.0 * NEXT - 1.0).max(ADDED + SKIP)),
        ];
        for (text, nats) in cases {
            let found = pairs(text, "abcdefgh").forth(0, 8);
            assert!((found - nats).abs() < 1e-4, "{text}: {found} for {nats}");
        }
    }

    #[test]
    fn a_window_has_the_same_value_by_itself() {
        let (ours, theirs) = ("keeper", "the beekeepers keep");
        let wide = pairs(ours, theirs);
        for from in 0..theirs.len() {
            let back = wide.back(from, theirs.len());
            assert_eq!(back.len(), theirs.len() - from);
            for to in from + 1..=theirs.len() {
                let own = pairs(ours, &theirs[from..to]);
                assert_eq!(wide.forth(from, to), own.forth(0, to - from));
                assert_eq!(
                    back[to - from - 1],
                    pairs(&theirs[from..to], ours).forth(0, 6)
                );
            }
        }
    }
}
