//! Footnotes of a page: which elements call them, which hold their text.
//!
//! 1. A call is a link within the page that has the role of one (DPUB-ARIA `doc-noteref`, EPUB `noteref`) or
//!    stands in superscript or brackets and is short; the element it leads to is the note.
//! 2. Where the note stands in another page of the same book, the role of the note tells it there.
//! 3. A link with nothing but a sign, or with the role `doc-backlink`, inside a note that leads back to a call is left out.

use std::collections::{HashMap, HashSet};

use ego_tree::{NodeId, NodeRef};
use scraper::{Html, Node};

use super::elements::has;
use crate::reading::package::target;

/// What tells the text of a note.
const NOTES: [(&str, &str); 6] = [
    ("role", "doc-footnote"),
    ("role", "doc-endnote"),
    ("epub:type", "footnote"),
    ("epub:type", "endnote"),
    ("epub:type", "rearnote"),
    ("epub:type", "note"),
];

/// The notes of a page.
#[derive(Default)]
pub(super) struct Notes {
    calls: HashMap<NodeId, String>,
    notes: HashMap<NodeId, String>,
    left_out: HashSet<NodeId>,
}

impl Notes {
    /// Finds calls and notes. `file` is put before their names.
    pub(super) fn find(page: &Html, file: &str) -> Self {
        let mut by_id: HashMap<&str, NodeRef<'_, Node>> = HashMap::new();
        let mut links = Vec::new();
        let mut found = Self::default();
        for node in page.tree.root().descendants() {
            let Node::Element(element) = node.value() else {
                continue;
            };
            if let Some(id) = element.id() {
                by_id.entry(id).or_insert(node);
                if NOTES
                    .iter()
                    .any(|(attribute, word)| has(element, attribute, word))
                {
                    found.notes.insert(node.id(), format!("{file}#{id}"));
                }
            }
            if element.name() == "a"
                && let Some(target) = element.attr("href")
                && let Some((page, id)) = target.split_once('#')
            {
                links.push((node, page, id));
            }
        }
        for (node, page, id) in &links {
            if !is_call(*node) {
                continue;
            }
            let elsewhere = target(file, page).filter(|other| !page.is_empty() && other != file);
            let name = format!("{}#{id}", elsewhere.as_deref().unwrap_or(file));
            match by_id.get(id) {
                Some(note) if elsewhere.is_none() => {
                    found.notes.insert(holder(*note).id(), name.clone());
                }
                _ if elsewhere.is_none() => continue,
                _ => {}
            }
            found.calls.insert(outermost(*node).id(), name);
        }
        for (node, ..) in links {
            let in_note = node
                .ancestors()
                .any(|parent| found.notes.contains_key(&parent.id()));
            if in_note && is_sign(&content(node)) {
                found.left_out.insert(node.id());
                found.calls.remove(&node.id());
            }
        }
        found
    }

    /// The name of the note that an element calls.
    pub(super) fn call(&self, node: NodeId) -> Option<&str> {
        self.calls.get(&node).map(String::as_str)
    }

    /// The name of the note that an element holds.
    pub(super) fn note(&self, node: NodeId) -> Option<&str> {
        self.notes.get(&node).map(String::as_str)
    }

    /// Whether an element is a way back from a note.
    pub(super) fn is_left_out(&self, node: NodeId) -> bool {
        self.left_out.contains(&node)
    }
}

fn is_call(link: NodeRef<'_, Node>) -> bool {
    let Node::Element(element) = link.value() else {
        return false;
    };
    if has(element, "role", "doc-backlink") {
        return false;
    }
    if has(element, "role", "doc-noteref") || has(element, "epub:type", "noteref") {
        return true;
    }
    let named = |node: NodeRef<'_, Node>, name: &str| matches!(node.value(), Node::Element(element) if element.name() == name);
    let raised = link.parent().is_some_and(|parent| named(parent, "sup"))
        || link.children().any(|child| named(child, "sup"));
    let shown = content(link);
    let bracketed = shown.starts_with('[') && shown.ends_with(']');
    (raised || bracketed) && is_sign(&shown)
}

/// Whether a link shows nothing but a number, letter or sign.
fn is_sign(shown: &str) -> bool {
    let inner = shown.trim().trim_matches(['[', ']', '(', ')', '.']);
    inner.chars().count() <= 4
        && (inner.chars().all(|c| c.is_ascii_digit()) || inner.chars().count() <= 2)
}

/// The text of a link; only its beginning, since nobody needs more.
fn content(node: NodeRef<'_, Node>) -> String {
    let mut shown = String::new();
    for inner in node.descendants().take(20) {
        if let Node::Text(text) = inner.value() {
            shown.extend(text.chars().take(20));
        }
    }
    shown.trim().to_owned()
}

/// The element that a call fills alone: the superscript around a link.
fn outermost(link: NodeRef<'_, Node>) -> NodeRef<'_, Node> {
    let alone = |node: &NodeRef<'_, Node>| {
        matches!(node.value(), Node::Element(element) if element.name() == "sup")
            && node.children().count() == 1
    };
    link.parent().filter(alone).unwrap_or(link)
}

/// The block that holds a note: where a link leads to an anchor in a line, its paragraph or item.
fn holder(note: NodeRef<'_, Node>) -> NodeRef<'_, Node> {
    let inline = |node: &NodeRef<'_, Node>| {
        matches!(node.value(), Node::Element(element)
            if matches!(element.name(), "a" | "span" | "sup" | "b" | "small"))
    };
    if !inline(&note) {
        return note;
    }
    let block = note.ancestors().take(4).find(|node| {
        matches!(node.value(), Node::Element(element)
            if matches!(element.name(), "p" | "li" | "div" | "aside" | "dd"))
    });
    block.unwrap_or(note)
}
