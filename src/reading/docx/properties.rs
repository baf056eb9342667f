//! Properties of paragraphs, runs and sections, as Word writes them.

use super::styles::is_on;
use crate::reading::Unreadable;
use crate::reading::flow::numbering::Numerals;
use crate::reading::package::xml::{Element, Node, Xml};

/// What the properties of a paragraph say; `None` where they say nothing.
#[derive(Debug, Clone, Default)]
pub(super) struct Paragraphs {
    pub style: Option<String>,
    /// Indents in twentieths of a point.
    pub left: Option<i32>,
    pub right: Option<i32>,
    pub first: Option<i32>,
    pub centred: Option<bool>,
    /// The outline level, from 0; 9 is body text.
    pub outline: Option<u8>,
    /// The list that it is an item of; `0` removes it from all lists.
    pub list: Option<String>,
    /// Its level in the list, from 0.
    pub level: Option<u8>,
    pub page_break_before: Option<bool>,
    /// Whether the paragraph's end is deleted or moved away, so that the next paragraph continues it.
    pub end_deleted: bool,
    /// The section that ends with this paragraph.
    pub section: Option<SectionEnd>,
}

impl Paragraphs {
    /// The list that it is an item of.
    pub(super) fn list(&self) -> Option<&str> {
        self.list.as_deref().filter(|list| *list != "0")
    }

    /// These properties, with those below where they say nothing.
    pub(super) fn over(&self, below: &Self) -> Self {
        Self {
            style: self.style.clone().or_else(|| below.style.clone()),
            left: self.left.or(below.left),
            right: self.right.or(below.right),
            first: self.first.or(below.first),
            centred: self.centred.or(below.centred),
            outline: self.outline.or(below.outline),
            list: self.list.clone().or_else(|| below.list.clone()),
            level: self.level.or(below.level),
            page_break_before: self.page_break_before.or(below.page_break_before),
            end_deleted: self.end_deleted,
            section: self.section,
        }
    }
}

/// The part of a run's formatting that matters for reading its characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct RunLook {
    pub bold: Option<bool>,
    /// Whether the characters are hidden.
    pub hidden: Option<bool>,
    /// Whether its end mark was deleted or moved away (in the properties of a paragraph's end).
    pub deleted: bool,
}

impl RunLook {
    /// This formatting, with the one below where it says nothing.
    pub(super) fn over(self, below: Self) -> Self {
        Self {
            bold: self.bold.or(below.bold),
            hidden: self.hidden.or(below.hidden),
            deleted: self.deleted,
        }
    }
}

/// The end of a section.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct SectionEnd {
    pub first_page: Option<u32>,
    pub numerals: Numerals,
    /// Whether the section itself begins on a new page.
    pub new_page: bool,
}

/// Reads the rest of `w:pPr`, whose start was read last.
pub(super) fn paragraph_properties(xml: &mut Xml<'_>) -> Result<Paragraphs, Unreadable> {
    let mut found = Paragraphs::default();
    let depth = xml.depth();
    while xml.depth() >= depth {
        let Node::Open { name, element, .. } = xml.next()? else {
            continue;
        };
        match name.word() {
            "pStyle" => found.style = element.get("val"),
            "ind" => indents(&element, &mut found),
            "jc" => found.centred = element.get("val").map(|side| side == "center"),
            "outlineLvl" => found.outline = number(&element),
            "numPr" => list(xml, &mut found)?,
            "pageBreakBefore" => found.page_break_before = Some(switch(&element)),
            "rPr" => found.end_deleted = run_look(xml)?.deleted,
            "sectPr" => found.section = Some(section(xml)?),
            // The properties before a tracked change.
            "pPrChange" => xml.skip()?,
            _ => {}
        }
    }
    Ok(found)
}

/// Reads the rest of `w:rPr`, whose start was read last.
pub(super) fn run_look(xml: &mut Xml<'_>) -> Result<RunLook, Unreadable> {
    Ok(run_properties(xml)?.0)
}

/// Reads the rest of `w:rPr`: the run's formatting, and its character style.
pub(super) fn run_properties(xml: &mut Xml<'_>) -> Result<(RunLook, Option<String>), Unreadable> {
    let mut look = RunLook::default();
    let mut style = None;
    let depth = xml.depth();
    while xml.depth() >= depth {
        let Node::Open { name, element, .. } = xml.next()? else {
            continue;
        };
        match name.word() {
            "rStyle" => style = element.get("val"),
            "b" => look.bold = Some(switch(&element)),
            "vanish" => look.hidden = Some(switch(&element)),
            "del" | "moveFrom" => look.deleted = true,
            "rPrChange" => xml.skip()?,
            _ => {}
        }
    }
    Ok((look, style))
}

/// Reads the rest of `w:sectPr`.
pub(super) fn section(xml: &mut Xml<'_>) -> Result<SectionEnd, Unreadable> {
    let mut found = SectionEnd {
        new_page: true,
        ..SectionEnd::default()
    };
    let depth = xml.depth();
    while xml.depth() >= depth {
        let Node::Open { name, element, .. } = xml.next()? else {
            continue;
        };
        match name.word() {
            "type" => {
                let kind = element.get("val");
                found.new_page = !matches!(kind.as_deref(), Some("continuous" | "nextColumn"));
            }
            "pgNumType" => {
                found.first_page = element.get("start").and_then(|start| start.parse().ok());
                found.numerals = match element.get("fmt").as_deref() {
                    Some("lowerRoman") => Numerals::SmallRoman,
                    Some("upperRoman") => Numerals::Roman,
                    Some("lowerLetter") => Numerals::SmallLetters,
                    Some("upperLetter") => Numerals::Letters,
                    _ => Numerals::Arabic,
                };
            }
            "sectPrChange" => xml.skip()?,
            _ => {}
        }
    }
    Ok(found)
}

/// Reads the rest of `w:numPr`.
fn list(xml: &mut Xml<'_>, found: &mut Paragraphs) -> Result<(), Unreadable> {
    let depth = xml.depth();
    while xml.depth() >= depth {
        if let Node::Open { name, element, .. } = xml.next()? {
            match name.word() {
                "numId" => found.list = element.get("val"),
                "ilvl" => found.level = number(&element),
                _ => {}
            }
        }
    }
    Ok(())
}

fn indents(element: &Element<'_>, found: &mut Paragraphs) {
    let either = |one: &str, other: &str| {
        element
            .get(one)
            .or_else(|| element.get(other))
            .and_then(|written| length(&written))
    };
    // Hundredths of a character, in documents of East Asian Word; a character is taken as 10.5 points.
    let characters = |one: &str, other: &str| {
        let hundredths = either(one, other)?;
        (hundredths != 0).then_some(hundredths.saturating_mul(21) / 10)
    };
    found.left = characters("leftChars", "startChars").or_else(|| either("left", "start"));
    found.right = characters("rightChars", "endChars").or_else(|| either("right", "end"));
    found.first = match element.get("hanging").and_then(|written| length(&written)) {
        Some(hanging) => Some(hanging.saturating_neg()),
        None => either("firstLine", "firstLine"),
    };
}

/// A length in twentieths of a point: a bare number is in that unit, a strict document may name another.
fn length(written: &str) -> Option<i32> {
    let digits = written.trim_end_matches(|c: char| c.is_ascii_alphabetic());
    let unit = written.get(digits.len()..)?;
    let number: f64 = digits.parse().ok()?;
    let points = match unit {
        "" => number / 20.0,
        "pt" => number,
        "cm" => number * 28.35,
        "mm" => number * 2.835,
        "in" => number * 72.0,
        "pc" | "pi" => number * 12.0,
        _ => return None,
    };
    // The conversion saturates at the limits of the type; no page is that wide.
    Some((points * 20.0).round() as i32)
}

fn number(element: &Element<'_>) -> Option<u8> {
    element.get("val")?.parse().ok()
}

/// Whether an element that is a switch is on. Without a value it is on.
fn switch(element: &Element<'_>) -> bool {
    element.get("val").is_none_or(|value| is_on(&value))
}
