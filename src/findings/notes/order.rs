//! The order of the entries in a file: `entry-order`.
//!
//! As few entries as possible are reported: those outside a longest run of entries that are in order, which
//! stay where they are.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use crate::findings::{Kind, Observation, Weight};
use crate::review::{ListPlace, Review};

use super::{parts, together};

/// What is seen of the order of the entries in each file, by their numbers.
pub(super) fn judge_all(review: &Review) -> BTreeMap<usize, Observation> {
    let mut places: Vec<Vec<(usize, ListPlace)>> = vec![Vec::new(); review.note_files.len()];
    for (number, entry) in review.entries.iter().enumerate() {
        let reference = entry
            .key
            .as_ref()
            .and_then(|key| review.references.get(key));
        if let (Some(reference), Some(of_file)) = (reference, places.get_mut(entry.file)) {
            of_file.push((number, reference.list_place()));
        }
    }
    let files = review.note_files.iter().zip(places);
    let files = files.filter(|(file, _)| !file.in_bibliography);
    files
        .flat_map(|(_, of_file)| judge(review, &of_file))
        .collect()
}

/// The same for one file.
fn judge(review: &Review, of_file: &[(usize, ListPlace)]) -> Vec<(usize, Observation)> {
    let places: Vec<&ListPlace> = of_file.iter().map(|(_, place)| place).collect();
    let stays = in_order(&places);
    let name = |at: usize| {
        let entry = review.entries.get(of_file.get(at)?.0)?;
        Some(review.references.get(entry.key.as_ref()?)?.name())
    };
    let out_of_order = |(own, (number, place)): (usize, &(usize, ListPlace))| {
        if stays.binary_search(&own).is_ok() {
            return None;
        }
        // What stays is in order of its places, too.
        let next = stays.partition_point(|at| places[*at] <= place);
        let advice = match stays.get(next) {
            Some(next) => format!(
                "In alphabetical order this entry comes before the one on {}. Move it there.",
                name(*next)?
            ),
            None => format!(
                "In alphabetical order this entry comes after the one on {}. Move it there.",
                name(*stays.last()?)?
            ),
        };
        let entry = review.entries.get(*number)?;
        let place = together::place(review, entry.file, parts::heading(review, entry));
        let seen = Observation::new(Kind::EntryOrder, Weight::Know, place, advice);
        Some((*number, seen))
    };
    of_file
        .iter()
        .enumerate()
        .filter_map(out_of_order)
        .collect()
}

/// The positions of a longest subsequence in order; of several, the one that ends earliest. For each prefix of ranks a tree
/// of maxima (Fenwick 1994) keeps the longest so far, so the work is the count times its logarithm.
fn in_order<T: Ord>(places: &[T]) -> Vec<usize> {
    let mut sorted: Vec<&T> = places.iter().collect();
    sorted.sort();
    let mut longest: Vec<(usize, Option<usize>)> = Vec::with_capacity(places.len());
    let mut tree: Vec<(usize, Reverse<usize>)> = vec![(0, Reverse(usize::MAX)); places.len() + 1];
    for (at, place) in places.iter().enumerate() {
        let rank = sorted.partition_point(|other| *other <= place);
        let mut before = (0, Reverse(usize::MAX));
        let mut slot = rank;
        while slot > 0 {
            before = before.max(tree[slot]);
            // The lowest bit taken off: the slot of the prefix before.
            slot &= slot - 1;
        }
        let (length, Reverse(last)) = before;
        longest.push((length + 1, (length > 0).then_some(last)));
        let mut slot = rank;
        while slot < tree.len() {
            tree[slot] = tree[slot].max((length + 1, Reverse(at)));
            slot += slot & slot.wrapping_neg();
        }
    }
    let last = (0..places.len()).max_by_key(|at| (longest[*at].0, Reverse(*at)));
    let mut order = Vec::new();
    let mut next = last;
    while let Some(at) = next {
        order.push(at);
        next = longest[at].1;
    }
    order.reverse();
    order
}

#[cfg(test)]
mod tests {
    use super::in_order;

    #[test]
    fn as_few_as_possible_are_out_of_order() {
        let cases: [(&[u8], &[usize]); 6] = [
            (&[], &[]),
            (&[3], &[0]),
            (&[1, 2, 2, 3], &[0, 1, 2, 3]),
            (&[1, 9, 2, 3], &[0, 2, 3]),
            (&[2, 3, 4, 1], &[0, 1, 2]),
            (&[2, 1], &[0]),
        ];
        for (places, wanted) in cases {
            assert_eq!(in_order(places), wanted, "{places:?}");
        }
    }
}
