//! Citations set against the references and the entries.

use super::{About, Kind, Weight};

pub(super) const CITED_NOT_LISTED: About = About {
    kind: Kind::CitedNotListed,
    name: "cited-not-listed",
    short: "A cited work is not among the references",
    weight: Weight::Act,
    meaning: "The draft cites a work that is neither among the review's references nor in the draft's own list of references; in footnotes works are found by author and title. It may be a slip in a name or a year, or a reference that was never added.",
    mend: "Correct the name or year, or add the reference.",
    origin: "Common practice: every work cited in the text is in the list of references.",
    example: "Draft: (Harrow, 2018). The references hold Harrow (2019) only.",
};

pub(super) const LISTED_NOT_CITED: About = About {
    kind: Kind::ListedNotCited,
    name: "listed-not-cited",
    short: "A listed work is never cited",
    weight: Weight::Look,
    meaning: "The draft's own list of references has a work that its text never cites. Perhaps the passage was cut, or its citation was lost.",
    mend: "Cite the work where it belongs or take it off the list. A list of works consulted may keep it.",
    origin: "Common practice: most styles list only the works that are cited.",
    example: "The draft's list ends with Okoro, B. (2021), Campion after dark; the text cites no Okoro.",
};

pub(super) const CITED_WITHOUT_ENTRY: About = About {
    kind: Kind::CitedWithoutEntry,
    name: "cited-without-entry",
    short: "A cited work has no entry in your notes",
    weight: Weight::Know,
    meaning: "The draft cites a work for which the notes hold no annotated entry. What the draft says about it can't be compared with your own summary, and the way of its wording can't be followed.",
    mend: "Write the entry, or leave it: some works are only cited in passing.",
    origin: "Common practice: an annotated bibliography holds an entry for each work the review relies on.",
    example: "Draft: (Okoro, 2021, p. 8). The notes hold entries for Harrow and Lindqvist only.",
};
