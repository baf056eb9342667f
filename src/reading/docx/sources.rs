//! Word's own citations: fields such as `CITATION Har14 \p 12 \m Oko16` (ISO/IEC 29500-1, 17.16.5.5) and the
//! sources they name, which the package keeps in a part of custom XML (22.6).

use std::collections::BTreeMap;

use serde_json::{Map, Value, json};

use super::Related;
use crate::reading::Unreadable;
use crate::reading::flow::{Cluster, Work, locator, locator_of_suffix};
use crate::reading::package::Package;
use crate::reading::package::xml::{Node, Space, Xml};

/// Text that a part with sources holds near its beginning: the last words of the namespace, transitional or
/// strict.
const NAMESPACE: &str = "/bibliography";

/// The sources stored in a document, by tag, each as an item of CSL JSON.
#[derive(Debug, Default)]
pub(super) struct Sources(BTreeMap<String, Value>);

impl Sources {
    /// Finds the sources among the parts that the document refers to. Custom XML may be anything, so a part
    /// that can't be read holds no sources.
    pub(super) fn find(package: &mut Package, related: &Related) -> Self {
        let mut found = BTreeMap::new();
        for name in related.all("customXml") {
            if let Ok(Some(content)) = package.part(name)
                && content.contains(NAMESPACE)
                && let Ok(sources) = sources(name, &content)
            {
                found.extend(sources);
            }
        }
        Self(found)
    }

    /// The citation in the instruction of a field; `None` where it is another field.
    pub(super) fn cluster(&self, instruction: &str) -> Option<Cluster> {
        let mut words = words(instruction).into_iter();
        if !words.next()?.eq_ignore_ascii_case("CITATION") {
            return None;
        }
        let mut suppressed_author = false;
        let mut works = vec![self.work(&words.next()?)];
        while let Some(word) = words.next() {
            let mut switch = word.strip_prefix('\\').unwrap_or_default().chars();
            let Some(name) = switch.next().map(|name| name.to_ascii_lowercase()) else {
                continue;
            };
            // The value of a switch may follow without a blank.
            let mut value = || match switch.as_str() {
                "" => words.next(),
                value => Some(value.to_owned()),
            };
            match name {
                'n' => suppressed_author = true,
                'm' => works.extend(value().map(|tag| self.work(&tag))),
                'f' | 'l' | 'p' | 's' | 'v' => {
                    // Switches belong to the work named last.
                    if let (Some(work), Some(value)) = (works.last_mut(), value()) {
                        set(work, name, &value);
                    }
                }
                _ => {}
            }
        }
        Some(Cluster {
            suppressed_author,
            works,
        })
    }

    fn work(&self, tag: &str) -> Work {
        Work {
            key: tag.to_owned(),
            item: self.0.get(tag).map(Value::to_string),
            prefix: None,
            locator: None,
        }
    }
}

/// What a switch says about a work. Language and volume are not locators.
fn set(work: &mut Work, switch: char, value: &str) {
    let value = value.trim();
    if value.is_empty() {
        return;
    }
    match switch {
        'f' => work.prefix = Some(value.to_owned()),
        'p' => work.locator = Some(locator(None, value)),
        's' if work.locator.is_none() => work.locator = locator_of_suffix(value),
        _ => {}
    }
}

/// The words of an instruction. Text in quotation marks is one word, with `\"` and `\\` for the signs
/// themselves.
fn words(instruction: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut rest = instruction.chars().peekable();
    while let Some(first) = rest.next() {
        if first.is_whitespace() {
            continue;
        }
        let mut word = String::new();
        if is_mark(first) {
            while let Some(next) = rest.next() {
                match next {
                    '\\' => word.extend(rest.next()),
                    next if is_mark(next) => break,
                    next => word.push(next),
                }
            }
        } else {
            word.push(first);
            while let Some(next) = rest.next_if(|next| !next.is_whitespace() && !is_mark(*next)) {
                word.push(next);
            }
        }
        words.push(word);
    }
    words
}

/// Typed quotation marks may have become curly ones.
fn is_mark(c: char) -> bool {
    matches!(c, '"' | '“' | '”')
}

/// The sources in a part, by tag.
fn sources(part: &str, content: &str) -> Result<Vec<(String, Value)>, Unreadable> {
    let mut xml = Xml::new(part, content);
    let mut found = Vec::new();
    loop {
        match xml.next()? {
            Node::End => return Ok(found),
            Node::Open { name, .. }
                if name.space == Space::Bibliography && name.local == "Source" =>
            {
                let source = Source::read(&mut xml)?;
                if let Some(tag) = source.field("Tag") {
                    found.push((tag.to_owned(), source.item(tag)));
                }
            }
            _ => {}
        }
    }
}

/// A source as written.
#[derive(Debug, Default)]
struct Source {
    fields: BTreeMap<String, String>,
    /// Persons and groups by their role.
    people: BTreeMap<String, Vec<Value>>,
}

impl Source {
    /// Reads the rest of `b:Source`.
    fn read(xml: &mut Xml<'_>) -> Result<Self, Unreadable> {
        let mut source = Self::default();
        let mut role = String::new();
        let depth = xml.depth();
        while xml.depth() >= depth {
            let Node::Open { name, .. } = xml.next()? else {
                continue;
            };
            match (xml.depth() - depth, name.local) {
                // Everybody who had a part in the work; each role is an element of its own.
                (1, "Author") => {}
                (1, field) => {
                    let text = xml.text()?.trim().to_owned();
                    source.fields.entry(field.to_owned()).or_insert(text);
                }
                (2, name) => name.clone_into(&mut role),
                (_, "Person") => {
                    let person = person(xml)?;
                    source.people.entry(role.clone()).or_default().push(person);
                }
                (_, "Corporate") => {
                    let group = json!({ "literal": xml.text()?.trim() });
                    source.people.entry(role.clone()).or_default().push(group);
                }
                _ => {}
            }
        }
        Ok(source)
    }

    fn field(&self, name: &str) -> Option<&str> {
        let value = self.fields.get(name)?;
        (!value.is_empty()).then_some(value.as_str())
    }

    /// The source as CSL JSON.
    fn item(&self, tag: &str) -> Value {
        let texts = [
            ("title", &["Title"][..]),
            (
                "container-title",
                &[
                    "JournalName",
                    "BookTitle",
                    "PeriodicalTitle",
                    "ConferenceName",
                    "InternetSiteTitle",
                ],
            ),
            ("page", &["Pages"]),
            ("volume", &["Volume"]),
            ("issue", &["Issue"]),
            ("publisher", &["Publisher", "Institution"]),
            ("publisher-place", &["City"]),
            ("URL", &["URL"]),
            // In older documents, which had no field for it, it stands among the standard numbers.
            ("DOI", &["DOI", "StandardNumber"]),
        ];
        let mut item = Map::new();
        for name in ["id", "citation-key"] {
            item.insert(name.to_owned(), json!(tag));
        }
        let kind = kind(self.field("SourceType").unwrap_or_default());
        item.insert("type".to_owned(), json!(kind));
        for (name, fields) in texts {
            let mut texts = fields.iter().filter_map(|field| self.field(field));
            if let Some(text) = texts.find(|text| name != "DOI" || text.contains("10.")) {
                item.insert(name.to_owned(), json!(text));
            }
        }
        if let Some(year) = self.field("Year") {
            item.insert("issued".to_owned(), json!({ "raw": year }));
        }
        for (role, name) in [("Author", "author"), ("Editor", "editor")] {
            if let Some(people) = self.people.get(role) {
                item.insert(name.to_owned(), json!(people));
            }
        }
        Value::Object(item)
    }
}

/// Reads the rest of `b:Person`.
fn person(xml: &mut Xml<'_>) -> Result<Value, Unreadable> {
    let mut parts: BTreeMap<&str, String> = BTreeMap::new();
    let depth = xml.depth();
    while xml.depth() >= depth {
        if let Node::Open { name, .. } = xml.next()?
            && let Some(part) = ["Last", "First", "Middle"]
                .into_iter()
                .find(|part| *part == name.local)
        {
            parts.insert(part, xml.text()?.trim().to_owned());
        }
    }
    let part = |name: &str| parts.get(name).map_or("", String::as_str);
    let given = format!("{} {}", part("First"), part("Middle"));
    Ok(json!({ "family": part("Last"), "given": given.trim() }))
}

fn kind(written: &str) -> &'static str {
    match written {
        "Book" => "book",
        "BookSection" => "chapter",
        "JournalArticle" => "article-journal",
        "ArticleInAPeriodical" => "article-magazine",
        "ConferenceProceedings" => "paper-conference",
        "Report" => "report",
        "InternetSite" | "DocumentFromInternetSite" | "ElectronicSource" => "webpage",
        _ => "document",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PART: &str = r#"<b:Sources xmlns:b="http://schemas.openxmlformats.org/officeDocument/2006/bibliography" SelectedStyle="\APA.XSL">
        <b:Source><b:Tag>Har14</b:Tag><b:SourceType>JournalArticle</b:SourceType><b:Guid>{1}</b:Guid>
          <b:Author><b:Author><b:NameList><b:Person><b:Last>Harrow</b:Last><b:First>Anna</b:First><b:Middle>M.</b:Middle></b:Person>
            <b:Person><b:Last>Okoro</b:Last><b:First>Ben</b:First></b:Person></b:NameList></b:Author>
            <b:Editor><b:NameList><b:Person><b:Last>Lind</b:Last></b:Person></b:NameList></b:Editor></b:Author>
          <b:Title>Lamps &amp; moths</b:Title><b:JournalName>Night Ecology</b:JournalName><b:Year>2014</b:Year><b:Pages>113-129</b:Pages>
          <b:StandardNumber>10.1234/ab</b:StandardNumber></b:Source>
        <b:Source><b:Tag>Sur20</b:Tag><b:SourceType>Report</b:SourceType><b:Author><b:Author><b:Corporate>National Lighting Survey</b:Corporate></b:Author></b:Author>
          <b:Title>Streets</b:Title><b:Year>2020</b:Year></b:Source>
        <b:Source><b:Title>Without a tag</b:Title></b:Source></b:Sources>"#;

    fn all() -> Sources {
        let found = sources("customXml/item1.xml", PART).unwrap();
        Sources(found.into_iter().collect())
    }

    #[test]
    fn sources_become_references() {
        let Sources(found) = all();
        assert_eq!(found.keys().collect::<Vec<_>>(), ["Har14", "Sur20"]);
        assert_eq!(
            found["Har14"],
            json!({
                "id": "Har14", "citation-key": "Har14", "type": "article-journal", "title": "Lamps & moths",
                "container-title": "Night Ecology", "page": "113-129", "DOI": "10.1234/ab", "issued": {"raw": "2014"},
                "author": [{"family": "Harrow", "given": "Anna M."}, {"family": "Okoro", "given": "Ben"}],
                "editor": [{"family": "Lind", "given": ""}],
            })
        );
        assert_eq!(
            found["Sur20"]["author"],
            json!([{"literal": "National Lighting Survey"}])
        );
    }

    /// A cluster in brief: `key prefix locator` of each work, `-` before all where the author is left out.
    fn brief(instruction: &str) -> Option<String> {
        let cluster = all().cluster(instruction)?;
        let work = |work: &Work| {
            let prefix = work.prefix.as_deref().unwrap_or("_");
            let locator = work.locator.as_ref();
            let locator = locator.map_or("_", |locator| locator.written.as_str());
            let known = if work.item.is_some() { "" } else { "?" };
            format!("{known}{} {prefix} {locator}", work.key)
        };
        let works: Vec<String> = cluster.works.iter().map(work).collect();
        let sign = if cluster.suppressed_author { "-" } else { "" };
        Some(format!("{sign}{}", works.join("; ")))
    }

    #[test]
    fn instructions_by_case() {
        for (instruction, expected) in [
            ("CITATION Har14 \\l 1033 ", "Har14 _ _"),
            (" citation Har14 \\p 12 \\l 1033", "Har14 _ p. 12"),
            (
                "CITATION Har14 \\p \"113-14\" \\n \\t",
                "-Har14 _ p. 113-14",
            ),
            (
                "CITATION Har14 \\f \"see \\\"there\\\" \" \\p 3 \\m Sur20 \\p “7” \\f also",
                "Har14 see \"there\" p. 3; Sur20 also p. 7",
            ),
            (
                "CITATION \"Har14\" \\s \", p. 12, emphasis added\"",
                "Har14 _ p. 12",
            ),
            ("CITATION Har14 \\s \", emphasis added\"", "Har14 _ _"),
            ("CITATION Har14 \\v 3 \\p 5 \\s \", p. 9\"", "Har14 _ p. 5"),
            ("CITATION Har14 \\p12 \\mSur20", "Har14 _ p. 12; Sur20 _ _"),
            ("CITATION Har14 \\p", "Har14 _ _"),
            ("CITATION Har14 \\p \"12", "Har14 _ p. 12"),
            ("CITATION Unk01", "?Unk01 _ _"),
        ] {
            assert_eq!(
                brief(instruction).as_deref(),
                Some(expected),
                "{instruction}"
            );
        }
        for other in ["", "CITATION", "BIBLIOGRAPHY", "PAGE Har14"] {
            assert_eq!(brief(other), None, "{other}");
        }
    }

    proptest::proptest! {
        #[test]
        fn any_instruction_is_read_without_panic(instruction in "CITATION( |\\\\[a-z]|\"|“|é|Har14|\\\\|12){0,12}") {
            let _ = brief(&instruction);
        }
    }
}
