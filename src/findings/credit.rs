//! Credit: whether a citation near a passage points at the source it comes from.
//!
//! A citation in a sentence decides for that sentence, since readers take it for the source of what the sentence says; one
//! that only points further or names a work for contrast does not. A sentence without one is credited by those around it,
//! as many as the settings call nearby, and by a work that the paragraph named in its sentence before and still speaks of
//! (published: APA 7 section 8.1; MLA 9 section 6.45; from memory). Where any sentence of a passage is credited, the
//! passage is.

use crate::review::Key;
use crate::text::ByteRange;
use crate::text::words::bare_words;

use super::citing::ResolvedCitation;
use super::laid::LaidDraft;
use super::{Credit, CreditState};

/// The credit of a stretch of the draft that comes from the given reference.
#[must_use]
pub(crate) fn credit(laid: &LaidDraft, range: ByteRange, key: &Key) -> Credit {
    let mut seen: Vec<&ResolvedCitation> = Vec::new();
    for sentence in laid.sentences_of(range) {
        let deciding = deciding(laid, range, sentence);
        if deciding.iter().any(|citation| citation.points_at(key)) {
            return Credit {
                state: CreditState::Credited,
                citations: written(laid, &laid.nearby(range)),
            };
        }
        // A work that was named before only credits: nobody takes it for the source of whatever follows.
        if has_none_before(&deciding, sentence) {
            let carried = laid.carried(sentence);
            if carried.iter().any(|citation| citation.points_at(key)) {
                return Credit {
                    state: CreditState::Credited,
                    citations: written(laid, &carried),
                };
            }
        }
        seen.extend(deciding);
    }
    let state = if seen.iter().any(|citation| citation.is_resolved()) {
        CreditState::Elsewhere
    } else {
        CreditState::None
    };
    // Of two sentences the later one may be decided by what stands before the earlier one.
    seen.sort_by_key(|citation| citation.citation.range);
    Credit {
        state,
        citations: written(laid, &seen),
    }
}

/// Whether all citations stand behind a sentence.
fn has_none_before(citations: &[&ResolvedCitation], sentence: ByteRange) -> bool {
    let behind =
        |citation: &&ResolvedCitation| citation.place_near(sentence).start() >= sentence.end();
    citations.iter().all(behind)
}

/// The citations that decide for a sentence of a passage: its own where one of them says where the passage comes from, else
/// those around it.
fn deciding(laid: &LaidDraft, passage: ByteRange, sentence: ByteRange) -> Vec<&ResolvedCitation> {
    let own = laid.within(sentence);
    if own
        .iter()
        .any(|citation| decides(laid, passage, sentence, citation))
    {
        own
    } else {
        laid.nearby(sentence)
    }
}

/// Whether a known citation says where a passage comes from. One that points further (*see also*) or names a work for
/// contrast (*unlike*) doesn't, nor does a work that the sentence comes to speak of only behind the passage.
fn decides(
    laid: &LaidDraft,
    passage: ByteRange,
    sentence: ByteRange,
    citation: &ResolvedCitation,
) -> bool {
    if !citation.is_resolved() {
        return false;
    }
    let cited = &citation.citation;
    if !cited.narrative {
        let prefixes = cited.cites.iter().map(|cite| cite.prefix.as_deref());
        return !prefixes
            .flatten()
            .any(|prefix| has_one_of(prefix, &POINTING));
    }
    let before = ByteRange::of(sentence.start(), cited.range.start());
    let lead = laid.text().text.slice(before);
    let words: Vec<&str> = lead.split_whitespace().collect();
    let near = words.len().saturating_sub(MOST_LEAD_WORDS);
    let contrast = words
        .iter()
        .skip(near)
        .any(|word| has_one_of(word, &CONTRAST));
    // A passage may take in the words that lead to it.
    let leads = cited.range.start() < passage.start() || words.len() <= MOST_LEAD_WORDS;
    leads && !contrast
}

/// Words before a narrative citation that are looked at: *As*, *Unlike*, *In her study,*. Our own choice.
const MOST_LEAD_WORDS: usize = 3;

/// Words of a prefix that point on to a work.
const POINTING: [&str; 6] = ["but", "see", "cf", "compare", "contra", "also"];

/// Words that set a work against what is said.
const CONTRAST: [&str; 7] = [
    "unlike", "whereas", "although", "while", "though", "against", "contra",
];

fn has_one_of(text: &str, words: &[&str]) -> bool {
    bare_words(text).any(|word| words.contains(&word.to_lowercase().as_str()))
}

/// Citations as written, each once.
fn written(laid: &LaidDraft, citations: &[&ResolvedCitation]) -> Vec<String> {
    let mut written: Vec<String> = Vec::new();
    for citation in citations {
        let words = laid.text().text.slice(citation.citation.range);
        let words: Vec<&str> = words.split_whitespace().collect();
        let words = words.join(" ");
        if !written.contains(&words) {
            written.push(words);
        }
    }
    written
}
