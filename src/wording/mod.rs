//! Knowledge of the English language: when two words count as the same, or nearly so.
//!
//! Texts are compared word by word, and each comparison is one step weaker than the one before it:
//!
//! 1. [`normal`]: the *normal form*; two spellings of one word form (`Light`, `light-⏎ing`, `ﬁre`) become one;
//! 2. [`stems`]: the *stem*; the inflected forms of one word (`wrote`, `writing`) become one, British and American
//!    [`spelling`] and old forms (`archaic`) included;
//! 3. [`synonyms`]: words with different stems that share a sense, or stand one step apart;
//! 4. [`similar`]: words that differ by a slip of the pen or of the scanner.
//!
//! Beside these, [`function_words`] separates the words that hold a sentence together from those that carry its matter,
//! [`frequency`] says how much a shared word weighs, [`dictionary`] whether a string is a word at all, and [`stock`]
//! which runs of words belong to no author. All of it is computed from tables compiled into the program, without
//! input or output; the tables come from WordNet 3.1 and from lists of our own (`data/make_tables.py`).

mod archaic;
pub(crate) mod dictionary;
pub(crate) mod frequency;
pub(crate) mod function_words;
mod lexicon;
mod lookalikes;
pub(crate) mod normal;
pub(crate) mod similar;
mod slip_index;
pub(crate) mod spelling;
pub(crate) mod stems;
pub(crate) mod stock;
pub(crate) mod synonyms;
mod table;

pub(crate) use dictionary::is_word;
pub(crate) use frequency::per_million;
pub(crate) use function_words::is_function_word;
pub(crate) use normal::{is_number, normal_form, push_normal_form};
pub(crate) use similar::{MisspellingIndex, is_misspelling};
pub(crate) use slip_index::SlipIndex;
pub(crate) use stems::stem;
pub(crate) use stock::StockPhrases;
pub(crate) use synonyms::{Nearness, Senses, senses};

/// The licence of WordNet, from which the tables of synonyms, frequencies and irregular forms were derived.
/// It asks that the notice appear on all copies, so the program has to be able to print it.
pub(crate) const WORDNET_LICENSE: &str = include_str!("data/WORDNET-LICENSE");
