//! Markdown. The Text is the prose without its markup:
//!
//! 1. The parser's events come with their position in the file. Characters that stand in the file unchanged
//!    become pieces of the Text; entities, and the line ends and blanks that are added, have no origin.
//! 2. Paragraphs, headings, items, tables and so on become blocks with a blank line between. What stands in a
//!    block quotation, however nested, is one block.
//! 3. A footnote stays where the file has it; its calls show where it belongs.
//! 4. Left out: addresses of links, the marks of footnote calls, HTML, front matter, the boxes of task lists.
//!    Kept: the words of links and code, the descriptions of pictures (Pandoc's captions), and everything
//!    that has a meaning only in Pandoc (`[@key, p. 3]`, `{#key}` after a heading).

use std::ops::Range;

use pulldown_cmark::{Event, LinkType, Options, Parser, Tag, TagEnd};

use super::builder::Builder;
use crate::text::{BlockKind, Origin, Text};

/// Reads Markdown. `origin` is how the content came from the file. Returns the Text and whether HTML blocks
/// were left out.
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
    (writer.out.finish(origin), writer.html)
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
    out: Builder,
    containers: Vec<Container>,
    /// The kind of the next block, if it is not what its containers say.
    kind: Option<BlockKind>,
    /// How many elements whose text is left out are open.
    hidden: usize,
    /// For each open link, whether its text is only its address.
    links: Vec<bool>,
    /// How many cells of the current table row have begun.
    cells: usize,
    /// The open footnotes: label and where they start.
    open_notes: Vec<(String, usize)>,
    /// For each open list, whether it is ordered.
    lists: Vec<bool>,
    html: bool,
}

impl<'a> Writer<'a> {
    fn new(file: &'a str) -> Self {
        Self {
            file,
            out: Builder::with_capacity(file.len()),
            containers: Vec::new(),
            kind: None,
            hidden: 0,
            links: Vec::new(),
            cells: 0,
            open_notes: Vec::new(),
            lists: Vec::new(),
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
                self.out.call(self.out.end(), &label);
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
                self.out.enter_quotation();
            }
            Tag::Item => self.enter(Container::Item),
            Tag::FootnoteDefinition(label) => {
                self.enter(Container::Footnote);
                self.open_notes.push((label.to_string(), self.out.end()));
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
                self.out.leave_quotation();
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

/// Blocks.
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
        self.out.close();
    }

    fn close_note(&mut self) {
        if let Some((label, start)) = self.open_notes.pop() {
            self.out.note(label, start);
        }
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

    /// Cells are separated by tabs, rows by line ends.
    fn start_cell(&mut self) {
        if self.out.is_open() {
            let sign = if self.cells == 0 { "\n" } else { "\t" };
            self.out.write(sign, None);
        }
        self.cells += 1;
    }

    /// Writes the text of a stretch of the file, which becomes a piece if it stands there unchanged.
    fn write(&mut self, text: &str, range: Range<usize>) {
        if self.hidden > 0 || (!self.out.is_open() && text.trim().is_empty()) {
            return;
        }
        if !self.out.is_open() {
            let kind = self.kind.unwrap_or_else(|| self.container_kind());
            self.out.begin(kind, self.lists.last() == Some(&true));
        }
        let file_start = range.start;
        let same = self.file.get(range) == Some(text);
        self.out.write(text, same.then_some(file_start));
    }
}

fn is_line_break(html: &str) -> bool {
    html.get(..3)
        .is_some_and(|name| name.eq_ignore_ascii_case("<br"))
}

#[cfg(test)]
mod tests;
