//! The one list of settings. Checks, template and explanations are made from it.

use std::fmt::Write as _;

use super::headings;

/// What a setting takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// A whole number within a range.
    Number {
        /// Smallest.
        from: u64,
        /// Largest.
        to: u64,
    },
    /// A list of texts.
    List,
    /// The name of a folder.
    Folder,
}

impl Shape {
    /// In words, for messages and explanations.
    #[must_use]
    pub fn describe(self) -> String {
        match self {
            Self::Number { from, to } => format!("a whole number from {from} to {to}"),
            Self::List => "a list of texts such as [\"one\", \"two\"]".to_owned(),
            Self::Folder => "the name of a folder in \"quotation marks\"".to_owned(),
        }
    }
}

/// What there is to say of one setting.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct AboutSetting {
    /// Its name in `ownwords.toml`.
    pub name: &'static str,
    /// What it takes.
    pub shape: Shape,
    /// Its default as TOML; `None` where the setting is off until given.
    pub default: Option<&'static str>,
    /// A value to show where there is no default, as TOML.
    pub example: &'static str,
    /// What it means, in a sentence or two.
    pub meaning: &'static str,
    /// Where the default comes from: published, common practice, or our own calibration.
    pub origin: &'static str,
}

/// The setting of a name.
pub(super) fn about(name: &str) -> Option<&'static AboutSetting> {
    TABLE.iter().find(|about| about.name == name)
}

pub(super) static TABLE: &[AboutSetting] = &[
    AboutSetting {
        name: "run_words",
        shape: Shape::Number { from: 4, to: 40 },
        default: Some("7"),
        example: "7",
        meaning: "Words in a row that count as a copy when they stand without quotation marks.",
        origin: "Our own calibration: in 164,000 words of learned prose set against a million words by other writers, \
                 shared runs of 6 words came by chance 6 times in 10,000 words, of 7 words 0.4 times, of 9 never.",
    },
    AboutSetting {
        name: "quotation_words",
        shape: Shape::Number { from: 1, to: 40 },
        default: Some("4"),
        example: "4",
        meaning: "Marked strings of fewer words are taken for terms or titles, not for quotations.",
        origin: "Common practice: terms and words used in a special sense are rarely longer than three words.",
    },
    AboutSetting {
        name: "long_quotation_words",
        shape: Shape::Number { from: 10, to: 500 },
        default: Some("40"),
        example: "40",
        meaning: "Quotations of this many words belong in a block of their own.",
        origin: "Published: APA 7, section 8.27 (40 words). Other styles draw the line elsewhere.",
    },
    AboutSetting {
        name: "heavily_quoted_percent",
        shape: Shape::Number { from: 1, to: 100 },
        default: None,
        example: "25",
        meaning: "Share of quoted words in a draft, in percent, above which the draft is called heavily quoted. \
                  Not looked at unless given.",
        origin: "Common practice differs too much from field to field for a default.",
    },
    AboutSetting {
        name: "repeated_words",
        shape: Shape::Number { from: 6, to: 200 },
        default: None,
        example: "12",
        meaning: "Words in a row of your own that are told when they stand in an earlier chapter too. Not looked at unless \
                  given.",
        origin: "Common practice: repetition within one work is a matter of style. 12 is our own choice for --repeats.",
    },
    AboutSetting {
        name: "credit_sentences",
        shape: Shape::Number { from: 0, to: 10 },
        default: Some("1"),
        example: "1",
        meaning: "How many sentences before and after a passage a citation may stand to count as nearby.",
        origin: "Common practice: a citation covers its own sentence and, where the text makes that plain, its neighbours.",
    },
    AboutSetting {
        name: "terms",
        shape: Shape::List,
        default: Some("[]"),
        example: "[\"part-night street lighting\", \"correlated colour temperature\"]",
        meaning: "Fixed expressions of your field, instruments or laws that are nobody's wording; they never make a copy.",
        origin: "Nothing is set: only the writer knows the field.",
    },
    AboutSetting {
        name: "references",
        shape: Shape::List,
        default: None,
        example: "[\"references.bib\", \"more-references.ris\"]",
        meaning: "Bibliography files (.bib, .json, .ris), relative to this folder. Unless given, every references.* file here.",
        origin: "Our own layout of the review folder.",
    },
    AboutSetting {
        name: "sources",
        shape: Shape::Folder,
        default: Some("\"sources\""),
        example: "\"sources\"",
        meaning: "Folder of source texts, each named by its reference key.",
        origin: "Our own layout of the review folder.",
    },
    AboutSetting {
        name: "notes",
        shape: Shape::Folder,
        default: Some("\"notes\""),
        example: "\"notes\"",
        meaning: "Folder of notes: the entries of the annotated bibliography, one or many a file.",
        origin: "Our own layout of the review folder.",
    },
    AboutSetting {
        name: "summary_headings",
        shape: Shape::List,
        default: Some(headings::SUMMARY_TOML),
        example: "[\"Summary\"]",
        meaning: "Headings in an entry that begin what the source says.",
        origin: "Common practice in annotated bibliographies.",
    },
    AboutSetting {
        name: "quotations_headings",
        shape: Shape::List,
        default: Some(headings::QUOTATIONS_TOML),
        example: "[\"Quotations\"]",
        meaning: "Headings in an entry that begin the words quoted from the source.",
        origin: "Common practice in annotated bibliographies.",
    },
    AboutSetting {
        name: "comments_headings",
        shape: Shape::List,
        default: Some(headings::COMMENTS_TOML),
        example: "[\"Comments\"]",
        meaning: "Headings in an entry that begin your own thoughts.",
        origin: "Common practice in annotated bibliographies.",
    },
    AboutSetting {
        name: "max_file_mb",
        shape: Shape::Number { from: 1, to: 2000 },
        default: Some("100"),
        example: "100",
        meaning: "Largest file that is read, in megabytes.",
        origin: "Our own choice: far above any article or book, so that a film in the folder is not read by mistake.",
    },
    AboutSetting {
        name: "max_unpacked_mb",
        shape: Shape::Number { from: 10, to: 6000 },
        default: Some("600"),
        example: "600",
        meaning: "Most that a packed file (.docx, .odt, .epub, .pdf) may unpack into, in megabytes: all parts of a package \
                  together, two thirds of it one part; a third of it one part or all pages of a PDF, all of it the drawings that \
                  these use, a sixth of it what drawing one page runs through.",
        origin: "Our own choice: a hundred times what a long book needs, so that no file fills the memory.",
    },
    AboutSetting {
        name: "max_package_parts",
        shape: Shape::Number {
            from: 10,
            to: 1_000_000,
        },
        default: Some("20000"),
        example: "20000",
        meaning: "Most parts of a packed file (.docx, .odt, .epub), pictures among them.",
        origin: "Our own choice: a part for every picture of a large catalogue.",
    },
    AboutSetting {
        name: "max_pdf_pages",
        shape: Shape::Number {
            from: 1,
            to: 1_000_000,
        },
        default: Some("20000"),
        example: "20000",
        meaning: "Most pages of a PDF that is read.",
        origin: "Our own choice: more than any bound volume has.",
    },
    AboutSetting {
        name: "max_pdf_characters",
        shape: Shape::Number {
            from: 1000,
            to: 1_000_000_000,
        },
        default: Some("10000000"),
        example: "10000000",
        meaning: "Most characters that a PDF may draw, hidden ones among them.",
        origin: "Our own choice: those of ten long books.",
    },
    AboutSetting {
        name: "max_html_nodes",
        shape: Shape::Number {
            from: 1000,
            to: 1_000_000_000,
        },
        default: Some("4000000"),
        example: "4000000",
        meaning: "Most elements, attributes and stretches of text that an HTML page, or all chapters of an EPUB, may make.",
        origin: "Our own choice: those of a hundred long books. A million take about 100 MB of memory.",
    },
    AboutSetting {
        name: "max_text_marks",
        shape: Shape::Number {
            from: 1000,
            to: 1_000_000_000,
        },
        default: Some("6000000"),
        example: "6000000",
        meaning: "Most line ends and signs of markup in a text file (.txt, .md, .tex, .rst, .org; in .html line ends only).",
        origin: "Our own choice: those of a hundred long books. A million take about 100 MB of memory.",
    },
];

/// Width of the comments in the template, in characters.
const COMMENT_WIDTH: usize = 96;

pub(super) fn template() -> String {
    let mut out = String::from(
        "# Settings of this review. Every line that begins with # shows a default;\n\
         # take the # away and change the value to set your own.\n",
    );
    for about in TABLE {
        out.push('\n');
        for text in [about.meaning, about.origin] {
            for line in textwrap::wrap(text, COMMENT_WIDTH - 2) {
                // writing into a String can't fail
                let _ = writeln!(out, "# {line}");
            }
        }
        let _ = match (about.default, about.shape) {
            (Some(value), Shape::Number { from, to }) => {
                writeln!(out, "# {} = {value}  # {from} to {to}", about.name)
            }
            (Some(value), _) => writeln!(out, "# {} = {value}", about.name),
            (None, _) => writeln!(out, "# for example: {} = {}", about.name, about.example),
        };
    }
    out
}
