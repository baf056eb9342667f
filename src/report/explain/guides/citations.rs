//! The guide to citations and quotations: the forms that are read, and the changes that a quotation may show.

use super::{Guide, Part::*, Section};

pub(super) const CITATIONS: Guide = Guide {
    name: "citations",
    short: "Which citations are read, and what may stand between quotation marks",
    sections: &[FORMS, WORKS, LISTS, QUOTATIONS],
};

const FORMS: Section = Section {
    heading: "Forms of citation",
    parts: &[
        Item(
            "author and year",
            "(Harrow & Okoro, 2019a, p. 3); Harrow and Okoro's trial (2019); (Harrow AB, 2019)",
        ),
        Item("author and page", "(Harrow, Campion 14)"),
        Item(
            "numbers",
            "[3, 7–9]; (3) and raised numbers only where the draft's list of references is numbered",
        ),
        Item("keys", "[@harrow2019, p. 3]"),
        Item(
            "notes",
            "full or short: Harrow, “Campion,” 47. Ibid., 48. Harrow, op. cit., 48. A note counts where it is called.",
        ),
        Says("\"And\" and \"et al.\" are known in several languages."),
    ],
};

const WORKS: Section = Section {
    heading: "Which work is meant",
    parts: &[Says(
        "A work is found by its key or number, by author and year, or by author and words of the title in their order. \
        `ownwords text DRAFT` shows how each citation was read and which note a call leads to.",
    )],
};

const LISTS: Section = Section {
    heading: "The draft's list of references",
    parts: &[Says(
        "It is known by its heading (References, Works Cited, Literatur, Références, Källor and others), or by the \
        form of its entries at the end of the draft. An entry that gives a DOI is the work with that DOI.",
    )],
};

const QUOTATIONS: Section = Section {
    heading: "Between the marks of a quotation",
    parts: &[
        Says(
            "Allowed is what the style manuals allow: brackets, an ellipsis in any form, [sic], [emphasis added], \
            another capital at the start, another punctuation mark at the end. Only words are compared, not punctuation.",
        ),
        Says(
            "Reported for what they are: another spelling, a misprint corrected without saying so, words from two places run \
            together, and a page that covers only a part of the quotation.",
        ),
    ],
};
