//! The fields of one entry, and the reference they make.

use std::collections::BTreeMap;

use biblatex::{
    Bibliography, Chunk, Chunks, ChunksExt as _, RawBibliography, RawChunk, RawEntry, Spanned,
};

use super::super::letters::{letter_of_key, year_and_letter};
use super::super::named_files::files_in_field;
use super::super::{Doi, Key, Person, Reference, ReferenceKind};

/// The fields a reference is made of. Others are never parsed.
const NEEDED: &[&str] = &[
    "author",
    "editor",
    "title",
    "subtitle",
    "booktitle",
    "maintitle",
    "journal",
    "journaltitle",
    "date",
    "year",
    "extradate",
    "yearsuffix",
    "pages",
    "crossref",
    "doi",
    "url",
    "xdata",
];

/// An entry as far as it is needed.
#[derive(Debug, Clone)]
pub(super) struct Fields {
    pub(super) key: String,
    /// In lower case.
    pub(super) kind: String,
    values: BTreeMap<String, Chunks>,
    /// Names of the work's files. Paths are no LaTeX: their backslashes part folders.
    files: Vec<String>,
}

impl Fields {
    /// The needed fields of an entry and `others`, each from its LaTeX text.
    pub(super) fn new(
        key: &str,
        kind: String,
        values: impl Iterator<Item = (String, String)>,
        others: &[&str],
    ) -> Self {
        let mut files = Vec::new();
        let values = values
            .inspect(|(name, text)| {
                if name == "file" {
                    files.extend(files_in_field(text));
                }
            })
            .filter(|(name, _)| {
                [NEEDED, others]
                    .iter()
                    .any(|names| names.contains(&name.as_str()))
            })
            .map(|(name, text)| {
                let chunks = parse(&text);
                (name, chunks)
            })
            .collect();
        Self {
            key: key.to_owned(),
            kind,
            values,
            files,
        }
    }

    pub(super) fn text(&self, name: &str) -> Option<String> {
        let text = plain(&self.values.get(name)?.format_verbatim());
        (!text.is_empty()).then_some(text)
    }

    /// Takes what is missing from the parents: every field from `xdata`, year and book title from
    /// `crossref`. Parents are keyed in lower case; their own parents are not followed.
    pub(super) fn inherit(&mut self, parents: &BTreeMap<String, Self>) {
        let shared = self.text("xdata").unwrap_or_default();
        for parent in shared
            .split(',')
            .filter_map(|key| parents.get(&key.trim().to_lowercase()))
        {
            for (name, value) in &parent.values {
                self.values
                    .entry(name.clone())
                    .or_insert_with(|| value.clone());
            }
        }
        let Some(parent) = self
            .text("crossref")
            .and_then(|key| parents.get(&key.to_lowercase()))
        else {
            return;
        };
        let dated = self.values.contains_key("date") || self.values.contains_key("year");
        let given: &[(&str, &str)] = if dated {
            &[]
        } else {
            &[("date", "date"), ("year", "year")]
        };
        let container = [
            ("title", "booktitle"),
            ("journal", "journal"),
            ("journaltitle", "journaltitle"),
        ];
        for (from, to) in given.iter().chain(&container) {
            if let Some(value) = parent.values.get(*from) {
                self.values
                    .entry((*to).to_owned())
                    .or_insert_with(|| value.clone());
            }
        }
    }

    /// The reference that the fields make.
    pub(super) fn reference(&self) -> Reference {
        let (date, year) = (self.text("date"), self.text("year"));
        let (number, letter) = [date, year]
            .into_iter()
            .flatten()
            .map(|written| year_and_letter(&written))
            .find(|(number, _)| number.is_some())
            .unwrap_or_default();
        let given = || {
            ["extradate", "yearsuffix"]
                .iter()
                .find_map(|name| letter_of(&self.text(name)?))
        };
        let suffix = letter
            .or_else(given)
            .or_else(|| letter_of_key(&self.key, number));
        let title = match (self.text("title"), self.text("subtitle")) {
            (Some(title), Some(subtitle)) => format!("{title}: {subtitle}"),
            (title, subtitle) => title.or(subtitle).unwrap_or_default(),
        };
        let container = ["journaltitle", "journal", "booktitle", "maintitle"];
        Reference {
            key: Key::new(&self.key),
            kind: kind(&self.kind),
            authors: self
                .people("author")
                .or_else(|| self.people("editor"))
                .unwrap_or_default(),
            year: number,
            suffix,
            title,
            container: container.iter().find_map(|name| self.text(name)),
            pages: self
                .text("pages")
                .and_then(|written| super::super::files::pages(&written)),
            doi: self
                .text("doi")
                .and_then(|written| Doi::parse(&written))
                .or_else(|| Doi::of_address(&self.text("url")?)),
            files: self.files.clone(),
        }
    }

    pub(super) fn people(&self, name: &str) -> Option<Vec<Person>> {
        let people: Vec<biblatex::Person> = self.values.get(name)?.parse().ok()?;
        let people: Vec<Person> = people
            .into_iter()
            .map(|person| Person {
                family: plain(&format!("{} {}", person.prefix, person.name)),
                given: plain(&person.given_name),
            })
            .filter(|person| !person.family.is_empty())
            .collect();
        (!people.is_empty()).then_some(people)
    }
}

/// A stretch of LaTeX prose as plain text.
pub(super) fn prose(text: &str) -> String {
    plain(&parse(text).format_verbatim())
}

/// Parses one field. Where its LaTeX can't be read, its bare characters are the next best thing.
fn parse(text: &str) -> Chunks {
    let spanned = |text| Spanned::zero(vec![Spanned::zero(RawChunk::Normal(text))]);
    let entry = RawEntry {
        key: Spanned::zero("k"),
        kind: Spanned::zero("misc"),
        // under a name of no meaning, so that the crate neither follows parents nor adds aliases
        fields: vec![biblatex::Pair::new(Spanned::zero("note"), spanned(text))],
    };
    let raw = RawBibliography {
        preamble: String::new(),
        entries: vec![Spanned::zero(entry)],
        abbreviations: Vec::new(),
    };
    Bibliography::from_raw(raw)
        .ok()
        .and_then(|parsed| parsed.into_vec().pop()?.fields.remove("note"))
        .unwrap_or_else(|| vec![Spanned::zero(Chunk::Normal(plain(text)))])
}

/// Text without what is left of its markup: commands, braces, dollar signs; single blanks.
fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '\\' => while letters.next_if(char::is_ascii_alphabetic).is_some() {},
            '{' | '}' | '$' => {}
            '~' => out.push(' '),
            other => out.push(other),
        }
    }
    out.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A letter given as `b` or as the number 2.
fn letter_of(written: &str) -> Option<char> {
    let mut letters = written.chars();
    match (letters.next(), letters.next()) {
        (Some(letter), None) if letter.is_ascii_alphabetic() => Some(letter.to_ascii_lowercase()),
        _ => {
            let number: usize = written.parse().ok()?;
            ('a'..='z').nth(number.checked_sub(1)?)
        }
    }
}

fn kind(written: &str) -> ReferenceKind {
    match written {
        "article" | "periodical" | "suppperiodical" => ReferenceKind::Article,
        "book" | "mvbook" | "booklet" | "collection" | "mvcollection" | "proceedings"
        | "mvproceedings" | "report" | "techreport" | "thesis" | "phdthesis" | "mastersthesis"
        | "manual" | "reference" | "mvreference" => ReferenceKind::Book,
        "inbook" | "incollection" | "inproceedings" | "conference" | "bookinbook" | "suppbook"
        | "suppcollection" | "inreference" => ReferenceKind::Chapter,
        _ => ReferenceKind::Other,
    }
}
