//! The guide to limits: what is always found, what is not, and how large a file may be.

use super::{Guide, Part::*, Section};

pub(super) const LIMITS: Guide = Guide {
    name: "limits",
    short: "What is always found, what is not, and how large a file may be",
    sections: &[ALWAYS, NOT, COSTS, FILES],
};

const ALWAYS: Section = Section {
    heading: "What is always found",
    parts: &[Says(
        "Every run of run_words (7) words that a draft shares with a stored source is found, and either reported or listed with the reason why it is no finding. Only a text that repeats one string over and over is not \
        followed to each repetition.",
    )],
};

const NOT: Section = Section {
    heading: "What can't be found",
    parts: &[
        Says(
            "Wording from works that are not stored: only your own sources and notes are compared.",
        ),
        Says(
            "Words in program code, headings and lists of references. A report says how many of a draft's words stand \
            there.",
        ),
        Says(
            "Ideas that came from a source without any of its words. Synonyms and word forms are known for English; in other \
            languages only the words themselves are compared.",
        ),
    ],
};

const COSTS: Section = Section {
    heading: "What reading may cost",
    parts: &[
        Says(
            "A file that asks for more is left out with a message, and the rest is read and checked. At most, for each:",
        ),
        Costs,
    ],
};

const FILES: Section = Section {
    heading: "Limits of files",
    parts: &[
        Says(
            "Files are unpacked in memory and never onto the disk; one with entities of its own is refused. These limits are \
            settings:",
        ),
        Settings("max_"),
    ],
};
