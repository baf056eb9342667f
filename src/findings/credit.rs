//! Credit: whether a citation near a passage points at the source it comes from.
//!
//! A citation in a sentence decides for that sentence, since readers take it for the source of what the sentence says; one
//! that only points further or names a work for contrast does not. A sentence without one is credited by those around it, as many as the settings call nearby. Where any sentence of a
//! passage is credited, the passage is.

use crate::review::Key;
use crate::text::ByteRange;

use super::citing::ResolvedCitation;
use super::laid::LaidDraft;
use super::{Credit, CreditState};

/// The credit of a stretch of the draft that comes from the given reference.
#[must_use]
pub(crate) fn credit(laid: &LaidDraft, range: ByteRange, key: &Key) -> Credit {
    let mut seen: Vec<&ResolvedCitation> = Vec::new();
    for sentence in laid.sentences_of(range) {
        let deciding = deciding(laid, sentence);
        if deciding.iter().any(|citation| citation.points_at(key)) {
            return Credit {
                state: CreditState::Credited,
                citations: written(laid, &laid.nearby(range)),
            };
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

/// The citations that decide for a sentence: its own where one of them is known, else those around it.
fn deciding(laid: &LaidDraft, sentence: ByteRange) -> Vec<&ResolvedCitation> {
    let own = laid.within(sentence);
    if own.iter().any(|citation| credits(laid, sentence, citation)) {
        own
    } else {
        laid.nearby(sentence)
    }
}

/// Whether a known citation says where its sentence comes from. One that points further (*see also*) or names a work for
/// contrast (*unlike*) doesn't, nor does a work that the sentence comes to speak of behind its beginning.
fn credits(laid: &LaidDraft, sentence: ByteRange, citation: &ResolvedCitation) -> bool {
    if !citation.is_resolved() {
        return false;
    }
    let cited = &citation.citation;
    if !cited.narrative {
        let prefixes = cited.cites.iter().map(|cite| cite.prefix.as_deref());
        return !prefixes.flatten().any(points_elsewhere);
    }
    let text = &laid.text().text;
    let before = ByteRange::of(sentence.start(), cited.range.start());
    let words: Vec<&str> = text.slice(before).split_whitespace().collect();
    words.len() <= MOST_LEAD_WORDS && !words.iter().any(|word| points_elsewhere(word))
}

/// Words before a narrative citation with which a sentence may begin and still be about that work: *As*, *In her study,*.
/// Our own choice.
const MOST_LEAD_WORDS: usize = 3;

/// Whether the words before a work set it against what is said, or point on to it.
fn points_elsewhere(prefix: &str) -> bool {
    const WORDS: [&str; 12] = [
        "but", "see", "cf", "compare", "contra", "unlike", "whereas", "although", "while",
        "though", "against", "also",
    ];
    let mut words = crate::text::words::bare_words(prefix);
    words.any(|word| WORDS.contains(&word.to_lowercase().as_str()))
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
