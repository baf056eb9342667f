//! What is to be said of the words that reports use besides kinds, degrees and measures, and of the fields of
//! JSON that are called by them.

use std::io::{self, Write};

use crate::report::english::capitalised;
use crate::report::terminal::sheet::{INDENT, Sheet};

/// What is to be said of a word.
#[derive(Debug, PartialEq, Eq)]
pub struct Word {
    /// The word.
    pub(super) name: &'static str,
    /// Other words for it, and words that belong to it, as they are asked for.
    pub(super) also: &'static [&'static str],
    /// What it is, in a line.
    pub(super) short: &'static str,
    /// A short paragraph.
    pub(super) meaning: &'static str,
    /// Where there is more.
    pub(super) more: &'static str,
}

/// The words in the order in which a reader meets them.
pub(super) static WORDS: [Word; 14] = [
    Word {
        name: "id",
        also: &["ids"],
        short: "a finding's own name, such as uc-3f9a1c07",
        meaning: "It is made from the kind of the finding, its source and the words of the passage. So it stays the same while the draft changes elsewhere, and changes once the passage itself is rewritten. `ownwords settle` takes it, or a beginning that only one finding has.",
        more: "ownwords explain settled",
    },
    Word {
        name: "marks",
        also: &[
            "shared",
            "by",
            "string",
            "strings",
            "shared-string",
            "shared-strings",
            "form",
            "stem",
            "synonym",
            "synonyms",
            "misspelling",
            "counterpart",
            "counterparts",
        ],
        short: "the signs below words that draft and source share",
        meaning: "=== marks a shared string: two words or more in the same order, at least one of them a content word. --- marks a single word that the source has too, in the same form, in another form of the same stem, or misspelt. ~~~ marks a synonym of a word of the source. In JSON each such stretch is an item \
            of `shared`, and `by` says which it is: string, form, stem, misspelling or synonym. The measures of strings and of content words count exactly what is marked.",
        more: "ownwords explain measures",
    },
    Word {
        name: "credit",
        also: &["credited", "elsewhere", "nearby", "citation", "state"],
        short: "whether a citation near the passage names its source",
        meaning: "credited: a citation at the sentence points to the source, or, where the sentence has none, one near it. elsewhere: the citations that count point to other works. none: there is no citation nearby, or none that points to a reference of the review. The setting credit_sentences says how near is near.",
        more: "ownwords explain credit_sentences",
    },
    Word {
        name: "trail",
        also: &[
            "stayed-close",
            "lost-marks",
            "in-note",
            "in-draft",
            "nowhere",
            "steps",
            "note",
            "from-source",
            "to-draft",
        ],
        short: "the way of the wording: source, note, draft",
        meaning: "Where a note of yours has the passage too, the trail says how close each step stayed: the note to its source, the draft to the note. It shows where the wording stayed close: the note had the words in quotation marks and the draft lost them (lost-marks), the note was already close (in-note), the note was in your own words and the draft went back to the source's (in-draft), or no step was close (nowhere).",
        more: "ownwords explain thresholds, at \"note on the trail\"",
    },
    Word {
        name: "nats",
        also: &["nat", "evidence", "likeness"],
        short: "the unit in which evidence is counted",
        meaning: "The rarer a word is, the more it says about where a passage comes from. Its weight is the negative \
            natural logarithm of its share of all words, and the unit of natural logarithms is the nat: a word that is \
            one in a thousand weighs 6.9 nats, one in 22,000 weighs 10, and the weights of several words add up. Evidence \
            that a passage rewords a source is counted in the same unit: how much likelier its words are as a rewording \
            than as words written without the source. Every ten nats make it about 22,000 times likelier. How many are enough was measured on texts of known origin.",
        more: "ownwords explain thresholds",
    },
    Word {
        name: "sureness",
        also: &["sure", "origin", "possible", "likely", "very-likely"],
        short: "how sure it is that a rewrite comes from the passage found",
        meaning: "`ownwords place --review` looks for the passage that a rewrite most likely comes from and says how sure \
            that is, from 0 to 1, in words: possible, likely, very likely. It sets the evidence (in nats) against the weight of all words of the rewrite, so that a long sentence is not sure just because it is long. It speaks of the wording alone: a point may come from a source without any of its words. No sureness is a judgement about a person. A finding of `ownwords check` whose source is only likely has a lighter weight.",
        more: "ownwords explain thresholds, at \"sureness of an origin\"",
    },
    Word {
        name: "differs",
        also: &["differences", "difference"],
        short: "where a quotation differs from its source",
        meaning: "Each difference shows the words of the draft and those of the source; where one side is empty, words \
            were left out or put in. What brackets or an ellipsis show is no difference, nor are punctuation, capitals and the line ends of the source.",
        more: "ownwords explain altered-quotation",
    },
    Word {
        name: "also-in",
        also: &["also"],
        short: "other sources that have the same wording",
        meaning: "Of several sources that share the passage, the finding names the one that shares most; the keys of the \
            others stand beside it, the best first. One of them may be where you read it.",
        more: "ownwords explain cautions",
    },
    Word {
        name: "page",
        also: &[
            "pages",
            "page-marks",
            "page-mark",
            "last-page",
            "sheet",
            "sheets",
            "locator",
        ],
        short: "where page numbers come from",
        meaning: "The pages of a source come from marks in its text such as [p. 113] on a line of its own, from what a \
            PDF prints or says of its pages, from the page range of its reference, or from the page breaks of a word \
            processor's file. They are never invented: where a text shows none, no page is given. page and last_page are where a passage begins and ends; \
            page_marks are the marks inside it, which are not part of its wording.",
        more: "ownwords text FILE shows the pages of a file",
    },
    Word {
        name: "entry",
        also: &[
            "entries",
            "summary",
            "comments",
            "part",
            "parts",
            "clean",
            "not-entries",
        ],
        short: "what your notes hold on one work",
        meaning: "An entry begins with a heading that names its reference, and has three parts: a summary of the work, \
            quotations from it, your comments on it. Its own source is credited throughout. It is clean where nothing in \
            it is open. Prose in the notes that belongs to no entry is listed and not checked.",
        more: "ownwords notes --help",
    },
    Word {
        name: "quotation",
        also: &[
            "quotations",
            "quoted",
            "quoted-words",
            "exact",
            "altered",
            "joined",
            "not-found",
            "not-stored",
            "translated",
            "partly",
            "wording",
            "noted",
            "used",
            "noted-unused",
            "used-not-noted",
            "used-twice",
            "used-unmarked",
            "secondary",
        ],
        short: "how a marked quotation compares with its source",
        meaning: "exact: all its words stand in the source, in order. altered: it differs from the source. joined: it was \
            put together from several places. not-found: the stored text of the cited work doesn't have it. not-stored: \
            there is no text to compare it with. translated: it is your own translation. Its page is right, wrong, missing, \
            right for a part of it (partly) or unknown. Noted is what stands in your notes, used what stands in a draft. \
            A marked string of very few words counts as a term.",
        more: "ownwords explain quotation_words; ownwords quotations --help",
    },
    Word {
        name: "explained",
        also: &[
            "show-explained",
            "stock-phrase",
            "stock-phrases",
            "fixed-expression",
            "fixed-expressions",
        ],
        short: "shared wording that is no finding",
        meaning: "No finding are: quotations with credit and page; reference lists and headings; titles, names, numbers \
            and citations inside a run; stock phrases of academic prose; the fixed expressions of your field; your own \
            comments reused, unless they are a copy or a near copy of a source; your own summary reused where it is far \
            from its source. --show-explained lists shared wording of these sorts, each with the reason \
            why it is no finding. To add a fixed expression, use \
            `ownwords settle --term`.",
        more: "ownwords explain terms",
    },
    Word {
        name: "settled",
        also: &[
            "settle",
            "decision",
            "decisions",
            "because",
            "lapsed",
            "show-settled",
            "holds",
            "gone",
            "not-looked-at",
        ],
        short: "what you have looked at and decided on",
        meaning: "A settled finding is not shown again and does not count as open. The decision with its reason stands in \
            decisions.toml and holds as long as the passage keeps its words, wherever it stands. Once they change it has lapsed: the finding is open again, and the report says so.",
        more: "ownwords settle --help",
    },
    Word {
        name: "since",
        also: &["mended", "still", "still-there", "changed", "new"],
        short: "a draft against an earlier version of it",
        meaning: "mended: a finding of the earlier draft that is gone. still there: the same finding, word for word. changed: the passage was edited and still needs a look. new: a finding unlike any in the earlier draft.",
        more: "ownwords check --help, at --since",
    },
];

/// Writes what is to be said of a word.
pub(super) fn write<W: Write>(sheet: &mut Sheet<'_, W>, word: &Word) -> io::Result<()> {
    sheet.heading(0, &format!("{}: {}", capitalised(word.name), word.short))?;
    sheet.blank()?;
    sheet.paragraph(INDENT, word.meaning)?;
    sheet.blank()?;
    sheet.paragraph(INDENT, &format!("More: {}", word.more))
}
