//! From the paragraphs of a word processor's file to a [`Text`](crate::text::Text).
//!
//! 1. A reader of the format writes what is visible into [`Story`]s ([`writing`]): one for the running text,
//!    one for each footnote. [`meaning`] reads what hidden words say about it. A Story is characters with
//!    their positions in the package, cut into [`Paragraph`]s with what the format records of each: style,
//!    indents, cell of a table.
//! 2. [`roles`] decides from these records what each paragraph is.
//! 3. [`assembly`] joins the stories, the notes in order of their calls, and finds page marks and the list of
//!    references as for every other format.
//! 4. [`numbering`] names the pages where the file records them; [`csl`] reads the citations that reference
//!    managers store.

mod assembly;
mod base64;
mod csl;
mod meaning;
pub(super) mod numbering;
mod roles;
mod writing;

pub(super) use assembly::assemble;
pub(super) use csl::{Cluster, Work, locator, locator_of_suffix};
pub(super) use meaning::{Meaning, role_of_style, stored};
pub(super) use numbering::{Numbering, PageBreak, Section};
pub(super) use writing::Writing;

use std::collections::BTreeMap;

use crate::text::{ByteRange, PartPiece};

/// What the format records about the purpose of a paragraph.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Role {
    /// Nothing in particular.
    #[default]
    Body,
    /// A heading or title of this level.
    Heading(u8),
    /// Set off as somebody else's words.
    Quotation,
    /// An item of a list.
    Item,
    /// A caption: prose that is never a block quotation, whatever its indents.
    Caption,
    /// Preformatted.
    Code,
    /// A line of a table of contents or an index.
    Contents,
    /// An entry of the list of references.
    Reference,
}

/// Indents in twentieths of a point, as far as known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Indent {
    /// Of all lines, from the left (or the side where lines begin).
    pub left: i32,
    /// Of all lines, from the other side.
    pub right: i32,
    /// Of the first line, in addition to `left`; negative for a hanging indent.
    pub first: i32,
}

/// The cell of a table that holds a paragraph.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Cell {
    /// Number of the table in its story; a table inside a cell belongs to the table around it.
    pub table: u32,
    /// Number of the row.
    pub row: u32,
    /// Number of the cell in its row.
    pub column: u32,
}

/// A paragraph of a story.
#[derive(Debug, Clone, Default)]
pub(super) struct Paragraph {
    /// Where its characters stand in the story.
    pub start: usize,
    /// The position after its last character.
    pub end: usize,
    /// Its purpose.
    pub role: Role,
    /// Its indents.
    pub indent: Indent,
    /// Whether its lines are centred.
    pub centred: bool,
    /// How many of its bytes are bold.
    pub bold: usize,
    /// Whether it has a number in an ordered list, which is not part of the text.
    pub counted: bool,
    /// The cell that holds it.
    pub cell: Option<Cell>,
}

impl Paragraph {
    /// Gives it the purpose of what it stands in, unless it already has one of its own.
    fn take_role(&mut self, role: Role) {
        if matches!(self.role, Role::Body | Role::Item | Role::Quotation) {
            self.role = role;
        }
    }
}

/// Which note a call refers to.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct NoteName {
    /// Whether it is an endnote.
    pub endnote: bool,
    /// Its name in the file.
    pub id: String,
}

/// The call of a note.
#[derive(Debug, Clone)]
pub(super) struct Call {
    /// Its position in the story.
    pub at: usize,
    /// The note.
    pub note: NoteName,
    /// The place of its tag: the number of the part, and the position in it.
    pub source: (u16, ByteRange),
}

/// Visible characters in reading order, and what lies between them.
#[derive(Debug, Clone, Default)]
pub(super) struct Story {
    /// All characters. Each paragraph is followed by a line end that belongs to none, so that the end of one
    /// and the start of the next are two positions.
    pub text: String,
    /// Where they came from.
    pub pieces: Vec<PartPiece>,
    /// The paragraphs in order.
    pub paragraphs: Vec<Paragraph>,
    /// Calls of notes.
    pub calls: Vec<Call>,
    /// Citations as recorded, with their visible characters.
    pub citations: Vec<(ByteRange, Cluster)>,
    /// Page breaks in order.
    pub breaks: Vec<PageBreak>,
    /// How many tables have begun.
    pub tables: u32,
}

impl Story {
    /// The position after the last character.
    pub(super) fn end(&self) -> usize {
        self.text.len()
    }

    /// Writes characters that come from `source` in a part.
    pub(super) fn write(&mut self, characters: &str, part: u16, source: ByteRange) {
        if characters.is_empty() {
            return;
        }
        let text = ByteRange::of(self.end(), self.end() + characters.len());
        self.text.push_str(characters);
        let verbatim = text.len() == source.len();
        if let Some(last) = self.pieces.last_mut()
            && verbatim
            && last.part == part
            && last.text.len() == last.source.len()
            && last.text.end() == text.start()
            && last.source.end() == source.start()
        {
            last.text = last.text.hull(text);
            last.source = last.source.hull(source);
        } else {
            self.pieces.push(PartPiece { text, part, source });
        }
    }

    /// Ends a paragraph, which consists of all characters from its start on.
    pub(super) fn end_paragraph(&mut self, mut paragraph: Paragraph) {
        paragraph.end = self.end();
        self.text.push('\n');
        self.paragraphs.push(paragraph);
    }

    /// Appends another story to this one.
    pub(super) fn append(&mut self, other: Self) {
        let shift = self.end();
        let moved = |range: ByteRange| ByteRange::of(range.start() + shift, range.end() + shift);
        self.text.push_str(&other.text);
        let pieces = other.pieces.into_iter();
        self.pieces.extend(pieces.map(|piece| PartPiece {
            text: moved(piece.text),
            ..piece
        }));
        let tables = self.tables;
        let paragraphs = other.paragraphs.into_iter();
        self.paragraphs
            .extend(paragraphs.map(|paragraph| Paragraph {
                start: paragraph.start + shift,
                end: paragraph.end + shift,
                cell: paragraph.cell.map(|cell| Cell {
                    table: cell.table + tables,
                    ..cell
                }),
                ..paragraph
            }));
        let calls = other.calls.into_iter();
        self.calls.extend(calls.map(|call| Call {
            at: call.at + shift,
            ..call
        }));
        let citations = other.citations.into_iter();
        self.citations
            .extend(citations.map(|(range, cluster)| (moved(range), cluster)));
        let breaks = other.breaks.into_iter();
        self.breaks.extend(breaks.map(|page| PageBreak {
            at: page.at + shift,
            ..page
        }));
        self.tables += other.tables;
    }

    /// The characters of a paragraph.
    pub(super) fn slice(&self, paragraph: &Paragraph) -> &str {
        self.text
            .get(paragraph.start..paragraph.end)
            .unwrap_or_default()
    }
}

/// A document as its format records it.
#[derive(Debug, Default)]
pub(super) struct Manuscript {
    /// The names of the parts that pieces refer to.
    pub parts: Vec<String>,
    /// The running text.
    pub body: Story,
    /// The notes.
    pub notes: BTreeMap<NoteName, Story>,
    /// How its pages are numbered.
    pub numbering: Numbering,
}
