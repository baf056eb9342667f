//! The one list of settings. What is read from a file, the defaults, the checks, the `ownwords.toml` that
//! `ownwords start` writes and the explanations all come from it. A new setting is a row here and a field in
//! [`Settings`].

use std::fmt::Write as _;

use super::value::{Field, Given, Shape, Value};
use super::{Place, Settings, SettingsError, headings};
use crate::reading::Limits;

/// What there is to say of one setting.
#[derive(Debug, Clone, Copy)]
pub struct AboutSetting {
    /// Its name in `ownwords.toml`.
    pub name: &'static str,
    /// What it takes.
    pub shape: Shape,
    /// Its default; `None` where the setting is off until given.
    pub default: Option<Given>,
    /// A value to show where the default shows too little.
    pub example: Option<Given>,
    /// What it means, in a sentence or two.
    pub meaning: &'static str,
    /// Where the default comes from: published, common practice, or our own calibration.
    pub origin: &'static str,
    /// Where its value is kept.
    pub(super) field: fn(&mut Settings) -> &mut dyn Field,
}

/// Settings have different names, and their fields can't be compared.
impl PartialEq for AboutSetting {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

impl Eq for AboutSetting {}

impl AboutSetting {
    /// The value that some settings have for it; `None` where it is off.
    #[must_use]
    pub fn value(&self, settings: &Settings) -> Option<Value> {
        (self.field)(&mut settings.clone()).value()
    }

    /// A value to show: the example, or else the default.
    #[must_use]
    pub fn shown(&self) -> String {
        let given = self.example.or(self.default);
        given.map_or_else(String::new, |given| Value::from(given).to_string())
    }
}

/// The setting of a name.
///
/// # Errors
/// [`SettingsError::Unknown`] with the setting whose name is most like it.
pub(super) fn named(name: &str, place: &Place) -> Result<&'static AboutSetting, SettingsError> {
    let found = TABLE.iter().find(|about| about.name == name);
    found.ok_or_else(|| SettingsError::Unknown {
        place: place.clone(),
        name: name.to_owned(),
        nearest: nearest(name),
    })
}

/// The setting whose name is most like the written one, if it is like enough to be meant: at most two
/// slips, or three in a long name. Ties go to the earlier setting in the table.
fn nearest(name: &str) -> Option<String> {
    let written = name.to_lowercase().replace('-', "_");
    let slips = |about: &&AboutSetting| strsim::damerau_levenshtein(&written, about.name);
    let close = TABLE.iter().min_by_key(slips)?;
    let allowed = if close.name.len() > 10 { 3 } else { 2 };
    let begins = || {
        TABLE.iter().find(|about| {
            written.len() >= 4
                && (about.name.starts_with(&written) || written.starts_with(about.name))
        })
    };
    let found = if slips(&close) <= allowed {
        Some(close)
    } else {
        begins()
    };
    found.map(|about| about.name.to_owned())
}

pub(super) static TABLE: &[AboutSetting] = &[
    AboutSetting {
        name: "run_words",
        shape: Shape::Number { from: 4, to: 40 },
        default: Some(Given::Number(7)),
        example: None,
        meaning: "Words in a row that count as a copy when they stand without quotation marks.",
        origin: "Our own calibration: in 164,000 words of learned prose set against a million words by other writers, \
                 shared runs of 5 words came by chance 52 times in 10,000 words, of 6 words 6 times, of 7 words 0.4 times, of \
                 8 words 0.06 times, of 9 never (Brown corpus, 2026-11-25).",
        field: |settings| &mut settings.run_words,
    },
    AboutSetting {
        name: "quotation_words",
        shape: Shape::Number { from: 1, to: 40 },
        default: Some(Given::Number(4)),
        example: None,
        meaning: "Marked strings of fewer words are taken for terms or titles, not for quotations.",
        origin: "Common practice: terms and words used in a special sense are rarely longer than three words.",
        field: |settings| &mut settings.quotation_words,
    },
    AboutSetting {
        name: "long_quotation_words",
        shape: Shape::Number { from: 10, to: 500 },
        default: Some(Given::Number(40)),
        example: None,
        meaning: "Quotations of this many words belong in a block of their own.",
        origin: "Published: APA Style, 7th edition (40 words), as university libraries' guides to it say. Other styles draw the \
                 line elsewhere.",
        field: |settings| &mut settings.long_quotation_words,
    },
    AboutSetting {
        name: "heavily_quoted_percent",
        shape: Shape::Number { from: 1, to: 100 },
        default: None,
        example: Some(Given::Number(25)),
        meaning: "Share of quoted words in a draft, in percent, above which the draft is called heavily quoted. Not checked unless given.",
        origin: "Common practice differs too much from field to field for a default.",
        field: |settings| &mut settings.heavily_quoted_percent,
    },
    AboutSetting {
        name: "repeated_words",
        shape: Shape::Number { from: 6, to: 200 },
        default: None,
        example: Some(Given::Number(12)),
        meaning: "Words in a row of your own that are reported when they stand in an earlier chapter too. Not checked unless given.",
        origin: "Common practice: repetition within one work is a matter of style. 12 is our own choice for --repeats.",
        field: |settings| &mut settings.repeated_words,
    },
    AboutSetting {
        name: "credit_sentences",
        shape: Shape::Number { from: 0, to: 10 },
        default: Some(Given::Number(1)),
        example: None,
        meaning: "How many sentences before or after a sentence without a citation of its own one may stand and still count as nearby.",
        origin: "Common practice: a citation covers its own sentence and, where the text makes that plain, its neighbours.",
        field: |settings| &mut settings.credit_sentences,
    },
    AboutSetting {
        name: "terms",
        shape: Shape::List,
        default: Some(Given::List(&[])),
        example: Some(Given::List(&[
            "part-night street lighting",
            "correlated colour temperature",
        ])),
        meaning: "Fixed expressions of your field, such as instruments or laws, that belong to no one author; they never make a copy.",
        origin: "Nothing is set: only the writer knows the field.",
        field: |settings| &mut settings.terms,
    },
    AboutSetting {
        name: "references",
        shape: Shape::List,
        default: None,
        example: Some(Given::List(&["references.bib", "more-references.ris"])),
        meaning: "Bibliography files (.bib, .json, .ris), relative to this folder. Unless given, every references.* file here.",
        origin: "Our own layout of the review folder.",
        field: |settings| &mut settings.references,
    },
    AboutSetting {
        name: "sources",
        shape: Shape::Folder,
        default: Some(Given::Folder("sources")),
        example: None,
        meaning: "Folder of source texts, each named by its reference key.",
        origin: "Our own layout of the review folder.",
        field: |settings| &mut settings.sources,
    },
    AboutSetting {
        name: "notes",
        shape: Shape::Folder,
        default: Some(Given::Folder("notes")),
        example: None,
        meaning: "Folder of notes: the entries of the annotated bibliography, one or more in a file.",
        origin: "Our own layout of the review folder.",
        field: |settings| &mut settings.notes,
    },
    AboutSetting {
        name: "summary_headings",
        shape: Shape::List,
        default: Some(Given::List(headings::SUMMARY)),
        example: None,
        meaning: "Headings in an entry that begin what the source says.",
        origin: "Common practice in annotated bibliographies.",
        field: |settings| &mut settings.summary_headings,
    },
    AboutSetting {
        name: "quotations_headings",
        shape: Shape::List,
        default: Some(Given::List(headings::QUOTATIONS)),
        example: None,
        meaning: "Headings in an entry that begin the words quoted from the source.",
        origin: "Common practice in annotated bibliographies.",
        field: |settings| &mut settings.quotations_headings,
    },
    AboutSetting {
        name: "comments_headings",
        shape: Shape::List,
        default: Some(Given::List(headings::COMMENTS)),
        example: None,
        meaning: "Headings in an entry that begin your own thoughts.",
        origin: "Common practice in annotated bibliographies.",
        field: |settings| &mut settings.comments_headings,
    },
    AboutSetting {
        name: "max_file_mb",
        shape: Shape::Number { from: 1, to: 2000 },
        default: Some(Given::Number(Limits::USUAL.file_mb)),
        example: None,
        meaning: "Largest file that is read, in megabytes.",
        origin: "Our own choice: far above any article or book, so that a film in the folder is not read by mistake.",
        field: |settings| &mut settings.limits.file_mb,
    },
    AboutSetting {
        name: "max_unpacked_mb",
        shape: Shape::Number { from: 10, to: 6000 },
        default: Some(Given::Number(Limits::USUAL.unpacked_mb)),
        example: None,
        meaning: "Most that a packed file (.docx, .odt, .epub, .pdf) may unpack into, in megabytes. That is for all parts of a package together; one part may take two thirds of it. For a PDF, one part or all pages may take a third of it, drawing one page a sixth, and the drawings that its pages use all of it.",
        origin: "Our own choice: a hundred times what a long book needs, so that no file fills the memory.",
        field: |settings| &mut settings.limits.unpacked_mb,
    },
    AboutSetting {
        name: "max_package_parts",
        shape: Shape::Number {
            from: 10,
            to: 1_000_000,
        },
        default: Some(Given::Number(Limits::USUAL.parts as u64)),
        example: None,
        meaning: "Most parts of a packed file (.docx, .odt, .epub), pictures among them.",
        origin: "Our own choice: enough for every picture of a large catalogue.",
        field: |settings| &mut settings.limits.parts,
    },
    AboutSetting {
        name: "max_pdf_pages",
        shape: Shape::Number {
            from: 1,
            to: 1_000_000,
        },
        default: Some(Given::Number(Limits::USUAL.pages as u64)),
        example: None,
        meaning: "Most pages of a PDF that is read.",
        origin: "Our own choice: more than any bound volume has.",
        field: |settings| &mut settings.limits.pages,
    },
    AboutSetting {
        name: "max_pdf_characters",
        shape: Shape::Number {
            from: 1000,
            to: 1_000_000_000,
        },
        default: Some(Given::Number(Limits::USUAL.characters as u64)),
        example: None,
        meaning: "Most characters that a PDF may draw, hidden ones among them.",
        origin: "Our own choice: those of ten long books.",
        field: |settings| &mut settings.limits.characters,
    },
    AboutSetting {
        name: "max_html_nodes",
        shape: Shape::Number {
            from: 1000,
            to: 1_000_000_000,
        },
        default: Some(Given::Number(Limits::USUAL.html_nodes as u64)),
        example: None,
        meaning: "Most elements, attributes and stretches of text that an HTML page, or all chapters of an EPUB, may make.",
        origin: "Our own choice: those of a hundred long books. A million take about 100 MB of memory.",
        field: |settings| &mut settings.limits.html_nodes,
    },
    AboutSetting {
        name: "max_text_marks",
        shape: Shape::Number {
            from: 1000,
            to: 1_000_000_000,
        },
        default: Some(Given::Number(Limits::USUAL.text_marks as u64)),
        example: None,
        meaning: "Most line ends and signs of markup in a text file (.txt, .md, .tex, .rst, .org; in .html line ends only).",
        origin: "Our own choice: those of a hundred long books. A million take about 100 MB of memory.",
        field: |settings| &mut settings.limits.text_marks,
    },
    AboutSetting {
        name: "max_files",
        shape: Shape::Number {
            from: 10,
            to: 1_000_000,
        },
        default: Some(Given::Number(Limits::USUAL.files as u64)),
        example: None,
        meaning: "Most files and folders that a folder of sources, notes or drafts may hold, with everything below it.",
        origin: "Our own choice: far above what anyone reads, so that a whole disk is not read by mistake.",
        field: |settings| &mut settings.limits.files,
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
        let _ = match (about.default.map(Value::from), about.shape) {
            (Some(value), Shape::Number { from, to }) => {
                writeln!(out, "# {} = {value}  # {from} to {to}", about.name)
            }
            (Some(value), _) => writeln!(out, "# {} = {value}", about.name),
            (None, _) => writeln!(out, "# for example: {} = {}", about.name, about.shown()),
        };
    }
    out
}
