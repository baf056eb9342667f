//! The guide to the forms of a report.

use super::{Guide, Part::*, Section};

pub(super) const REPORTS: Guide = Guide {
    name: "reports",
    short: "The forms of a report, and which is for whom",
    sections: &[FORMS, PAGE, MARGIN, STATUS],
};

const FORMS: Section = Section {
    heading: "Forms of ownwords check",
    parts: &[
        Item("terminal", "to read here"),
        Item(
            "page",
            "one file to open in a browser, with the draft and its findings side by side",
        ),
        Item(
            "margin",
            "a copy of a .docx or .odt draft with the findings as comments",
        ),
        Item("markdown", "to paste into a message"),
        Item("csv", "for spreadsheets, a line for each finding"),
        Item(
            "lines, sarif",
            "for editors and version control: file, line and column",
        ),
        Item(
            "json",
            "for other programs; `ownwords explain schema` prints the contract",
        ),
        Says(
            "In lines and sarif, a place in a file that a LaTeX draft includes is given in that file.",
        ),
    ],
};

const PAGE: Section = Section {
    heading: "The page",
    parts: &[Says(
        "The page begins with what matters most and what to say to the writer. Then come a map of where each source's wording \
        stands, and the draft with each finding beside its passage. A finding that is opened shows both wordings one \
        above the other, word by word. The page loads nothing and sends nothing, can be read without its script, and \
        prints as a clean copy with numbered notes.",
    )],
};

const MARGIN: Section = Section {
    heading: "Comments in the margin",
    parts: &[Says(
        "Each open finding becomes a comment of fewer than sixty words at its passage, in a copy of the draft. Comments of \
        others, tracked changes, fields and styles stay as they are. Word processors take no comments in notes, so a \
        finding in a footnote stands where the footnote is called.",
    )],
};

const STATUS: Section = Section {
    heading: "Exit status",
    parts: &[
        Item("0", "nothing is open"),
        Item("1", "there are open findings"),
        Item(
            "2",
            "the job, or a part of it such as one of several drafts, could not be done",
        ),
    ],
};
