//! The writer's own wording.

use super::{About, Kind, Weight};

pub(super) const OWN_WORDS_REPEATED: About = About {
    kind: Kind::OwnWordsRepeated,
    name: "own-words-repeated",
    short: "Your own words stand in an earlier chapter too",
    weight: Weight::Know,
    meaning: "A run of your own words stands in two of the chapters that were checked together. This is no copying: within one work it is a matter of style, and often a paragraph was moved and its old place forgotten. Off until \
        repeated_words is set or --repeats is given. Quotations, headings, lists of references and wording from a source don't count.",
    mend: "Keep it where it serves best and refer to it from the other place, or leave both if a reader of one chapter alone needs it. Between published works other rules apply; ask the editor.",
    origin: "Common practice: repetition within one work is a matter of style, so nothing is looked for unless asked, \
        and 12 words is our own choice for --repeats.",
    example: "Chapter 1: I take a visit to be a touch of the flower that lasts a second or more. Chapter 3 has the \
        same sentence again.",
};
