//! Whether the characters that the fonts name are language. A font may name characters wrongly or not at all.
//! Then a page that looks right reads as gibberish, and comparing it would report "nothing found" about a
//! source that was never read.

use super::words::{UNKNOWN, Word};
use crate::wording;

/// Fewer words than this are not enough to judge.
const LEAST: usize = 30;

/// Largest share of all characters that may be unknown. Our own choice: formulas and ornaments of real files
/// stay below a tenth.
const UNKNOWN_SHARE: f32 = 0.25;

/// In gibberish, fewer than this share of the words in Latin letters are English words. Other languages share
/// more with English by chance and through loan words. Our own choice.
const WORD_SHARE: f32 = 0.08;

/// Least share of the words in Latin letters that can be pronounced, in any language.
const SPEAKABLE_SHARE: f32 = 0.5;

/// Least share of vowels among the letters of any language in Latin letters. Most have 35 to 50 in a hundred.
const VOWEL_SHARE: f32 = 0.3;

/// What the words of a document look like.
#[derive(Debug, Default, Clone, Copy)]
pub(super) struct Looks {
    characters: usize,
    unknown: usize,
    /// Words in Latin letters, of three letters and more.
    latin: usize,
    english: usize,
    speakable: usize,
    letters: usize,
    vowels: usize,
    words: usize,
}

impl Looks {
    /// The looks of all words of a document.
    pub(super) fn of<'w>(words: impl Iterator<Item = &'w Word>) -> Self {
        let mut looks = Self::default();
        for word in words {
            looks.add(&word.text);
        }
        looks
    }

    fn add(&mut self, text: &str) {
        self.words += 1;
        self.characters += text.chars().count();
        self.unknown += text.chars().filter(|c| *c == UNKNOWN).count();
        let bare = text.trim_matches(|c: char| !c.is_alphanumeric() && c != UNKNOWN);
        let letters = bare.chars().filter(char::is_ascii_alphabetic).count();
        let count = bare.chars().count();
        // Mostly Latin letters: words with signs inside are kept, since in gibberish most have some.
        if count < 3 || 2 * letters < count {
            return;
        }
        self.latin += 1;
        self.english += usize::from(wording::is_word(&wording::normal_form(bare)));
        self.speakable += usize::from(is_speakable(bare));
        self.letters += bare.chars().filter(|c| c.is_alphabetic()).count();
        self.vowels += bare.chars().filter(|c| is_vowel(*c)).count();
    }

    /// Whether most characters are unknown.
    pub(super) fn is_unnamed(&self) -> bool {
        self.characters > 0 && self.unknown as f32 > UNKNOWN_SHARE * self.characters as f32
    }

    /// Whether this is not a language.
    pub(super) fn is_gibberish(&self) -> bool {
        if self.words < LEAST {
            return self.is_unnamed();
        }
        let latin = self.latin.max(1) as f32;
        let strange = self.latin >= LEAST
            && (self.english as f32) < WORD_SHARE * latin
            && ((self.speakable as f32) < SPEAKABLE_SHARE * latin
                || (self.vowels as f32) < VOWEL_SHARE * self.letters as f32);
        self.is_unnamed() || strange
    }

    /// Whether this reads as English.
    pub(super) fn is_english(&self) -> bool {
        self.latin >= LEAST && self.english as f32 > 0.5 * self.latin as f32
    }
}

/// Letters with accents are counted as vowels, since most are.
fn is_vowel(c: char) -> bool {
    "aeiouyAEIOUY".contains(c) || (!c.is_ascii() && c.is_alphabetic())
}

/// Whether a word could be one of some language in Latin letters: only letters, with vowels among them, and
/// capitals only at the start or throughout.
fn is_speakable(word: &str) -> bool {
    let letters = word.chars().all(|c| c.is_alphabetic() || "'’-".contains(c));
    let vowels = word.chars().filter(|c| is_vowel(*c)).count();
    let behind = word.chars().skip(1);
    let capitals = behind.clone().filter(|c| c.is_uppercase()).count();
    let cased = capitals == 0 || !behind.clone().any(char::is_lowercase);
    letters && cased && 6 * vowels >= word.chars().count()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn looks(text: &str) -> Looks {
        let mut looks = Looks::default();
        for word in text.split_whitespace() {
            looks.add(word);
        }
        looks
    }

    const ENGLISH: &str = "Part-night lighting dims the lamps of a village after midnight, and the moths that \
        had circled them go back to the flowers they visit. Whether they carry as much pollen as before is \
        another question; the first counts suggest that they do, though the season was short and wet.";
    const GERMAN: &str = "Nach Mitternacht werden die Laternen im Dorf gedimmt, und die Falter, die sie \
        umkreist hatten, kehren zu den Blumen zurück, welche sie besuchen. Ob sie ebenso viel Pollen tragen wie \
        vorher, ist eine andere Frage; erste Zählungen legen es nahe, doch war der Sommer kurz und nass.";

    #[test]
    fn languages_are_not_gibberish_and_shifted_letters_are() {
        assert!(!looks(ENGLISH).is_gibberish() && looks(ENGLISH).is_english());
        assert!(!looks(GERMAN).is_gibberish());
        // Fonts reduced to the glyphs in use, without a map, number them from the blank on, or from the
        // start.
        for by in [3, 7, 29] {
            let shifted = ENGLISH.chars().map(|c| match c {
                ' ' => ' ',
                c => char::from((c as u8 + 128 - by) & 0x7F),
            });
            let shifted: String = shifted.collect();
            assert!(
                looks(&shifted).is_gibberish(),
                "{by}: {shifted:?} {:?}",
                looks(&shifted)
            );
        }
        let unnamed = ENGLISH.replace(|c: char| "aeiou".contains(c), "\u{FFFD}");
        assert!(looks(&unnamed).is_unnamed() && looks(&unnamed).is_gibberish());
        assert!(!looks("Lamps dim.").is_gibberish());
        assert!(!looks("").is_gibberish());
    }
}
