//! What each word of a rewrite keeps of the words of its source, and the best sequence of these.

use std::ops::Range;

use rustc_hash::FxHashMap;

use super::Sequence;
use crate::overlap::alignment::Alignment;
use crate::overlap::lexicon::{FormId, Lexicon, StemId};
use crate::overlap::positions::ListRange;
use crate::overlap::scale::Counterpart;

/// What the same word keeps.
const SAME: f32 = 1.0;

/// What another form, a misspelling or a synonym keeps. Our own choice; verse translations gave no better
/// value for either (see DEVELOPERS.md).
pub(crate) const IN_PART: f32 = 0.5;

/// What each word of a rewrite keeps, and of which words of the source.
pub(super) struct Keeps {
    /// For each word of the rewrite, the number of its form's row.
    rows: Vec<usize>,
    /// For each form, the positions in the source of which it keeps something, in order, and how much.
    places: Vec<Vec<(usize, f32)>>,
    /// For each word of the rewrite, the position of the source word of which it is a misspelling or synonym.
    singles: Vec<Option<usize>>,
    /// The number of words in the source.
    source: usize,
}

impl Keeps {
    pub(super) fn new(
        ours: &[FormId],
        theirs: &[FormId],
        alignment: &Alignment,
        lexicon: &Lexicon,
    ) -> Self {
        let mut of_stem: FxHashMap<StemId, Vec<usize>> = FxHashMap::default();
        for (at, form) in theirs.iter().enumerate() {
            of_stem.entry(lexicon.stem(*form)).or_default().push(at);
        }
        let keeps = |ours: FormId, theirs: FormId| if ours == theirs { SAME } else { IN_PART };
        let mut places = Vec::new();
        let mut row_of: FxHashMap<FormId, usize> = FxHashMap::default();
        let row = |form: &FormId| {
            *row_of.entry(*form).or_insert_with(|| {
                let same = of_stem.get(&lexicon.stem(*form)).into_iter().flatten();
                places.push(same.map(|at| (*at, keeps(*form, theirs[*at]))).collect());
                places.len() - 1
            })
        };
        let rows = ours.iter().map(row).collect();
        let mut singles = vec![None; ours.len()];
        for single in &alignment.singles {
            if matches!(single.by, Counterpart::Misspelling | Counterpart::Synonym) {
                singles[single.draft] = Some(single.source);
            }
        }
        Self {
            rows,
            places,
            singles,
            source: theirs.len(),
        }
    }

    /// The number of words in the rewrite.
    pub(super) fn len(&self) -> usize {
        self.rows.len()
    }

    /// The number of words in the source.
    pub(super) fn source_len(&self) -> usize {
        self.source
    }

    /// What a word of the rewrite keeps of those of a part of the source.
    fn of_word(&self, word: usize, theirs: &Range<usize>) -> impl Iterator<Item = (usize, f32)> {
        let places = &self.places[self.rows[word]];
        let from = places.partition_point(|(at, _)| *at < theirs.start);
        let to = places.partition_point(|(at, _)| *at < theirs.end);
        let single = self.singles[word].filter(|at| theirs.contains(at));
        let single = single.map(|at| (at, IN_PART));
        places[from..to].iter().copied().chain(single)
    }

    /// The sequence that keeps most within a part of the rewrite and of the source when each word of its
    /// stretch costs `cost`.
    pub(super) fn best_at_cost(
        &self,
        (ours, theirs): (Range<usize>, Range<usize>),
        cost: f32,
    ) -> Sequence {
        // The best path up to each word of the source, by the words of the rewrite so far.
        let mut paths = vec![Path::default(); theirs.len()];
        let mut keeps = vec![0.0; theirs.len()];
        let (mut most, mut stretch) = (0.0, ListRange::default());
        for word in ours {
            let mut is_any = false;
            for (at, keep) in self.of_word(word, &theirs) {
                keeps[at - theirs.start] = keep;
                is_any = true;
            }
            if !is_any {
                continue;
            }
            let (mut before, mut here) = (Path::default(), Path::default());
            for (at, path) in paths.iter_mut().enumerate() {
                let passed_over = Path {
                    gain: (here.gain - cost).max(0.0),
                    ..here
                };
                here = path.or(passed_over);
                if keeps[at] > 0.0 {
                    let start = if before.gain > 0.0 { before.start } else { at };
                    let gain = before.gain + keeps[at] - cost;
                    here = here.or(Path { gain, start });
                    if gain > most {
                        (most, stretch) = (gain, ListRange::of(start, at + 1));
                    }
                }
                before = std::mem::replace(path, here);
            }
            for (at, _) in self.of_word(word, &theirs) {
                keeps[at - theirs.start] = 0.0;
            }
        }
        let from = theirs.start;
        Sequence {
            kept: in_halves(most + cost * stretch.len() as f32),
            stretch: ListRange::of(from + stretch.start(), from + stretch.end()),
        }
    }
}

/// A number of words kept, rounded to the halves in which it comes, since summing the costs leaves small
/// errors. A path of the pairs that are compared at once loses less than a tenth of a word (tried on 4,000
/// words).
fn in_halves(kept: f32) -> f32 {
    (2.0 * kept).round() / 2.0
}

/// A sequence up to some word of the source. It begins at `start`, if it gains anything.
#[derive(Debug, Clone, Copy, Default)]
struct Path {
    gain: f32,
    start: usize,
}

impl Path {
    fn or(self, other: Self) -> Self {
        if other.gain > self.gain { other } else { self }
    }
}
