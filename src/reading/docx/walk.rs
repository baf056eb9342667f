//! The walk through a part of a Word document, which puts what is visible into stories.
//!
//! Deleted and moved-away text, hidden text, the instructions of fields and the placeholders of empty content
//! controls are not visible. A text box is read once, after the paragraph that holds it, although Word writes
//! it twice for older programs.

mod fields;

use std::borrow::Cow;
use std::collections::BTreeMap;

use super::fields::{Field, Stretch};
use super::lists::Lists;
use super::properties::{RunLook, SectionEnd, paragraph_properties, run_properties, section};
use super::sources::Sources;
use super::styles::{Style, Styles};
use super::symbols;
use crate::reading::Unreadable;
use crate::reading::flow::{Indent, Meaning, NoteName, PageBreak, Role, Section, Story, Writing};
use crate::reading::package::xml::{Element, Name, Node, Space, Xml};
use crate::text::ByteRange;

/// The result of a walk.
#[derive(Default)]
pub(super) struct Walked {
    /// The running text; empty for a part of notes.
    pub body: Story,
    /// The notes of a part of notes.
    pub notes: BTreeMap<NoteName, Story>,
    /// The sections of the running text.
    pub sections: Vec<Section>,
    /// Whether changes are tracked in it.
    pub tracked: bool,
}

/// What a document holds apart from its text.
#[derive(Default)]
pub(super) struct Setting {
    /// The styles.
    pub styles: Styles,
    /// The lists.
    pub lists: Lists,
    /// Citations stored apart, by the bookmark around their visible form.
    pub stored: BTreeMap<String, Meaning>,
    /// What the word processor's own citations cite.
    pub sources: Sources,
}

/// Walks through a part.
pub(super) fn walk(
    part: &str,
    content: &str,
    number: u16,
    setting: &Setting,
) -> Result<Walked, Unreadable> {
    let mut walk = Walk {
        xml: Xml::new(part, content),
        setting,
        out: Writing::new(number),
        fields: Vec::new(),
        controls: Vec::new(),
        bookmarks: BTreeMap::new(),
        alternatives: Vec::new(),
        look: RunLook::default(),
        section_starts: Vec::new(),
        found: Walked::default(),
    };
    loop {
        match walk.xml.next()? {
            Node::End => break,
            Node::Open {
                name,
                element,
                place,
            } => walk.open(name, &element, place)?,
            Node::Close { name, .. } => walk.close(name),
            Node::Characters { .. } => {}
        }
    }
    Ok(walk.finish())
}

/// A content control around this place.
struct Control {
    stretch: Stretch,
    /// Whether it shows a placeholder.
    placeholder: bool,
}

struct Walk<'a> {
    xml: Xml<'a>,
    setting: &'a Setting,
    /// With each paragraph, its style and properties.
    out: Writing<Style>,
    fields: Vec<Field>,
    controls: Vec<Control>,
    /// Bookmarks around stored citations, by id.
    bookmarks: BTreeMap<String, Stretch>,
    /// For each element around this place that offers alternatives, whether one was read.
    alternatives: Vec<bool>,
    look: RunLook,
    /// Whether each section begins on a new page.
    section_starts: Vec<bool>,
    found: Walked,
}

impl Walk<'_> {
    fn open(
        &mut self,
        name: Name<'_>,
        element: &Element<'_>,
        place: ByteRange,
    ) -> Result<(), Unreadable> {
        if name.space == Space::Compatibility {
            return self.choose(name.local);
        }
        match name.word() {
            "p" => self.start_paragraph(),
            "pPr" => self.paragraph_properties()?,
            "r" => self.look = RunLook::default(),
            "rPr" => {
                let (look, style) = run_properties(&mut self.xml)?;
                let style = style
                    .map(|id| self.setting.styles.character(&id))
                    .unwrap_or_default();
                self.look = look.over(style);
            }
            "t" => {
                let keeps = element.get("space").as_deref() == Some("preserve");
                self.characters(keeps)?;
            }
            "tab" | "ptab" => self.put("\t", place),
            "br" => match element.get("type").as_deref() {
                Some("page") => self.out.page_break(false),
                _ => self.put("\n", place),
            },
            "cr" => self.put("\n", place),
            "noBreakHyphen" => self.put("\u{2011}", place),
            "sym" => self.symbol(element, place),
            "lastRenderedPageBreak" => self.out.page_break(true),
            "footnoteReference" => self.call(false, element, place),
            "endnoteReference" => self.call(true, element, place),
            "instrText" => self.instruction()?,
            "fldChar" => {
                self.field_sign(element.get("fldCharType").as_deref());
                self.xml.skip()?;
            }
            "fldSimple" => {
                let instruction = element.get("instr").unwrap_or_default();
                self.start_field(instruction);
                self.start_result();
            }
            "bookmarkStart" => self.start_bookmark(element),
            "bookmarkEnd" => self.end_bookmark(element),
            "sdt" => self.start_control(),
            "sdtPr" => self.control_properties()?,
            "tbl" => self.out.start_table(self.within()),
            "tr" => self.out.next_row(),
            "tc" => self.out.next_cell(),
            "txbxContent" => self.out.start_story(None),
            "footnote" | "endnote" => self.start_note(name.local == "endnote", element)?,
            "sectPr" => {
                let end = section(&mut self.xml)?;
                self.end_section(&end);
            }
            "ins" | "moveTo" => self.found.tracked = true,
            "del" | "moveFrom" => {
                self.found.tracked = true;
                self.xml.skip()?;
            }
            "rt" | "rubyPr" | "delText" | "delInstrText" | "tblPr" | "tblGrid" | "trPr"
            | "tcPr" | "tblPrEx" | "sdtEndPr" => self.xml.skip()?,
            _ => {}
        }
        Ok(())
    }

    fn close(&mut self, name: Name<'_>) {
        if name.space == Space::Compatibility && name.local == "AlternateContent" {
            self.alternatives.pop();
        }
        match name.word() {
            "p" => self.close_paragraph(),
            "r" => self.look = RunLook::default(),
            "fldSimple" => self.end_field(),
            "sdt" => self.end_control(),
            "tc" => self.out.end_paragraph(self.within()),
            "tbl" => self.out.end_table(),
            "txbxContent" | "footnote" | "endnote" => self.out.end_story(),
            _ => {}
        }
    }

    /// Where an element is written in alternative forms for several programs, the first is read.
    fn choose(&mut self, local: &str) -> Result<(), Unreadable> {
        match (local, self.alternatives.last_mut()) {
            ("AlternateContent", _) => self.alternatives.push(false),
            ("Choice" | "Fallback", Some(taken)) if *taken => self.xml.skip()?,
            ("Choice" | "Fallback", Some(taken)) => *taken = true,
            _ => {}
        }
        Ok(())
    }

    fn finish(mut self) -> Walked {
        (self.found.body, self.found.notes) = self.out.finish();
        let body = &mut self.found.body;
        let ends = self.found.sections.iter().map(|section| section.end);
        for (end, new_page) in ends.zip(self.section_starts.iter().skip(1)) {
            if *new_page {
                let page = PageBreak {
                    at: end,
                    recorded: false,
                };
                body.breaks.push(page);
            }
        }
        body.breaks.sort_by_key(|page| page.at);
        self.found
    }
}

/// Paragraphs, sections, notes.
impl Walk<'_> {
    /// What the fields and content controls around a paragraph say it is.
    fn within(&self) -> Option<Role> {
        let results = self.fields.iter().filter_map(|field| field.result.as_ref());
        let controls = self.controls.iter().map(|control| &control.stretch);
        results
            .chain(controls)
            .find_map(|stretch| stretch.meaning.role())
    }

    fn start_paragraph(&mut self) {
        self.look = RunLook::default();
        self.out.start_paragraph(self.within());
        let style = self.setting.styles.paragraph(None);
        self.set_style(style);
    }

    fn set_style(&mut self, style: Style) {
        if let Some((paragraph, known)) = self.out.paragraph() {
            paragraph.role = style.role;
            paragraph.indent = Indent {
                left: style.own.left.unwrap_or_default(),
                right: style.own.right.unwrap_or_default(),
                first: style.own.first.unwrap_or_default(),
            };
            paragraph.centred = style.own.centred.unwrap_or_default();
            let level = style.own.level.unwrap_or_default();
            let list = style.own.list();
            paragraph.counted =
                list.is_some_and(|list| self.setting.lists.has_figures(list, level));
            *known = style;
        }
    }

    fn paragraph_properties(&mut self) -> Result<(), Unreadable> {
        let own = paragraph_properties(&mut self.xml)?;
        let style = self.setting.styles.paragraph(own.style.as_deref());
        let all = own.over(&style.own);
        let mut role = style.role;
        match (role, own.outline) {
            (Role::Body, Some(level @ 0..=8)) => role = Role::Heading(level + 1),
            (Role::Body, _) if all.list().is_some() => role = Role::Item,
            _ => {}
        }
        if all.page_break_before == Some(true) && self.out.here() > 0 {
            self.out.page_break(false);
        }
        self.set_style(Style {
            role,
            own: all,
            look: style.look,
        });
        Ok(())
    }

    /// The end tag of a paragraph, which may continue in the next.
    fn close_paragraph(&mut self) {
        // An instruction that does not end with its paragraph would hide the rest of the document.
        self.fields.retain(|field| field.result.is_some());
        let style = self.out.paragraph().map(|(_, style)| style);
        let (deleted, section) = style.map_or((false, None), |style| {
            (style.own.end_deleted, style.own.section)
        });
        if deleted && section.is_none() {
            self.found.tracked = true;
            self.out.go_on();
            return;
        }
        self.out.end_paragraph(self.within());
        if let Some(end) = section {
            self.end_section(&end);
        }
    }

    fn end_section(&mut self, end: &SectionEnd) {
        if self.out.depth() != 1 {
            return;
        }
        self.found.sections.push(Section {
            end: self.out.here(),
            first: end.first_page,
            numerals: end.numerals,
        });
        self.section_starts.push(end.new_page);
    }

    fn start_note(&mut self, endnote: bool, element: &Element<'_>) -> Result<(), Unreadable> {
        // Separators between text and notes are kept as notes.
        if matches!(element.get("type").as_deref(), Some(kind) if kind != "normal") {
            return self.xml.skip();
        }
        let id = element.get("id").unwrap_or_default();
        self.out.start_story(Some(NoteName { endnote, id }));
        Ok(())
    }
}

/// Characters.
impl Walk<'_> {
    fn is_hidden(&self) -> bool {
        self.look.hidden == Some(true)
            || self.fields.iter().any(|field| field.result.is_none())
            || self.controls.iter().any(|control| control.placeholder)
    }

    /// Writes characters that come from `place` in the part.
    fn put(&mut self, characters: &str, place: ByteRange) {
        if self.is_hidden() {
            return;
        }
        let style = self.out.paragraph().and_then(|(_, style)| style.look.bold);
        let bold = self.look.bold.or(style) == Some(true);
        self.out.put(characters, place, bold);
    }

    /// The characters of `w:t`. Blank space at its ends counts only where the element says so.
    fn characters(&mut self, keeps_blanks: bool) -> Result<(), Unreadable> {
        let mut found: Vec<(Cow<'_, str>, ByteRange)> = Vec::new();
        let depth = self.xml.depth();
        while self.xml.depth() >= depth {
            if let Node::Characters { content, place } = self.xml.next()? {
                found.push((content, place));
            }
        }
        let last = found.len().saturating_sub(1);
        for (index, (content, place)) in found.iter().enumerate() {
            let (mut text, mut place) = (content.as_ref(), *place);
            let verbatim = text.len() == place.len();
            if !keeps_blanks && index == 0 {
                let solid = text.trim_start_matches(is_blank);
                let cut = text.len() - solid.len();
                if verbatim {
                    place = ByteRange::of(place.start() + cut, place.end());
                }
                text = solid;
            }
            if !keeps_blanks && index == last {
                let solid = text.trim_end_matches(is_blank);
                if verbatim {
                    place = ByteRange::of(place.start(), place.start() + solid.len());
                }
                text = solid;
            }
            if text.contains(['\n', '\r']) {
                self.put(&text.replace(['\n', '\r'], " "), place);
            } else {
                self.put(text, place);
            }
        }
        Ok(())
    }

    fn symbol(&mut self, element: &Element<'_>, place: ByteRange) {
        let font = element.get("font").unwrap_or_default();
        let code = element.get("char");
        let code = code.and_then(|code| u32::from_str_radix(&code, 16).ok());
        if let Some(character) = code.and_then(|code| symbols::character(&font, code)) {
            self.put(character.encode_utf8(&mut [0; 4]), place);
        }
    }

    fn call(&mut self, endnote: bool, element: &Element<'_>, place: ByteRange) {
        if !self.is_hidden() {
            let id = element.get("id").unwrap_or_default();
            self.out.call(NoteName { endnote, id }, place);
        }
    }
}

/// Blank space as defined by XML.
fn is_blank(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\n' | '\r')
}
