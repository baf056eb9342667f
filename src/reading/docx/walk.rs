//! The walk through a part of a Word document: what is visible goes into stories.
//!
//! Deleted and moved-away text, hidden text, the instructions of fields and the placeholders of empty
//! content controls are not visible. A text box stands behind the paragraph that holds it, once, though
//! Word writes it twice for older programs.

use std::borrow::Cow;
use std::collections::BTreeMap;

use super::fields::{self, Field, Meaning};
use super::properties::{RunLook, paragraph_properties, run_properties, section};
use super::styles::{Style, Styles};
use super::symbols;
use crate::reading::Unreadable;
use crate::reading::flow::{
    Cell, Cluster, Indent, NoteName, PageBreak, Paragraph, Role, Section, Story,
};
use crate::reading::package::xml::{Element, Name, Node, Space, Xml};
use crate::text::ByteRange;

/// What a walk finds.
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

/// Walks through a part. `stored` are citations kept apart, by the bookmark around their visible form.
pub(super) fn walk(
    part: &str,
    content: &str,
    number: u16,
    styles: &Styles,
    stored: &BTreeMap<String, Meaning>,
) -> Result<Walked, Unreadable> {
    let mut walk = Walk {
        xml: Xml::new(part, content),
        part: number,
        styles,
        stored,
        stories: vec![Open::default()],
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

/// A story being written.
#[derive(Default)]
struct Open {
    story: Story,
    paragraph: Option<(Paragraph, Style)>,
    /// Whether the paragraph at hand ended with a deleted mark, so that the next goes on from it.
    goes_on: bool,
    /// Rows and cells of the tables around this place, the outermost first.
    tables: Vec<(u32, u32)>,
    /// Text boxes of the paragraph at hand.
    boxes: Vec<Story>,
    /// The note it is, if any.
    note: Option<NoteName>,
}

/// A content control around this place.
struct Control {
    meaning: Meaning,
    /// Whether it shows a placeholder.
    placeholder: bool,
    start: usize,
    story: usize,
}

struct Walk<'a> {
    xml: Xml<'a>,
    part: u16,
    styles: &'a Styles,
    stored: &'a BTreeMap<String, Meaning>,
    stories: Vec<Open>,
    fields: Vec<Field>,
    controls: Vec<Control>,
    /// Bookmarks that hold a stored citation: by id, where each began and in which story.
    bookmarks: BTreeMap<String, (usize, usize, Meaning)>,
    /// For each choice of forms around this place, whether one was taken.
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
                    .map(|id| self.styles.character(&id))
                    .unwrap_or_default();
                self.look = look.over(style);
            }
            "t" => {
                let keeps = element.get("space").as_deref() == Some("preserve");
                self.characters(keeps)?;
            }
            "tab" | "ptab" => self.put("\t", place),
            "br" => match element.get("type").as_deref() {
                Some("page") => self.page_break(false),
                _ => self.put("\n", place),
            },
            "cr" => self.put("\n", place),
            "noBreakHyphen" => self.put("\u{2011}", place),
            "sym" => self.symbol(element, place),
            "lastRenderedPageBreak" => self.page_break(true),
            "footnoteReference" => self.call(false, element),
            "endnoteReference" => self.call(true, element),
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
            "tbl" => self.start_table(),
            "tr" => self.next_row(),
            "tc" => self.next_cell(),
            "txbxContent" => self.stories.push(Open::default()),
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
            "tc" => self.end_paragraph(),
            "tbl" => {
                self.end_paragraph();
                if let Some(open) = self.stories.last_mut() {
                    open.tables.pop();
                }
            }
            "txbxContent" | "footnote" | "endnote" => self.end_story(),
            _ => {}
        }
    }

    /// Of the forms that an element is written in for several programs, the first is read.
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
        while self.stories.len() > 1 {
            self.end_story();
        }
        self.end_paragraph();
        self.found.body = self
            .stories
            .pop()
            .map(|open| open.story)
            .unwrap_or_default();
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

/// Paragraphs, tables, stories.
impl Walk<'_> {
    /// The position in the story at hand.
    fn here(&self) -> usize {
        self.stories.last().map_or(0, |open| open.story.end())
    }

    fn start_paragraph(&mut self) {
        let goes_on = self.stories.last().is_some_and(|open| open.goes_on);
        if !goes_on {
            self.end_paragraph();
        }
        self.look = RunLook::default();
        let style = self.styles.paragraph(None);
        let Some(open) = self.stories.last_mut() else {
            return;
        };
        open.goes_on = false;
        let started = open.paragraph.take().map(|(paragraph, _)| paragraph);
        let paragraph = started.unwrap_or_else(|| Paragraph {
            start: open.story.end(),
            cell: cell(open),
            ..Paragraph::default()
        });
        open.paragraph = Some((with_style(paragraph, &style), style));
    }

    fn paragraph_properties(&mut self) -> Result<(), Unreadable> {
        let own = paragraph_properties(&mut self.xml)?;
        let style = self.styles.paragraph(own.style.as_deref());
        let all = own.over(&style.own);
        let mut role = style.role;
        match (role, own.outline) {
            (Role::Body, Some(level @ 0..=8)) => role = Role::Heading(level + 1),
            (Role::Body, _) if all.numbered == Some(true) => role = Role::Item,
            _ => {}
        }
        let style = Style {
            role,
            own: all,
            look: style.look,
        };
        if style.own.page_break_before == Some(true) && self.here() > 0 {
            self.page_break(false);
        }
        if let Some(open) = self.stories.last_mut()
            && let Some((paragraph, _)) = open.paragraph.take()
        {
            open.paragraph = Some((with_style(paragraph, &style), style));
        }
        Ok(())
    }

    /// The end tag of a paragraph, which may go on in the next.
    fn close_paragraph(&mut self) {
        // An instruction that does not end with its paragraph would hide the rest of the document.
        self.fields.retain(|field| field.result.is_some());
        let Some(open) = self.stories.last_mut() else {
            return;
        };
        let own = open.paragraph.as_ref().map(|(_, style)| style.own.clone());
        let own = own.unwrap_or_default();
        if own.end_deleted && own.section.is_none() {
            self.found.tracked = true;
            open.goes_on = true;
            return;
        }
        self.end_paragraph();
        if let Some(end) = own.section {
            self.end_section(&end);
        }
    }

    fn end_paragraph(&mut self) {
        let within = |wanted: &Meaning| {
            let results = self.fields.iter().filter_map(|field| field.result.as_ref());
            let controls = self.controls.iter().map(|control| &control.meaning);
            results
                .map(|result| &result.meaning)
                .chain(controls)
                .any(|meaning| meaning == wanted)
        };
        let (references, contents) = (within(&Meaning::References), within(&Meaning::Contents));
        let Some(open) = self.stories.last_mut() else {
            return;
        };
        open.goes_on = false;
        let mut place = None;
        if let Some((mut paragraph, _)) = open.paragraph.take() {
            if matches!(paragraph.role, Role::Body | Role::Item | Role::Quotation) {
                if references {
                    paragraph.role = Role::Reference;
                } else if contents {
                    paragraph.role = Role::Contents;
                }
            }
            place = paragraph.cell;
            open.story.end_paragraph(paragraph);
        }
        for mut text_box in std::mem::take(&mut open.boxes) {
            text_box.breaks.clear();
            if place.is_some() {
                for paragraph in &mut text_box.paragraphs {
                    paragraph.cell = None;
                }
                text_box.tables = 0;
            }
            let first = open.story.paragraphs.len();
            open.story.append(text_box);
            for paragraph in open.story.paragraphs.iter_mut().skip(first) {
                paragraph.cell = place.or(paragraph.cell);
            }
        }
    }

    fn end_section(&mut self, end: &super::properties::SectionEnd) {
        if self.stories.len() != 1 {
            return;
        }
        self.found.sections.push(Section {
            end: self.here(),
            first: end.first_page,
            numerals: end.numerals,
        });
        self.section_starts.push(end.new_page);
    }

    fn start_table(&mut self) {
        self.end_paragraph();
        if let Some(open) = self.stories.last_mut() {
            open.story.tables += u32::from(open.tables.is_empty());
            open.tables.push((0, 0));
        }
    }

    fn next_row(&mut self) {
        self.end_paragraph();
        let open = self.stories.last_mut();
        if let Some((row, column)) = open.and_then(|open| open.tables.last_mut()) {
            *row += 1;
            *column = 0;
        }
    }

    fn next_cell(&mut self) {
        let open = self.stories.last_mut();
        if let Some((_, column)) = open.and_then(|open| open.tables.last_mut()) {
            *column += 1;
        }
    }

    fn start_note(&mut self, endnote: bool, element: &Element<'_>) -> Result<(), Unreadable> {
        // Separators between text and notes are kept as notes.
        if matches!(element.get("type").as_deref(), Some(kind) if kind != "normal") {
            return self.xml.skip();
        }
        let id = element.get("id").unwrap_or_default();
        self.stories.push(Open {
            note: Some(NoteName { endnote, id }),
            ..Open::default()
        });
        Ok(())
    }

    fn end_story(&mut self) {
        self.end_paragraph();
        if self.stories.len() < 2 {
            return;
        }
        let Some(Open { story, note, .. }) = self.stories.pop() else {
            return;
        };
        match (note, self.stories.last_mut()) {
            (Some(note), _) => {
                self.found.notes.insert(note, story);
            }
            (None, Some(around)) => around.boxes.push(story),
            (None, None) => {}
        }
    }
}

/// Characters.
impl Walk<'_> {
    fn is_hidden(&self) -> bool {
        self.look.hidden == Some(true)
            || self.fields.iter().any(|field| field.result.is_none())
            || self.controls.iter().any(|control| control.placeholder)
    }

    /// Writes what stands for `place` in the part.
    fn put(&mut self, characters: &str, place: ByteRange) {
        if self.is_hidden() {
            return;
        }
        if self
            .stories
            .last()
            .is_none_or(|open| open.paragraph.is_none())
        {
            self.start_paragraph();
        }
        let (part, own) = (self.part, self.look.bold);
        if let Some(open) = self.stories.last_mut()
            && let Some((paragraph, style)) = &mut open.paragraph
        {
            open.story.write(characters, part, place);
            if own.or(style.look.bold) == Some(true) || characters.trim().is_empty() {
                paragraph.bold += characters.len();
            }
        }
    }

    /// The characters of `w:t`. Blank space at its ends counts only where that is said.
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

    fn page_break(&mut self, recorded: bool) {
        if let [body] = self.stories.as_mut_slice() {
            let at = body.story.end();
            body.story.breaks.push(PageBreak { at, recorded });
        }
    }

    fn call(&mut self, endnote: bool, element: &Element<'_>) {
        if self.is_hidden() {
            return;
        }
        let id = element.get("id").unwrap_or_default();
        if let Some(open) = self.stories.last_mut() {
            let at = open.story.end();
            open.story.calls.push((at, NoteName { endnote, id }));
        }
    }
}

/// Fields, content controls, bookmarks: what gives a stretch of text a meaning.
impl Walk<'_> {
    fn instruction(&mut self) -> Result<(), Unreadable> {
        let text = self.xml.text()?;
        if let Some(field) = self.fields.last_mut()
            && field.result.is_none()
        {
            field.instruction.push_str(&text);
        }
        Ok(())
    }

    fn field_sign(&mut self, kind: Option<&str>) {
        match kind {
            Some("begin") => self.start_field(String::new()),
            Some("separate") => self.start_result(),
            Some("end") => self.end_field(),
            _ => {}
        }
    }

    fn start_field(&mut self, instruction: String) {
        self.fields.push(Field {
            instruction,
            result: None,
        });
    }

    fn start_result(&mut self) {
        let (start, story) = (self.here(), self.stories.len());
        if let Some(field) = self.fields.last_mut()
            && field.result.is_none()
        {
            field.result = Some(fields::Result {
                start,
                story,
                meaning: fields::of_instruction(&field.instruction),
            });
        }
    }

    fn end_field(&mut self) {
        let result = self.fields.pop().and_then(|field| field.result);
        if let Some(result) = result {
            self.give(result.meaning, result.start, result.story);
        }
    }

    fn start_control(&mut self) {
        self.controls.push(Control {
            meaning: Meaning::Plain,
            placeholder: false,
            start: self.here(),
            story: self.stories.len(),
        });
    }

    fn control_properties(&mut self) -> Result<(), Unreadable> {
        let mut meaning = Meaning::Plain;
        let mut placeholder = false;
        let depth = self.xml.depth();
        while self.xml.depth() >= depth {
            let Node::Open { name, element, .. } = self.xml.next()? else {
                continue;
            };
            let value = element.get("val");
            match name.word() {
                "tag" => {
                    let told = fields::of_tag(value.as_deref().unwrap_or_default());
                    if told != Meaning::Plain {
                        meaning = told;
                    }
                }
                "showingPlcHdr" => {
                    placeholder = value.is_none_or(|value| super::styles::is_on(&value));
                }
                "bibliography" => meaning = Meaning::References,
                "docPartGallery" => match value.as_deref() {
                    Some("Bibliographies") => meaning = Meaning::References,
                    Some("Table of Contents") => meaning = Meaning::Contents,
                    _ => {}
                },
                _ => {}
            }
        }
        if let Some(control) = self.controls.last_mut() {
            control.meaning = meaning;
            control.placeholder = placeholder;
        }
        Ok(())
    }

    fn end_control(&mut self) {
        if let Some(control) = self.controls.pop() {
            self.give(control.meaning, control.start, control.story);
        }
    }

    fn start_bookmark(&mut self, element: &Element<'_>) {
        let name = element.get("name").unwrap_or_default();
        let id = element.get("id").unwrap_or_default();
        if let Some(meaning) = self.stored.get(&name) {
            let place = (self.here(), self.stories.len(), meaning.clone());
            self.bookmarks.insert(id, place);
        }
    }

    fn end_bookmark(&mut self, element: &Element<'_>) {
        let id = element.get("id").unwrap_or_default();
        if let Some((start, story, meaning)) = self.bookmarks.remove(&id) {
            self.give(meaning, start, story);
        }
    }

    /// Gives the text from `start` to here its meaning, if it lies in one story.
    fn give(&mut self, meaning: Meaning, start: usize, story: usize) {
        if story != self.stories.len() {
            return;
        }
        let Some(open) = self.stories.last_mut() else {
            return;
        };
        let end = open.story.end();
        match meaning {
            Meaning::Citation(cluster) if start < end => cite(&mut open.story, start, cluster),
            Meaning::References => {
                let whole = |paragraph: &&mut Paragraph| start <= paragraph.start;
                if let Some((paragraph, _)) = open.paragraph.as_mut()
                    && let Some(paragraph) = Some(paragraph).filter(whole)
                    && matches!(paragraph.role, Role::Body | Role::Item | Role::Quotation)
                {
                    paragraph.role = Role::Reference;
                }
            }
            _ => {}
        }
    }
}

/// Adds a citation from `start` to the end. One that another already covers is the same citation told
/// twice.
fn cite(story: &mut Story, start: usize, cluster: Cluster) {
    let range = ByteRange::of(start, story.end());
    let covered = story.citations.iter().rev().take(2);
    if !covered.clone().any(|(known, _)| known.overlaps(range)) {
        story.citations.push((range, cluster));
    }
}

/// A paragraph with what its style and properties say.
fn with_style(paragraph: Paragraph, style: &Style) -> Paragraph {
    Paragraph {
        role: style.role,
        indent: Indent {
            left: style.own.left.unwrap_or_default(),
            right: style.own.right.unwrap_or_default(),
            first: style.own.first.unwrap_or_default(),
        },
        centred: style.own.centred.unwrap_or_default(),
        ..paragraph
    }
}

/// The cell at hand, told by the outermost table.
fn cell(open: &Open) -> Option<Cell> {
    let (row, column) = open.tables.first()?;
    Some(Cell {
        table: open.story.tables,
        row: *row,
        column: *column,
    })
}

/// Blank space as XML knows it.
fn is_blank(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\n' | '\r')
}
