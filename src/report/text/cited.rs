//! What a citation was taken to mean, in words.

use crate::report::english::listed;
use crate::text::{Cite, CiteTarget, Locator, LocatorUnit, Year};

/// What a cite was taken to mean: `Harrow and Okoro, 2019, pages 3, 7-9`.
pub(super) fn meaning(cite: &Cite) -> String {
    let mut said = match &cite.target {
        CiteTarget::Work {
            names,
            initials,
            et_al,
            title,
            year,
        } => {
            let who = authors(names, initials, *et_al, year.as_ref());
            format!("{who}, \"{title}\"")
        }
        CiteTarget::Key(key) => format!("key {key}"),
        CiteTarget::Number(number) => format!("number {number} of the list"),
        CiteTarget::Author {
            names,
            initials,
            et_al,
            year,
        } => authors(names, initials, *et_al, year.as_ref()),
    };
    if let Some(locator) = &cite.locator {
        said.push_str(&format!(", {}", place(locator)));
    }
    match &cite.prefix {
        Some(prefix) => format!("\"{}\" {said}", prefix.trim()),
        None => said,
    }
}

fn authors(names: &[String], initials: &[String], et_al: bool, year: Option<&Year>) -> String {
    let mut said = listed(&with_initials(names, initials));
    if et_al {
        said.push_str(" and others");
    }
    if let Some(year) = year {
        said.push_str(&format!(", {}", year.written));
    }
    said
}

fn with_initials(names: &[String], initials: &[String]) -> Vec<String> {
    let initials = initials.iter().map(String::as_str);
    names
        .iter()
        .zip(initials.chain(std::iter::repeat("")))
        .map(|(name, initials)| format!("{initials} {name}").trim().to_owned())
        .collect()
}

fn place(locator: &Locator) -> String {
    let one = matches!(locator.stretches.as_slice(), [(first, last)] if first == last);
    let unit = match (locator.unit, one) {
        (LocatorUnit::Page, true) => "page",
        (LocatorUnit::Page, false) => "pages",
        (LocatorUnit::Paragraph, true) => "paragraph",
        (LocatorUnit::Paragraph, false) => "paragraphs",
        (LocatorUnit::Chapter, true) => "chapter",
        (LocatorUnit::Chapter, false) => "chapters",
        (LocatorUnit::Section, true) => "section",
        (LocatorUnit::Section, false) => "sections",
        (LocatorUnit::Other, _) => return format!("place {}", locator.written),
    };
    let stretches = locator.stretches.iter().map(|(first, last)| {
        if first == last {
            first.clone()
        } else {
            format!("{first}-{last}")
        }
    });
    format!("{unit} {}", stretches.collect::<Vec<_>>().join(", "))
}
