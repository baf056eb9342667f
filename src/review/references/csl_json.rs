//! CSL JSON: a list of items, an object that holds one under `items`, or a single item.
//!
//! Read from `serde_json` values rather than through a crate's item type: the one at hand
//! (`citationberg::json`) refuses a whole item over a date such as `{"literal": "2019a"}`, a year written
//! `"2019a"` or a `custom` object, all of which exporters write.

use serde_json::Value;

use super::csl_items::{More, date_parts};
use super::files::{FileRead, Found, Problem, pages};
use super::letters::{letter_of_key, year_and_letter};
use super::surrogates::mended;
use super::{Doi, Key, Person, Reference, ReferenceKind};

/// Reads a CSL JSON file. All its references are reported as standing on line 1: JSON positions are lost in
/// parsing.
pub(super) fn read(source: &str) -> FileRead {
    let mut read = FileRead::default();
    let parsed = serde_json::from_str(source).or_else(|error| {
        let Some((mended, problem)) = mended(source) else {
            return Err(error);
        };
        read.problems.push(problem);
        serde_json::from_str(&mended)
    });
    let document: Value = match parsed {
        Ok(document) => document,
        Err(error) => {
            read.problems.push(Problem {
                line: error.line(),
                why: format!("this is no JSON ({error}); export the references as CSL JSON again"),
            });
            return read;
        }
    };
    let items = match &document {
        Value::Array(items) => items.as_slice(),
        Value::Object(object) => match object.get("items") {
            Some(Value::Array(items)) => items.as_slice(),
            _ => std::slice::from_ref(&document),
        },
        _ => &[],
    };
    if items.is_empty() && document != Value::Array(Vec::new()) {
        read.problems.push(Problem {
            line: 1,
            why: "this JSON holds no list of references; export them as CSL JSON".to_owned(),
        });
    }
    for (position, item) in items.iter().enumerate() {
        match reference(item) {
            Some(reference) => read.found.push(Found {
                reference,
                line: 1,
                more: more(item),
            }),
            None => read.problems.push(Problem {
                line: 1,
                why: format!(
                    "reference number {} has no id and was left out; give it one",
                    position + 1
                ),
            }),
        }
    }
    read
}

fn reference(item: &Value) -> Option<Reference> {
    let key = key(item)?;
    let (year, letter) = issued(item.get("issued"));
    let given = text(item, "year-suffix").and_then(|written| {
        let letter = written.chars().next()?;
        letter
            .is_ascii_alphabetic()
            .then_some(letter.to_ascii_lowercase())
    });
    Some(Reference {
        kind: kind(text(item, "type").unwrap_or_default().as_str()),
        authors: people(item, "author")
            .or_else(|| people(item, "editor"))
            .unwrap_or_default(),
        year,
        suffix: letter.or(given).or_else(|| letter_of_key(&key, year)),
        title: text(item, "title")
            .map(|title| without_tags(&title))
            .unwrap_or_default(),
        container: text(item, "container-title").map(|title| without_tags(&title)),
        pages: text(item, "page").and_then(|written| pages(&written)),
        doi: text(item, "DOI")
            .and_then(|written| Doi::parse(&written))
            .or_else(|| Doi::of_address(&text(item, "URL")?)),
        files: Vec::new(),
        key: Key::new(&key),
    })
}

/// The variables that are taken over as they stand; others are numbers or texts of the writer's own.
const TEXTS: [&str; 15] = [
    "volume",
    "issue",
    "number",
    "publisher",
    "publisher-place",
    "edition",
    "collection-title",
    "collection-number",
    "DOI",
    "URL",
    "genre",
    "event-title",
    "event-place",
    "medium",
    "archive",
];

/// Types that say more than a [`ReferenceKind`].
const KINDS: [&str; 11] = [
    "article-newspaper",
    "article-magazine",
    "report",
    "thesis",
    "paper-conference",
    "webpage",
    "post-weblog",
    "manuscript",
    "dataset",
    "software",
    "review",
];

/// What an item says beyond a reference.
fn more(item: &Value) -> More {
    let kind = text(item, "type").unwrap_or_default();
    let has_authors = people(item, "author").is_some();
    let editors = people(item, "editor").unwrap_or_default();
    let part = |part: &Value| {
        part.as_i64()
            .map(|number| number.to_string())
            .or(part.as_str().map(str::to_owned))
    };
    let day = |name: &str| {
        let parts = item.pointer(&format!("/{name}/date-parts/0"));
        let parts = parts.and_then(Value::as_array).map(Vec::as_slice);
        let parts: Vec<String> = parts.unwrap_or_default().iter().filter_map(part).collect();
        date_parts(&parts.join("-"))
    };
    More {
        kind: KINDS.into_iter().find(|name| *name == kind),
        edited: !has_authors && !editors.is_empty(),
        editors: if has_authors { editors } else { Vec::new() },
        texts: TEXTS
            .into_iter()
            .filter_map(|name| Some((name, without_tags(&text(item, name)?))))
            .collect(),
        issued: day("issued"),
        accessed: day("accessed"),
    }
}

/// The key a writer cites: `citation-key` where the exporter gives it, or a line `Citation Key: ...` in
/// the note, else the id.
fn key(item: &Value) -> Option<String> {
    let noted = || {
        let note = text(item, "note")?;
        let line = note
            .lines()
            .find_map(|line| line.trim().strip_prefix("Citation Key:"))?;
        Some(line.trim().to_owned())
    };
    text(item, "citation-key")
        .or_else(noted)
        .or_else(|| text(item, "id"))
}

/// A field as text; numbers count as text, empty text as none.
fn text(item: &Value, name: &str) -> Option<String> {
    let text = match item.get(name)? {
        Value::String(text) => text.trim().to_owned(),
        Value::Number(number) => number.to_string(),
        _ => return None,
    };
    (!text.is_empty()).then_some(text)
}

fn issued(date: Option<&Value>) -> (Option<i32>, Option<char>) {
    let Some(date) = date else {
        return (None, None);
    };
    let part = |value: &Value| match value {
        Value::Number(number) => {
            let year = number.as_i64().and_then(|year| i32::try_from(year).ok());
            Some((year, None)).filter(|(year, _)| year.is_some())
        }
        Value::String(written) => Some(year_and_letter(written)).filter(|(year, _)| year.is_some()),
        _ => None,
    };
    date.pointer("/date-parts/0/0")
        .and_then(part)
        .or_else(|| {
            ["raw", "literal"]
                .iter()
                .find_map(|name| part(date.get(name)?))
        })
        .or_else(|| part(date))
        .unwrap_or_default()
}

fn people(item: &Value, role: &str) -> Option<Vec<Person>> {
    let people: Vec<Person> = item
        .get(role)?
        .as_array()?
        .iter()
        .filter_map(person)
        .collect();
    (!people.is_empty()).then_some(people)
}

fn person(name: &Value) -> Option<Person> {
    if let Some(literal) = text(name, "literal") {
        return Some(Person {
            family: literal,
            given: String::new(),
        });
    }
    let particles = ["dropping-particle", "non-dropping-particle", "family"];
    let family: Vec<String> = particles
        .iter()
        .filter_map(|part| text(name, part))
        .collect();
    let given = text(name, "given").unwrap_or_default();
    match family.is_empty() {
        false => Some(Person {
            family: family.join(" "),
            given,
        }),
        true if !given.is_empty() => Some(Person {
            family: given,
            given: String::new(),
        }),
        true => None,
    }
}

/// Text without the few HTML tags that CSL JSON allows.
fn without_tags(text: &str) -> String {
    let mut out = text.to_owned();
    for tag in ["i", "b", "sub", "sup", "sc", "span"] {
        out = out
            .replace(&format!("<{tag}>"), "")
            .replace(&format!("</{tag}>"), "");
    }
    while let Some(start) = out.find("<span ")
        && let Some(length) = out.get(start..).and_then(|rest| rest.find('>'))
    {
        // both ends are ASCII characters of `out`
        out.replace_range(start..=start + length, "");
    }
    out
}

fn kind(written: &str) -> ReferenceKind {
    match written {
        "article" | "article-journal" | "article-magazine" | "article-newspaper" => {
            ReferenceKind::Article
        }
        "book" | "report" | "thesis" => ReferenceKind::Book,
        "chapter" | "paper-conference" | "entry" | "entry-dictionary" | "entry-encyclopedia" => {
            ReferenceKind::Chapter
        }
        _ => ReferenceKind::Other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn only(item: &str) -> Reference {
        let mut read = read(&format!("[{item}]"));
        assert_eq!((read.found.len(), read.problems.len()), (1, 0), "{item}");
        read.found.remove(0).reference
    }

    #[test]
    fn an_item_is_read() {
        let chapter = only(
            r#"{"id": "harrow2014", "type": "chapter", "title": "Moths at the <i>lamp</i><span class=\"nocase\"> pole</span>",
            "author": [{"family": "Berg", "non-dropping-particle": "van der", "given": "Jo"}, {"literal": "National Lighting Survey"}],
            "container-title": "After dark", "issued": {"date-parts": [["2014", 5]]}, "page": "113-29", "custom": {"x": [1.5]}}"#,
        );
        assert_eq!(chapter.key.as_str(), "harrow2014");
        assert_eq!(chapter.kind, ReferenceKind::Chapter);
        assert_eq!(chapter.title, "Moths at the lamp pole");
        assert_eq!(
            chapter.name(),
            "van der Berg & National Lighting Survey (2014)"
        );
        assert_eq!(chapter.pages, Some(("113".into(), "29".into())));
    }

    #[test]
    fn dates_and_keys_come_in_many_forms() {
        let cases = [
            (
                r#""id": 7, "issued": {"date-parts": [[2019, 1, 2]]}"#,
                "7",
                "2019",
            ),
            (r#""id": "a", "issued": {"literal": "2019a"}"#, "a", "2019a"),
            (r#""id": "a", "issued": {"raw": "2019-03-01"}"#, "a", "2019"),
            (r#""id": "a", "issued": "2019""#, "a", "2019"),
            (r#""id": "a", "issued": {"date-parts": [[]]}"#, "a", "n.d."),
            (
                r#""id": "a", "issued": {"date-parts": [[2019]]}, "year-suffix": "c""#,
                "a",
                "2019c",
            ),
            (
                r#""id": "a2019b", "issued": {"date-parts": [[2019]]}"#,
                "a2019b",
                "2019b",
            ),
            (
                r#""id": "http://x.example/1", "citation-key": "lind2016""#,
                "lind2016",
                "n.d.",
            ),
            (
                r#""id": "x1", "note": "read\nCitation Key: lind2016""#,
                "lind2016",
                "n.d.",
            ),
        ];
        for (item, key, dated) in cases {
            let found = only(&format!("{{{item}}}"));
            assert_eq!(
                (found.key.as_str(), found.dated().as_str()),
                (key, dated),
                "{item}"
            );
        }
    }

    #[test]
    fn what_cannot_be_read_is_reported() {
        for source in ["", "[1", "7", r#"[{"title": "no id"}]"#, "{}"] {
            let read = read(source);
            assert_eq!((read.found.len(), read.problems.len()), (0, 1), "{source}");
        }
        assert_eq!(read(r#"{"items": [{"id": "a"}]}"#).found.len(), 1);
    }

    #[test]
    fn half_a_character_loses_no_other_reference() {
        let read =
            read(r#"[{"id": "a"}, {"id": "b", "title": "Moths \ud83c at the lamp"}, {"id": "c"}]"#);
        let keys: Vec<&str> = read
            .found
            .iter()
            .map(|found| found.reference.key.as_str())
            .collect();
        assert_eq!(keys, ["a", "b", "c"]);
        assert_eq!(read.found[1].reference.title, "Moths \u{FFFD} at the lamp");
        assert_eq!(read.problems.len(), 1);
        assert!(
            read.problems[0].why.contains("half of a character"),
            "{:?}",
            read.problems
        );
    }

    proptest::proptest! {
        #[test]
        fn any_text_is_read_without_panic(source in "\\PC*|(\\[|\\]|\\{|\\}|,|:|\"id\"|\"issued\"|\"date-parts\"|\"author\"|\"<span é>\"|[0-9]{1,5}){0,20}") {
            let _ = read(&source);
        }

        #[test]
        fn any_title_is_freed_of_tags_without_panic(title in "(<span |<i>|>|é|</span>|x){0,12}") {
            let _ = without_tags(&title);
        }
    }
}
