//! Lines of a Text by its line feeds, so that a place deep in a long Text costs no more than one at its start.

/// How many line feeds precede each stretch of a Text.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct LineFeeds {
    before: Vec<u32>,
}

/// Bytes of a stretch: few enough to be counted for each question, and so many that the counts of a book fit a page of memory.
const STRETCH: usize = 1024;

impl LineFeeds {
    /// Counts those of a Text.
    pub(super) fn of(content: &[u8]) -> Self {
        let mut count = 0;
        let before = content.chunks(STRETCH).map(|stretch| {
            let before = count;
            count += feeds(stretch);
            // A file with more bytes than 32 bits count is refused before it gets here.
            u32::try_from(before).unwrap_or(u32::MAX)
        });
        Self {
            before: before.collect(),
        }
    }

    /// How many stand before a position of the same Text; of a position beyond its end, none.
    pub(super) fn before(&self, content: &[u8], position: usize) -> usize {
        if position > content.len() {
            return 0;
        }
        let stretch = (position / STRETCH).min(self.before.len().saturating_sub(1));
        let before = self.before.get(stretch).copied().unwrap_or_default() as usize;
        let rest = content.get(stretch * STRETCH..position);
        before + feeds(rest.unwrap_or_default())
    }
}

fn feeds(bytes: &[u8]) -> usize {
    memchr::memchr_iter(b'\n', bytes).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_position_is_counted_as_by_reading_up_to_it() {
        for length in [0, 1, STRETCH - 1, STRETCH, STRETCH + 1, 3 * STRETCH] {
            let content: Vec<u8> = (0..length)
                .map(|at| {
                    if at % 7 == 3 || at % 1024 == 0 {
                        b'\n'
                    } else {
                        b'a'
                    }
                })
                .collect();
            let counted = LineFeeds::of(&content);
            for position in 0..=length {
                let read = feeds(&content[..position]);
                assert_eq!(
                    counted.before(&content, position),
                    read,
                    "{length} {position}"
                );
            }
            assert_eq!(counted.before(&content, length + 1), 0);
        }
    }
}
