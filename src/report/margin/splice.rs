//! Insertions into a part, between the bytes that are there.

use std::collections::BTreeMap;

use crate::text::ByteRange;

/// What is put in at places of a part, and what is taken out.
#[derive(Default)]
pub(super) struct Splice {
    put: BTreeMap<usize, String>,
    /// Bytes that are left out; none overlaps another.
    out: BTreeMap<usize, usize>,
}

impl Splice {
    /// Puts text in before the byte at `at`, behind what was put there before.
    pub(super) fn put(&mut self, at: usize, text: &str) {
        self.put.entry(at).or_default().push_str(text);
    }

    /// Leaves a stretch out.
    pub(super) fn leave_out(&mut self, range: ByteRange) {
        if !range.is_empty() {
            self.out.insert(range.start(), range.end());
        }
    }

    /// Whether something is put in at a place already.
    pub(super) fn has(&self, at: usize) -> bool {
        self.put.contains_key(&at)
    }

    /// The part with all of it done. A place that is none (inside a character, behind the end) is passed
    /// over; places come from the part itself.
    pub(super) fn apply(&self, part: &str) -> String {
        let added: usize = self.put.values().map(String::len).sum();
        let mut out = String::with_capacity(part.len() + added);
        let mut places: Vec<usize> = self.put.keys().chain(self.out.keys()).copied().collect();
        places.sort_unstable();
        places.dedup();
        let mut at = 0;
        for place in places {
            let Some(before) = part.get(at..place) else {
                continue;
            };
            out.push_str(before);
            out.push_str(self.put.get(&place).map_or("", String::as_str));
            at = self.out.get(&place).copied().unwrap_or(place).max(place);
        }
        out.push_str(part.get(at..).unwrap_or_default());
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_are_put_in_and_taken_out() {
        let mut splice = Splice::default();
        splice.put(4, "<b>");
        splice.put(0, "^");
        splice.put(4, "<c>");
        splice.put(9, "$");
        splice.leave_out(ByteRange::of(4, 6));
        assert_eq!(splice.apply("moth lamp"), "^moth<b><c>amp$");
        assert_eq!(Splice::default().apply("moth"), "moth");
    }
}
