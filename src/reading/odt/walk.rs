//! The walk through the text of an OpenDocument, which puts what is visible into stories.
//!
//! Deleted text (kept apart at the head of the document), comments, hidden text and the numbers of notes are
//! not visible. The text of a drawing comes after the paragraph to which the drawing is anchored.

mod characters;

use std::collections::BTreeMap;

use super::marks;
use super::styles::Styles;
use crate::reading::Unreadable;
use crate::reading::flow::{Indent, Meaning, NoteName, PageBreak, Role, Section, Story, Writing};
use crate::reading::package::xml::{Element, Name, Node, Space, Xml};
use crate::text::ByteRange;

/// The result of a walk.
pub(super) struct Walked {
    /// The running text.
    pub body: Story,
    /// The notes.
    pub notes: BTreeMap<NoteName, Story>,
    /// The sections of the running text by their numbering.
    pub sections: Vec<Section>,
    /// Whether changes are tracked in it.
    pub tracked: bool,
}

/// Walks through the text. `stored` are citations stored apart, by the bookmark around their visible form.
pub(super) fn walk(
    part: &str,
    content: &str,
    styles: &Styles,
    stored: &BTreeMap<String, Meaning>,
) -> Result<Walked, Unreadable> {
    let mut walk = Walk {
        xml: Xml::new(part, content),
        styles,
        stored,
        out: Writing::new(0),
        looks: Vec::new(),
        lists: Vec::new(),
        purposes: Vec::new(),
        marks: BTreeMap::new(),
        notes: 0,
        explicit: false,
        sections: Vec::new(),
        layout: None,
        tracked: false,
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
            Node::Characters { content, place } => walk.characters(&content, place),
        }
    }
    Ok(walk.finish())
}

/// What is stored with a paragraph.
#[derive(Debug, Clone, Copy, Default)]
struct Kept {
    bold: bool,
    hidden: bool,
    break_after: bool,
}

struct Walk<'a> {
    xml: Xml<'a>,
    styles: &'a Styles,
    stored: &'a BTreeMap<String, Meaning>,
    out: Writing<Kept>,
    /// Bold and hidden, for each span around this place.
    looks: Vec<(Option<bool>, bool)>,
    /// The styles of the lists around this place. A list without a style has that of the list around it.
    lists: Vec<String>,
    /// The purposes of the sections and indexes around this place, with the depth of their elements.
    purposes: Vec<(usize, Meaning)>,
    /// Marks and bookmarks that have begun: name, position, and number of the story.
    marks: BTreeMap<String, (usize, usize, Meaning)>,
    /// How many notes there have been.
    notes: usize,
    /// Whether the last blank comes from an element, so that the next one counts as well.
    explicit: bool,
    sections: Vec<Section>,
    /// Where the numbering since the last page layout began, and the number it began with.
    layout: Option<(Option<u32>, String)>,
    tracked: bool,
}

impl Walk<'_> {
    fn open(
        &mut self,
        name: Name<'_>,
        element: &Element<'_>,
        place: ByteRange,
    ) -> Result<(), Unreadable> {
        match name.space {
            Space::Text => self.open_text(name.local, element, place)?,
            Space::Table => match name.local {
                "table" => self.out.start_table(self.within()),
                "table-row" => self.out.next_row(),
                "table-cell" => self.out.next_cell(),
                // The covered half of a joined cell, and the table's title and description.
                "covered-table-cell" | "title" | "desc" | "named-expressions" => self.xml.skip()?,
                _ => {}
            },
            Space::Draw => self.out.start_story(None),
            Space::Office => match name.local {
                "annotation" | "annotation-end" | "meta" | "settings" | "scripts" | "forms"
                | "styles" | "automatic-styles" | "master-styles" | "font-face-decls" => {
                    self.xml.skip()?;
                }
                _ => {}
            },
            // Titles of pictures, formulas. Elements that programs add themselves may hold text of the
            // document.
            Space::Other => match name.local {
                "title" | "desc" | "math" | "annotation" => self.xml.skip()?,
                "content-control"
                    if element.get("showing-place-holder").as_deref() == Some("true") =>
                {
                    self.xml.skip()?;
                }
                _ => {}
            },
            _ => {}
        }
        Ok(())
    }

    fn open_text(
        &mut self,
        local: &str,
        element: &Element<'_>,
        place: ByteRange,
    ) -> Result<(), Unreadable> {
        match local {
            "p" | "h" => self.start_paragraph(local == "h", element),
            "span" => {
                let name = element.get("style-name").unwrap_or_default();
                let style = self.styles.get("text", &name);
                self.looks.push((style.bold, style.hidden == Some(true)));
            }
            "s" => {
                let count = element.get("c").and_then(|count| count.parse().ok());
                // More blanks are not text but an attempt to fill memory.
                let blanks = " ".repeat(count.unwrap_or(1_usize).min(1000));
                self.put(&blanks, place);
                self.explicit = true;
            }
            "tab" => self.put("\t", place),
            "line-break" => self.put("\n", place),
            "soft-hyphen" => {}
            "soft-page-break" => self.out.page_break(true),
            "list" => {
                let around = self.lists.last().cloned();
                let style = element.get("style-name").or(around);
                self.lists.push(style.unwrap_or_default());
            }
            "note" => self.start_note(element, place),
            "section" => {
                let hidden = element.get("display").as_deref() == Some("none");
                let style = element.get("style-name").unwrap_or_default();
                if hidden || self.styles.get("section", &style).hidden == Some(true) {
                    return self.xml.skip();
                }
                let meaning = Meaning::of_instruction(&element.get("name").unwrap_or_default());
                self.purposes.push((self.xml.depth(), meaning));
            }
            "bibliography" => self.purposes.push((self.xml.depth(), Meaning::References)),
            "table-of-content" | "illustration-index" | "table-index" | "object-index"
            | "user-index" | "alphabetical-index" => {
                self.purposes.push((self.xml.depth(), Meaning::Contents));
            }
            "reference-mark-start" => {
                let name = element.get("name").unwrap_or_default();
                let meaning = Meaning::of_instruction(&name);
                self.start_mark(name, meaning);
            }
            "bookmark-start" => {
                let name = element.get("name").unwrap_or_default();
                if let Some(meaning) = self.stored.get(&name) {
                    self.start_mark(name, meaning.clone());
                }
            }
            "reference-mark-end" | "bookmark-end" => self.end_mark(element),
            "bibliography-mark" => {
                if let Some(cluster) = marks::cluster(element) {
                    self.start_mark(MARK.to_owned(), Meaning::Citation(cluster));
                }
            }
            "tracked-changes" => {
                self.tracked = true;
                self.xml.skip()?;
            }
            "note-citation"
            | "ruby-text"
            | "script"
            | "hidden-text"
            | "hidden-paragraph"
            | "placeholder"
            | "sequence-decls"
            | "variable-decls"
            | "user-field-decls"
            | "dde-connection-decls"
            | "list-style"
            | "outline-style"
            | "table-of-content-source"
            | "bibliography-source"
            | "illustration-index-source"
            | "table-index-source"
            | "object-index-source"
            | "user-index-source"
            | "alphabetical-index-source" => {
                self.xml.skip()?;
            }
            _ => {}
        }
        Ok(())
    }

    fn close(&mut self, name: Name<'_>) {
        while self
            .purposes
            .last()
            .is_some_and(|(depth, _)| *depth > self.xml.depth())
        {
            self.purposes.pop();
        }
        match (name.space, name.local) {
            (Space::Text, "p" | "h") => {
                let kept = self.out.paragraph().map(|(_, kept)| *kept);
                self.out.end_paragraph(self.within());
                if kept.is_some_and(|kept| kept.break_after) {
                    self.out.page_break(false);
                }
            }
            (Space::Text, "span") => {
                self.looks.pop();
            }
            (Space::Text, "list") => {
                self.lists.pop();
            }
            (Space::Text, "note") | (Space::Draw, _) => self.out.end_story(),
            (Space::Text, "bibliography-mark") => self.close_mark(MARK),
            (Space::Table, "table") => self.out.end_table(),
            _ => {}
        }
    }

    fn finish(mut self) -> Walked {
        self.end_layout();
        let (mut body, notes) = self.out.finish();
        body.breaks.sort_by_key(|page: &PageBreak| page.at);
        Walked {
            body,
            notes,
            sections: self.sections,
            tracked: self.tracked,
        }
    }
}

/// The name under which the mark of a bibliography entry is stored. No other mark has it, since the names of
/// marks hold no control characters.
const MARK: &str = "\u{1}";

impl Walk<'_> {
    /// What the sections and indexes around a paragraph say it is.
    fn within(&self) -> Option<Role> {
        let mut meanings = self.purposes.iter().rev();
        meanings.find_map(|(_, meaning)| meaning.role())
    }

    fn start_paragraph(&mut self, heading: bool, element: &Element<'_>) {
        self.out.start_paragraph(self.within());
        let name = element.get("style-name").unwrap_or_default();
        let style = self.styles.get("paragraph", &name);
        if self.out.depth() == 1 {
            self.start_page(&style);
        }
        let level = element
            .get("outline-level")
            .and_then(|level| level.parse().ok());
        let role = match (heading, style.role) {
            (true, _) => Role::Heading(level.unwrap_or(1)),
            (false, Some(role)) => role,
            (false, None) if !self.lists.is_empty() => Role::Item,
            (false, None) => Role::Body,
        };
        let level = self.lists.len();
        let list = self.lists.last();
        let counted = list.is_some_and(|list| self.styles.has_figures(list, level));
        self.explicit = false;
        if let Some((paragraph, kept)) = self.out.paragraph() {
            paragraph.role = role;
            paragraph.indent = Indent {
                left: style.left.unwrap_or_default(),
                right: style.right.unwrap_or_default(),
                first: style.first.unwrap_or_default(),
            };
            paragraph.centred = style.centred.unwrap_or_default();
            paragraph.counted = counted;
            *kept = Kept {
                bold: style.bold.unwrap_or_default(),
                hidden: style.hidden.unwrap_or_default(),
                break_after: style.break_after,
            };
        }
    }

    /// A paragraph's style may begin a page and set the numbering.
    fn start_page(&mut self, style: &super::styles::Style) {
        let first = self.out.here() == 0;
        if (style.break_before || style.master_page.is_some()) && !first {
            self.out.page_break(false);
        }
        if style.master_page.is_some() || style.page_number.is_some() || self.layout.is_none() {
            self.end_layout();
            let master = style.master_page.clone();
            let master = master.unwrap_or_else(|| "Standard".to_owned());
            self.layout = Some((style.page_number, master));
        }
    }

    fn end_layout(&mut self) {
        if let Some((first, master)) = self.layout.take() {
            self.sections.push(Section {
                end: self.out.here(),
                first,
                numerals: self.styles.numerals(&master),
            });
        }
    }

    fn start_note(&mut self, element: &Element<'_>, place: ByteRange) {
        let endnote = element.get("note-class").as_deref() == Some("endnote");
        self.notes += 1;
        let note = NoteName {
            endnote,
            id: self.notes.to_string(),
        };
        self.out.call(note.clone(), place);
        self.out.start_story(Some(note));
    }

    fn start_mark(&mut self, name: String, meaning: Meaning) {
        if meaning != Meaning::Plain {
            let place = (self.out.here(), self.out.depth(), meaning);
            self.marks.insert(name, place);
        }
    }

    fn end_mark(&mut self, element: &Element<'_>) {
        let name = element.get("name").unwrap_or_default();
        self.close_mark(&name);
    }

    fn close_mark(&mut self, name: &str) {
        if let Some((start, depth, meaning)) = self.marks.remove(name) {
            self.out.give(meaning, start, depth);
        }
    }
}
