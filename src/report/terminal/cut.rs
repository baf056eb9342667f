//! What is shown of two long wordings that stand below each other.
//!
//! A wording with too many lines loses some. Its beginning and its end are what a reader needs to find
//! it; but wording can only be compared where both sides show it. So each way of cutting the one is set
//! against each way of cutting the other, and a stretch within is shown instead of the ends where clearly
//! more of the words that answer to each other are to be seen then. The words left out are counted where
//! they are missing, and `--whole` leaves nothing out.

use std::ops::Range;

use rustc_hash::FxHashSet;

/// A marked word: its stretch, its place within the stretch, its columns.
pub(super) type MarkedWord = (usize, usize, usize);

/// Ways of cutting the first wording that are tried at most; a longer one is tried at every few lines.
const MOST_TRIED: usize = 200;

/// Which lines of two wordings to show, each given by the marked words of its lines, on at most `most`
/// lines each, notes on what is left out among them.
pub(super) fn both(
    one: &[Vec<MarkedWord>],
    other: &[Vec<MarkedWord>],
    most: usize,
) -> (Vec<bool>, Vec<bool>) {
    let (mut base, mut best) = (None, None);
    for (index, cut) in cuts(one.len(), most, MOST_TRIED).into_iter().enumerate() {
        let (of_ends, of_best) = answers(one, &cut, other, most);
        if index == 0 {
            base = Some((of_ends.0, cut.clone(), of_ends.1));
        }
        if best
            .as_ref()
            .is_none_or(|(columns, _, _)| of_best.0 > *columns)
        {
            best = Some((of_best.0, cut, of_best.1));
        }
    }
    let chosen = match (base, best) {
        // A third more shows what matters to be within.
        (Some(base), Some(best)) if 3 * best.0 > 4 * base.0 => Some(best),
        (base, _) => base,
    };
    let (cut, of_other) = chosen.map_or_else(
        || (Cut::all(one.len()), Cut::all(other.len())),
        |(_, cut, of_other)| (cut, of_other),
    );
    (cut.kept(one.len()), of_other.kept(other.len()))
}

/// The cuts of the other wording beside a cut of the one: its ends, and the best; each with the columns
/// of marked words that answer to words shown of the one.
fn answers(
    one: &[Vec<MarkedWord>],
    cut: &Cut,
    other: &[Vec<MarkedWord>],
    most: usize,
) -> ((usize, Cut), (usize, Cut)) {
    let shown: FxHashSet<(usize, usize)> = cut
        .lines(one)
        .flatten()
        .map(|(stretch, word, _)| (*stretch, *word))
        .collect();
    let gain = |line: &Vec<MarkedWord>| -> usize {
        let seen = line
            .iter()
            .filter(|(stretch, word, _)| shown.contains(&(*stretch, *word)));
        seen.map(|(_, _, columns)| columns).sum()
    };
    let gains: Vec<usize> = other.iter().map(gain).collect();
    let of = |cut: &Cut| -> usize { cut.lines(&gains).sum() };
    let mut ways = cuts(other.len(), most, usize::MAX).into_iter();
    let ends = ways.next().unwrap_or_else(|| Cut::all(other.len()));
    let ends = (of(&ends), ends);
    let mut best = ends.clone();
    for way in ways {
        let columns = of(&way);
        if columns > best.0 {
            best = (columns, way);
        }
    }
    (ends, best)
}

/// A way of cutting: the lines that are shown, as one stretch or as a beginning and an end.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Cut {
    first: Range<usize>,
    second: Range<usize>,
}

impl Cut {
    fn all(lines: usize) -> Self {
        Self {
            first: 0..lines,
            second: lines..lines,
        }
    }

    fn lines<'a, T>(&self, lines: &'a [T]) -> impl Iterator<Item = &'a T> {
        let first = lines.get(self.first.clone()).unwrap_or_default();
        let second = lines.get(self.second.clone()).unwrap_or_default();
        first.iter().chain(second)
    }

    /// For each line whether it is shown. A line that would be left out alone is shown: the note on it
    /// would take as much room.
    fn kept(&self, lines: usize) -> Vec<bool> {
        let mut kept: Vec<bool> = (0..lines)
            .map(|line| self.first.contains(&line) || self.second.contains(&line))
            .collect();
        for line in 0..lines {
            let is_kept =
                |at: Option<usize>| at.and_then(|at| kept.get(at)).copied().unwrap_or(true);
            let alone = is_kept(line.checked_sub(1)) && is_kept(line.checked_add(1));
            if let (true, Some(line)) = (alone, kept.get_mut(line)) {
                *line = true;
            }
        }
        kept
    }
}

/// The ways of cutting a wording, its ends first. Where nothing has to be cut there is one: all.
fn cuts(lines: usize, most: usize, most_tried: usize) -> Vec<Cut> {
    if lines <= most || most < 3 {
        return vec![Cut::all(lines)];
    }
    // One line for the note; the beginning gets the larger half.
    let shown = most - 1;
    let ends = Cut {
        first: 0..shown - shown / 2,
        second: lines - shown / 2..lines,
    };
    let whole = |first: Range<usize>| Cut {
        first,
        second: lines..lines,
    };
    // Notes on both sides leave a line less.
    let inner = shown - 1;
    let last = lines - shown;
    let step = last.div_ceil(most_tried.max(1)).max(1);
    let within = (1..=last).step_by(step);
    std::iter::once(ends)
        .chain(std::iter::once(whole(0..shown)))
        .chain(within.map(|start| whole(start..start + inner)))
        .chain(std::iter::once(whole(last..lines)))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Lines without marks but for those given as (line, stretch), ten columns each.
    fn lines(count: usize, marked: &[(usize, usize)]) -> Vec<Vec<MarkedWord>> {
        let mut lines = vec![Vec::new(); count];
        for (line, stretch) in marked {
            lines[*line].push((*stretch, 0, 10));
        }
        lines
    }

    fn shown(kept: &[bool]) -> Vec<usize> {
        (0..kept.len()).filter(|line| kept[*line]).collect()
    }

    #[test]
    fn short_wordings_are_shown_in_whole() {
        let (one, other) = both(&lines(4, &[]), &lines(0, &[]), 4);
        assert_eq!((shown(&one), shown(&other)), (vec![0, 1, 2, 3], vec![]));
    }

    #[test]
    fn without_marks_the_ends_are_shown() {
        let (one, other) = both(&lines(20, &[]), &lines(6, &[]), 4);
        assert_eq!(
            (shown(&one), shown(&other)),
            (vec![0, 1, 19], vec![0, 1, 5])
        );
    }

    #[test]
    fn both_sides_show_the_words_that_answer_to_each_other() {
        // The draft's beginning answers to the middle of the source, its end to nothing.
        let (one, other) = both(
            &lines(20, &[(0, 1), (1, 2)]),
            &lines(20, &[(9, 1), (10, 2)]),
            4,
        );
        assert!(shown(&one).starts_with(&[0, 1]));
        assert_eq!(shown(&other), [9, 10]);
        // One side is short: the other shows what answers to it.
        let (one, other) = both(&lines(2, &[(1, 1)]), &lines(20, &[(19, 1), (7, 9)]), 4);
        assert_eq!(shown(&one), [0, 1]);
        assert!(shown(&other).contains(&19));
    }

    #[test]
    fn no_cut_takes_more_lines_than_there_are() {
        for count in 0..40 {
            for most in 0..8 {
                for cut in cuts(count, most, 5) {
                    let kept = cut.kept(count);
                    let gaps = kept
                        .split(|kept| *kept)
                        .filter(|gap| !gap.is_empty())
                        .count();
                    let room = shown(&kept).len() + gaps;
                    assert!(most < 3 || room <= most.max(count.min(most)), "{cut:?}");
                }
            }
        }
    }
}
