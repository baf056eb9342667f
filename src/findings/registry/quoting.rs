//! Marked quotations: page, credit, exactness, form.

use super::{About, Kind, Weight};

pub(super) const QUOTATION_WITHOUT_PAGE: About = About {
    kind: Kind::QuotationWithoutPage,
    name: "quotation-without-page",
    short: "A quotation without its page",
    weight: Weight::Act,
    meaning: "The words are marked and credited, but the citation names no page, paragraph or other place. A reader who wants to see them in context can't find them.",
    mend: "Add the page to the citation. Where a stored source has the words and knows its pages, the finding \
        names it. A text without pages takes a paragraph number or a section heading.",
    origin: "Published: APA Style (7th edition) asks for a page or other locator with each direct quotation, as \
        university libraries' guides to it say, and most other styles do.",
    example: "Draft: The lamps hold moths \"in a circle of light they cannot leave\" (Harrow, 2019). Wanted: \
        (Harrow, 2019, p. 14).",
};

pub(super) const QUOTATION_WITHOUT_CREDIT: About = About {
    kind: Kind::QuotationWithoutCredit,
    name: "quotation-without-credit",
    short: "A quotation without a citation",
    weight: Weight::Act,
    meaning: "The words are marked as somebody else's, and nothing nearby says whose; a footnote counts where it is \
        called. Short strings in quotation marks count as terms or as words used with distance.",
    mend: "Add the citation with the page. Where a stored source or a note has the words, the finding names it.",
    origin: "Common practice: every quotation is credited. Strings shorter than quotation_words (4) are not taken \
        for quotations; a citation counts as nearby within credit_sentences (1).",
    example: "Draft: At dusk the hedge is \"a road with all its inns open\". Nothing says who wrote that.",
};

pub(super) const ALTERED_QUOTATION: About = About {
    kind: Kind::AlteredQuotation,
    name: "altered-quotation",
    short: "A quotation differs from its source",
    weight: Weight::Act,
    meaning: "Inside the quotation marks the wording is not the source's. Changes shown in square brackets, \
        omissions shown by an ellipsis, a changed capital at the start and changed punctuation at the end are fine. \
        Another spelling, a misprint corrected without saying so, and words put together from two places are reported as such.",
    mend: "Copy the words again from the source. Where the change is meant, show it: [brackets] for what you put \
        in, ... for what you left out.",
    origin: "Published: style guides list which changes may go unmarked; these are those of APA Style (7th edition), \
        as university libraries' guides to it list them.",
    example: "Source: \"they circle until the light fails\". Draft: \"they circle until the light is gone\" \
        (Harrow, 2019, p. 14).",
};

pub(super) const PAGE_MISMATCH: About = About {
    kind: Kind::PageMismatch,
    name: "page-mismatch",
    short: "The words stand on another page than cited",
    weight: Weight::Act,
    meaning: "The stored source has these words, but not on the page that the citation names, or only some of \
        them there because they run over to the next. Page numbers get mixed up between preprint and printed \
        version, or between two notes.",
    mend: "Check the page in the source you cite and correct the citation. If you cite another edition than the stored one, its page numbers count.",
    origin: "Common practice: a page is compared only where the stored source shows its own page numbers; none is \
        ever guessed.",
    example: "Draft: \"they circle until the light fails\" (Harrow, 2019, p. 41). The stored text has it on page 14.",
};

pub(super) const QUOTATION_NOT_FOUND: About = About {
    kind: Kind::QuotationNotFound,
    name: "quotation-not-found",
    short: "No stored source has these words",
    weight: Weight::Know,
    meaning: "None of the stored sources has the quoted words. Most often the source is not stored, only an excerpt is, or a scan was read badly. This does not say whether the quotation is right or wrong.",
    mend: "Store the source text under its reference key if you have it, or check the quotation against the book. \
        Nothing else needs doing.",
    origin: "Common practice: a quotation is checked against its source before a text is handed on. What is not \
        stored can't be checked here.",
    example: "Draft: \"the night has its own gardeners\" (Lindqvist, 2014, p. 3), while sources/ holds no text of \
        lindqvist2014.",
};

pub(super) const LONG_QUOTATION_INLINE: About = About {
    kind: Kind::LongQuotationInline,
    name: "long-quotation-inline",
    short: "A long quotation runs on in the text",
    weight: Weight::Know,
    meaning: "Long quotations are easier to read, and easier to tell from your own words, when they are set off as \
        a block. Set off, they take no quotation marks.",
    mend: "Set the quotation off as a block of its own, or shorten it to the words you need.",
    origin: "Published: APA Style (7th edition) sets off quotations of 40 words or more; other styles \
        count lines. The setting long_quotation_words changes the number.",
    example: "A sentence of 52 words from Harrow (2019) stands between quotation marks in the middle of a paragraph.",
};

pub(super) const HEAVILY_QUOTED: About = About {
    kind: Kind::HeavilyQuoted,
    name: "heavily-quoted",
    short: "Quotations make up much of the draft",
    weight: Weight::Know,
    meaning: "A large share of the draft's words stands in quotation marks. All of them may be marked and credited; a reader may still miss your own voice.",
    mend: "Keep the quotations whose exact wording matters and say the rest in your own words.",
    origin: "Common practice: advice differs from field to field, and no number is a rule, so this is off until heavily_quoted_percent is set.",
    example: "With heavily_quoted_percent = 20, a draft of 1,000 words of which 260 stand in quotation marks is reported once, at its beginning.",
};
