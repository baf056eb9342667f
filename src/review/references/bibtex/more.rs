//! What a BibTeX entry says beyond a reference, for formatting it.

use super::super::csl_items::{More, date_parts, month};
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
    "date",
    "year",
    "month",
    "day",
    "entrysubtype",
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
    let kind = match fields.text("entrysubtype").as_deref() {
        Some("newspaper") => Some("article-newspaper"),
        Some("magazine") => Some("article-magazine"),
        _ => kind(&fields.kind),
    };
    let number = fields.text("number");
    if matches!(
        kind,
        Some("article-journal" | "article-newspaper" | "article-magazine")
    ) {
        put("issue", number);
    } else {
        put("number", number);
    }
    if matches!(kind, Some("thesis" | "report")) {
        put("genre", fields.text("type").map(genre));
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
        issued: issued(fields),
        accessed: fields
            .text("urldate")
            .map(|date| date_parts(&date))
            .unwrap_or_default(),
    }
}

/// The day of publication: `date`, or `year` with `month` and `day`.
fn issued(fields: &Fields) -> Vec<i64> {
    if let Some(date) = fields.text("date") {
        return date_parts(&date);
    }
    let year = fields
        .text("year")
        .and_then(|year| year.trim().parse().ok());
    let month = fields.text("month").and_then(|written| month(&written));
    let day = fields.text("day").and_then(|day| day.trim().parse().ok());
    let parts: Vec<i64> = [year, month, day]
        .into_iter()
        .map_while(|part: Option<i64>| part)
        .collect();
    let written: Vec<String> = parts.iter().map(i64::to_string).collect();
    date_parts(&written.join("-"))
}

/// A type of work in words, where BibLaTeX has a name of its own for it.
fn genre(written: String) -> String {
    let words = match written.as_str() {
        "techreport" => "Technical report",
        "resreport" => "Research report",
        "phdthesis" => "Doctoral dissertation",
        "mathesis" | "mastersthesis" => "Master’s thesis",
        "bathesis" => "Bachelor’s thesis",
        "candthesis" => "Candidate’s thesis",
        _ => return written,
    };
    words.to_owned()
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
