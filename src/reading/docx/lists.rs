//! The lists of a Word document (`numbering.xml`): which of their levels are numbered with figures, as lists
//! of references are.
//!
//! A list follows a pattern, level by level, and may override levels. A pattern may refer to a style, whose
//! pattern is then used instead.

use std::collections::{BTreeMap, BTreeSet};

use crate::reading::Unreadable;
use crate::reading::package::xml::{Node, Xml};

/// The levels of all lists that are numbered with figures, by the list's name and the level from 0.
#[derive(Debug, Default)]
pub(super) struct Lists(BTreeSet<(String, u8)>);

/// A pattern or list as written: for each level that it sets, whether the level has figures.
#[derive(Debug, Default)]
struct Written {
    levels: BTreeMap<u8, bool>,
    /// The pattern of a list.
    pattern: Option<String>,
    /// The style whose pattern is used instead of this one.
    follows: Option<String>,
    /// The style whose pattern this is.
    style: Option<String>,
}

impl Lists {
    /// Reads `numbering.xml`.
    pub(super) fn read(part: &str, content: &str) -> Result<Self, Unreadable> {
        let mut xml = Xml::new(part, content);
        let mut patterns: BTreeMap<String, Written> = BTreeMap::new();
        let mut lists: BTreeMap<String, Written> = BTreeMap::new();
        loop {
            match xml.next()? {
                Node::End => break,
                Node::Open { name, element, .. } => match name.word() {
                    "abstractNum" => {
                        let id = element.get("abstractNumId").unwrap_or_default();
                        patterns.insert(id, written(&mut xml)?);
                    }
                    "num" => {
                        let id = element.get("numId").unwrap_or_default();
                        lists.insert(id, written(&mut xml)?);
                    }
                    _ => {}
                },
                _ => {}
            }
        }
        let of_style = |style: &String| {
            let mut all = patterns.values();
            all.find(|pattern| pattern.style.as_ref() == Some(style))
        };
        let mut found = BTreeSet::new();
        for (id, list) in &lists {
            let pattern = list.pattern.as_ref().and_then(|id| patterns.get(id));
            let followed = pattern.and_then(|pattern| pattern.follows.as_ref());
            let pattern = followed.and_then(of_style).or(pattern);
            let mut levels = pattern.map_or_else(BTreeMap::new, |pattern| pattern.levels.clone());
            levels.extend(&list.levels);
            let figures = levels.into_iter().filter(|(_, figures)| *figures);
            found.extend(figures.map(|(level, _)| (id.clone(), level)));
        }
        Ok(Self(found))
    }

    /// Whether a level of a list is numbered with figures.
    pub(super) fn has_figures(&self, list: &str, level: u8) -> bool {
        self.0.contains(&(list.to_owned(), level))
    }
}

/// Reads the rest of a pattern or list.
fn written(xml: &mut Xml<'_>) -> Result<Written, Unreadable> {
    let mut found = Written::default();
    let depth = xml.depth();
    while xml.depth() >= depth {
        let Node::Open { name, element, .. } = xml.next()? else {
            continue;
        };
        let value = element.get("val");
        match name.word() {
            "abstractNumId" => found.pattern = value,
            "numStyleLink" => found.follows = value,
            "styleLink" => found.style = value,
            "lvl" => {
                let level = element.get("ilvl").and_then(|level| level.parse().ok());
                found
                    .levels
                    .insert(level.unwrap_or_default(), has_figures(xml)?);
            }
            _ => {}
        }
    }
    Ok(found)
}

/// Reads the rest of a level and returns whether it is numbered with figures.
fn has_figures(xml: &mut Xml<'_>) -> Result<bool, Unreadable> {
    // Word writes figures where no format is named.
    let (mut figures, mut shown) = (true, true);
    let depth = xml.depth();
    while xml.depth() >= depth {
        if let Node::Open { name, element, .. } = xml.next()? {
            let value = element.get("val").unwrap_or_default();
            match name.word() {
                "numFmt" => figures = value.starts_with("decimal"),
                // `%1` stands for the number.
                "lvlText" => shown = value.contains('%'),
                _ => {}
            }
        }
    }
    Ok(figures && shown)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn levels_by_pattern_style_and_override() {
        let level = |number: u8, format: &str, text: &str| {
            format!(
                r#"<w:lvl w:ilvl="{number}"><w:numFmt w:val="{format}"/><w:lvlText w:val="{text}"/></w:lvl>"#
            )
        };
        let list = |id: u8, pattern: u8, more: &str| {
            format!(r#"<w:num w:numId="{id}"><w:abstractNumId w:val="{pattern}"/>{more}</w:num>"#)
        };
        let content = [
            r#"<w:numbering xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main">"#,
            r#"<w:abstractNum w:abstractNumId="0">"#,
            &level(0, "decimal", "[%1]"),
            &level(1, "lowerLetter", "%2)"),
            &level(2, "decimal", ""),
            r#"<w:styleLink w:val="S"/></w:abstractNum><w:abstractNum w:abstractNumId="1">"#,
            &level(0, "bullet", "–"),
            r#"</w:abstractNum><w:abstractNum w:abstractNumId="2"><w:numStyleLink w:val="S"/></w:abstractNum>"#,
            &list(1, 0, ""),
            &list(2, 1, ""),
            &list(3, 2, ""),
            &list(4, 1, &format!("<w:lvlOverride w:ilvl=\"0\">{}</w:lvlOverride>", level(0, "decimal", "%1."))),
            "</w:numbering>",
        ]
        .concat();
        let lists = Lists::read("numbering.xml", &content).unwrap();
        for (list, level, figures) in [
            ("1", 0, true),
            ("1", 1, false),
            ("1", 2, false),
            ("2", 0, false),
            ("3", 0, true),
            ("4", 0, true),
            ("5", 0, false),
        ] {
            assert_eq!(lists.has_figures(list, level), figures, "{list} {level}");
        }
    }
}
