//! The guide to a review's files: the folder, names of sources, formats, page numbers, notes.

use super::{Guide, Part::*, Section};

pub(super) const FILES: Guide = Guide {
    name: "files",
    short: "The review folder, formats, page numbers and notes",
    sections: &[FOLDER, NAMES, FORMATS, WORD, PAGES, NOTES, SETTLED, WRITTEN],
};

const FOLDER: Section = Section {
    heading: "The review folder",
    parts: &[
        Says(
            "A review is a folder of plain files, so it outlives any program. `ownwords start DIR` makes one with a \
            worked example.",
        ),
        Item(
            "ownwords.toml",
            "settings; every value has a default (`ownwords explain settings`)",
        ),
        Item(
            "references.bib",
            "references in BibTeX or BibLaTeX; CSL JSON (.json) and RIS (.ris) are read too",
        ),
        Item("sources/", "source texts, each named by its reference key"),
        Item("notes/", "entries: what you noted on each work"),
        Item(
            "drafts/",
            "your drafts, unless you name others on the command line",
        ),
        Item(
            "decisions.toml",
            "what you have settled, written by `ownwords settle`",
        ),
        Item(
            "terms.txt",
            "fixed expressions of the field, shared by all who write in this folder",
        ),
    ],
};

const NAMES: Section = Section {
    heading: "Names of sources",
    parts: &[Says(
        "A source is named by the key of its reference: sources/harrow2019.pdf belongs to harrow2019. A file that its reference names (file in BibTeX, L1 in RIS) belongs to it under any name, and so does one whose name holds author, year and title, such as Harrow - 2019 - Campion after eleven.pdf; the report says which reference was taken. A Word or OpenDocument draft may carry its references itself, as those do that a reference manager or Word put in; it then needs no bibliography file. Such references are matched with the review's own by DOI, key, title, or author and year.",
    )],
};

const FORMATS: Section = Section {
    heading: "Formats",
    parts: &[
        Says(
            "Drafts, sources and notes may be plain text, Markdown, Word (.docx), OpenDocument (.odt), PDF, HTML, \
            EPUB, LaTeX, RTF, Org or reStructuredText. A file that can't be read is reported and left out, and the rest is checked.",
        ),
        Says(
            "A scan needs text recognition first. A file with a password can't be read: save a copy without it.",
        ),
        Says(
            "`ownwords text FILE` shows what is read from a file: blocks, pages, quotations and citations.",
        ),
    ],
};

const WORD: Section = Section {
    heading: "Word and OpenDocument",
    parts: &[Says(
        "Inserted text counts, deleted text does not. Hidden text, comments, headers and footers are left out. A block quotation \
        is known by its style or by its indent: a centimetre from the left, or a quarter of an inch on both sides.",
    )],
};

const PAGES: Section = Section {
    heading: "Page numbers",
    parts: &[
        Says("Page numbers are never invented. They come from:"),
        Item(
            "any text",
            "marks such as [p. 113], on a line of their own or where the page begins",
        ),
        Item(
            "PDF",
            "the numbers printed on the pages, the file's page labels, or the page range of the reference",
        ),
        Item(
            ".docx and .odt",
            "marks, or else the page breaks that the word processor recorded, if headers or footers print the number \
            or the file says where it starts",
        ),
        Says("Numbers outside the page range of the source's reference are not used."),
    ],
};

const NOTES: Section = Section {
    heading: "Notes",
    parts: &[
        Says(
            "An entry begins with a heading that names its reference: the key, author and year, or the title; in Markdown a line in bold with author and year does too, where no heading begins the entry. Below it \
            stand Summary, Quotations and Comments, as headings or as labels, in English or in several other languages; \
            the settings summary_headings, quotations_headings and comments_headings take other names.",
        ),
        Says(
            "One file for each entry or one for all, in any format that can be read. Fields of references.bib are read too: \
            annote, annotation, and a note of 20 words or more are an entry; abstract is the author's own text, and is used \
            where no source is stored.",
        ),
        Says(
            "An entry credits its own reference, so the page is enough behind a quotation. What could not be understood \
            as an entry is listed.",
        ),
    ],
};

const SETTLED: Section = Section {
    heading: "Decisions",
    parts: &[Says(
        "decisions.toml has one block for each decision, sorted, so that version control can merge what two people \
        settle. Days are in universal time. A broken file is reported with its line and never written to.",
    )],
};

const WRITTEN: Section = Section {
    heading: "What --out writes over",
    parts: &[
        Says(
            "Nothing of yours. Outside a review, `--out` writes over whatever it names, except what the same run reads. \
            Inside a review it writes over a report of its own, known by how it begins and ends, and over nothing else; \
            never into sources/ or notes/, through a link that leads nowhere, or under an ending that belongs to another form.",
        ),
        Says(
            "A commented copy, a bibliography in Markdown, the lines of `--quiet` and what `text` prints can't be told from \
            your own files: for a second run name another file, or move the first one away.",
        ),
    ],
};
