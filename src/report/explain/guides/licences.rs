//! The notices that the licences of bundled data ask for. A program that is passed on as one file carries them
//! in here.

use super::{Guide, Part::*, Section};
use crate::wording::WORDNET_LICENSE;

pub(super) const LICENCES: Guide = Guide {
    name: "licences",
    short: "The licences of ownwords and of the data in it",
    sections: &[OWN, LISTS, WORDNET, STYLES, FONTS, CMAPS],
};

const OWN: Section = Section {
    heading: "ownwords",
    parts: &[Says(
        "MIT or Apache-2.0, at your option. The text of both stands in the file LICENSE beside the source code.",
    )],
};

const LISTS: Section = Section {
    heading: "Word lists",
    parts: &[Says(
        "The lists of stock phrases, function words, British and American spellings, irregular forms beside those of \
        WordNet, and synonyms beside those of WordNet are our own and under the licence of ownwords.",
    )],
};

const WORDNET: Section = Section {
    heading: "Synonyms, word frequencies, irregular forms",
    parts: &[Notice(WORDNET_LICENSE)],
};

const STYLES: Section = Section {
    heading: "Styles of references",
    parts: &[Says(
        "The styles and locales of `ownwords bibliography` were written by the contributors of the Citation Style Language \
            project. They come unchanged by way of the hayagriva crate, under the licence Creative \
            Commons Attribution-ShareAlike 3.0: https://creativecommons.org/licenses/by-sa/3.0/",
    )],
};

const FONTS: Section = Section {
    heading: "Fonts for PDF files that bring none",
    parts: &[
        Says(
            "Original code copyright 2014 Foxit Software Inc. From PDFium, by way of the hayro crates:",
        ),
        Notice(include_str!("../notices/fonts.txt")),
    ],
};

const CMAPS: Section = Section {
    heading: "Character maps for PDF files",
    parts: &[
        Says("From Adobe's CMap resources, by way of the hayro crates:"),
        Notice(include_str!("../notices/cmaps.txt")),
    ],
};
