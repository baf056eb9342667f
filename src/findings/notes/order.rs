//! The order of the entries in a file: `entry-order`.
//!
//! As few entries as possible are told: those outside a longest run of entries that are in order, which
//! stay where they are.

use crate::findings::{Kind, Observation, Weight};
use crate::review::{ListPlace, Review};

use super::{parts, together};

/// The finding on an entry's place among those of its file, if it is out of order.
pub(super) fn judge(review: &Review, number: usize) -> Option<Observation> {
    let entry = review.entries.get(number)?;
    if review.note_files.get(entry.file)?.in_bibliography {
        return None;
    }
    let of_file: Vec<(usize, ListPlace)> = review
        .entries
        .iter()
        .enumerate()
        .filter(|(_, other)| other.file == entry.file)
        .filter_map(|(at, other)| {
            let reference = review.references.get(other.key.as_ref()?)?;
            Some((at, reference.list_place()))
        })
        .collect();
    let own = of_file.iter().position(|(at, _)| *at == number)?;
    let places: Vec<&ListPlace> = of_file.iter().map(|(_, place)| place).collect();
    let stays = in_order(&places);
    if stays.contains(&own) {
        return None;
    }
    let name = |at: usize| {
        let entry = review.entries.get(of_file.get(at)?.0)?;
        Some(review.references.get(entry.key.as_ref()?)?.name())
    };
    let next = stays.iter().find(|at| places[**at] > places[own]);
    let advice = match next {
        Some(next) => format!(
            "In alphabetical order this entry comes before the one on {}. Move it there.",
            name(*next)?
        ),
        None => format!(
            "In alphabetical order this entry comes after the one on {}. Move it there.",
            name(*stays.last()?)?
        ),
    };
    let place = together::place(review, entry.file, parts::heading(review, entry));
    Some(Observation::new(
        Kind::EntryOrder,
        Weight::Know,
        place,
        advice,
    ))
}

/// The positions of a longest subsequence in order; of several, the one that ends earliest.
fn in_order<T: Ord>(places: &[T]) -> Vec<usize> {
    let mut longest: Vec<(usize, Option<usize>)> = Vec::with_capacity(places.len());
    for (at, place) in places.iter().enumerate() {
        let before = (0..at)
            .filter(|other| places[*other] <= *place)
            .max_by_key(|other| (longest[*other].0, std::cmp::Reverse(*other)));
        let length = before.map_or(0, |other| longest[other].0) + 1;
        longest.push((length, before));
    }
    let last = (0..places.len()).max_by_key(|at| (longest[*at].0, std::cmp::Reverse(*at)));
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
