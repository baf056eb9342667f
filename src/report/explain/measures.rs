//! What is to be said of the measures: what each is, how it is counted by hand, and one small example
//! in which all of them are counted.

use std::io::{self, Write};

use crate::report::terminal::sheet::{INDENT, Sheet};

/// What is to be said of a measure.
pub(super) struct Measure {
    /// Its name.
    pub(super) name: &'static str,
    /// What it is, in a line.
    pub(super) short: &'static str,
    /// How it is counted by hand.
    pub(super) counted: &'static str,
    /// The same in the example.
    pub(super) example: &'static str,
}

/// The passage of the example.
pub(super) const SOURCE: &str = "Bats feed where the lamps hold the moths.";

/// The rewrite of the example.
pub(super) const REWRITE: &str = "Where the lanterns hold the moths, hungry bats feed.";

/// The measures in the order in which they are counted.
pub(super) const MEASURES: [Measure; 9] = [
    Measure {
        name: "words",
        short: "words of the passage, without marked quotations and citations",
        counted: "Count the words of the draft's passage. Leave out what stands in quotation marks or in the bracket of a citation.",
        example: "9",
    },
    Measure {
        name: "string share",
        short: "share of those words that stand in shared strings of two words or more with at least one content word",
        counted: "Underline every run of two words or more that stands in the source in the same order, the longest \
            first, each word once. Runs of small words only don't count. Divide the words underlined by all words.",
        example: "\"hold the moths\" 3, \"bats feed\" 2; \"where the\" has no content word: 5 of 9 = 0.56",
    },
    Measure {
        name: "longest string",
        short: "words of the longest shared string",
        counted: "Count the words of the longest run underlined.",
        example: "\"hold the moths\": 3",
    },
    Measure {
        name: "content words",
        short: "words that carry the meaning: not articles, prepositions, auxiliaries and the like",
        counted: "Strike out the small words and count the rest. Numbers count as content words.",
        example: "lanterns, hold, moths, hungry, bats, feed: 6",
    },
    Measure {
        name: "kept content",
        short: "share of content words with a counterpart in the source: the same word, another form of it, a synonym, a misspelling",
        counted: "For each content word look for its counterpart, a word of the source that it answers to; each is used once, and in a long source it stands near those of its neighbours. Divide the words that have one by all content words.",
        example: "all but hungry: 5 of 6 = 0.83",
    },
    Measure {
        name: "swapped",
        short: "content words whose counterpart is a synonym",
        counted: "Count the words whose counterpart is a synonym.",
        example: "lanterns for lamps: 1",
    },
    Measure {
        name: "order",
        short: "the most counterparts of content words that keep their order, as a share of all of them",
        counted: "Number the counterparts as they come in the source. In the draft's order, pick as many as you can \
            with rising numbers; divide by all of them.",
        example: "lamps 3, hold 4, moths 5, bats 1, feed 2; at most three rise (3, 4, 5): 3 of 5 = 0.60",
    },
    Measure {
        name: "sequence",
        short: "words kept in sequence, small words too, set beside the words of the passage and of the stretch of the source",
        counted: "Go through the passage and the source side by side, never back, and keep as many words as you can: 1 for \
            the same word, ½ for another form and for what counts as a misspelling or a synonym under kept content. Count the words of the source from the first one \
            kept to the last: the stretch. Divide twice what is kept by the words of passage and stretch together; of several \
            ways the largest counts.",
        example: "where the lanterns hold the moths: 5½ kept, of 9 words here and 6 there: 11 of 15 = 0.73",
    },
    Measure {
        name: "unique share",
        short: "share of words in links with the passage that stand nowhere else in the whole source; known only where the whole source is stored",
        counted: "Count the words of those shared strings and shared words that the source has in this passage and \
            nowhere else; divide by all words. It decides nothing; the four categories of Keck (2006) follow from it.",
        example: "not known: only the passage is given",
    },
];

/// How the position follows from the measures; the formula itself stands in `overlap::scale`.
pub(super) const FORMULA: [&str; 6] = [
    "position = 1 - the largest of",
    "           sequence,",
    "           string share * 9/10 and",
    "           (sequence + content) / 2 * 9/10",
    "content  = kept content, at most 1/2 or sequence + 1/5,",
    "           whichever is more",
];

/// The formula in the example.
pub(super) const IN_NUMBERS: [&str; 5] = [
    "0.73, the sequence",
    "0.56 * 9/10 = 0.50",
    "0.83 is less than 0.73 + 1/5 and counts in full",
    "(0.73 + 0.83) / 2 * 9/10 = 0.70",
    "The first is the largest: position = 1 - 0.73 = 0.27",
];

/// Writes all measures with the example.
pub(super) fn write<W: Write>(sheet: &mut Sheet<'_, W>) -> io::Result<()> {
    sheet.heading(0, "The measures, and how each is counted by hand")?;
    sheet.blank()?;
    sheet.labelled("source", SOURCE)?;
    sheet.labelled("rewrite", REWRITE)?;
    for measure in MEASURES {
        sheet.blank()?;
        sheet.heading(INDENT, measure.name)?;
        sheet.paragraph(INDENT + 2, measure.counted)?;
        sheet.hanging(INDENT + 8, "     Here:", measure.example)?;
    }
    sheet.blank()?;
    sheet.heading(INDENT, "position")?;
    for line in FORMULA.iter().chain(&IN_NUMBERS) {
        sheet.line(&format!("     {line}"))?;
    }
    sheet.blank()?;
    let text = "`ownwords place` shows these numbers with the words behind them for passages of your own; \
        `ownwords explain scale` says what the position means.";
    sheet.paragraph(0, text)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::overlap::place;
    use crate::text::{MarkedText, Text};
    use std::sync::Arc;

    /// The numbers of the example are those that the program counts.
    #[test]
    fn the_example_is_counted_right() {
        let source: Arc<_> = MarkedText::source(Text::paragraph(SOURCE)).into();
        let rewrite: Arc<_> = MarkedText::new(Text::paragraph(REWRITE)).into();
        let measures = place(&source, &rewrite, 4).measures;
        let share = |share: f64| format!("= {share:.2}");
        let counted = [
            measures.words.to_string(),
            share(measures.string_share),
            measures.longest_string.to_string(),
            measures.content_words.to_string(),
            share(measures.kept_content),
            measures.swapped.to_string(),
            share(measures.order),
            share(measures.sequence),
            "not known: only the passage is given".to_owned(),
        ];
        for (measure, counted) in MEASURES.iter().zip(counted) {
            assert!(
                measure.example.ends_with(&counted),
                "{}: {counted}",
                measure.name
            );
        }
        assert_eq!(measures.unique_share, None);
        let position = format!("= {:.2}", measures.position());
        assert!(IN_NUMBERS[4].ends_with(&position), "{position}");
    }
}
