//! Markdown. The Text is the prose without its markup:
//!
//! 1. The parser's events come with their place in the file. Characters that stand in the file as
//!    they are become [`Piece`]s; entities and the line ends and blanks we put in have no origin.
//! 2. Paragraphs, headings, items, tables and so on become blocks with a blank line between. What
//!    stands in a block quotation, however nested, is one block.
//! 3. A footnote stays where the file has it; its calls ([`NoteCall`]) say where it belongs.
//! 4. Left out: addresses of links, the marks of footnote calls, HTML, front matter, the boxes of task lists.
//!    Left in: the words of links and code, the descriptions of pictures (Pandoc's captions), and
//!    everything Pandoc alone gives a meaning (`[@key, p. 3]`, `{#key}` behind a heading).

use std::collections::BTreeMap;
use std::ops::Range;

use pulldown_cmark::{Event, LinkType, Options, Parser, Tag, TagEnd};

use super::{pages, reference_list};
use crate::text::{Block, BlockKind, ByteRange, NoteCall, Origin, Pages, Piece, Text};

/// Reads Markdown. `origin` says how the content came from the file. Gives the Text and whether
/// HTML blocks were left out.
pub(super) fn read(content: &str, origin: &Origin) -> (Text, bool) {
    let options = Options::ENABLE_TABLES
        | Options::ENABLE_FOOTNOTES
        | Options::ENABLE_STRIKETHROUGH
        | Options::ENABLE_TASKLISTS
        | Options::ENABLE_YAML_STYLE_METADATA_BLOCKS;
    let mut writer = Writer::new(content);
    for (event, range) in Parser::new_ext(content, options).into_offset_iter() {
        writer.take(event, range);
    }
    writer.close_block();
    let calls = writer.note_calls();
    let Writer {
        out,
        blocks,
        pieces,
        html,
        ordered,
        ..
    } = writer;
    let marks = pages::find(&out);
    let blocks = pages::join_broken(&out, &marks, blocks);
    let blocks = reference_list::mark(&out, blocks);
    let origin = match origin {
        Origin::Same { skipped } => Origin::Pieces {
            pieces: behind(pieces, *skipped),
            included: Vec::new(),
        },
        _ => Origin::Recoded,
    };
    let text = Text::new(out, blocks, Pages::new(marks), origin).with_note_calls(calls);
    let numbered = reference_list::is_numbered(text.blocks(), &ordered);
    let text = text.with_numbered_references(numbered);
    (text, html)
}

/// The same pieces in a file with so many bytes before the content.
fn behind(mut pieces: Vec<Piece>, skipped: u32) -> Vec<Piece> {
    for piece in &mut pieces {
        piece.file_start = piece.file_start.saturating_add(skipped);
    }
    pieces
}

/// Containers that decide what a block inside them is.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Container {
    Quotation,
    Item,
    Footnote,
}

/// Writes the Text event by event.
struct Writer<'a> {
    file: &'a str,
    out: String,
    blocks: Vec<Block>,
    pieces: Vec<Piece>,
    containers: Vec<Container>,
    /// What the block at hand is and where it starts, once it has text.
    open: Option<(BlockKind, usize)>,
    /// What the next block is, if not what its containers say.
    kind: Option<BlockKind>,
    /// Where the outermost block quotation starts, once it has text.
    quotation_start: Option<usize>,
    quotations: usize,
    /// How many elements whose text is left out are open.
    hidden: usize,
    /// For each open link, whether its text is nothing but its address.
    links: Vec<bool>,
    /// How many cells of the table row at hand have begun.
    cells: usize,
    /// Calls of footnotes: where, and the label.
    calls: Vec<(usize, String)>,
    /// The open footnotes: label and where they start.
    open_notes: Vec<(String, usize)>,
    /// The footnotes by label.
    notes: BTreeMap<String, ByteRange>,
    /// For each open list, whether it is ordered.
    lists: Vec<bool>,
    /// Where blocks start that are items of ordered lists.
    ordered: Vec<usize>,
    html: bool,
}

impl<'a> Writer<'a> {
    fn new(file: &'a str) -> Self {
        Self {
            file,
            out: String::with_capacity(file.len()),
            blocks: Vec::new(),
            pieces: Vec::new(),
            containers: Vec::new(),
            open: None,
            kind: None,
            quotation_start: None,
            quotations: 0,
            hidden: 0,
            links: Vec::new(),
            cells: 0,
            calls: Vec::new(),
            open_notes: Vec::new(),
            notes: BTreeMap::new(),
            lists: Vec::new(),
            ordered: Vec::new(),
            html: false,
        }
    }

    fn take(&mut self, event: Event<'_>, range: Range<usize>) {
        match event {
            Event::Start(tag) => self.start(&tag, range),
            Event::End(tag) => self.end(tag),
            Event::Text(text) => self.write(&text, range),
            Event::Code(text) => {
                let source = self.file.get(range.clone()).unwrap_or_default();
                let inside = source.find(&*text).unwrap_or_default();
                let start = range.start + inside;
                self.write(&text, start..start + text.len());
            }
            Event::SoftBreak | Event::HardBreak => self.write("\n", range),
            Event::FootnoteReference(label) if self.hidden == 0 => {
                self.calls.push((self.out.len(), label.into_string()));
            }
            Event::InlineHtml(html) if is_line_break(&html) => self.write("\n", range),
            _ => {}
        }
    }

    fn start(&mut self, tag: &Tag<'_>, range: Range<usize>) {
        match tag {
            Tag::Heading { level, .. } => {
                let level = *level as u8;
                self.start_block(Some(BlockKind::Heading { level }));
            }
            Tag::CodeBlock(_) => self.start_block(Some(BlockKind::Code)),
            Tag::Table(_) => self.start_block(Some(BlockKind::Table)),
            Tag::Paragraph => self.start_block(None),
            Tag::List(first) => {
                self.start_block(None);
                self.lists.push(first.is_some());
            }
            Tag::TableHead | Tag::TableRow => self.cells = 0,
            Tag::TableCell => self.start_cell(),
            Tag::BlockQuote(_) => {
                self.enter(Container::Quotation);
                self.quotations += 1;
            }
            Tag::Item => self.enter(Container::Item),
            Tag::FootnoteDefinition(label) => {
                self.enter(Container::Footnote);
                self.open_notes.push((label.to_string(), self.out.len()));
            }
            Tag::MetadataBlock(_) => self.hidden += 1,
            Tag::HtmlBlock => {
                self.close_block();
                let html = self.file.get(range).unwrap_or_default();
                self.html |= !html.trim_start().starts_with("<!--");
            }
            Tag::Link { link_type, .. } => {
                let bare = matches!(link_type, LinkType::Autolink | LinkType::Email);
                self.links.push(bare);
                self.hidden += usize::from(bare);
            }
            _ => {}
        }
    }

    fn end(&mut self, tag: TagEnd) {
        match tag {
            TagEnd::List(_) => {
                self.close_block();
                self.lists.pop();
            }
            TagEnd::Paragraph | TagEnd::Heading(_) | TagEnd::CodeBlock | TagEnd::Table => {
                self.close_block();
            }
            TagEnd::BlockQuote(_) => {
                self.close_block();
                self.containers.pop();
                self.quotations -= usize::from(self.quotations > 0);
                if self.quotations == 0
                    && let Some(start) = self.quotation_start.take()
                {
                    self.push_block(BlockKind::BlockQuotation, start);
                }
            }
            TagEnd::Item => {
                self.close_block();
                self.containers.pop();
            }
            TagEnd::FootnoteDefinition => {
                self.close_block();
                self.containers.pop();
                self.close_note();
            }
            TagEnd::Link => {
                let bare = self.links.pop().unwrap_or_default();
                self.hidden = self.hidden.saturating_sub(usize::from(bare));
            }
            TagEnd::MetadataBlock(_) => self.hidden = self.hidden.saturating_sub(1),
            _ => {}
        }
    }
}

/// Blocks and pieces.
impl Writer<'_> {
    fn enter(&mut self, container: Container) {
        self.close_block();
        self.containers.push(container);
    }

    fn start_block(&mut self, kind: Option<BlockKind>) {
        self.close_block();
        self.kind = kind;
    }

    fn close_block(&mut self) {
        self.kind = None;
        if let Some((kind, start)) = self.open.take()
            && self.quotations == 0
        {
            self.push_block(kind, start);
        }
    }

    /// Adds the block from a place to the end of what is written.
    fn push_block(&mut self, kind: BlockKind, start: usize) {
        let range = self.solid(start);
        if !range.is_empty() {
            self.blocks.push(Block { kind, range });
        }
    }

    /// The first of two footnotes with one label counts, as in the parser.
    fn close_note(&mut self) {
        let Some((label, start)) = self.open_notes.pop() else {
            return;
        };
        let range = self.solid(start);
        if !range.is_empty() {
            self.notes.entry(label).or_insert(range);
        }
    }

    /// What is written from a place on, without the blank space around it.
    fn solid(&self, start: usize) -> ByteRange {
        let written = self.out.get(start..).unwrap_or_default();
        let solid = written.trim_start();
        let start = self.out.len() - solid.len();
        ByteRange::of(start, start + solid.trim_end().len())
    }

    /// The calls of footnotes that the file has.
    fn note_calls(&self) -> Vec<NoteCall> {
        let call = |(at, label): &(usize, String)| {
            let note = *self.notes.get(label)?;
            Some(NoteCall { at: *at, note })
        };
        self.calls.iter().filter_map(call).collect()
    }

    fn container_kind(&self) -> BlockKind {
        if self.containers.contains(&Container::Footnote) {
            BlockKind::Footnote
        } else if self.containers.last() == Some(&Container::Item) {
            BlockKind::ListItem
        } else {
            BlockKind::Paragraph
        }
    }

    /// Cells are parted by tabs, rows by line ends.
    fn start_cell(&mut self) {
        if self.open.is_some() {
            self.out.push(if self.cells == 0 { '\n' } else { '\t' });
        }
        self.cells += 1;
    }

    /// Writes the text of a stretch of the file, which becomes a piece if it stands there as it is.
    fn write(&mut self, text: &str, range: Range<usize>) {
        if self.hidden > 0 || (self.open.is_none() && text.trim().is_empty()) {
            return;
        }
        if self.open.is_none() {
            if !self.out.is_empty() {
                self.out.push_str("\n\n");
            }
            let kind = self.kind.unwrap_or_else(|| self.container_kind());
            self.open = Some((kind, self.out.len()));
            if self.lists.last() == Some(&true) {
                self.ordered.push(self.out.len());
            }
            if self.quotations > 0 {
                self.quotation_start.get_or_insert(self.out.len());
            }
        }
        let written = ByteRange::of(self.out.len(), self.out.len() + text.len());
        self.out.push_str(text);
        let file_start = range.start;
        if self.file.get(range) == Some(text) && !text.is_empty() {
            self.add_piece(written, file_start);
        }
    }

    /// Adds a piece, to the one before where both texts go on from there.
    fn add_piece(&mut self, text: ByteRange, file_start: usize) {
        if let Some(last) = self.pieces.last_mut()
            && last.text.end() == text.start()
            && last.file_start as usize + last.text.len() == file_start
        {
            last.text = last.text.hull(text);
        } else {
            // Reading refuses files whose positions don't fit into 32 bits.
            let file_start = u32::try_from(file_start).unwrap_or(u32::MAX);
            self.pieces.push(Piece { text, file_start });
        }
    }
}

fn is_line_break(html: &str) -> bool {
    html.get(..3)
        .is_some_and(|name| name.eq_ignore_ascii_case("<br"))
}

#[cfg(test)]
mod tests;
