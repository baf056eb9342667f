//! Local alignment of two word lists after Smith & Waterman (1981, *Journal of Molecular Biology* 147): the
//! pair of stretches that correspond best, word by word.
//!
//! It is used where the question is how one particular stretch differs from another, as for a quotation with
//! altered words. Time and memory are proportional to the product of the two lengths.

/// What a step of the alignment is worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Scores {
    /// Two equal words.
    pub equal: i32,
    /// Two different words.
    pub different: i32,
    /// A word that stands in one list only.
    pub gap: i32,
}

/// The best local alignment of two lists.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Local {
    /// Its score, 0 where nothing is alike.
    pub score: i32,
    /// Positions of equal words, in order.
    pub pairs: Vec<(usize, usize)>,
}

/// The best local alignment of two lists; of equally good ones, the one that ends first.
#[must_use]
pub(crate) fn align_local<A, B>(
    ours: &[A],
    theirs: &[B],
    equal: impl Fn(&A, &B) -> bool,
    scores: Scores,
) -> Local {
    let width = theirs.len() + 1;
    let mut table = vec![0_i32; (ours.len() + 1) * width];
    let mut best = (0, 0, 0);
    let step = |a: usize, b: usize| {
        if equal(&ours[a], &theirs[b]) {
            scores.equal
        } else {
            scores.different
        }
    };
    for a in 0..ours.len() {
        for b in 0..theirs.len() {
            let diagonal = table[a * width + b] + step(a, b);
            let above = table[a * width + b + 1] + scores.gap;
            let left = table[(a + 1) * width + b] + scores.gap;
            let value = diagonal.max(above).max(left).max(0);
            table[(a + 1) * width + b + 1] = value;
            if value > best.0 {
                best = (value, a + 1, b + 1);
            }
        }
    }
    let (score, mut a, mut b) = best;
    let mut pairs = Vec::new();
    while a > 0 && b > 0 && table[a * width + b] > 0 {
        let value = table[a * width + b];
        if value == table[(a - 1) * width + b - 1] + step(a - 1, b - 1) {
            (a, b) = (a - 1, b - 1);
            if equal(&ours[a], &theirs[b]) {
                pairs.push((a, b));
            }
        } else if value == table[(a - 1) * width + b] + scores.gap {
            a -= 1;
        } else {
            b -= 1;
        }
    }
    pairs.reverse();
    Local { score, pairs }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_worked_example() {
        // The textbook example (from memory): TGTTACGG against GGTTGACTA with 3 for a match, -3 for a
        // mismatch, -2 for a gap scores 13, aligning GTT-AC with GTTGAC.
        let scores = Scores {
            equal: 3,
            different: -3,
            gap: -2,
        };
        let local = align_local(b"TGTTACGG", b"GGTTGACTA", |a, b| a == b, scores);
        assert_eq!(local.score, 13);
        assert_eq!(local.pairs, [(1, 1), (2, 2), (3, 3), (4, 5), (5, 6)]);
    }

    #[test]
    fn nothing_alike_and_empty_lists() {
        let scores = Scores {
            equal: 1,
            different: -1,
            gap: -1,
        };
        assert_eq!(
            align_local(b"aaa", b"bbb", |a, b| a == b, scores),
            Local::default()
        );
        assert_eq!(
            align_local(b"", b"bbb", |a, b| a == b, scores),
            Local::default()
        );
    }
}
