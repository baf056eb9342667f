//! References as items of CSL JSON, for formatting them in a published style. What resolving citations needs
//! ([`Reference`]) is a small part of a reference; here the bibliography files are read once more for the rest, so
//! that no other command pays for it.

use std::collections::BTreeMap;
use std::path::PathBuf;

use serde_json::{Map, Value, json};

use super::super::Review;
use super::super::files::Here;
use super::files::{self, FileRead};
use super::{Key, Person, Reference, ReferenceKind, References};

/// What a file says of a work beyond a [`Reference`].
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct More {
    /// The type of CSL, where the file's own type says more than [`ReferenceKind`].
    pub(super) kind: Option<&'static str>,
    /// Whether the reference's authors are its editors.
    pub(super) edited: bool,
    /// Editors beside the authors.
    pub(super) editors: Vec<Person>,
    /// Variables of CSL (`volume`, `publisher`, ...) and their text.
    pub(super) texts: Vec<(&'static str, String)>,
    /// The day it appeared, as year, month and day, as far as the file gives it.
    pub(super) issued: Vec<i64>,
    /// The day it was looked up, likewise.
    pub(super) accessed: Vec<i64>,
}

impl Review {
    /// One item of CSL JSON for each reference of the review, by key. Files that can't be read were reported when
    /// the review was opened.
    #[must_use]
    pub fn csl_items(&self) -> BTreeMap<Key, Value> {
        let limit_mb = self.settings.limits.file_mb;
        csl_items(self.here(), &self.bibliography, limit_mb, &self.references)
    }
}

fn csl_items(
    here: Here<'_>,
    files: &[PathBuf],
    limit_mb: u64,
    references: &References,
) -> BTreeMap<Key, Value> {
    let mut more: BTreeMap<Key, More> = BTreeMap::new();
    for file in files {
        let read = files::read_all(here, file, limit_mb).unwrap_or_else(|_| FileRead::default());
        for found in read.found {
            more.entry(found.reference.key.clone())
                .or_insert(found.more);
        }
    }
    let item = |reference: &Reference| {
        let more = more.remove(&reference.key).unwrap_or_default();
        (reference.key.clone(), item(reference, &more))
    };
    let mut item = item;
    references.iter().map(&mut item).collect()
}

/// Years that formatters take: four digits.
const YEARS: std::ops::RangeInclusive<i32> = 1..=9999;

fn item(reference: &Reference, more: &More) -> Value {
    let mut item = Map::new();
    let mut put = |name: &str, value: Value| {
        item.insert(name.to_owned(), value);
    };
    put("id", json!(reference.key.as_str()));
    put("type", json!(more.kind.unwrap_or(kind(reference.kind))));
    let authors: Vec<Value> = reference.authors.iter().map(person).collect();
    let role = if more.edited { "editor" } else { "author" };
    if !authors.is_empty() {
        put(role, json!(authors));
    }
    if !more.editors.is_empty() {
        let editors: Vec<Value> = more.editors.iter().map(person).collect();
        put("editor", json!(editors));
    }
    if let Some(year) = reference.year.filter(|year| YEARS.contains(year)) {
        let is_of_year = more.issued.first() == Some(&i64::from(year));
        let issued = match is_of_year {
            true => more.issued.clone(),
            false => vec![i64::from(year)],
        };
        put("issued", json!({ "date-parts": [issued] }));
    }
    if !reference.title.is_empty() {
        put("title", json!(reference.title));
    }
    if let Some(container) = &reference.container {
        put("container-title", json!(container));
    }
    if let Some((first, last)) = &reference.pages {
        let page = if first == last {
            first.clone()
        } else {
            format!("{first}–{last}")
        };
        put("page", json!(page));
    }
    for (name, text) in &more.texts {
        put(name, json!(text));
    }
    if !more.accessed.is_empty() {
        put("accessed", json!({ "date-parts": [more.accessed] }));
    }
    Value::Object(item)
}

fn kind(kind: ReferenceKind) -> &'static str {
    match kind {
        ReferenceKind::Article => "article-journal",
        ReferenceKind::Book => "book",
        ReferenceKind::Chapter => "chapter",
        ReferenceKind::Other => "document",
    }
}

fn person(person: &Person) -> Value {
    if person.given.is_empty() {
        json!({ "literal": person.family })
    } else {
        json!({ "family": person.family, "given": person.given })
    }
}

/// Year, month and day of a date such as `2024-02-11`, as far as they are given.
pub(super) fn date_parts(written: &str) -> Vec<i64> {
    let first = written.split('/').next().unwrap_or_default();
    let parts: Vec<i64> = first
        .trim()
        .split('-')
        .map_while(|part| part.parse().ok())
        .collect();
    let fits = match parts.as_slice() {
        [year] => (1..=9999).contains(year),
        [year, month] => (1..=9999).contains(year) && (1..=12).contains(month),
        [year, month, day] => {
            (1..=9999).contains(year) && (1..=12).contains(month) && (1..=31).contains(day)
        }
        _ => false,
    };
    if fits { parts } else { Vec::new() }
}

/// The number of a month as bibliographies write it: `5`, `may`, `May`, `September`.
pub(super) fn month(written: &str) -> Option<i64> {
    const MONTHS: [&str; 12] = [
        "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
    ];
    let written = written.trim().to_lowercase();
    if let Ok(number) = written.parse() {
        return (1..=12).contains(&number).then_some(number);
    }
    let letters = written.get(..3)?;
    let at = MONTHS.iter().position(|month| *month == letters)?;
    i64::try_from(at + 1).ok()
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;
    use crate::reading::Memory;

    fn items(name: &str, content: &str) -> BTreeMap<Key, Value> {
        let memory: Memory = [(name, content)].into_iter().collect();
        let here = Here {
            files: &memory,
            root: Path::new(""),
        };
        let files = [PathBuf::from(name)];
        let (references, _, _) = References::from_files(here, &files, 1);
        csl_items(here, &files, 1, &references)
    }

    #[test]
    fn the_same_chapter_from_each_format() {
        let wanted = json!({
            "id": "harrow2014", "type": "chapter", "author": [{"family": "Harrow", "given": "Agnes"}],
            "editor": [{"family": "Bessamy", "given": "Ruel"}], "issued": {"date-parts": [[2014]]},
            "title": "Moonlight", "container-title": "After dark", "page": "51–66", "volume": "2",
            "publisher": "Quillet", "publisher-place": "Brenn", "DOI": "10.1/x", "edition": "2",
        });
        let bib = "@incollection{harrow2014, author = {Harrow, Agnes}, editor = {Bessamy, Ruel}, title = {Moonlight}, \
            booktitle = {After dark}, pages = {51--66}, volume = 2, publisher = {Quillet}, address = {Brenn}, \
            year = 2014, doi = {10.1/x}, edition = {2}, note = {mine alone}}";
        let ris = "TY  - CHAP\nID  - harrow2014\nAU  - Harrow, Agnes\nED  - Bessamy, Ruel\nTI  - Moonlight\nT2  - After dark\n\
            SP  - 51\nEP  - 66\nVL  - 2\nPB  - Quillet\nCY  - Brenn\nPY  - 2014\nDO  - 10.1/x\nET  - 2\nN1  - mine alone\nER  - \n";
        let json = r#"[{"id": "harrow2014", "type": "chapter", "author": [{"family": "Harrow", "given": "Agnes"}],
            "editor": [{"family": "Bessamy", "given": "Ruel"}], "issued": {"date-parts": [["2014"]]}, "title": "Moonlight",
            "container-title": "After dark", "page": "51-66", "volume": 2, "publisher": "Quillet", "publisher-place": "Brenn",
            "DOI": "10.1/x", "edition": "2", "note": "mine alone", "custom": {"a": 1}}]"#;
        for (name, content) in [("r.bib", bib), ("r.ris", ris), ("r.json", json)] {
            assert_eq!(
                items(name, content)[&Key::new("harrow2014")],
                wanted,
                "{name}"
            );
        }
    }

    #[test]
    fn the_day_of_publication_from_each_format() {
        let of = |name: &str, content: &str| {
            let items = items(name, content);
            items[&Key::new("post2019")]["issued"]["date-parts"][0].clone()
        };
        let bib = |date: &str| {
            let bib =
                format!("@online{{post2019, author = {{Post, Una}}, title = {{Lamps}}, {date}}}");
            of("r.bib", &bib)
        };
        assert_eq!(bib("date = {2019-05-02}"), json!([2019, 5, 2]));
        assert_eq!(
            bib("year = 2019, month = may, day = 2"),
            json!([2019, 5, 2])
        );
        assert_eq!(bib("year = 2019, month = {September}"), json!([2019, 9]));
        assert_eq!(bib("year = 2019, day = 2"), json!([2019]));
        assert_eq!(bib("year = 2019, month = {spring}"), json!([2019]));
        let ris = |date: &str| {
            let ris = format!(
                "TY  - NEWS\nID  - post2019\nAU  - Post, Una\nTI  - Lamps\nPY  - 2019\n{date}ER  - \n"
            );
            of("r.ris", &ris)
        };
        assert_eq!(ris("DA  - 2019/05/02/\n"), json!([2019, 5, 2]));
        assert_eq!(ris(""), json!([2019]));
        // Another year is the day of something else.
        assert_eq!(ris("DA  - 2021/05/02/\n"), json!([2019]));
        let json = r#"[{"id": "post2019", "type": "webpage", "title": "Lamps", "issued": {"date-parts": [[2019, 5, "2"]]}}]"#;
        assert_eq!(of("r.json", json), json!([2019, 5, 2]));
    }

    #[test]
    fn kinds_editors_and_dates() {
        let bib = "@collection{a, editor = {Bessamy, Ruel}, title = {After dark}, year = 2014}\n\
            @online{b, author = {{Friends of the Garden}}, title = {Moths}, year = {2022}, url = {https://x.example}, urldate = {2024-02-11}}\n\
            @phdthesis{c, author = {Lind, Eva}, title = {Nectar}, school = {Brenn}, year = {n.d.}}";
        let items = items("r.bib", bib);
        let of = |key: &str| items[&Key::new(key)].clone();
        assert_eq!(of("a")["type"], "book");
        assert!(of("a").get("author").is_none() && of("a")["editor"][0]["family"] == "Bessamy");
        assert_eq!(of("b")["type"], "webpage");
        assert_eq!(
            of("b")["author"],
            json!([{"literal": "Friends of the Garden"}])
        );
        assert_eq!(of("b")["accessed"], json!({"date-parts": [[2024, 2, 11]]}));
        assert_eq!(of("c")["type"], "thesis");
        assert_eq!(of("c")["publisher"], "Brenn");
        assert!(of("c").get("issued").is_none());
        for wrong in ["", "soon", "2024-13", "2024-01-32", "0", "2024-01-01-01"] {
            assert!(date_parts(wrong).is_empty(), "{wrong}");
        }
    }
}
