//! Citations that reference managers store in a document: a JSON object with the visible form and, for each
//! cited work, its reference as an item of CSL JSON, its locator and its prefix.

use serde_json::Value;

use crate::reading::CarriedReference;
use crate::text::{ByteRange, Cite, CiteTarget, Locator, LocatorUnit};

/// One citation of one or several works, as stored.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(in crate::reading) struct Cluster {
    /// Whether the author's name stands in the sentence instead.
    pub suppressed_author: bool,
    /// The works, in order.
    pub works: Vec<Work>,
}

/// One work of a [`Cluster`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::reading) struct Work {
    /// The key of its reference.
    pub key: String,
    /// The reference as CSL JSON, where the citation stores it.
    pub item: Option<String>,
    /// What precedes it: `see`.
    pub prefix: Option<String>,
    /// The page or other place.
    pub locator: Option<Locator>,
}

impl Cluster {
    /// Reads the citation in an instruction, a tag or a name. Other words may come before the object and
    /// after it. `None` where there is no such object or it cites nothing.
    pub(in crate::reading) fn find(text: &str) -> Option<Self> {
        let start = text.find('{')?;
        let objects = serde_json::Deserializer::from_str(text.get(start..)?);
        let object: Value = objects.into_iter().next()?.ok()?;
        let items = object.get("citationItems")?.as_array()?;
        let works: Vec<Work> = items.iter().filter_map(work).collect();
        let suppressed_author = items
            .iter()
            .any(|item| item.get("suppress-author") == Some(&Value::Bool(true)));
        (!works.is_empty()).then_some(Self {
            suppressed_author,
            works,
        })
    }

    /// The citations at a position of the Text.
    pub(super) fn cites(&self, range: ByteRange) -> Vec<Cite> {
        let cite = |work: &Work| Cite {
            range,
            target: CiteTarget::Key(work.key.clone()),
            prefix: work.prefix.clone(),
            locator: work.locator.clone(),
        };
        self.works.iter().map(cite).collect()
    }

    /// The references it stores.
    pub(super) fn carried(&self) -> impl Iterator<Item = CarriedReference> {
        self.works.iter().filter_map(|work| {
            Some(CarriedReference {
                key: work.key.clone(),
                csl_json: work.item.clone()?,
            })
        })
    }
}

fn work(item: &Value) -> Option<Work> {
    let data = item.get("itemData").filter(|data| data.is_object());
    let key = data.and_then(own_key).or_else(|| text(item, "id"))?;
    let label = text(item, "label");
    let locator = text(item, "locator").map(|written| locator(label.as_deref(), &written));
    let suffix = || locator_of_suffix(&text(item, "suffix")?);
    let locator = locator.or_else(suffix);
    Some(Work {
        item: data.map(|data| with_key(data, &key)),
        prefix: text(item, "prefix"),
        locator,
        key,
    })
}

/// The key that the writer gave a reference, else its id.
fn own_key(data: &Value) -> Option<String> {
    text(data, "citation-key").or_else(|| text(data, "id"))
}

/// The reference under the key that the citations use.
fn with_key(data: &Value, key: &str) -> String {
    let mut data = data.clone();
    if let Value::Object(fields) = &mut data {
        for name in ["id", "citation-key"] {
            fields.insert(name.to_owned(), Value::String(key.to_owned()));
        }
    }
    data.to_string()
}

fn text(value: &Value, name: &str) -> Option<String> {
    let text = match value.get(name)? {
        Value::String(text) => text.trim().to_owned(),
        Value::Number(number) => number.to_string(),
        _ => return None,
    };
    (!text.is_empty()).then_some(text)
}

/// A locator of CSL: its label is a term of the CSL specification, `page` where there is none.
pub(in crate::reading) fn locator(label: Option<&str>, written: &str) -> Locator {
    let (unit, word) = match label.unwrap_or("page") {
        "page" => (LocatorUnit::Page, "p."),
        "paragraph" => (LocatorUnit::Paragraph, "para."),
        "chapter" => (LocatorUnit::Chapter, "chap."),
        "section" => (LocatorUnit::Section, "sec."),
        other => (LocatorUnit::Other, other),
    };
    let read = Locator::parse(&format!("{word} {written}"))
        .or_else(|| Locator::parse(written))
        .filter(|read| read.unit == unit);
    read.unwrap_or_else(|| Locator {
        unit,
        stretches: vec![(written.to_owned(), written.to_owned())],
        written: format!("{word} {written}"),
    })
}

/// The locator at the start of a suffix, where writers type it if they leave its own field empty: `, p. 12`.
pub(in crate::reading) fn locator_of_suffix(suffix: &str) -> Option<Locator> {
    let suffix = suffix.trim_start_matches([',', ':', ';', ' ', '\u{A0}']);
    Locator::at_start(suffix)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stored_citation_is_read() {
        let stored = r#" ADDIN CSL_CITATION {"citationID":"x","citationItems":[
            {"id":7,"itemData":{"id":7,"type":"book","title":"Lamps"},"locator":"113-14","prefix":"see "},
            {"id":"b","itemData":{"id":"b","citation-key":"okoro2016"},"locator":"3","label":"chapter","suppress-author":true},
            {"id":"c","locator":"fig. 2","label":"figure"},
            {"id":"d","suffix":", pp. 3-4, emphasis added"}]} RNDab12"#;
        let cluster = Cluster::find(stored).expect("this is a citation");
        assert!(cluster.suppressed_author);
        let recorded: Vec<_> = cluster
            .cites(ByteRange::of(3, 9))
            .into_iter()
            .map(|cite| {
                let locator = cite.locator.unwrap();
                let CiteTarget::Key(key) = cite.target else {
                    panic!("cites go by key");
                };
                (key, locator.unit, locator.stretches, cite.prefix)
            })
            .collect();
        let stretch = |first: &str, last: &str| vec![(first.to_owned(), last.to_owned())];
        let see = Some("see".to_owned());
        assert_eq!(
            recorded,
            [
                (
                    "7".to_owned(),
                    LocatorUnit::Page,
                    stretch("113", "114"),
                    see
                ),
                (
                    "okoro2016".to_owned(),
                    LocatorUnit::Chapter,
                    stretch("3", "3"),
                    None
                ),
                ("c".to_owned(), LocatorUnit::Other, stretch("2", "2"), None),
                ("d".to_owned(), LocatorUnit::Page, stretch("3", "4"), None),
            ]
        );
        let carried: Vec<_> = cluster.carried().collect();
        assert_eq!(carried.len(), 2);
        assert!(carried[0].csl_json.contains(r#""id":"7""#), "{carried:?}");
    }

    #[test]
    fn other_instructions_are_none() {
        for text in [
            "",
            "PAGE",
            "{",
            "{}",
            r#"{"citationItems":[]}"#,
            r#"{"citationItems":[{}]}"#,
            "{é",
        ] {
            assert_eq!(Cluster::find(text), None, "{text}");
        }
    }
}
