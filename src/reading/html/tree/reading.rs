//! Going through a finished tree: from a node to those around it, and over all nodes in page order. Every
//! walk ends, whatever the links say: none has more steps than there are nodes.

use super::{Content, ElementData, KEPT, Node, NodeId, Tree};

/// A node of a page that is being read.
#[derive(Clone, Copy)]
pub(in crate::reading::html) struct NodeRef<'a> {
    tree: &'a Tree,
    id: NodeId,
}

/// An element of a page that is being read.
#[derive(Clone, Copy)]
pub(in crate::reading::html) struct Element<'a> {
    tree: &'a Tree,
    data: &'a ElementData,
}

impl<'a> Element<'a> {
    /// The name without its namespace.
    pub(in crate::reading::html) fn name(&self) -> &'a str {
        &self.data.name.local
    }

    /// The value of an attribute that is among the [`KEPT`] ones.
    pub(in crate::reading::html) fn attr(&self, name: &str) -> Option<&'a str> {
        let (start, end) = self.data.attributes;
        let own = self.tree.attributes.get(start as usize..end as usize)?;
        let is_it = |kept: u8| KEPT.get(usize::from(kept)) == Some(&name);
        own.iter()
            .find(|(kept, _)| is_it(*kept))
            .map(|(_, value)| &**value)
    }
}

/// The beginning or the end of a node.
#[derive(Clone, Copy)]
pub(in crate::reading::html) enum Edge<'a> {
    Open(NodeRef<'a>),
    Close(NodeRef<'a>),
}

impl<'a> NodeRef<'a> {
    /// The node that holds a whole page.
    pub(in crate::reading::html) fn root(tree: &'a Tree) -> Self {
        let id = tree.root();
        Self { tree, id }
    }

    pub(in crate::reading::html) fn id(self) -> NodeId {
        self.id
    }

    fn node(self) -> Option<&'a Node> {
        self.tree.nodes.get(self.id.index())
    }

    fn at(self, id: Option<NodeId>) -> Option<Self> {
        let tree = self.tree;
        id.map(|id| Self { tree, id })
    }

    /// The element, if the node is one.
    pub(in crate::reading::html) fn element(self) -> Option<Element<'a>> {
        let tree = self.tree;
        tree.data(self.id).map(|data| Element { tree, data })
    }

    /// The text, if the node is text.
    pub(in crate::reading::html) fn text(self) -> Option<&'a str> {
        match self.node()?.content {
            Content::Text { start, end } => self.tree.text.get(start as usize..end as usize),
            _ => None,
        }
    }

    /// Whether it is an element with one of these names.
    pub(in crate::reading::html) fn is_one_of(self, names: &[&str]) -> bool {
        self.element()
            .is_some_and(|element| names.contains(&element.name()))
    }

    pub(in crate::reading::html) fn parent(self) -> Option<Self> {
        self.at(self.node()?.parent)
    }

    pub(in crate::reading::html) fn children(self) -> impl Iterator<Item = Self> + use<'a> {
        let first = self.at(self.node().and_then(|node| node.first));
        let next = |child: &Self| child.at(child.node().and_then(|node| node.next));
        // No tree needs more steps than there are nodes.
        std::iter::successors(first, next).take(self.tree.nodes.len())
    }

    pub(in crate::reading::html) fn ancestors(self) -> impl Iterator<Item = Self> + use<'a> {
        std::iter::successors(self.parent(), |node| node.parent()).take(self.tree.nodes.len())
    }

    /// Beginnings and ends of this node and all below it, in page order.
    pub(in crate::reading::html) fn edges(self) -> impl Iterator<Item = Edge<'a>> + use<'a> {
        let next = move |edge: &Edge<'a>| match *edge {
            Edge::Open(node) => Some(match node.at(node.node()?.first) {
                Some(child) => Edge::Open(child),
                None => Edge::Close(node),
            }),
            Edge::Close(node) if node.id == self.id => None,
            Edge::Close(node) => match node.at(node.node()?.next) {
                Some(next) => Some(Edge::Open(next)),
                None => node.parent().map(Edge::Close),
            },
        };
        // Each node begins once and ends once.
        std::iter::successors(Some(Edge::Open(self)), next).take(2 * self.tree.nodes.len())
    }

    /// This node and all below it, in page order.
    pub(in crate::reading::html) fn descendants(self) -> impl Iterator<Item = Self> + use<'a> {
        self.edges().filter_map(|edge| match edge {
            Edge::Open(node) => Some(node),
            Edge::Close(_) => None,
        })
    }
}
