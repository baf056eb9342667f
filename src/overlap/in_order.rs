//! Stretches in order: of pairs of corresponding stretches in two texts, the heaviest set that keeps both
//! orders.

/// For each prefix of ranks, the best weight that a set ending in it reaches, and the last stretch of that
/// set. This is a tree of maxima (Fenwick, 1994), which keeps the work proportional to the count times its
/// logarithm.
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
            // The lowest bit is taken off, which gives the slot of the prefix before.
            slot &= slot - 1;
        }
        best
    }

    /// Enters the weight that a set ending at a rank reaches.
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

/// The heaviest set of stretches whose ranks increase; of sets of equal weight the one found first. `ranks`
/// are the numbers from 0, each once.
#[must_use]
pub(crate) fn heaviest_in_order(ranks: &[usize], weights: &[usize]) -> Vec<bool> {
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The weight of the heaviest increasing set, found by comparing every pair.
    fn by_pairs(ranks: &[usize], weights: &[usize]) -> usize {
        let mut best = vec![0; ranks.len()];
        for at in 0..ranks.len() {
            let before = (0..at).filter(|other| ranks[*other] < ranks[at]);
            best[at] = weights[at] + before.map(|other| best[other]).max().unwrap_or(0);
        }
        best.into_iter().max().unwrap_or(0)
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
