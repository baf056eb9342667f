//! Fields, content controls and bookmarks, which give a stretch of text a meaning.

use super::{Control, Walk};
use crate::reading::Unreadable;
use crate::reading::docx::fields::{Field, Stretch};
use crate::reading::docx::styles::is_on;
use crate::reading::flow::Meaning;
use crate::reading::package::xml::{Element, Node};

impl Walk<'_> {
    pub(super) fn instruction(&mut self) -> Result<(), Unreadable> {
        let text = self.xml.text()?;
        if let Some(field) = self.fields.last_mut()
            && field.result.is_none()
        {
            field.instruction.push_str(&text);
        }
        Ok(())
    }

    pub(super) fn field_sign(&mut self, kind: Option<&str>) {
        match kind {
            Some("begin") => self.start_field(String::new()),
            Some("separate") => self.start_result(),
            Some("end") => self.end_field(),
            _ => {}
        }
    }

    pub(super) fn start_field(&mut self, instruction: String) {
        self.fields.push(Field {
            instruction,
            result: None,
        });
    }

    /// A stretch that begins here.
    pub(super) fn stretch(&self, meaning: Meaning) -> Stretch {
        Stretch {
            start: self.out.here(),
            depth: self.out.depth(),
            meaning,
        }
    }

    pub(super) fn give(&mut self, stretch: Stretch) {
        self.out.give(stretch.meaning, stretch.start, stretch.depth);
    }

    pub(super) fn start_result(&mut self) {
        if let Some(mut field) = self.fields.pop() {
            if field.result.is_none() {
                let own = self.setting.sources.cluster(&field.instruction);
                let meaning = own.map_or_else(
                    || Meaning::of_instruction(&field.instruction),
                    Meaning::Citation,
                );
                field.result = Some(self.stretch(meaning));
            }
            self.fields.push(field);
        }
    }

    pub(super) fn end_field(&mut self) {
        if let Some(result) = self.fields.pop().and_then(|field| field.result) {
            self.give(result);
        }
    }

    pub(super) fn start_control(&mut self) {
        self.controls.push(Control {
            stretch: self.stretch(Meaning::Plain),
            placeholder: false,
        });
    }

    pub(super) fn control_properties(&mut self) -> Result<(), Unreadable> {
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
                    let meaning_of_tag = Meaning::of_tag(value.as_deref().unwrap_or_default());
                    if meaning_of_tag != Meaning::Plain {
                        meaning = meaning_of_tag;
                    }
                }
                "showingPlcHdr" => {
                    placeholder = value.is_none_or(|value| is_on(&value));
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
            control.stretch.meaning = meaning;
            control.placeholder = placeholder;
        }
        Ok(())
    }

    pub(super) fn end_control(&mut self) {
        if let Some(control) = self.controls.pop() {
            self.give(control.stretch);
        }
    }

    pub(super) fn start_bookmark(&mut self, element: &Element<'_>) {
        let name = element.get("name").unwrap_or_default();
        let id = element.get("id").unwrap_or_default();
        if let Some(meaning) = self.setting.stored.get(&name) {
            self.bookmarks.insert(id, self.stretch(meaning.clone()));
        }
    }

    pub(super) fn end_bookmark(&mut self, element: &Element<'_>) {
        let id = element.get("id").unwrap_or_default();
        if let Some(stretch) = self.bookmarks.remove(&id) {
            self.give(stretch);
        }
    }
}
