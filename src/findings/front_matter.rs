//! Where the wording of a stored source begins. A title and a line with the authors' names stand at the head of many files.
//! They name the work and are nobody's wording: a draft that says whose work it speaks of shares them with the file.

use rustc_hash::FxHashSet;

use crate::review::Reference;
use crate::text::words::bare_words;
use crate::text::{Block, BlockKind, MarkedText};
use crate::wording::normal_form;

/// Blocks at the head of a file that are looked at: title, subtitle, authors, their institutions. Our own choice.
const MOST_BLOCKS: usize = 6;

/// Most words of a line that names the authors. Our own choice: longer ones are prose about them.
const MOST_NAMING_WORDS: usize = 20;

/// Where the first block stands that is neither the title nor a line with the authors' names; 0 where the file begins with
/// something else.
pub(super) fn wording_begins(text: &MarkedText, reference: &Reference) -> usize {
    let title = forms(&reference.title);
    let authors = reference.authors.iter();
    let families: FxHashSet<String> = authors
        .filter_map(|author| forms(&author.family).pop())
        .collect();
    let blocks = text.text.blocks();
    let names_work = |block: &Block| {
        let words = text.text.slice(block.range).trim();
        let is_sentence =
            words.ends_with(['.', '!', '?']) && !matches!(block.kind, BlockKind::Heading { .. });
        let words = forms(words);
        let is_title = is_part(&words, &title) || is_part(&title, &words);
        let is_byline = !is_sentence && words.iter().any(|word| families.contains(word));
        words.len() <= MOST_NAMING_WORDS && (is_title || is_byline)
    };
    let head = blocks
        .iter()
        .take(MOST_BLOCKS)
        .take_while(|block| names_work(block));
    let naming = head.count();
    match (naming, blocks.get(naming)) {
        (0, _) | (_, None) => 0,
        (_, Some(first)) => first.range.start(),
    }
}

/// Whether one list of words stands in the other as it is.
fn is_part(part: &[String], whole: &[String]) -> bool {
    !part.is_empty() && whole.windows(part.len()).any(|words| words == part)
}

fn forms(string: &str) -> Vec<String> {
    let words = bare_words(string);
    words.map(|word| normal_form(word).into_owned()).collect()
}
