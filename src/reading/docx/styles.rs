//! The styles of a Word document: their names, what they are based on, and how they indent.
//!
//! Word keeps the names of its own styles in English in every language version (`heading 1`, `Quote`), so
//! names are more reliable than ids, which are translated. A style that the writer made is identified by the
//! style it is based on, then by its outline level, and last by words in its name.

use std::collections::BTreeMap;

use super::properties::{Paragraphs, RunLook, paragraph_properties, run_look};
use crate::reading::Unreadable;
use crate::reading::flow::{Role, role_of_style};
use crate::reading::package::xml::{Node, Xml};

/// Longest chain of styles based on one another, so that a circle ends.
const LONGEST_CHAIN: usize = 20;

/// All styles of a document, resolved.
#[derive(Default)]
pub(super) struct Styles {
    paragraphs: BTreeMap<String, Style>,
    /// Which character styles are bold, and which are hidden.
    characters: BTreeMap<String, RunLook>,
    /// The properties of a paragraph without a style.
    default: Style,
}

/// A paragraph style with all that it inherits.
#[derive(Debug, Clone, Default)]
pub(super) struct Style {
    pub role: Role,
    pub own: Paragraphs,
    pub look: RunLook,
}

/// A style as written.
#[derive(Default)]
struct Written {
    name: String,
    based_on: Option<String>,
    is_default: bool,
    own: Paragraphs,
    look: RunLook,
}

impl Styles {
    /// Reads `styles.xml`.
    pub(super) fn read(part: &str, content: &str) -> Result<Self, Unreadable> {
        let mut xml = Xml::new(part, content);
        let mut written: BTreeMap<String, Written> = BTreeMap::new();
        let mut characters = BTreeMap::new();
        let mut everywhere = Paragraphs::default();
        loop {
            match xml.next()? {
                Node::End => break,
                Node::Open { name, element, .. } => match name.word() {
                    "style" => {
                        let id = element.get("styleId").unwrap_or_default();
                        let kind = element.get("type");
                        let is_default = element.get("default").is_some_and(|on| is_on(&on));
                        let mut style = read_style(&mut xml)?;
                        style.is_default = is_default;
                        match kind.as_deref() {
                            Some("character") => {
                                characters.insert(id, style.look);
                            }
                            Some("paragraph") | None => {
                                written.insert(id, style);
                            }
                            _ => {}
                        }
                    }
                    "pPrDefault" => {}
                    "pPr" => everywhere = paragraph_properties(&mut xml)?,
                    _ => {}
                },
                _ => {}
            }
        }
        let resolve = |id: &str| resolve(&written, id, &everywhere);
        let default = written.iter().find(|(_, style)| style.is_default);
        let default = match default {
            Some((id, _)) => resolve(id),
            None => Style {
                own: everywhere.clone(),
                ..Style::default()
            },
        };
        let paragraphs = written.keys().map(|id| (id.clone(), resolve(id))).collect();
        Ok(Self {
            paragraphs,
            characters,
            default,
        })
    }

    /// The style that a paragraph names, or the default if it names none.
    pub(super) fn paragraph(&self, id: Option<&str>) -> Style {
        let Some(id) = id else {
            return self.default.clone();
        };
        match self.paragraphs.get(id) {
            Some(style) => style.clone(),
            // Where a document does not list this style, its id still says something.
            None => Style {
                role: role_of_style(id).unwrap_or_default(),
                ..self.default.clone()
            },
        }
    }

    /// The formatting of a character style.
    pub(super) fn character(&self, id: &str) -> RunLook {
        self.characters.get(id).copied().unwrap_or_default()
    }
}

/// Whether a switch is on, as Word writes them.
pub(super) fn is_on(written: &str) -> bool {
    !matches!(written, "0" | "false" | "off" | "none")
}

fn read_style(xml: &mut Xml<'_>) -> Result<Written, Unreadable> {
    let mut style = Written::default();
    let depth = xml.depth();
    while xml.depth() >= depth {
        if let Node::Open { name, element, .. } = xml.next()? {
            match name.word() {
                "name" => style.name = element.get("val").unwrap_or_default(),
                "basedOn" => style.based_on = element.get("val"),
                "pPr" => style.own = paragraph_properties(xml)?,
                "rPr" => style.look = run_look(xml)?,
                _ => {}
            }
        }
    }
    Ok(style)
}

/// A style with what it inherits: the nearest style in the chain that says something decides.
fn resolve(written: &BTreeMap<String, Written>, id: &str, everywhere: &Paragraphs) -> Style {
    let mut style = Style::default();
    let mut role = None;
    let mut next = Some(id.to_owned());
    for _ in 0..LONGEST_CHAIN {
        let Some((id, current)) = next.as_deref().and_then(|id| written.get_key_value(id)) else {
            break;
        };
        style.own = style.own.over(&current.own);
        style.look = style.look.over(current.look);
        role = role
            .or_else(|| role_of_style(&current.name))
            .or_else(|| role_of_style(id));
        next = current.based_on.clone();
    }
    style.own = style.own.over(everywhere);
    style.role = match (role, style.own.outline) {
        (Some(role), _) => role,
        (None, Some(level @ 0..=8)) => Role::Heading(level + 1),
        (None, _) => Role::Body,
    };
    style
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn styles_inherit_and_circles_end() {
        let content = r#"<w:styles xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main">
            <w:docDefaults><w:pPrDefault><w:pPr><w:ind w:left="10"/></w:pPr></w:pPrDefault></w:docDefaults>
            <w:style w:type="paragraph" w:default="1" w:styleId="Standard"><w:name w:val="Normal"/></w:style>
            <w:style w:type="paragraph" w:styleId="berschrift1"><w:name w:val="heading 1"/><w:basedOn w:val="Standard"/></w:style>
            <w:style w:type="paragraph" w:styleId="Kapitel"><w:name w:val="Kapitel"/><w:basedOn w:val="berschrift1"/></w:style>
            <w:style w:type="paragraph" w:styleId="Eigen"><w:name w:val="Eigen"/><w:pPr><w:outlineLvl w:val="2"/><w:ind w:left="720"/></w:pPr></w:style>
            <w:style w:type="paragraph" w:styleId="A"><w:name w:val="A"/><w:basedOn w:val="B"/></w:style>
            <w:style w:type="paragraph" w:styleId="B"><w:name w:val="B"/><w:basedOn w:val="A"/></w:style>
            <w:style w:type="character" w:styleId="Fett"><w:name w:val="Strong"/><w:rPr><w:b/></w:rPr></w:style>
            </w:styles>"#;
        let styles = Styles::read("styles.xml", content).unwrap();
        let role = |id: &str| styles.paragraph(Some(id)).role;
        assert_eq!(role("berschrift1"), Role::Heading(1));
        assert_eq!(role("Kapitel"), Role::Heading(1));
        assert_eq!(role("Eigen"), Role::Heading(3));
        assert_eq!(role("A"), Role::Body);
        assert_eq!(role("Quote"), Role::Quotation);
        assert_eq!(styles.paragraph(None).own.left, Some(10));
        assert_eq!(styles.paragraph(Some("Eigen")).own.left, Some(720));
        assert_eq!(styles.character("Fett").bold, Some(true));
    }
}
