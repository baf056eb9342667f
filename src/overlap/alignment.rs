//! Alignment: which word of a rewrite corresponds to which word of its source.
//!
//! 1. *Tiles*: shared strings of two words and more, at least one of them a content word, the longest first,
//!    each word of either text used once (greedy string tiling, Wise 1993).
//! 2. *Single counterparts*: each content word outside the tiles is given its counterpart in the source. Four
//!    rounds are tried: same form, same stem, misspelling, synonym. Of several candidates the one that best
//!    keeps the order of the neighbouring words wins, then the earliest.
//!
//! Both can be found by hand, and both are what the reports show.

mod singles;

use rustc_hash::FxHashMap;

use super::in_order::heaviest_in_order;
use super::lexicon::{FormId, Lexicon};
use super::positions::{ListRange, StreamRange};
use super::scale::Counterpart;

/// A shared string, by its place in the two lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Tile {
    /// Where in the rewrite.
    pub draft: ListRange,
    /// Where in the source; of the same length.
    pub source: ListRange,
}

/// A content word outside the tiles and its counterpart in the source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Single {
    /// Which word of the rewrite.
    pub draft: usize,
    /// Which word of the source.
    pub source: usize,
    /// How the two correspond.
    pub by: Counterpart,
}

/// Two lists of words aligned with each other.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Alignment {
    /// Shared strings in order of the rewrite.
    pub tiles: Vec<Tile>,
    /// Single counterparts in order of the rewrite.
    pub singles: Vec<Single>,
}

/// A shared string, by its place in the two streams.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct PlacedTile {
    /// Where in the draft.
    pub draft: StreamRange,
    /// Where in the source; of the same length.
    pub source: StreamRange,
}

/// An alignment by places in the two streams.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Placed {
    /// Shared strings in order of the draft.
    pub tiles: Vec<PlacedTile>,
    /// Single counterparts in order of the draft.
    pub singles: Vec<Single>,
}

impl Alignment {
    /// The tiles that are in the same order in both texts, chosen so that they hold as many words as
    /// possible.
    pub(super) fn tiles_in_order(&self) -> Vec<Tile> {
        let mut by_source: Vec<usize> = (0..self.tiles.len()).collect();
        by_source.sort_unstable_by_key(|at| self.tiles[*at].source.start());
        let mut ranks = vec![0; self.tiles.len()];
        for (rank, at) in by_source.into_iter().enumerate() {
            ranks[at] = rank;
        }
        let words: Vec<usize> = self.tiles.iter().map(|tile| tile.draft.len()).collect();
        let kept = heaviest_in_order(&ranks, &words);
        let tiles = self.tiles.iter().zip(kept);
        tiles
            .filter(|(_, kept)| *kept)
            .map(|(tile, _)| *tile)
            .collect()
    }

    /// Where to cut two long stretches that begin at `from`: within a tile that keeps the order and as near
    /// to the middle as possible, or else in the middle of both. Both stretches have more than one word, and
    /// each part gets at least one.
    pub(super) fn cut(&self, from: (usize, usize), words: (usize, usize)) -> (usize, usize) {
        let middle = (words.0 / 2, words.1 / 2);
        let within = |tile: &Tile| {
            let (a, b) = (tile.draft.start(), tile.source.start());
            // Far enough into the tile to reach the middle of both, on average.
            let ahead = (from.0 + middle.0 + from.1 + middle.1).saturating_sub(a + b) / 2;
            let ahead = ahead.min(tile.draft.len());
            let place = (a + ahead)
                .checked_sub(from.0)
                .zip((b + ahead).checked_sub(from.1));
            place.filter(|(a, b)| (1..words.0).contains(a) && (1..words.1).contains(b))
        };
        let far = |(a, b): &(usize, usize)| a.abs_diff(middle.0) + b.abs_diff(middle.1);
        let places = self.tiles_in_order();
        let places = places.iter().filter_map(within);
        places
            .min_by_key(|place| (far(place), *place))
            .unwrap_or(middle)
    }

    /// The same alignment in positions of the streams: `own` gives the position of each word of the rewrite,
    /// `source` the position of the first word of the source. A tile is cut where its words are not
    /// neighbours in the stream, because a quotation stands between them.
    #[must_use]
    pub fn placed(&self, own: &[usize], source: usize) -> Placed {
        let place = |at: usize| own.get(at).copied().unwrap_or_default();
        let mut placed = Placed::default();
        for tile in &self.tiles {
            let mut start = tile.draft.start();
            for at in tile.draft.as_range() {
                let is_last = at + 1 == tile.draft.end();
                if is_last || place(at + 1) != place(at) + 1 {
                    let offset = start - tile.draft.start();
                    let from = source + tile.source.start() + offset;
                    placed.tiles.push(PlacedTile {
                        draft: StreamRange::of(place(start), place(at) + 1),
                        source: StreamRange::of(from, from + at + 1 - start),
                    });
                    start = at + 1;
                }
            }
        }
        placed
            .singles
            .extend(self.singles.iter().map(|single| Single {
                draft: place(single.draft),
                source: source + single.source,
                by: single.by,
            }));
        placed
    }
}

/// Shorter strings are not tiles.
const TILE_WORDS: usize = 2;

/// Repetitions of a pair of words in the source that are followed for each position of the rewrite. Without a
/// limit, texts that repeat one word would cost the square of their length.
const MOST_REPEATS: usize = 256;

/// Steps along shared strings, per word of both texts, after which no more strings are followed: the same
/// limit for strings that begin at every position of the rewrite. Ordinary texts stay far below one.
const STEPS_PER_WORD: usize = 64;

/// Aligns a rewrite with a source.
#[must_use]
pub(crate) fn align(draft: &[FormId], source: &[FormId], lexicon: &Lexicon) -> Alignment {
    let mut work = Work::new(draft, source, lexicon);
    work.lay_tiles();
    work.pair_singles();
    work.alignment.tiles.sort_unstable();
    work.alignment.singles.sort_unstable();
    work.alignment
}

struct Work<'a> {
    draft: &'a [FormId],
    source: &'a [FormId],
    lexicon: &'a Lexicon,
    /// For each word of the rewrite, its source word. For each source word, whether it is used.
    answer: Vec<Option<usize>>,
    used: Vec<bool>,
    /// See [`singles::FEW_WORDS`]; a test has others.
    few_words: usize,
    alignment: Alignment,
}

impl<'a> Work<'a> {
    fn new(draft: &'a [FormId], source: &'a [FormId], lexicon: &'a Lexicon) -> Self {
        Self {
            draft,
            source,
            lexicon,
            answer: vec![None; draft.len()],
            used: vec![false; source.len()],
            few_words: singles::FEW_WORDS,
            alignment: Alignment::default(),
        }
    }

    fn lay_tiles(&mut self) {
        // A max-heap: longest first, then the earliest in the rewrite, then in the source.
        let mut heap: std::collections::BinaryHeap<_> = self
            .maximal_matches()
            .into_iter()
            .map(|(draft, source, len)| (len, std::cmp::Reverse((draft, source))))
            .collect();
        while let Some((len, std::cmp::Reverse((draft, source)))) = heap.pop() {
            let free = |offset: usize| {
                self.answer[draft + offset].is_none() && !self.used[source + offset]
            };
            let mut offset = 0;
            let mut parts = Vec::new();
            while offset < len {
                let run = (offset..len).take_while(|o| free(*o)).count();
                if run >= TILE_WORDS {
                    parts.push((offset, run));
                }
                offset += run.max(1);
            }
            match parts.as_slice() {
                [(0, whole)] if *whole == len => self.lay(draft, source, len),
                _ => heap.extend(parts.iter().map(|(offset, run)| {
                    (*run, std::cmp::Reverse((draft + offset, source + offset)))
                })),
            }
        }
    }

    fn lay(&mut self, draft: usize, source: usize, len: usize) {
        let words = ListRange::of(draft, draft + len);
        let has_content = self.draft[words.as_range()]
            .iter()
            .any(|form| self.lexicon.is_content(*form));
        if !has_content {
            return;
        }
        for offset in 0..len {
            self.answer[draft + offset] = Some(source + offset);
            self.used[source + offset] = true;
        }
        self.alignment.tiles.push(Tile {
            draft: words,
            source: ListRange::of(source, source + len),
        });
    }

    /// Start in the rewrite, start in the source and length of every string of two words and more
    /// that can't be extended.
    fn maximal_matches(&self) -> Vec<(usize, usize, usize)> {
        let mut places: FxHashMap<(FormId, FormId), Vec<usize>> = FxHashMap::default();
        for (position, pair) in self.source.windows(2).enumerate() {
            let of_pair = places.entry((pair[0], pair[1])).or_default();
            if of_pair.len() < MOST_REPEATS {
                of_pair.push(position);
            }
        }
        // A string without a content word is no tile, nor is a part of it.
        let content_before = self.content_before();
        let mut matches = Vec::new();
        let mut steps = STEPS_PER_WORD * (self.draft.len() + self.source.len());
        for (draft, pair) in self.draft.windows(2).enumerate() {
            if steps == 0 {
                break;
            }
            for source in places.get(&(pair[0], pair[1])).into_iter().flatten() {
                let goes_back =
                    draft > 0 && *source > 0 && self.draft[draft - 1] == self.source[source - 1];
                if !goes_back {
                    let len = self.draft[draft..]
                        .iter()
                        .zip(&self.source[*source..])
                        .take_while(|(a, b)| a == b)
                        .count();
                    steps = steps.saturating_sub(len);
                    if content_before[draft] < content_before[draft + len] {
                        matches.push((draft, *source, len));
                    }
                }
            }
        }
        matches
    }

    /// For each place in the rewrite, and its end, the content words before it.
    fn content_before(&self) -> Vec<usize> {
        let mut before = Vec::with_capacity(self.draft.len() + 1);
        before.push(0);
        for (at, form) in self.draft.iter().enumerate() {
            before.push(before[at] + usize::from(self.lexicon.is_content(*form)));
        }
        before
    }

    fn free_draft(&self) -> Vec<usize> {
        (0..self.draft.len())
            .filter(|at| self.answer[*at].is_none() && self.lexicon.is_content(self.draft[*at]))
            .collect()
    }

    fn free_source(&self) -> Vec<usize> {
        (0..self.source.len())
            .filter(|at| !self.used[*at] && self.lexicon.is_content(self.source[*at]))
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::lexicon::Counted;
    use super::*;
    use crate::text::{MarkedText, Text};

    fn aligned(source: &str, rewrite: &str) -> (Alignment, (usize, usize)) {
        let texts = [source, rewrite].map(|text| MarkedText::source(Text::paragraph(text)));
        let mut lexicon = Lexicon::default();
        let forms = lexicon.intern_all(&[&texts[0], &texts[1]], Counted::Yes);
        let words = (forms[1].len(), forms[0].len());
        (align(&forms[1], &forms[0], &lexicon), words)
    }

    #[test]
    fn a_word_far_from_its_neighbours_is_not_a_counterpart() {
        let between = |words: usize| {
            let source = format!("The keeper counted moths. {}Gulls.", "lorem ".repeat(words));
            let (found, _) = aligned(&source, "The keeper counted moths and gulls.");
            found.singles.len()
        };
        assert_eq!((between(40), between(60)), (1, 0));
    }

    #[test]
    fn long_stretches_are_cut_where_they_correspond() {
        let words = |numbers: std::ops::Range<usize>| {
            let words = numbers.map(|number| format!("word{number}"));
            words.collect::<Vec<_>>().join(" ")
        };
        // The rewrite is the source's first half, and begins with one of its last words.
        let source = words(0..100);
        let (found, sizes) = aligned(&source, &format!("word51 own {}", words(0..50)));
        let (a, b) = found.cut((0, 0), sizes);
        assert_eq!(a, b + 2, "within the string");
        assert!((20..50).contains(&b), "{b} is near the middle of both");
        // The same seen from a part of both.
        let (a, b) = found.cut((12, 10), (sizes.0 - 12, 30));
        assert_eq!(a, b, "within the string");
        let (nothing, sizes) = aligned("Moths circle lamps.", "Ledgers balance today.");
        assert_eq!(nothing.cut((0, 0), sizes), (1, 1));
    }
}
