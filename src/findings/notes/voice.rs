//! The writer's own voice in a summary: `own-voice-in-summary`.
//!
//! English first person outside quotations: *I, me, my, mine, myself, we, us, our, ours, ourselves*. What only looks
//! like it is left aside: a numeral (*Part I*, *Charles I*), an initial (*I. Newton*), *US*, *a mine*.

use crate::findings::{Kind, Observation, Weight};
use crate::review::{Entry, PartKind, Review};
use crate::text::{ByteRange, MarkedText, Sentence};

use super::together;

/// First person singular, in lower case; `i` and `mine` are looked at more closely.
const SINGULAR: [&str; 5] = ["i", "me", "my", "mine", "myself"];

/// First person plural: the writer's, or an author's *we* taken over.
const PLURAL: [&str; 5] = ["we", "us", "our", "ours", "ourselves"];

/// Contractions with the pronoun, by their ends.
const CONTRACTED: [&str; 4] = ["'m", "'ve", "'d", "'ll"];

/// Words behind which `I` counts.
const NUMBERED: [&str; 24] = [
    "act",
    "appendix",
    "book",
    "category",
    "chapter",
    "class",
    "experiment",
    "figure",
    "grade",
    "group",
    "level",
    "no",
    "number",
    "part",
    "phase",
    "section",
    "stage",
    "study",
    "table",
    "type",
    "vol",
    "volume",
    "war",
    "wave",
];

/// The findings on an entry's summaries: one for each stretch of sentences with first person.
pub(super) fn judge(review: &Review, entry: &Entry) -> Vec<Observation> {
    let Some(file) = review.note_files.get(entry.file) else {
        return Vec::new();
    };
    let text = &file.text;
    let mut found: Vec<(ByteRange, u32, Vec<String>)> = Vec::new();
    let mut goes_on = false;
    for part in &entry.parts {
        let inside = match part.kind {
            PartKind::Summary => text.sentences_in(part.range),
            _ => &[],
        };
        for sentence in inside {
            let prose = text
                .text
                .blocks()
                .get(sentence.block as usize)
                .is_some_and(|block| block.kind.is_prose());
            let said = first_person(text, sentence, part.range);
            if !prose || said.is_empty() {
                goes_on = false;
                continue;
            }
            let range = sentence.range.intersection(part.range);
            match found.last_mut() {
                Some((whole, block, all)) if goes_on && *block == sentence.block => {
                    *whole = whole.hull(range);
                    all.extend(said);
                }
                _ => found.push((range, sentence.block, said)),
            }
            goes_on = true;
        }
        goes_on = false;
    }
    found
        .into_iter()
        .map(|(range, _, said)| finding(review, entry.file, range, said))
        .collect()
}

fn finding(review: &Review, file: usize, range: ByteRange, mut said: Vec<String>) -> Observation {
    let singular = said.iter().any(|word| !is_plural(word));
    said.sort();
    said.dedup();
    let is = if said.len() == 1 { "is" } else { "are" };
    let said = said.join("”, “");
    let (weight, advice) = if singular {
        (
            Weight::Look,
            format!(
                "“{said}” {is} your own voice. Move this thought to the comments, so that later it is plain whose it was."
            ),
        )
    } else {
        (
            Weight::Know,
            format!(
                "Who is meant by “{said}”? If it is the authors, name them; if it is you, the thought belongs in the comments."
            ),
        )
    };
    let place = together::place(review, file, range);
    Observation::new(Kind::OwnVoiceInSummary, weight, place, advice)
}

/// The words of a sentence in first person, as written, outside quotations.
fn first_person(text: &MarkedText, sentence: &Sentence, within: ByteRange) -> Vec<String> {
    let quoted = |range: ByteRange| {
        let quotations = text.quotations.iter();
        let mut outer = quotations.filter(|quotation| quotation.depth == 0);
        outer.any(|quotation| quotation.outer.covers(range))
    };
    let words: Vec<ByteRange> = sentence
        .words
        .as_range()
        .filter_map(|at| text.words.get(at).copied())
        .filter(|range| within.covers(*range))
        .collect();
    let written: Vec<&str> = words.iter().map(|range| text.text.slice(*range)).collect();
    let behind = |at: usize| {
        let end = words[at].end();
        let rest = text.text.slice(ByteRange::of(end, sentence.range.end()));
        rest.chars().next()
    };
    let is_said = |at: &usize| is_first_person(&written, *at, behind(*at)) && !quoted(words[*at]);
    (0..written.len())
        .filter(is_said)
        .map(|at| written[at].to_owned())
        .collect()
}

fn is_plural(word: &str) -> bool {
    PLURAL.contains(&bare(word).as_str())
}

/// In lower case, with one kind of apostrophe, without contraction.
fn bare(word: &str) -> String {
    let lower = word.to_lowercase().replace('’', "'");
    let short = CONTRACTED.iter().find_map(|end| lower.strip_suffix(end));
    let short = short.or_else(|| lower.strip_suffix("'re"));
    short.unwrap_or(&lower).to_owned()
}

/// Whether a word of a sentence is first person. `behind` is the character right behind it.
fn is_first_person(words: &[&str], at: usize, behind: Option<char>) -> bool {
    let Some(word) = words.get(at) else {
        return false;
    };
    let bare = bare(word);
    if !SINGULAR.contains(&bare.as_str()) && !PLURAL.contains(&bare.as_str()) {
        return false;
    }
    let before = at.checked_sub(1).and_then(|before| words.get(before));
    let lower = before.map(|before| before.to_lowercase());
    match bare.as_str() {
        // `i` in small letters is a numeral, a variable or a slip of the hand
        "i" if !word.starts_with('I') => false,
        "i" if word.len() > 1 => true,
        "i" => {
            let numbered = lower.is_some_and(|word| NUMBERED.contains(&word.as_str()));
            // a capital within the sentence: Charles I, Elizabeth I
            let named = at > 1 && before.is_some_and(|word| word.starts_with(char::is_uppercase));
            let initial = behind == Some('.') || behind == Some('-');
            !(numbered || named || initial && at + 1 < words.len())
        }
        "mine" => {
            lower.is_some_and(|word| ["of", "is", "are", "was", "were"].contains(&word.as_str()))
        }
        // abbreviations
        "us" | "me" => !word.chars().all(char::is_uppercase),
        _ => true,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::Text;

    fn said(text: &str) -> Vec<String> {
        let text = MarkedText::new(Text::paragraph(text));
        let whole = ByteRange::of(0, text.text.content().len());
        text.sentences
            .iter()
            .flat_map(|sentence| first_person(&text, sentence, whole))
            .collect()
    }

    #[test]
    fn first_person_is_distinguished_from_what_looks_like_it() {
        let cases: &[(&str, &[&str])] = &[
            ("I doubt it.", &["I"]),
            ("It seems to me that my lamp is off.", &["me", "my"]),
            ("I'm sure; I’ve seen it.", &["I'm", "I’ve"]),
            ("We know our lamps.", &["We", "our"]),
            ("Then I looked.", &["I"]),
            ("An old friend of mine agrees.", &["mine"]),
            ("Part I deals with lamps, and Charles I with none.", &[]),
            ("In World War I lamps were dimmed.", &[]),
            ("Type I errors abound.", &[]),
            ("I. Vane counts moths.", &[]),
            ("The work of I. Vane counts.", &[]),
            ("In the US a mine was lit.", &[]),
            ("The ME group did worse.", &[]),
            ("He says “I doubt our lamps” and means it.", &[]),
            ("Harrow counts moths.", &[]),
            ("", &[]),
        ];
        for (text, wanted) in cases {
            assert_eq!(said(text), *wanted, "{text}");
        }
    }
}
