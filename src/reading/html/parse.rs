//! From markup to a [`Tree`], built as browsers build it, within bounds. The parser itself sets no bounds, so
//! the page is given to it in pieces and its costs are counted from outside:
//!
//! 1. Nodes and attributes of the tree. A tag that is never closed may be opened again in every paragraph
//!    after it (`<b>`, `<font>`), so a short page can make any number of elements.
//! 2. How deep elements are nested, and how many are to be opened again: the parser goes through these for
//!    every tag.
//! 3. The attributes of a tag, each of which the parser compares with those before it. They are counted
//!    before the piece is given to it ([`Attributes`]).
//!
//! The last two are kept as one sum of work.

use std::cell::Cell;

use html5ever::TokenizerResult;
use html5ever::buffer_queue::BufferQueue;
use html5ever::tendril::StrTendril;
use html5ever::tokenizer::{
    Tag, TagKind, Token, TokenSink, TokenSinkResult, Tokenizer, TokenizerOpts,
};
use html5ever::tree_builder::{Tracer, TreeBuilder, TreeSink};

use super::attributes::Attributes;
use super::sink::Sink;
use super::tree::{KEPT, NodeId, Tree};
use crate::reading::Unreadable;

/// Most elements that are open at once; one that is to be opened again in the next paragraph counts twice. No page made
/// by people comes near this.
pub(in crate::reading) const MOST_OPEN: usize = 4000;

/// Most work: the number of comparisons that take two or three seconds. A page of a hundred megabytes with
/// elements nested thirty deep needs a third of that.
const MOST_WORK: u64 = 500_000_000;

/// The open elements are counted once for this many tags.
const TAGS_A_LOOK: u64 = 16;

/// Most bytes given to the parser at once.
const PIECE: usize = 16 * 1024;

/// Attributes that the parser itself uses, besides those that are kept.
const STEERING: [&str; 5] = ["color", "encoding", "face", "shadowrootmode", "size"];

/// Elements that have no content and no end tag (published: HTML Living Standard, 13.1.2).
const VOID: [&str; 14] = [
    "area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "param", "source",
    "track", "wbr",
];

/// What the trees of a document, which may have several pages, may still cost.
#[derive(Debug, Clone, Copy)]
pub(in crate::reading) struct Room {
    /// Nodes and attributes.
    pub nodes: usize,
    /// How many were allowed at first.
    all: usize,
    /// Comparisons of tags and attributes.
    work: u64,
}

impl Room {
    /// Room for so many nodes and attributes.
    pub(in crate::reading) fn of(nodes: usize) -> Self {
        Self {
            nodes,
            all: nodes,
            work: MOST_WORK,
        }
    }
}

/// Builds the tree of a page, and subtracts its cost from the room.
///
/// # Errors
/// [`Unreadable::OverLimit`] where there is no room for so many nodes, [`Unreadable::Excessive`] where they
/// are nested thousands deep or tags have too many attributes.
pub(super) fn parse(content: &str, room: &mut Room) -> Result<Tree, Unreadable> {
    let builder = TreeBuilder::new(Sink::new(), Default::default());
    let watched = Watched {
        builder,
        is_xhtml: is_xhtml(content),
        nodes: room.nodes,
        spent: Spent::within(room.work),
        ended_token: Cell::new(true),
    };
    let tokenizer = Tokenizer::new(watched, TokenizerOpts::default());
    let input = BufferQueue::default();
    let mut attributes = Attributes::default();
    // Each piece except the first comes after a `<`, so at most one tag begins in it.
    for (at, mut piece) in content.split_inclusive('<').enumerate() {
        if at > 0 && tokenizer.sink.ended_token.replace(false) {
            attributes.begin_tag();
        }
        while !piece.is_empty() {
            let (now, later) = piece.split_at(piece.floor_char_boundary(PIECE));
            let spent = &tokenizer.sink.spent;
            spent.add(attributes.read(now));
            if let Some(crossed) = spent.crossed.get() {
                return Err(crossed.refusal(room));
            }
            input.push_back(StrTendril::from_slice(now));
            // Scripts are not run, so the parser continues at once.
            while !matches!(tokenizer.feed(&input), TokenizerResult::Done) {}
            piece = later;
        }
    }
    tokenizer.end();
    if let Some(crossed) = tokenizer.sink.spent.crossed.get() {
        return Err(crossed.refusal(room));
    }
    let work_left = tokenizer.sink.spent.left.get();
    let tree = tokenizer.sink.builder.sink.finish();
    room.nodes = room.nodes.saturating_sub(tree.size());
    room.work = work_left;
    if tree.is_overfull() {
        return Err(Unreadable::Excessive(
            "it holds gigabytes of text".to_owned(),
        ));
    }
    Ok(tree)
}

/// Whether a page is written as XML, where `<title/>` is an element that ends at once. HTML has no such tags
/// and would take everything after it for the title.
fn is_xhtml(content: &str) -> bool {
    let beginning: String = content.chars().take(1000).collect();
    beginning.contains("<?xml") || beginning.contains("http://www.w3.org/1999/xhtml")
}

/// A bound that was crossed.
#[derive(Debug, Clone, Copy)]
enum Crossed {
    Nodes,
    Depth,
    Work,
}

impl Crossed {
    fn refusal(self, room: &Room) -> Unreadable {
        match self {
            Self::Nodes => Unreadable::OverLimit {
                what: format!(
                    "its pages make more than {} elements, attributes and stretches of text",
                    room.all
                ),
                setting: "max_html_nodes",
            },
            Self::Depth => {
                Unreadable::Excessive("its elements are nested thousands deep".to_owned())
            }
            Self::Work => Unreadable::Excessive(
                "its tags have too many attributes or are nested too deep".to_owned(),
            ),
        }
    }
}

/// What parsing has cost so far.
#[derive(Debug)]
struct Spent {
    /// Work that may still be done.
    left: Cell<u64>,
    tags: Cell<u64>,
    crossed: Cell<Option<Crossed>>,
}

impl Spent {
    fn within(work: u64) -> Self {
        Self {
            left: Cell::new(work),
            tags: Cell::new(0),
            crossed: Cell::new(None),
        }
    }

    fn add(&self, work: u64) {
        match self.left.get().checked_sub(work) {
            Some(left) => self.left.set(left),
            None => self.crossed.set(Some(Crossed::Work)),
        }
    }
}

/// The builder of the tree under watch: once a bound is crossed it is given nothing more.
struct Watched {
    builder: TreeBuilder<NodeId, Sink>,
    is_xhtml: bool,
    /// Most nodes and attributes.
    nodes: usize,
    spent: Spent,
    /// Whether a token has ended since this was last read.
    ended_token: Cell<bool>,
}

impl Watched {
    /// Counts the elements that are open or to be opened again, once for every few tags.
    fn look(&self) {
        let tags = self.spent.tags.get();
        self.spent.tags.set(tags + 1);
        if !tags.is_multiple_of(TAGS_A_LOOK) {
            return;
        }
        let count = Count::default();
        self.builder.trace_handles(&count);
        let open = count.0.get();
        if open > MOST_OPEN {
            self.spent.crossed.set(Some(Crossed::Depth));
        }
        self.spent.add(TAGS_A_LOOK * open as u64);
    }

    fn tag(&self, mut tag: Tag, line: u64) -> TokenSinkResult<NodeId> {
        self.look();
        tag.attrs.retain(|attribute| {
            let name = &*attribute.name.local;
            KEPT.contains(&name) || STEERING.contains(&name)
        });
        let ends_at_once = self.is_xhtml
            && tag.self_closing
            && tag.kind == TagKind::StartTag
            && !VOID.contains(&&*tag.name);
        if !ends_at_once {
            return self.builder.process_token(Token::TagToken(tag), line);
        }
        let end = Tag {
            kind: TagKind::EndTag,
            name: tag.name.clone(),
            self_closing: false,
            attrs: Vec::new(),
            had_duplicate_attributes: false,
        };
        tag.self_closing = false;
        // The end tag undoes what the start tag asks of the tokenizer.
        let _ = self.builder.process_token(Token::TagToken(tag), line);
        let _ = self.builder.process_token(Token::TagToken(end), line);
        TokenSinkResult::Continue
    }
}

impl TokenSink for Watched {
    type Handle = NodeId;

    fn process_token(&self, token: Token, line_number: u64) -> TokenSinkResult<NodeId> {
        if matches!(token, Token::ParseError(_)) {
            return TokenSinkResult::Continue;
        }
        self.ended_token.set(true);
        if self.builder.sink.size() > self.nodes {
            self.spent.crossed.set(Some(Crossed::Nodes));
        }
        if self.spent.crossed.get().is_some() {
            return TokenSinkResult::Continue;
        }
        match token {
            Token::TagToken(tag) => self.tag(tag, line_number),
            token => self.builder.process_token(token, line_number),
        }
    }

    fn end(&self) {
        self.builder.end();
    }

    fn adjusted_current_node_present_but_not_in_html_namespace(&self) -> bool {
        self.builder
            .adjusted_current_node_present_but_not_in_html_namespace()
    }
}

/// How many elements the builder of the tree keeps track of.
#[derive(Default)]
struct Count(Cell<usize>);

impl Tracer for Count {
    type Handle = NodeId;

    fn trace_handle(&self, _: &NodeId) {
        self.0.set(self.0.get() + 1);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(content: &str) -> String {
        let mut room = Room {
            work: 20_000_000,
            ..Room::of(100_000)
        };
        match parse(content, &mut room) {
            Ok(_) => String::new(),
            Err(why) => why.to_string(),
        }
    }

    #[test]
    fn ordinary_pages_are_within_bounds() {
        for content in [
            "<p>a<br><li>".repeat(10_000),
            "<div><b>a</b></div>".repeat(10_000),
            "<p>lamp <b>".repeat(300),
            "<div>".repeat(1500),
            format!("<!--{}-->", "<div> a ".repeat(100_000)),
            format!("<script>{}</script>", "if (a<b c d e) ".repeat(100_000)),
            format!("<img src='data:{}'>", "a/b ".repeat(100_000)),
        ] {
            assert_eq!(refused(&content), "", "{:.40}", content);
        }
    }

    #[test]
    fn costs_are_bounded() {
        let different = |count: usize| -> String {
            let tag = |number| format!("<font color='{number}'>");
            (0..count).map(tag).collect()
        };
        let many_attributes: String = (0..100_000).map(|number| format!(" a{number}")).collect();
        for (content, expected) in [
            ("<DIV>".repeat(5000), "thousands deep"),
            ("<div></x>".repeat(5000), "thousands deep"),
            (
                "<p>".to_owned() + &different(1000) + "</p>" + &"<p>lamp</p>".repeat(1000),
                "max_html_nodes",
            ),
            ("<i>lamp</i>".repeat(100_000), "max_html_nodes"),
            (format!("<p{many_attributes}>"), "attributes"),
            (
                format!("<textarea></textarea x='<!'{many_attributes}>"),
                "attributes",
            ),
            ("<span>".repeat(1900) + &"</y>".repeat(20_000), "too deep"),
        ] {
            let why = refused(&content);
            assert!(why.contains(expected), "{:.40}: {why}", content);
        }
    }

    #[test]
    fn the_room_is_shared_by_pages() {
        let mut room = Room::of(1000);
        let page = "<i>lamp</i>".repeat(200);
        assert!(parse(&page, &mut room).is_ok());
        assert!(parse(&page, &mut room).is_ok());
        assert!(parse(&page, &mut room).is_err());
    }
}
