//! The account as JSON, under the contract of `quotations.schema.json`. Fields may be added within a version.

use std::io::{self, Write};

use serde::Serialize;

use super::words::Counts;
use crate::findings::account::{Account, Chapter, Item, Quoted, Section, Share, Unmarked, Where};
use crate::report::json::{LeftOutForm, SourceForm, rounded, shown};
use crate::text::QuotationForm;

/// The name of the format, in its field `format`.
pub const FORMAT: &str = "ownwords-quotations";

/// The version of the contract, in its field `version`.
pub const VERSION: u32 = 1;

/// Writes the account as JSON, with a line feed at the end.
///
/// # Errors
/// What the writer refuses.
pub fn write(account: &Account, out: &mut impl Write) -> io::Result<()> {
    serde_json::to_writer_pretty(&mut *out, &DocumentForm::of(account))?;
    writeln!(out)
}

#[derive(Serialize)]
struct DocumentForm<'a> {
    format: &'static str,
    version: u32,
    review: ReviewForm,
    drafts_from: Option<String>,
    drafts: Vec<ChapterForm<'a>>,
    counts: Counts,
    quotations: Vec<ItemForm<'a>>,
    left_out: Vec<LeftOutForm<'a>>,
}

impl<'a> DocumentForm<'a> {
    fn of(account: &'a Account) -> Self {
        Self {
            format: FORMAT,
            version: VERSION,
            review: ReviewForm {
                path: shown(&account.review),
                sources: account.sources,
                entries: account.entries,
            },
            drafts_from: account.drafts_from.as_deref().map(shown),
            drafts: account.chapters.iter().map(ChapterForm::of).collect(),
            counts: Counts::of(account),
            quotations: account.items.iter().map(ItemForm::of).collect(),
            left_out: account.left_out.iter().map(LeftOutForm::of).collect(),
        }
    }
}

#[derive(Serialize)]
struct ReviewForm {
    path: String,
    sources: usize,
    entries: usize,
}

#[derive(Serialize)]
struct ShareForm {
    words: usize,
    quoted_words: usize,
    share: f64,
    quotations: usize,
}

impl ShareForm {
    fn of(share: &Share) -> Self {
        Self {
            words: share.words,
            quoted_words: share.quoted_words,
            share: rounded(share.of_words()),
            quotations: share.quotations,
        }
    }
}

#[derive(Serialize)]
struct ChapterForm<'a> {
    path: String,
    #[serde(flatten)]
    share: ShareForm,
    sections: Vec<SectionForm<'a>>,
    remarks: &'a [String],
}

impl<'a> ChapterForm<'a> {
    fn of(chapter: &'a Chapter) -> Self {
        Self {
            path: shown(&chapter.path),
            share: ShareForm::of(&chapter.share),
            sections: chapter.sections.iter().map(SectionForm::of).collect(),
            remarks: &chapter.remarks,
        }
    }
}

#[derive(Serialize)]
struct SectionForm<'a> {
    heading: &'a str,
    level: u8,
    line: usize,
    #[serde(flatten)]
    share: ShareForm,
}

impl<'a> SectionForm<'a> {
    fn of(section: &'a Section) -> Self {
        Self {
            heading: &section.heading,
            level: section.level,
            line: section.line,
            share: ShareForm::of(&section.share),
        }
    }
}

#[derive(Serialize)]
struct ItemForm<'a> {
    key: Option<&'a str>,
    name: Option<&'a str>,
    noted: bool,
    used: bool,
    used_twice: bool,
    places: Vec<QuotedForm<'a>>,
}

impl<'a> ItemForm<'a> {
    fn of(item: &'a Item) -> Self {
        Self {
            key: item.key.as_ref().map(|key| key.as_str()),
            name: item.name.as_deref(),
            noted: item.is_noted(),
            used: item.is_used(),
            used_twice: item.used_twice,
            places: item.quoted.iter().map(QuotedForm::of).collect(),
        }
    }
}

#[derive(Serialize)]
struct QuotedForm<'a> {
    r#where: &'static str,
    path: String,
    entry: Option<&'a str>,
    part: Option<&'static str>,
    section: Option<&'a str>,
    start: usize,
    end: usize,
    line: usize,
    text: &'a str,
    form: &'static str,
    words: usize,
    citation: Option<&'a str>,
    cited: &'a [String],
    locator: Option<&'a str>,
    secondary: bool,
    wording: &'static str,
    differences: Vec<DifferenceForm<'a>>,
    page: &'static str,
    credit: &'static str,
    to_mend: bool,
    found: Vec<SourceForm<'a>>,
    unmarked: Vec<UnmarkedForm<'a>>,
}

impl<'a> QuotedForm<'a> {
    fn of(quoted: &'a Quoted) -> Self {
        let (place, entry, part, section) = match &quoted.at {
            Where::Notes { entry, part } => {
                ("notes", Some(entry.as_str()), Some(part.name()), None)
            }
            Where::Draft { section } => ("draft", None, None, section.as_deref()),
        };
        Self {
            r#where: place,
            path: shown(&quoted.path),
            entry,
            part,
            section,
            start: quoted.range.start(),
            end: quoted.range.end(),
            line: quoted.line,
            text: &quoted.text,
            form: match quoted.form {
                QuotationForm::Inline => "inline",
                QuotationForm::Block => "block",
            },
            words: quoted.words,
            citation: quoted.citation.as_deref(),
            cited: &quoted.cited,
            locator: quoted.locator.as_deref(),
            secondary: quoted.secondary,
            wording: quoted.fidelity.name(),
            differences: quoted.differences.iter().map(DifferenceForm::of).collect(),
            page: quoted.page.name(),
            credit: quoted.credit.name(),
            to_mend: quoted.wants_mending(),
            found: quoted.found.iter().map(SourceForm::of).collect(),
            unmarked: quoted.unmarked.iter().map(UnmarkedForm::of).collect(),
        }
    }
}

#[derive(Serialize)]
struct UnmarkedForm<'a> {
    path: String,
    line: usize,
    text: &'a str,
}

impl<'a> UnmarkedForm<'a> {
    fn of(place: &'a Unmarked) -> Self {
        Self {
            path: shown(&place.path),
            line: place.line,
            text: &place.text,
        }
    }
}

#[derive(Serialize)]
struct DifferenceForm<'a> {
    quotation: &'a str,
    source: &'a str,
}

impl<'a> DifferenceForm<'a> {
    fn of((quotation, source): &'a (String, String)) -> Self {
        Self { quotation, source }
    }
}
