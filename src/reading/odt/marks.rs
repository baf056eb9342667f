//! Marks of bibliography entries, which the word processor itself inserts: a citation with the fields of its
//! reference as attributes.

use serde_json::{Value, json};

use crate::reading::flow::{Cluster, Work};
use crate::reading::package::xml::Element;

/// The citation of a mark; `None` where it names no entry.
pub(super) fn cluster(element: &Element<'_>) -> Option<Cluster> {
    let field = |name: &str| element.get(name).filter(|value| !value.trim().is_empty());
    let key = field("identifier")?;
    let names = field("author").unwrap_or_default();
    let authors: Vec<Value> = names.split(';').filter_map(author).collect();
    let mut item = json!({
        "id": key,
        "citation-key": key,
        "type": kind(&field("bibliography-type").unwrap_or_default()),
        "author": authors,
    });
    let fields = [
        ("title", "title"),
        ("journal", "container-title"),
        ("booktitle", "container-title"),
        ("pages", "page"),
        ("publisher", "publisher"),
    ];
    if let Value::Object(object) = &mut item {
        for (attribute, name) in fields {
            if let Some(value) = field(attribute) {
                object.insert(name.to_owned(), Value::String(value));
            }
        }
        if let Some(year) = field("year") {
            object.insert("issued".to_owned(), json!({ "raw": year }));
        }
    }
    Some(Cluster {
        suppressed_author: false,
        works: vec![Work {
            key,
            item: Some(item.to_string()),
            prefix: None,
            locator: None,
        }],
    })
}

/// `Harrow, Anna` or `National Lighting Survey`.
fn author(name: &str) -> Option<Value> {
    let name = name.trim();
    match name.split_once(',') {
        Some((family, given)) => Some(json!({ "family": family.trim(), "given": given.trim() })),
        None if name.is_empty() => None,
        None => Some(json!({ "literal": name })),
    }
}

fn kind(written: &str) -> &'static str {
    match written {
        "article" => "article-journal",
        "book" | "booklet" => "book",
        "inbook" | "incollection" => "chapter",
        "inproceedings" | "conference" => "paper-conference",
        "phdthesis" | "mastersthesis" => "thesis",
        "techreport" => "report",
        _ => "document",
    }
}
