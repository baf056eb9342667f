//! What two rows of words have in common, in order: their longest common subsequence.

/// Words up to which two rows are compared: the table of the longest common subsequence grows with the
/// product of both.
const MOST_WORDS: usize = 600;

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

    #[test]
    fn a_common_subsequence_by_hand() {
        let words = |text: &str| text.split(' ').map(str::to_owned).collect::<Vec<_>>();
        let pairs = common(&words("a b c b d a b"), &words("b d c a b a")).unwrap();
        // Cormen, Leiserson, Rivest: the longest has four words.
        assert_eq!(pairs.len(), 4);
        assert!(common(&vec![String::new(); 601], &[]).is_none());
    }
}
