//! The styles of an OpenDocument text: those that the writer sees (`styles.xml`) and the unnamed ones that
//! each document makes for direct formatting (`content.xml`), which are based on them.

use std::collections::{BTreeMap, BTreeSet};

use crate::reading::Unreadable;
use crate::reading::flow::numbering::Numerals;
use crate::reading::flow::{Role, role_of_style};
use crate::reading::package::xml::{Element, Node, Space, Xml};

/// Longest chain of styles based on one another, so that a circle ends.
const LONGEST_CHAIN: usize = 20;

/// A style with what it inherits; `None` where nothing is set.
#[derive(Debug, Clone, Default)]
pub(super) struct Style {
    pub role: Option<Role>,
    /// Indents in twentieths of a point.
    pub left: Option<i32>,
    pub right: Option<i32>,
    pub first: Option<i32>,
    pub centred: Option<bool>,
    pub bold: Option<bool>,
    pub hidden: Option<bool>,
    pub break_before: bool,
    pub break_after: bool,
    /// The page layout that begins with the paragraph.
    pub master_page: Option<String>,
    /// The number of the page that begins with it.
    pub page_number: Option<u32>,
}

impl Style {
    /// This style, with the one it is based on where it says nothing. A paragraph inherits page breaks
    /// through its style, so they count too.
    fn over(self, below: &Self) -> Self {
        Self {
            role: self.role.or(below.role),
            left: self.left.or(below.left),
            right: self.right.or(below.right),
            first: self.first.or(below.first),
            centred: self.centred.or(below.centred),
            bold: self.bold.or(below.bold),
            hidden: self.hidden.or(below.hidden),
            break_before: self.break_before || below.break_before,
            break_after: self.break_after || below.break_after,
            master_page: self.master_page.or_else(|| below.master_page.clone()),
            page_number: self.page_number.or(below.page_number),
        }
    }
}

/// A style as written.
#[derive(Debug, Default)]
struct Written {
    own: Style,
    based_on: Option<String>,
}

/// All styles of a document.
#[derive(Default)]
pub(super) struct Styles {
    /// By family and name.
    written: BTreeMap<(String, String), Written>,
    resolved: BTreeMap<(String, String), Style>,
    /// The levels of lists that are numbered with figures: the list's style, and the level from 1.
    figures: BTreeSet<(String, usize)>,
    /// The page layout of each master page, and how its numbers are written.
    layouts: BTreeMap<String, String>,
    numerals: BTreeMap<String, Numerals>,
    /// Whether a header or footer prints the page's number.
    pub printed: bool,
}

impl Styles {
    /// Adds the styles of a part.
    pub(super) fn add(&mut self, part: &str, content: &str) -> Result<(), Unreadable> {
        let mut xml = Xml::new(part, content);
        let mut in_master = false;
        loop {
            match xml.next()? {
                Node::End => break,
                Node::Open { name, element, .. } => match (name.space, name.local) {
                    (Space::Style, "style" | "default-style") => self.style(&mut xml, &element)?,
                    (Space::Text, "list-style") => self.list_style(&mut xml, &element)?,
                    (Space::Style, "master-page") => {
                        in_master = true;
                        let name = element.get("name").unwrap_or_default();
                        let layout = element.get("page-layout-name").unwrap_or_default();
                        self.layouts.insert(name, layout);
                    }
                    (Space::Style, "page-layout") => {
                        let name = element.get("name").unwrap_or_default();
                        self.numerals.insert(name, numerals(&mut xml)?);
                    }
                    (Space::Text, "page-number") if in_master => self.printed = true,
                    // What follows is the document itself.
                    (Space::Office, "body") => xml.skip()?,
                    _ => {}
                },
                Node::Close { name, .. } if name.local == "master-page" => in_master = false,
                _ => {}
            }
        }
        Ok(())
    }

    /// Works out what each style inherits. Must be called once all are added.
    pub(super) fn resolve(&mut self) {
        let names: Vec<(String, String)> = self.written.keys().cloned().collect();
        for name in names {
            let mut style = Style::default();
            let mut next = Some(name.clone());
            for _ in 0..LONGEST_CHAIN {
                let Some(written) = next.as_ref().and_then(|name| self.written.get(name)) else {
                    break;
                };
                style = style.over(&written.own);
                next = written
                    .based_on
                    .clone()
                    .map(|based| (name.0.clone(), based));
            }
            self.resolved.insert(name, style);
        }
    }

    /// A style by its family (`paragraph`, `text`, `section`) and name.
    pub(super) fn get(&self, family: &str, name: &str) -> Style {
        let found = self.resolved.get(&(family.to_owned(), name.to_owned()));
        found.cloned().unwrap_or_else(|| Style {
            role: role_of_style(&shown(name)),
            ..Style::default()
        })
    }

    /// How the pages of a master page are numbered.
    pub(super) fn numerals(&self, master_page: &str) -> Numerals {
        let layout = self.layouts.get(master_page);
        let numerals = layout.and_then(|layout| self.numerals.get(layout));
        numerals.copied().unwrap_or_default()
    }

    /// Whether a level of a list's style, counted from 1, is numbered with figures.
    pub(super) fn has_figures(&self, list: &str, level: usize) -> bool {
        self.figures.contains(&(list.to_owned(), level))
    }

    fn list_style(&mut self, xml: &mut Xml<'_>, element: &Element<'_>) -> Result<(), Unreadable> {
        let list = element.get("name").unwrap_or_default();
        let depth = xml.depth();
        while xml.depth() >= depth {
            if let Node::Open { name, element, .. } = xml.next()?
                && name.local == "list-level-style-number"
                && element.get("num-format").as_deref() == Some("1")
                && let Some(level) = element.get("level").and_then(|level| level.parse().ok())
            {
                self.figures.insert((list.clone(), level));
            }
        }
        Ok(())
    }

    fn style(&mut self, xml: &mut Xml<'_>, element: &Element<'_>) -> Result<(), Unreadable> {
        let name = element.get("name").unwrap_or_default();
        let family = element.get("family").unwrap_or_default();
        let display_name = element.get("display-name").unwrap_or_else(|| shown(&name));
        let mut own = Style {
            role: (family == "paragraph")
                .then(|| role_of_style(&display_name))
                .flatten(),
            master_page: element
                .get("master-page-name")
                .filter(|name| !name.is_empty()),
            ..Style::default()
        };
        let level = element.get("default-outline-level");
        if let Some(level) = level.and_then(|level| level.parse::<u8>().ok())
            && own.role.is_none()
            && (1..=9).contains(&level)
        {
            own.role = Some(Role::Heading(level));
        }
        let depth = xml.depth();
        while xml.depth() >= depth {
            if let Node::Open { name, element, .. } = xml.next()?
                && name.space == Space::Style
            {
                match name.local {
                    "paragraph-properties" => paragraph_properties(&element, &mut own),
                    "text-properties" => {
                        own.bold = element
                            .get_exact("fo:font-weight")
                            .map(|weight| is_bold(&weight));
                        own.hidden = element.get("display").map(|display| display == "none");
                    }
                    "section-properties" if element.get("display").as_deref() == Some("none") => {
                        own.hidden = Some(true);
                    }
                    _ => {}
                }
            }
        }
        let based_on = element.get("parent-style-name");
        self.written
            .insert((family, name), Written { own, based_on });
        Ok(())
    }
}

fn paragraph_properties(element: &Element<'_>, own: &mut Style) {
    let length = |name: &str| element.get(name).and_then(|written| length(&written));
    own.left = length("margin-left");
    own.right = length("margin-right");
    own.first = length("text-indent");
    own.centred = element.get("text-align").map(|side| side == "center");
    own.break_before = element.get("break-before").as_deref() == Some("page");
    own.break_after = element.get("break-after").as_deref() == Some("page");
    own.page_number = element
        .get("page-number")
        .and_then(|number| number.parse().ok());
}

/// The words of a style's name, in which every character that is not a letter is written by its code:
/// `Heading_20_1`.
fn shown(name: &str) -> String {
    name.replace("_20_", " ")
}

fn is_bold(weight: &str) -> bool {
    weight == "bold" || weight.parse::<u32>().is_ok_and(|weight| weight >= 600)
}

/// A length in twentieths of a point; `None` for a share of the parent's.
fn length(written: &str) -> Option<i32> {
    let digits = written.trim_end_matches(|c: char| c.is_ascii_alphabetic());
    let number: f64 = digits.parse().ok()?;
    let points = match written.get(digits.len()..)? {
        "pt" => number,
        "cm" => number * 28.35,
        "mm" => number * 2.835,
        "in" => number * 72.0,
        "pc" => number * 12.0,
        _ => return None,
    };
    // The conversion saturates at the limits of the type; no page is that wide.
    Some((points * 20.0).round() as i32)
}

fn numerals(xml: &mut Xml<'_>) -> Result<Numerals, Unreadable> {
    let mut found = Numerals::default();
    let depth = xml.depth();
    while xml.depth() >= depth {
        if let Node::Open { name, element, .. } = xml.next()?
            && name.local == "page-layout-properties"
        {
            found = match element.get("num-format").as_deref() {
                Some("i") => Numerals::SmallRoman,
                Some("I") => Numerals::Roman,
                Some("a") => Numerals::SmallLetters,
                Some("A") => Numerals::Letters,
                _ => Numerals::Arabic,
            };
        }
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_by_case() {
        let cases = [
            ("0.5in", Some(720)),
            ("1cm", Some(567)),
            ("36pt", Some(720)),
            ("-10mm", Some(-567)),
            ("50%", None),
            ("", None),
            ("é", None),
        ];
        for (written, expected) in cases {
            assert_eq!(length(written), expected, "{written}");
        }
    }
}
