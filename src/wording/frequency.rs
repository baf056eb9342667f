//! How common a word is in general English.
//!
//! A rare word that two texts share says more than a common one. The estimate comes from the tag counts that
//! WordNet carries: its makers marked the sense of each content word in several hundred thousand words of running
//! text, most of it from the Brown corpus; about 199,000 of the marks fall on single words of our table. The counts
//! are coarse: three in four words were never met, a word met once may be thirty times rarer or commoner than it
//! looks, and a stem adds up all the words that share it. Set against 645,000 words of the Brown corpus' informative
//! prose (not independent, but counted in full), the rank correlation over 6,477 stems is 0.74, and for half of the
//! stems with five marks or more the estimate is between 0.68 and 1.46 times the count.

use super::function_words::is_function_word;
use super::lexicon;

/// Given to function words, which WordNet does not count: about that of a middling one among the
/// hundred most frequent (`they`, `which`: 3,000 to 5,000).
pub(crate) const FUNCTION_WORD_PER_MILLION: f32 = 5_000.0;

/// Given to words that were never met when tagging, and to unknown words: half a meeting.
pub(crate) const FLOOR_PER_MILLION: f32 = 0.5 * PER_TAG;

/// One tag in a million running words. About 199,000 tags are in the table, and about 45 words of 100 in running
/// prose are content words (the rest are function words), so that one tag answers to 0.45 * 10^6 / 199,000.
const PER_TAG: f32 = 2.26;

/// Estimated occurrences in a million running words, of all words with this stem (as [`super::stem`] gives it).
///
/// Never less than [`FLOOR_PER_MILLION`].
pub(crate) fn per_million(stem: &str) -> f32 {
    if is_function_word(stem) {
        return FUNCTION_WORD_PER_MILLION;
    }
    let tags = lexicon::entry(stem).map_or(0, |entry| entry.tags);
    (tags as f32 * PER_TAG).max(FLOOR_PER_MILLION)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wording::stem;

    #[test]
    fn commoner_words_count_more() {
        let ladders: [&[&str]; 4] = [
            &["the", "time", "light", "lamp", "proboscis"],
            &["people", "study", "insect", "qwxyz"],
            &["make", "explain", "clarify"],
            &["large", "nocturnal"],
        ];
        for ladder in ladders {
            for pair in ladder.windows(2) {
                let (common, rare) = (per_million(&stem(pair[0])), per_million(&stem(pair[1])));
                assert!(common > rare, "{} {common}, {} {rare}", pair[0], pair[1]);
            }
        }
    }

    #[test]
    fn the_scale_adds_up_to_the_content_words_of_a_million() {
        let sum: f64 = lexicon::stems()
            .filter_map(lexicon::entry)
            .map(|e| f64::from(e.tags) * f64::from(PER_TAG))
            .sum();
        assert!((430_000.0..470_000.0).contains(&sum), "{sum}");
    }

    #[test]
    fn the_floor_holds() {
        for word in ["", "qwxyz", "свет", "1990"] {
            assert_eq!(per_million(word), FLOOR_PER_MILLION);
        }
    }
}
