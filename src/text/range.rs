//! Positions. A [`ByteRange`] is a stretch of bytes of a [`Text`](super::Text), a [`WordRange`] a stretch of
//! its word list. Other stages make ranges of what they count by the same macro, so that different kinds
//! can't be mixed up. All are half-open and hold `start <= end` by construction, so that no later stage has
//! to check it again. They are 32 bits wide, which halves the memory of a library of sources; reading refuses
//! files that would not fit.

macro_rules! range {
    ($(#[$doc:meta])* $name:ident, $unit:literal) => {
        $(#[$doc])*
        // One definition for ranges of the surface and for those of the crate alone.
        #[allow(unreachable_pub)]
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default, serde::Serialize)]
        pub struct $name {
            start: u32,
            end: u32,
        }

        // Not every range is asked everything.
        #[allow(unreachable_pub, dead_code)]
        impl $name {
            #[doc = concat!("The range from `start` up to, not including, `end`, in ", $unit, ". An `end` before `start` gives the empty range at `start`.")]
            #[must_use]
            pub fn new(start: u32, end: u32) -> Self {
                Self { start, end: end.max(start) }
            }

            #[doc = concat!("Like [`new`](Self::new) for `usize` positions; a position beyond 32 bits is held at the largest ", $unit, " a range can name.")]
            #[must_use]
            pub fn of(start: usize, end: usize) -> Self {
                let clamp = |position: usize| u32::try_from(position).unwrap_or(u32::MAX);
                Self::new(clamp(start), clamp(end))
            }

            /// First position inside.
            #[must_use]
            pub fn start(self) -> usize {
                self.start as usize
            }

            /// First position after.
            #[must_use]
            pub fn end(self) -> usize {
                self.end as usize
            }

            #[doc = concat!("Length in ", $unit, ".")]
            #[must_use]
            pub fn len(self) -> usize {
                (self.end - self.start) as usize
            }

            /// Whether nothing lies inside.
            #[must_use]
            pub fn is_empty(self) -> bool {
                self.start == self.end
            }

            /// As a standard range, for slicing.
            #[must_use]
            pub fn as_range(self) -> std::ops::Range<usize> {
                self.start()..self.end()
            }

            /// Whether the position lies inside.
            #[must_use]
            pub fn contains(self, position: usize) -> bool {
                self.start() <= position && position < self.end()
            }

            /// Whether the other range lies wholly inside (an empty range inside or at a border counts).
            #[must_use]
            pub fn covers(self, other: Self) -> bool {
                self.start <= other.start && other.end <= self.end
            }

            /// Whether the two have at least one position in common.
            #[must_use]
            pub fn overlaps(self, other: Self) -> bool {
                self.start.max(other.start) < self.end.min(other.end)
            }

            /// The common part, empty where there is none.
            #[must_use]
            pub fn intersection(self, other: Self) -> Self {
                let start = self.start.max(other.start);
                Self::new(start, self.end.min(other.end))
            }

            /// The smallest range around both.
            #[must_use]
            pub fn hull(self, other: Self) -> Self {
                Self::new(self.start.min(other.start), self.end.max(other.end))
            }
        }
    };
}

range!(
    /// A stretch of bytes of a Text.
    ByteRange,
    "bytes"
);
range!(
    /// A stretch of the word list of a Text.
    WordRange,
    "words"
);

pub(crate) use range;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn start_never_exceeds_end() {
        let range = ByteRange::new(7, 3);
        assert_eq!((range.start(), range.end(), range.len()), (7, 7, 0));
        assert!(ByteRange::of(usize::MAX, 2).is_empty());
    }

    #[test]
    fn set_operations() {
        let (a, b, c) = (
            ByteRange::new(2, 6),
            ByteRange::new(4, 9),
            ByteRange::new(6, 8),
        );
        assert!(a.overlaps(b) && !a.overlaps(c));
        assert_eq!(a.intersection(b), ByteRange::new(4, 6));
        assert!(a.intersection(c).is_empty());
        assert_eq!(a.hull(c), ByteRange::new(2, 8));
        assert!(a.contains(2) && !a.contains(6));
        assert!(b.covers(c) && !a.covers(b));
    }
}
