//! Fixed wording: words of the draft that are nobody's own, and so explain an overlap away: stock
//! phrases of academic prose, the review's terms, titles of its works, names and numbers.

use crate::overlap::Draft;
use crate::overlap::lexicon::{Lexicon, WordClass};
use crate::overlap::strings::Run;
use crate::wording::StockPhrases;

use super::material::Desk;

/// Why a word is nobody's wording.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Fixed {
    /// Part of a title in the references.
    Title,
    /// Part of a fixed expression named in the settings.
    Term,
    /// Part of a stock phrase.
    Stock,
    /// A capitalised name.
    Name,
    /// A number.
    Number,
}

impl Fixed {
    fn words(self) -> &'static str {
        match self {
            Self::Title => "the title of a work",
            Self::Term => "a fixed expression named in the settings",
            Self::Stock => "a stock phrase of academic prose",
            Self::Name => "names",
            Self::Number => "numbers",
        }
    }
}

/// For each word of the draft's stream, why it is nobody's wording, if it is.
#[derive(Debug)]
pub struct FixedWords {
    of_word: Vec<Option<Fixed>>,
}

/// Titles shorter than this say too little to be told from prose.
pub(super) const TITLE_WORDS: usize = 3;

/// A shared string is explained away when fewer words than this are left without explanation: a
/// little more than half of the default `run_words`.
pub(super) const LEAST_OWN_WORDS: usize = 4;

/// ... or fewer content words than this.
pub(super) const LEAST_OWN_CONTENT: usize = 2;

impl FixedWords {
    /// Finds the fixed wording of a draft.
    #[must_use]
    pub fn new(draft: &Draft<'_>, lexicon: &Lexicon, phrases: &Phrases) -> Self {
        let stream = &draft.stream;
        let words: Vec<&str> = stream
            .forms
            .iter()
            .map(|form| lexicon.form(*form))
            .collect();
        let mut of_word: Vec<Option<Fixed>> = stream
            .forms
            .iter()
            .map(|form| (lexicon.class(*form) == WordClass::Number).then_some(Fixed::Number))
            .collect();
        for at in names(draft, lexicon) {
            of_word[at] = Some(Fixed::Name);
        }
        let kinds = [
            (&phrases.stock, Fixed::Stock),
            (&phrases.terms, Fixed::Term),
            (&phrases.titles, Fixed::Title),
        ];
        for (phrases, why) in kinds {
            for covered in phrases.covered(&words) {
                of_word[covered].fill(Some(why));
            }
        }
        Self { of_word }
    }

    /// Why a shared string is no copy, in words; `None` where enough of it is somebody's wording.
    #[must_use]
    pub fn explanation(&self, run: &Run, desk: &Desk<'_>) -> Option<String> {
        let lexicon = &desk.shelf.library.lexicon;
        let (mut own, mut own_content) = (0, 0);
        let mut reasons = Vec::new();
        for at in run.draft.as_range().filter(|at| !desk.draft.quoted[*at]) {
            match self.of_word.get(at).copied().flatten() {
                Some(reason) => reasons.push(reason),
                None => {
                    own += 1;
                    own_content += usize::from(lexicon.is_content(desk.draft.stream.forms[at]));
                }
            }
        }
        if reasons.is_empty() || (own >= LEAST_OWN_WORDS && own_content >= LEAST_OWN_CONTENT) {
            return None;
        }
        reasons.sort_unstable();
        reasons.dedup();
        let reasons: Vec<&str> = reasons.into_iter().map(Fixed::words).collect();
        Some(reasons.join(" and "))
    }

    /// For each word, whether it stands in a fixed expression. Names and numbers do not count here:
    /// they are nobody's wording, but several together tell where a point comes from.
    #[must_use]
    pub fn in_expressions(&self) -> Vec<bool> {
        let is_expression =
            |fixed: &Fixed| matches!(fixed, Fixed::Title | Fixed::Term | Fixed::Stock);
        self.of_word
            .iter()
            .map(|fixed| fixed.as_ref().is_some_and(is_expression))
            .collect()
    }
}

/// The phrases that are looked for, made once a review.
#[derive(Debug)]
pub struct Phrases {
    stock: StockPhrases,
    terms: StockPhrases,
    titles: StockPhrases,
}

impl Phrases {
    /// The phrases of a review.
    #[must_use]
    pub fn new(review: &crate::review::Review) -> Self {
        let titles = review
            .references
            .iter()
            .map(|reference| reference.title.as_str())
            .filter(|title| title.split_whitespace().count() >= TITLE_WORDS);
        Self {
            stock: StockPhrases::stock(),
            terms: StockPhrases::terms(review.settings.terms.iter().map(String::as_str)),
            titles: StockPhrases::terms(titles),
        }
    }
}

/// Words written with a capital within a sentence.
fn names<'d>(draft: &'d Draft<'_>, lexicon: &'d Lexicon) -> impl Iterator<Item = usize> + 'd {
    let stream = &draft.stream;
    stream.sentences.iter().flat_map(move |sentence| {
        let inside = sentence.as_range().skip(1);
        inside.filter(move |at| {
            let word = draft.text.text.slice(stream.word_bytes(draft.text, *at));
            word.chars().next().is_some_and(char::is_uppercase)
                && lexicon.is_content(stream.forms[*at])
        })
    })
}
