//! Works named by their title in the sentence, with the year behind it: *Author's* *Title: Subtitle* (2017). The reader of
//! citations takes the end of such a title for the name of a group, since it doesn't know the references. Here they are known.

use rustc_hash::FxHashMap;

use crate::review::{Key, References};
use crate::text::words::bare_words;
use crate::text::{Citation, CiteTarget, Text};
use crate::wording::normal_form;

/// Fewest words of a title that name a work by themselves. Our own choice.
const LEAST_WORDS: usize = 2;

/// Bytes before a citation in which a title is looked for.
const MOST_BYTES: usize = 400;

/// The words of a title, and the year and the key of its reference.
type Titled = (Vec<String>, Option<i32>, Key);

/// Titles of references, whole and without their subtitles, by their last words.
#[derive(Debug)]
pub(super) struct TitlesByEnd {
    by_last_word: FxHashMap<String, Vec<Titled>>,
}

impl TitlesByEnd {
    /// The titles of all references.
    pub(super) fn of(references: &References) -> Self {
        let mut by_last_word: FxHashMap<String, Vec<_>> = FxHashMap::default();
        for reference in references.iter() {
            let title = reference.title.as_str();
            let main = title.split([':', '?']).next().unwrap_or(title);
            let mut forms = vec![forms(title), forms(main)];
            forms.dedup();
            for words in forms {
                if let Some(last) = words.last().filter(|_| words.len() >= LEAST_WORDS) {
                    let of_word = by_last_word.entry(last.clone()).or_default();
                    of_word.push((words, reference.year, reference.key.clone()));
                }
            }
        }
        Self { by_last_word }
    }

    /// The works of which the title stands right before the year of a citation in the sentence.
    pub(super) fn before(&self, citation: &Citation, text: &Text) -> Vec<Key> {
        let [cite] = citation.cites.as_slice() else {
            return Vec::new();
        };
        let CiteTarget::Author {
            year: Some(year), ..
        } = &cite.target
        else {
            return Vec::new();
        };
        if !citation.narrative {
            return Vec::new();
        }
        let content = text.content();
        let end = citation.aside.start();
        let start = content.floor_char_boundary(end.saturating_sub(MOST_BYTES));
        let before = forms(content.get(start..end).unwrap_or_default());
        let ending = before.last().and_then(|last| self.by_last_word.get(last));
        let mut keys: Vec<Key> = ending
            .into_iter()
            .flatten()
            .filter(|(words, of, _)| *of == year.number && before.ends_with(words))
            .map(|(_, _, key)| key.clone())
            .collect();
        keys.sort();
        keys.dedup();
        keys
    }
}

fn forms(string: &str) -> Vec<String> {
    let words = bare_words(string);
    words.map(|word| normal_form(word).into_owned()).collect()
}
