//! Fixed wording: words of the draft that are nobody's own, and so explain an overlap away: stock
//! phrases of academic prose, the review's terms, titles of its works, names and numbers.

use crate::overlap::lexicon::WordClass;
use crate::overlap::strings::Run;
use crate::overlap::{Draft, Passage};
use crate::wording::StockPhrases;

use crate::overlap::StreamRange;

use super::laid::LaidDraft;

/// Why a word is nobody's wording.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Fixed {
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
pub(crate) struct FixedWords {
    of_word: Vec<Option<Fixed>>,
    /// For each word, whether it is an item of a list.
    listed: Vec<bool>,
}

/// Titles shorter than this say too little to be distinguished from prose.
pub(super) const TITLE_WORDS: usize = 3;

/// A shared string is explained away when fewer words than this are left without explanation: a
/// little more than half of the default `run_words`.
pub(super) const LEAST_OWN_WORDS: usize = 4;

/// ... or fewer content words than this.
pub(super) const LEAST_OWN_CONTENT: usize = 2;

impl FixedWords {
    /// Finds the fixed wording of a draft.
    #[must_use]
    pub(crate) fn new(draft: &Draft, phrases: &Phrases) -> Self {
        let (stream, lexicon) = (&draft.stream, &draft.lexicon);
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
        for at in names(draft) {
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
        Self {
            of_word,
            listed: listed(draft),
        }
    }

    /// Why a shared string is no copy, in words; `None` where enough of it is somebody's wording.
    #[must_use]
    pub(crate) fn explanation(&self, run: &Run, laid: &LaidDraft) -> Option<String> {
        let lexicon = &laid.draft.lexicon;
        let (mut own, mut own_content) = (0, 0);
        let mut reasons = Vec::new();
        for at in run.draft.as_range().filter(|at| !laid.draft.quoted[*at]) {
            match self.of_word.get(at).copied().flatten() {
                Some(reason) => reasons.push(reason),
                None => {
                    own += 1;
                    own_content += usize::from(lexicon.is_content(laid.draft.stream.forms[at]));
                }
            }
        }
        if reasons.is_empty() || (own >= LEAST_OWN_WORDS && own_content >= LEAST_OWN_CONTENT) {
            return None;
        }
        // Names, numbers and stock phrases may fill a formula, but not a whole sentence.
        let unbounded = |reason: &Fixed| matches!(reason, Fixed::Title | Fixed::Term);
        let run_words = laid.session.review.settings.run_words;
        if own + reasons.len() >= 2 * run_words && !reasons.iter().any(unbounded) {
            return None;
        }
        reasons.sort_unstable();
        reasons.dedup();
        let reasons: Vec<&str> = reasons.into_iter().map(Fixed::words).collect();
        Some(reasons.join(" and "))
    }

    /// How many content words of a passage that are somebody's wording have a counterpart.
    #[must_use]
    pub(crate) fn own_kept(&self, passage: &Passage, draft: &Draft) -> usize {
        let alignment = &passage.alignment;
        let in_tiles = alignment
            .tiles
            .iter()
            .flat_map(|tile| tile.draft.as_range());
        let kept = in_tiles.chain(alignment.singles.iter().map(|single| single.draft));
        kept.filter(|at| self.of_word.get(*at).is_some_and(Option::is_none))
            .filter(|at| draft.lexicon.is_content(draft.stream.forms[*at]))
            .count()
    }

    /// For each word, whether it stands in a fixed expression or a list. Other names and numbers do not count here:
    /// they are nobody's wording, but several together show where a point comes from. Lists of people with their offices, of
    /// materials and of places, and addresses, are alike wherever they stand.
    #[must_use]
    pub(crate) fn in_expressions(&self) -> Vec<bool> {
        let is_expression =
            |fixed: &Fixed| matches!(fixed, Fixed::Title | Fixed::Term | Fixed::Stock);
        let words = self.of_word.iter().zip(&self.listed);
        words
            .map(|(fixed, listed)| *listed || fixed.as_ref().is_some_and(is_expression))
            .collect()
    }
}

/// The phrases that are looked for, made once a review.
#[derive(Debug)]
pub(crate) struct Phrases {
    stock: StockPhrases,
    terms: StockPhrases,
    titles: StockPhrases,
}

impl Phrases {
    /// The phrases of a review.
    #[must_use]
    pub(crate) fn new(review: &crate::review::Review) -> Self {
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

/// Words of an item of a list, at most, and the fewest items in a row that make a list. Our own choice: clauses are
/// longer, and a sentence may well name three or four things.
pub(super) const ITEM_WORDS: usize = 3;
/// See [`ITEM_WORDS`].
pub(super) const LIST_ITEMS: usize = 5;

/// For each word, whether it is an item of a list: of several short items of one sentence in a row, divided by commas or
/// semicolons.
fn listed(draft: &Draft) -> Vec<bool> {
    let stream = &draft.stream;
    let mut listed = vec![false; stream.len()];
    let mut items: Vec<StreamRange> = Vec::new();
    let mut close = |items: &mut Vec<StreamRange>| {
        if items.len() >= LIST_ITEMS {
            for item in items.iter() {
                listed[item.as_range()].fill(true);
            }
        }
        items.clear();
    };
    for sentence in &stream.sentences {
        close(&mut items);
        let mut start = sentence.start();
        let behind = sentence.as_range().skip(1);
        let ends = behind.filter(|at| stream.has_clause_mark_before(&draft.text, *at));
        for end in ends.chain([sentence.end()]) {
            let item = StreamRange::of(start, end);
            start = end;
            match item.len() <= ITEM_WORDS {
                true => items.push(item),
                false => close(&mut items),
            }
        }
    }
    close(&mut items);
    listed
}

/// Words written with a capital within a sentence most of whose content words are not.
fn names(draft: &Draft) -> impl Iterator<Item = usize> {
    let (stream, lexicon) = (&draft.stream, &draft.lexicon);
    let is_capital = |at: &usize| {
        let word = draft.text.text.slice(stream.word_bytes(&draft.text, *at));
        word.chars().next().is_some_and(char::is_uppercase)
    };
    stream.sentences.iter().flat_map(move |sentence| {
        let content = sentence.as_range().skip(1);
        let content: Vec<usize> = content
            .filter(|at| lexicon.is_content(stream.forms[*at]))
            .collect();
        let all = content.len();
        let mut capitals = content;
        capitals.retain(is_capital);
        // A heading or a shouted line capitalises everything; its words are no names.
        if all >= CAPITALS_FROM
            && capitals.len() * 4 > all * 3
            && !is_list_of_names(draft, *sentence)
        {
            capitals.clear();
        }
        capitals
    })
}

/// Content words of a sentence from which on its capitals are judged together.
const CAPITALS_FROM: usize = 6;

/// Whether a sentence is written in capitals at word starts only and divided by commas, as a list of
/// names is.
fn is_list_of_names(draft: &Draft, sentence: StreamRange) -> bool {
    let bytes = draft.stream.bytes(&draft.text, sentence);
    let written = draft.text.text.slice(bytes);
    let commas = written.matches(',').count();
    commas * 4 >= sentence.len() && written.chars().any(char::is_lowercase)
}
