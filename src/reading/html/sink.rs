//! Where the parser puts its results: into a [`Tree`].

use std::borrow::Cow;
use std::cell::{Ref, RefCell};

use html5ever::tendril::StrTendril;
use html5ever::tree_builder::{ElementFlags, NodeOrText, QuirksMode, TreeSink};
use html5ever::{Attribute, QualName, local_name, ns};

use super::tree::{NodeId, Tree};

/// A tree under construction.
pub(super) struct Sink {
    tree: RefCell<Tree>,
    /// The name returned for a node that is not an element, which the parser promises not to ask for.
    nameless: RefCell<QualName>,
}

impl Sink {
    pub(super) fn new() -> Self {
        Self {
            tree: RefCell::new(Tree::new()),
            nameless: RefCell::new(QualName::new(None, ns!(), local_name!(""))),
        }
    }

    /// Nodes and attributes so far.
    pub(super) fn size(&self) -> usize {
        self.tree.borrow().size()
    }
}

impl TreeSink for Sink {
    type Handle = NodeId;
    type Output = Tree;
    type ElemName<'a> = Ref<'a, QualName>;

    fn finish(self) -> Tree {
        self.tree.into_inner()
    }

    fn parse_error(&self, _: Cow<'static, str>) {}

    fn get_document(&self) -> NodeId {
        self.tree.borrow().root()
    }

    fn elem_name<'a>(&'a self, target: &'a NodeId) -> Ref<'a, QualName> {
        Ref::filter_map(self.tree.borrow(), |tree| tree.qualified_name(*target))
            .unwrap_or_else(|_| self.nameless.borrow())
    }

    fn create_element(&self, name: QualName, attrs: Vec<Attribute>, flags: ElementFlags) -> NodeId {
        self.tree.borrow_mut().element(name, attrs, flags.template)
    }

    fn create_comment(&self, _: StrTendril) -> NodeId {
        self.tree.borrow_mut().other()
    }

    fn create_pi(&self, _: StrTendril, _: StrTendril) -> NodeId {
        self.tree.borrow_mut().other()
    }

    fn append(&self, parent: &NodeId, child: NodeOrText<NodeId>) {
        let mut tree = self.tree.borrow_mut();
        match child {
            NodeOrText::AppendNode(node) => tree.append(*parent, node),
            NodeOrText::AppendText(text) => tree.append_text(*parent, &text),
        }
    }

    fn append_based_on_parent_node(
        &self,
        element: &NodeId,
        prev_element: &NodeId,
        child: NodeOrText<NodeId>,
    ) {
        let has_parent = self.tree.borrow().parent(*element).is_some();
        if has_parent {
            self.append_before_sibling(element, child);
        } else {
            self.append(prev_element, child);
        }
    }

    fn append_doctype_to_document(&self, _: StrTendril, _: StrTendril, _: StrTendril) {}

    fn get_template_contents(&self, target: &NodeId) -> NodeId {
        let tree = self.tree.borrow();
        tree.template(*target).unwrap_or(*target)
    }

    fn same_node(&self, x: &NodeId, y: &NodeId) -> bool {
        x == y
    }

    fn set_quirks_mode(&self, _: QuirksMode) {}

    fn append_before_sibling(&self, sibling: &NodeId, new_node: NodeOrText<NodeId>) {
        let mut tree = self.tree.borrow_mut();
        match new_node {
            NodeOrText::AppendNode(node) => {
                tree.detach(node);
                tree.insert_before(*sibling, node);
            }
            NodeOrText::AppendText(text) => tree.insert_text_before(*sibling, &text),
        }
    }

    /// For the page and its body, whose attributes say nothing about the text.
    fn add_attrs_if_missing(&self, _: &NodeId, _: Vec<Attribute>) {}

    fn remove_from_parent(&self, target: &NodeId) {
        self.tree.borrow_mut().detach(*target);
    }

    fn reparent_children(&self, node: &NodeId, new_parent: &NodeId) {
        self.tree.borrow_mut().reparent(*node, *new_parent);
    }
}
