//! The tree of a page, stored flat: nodes refer to one another by number, all text lies in one string, and
//! only those attributes are kept that are needed to read the page ([`KEPT`]). So a node costs a fixed number
//! of bytes, and bounding their number bounds the tree.

mod reading;

use std::num::NonZeroU32;

use html5ever::tendril::StrTendril;
use html5ever::{Attribute, QualName};

pub(super) use reading::{Edge, Element, NodeRef};

/// The attributes that are kept.
pub(super) const KEPT: [&str; 10] = [
    "aria-label",
    "class",
    "epub:type",
    "hidden",
    "href",
    "id",
    "role",
    "style",
    "title",
    "type",
];

/// Longest value of an attribute that is kept whole. A page may make thousands of elements from one tag, each
/// of which is examined. No value that is looked for is longer.
const LONGEST_VALUE: usize = 1000;

/// The number of a node.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) struct NodeId(NonZeroU32);

impl NodeId {
    fn index(self) -> usize {
        self.0.get() as usize - 1
    }
}

/// What a node is.
#[derive(Debug, Clone, Copy)]
enum Content {
    /// The page, a comment, the content of a template: nothing that is read.
    Other,
    /// The element of this number.
    Element(u32),
    /// A stretch of the text.
    Text { start: u32, end: u32 },
}

#[derive(Debug)]
struct Node {
    parent: Option<NodeId>,
    previous: Option<NodeId>,
    next: Option<NodeId>,
    first: Option<NodeId>,
    last: Option<NodeId>,
    content: Content,
}

#[derive(Debug)]
struct ElementData {
    name: QualName,
    /// Where its attributes begin and end among all attributes.
    attributes: (u32, u32),
    /// The root of what a template holds.
    template: Option<NodeId>,
}

/// A page.
#[derive(Debug, Default)]
pub(super) struct Tree {
    nodes: Vec<Node>,
    elements: Vec<ElementData>,
    /// For each attribute, the position of its name in [`KEPT`], and its value.
    attributes: Vec<(u8, StrTendril)>,
    text: String,
}

/// Building the tree.
impl Tree {
    /// A page with only its root.
    pub(super) fn new() -> Self {
        let mut tree = Self::default();
        tree.add(Content::Other);
        tree
    }

    /// Nodes and attributes so far.
    pub(super) fn size(&self) -> usize {
        self.nodes.len() + self.attributes.len()
    }

    /// Whether there is more text than positions can number.
    pub(super) fn is_overfull(&self) -> bool {
        u32::try_from(self.text.len()).is_err()
    }

    /// The node that holds all others.
    pub(super) fn root(&self) -> NodeId {
        NodeId(NonZeroU32::MIN)
    }

    fn add(&mut self, content: Content) -> NodeId {
        self.nodes.push(Node {
            parent: None,
            previous: None,
            next: None,
            first: None,
            last: None,
            content,
        });
        // The bound on nodes is far below the largest number.
        let number = NonZeroU32::new(number(self.nodes.len()));
        NodeId(number.unwrap_or(NonZeroU32::MIN))
    }

    /// An element without a place yet.
    pub(super) fn element(
        &mut self,
        name: QualName,
        attributes: Vec<Attribute>,
        is_template: bool,
    ) -> NodeId {
        let start = self.attributes.len();
        for attribute in attributes {
            self.keep(attribute);
        }
        let range = (number(start), number(self.attributes.len()));
        let template = is_template.then(|| self.add(Content::Other));
        let element = number(self.elements.len());
        self.elements.push(ElementData {
            name,
            attributes: range,
            template,
        });
        self.add(Content::Element(element))
    }

    fn keep(&mut self, attribute: Attribute) {
        let kept = KEPT.iter().position(|name| *name == &*attribute.name.local);
        let Some(kept) = kept.and_then(|kept| u8::try_from(kept).ok()) else {
            return;
        };
        let value = attribute.value;
        let value = if value.len() > LONGEST_VALUE {
            let end = value.floor_char_boundary(LONGEST_VALUE);
            StrTendril::from_slice(value.get(..end).unwrap_or_default())
        } else {
            value
        };
        self.attributes.push((kept, value));
    }

    /// A node that is not read.
    pub(super) fn other(&mut self) -> NodeId {
        self.add(Content::Other)
    }

    /// The root of what a template holds, which is not part of the page.
    pub(super) fn template(&self, id: NodeId) -> Option<NodeId> {
        self.data(id)?.template
    }

    /// The name of an element with its namespace.
    pub(super) fn qualified_name(&self, id: NodeId) -> Option<&QualName> {
        Some(&self.data(id)?.name)
    }

    pub(super) fn parent(&self, id: NodeId) -> Option<NodeId> {
        self.nodes.get(id.index())?.parent
    }

    /// Makes a node without a place the last child of another.
    pub(super) fn append(&mut self, parent: NodeId, child: NodeId) {
        let last = self.nodes.get(parent.index()).and_then(|node| node.last);
        self.link(parent, last, child, None);
    }

    /// Puts a node without a place before a sibling.
    pub(super) fn insert_before(&mut self, sibling: NodeId, child: NodeId) {
        let Some((Some(parent), previous)) = self
            .nodes
            .get(sibling.index())
            .map(|node| (node.parent, node.previous))
        else {
            return;
        };
        self.link(parent, previous, child, Some(sibling));
    }

    fn link(
        &mut self,
        parent: NodeId,
        previous: Option<NodeId>,
        child: NodeId,
        next: Option<NodeId>,
    ) {
        self.set(child, |node| {
            node.parent = Some(parent);
            node.previous = previous;
            node.next = next;
        });
        match previous {
            Some(previous) => self.set(previous, |node| node.next = Some(child)),
            None => self.set(parent, |node| node.first = Some(child)),
        }
        match next {
            Some(next) => self.set(next, |node| node.previous = Some(child)),
            None => self.set(parent, |node| node.last = Some(child)),
        }
    }

    /// Removes a node from its place.
    pub(super) fn detach(&mut self, id: NodeId) {
        let Some(node) = self.nodes.get_mut(id.index()) else {
            return;
        };
        let parent = node.parent.take();
        let (previous, next) = (node.previous.take(), node.next.take());
        match (previous, parent) {
            (Some(previous), _) => self.set(previous, |node| node.next = next),
            (None, Some(parent)) => self.set(parent, |node| node.first = next),
            (None, None) => {}
        }
        match (next, parent) {
            (Some(next), _) => self.set(next, |node| node.previous = previous),
            (None, Some(parent)) => self.set(parent, |node| node.last = previous),
            (None, None) => {}
        }
    }

    /// Moves all children of a node to another.
    pub(super) fn reparent(&mut self, from: NodeId, to: NodeId) {
        while let Some(child) = self.nodes.get(from.index()).and_then(|node| node.first) {
            self.detach(child);
            self.append(to, child);
        }
    }

    /// Writes text after the last child of a node.
    pub(super) fn append_text(&mut self, parent: NodeId, text: &str) {
        let last = self.nodes.get(parent.index()).and_then(|node| node.last);
        if !self.extend(last, text) {
            let child = self.write(text);
            self.append(parent, child);
        }
    }

    /// Writes text before a sibling.
    pub(super) fn insert_text_before(&mut self, sibling: NodeId, text: &str) {
        let previous = self
            .nodes
            .get(sibling.index())
            .and_then(|node| node.previous);
        if !self.extend(previous, text) {
            let child = self.write(text);
            self.insert_before(sibling, child);
        }
    }

    /// Appends text to a node, if the node is text and was written last.
    fn extend(&mut self, id: Option<NodeId>, text: &str) -> bool {
        let behind = number(self.text.len());
        let node = id.and_then(|id| self.nodes.get_mut(id.index()));
        if let Some(Node {
            content: Content::Text { end, .. },
            ..
        }) = node
            && *end == behind
        {
            self.text.push_str(text);
            *end = number(self.text.len());
            return true;
        }
        false
    }

    fn write(&mut self, text: &str) -> NodeId {
        let start = number(self.text.len());
        self.text.push_str(text);
        let end = number(self.text.len());
        self.add(Content::Text { start, end })
    }

    fn set(&mut self, id: NodeId, change: impl FnOnce(&mut Node)) {
        if let Some(node) = self.nodes.get_mut(id.index()) {
            change(node);
        }
    }

    fn data(&self, id: NodeId) -> Option<&ElementData> {
        match self.nodes.get(id.index())?.content {
            Content::Element(element) => self.elements.get(element as usize),
            _ => None,
        }
    }
}

/// A number of 32 bits, which the bounds on nodes and on files guarantee.
fn number(size: usize) -> u32 {
    u32::try_from(size).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use html5ever::{LocalName, ns};

    use super::*;

    fn shape(tree: &Tree) -> String {
        let mut out = String::new();
        for edge in NodeRef::root(tree).edges() {
            match edge {
                Edge::Open(node) => match (node.element(), node.text()) {
                    (Some(element), _) => out.push_str(&format!("<{}>", element.name())),
                    (None, Some(text)) => out.push_str(text),
                    _ => {}
                },
                Edge::Close(node) => {
                    if let Some(element) = node.element() {
                        out.push_str(&format!("</{}>", element.name()));
                    }
                }
            }
        }
        out
    }

    fn named(tree: &mut Tree, name: &str) -> NodeId {
        let name = QualName::new(None, ns!(html), LocalName::from(name));
        tree.element(name, Vec::new(), false)
    }

    #[test]
    fn nodes_are_put_moved_and_taken() {
        let mut tree = Tree::new();
        let root = tree.root();
        let (a, b, c) = (
            named(&mut tree, "a"),
            named(&mut tree, "b"),
            named(&mut tree, "c"),
        );
        tree.append(root, a);
        tree.append_text(a, "lamp");
        tree.append_text(a, "s ");
        tree.append(a, b);
        tree.append_text(b, "moths");
        tree.insert_text_before(b, "and ");
        tree.insert_before(b, c);
        assert_eq!(shape(&tree), "<a>lamps and <c></c><b>moths</b></a>");
    }

    #[test]
    fn children_move_to_another_node() {
        let mut tree = Tree::new();
        let root = tree.root();
        let (a, b, c) = (
            named(&mut tree, "a"),
            named(&mut tree, "b"),
            named(&mut tree, "c"),
        );
        tree.append(root, a);
        tree.append(root, c);
        tree.append(a, b);
        tree.append_text(a, "lamp");
        tree.reparent(a, c);
        assert_eq!(shape(&tree), "<a></a><c><b></b>lamp</c>");
        tree.detach(b);
        assert_eq!(shape(&tree), "<a></a><c>lamp</c>");
        tree.insert_before(c, b);
        assert_eq!(shape(&tree), "<a></a><b></b><c>lamp</c>");
    }
}
