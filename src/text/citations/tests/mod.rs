//! What is a citation and what is not, as one table of cases a family of styles, and the promises
//! that hold for every text. All names and works are invented. Numbers of sections of published
//! rules are from memory.

mod brackets;
mod look_alikes;
mod names;
mod notes;
mod promises;

use super::{Citation, CitationForm, Cite, CiteTarget, citations};
use crate::text::Text;

/// Each case is a text and its citations in short form, see [`shown`].
#[track_caller]
fn check(cases: &[(&str, &str)]) {
    let wrong: Vec<String> = cases
        .iter()
        .filter_map(|(text, expected)| {
            let found = shown(&citations(&Text::paragraph(text)));
            (found != *expected).then(|| format!("{text}\n    found {found}\n    not   {expected}"))
        })
        .collect();
    assert!(wrong.is_empty(), "\n{}\n", wrong.join("\n"));
}

/// Citations in short form: `~` marks a narrative one, `key:`, `num:` and `page:` the family; `/`
/// stands between citations, `;` between cites; a cite is `prefix>names|year|locator`, where a `+`
/// stands for *et al.* and empty parts at the end are left out.
fn shown(citations: &[Citation]) -> String {
    let one = |citation: &Citation| {
        let narrative = if citation.narrative { "~" } else { "" };
        let family = match citation.form {
            CitationForm::AuthorYear => "",
            CitationForm::AuthorPage => "page:",
            CitationForm::Numbered => "num:",
            CitationForm::Key => "key:",
            CitationForm::Note => "note:",
        };
        let cites: Vec<String> = citation.cites.iter().map(shown_cite).collect();
        format!("{narrative}{family}{}", cites.join("; "))
    };
    let all: Vec<String> = citations.iter().map(one).collect();
    all.join(" / ")
}

fn shown_cite(cite: &Cite) -> String {
    let prefix = cite.prefix.as_ref().map(|prefix| format!("{prefix}>"));
    let locator = cite.locator.as_ref().map(ToString::to_string);
    let (target, year) = match &cite.target {
        CiteTarget::Author {
            names,
            initials,
            et_al,
            year,
        } => {
            let name = |(name, initials): (&String, &String)| {
                let blank = if initials.is_empty() { "" } else { " " };
                format!("{initials}{blank}{name}")
            };
            let names: Vec<String> = names.iter().zip(initials).map(name).collect();
            let others = if *et_al { "+" } else { "" };
            let year = year.as_ref().map(|year| match year.number {
                Some(number) if !year.written.starts_with(&number.to_string()) => {
                    format!("{}={number}", year.written)
                }
                _ => year.written.clone(),
            });
            (format!("{}{others}", names.join("&")), year)
        }
        CiteTarget::Work {
            names,
            et_al,
            title,
            year,
            ..
        } => (
            format!(
                "{}{}, {title}",
                names.join("&"),
                if *et_al { "+" } else { "" }
            ),
            year.as_ref().map(|year| year.written.clone()),
        ),
        CiteTarget::Key(key) => (key.clone(), None),
        CiteTarget::Number(number) => (number.to_string(), None),
    };
    let parts = [
        target,
        year.unwrap_or_default(),
        locator.unwrap_or_default(),
    ];
    let parts = parts.join("|");
    format!(
        "{}{}",
        prefix.unwrap_or_default(),
        parts.trim_end_matches('|')
    )
}
