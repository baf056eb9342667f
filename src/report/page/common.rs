//! What two rows of words have in common, in order: for stretches that are known to answer to each other the
//! heaviest set that keeps both orders, for plain words their longest common subsequence.

/// Words up to which two rows are compared: the table of the longest common subsequence grows with the
/// product of both.
const MOST_WORDS: usize = 600;

/// For each prefix of ranks the best that a set ending in it reaches, and the stretch it ends with: a tree of
/// maxima (Fenwick, 1994), which keeps the work in proportion to the count times its logarithm.
struct Maxima {
    tree: Vec<(usize, Option<usize>)>,
}

impl Maxima {
    fn new(ranks: usize) -> Self {
        Self {
            tree: vec![(0, None); ranks + 1],
        }
    }

    /// The best among the first `ranks` ranks.
    fn best(&self, ranks: usize) -> (usize, Option<usize>) {
        let mut best = (0, None);
        let mut slot = ranks;
        while slot > 0 {
            match self.tree.get(slot) {
                Some(held) if held.0 > best.0 => best = *held,
                _ => {}
            }
            // The lowest bit taken off: the slot of the prefix before.
            slot &= slot - 1;
        }
        best
    }

    /// Enters what a set ending at a rank reaches.
    fn enter(&mut self, rank: usize, reached: usize, stretch: usize) {
        let mut slot = rank + 1;
        while let Some(held) = self.tree.get_mut(slot) {
            if reached > held.0 {
                *held = (reached, Some(stretch));
            }
            slot += slot & slot.wrapping_neg();
        }
    }
}

/// The heaviest set of stretches whose ranks rise; of sets of one weight the one found first. `ranks` are the
/// numbers from 0, each once.
pub(super) fn heaviest_in_order(ranks: &[usize], weights: &[usize]) -> Vec<bool> {
    let mut maxima = Maxima::new(ranks.len());
    let mut before = Vec::with_capacity(ranks.len());
    for (at, (rank, weight)) in ranks.iter().zip(weights).enumerate() {
        let (best, from) = maxima.best(*rank);
        before.push(from);
        maxima.enter(*rank, best + (*weight).max(1), at);
    }
    let mut kept = vec![false; ranks.len()];
    let (_, mut at) = maxima.best(ranks.len());
    while let Some(number) = at {
        if let Some(kept) = kept.get_mut(number) {
            *kept = true;
        }
        at = before.get(number).copied().flatten();
    }
    kept
}

/// The places of a longest common subsequence, of several the one that comes first in `ours`; `None` where
/// the rows are too long.
pub(super) fn common(ours: &[String], theirs: &[String]) -> Option<Vec<(usize, usize)>> {
    if ours.len().max(theirs.len()) > MOST_WORDS {
        return None;
    }
    // For each pair of places the longest from there on, row by row from the end.
    let mut longest = vec![vec![0_usize; theirs.len() + 1]; ours.len() + 1];
    let at = |longest: &[Vec<usize>], i: usize, j: usize| -> usize {
        longest
            .get(i)
            .and_then(|row| row.get(j))
            .copied()
            .unwrap_or(0)
    };
    for (i, word) in ours.iter().enumerate().rev() {
        for (j, other) in theirs.iter().enumerate().rev() {
            let length = if word == other {
                at(&longest, i + 1, j + 1) + 1
            } else {
                at(&longest, i + 1, j).max(at(&longest, i, j + 1))
            };
            if let Some(slot) = longest.get_mut(i).and_then(|row| row.get_mut(j)) {
                *slot = length;
            }
        }
    }
    let mut pairs = Vec::new();
    let (mut i, mut j) = (0, 0);
    while let (Some(word), Some(other)) = (ours.get(i), theirs.get(j)) {
        if word == other {
            pairs.push((i, j));
            (i, j) = (i + 1, j + 1);
        } else if at(&longest, i + 1, j) >= at(&longest, i, j + 1) {
            i += 1;
        } else {
            j += 1;
        }
    }
    Some(pairs)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The weight of the heaviest rising set, by looking at every pair.
    fn by_pairs(ranks: &[usize], weights: &[usize]) -> usize {
        let mut best = vec![0; ranks.len()];
        for at in 0..ranks.len() {
            let before = (0..at).filter(|other| ranks[*other] < ranks[at]);
            best[at] = weights[at] + before.map(|other| best[other]).max().unwrap_or(0);
        }
        best.into_iter().max().unwrap_or(0)
    }

    #[test]
    fn a_common_subsequence_by_hand() {
        let words = |text: &str| text.split(' ').map(str::to_owned).collect::<Vec<_>>();
        let pairs = common(&words("a b c b d a b"), &words("b d c a b a")).unwrap();
        // Cormen, Leiserson, Rivest: the longest has four words.
        assert_eq!(pairs.len(), 4);
        assert!(common(&vec![String::new(); 601], &[]).is_none());
    }

    proptest! {
        #[test]
        fn the_heaviest_set_is_found(
            (ranks, weights) in (0usize..40).prop_flat_map(|count| {
                let ranks = Just((0..count).collect::<Vec<_>>()).prop_shuffle();
                (ranks, proptest::collection::vec(1usize..9, count))
            })
        ) {
            let kept = heaviest_in_order(&ranks, &weights);
            let chosen: Vec<usize> = (0..ranks.len()).filter(|at| kept[*at]).collect();
            prop_assert!(chosen.windows(2).all(|two| ranks[two[0]] < ranks[two[1]]));
            let weight: usize = chosen.iter().map(|at| weights[*at]).sum();
            prop_assert_eq!(weight, by_pairs(&ranks, &weights));
        }
    }
}
