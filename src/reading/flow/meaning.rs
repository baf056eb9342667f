//! What the hidden words of a document say about the visible ones: instructions of fields, tags of content
//! controls, names of marks and sections, names of styles.

use std::collections::BTreeMap;

use super::{Cluster, Role, base64};

/// What is said about a stretch of text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::reading) enum Meaning {
    /// A citation with its references.
    Citation(Cluster),
    /// The list of references.
    References,
    /// A table of contents or an index.
    Contents,
    /// Nothing that matters here.
    Plain,
}

impl Meaning {
    /// What an instruction or a name says.
    pub(in crate::reading) fn of_instruction(instruction: &str) -> Self {
        let instruction = instruction.trim();
        let name = instruction.split_whitespace().next().unwrap_or_default();
        match name.to_ascii_uppercase().as_str() {
            "BIBLIOGRAPHY" => return Self::References,
            "TOC" | "TOA" | "INDEX" => return Self::Contents,
            _ => {}
        }
        let of_csl = instruction
            .contains("CSL_CITATION")
            .then(|| Cluster::find(instruction));
        match of_csl.flatten() {
            Some(cluster) => Self::Citation(cluster),
            None if instruction.contains("CSL_BIBLIOGRAPHY") => Self::References,
            None => Self::Plain,
        }
    }

    /// What the tag of a content control says. Some tags hold a citation in Base64 after their name.
    pub(in crate::reading) fn of_tag(tag: &str) -> Self {
        let encoded = tag
            .match_indices('_')
            .filter_map(|(at, _)| tag.get(at + 1..))
            // A JSON object begins like this in Base64.
            .filter(|rest| rest.starts_with("ey"))
            .find_map(base64::decode);
        let cluster = encoded
            .and_then(|bytes| String::from_utf8(bytes).ok())
            .and_then(|json| Cluster::find(&json))
            .or_else(|| Cluster::find(tag));
        match cluster {
            Some(cluster) => Self::Citation(cluster),
            None if tag.to_ascii_uppercase().contains("BIBLIOGRAPHY") => Self::References,
            None => Self::Plain,
        }
    }

    /// What a paragraph inside such text is, whatever its style.
    pub(in crate::reading) fn role(&self) -> Option<Role> {
        match self {
            Self::References => Some(Role::Reference),
            Self::Contents => Some(Role::Contents),
            Self::Citation(_) | Self::Plain => None,
        }
    }
}

/// Citations kept in a document's properties, apart from the text: a bookmark around the visible form names
/// them. A value has room for 255 characters, so one citation is split over several, numbered from 1 after
/// the bookmark's name.
pub(in crate::reading) fn stored(
    properties: impl IntoIterator<Item = (String, String)>,
) -> BTreeMap<String, Meaning> {
    let mut pieces: BTreeMap<String, BTreeMap<u32, String>> = BTreeMap::new();
    for (name, value) in properties {
        if let Some((bookmark, number)) = name.rsplit_once('_')
            && let Ok(number) = number.parse()
        {
            let values = pieces.entry(bookmark.to_owned()).or_default();
            values.insert(number, value);
        }
    }
    pieces
        .into_iter()
        .map(|(bookmark, values)| {
            let whole: String = values.into_values().collect();
            (bookmark, Meaning::of_instruction(&whole))
        })
        .filter(|(_, meaning)| *meaning != Meaning::Plain)
        .collect()
}

/// What the name of a paragraph style says. Names of the word processors' own styles are tried first, then
/// words that writers choose.
pub(in crate::reading) fn role_of_style(name: &str) -> Option<Role> {
    let name: String = name
        .chars()
        .filter(|c| c.is_alphanumeric())
        .flat_map(char::to_lowercase)
        .collect();
    let heading = name.strip_prefix("heading");
    if let Some(level) = heading.or_else(|| name.strip_prefix("überschrift")) {
        let level = level.chars().next().and_then(|c| c.to_digit(10));
        // A digit fits.
        return level.map(|level| Role::Heading(level as u8));
    }
    let is = |names: &[&str]| names.contains(&name.as_str());
    let has = |words: &[&str]| words.iter().any(|word| name.contains(word));
    let numbered = |word: &str| {
        let rest = name.strip_prefix(word);
        rest.is_some_and(|rest| rest.chars().all(|c| c.is_ascii_digit()) && !rest.is_empty())
    };
    if is(&["title"]) {
        Some(Role::Heading(1))
    } else if is(&["subtitle", "tocheading"]) {
        Some(Role::Heading(2))
    } else if has(&["heading"]) {
        None
    } else if has(&["bibliograph", "literaturverz", "referencelist"]) {
        Some(Role::Reference)
    } else if ["toc", "contents", "index", "userindex", "illustrationindex"]
        .iter()
        .any(|word| numbered(word))
        || is(&["tableoffigures"])
    {
        Some(Role::Contents)
    } else if has(&["caption"]) || is(&["illustration", "drawing", "figure", "table"]) {
        Some(Role::Caption)
    } else if has(&["sourcecode", "preformatted", "macrotext"]) {
        Some(Role::Code)
    } else if has(&["quot", "blocktext", "extract", "zitat", "citaat"]) {
        Some(Role::Quotation)
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_styles_by_case() {
        let cases = [
            ("heading 1", Some(Role::Heading(1))),
            ("Heading3", Some(Role::Heading(3))),
            ("Title", Some(Role::Heading(1))),
            ("Intense Quote", Some(Role::Quotation)),
            ("Block Text", Some(Role::Quotation)),
            ("Long Quotation", Some(Role::Quotation)),
            ("Quotations", Some(Role::Quotation)),
            ("Bibliography", Some(Role::Reference)),
            ("Bibliography 1", Some(Role::Reference)),
            ("Bibliography Heading", None),
            ("Image Caption", Some(Role::Caption)),
            ("toc 2", Some(Role::Contents)),
            ("Contents 1", Some(Role::Contents)),
            ("Table Contents", None),
            ("Source Code", Some(Role::Code)),
            ("Body Text", None),
            ("Normal", None),
            ("Heading", None),
            ("", None),
        ];
        for (name, role) in cases {
            assert_eq!(role_of_style(name), role, "{name}");
        }
    }

    #[test]
    fn instructions_and_tags_by_case() {
        let item = r#"{"citationItems":[{"id":"harrow2014"}]}"#;
        let is_citation = |meaning: &Meaning| matches!(meaning, Meaning::Citation(_));
        assert!(is_citation(&Meaning::of_instruction(&format!(
            " ADDIN X CSL_CITATION {item} "
        ))));
        assert!(is_citation(&Meaning::of_tag(&format!("CITATION_{item}"))));
        // The same in Base64.
        let tag = "CITATION_v3_eyJjaXRhdGlvbkl0ZW1zIjpbeyJpZCI6ImhhcnJvdzIwMTQifV19";
        assert!(is_citation(&Meaning::of_tag(tag)));
        assert_eq!(Meaning::of_instruction("TOC \\o"), Meaning::Contents);
        assert_eq!(
            Meaning::of_instruction(" BIBLIOGRAPHY "),
            Meaning::References
        );
        assert_eq!(
            Meaning::of_instruction("ADDIN X {} CSL_BIBLIOGRAPHY"),
            Meaning::References
        );
        assert_eq!(Meaning::of_tag("X_BIBLIOGRAPHY"), Meaning::References);
        for plain in [
            "",
            "PAGE",
            "HYPERLINK \"x\"",
            "CSL_CITATION",
            "CSL_CITATION {",
        ] {
            assert_eq!(Meaning::of_instruction(plain), Meaning::Plain, "{plain}");
        }
    }

    #[test]
    fn stored_citations_are_put_together_in_order() {
        let part = |name: &str, value: &str| (name.to_owned(), value.to_owned());
        let properties = [
            part("Ref_a_2", r#"[{"id":"harrow2014"}]}"#),
            part("Ref_a_1", r#"CSL_CITATION {"citationItems":"#),
            part("Company", "none"),
            part("Ref_b_1", "none"),
        ];
        let stored = stored(properties);
        assert_eq!(stored.keys().collect::<Vec<_>>(), ["Ref_a"]);
    }
}
