//! Titles of the review's works: between quotation marks they quote nobody.

use rustc_hash::FxHashMap;

use super::segments::{self, Segment};
use crate::review::References;

/// The titles as normal forms, and which of them have a word.
#[derive(Debug)]
pub(crate) struct Titles {
    titles: Vec<Vec<String>>,
    with_word: FxHashMap<String, Vec<usize>>,
}

impl Titles {
    /// The titles of all references.
    pub(crate) fn of(references: &References) -> Self {
        let titles: Vec<Vec<String>> = references
            .iter()
            .map(|reference| segments::forms(&reference.title))
            .collect();
        let mut with_word: FxHashMap<String, Vec<usize>> = FxHashMap::default();
        for (number, title) in titles.iter().enumerate() {
            for word in title {
                let list = with_word.entry(word.clone()).or_default();
                if list.last() != Some(&number) {
                    list.push(number);
                }
            }
        }
        Self { titles, with_word }
    }

    /// Whether the marked words are the title of a work of the review, or a part of one.
    pub(crate) fn hold(&self, segments: &[Segment]) -> bool {
        let marked: Vec<&String> = segments.iter().flat_map(|segment| &segment.forms).collect();
        let lists = marked.iter().map(|word| self.with_word.get(*word));
        // Of the words the one that the fewest titles have.
        let Some(fewest) = lists
            .collect::<Option<Vec<_>>>()
            .and_then(|lists| lists.into_iter().min_by_key(|list| list.len()))
        else {
            return false;
        };
        fewest.iter().any(|number| {
            let title = self.titles.get(*number).map_or(&[][..], Vec::as_slice);
            title
                .windows(marked.len())
                .any(|window| window.iter().eq(marked.iter().copied()))
        })
    }
}
