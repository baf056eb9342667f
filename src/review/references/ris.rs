//! RIS files: lines of a two-character tag, two blanks, a hyphen and a value.
//!
//! Read by hand: the crate at hand (`biblib`) mixes editors in among the authors, cuts group names at
//! *and*, and loses the letter of a year written `2019a`; what remains is a page of code.

use std::collections::BTreeMap;

use super::csl_items::{More, date_parts};
use super::files::{FileRead, Found, Problem, pages};
use super::letters::{letter_of_key, year_and_letter};
use super::named_files::files_in_field;
use super::names::fold;
use super::{Doi, Key, Person, Reference, ReferenceKind};

/// One record: its values by tag in order, and the line it begins on.
#[derive(Debug, Default)]
struct Record {
    line: usize,
    values: BTreeMap<String, Vec<String>>,
}

/// Reads an RIS file. A record without an `ID` gets a key of first author and year.
pub(super) fn read(source: &str) -> FileRead {
    let mut read = FileRead::default();
    let mut unkeyed = Vec::new();
    for record in records(source) {
        let reference = record.reference();
        let line = record.line;
        let more = record.more();
        if reference.authors.is_empty() && reference.title.is_empty() {
            read.problems.push(Problem {
                line,
                why: "this record has neither author nor title and was left out".to_owned(),
            });
        } else if reference.key.as_str().is_empty() {
            unkeyed.push(Found {
                reference,
                line,
                more,
            });
        } else {
            read.found.push(Found {
                reference,
                line,
                more,
            });
        }
    }
    make_keys(&mut unkeyed);
    if let Some(first) = unkeyed.first() {
        read.problems.push(Problem {
            line: first.line,
            why: format!(
                "{} without ID got a key of author and year, such as {}; name source files by that key, or write ID lines",
                if unkeyed.len() == 1 { "a record".to_owned() } else { format!("{} records", unkeyed.len()) },
                first.reference.key
            ),
        });
    }
    read.found.append(&mut unkeyed);
    read
}

/// Cuts the file into records. `TY` begins one, `ER` ends it; a line without a tag goes on with the value
/// before.
fn records(source: &str) -> Vec<Record> {
    let mut records = Vec::new();
    let mut open: Option<Record> = None;
    let mut last_tag = String::new();
    for (number, line) in source.lines().enumerate() {
        match tagged(line) {
            Some(("ER", _)) => records.extend(open.take()),
            Some((tag, value)) => {
                if tag == "TY" {
                    records.extend(open.take());
                }
                let record = open.get_or_insert_with(|| Record {
                    line: number + 1,
                    ..Record::default()
                });
                record
                    .values
                    .entry(tag.to_owned())
                    .or_default()
                    .push(value.to_owned());
                tag.clone_into(&mut last_tag);
            }
            None => {
                let more = line.trim();
                let value = open
                    .as_mut()
                    .and_then(|record| record.values.get_mut(&last_tag)?.last_mut());
                if let (Some(value), false) = (value, more.is_empty()) {
                    value.push(' ');
                    value.push_str(more);
                }
            }
        }
    }
    records.extend(open);
    records
}

/// Tag and value of a line: two capital letters or digits, blanks, a hyphen.
fn tagged(line: &str) -> Option<(&str, &str)> {
    let line = line.trim_start_matches('\u{feff}').trim_end();
    let (tag, rest) = line.split_at_checked(2)?;
    let mut letters = tag.bytes();
    let shaped = letters.next().is_some_and(|byte| byte.is_ascii_uppercase())
        && letters
            .next()
            .is_some_and(|byte| byte.is_ascii_uppercase() || byte.is_ascii_digit());
    let value = rest.trim_start_matches(' ').strip_prefix('-')?;
    // a value is set off by a blank, so that prose such as `UV-lamps` carries no tag
    let set_off = value.is_empty() || value.starts_with(' ');
    (shaped && rest.starts_with(' ') && set_off).then(|| (tag, value.trim()))
}

impl Record {
    fn first(&self, tags: &[&str]) -> Option<String> {
        let value = |tag: &&str| {
            self.values
                .get(*tag)?
                .iter()
                .find(|value| !value.is_empty())
                .cloned()
        };
        tags.iter().find_map(value)
    }

    fn people(&self, tags: &[&str]) -> Vec<Person> {
        let written = tags
            .iter()
            .filter_map(|tag| self.values.get(*tag))
            .flatten();
        written
            .flat_map(|names| names.split(';'))
            .filter_map(person)
            .collect()
    }

    /// What the record says beyond a reference.
    fn more(&self) -> More {
        let is_report = self.first(&["TY"]).as_deref() == Some("RPRT");
        let is_numbered = if is_report { "number" } else { "issue" };
        let texts = [
            ("volume", ["VL"]),
            (is_numbered, ["IS"]),
            ("publisher", ["PB"]),
            ("publisher-place", ["CY"]),
            ("edition", ["ET"]),
            ("collection-title", ["T3"]),
            ("DOI", ["DO"]),
            ("URL", ["UR"]),
        ];
        let has_authors = !self.people(&["AU", "A1"]).is_empty();
        let editors = self.people(&["ED", "A2"]);
        More {
            kind: match self.first(&["TY"]).unwrap_or_default().as_str() {
                "RPRT" => Some("report"),
                "THES" => Some("thesis"),
                "CONF" | "CPAPER" => Some("paper-conference"),
                "ELEC" | "BLOG" | "ICOMM" => Some("webpage"),
                "NEWS" => Some("article-newspaper"),
                "MGZN" => Some("article-magazine"),
                _ => None,
            },
            edited: !has_authors && !editors.is_empty(),
            editors: if has_authors { editors } else { Vec::new() },
            texts: texts
                .into_iter()
                .filter_map(|(name, tags)| Some((name, self.first(&tags)?)))
                .collect(),
            issued: self
                .first(&["DA", "PY", "Y1"])
                .map(|date| date_parts(&date.trim_end_matches('/').replace('/', "-")))
                .unwrap_or_default(),
            accessed: self
                .first(&["Y2"])
                .map(|date| date_parts(&date.trim_end_matches('/').replace('/', "-")))
                .unwrap_or_default(),
        }
    }

    fn reference(&self) -> Reference {
        let key = self.first(&["ID"]).unwrap_or_default();
        let (year, letter) = self
            .first(&["PY", "Y1", "DA"])
            .map(|written| year_and_letter(&written))
            .unwrap_or_default();
        let mut authors = self.people(&["AU", "A1"]);
        if authors.is_empty() {
            authors = self.people(&["ED", "A2", "A3"]);
        }
        let pages = match (self.first(&["SP"]), self.first(&["EP"])) {
            (Some(first), Some(last)) => Some((first, last)),
            (first, last) => first.or(last).and_then(|written| pages(&written)),
        };
        Reference {
            kind: kind(&self.first(&["TY"]).unwrap_or_default()),
            authors,
            year,
            suffix: letter.or_else(|| letter_of_key(&key, year)),
            title: self
                .first(&["TI", "T1", "CT", "BT", "ST"])
                .unwrap_or_default(),
            container: self.first(&["T2", "JF", "JO", "BT", "JA", "J2"]),
            pages,
            doi: self
                .first(&["DO"])
                .and_then(|written| Doi::parse(&written))
                .or_else(|| Doi::of_address(&self.first(&["UR"])?)),
            files: self
                .first(&["L1"])
                .map(|field| files_in_field(&field))
                .unwrap_or_default(),
            key: Key::new(&key),
        }
    }
}

/// `Family, Given, Jr.`; a name without comma is a group.
fn person(written: &str) -> Option<Person> {
    let mut parts = written.split(',').map(str::trim);
    let family = parts.next().filter(|family| !family.is_empty())?;
    Some(Person {
        family: family.to_owned(),
        given: parts.next().unwrap_or_default().to_owned(),
    })
}

/// Makes keys of first author (or title) and year; where several would be the same, letters in order of
/// their titles distinguish them, as with the letters behind years.
fn make_keys(unkeyed: &mut [Found]) {
    let base = |reference: &Reference| {
        let who = reference
            .authors
            .first()
            .map_or(&reference.title, |person| &person.family);
        let year = reference
            .year
            .map_or_else(|| "nd".to_owned(), |year| year.to_string());
        let who: String = fold(who).split(' ').take(4).collect();
        format!(
            "{who}{year}{}",
            reference.suffix.map_or_else(String::new, String::from)
        )
    };
    let mut groups: BTreeMap<String, Vec<(String, usize)>> = BTreeMap::new();
    for (at, found) in unkeyed.iter().enumerate() {
        let works = groups.entry(base(&found.reference)).or_default();
        works.push((fold(&found.reference.title), at));
    }
    for (base, mut works) in groups {
        works.sort();
        let alone = works.len() == 1;
        for (rank, (_, at)) in works.into_iter().enumerate() {
            let letter = match ('a'..='z').nth(rank) {
                _ if alone => String::new(),
                Some(letter) => letter.to_string(),
                None => format!("-{}", rank + 1),
            };
            if let Some(found) = unkeyed.get_mut(at) {
                found.reference.key = Key::new(&format!("{base}{letter}"));
            }
        }
    }
}

fn kind(written: &str) -> ReferenceKind {
    match written {
        "JOUR" | "EJOUR" | "JFULL" | "MGZN" | "NEWS" | "ABST" | "INPR" => ReferenceKind::Article,
        "BOOK" | "EBOOK" | "EDBOOK" | "RPRT" | "THES" | "SER" => ReferenceKind::Book,
        "CHAP" | "ECHAP" | "CONF" | "CPAPER" | "DICT" | "ENCYC" => ReferenceKind::Chapter,
        _ => ReferenceKind::Other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = "\u{feff}TY  - JOUR\r\nID  - harrow2019a\r\nAU  - Harrow, Anna M.\r\nAU  - Parks and Gardens Board\r\n\
        TI  - Moths at the\r\n  lamp\r\nT2  - Night Ecology\r\nPY  - 2019\r\nSP  - 113\r\nEP  - 129\r\nER  - \r\n\r\n\
        TY  - CHAP\nA1  - Lind, Eva\nA2  - Okoro, Ben\nT1  - Nectar\nT2  - After dark\nY1  - 2016/05/02/\nSP  - 7-9\nER  -\n\
        TY  - CHAP\nAU  - Lind, Eva\nTI  - Bloom\nPY  - 2016\n\
        TY  - BOOK\nA2  - Okoro, Ben\nTI  - After dark\nPY  - 2014b\nER  - \nTY  - GEN\nER  - \n";

    #[test]
    fn records_are_read() {
        let read = read(FILE);
        let keys: Vec<_> = read
            .found
            .iter()
            .map(|found| found.reference.key.as_str())
            .collect();
        assert_eq!(
            keys,
            ["harrow2019a", "lind2016b", "lind2016a", "okoro2014b"]
        );
        let works: Vec<_> = read.found.iter().map(|found| &found.reference).collect();
        assert_eq!(works[0].name(), "Harrow & Parks and Gardens Board (2019a)");
        assert_eq!(works[0].title, "Moths at the lamp");
        assert_eq!(works[0].container.as_deref(), Some("Night Ecology"));
        assert_eq!(works[0].pages, Some(("113".into(), "129".into())));
        assert_eq!(
            works[1].name(),
            "Lind (2016)",
            "editors are not among the authors"
        );
        assert_eq!(works[1].pages, Some(("7".into(), "9".into())));
        assert_eq!(works[3].name(), "Okoro (2014b)");
        let reported: Vec<_> = read.problems.iter().map(|problem| problem.line).collect();
        assert_eq!(reported, [30, 13], "{:?}", read.problems);
    }

    /// On what an ordinary record says, the `biblib` crate and we have to agree.
    #[test]
    fn an_outside_reader_agrees_on_an_ordinary_record() {
        use biblib::CitationParser as _;
        let record = "TY  - JOUR\nAU  - Harrow, Anna\nAU  - Okoro, Ben\nTI  - Moths at the lamp\nJO  - Night Ecology\nPY  - 2019\nSP  - 113\nEP  - 129\nER  - \n";
        let theirs = biblib::RisParser::new().parse(record).unwrap().remove(0);
        let ours = read(record).found.remove(0).reference;
        assert_eq!(ours.title, theirs.title);
        assert_eq!(ours.year, theirs.date.map(|date| date.year));
        assert_eq!(ours.container, theirs.journal);
        assert_eq!(
            ours.pages.map(|(first, last)| format!("{first}-{last}")),
            theirs.pages
        );
        let families: Vec<_> = theirs
            .authors
            .iter()
            .map(|author| author.name.as_str())
            .collect();
        assert_eq!(
            ours.authors
                .iter()
                .map(|person| person.family.as_str())
                .collect::<Vec<_>>(),
            families
        );
    }

    #[test]
    fn only_tag_lines_carry_tags() {
        for (line, wanted) in [
            ("TY  - JOUR", Some(("TY", "JOUR"))),
            ("ER  -", Some(("ER", ""))),
            ("A1 - Lind", Some(("A1", "Lind"))),
            ("UV-lamps and", None),
            ("an - other", None),
            ("é  - x", None),
            ("", None),
        ] {
            assert_eq!(tagged(line), wanted, "{line}");
        }
    }

    proptest::proptest! {
        #[test]
        fn any_text_is_read_without_panic(source in "\\PC*|((TY|AU|PY|ID|ER|SP|é)  - [a-zé0-9,;-]{0,6}\r?\n){0,20}") {
            let _ = read(&source);
        }
    }
}
