//! Stories as a reader writes them: paragraphs and tables begin and end, a text box or a note interrupts
//! the paragraph that holds it.

use std::collections::BTreeMap;

use super::{Call, Cell, Cluster, Meaning, NoteName, PageBreak, Paragraph, Role, Story};
use crate::text::ByteRange;

/// A story being written. `P` is what the reader stores with a paragraph.
struct Open<P> {
    story: Story,
    paragraph: Option<(Paragraph, P)>,
    /// Whether the open paragraph continues where the next one begins.
    goes_on: bool,
    /// Rows and cells of the tables around this place, the outermost first.
    tables: Vec<(u32, u32)>,
    /// Text boxes of the open paragraph.
    boxes: Vec<Story>,
    /// The note it is, if any.
    note: Option<NoteName>,
}

impl<P> Open<P> {
    fn new(note: Option<NoteName>) -> Self {
        Self {
            story: Story::default(),
            paragraph: None,
            goes_on: false,
            tables: Vec::new(),
            boxes: Vec::new(),
            note,
        }
    }

    /// The open cell, identified by the outermost table.
    fn cell(&self) -> Option<Cell> {
        let (row, column) = self.tables.first()?;
        Some(Cell {
            table: self.story.tables,
            row: *row,
            column: *column,
        })
    }
}

/// Stories being written, one inside another.
pub(in crate::reading) struct Writing<P> {
    /// The number of the part being read.
    part: u16,
    /// The stories, the innermost last; never empty.
    stories: Vec<Open<P>>,
    notes: BTreeMap<NoteName, Story>,
}

impl<P: Default> Writing<P> {
    /// Starts with the running text of a part.
    pub(in crate::reading) fn new(part: u16) -> Self {
        Self {
            part,
            stories: vec![Open::new(None)],
            notes: BTreeMap::new(),
        }
    }

    /// The innermost story.
    fn open(&mut self) -> Option<&mut Open<P>> {
        self.stories.last_mut()
    }

    /// The position in the innermost story.
    pub(in crate::reading) fn here(&self) -> usize {
        self.stories.last().map_or(0, |open| open.story.end())
    }

    /// How many stories are open; 1 in the running text.
    pub(in crate::reading) fn depth(&self) -> usize {
        self.stories.len()
    }

    /// The open paragraph and what is stored with it.
    pub(in crate::reading) fn paragraph(&mut self) -> Option<&mut (Paragraph, P)> {
        self.open()?.paragraph.as_mut()
    }

    /// Begins a paragraph, or continues the one before.
    pub(in crate::reading) fn start_paragraph(&mut self, within: Option<Role>) {
        let goes_on = self.open().is_some_and(|open| open.goes_on);
        if !goes_on {
            self.end_paragraph(within);
        }
        let Some(open) = self.open() else { return };
        open.goes_on = false;
        if open.paragraph.is_none() {
            let paragraph = Paragraph {
                start: open.story.end(),
                cell: open.cell(),
                ..Paragraph::default()
            };
            open.paragraph = Some((paragraph, P::default()));
        }
    }

    /// Notes that the open paragraph continues where the next one begins.
    pub(in crate::reading) fn go_on(&mut self) {
        if let Some(open) = self.open() {
            open.goes_on = true;
        }
    }

    /// Ends the open paragraph. `within` is the purpose of what it stands in, such as an entry of the list of
    /// references.
    pub(in crate::reading) fn end_paragraph(&mut self, within: Option<Role>) {
        let Some(open) = self.open() else { return };
        open.goes_on = false;
        let mut cell = None;
        if let Some((mut paragraph, _)) = open.paragraph.take() {
            if let Some(role) = within {
                paragraph.take_role(role);
            }
            cell = paragraph.cell;
            open.story.end_paragraph(paragraph);
        }
        for mut text_box in std::mem::take(&mut open.boxes) {
            text_box.breaks.clear();
            let first = open.story.paragraphs.len();
            open.story.append(text_box);
            for paragraph in open.story.paragraphs.iter_mut().skip(first) {
                paragraph.cell = cell.or(paragraph.cell);
            }
        }
    }

    /// Begins a table.
    pub(in crate::reading) fn start_table(&mut self, within: Option<Role>) {
        self.end_paragraph(within);
        if let Some(open) = self.open() {
            open.story.tables += u32::from(open.tables.is_empty());
            open.tables.push((0, 0));
        }
    }

    /// Begins a row.
    pub(in crate::reading) fn next_row(&mut self) {
        self.end_paragraph(None);
        if let Some((row, column)) = self.open().and_then(|open| open.tables.last_mut()) {
            *row += 1;
            *column = 0;
        }
    }

    /// Begins a cell.
    pub(in crate::reading) fn next_cell(&mut self) {
        self.end_paragraph(None);
        if let Some((_, column)) = self.open().and_then(|open| open.tables.last_mut()) {
            *column += 1;
        }
    }

    /// Ends a table.
    pub(in crate::reading) fn end_table(&mut self) {
        self.end_paragraph(None);
        if let Some(open) = self.open() {
            open.tables.pop();
        }
    }

    /// Begins a note, or a text box where there is no name.
    pub(in crate::reading) fn start_story(&mut self, note: Option<NoteName>) {
        self.stories.push(Open::new(note));
    }

    /// Ends the open note or text box. A text box comes after the paragraph that holds it.
    pub(in crate::reading) fn end_story(&mut self) {
        self.end_paragraph(None);
        if self.stories.len() < 2 {
            return;
        }
        let Some(Open { story, note, .. }) = self.stories.pop() else {
            return;
        };
        match (note, self.open()) {
            (Some(note), _) => {
                self.notes.insert(note, story);
            }
            (None, Some(around)) => around.boxes.push(story),
            (None, None) => {}
        }
    }

    /// Writes characters that come from `place` in the part. Begins a paragraph where none is open.
    pub(in crate::reading) fn put(&mut self, characters: &str, place: ByteRange, bold: bool) {
        if self.open().is_none_or(|open| open.paragraph.is_none()) {
            self.start_paragraph(None);
        }
        let part = self.part;
        if let Some(open) = self.open()
            && let Some((paragraph, _)) = &mut open.paragraph
        {
            open.story.write(characters, part, place);
            if bold || characters.trim().is_empty() {
                paragraph.bold += characters.len();
            }
        }
    }

    /// The last character of the open paragraph.
    pub(in crate::reading) fn last_character(&self) -> Option<char> {
        let open = self.stories.last()?;
        let (paragraph, _) = open.paragraph.as_ref()?;
        open.story.text.get(paragraph.start..)?.chars().next_back()
    }

    /// Notes a page break in the running text.
    pub(in crate::reading) fn page_break(&mut self, recorded: bool) {
        if let [body] = self.stories.as_mut_slice() {
            let at = body.story.end();
            body.story.breaks.push(PageBreak { at, recorded });
        }
    }

    /// Notes the call of a note. `place` is the place of its tag.
    pub(in crate::reading) fn call(&mut self, note: NoteName, place: ByteRange) {
        let source = (self.part, place);
        if let Some(open) = self.open() {
            let at = open.story.end();
            open.story.calls.push(Call { at, note, source });
        }
    }

    /// Gives the text from `start` to here its meaning, if all of it lies in the innermost story. `depth` is
    /// the number of stories that were open at its start, which shows whether it does.
    pub(in crate::reading) fn give(&mut self, meaning: Meaning, start: usize, depth: usize) {
        if depth != self.stories.len() {
            return;
        }
        let Some(open) = self.open() else { return };
        match meaning {
            Meaning::Citation(cluster) if start < open.story.end() => {
                cite(&mut open.story, start, cluster);
            }
            Meaning::References => {
                if let Some((paragraph, _)) = &mut open.paragraph
                    && start <= paragraph.start
                {
                    paragraph.take_role(Role::Reference);
                }
            }
            _ => {}
        }
    }

    /// Ends all stories: the running text and the notes.
    pub(in crate::reading) fn finish(mut self) -> (Story, BTreeMap<NoteName, Story>) {
        while self.stories.len() > 1 {
            self.end_story();
        }
        self.end_paragraph(None);
        let body = self.stories.pop().map(|open| open.story);
        (body.unwrap_or_default(), self.notes)
    }
}

/// Adds a citation from `start` to the end. One that overlaps another is the same citation, recorded twice.
fn cite(story: &mut Story, start: usize, cluster: Cluster) {
    let range = ByteRange::of(start, story.end());
    let mut latest = story.citations.iter().rev().take(2);
    if !latest.any(|(known, _)| known.overlaps(range)) {
        story.citations.push((range, cluster));
    }
}
