//! Looking up a place among ranges that are in order and don't overlap.

use crate::text::ByteRange;

/// The range that holds a byte.
pub(super) fn holding(ranges: &[ByteRange], byte: usize) -> Option<ByteRange> {
    last_from(ranges, byte).filter(|range| range.contains(byte))
}

/// The range that a place between two bytes is inside of: not at its edges.
pub(super) fn around(ranges: &[ByteRange], place: usize) -> Option<ByteRange> {
    last_from(ranges, place.checked_sub(1)?).filter(|range| place < range.end())
}

/// The last range that begins at a byte or before it.
fn last_from(ranges: &[ByteRange], byte: usize) -> Option<ByteRange> {
    let behind = ranges.partition_point(|range| range.start() <= byte);
    ranges.get(behind.checked_sub(1)?).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bytes_are_held_and_places_are_inside() {
        let ranges = [ByteRange::of(2, 4), ByteRange::of(4, 7)];
        let held: Vec<Option<usize>> = (0..9)
            .map(|byte| holding(&ranges, byte).map(ByteRange::start))
            .collect();
        let (one, two) = (Some(2), Some(4));
        assert_eq!(held, [None, None, one, one, two, two, two, None, None]);
        let inside: Vec<Option<usize>> = (0..9)
            .map(|place| around(&ranges, place).map(ByteRange::start))
            .collect();
        assert_eq!(inside, [None, None, None, one, None, two, two, None, None]);
        assert_eq!(holding(&[], 3), None);
    }
}
