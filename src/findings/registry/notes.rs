//! Entries of the notes, each by itself and in their order.

use super::{About, Kind, Weight};

pub(super) const COMMENT_COPIES_SOURCE: About = About {
    kind: Kind::CommentCopiesSource,
    name: "comment-copies-source",
    short: "Comments hold the source's wording",
    weight: Weight::Act,
    meaning: "The comments of an entry are the place for the writer's own thoughts, and what stands there is later taken for the writer's own. This part of them has the wording of a source, without quotation marks.",
    mend: "Put the words in quotation marks with their page, or move them to the quotations. Then say your thought \
        about them in your own sentence.",
    origin: "Common practice: annotated bibliographies keep summary, quotations and comments apart. Copies count \
        from run_words (7) on, other wording from light revision on, as in a draft.",
    example: "Comments: They circle until the light fails and then they sit on the post. Source: \"They circle until \
        the light fails, and then they sit on the post.\"",
};

pub(super) const OWN_VOICE_IN_SUMMARY: About = About {
    kind: Kind::OwnVoiceInSummary,
    name: "own-voice-in-summary",
    short: "A summary speaks in the first person",
    weight: Weight::Look,
    meaning: "A summary says what the source says. The first person in it (I, my, we, our) reads as the writer's own thought, and months later nobody knows whose thought it was. Words in quotation marks don't count, nor does a numeral such as Part I.",
    mend: "Move your own thought to the comments. Where the author is meant, name the author.",
    origin: "Common practice: a summary is written in the third person, comments in the first. The pronouns are those \
        of English: I, me, my, mine, myself, we, us, our, ours, ourselves.",
    example: "Summary: Harrow counted at twelve lanes. I doubt that this was enough. The second sentence belongs in \
        the comments.",
};

pub(super) const ENTRY_WITHOUT_REFERENCE: About = About {
    kind: Kind::EntryWithoutReference,
    name: "entry-without-reference",
    short: "An entry names no known reference",
    weight: Weight::Act,
    meaning: "The heading of this entry names no reference of the review, or more than one. Its words can't be compared with their own source, and a quotation taken from it would have no credit.",
    mend: "Write the key into the heading, such as {#harrow2019}, or add the reference to the bibliography file.",
    origin: "Common practice: an entry of an annotated bibliography begins with its full reference.",
    example: "Heading: Harow (2019). The references hold Harrow (2019), key harrow2019.",
};

pub(super) const ENTRY_INCOMPLETE: About = About {
    kind: Kind::EntryIncomplete,
    name: "entry-incomplete",
    short: "An entry lacks a part",
    weight: Weight::Look,
    meaning: "An entry has a summary, some quotations with their pages, and comments, each under its own heading. \
        This one lacks one of them, or nothing stands under its heading. A quotation in the summary or the comments counts as well.",
    mend: "Write the missing part while the text is at hand. Where you have nothing to quote or to say, settle the finding or leave it open.",
    origin: "Common practice: annotated bibliographies give reference, summary and the writer's own comments; \
        quotations are expected where wording will matter. Where only quotations are missing, the weight is good to know.",
    example: "The entry on Lindqvist (2014) has a summary and two quotations, and no comments.",
};

pub(super) const ENTRY_ORDER: About = About {
    kind: Kind::EntryOrder,
    name: "entry-order",
    short: "An entry stands out of alphabetical order",
    weight: Weight::Know,
    meaning: "In a file with several entries this one does not stand where its reference would stand in a \
        bibliography: by the authors' family names, then initials, then year. Files with one entry each need no order.",
    mend: "Move the entry before the one that is named. Nothing is wrong with what it says.",
    origin: "Published: APA Style (7th edition) and other styles order an \
        annotated bibliography like a list of references.",
    example: "One file holds Harrow (2019), Okoro (2021), Lindqvist (2014) in this order. Lindqvist belongs before \
        Okoro.",
};
