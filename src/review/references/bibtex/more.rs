//! What a BibTeX entry says beyond a reference, for formatting it.

use super::super::csl_items::{More, date_parts};
use super::fields::Fields;

/// The fields that are read for it. Notes, abstracts and annotations are the writer's own and stay out.
pub(super) const MORE: &[&str] = &[
    "volume",
    "number",
    "issue",
    "publisher",
    "institution",
    "school",
    "organization",
    "location",
    "address",
    "edition",
    "series",
    "doi",
    "url",
    "urldate",
    "eventtitle",
    "type",
];

/// Fields of BibTeX and BibLaTeX and the variables of CSL that they are.
const TEXTS: &[(&str, &str)] = &[
    ("volume", "volume"),
    ("issue", "issue"),
    ("publisher", "publisher"),
    ("institution", "publisher"),
    ("school", "publisher"),
    ("organization", "publisher"),
    ("location", "publisher-place"),
    ("address", "publisher-place"),
    ("edition", "edition"),
    ("series", "collection-title"),
    ("doi", "DOI"),
    ("url", "URL"),
    ("eventtitle", "event-title"),
];

pub(super) fn of(fields: &Fields) -> More {
    let mut texts: Vec<(&'static str, String)> = Vec::new();
    let mut put = |name: &'static str, text: Option<String>| {
        if let Some(text) = text
            && texts.iter().all(|(there, _)| *there != name)
        {
            texts.push((name, text));
        }
    };
    for (field, variable) in TEXTS {
        put(variable, fields.text(field));
    }
    let kind = kind(&fields.kind);
    let number = fields.text("number");
    if kind == Some("article-journal") {
        put("issue", number);
    } else {
        put("number", number);
    }
    if matches!(kind, Some("thesis" | "report")) {
        put("genre", fields.text("type"));
    }
    let authors = fields.people("author");
    let editors = fields.people("editor");
    More {
        kind,
        edited: authors.is_none() && editors.is_some(),
        editors: match authors {
            Some(_) => editors.unwrap_or_default(),
            None => Vec::new(),
        },
        texts,
        accessed: fields
            .text("urldate")
            .map(|date| date_parts(&date))
            .unwrap_or_default(),
    }
}

fn kind(written: &str) -> Option<&'static str> {
    Some(match written {
        "article" | "suppperiodical" => "article-journal",
        "report" | "techreport" | "manual" => "report",
        "thesis" | "phdthesis" | "mastersthesis" => "thesis",
        "inproceedings" | "conference" => "paper-conference",
        "online" | "electronic" | "www" => "webpage",
        "unpublished" => "manuscript",
        "dataset" => "dataset",
        "software" => "software",
        _ => return None,
    })
}
