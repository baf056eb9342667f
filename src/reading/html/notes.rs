//! Footnotes of a page: which elements call them, which hold their text.
//!
//! 1. A call is a link within the page that has the role of one (DPUB-ARIA `doc-noteref`, EPUB `noteref`), or
//!    is short and in superscript or brackets. The element it leads to is the note.
//! 2. A note in another page of the same book is recognised by its own role there.
//! 3. Inside a note, a link back to a call is left out if it shows nothing but a sign or has the role
//!    `doc-backlink`.

use std::collections::{HashMap, HashSet};

use super::elements::has;
use super::tree::{Edge, NodeId, NodeRef, Tree};
use crate::reading::package::target;

/// What shows that an element is the text of a note.
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
    pub(super) fn find(page: &Tree, file: &str) -> Self {
        let mut by_id: HashMap<&str, NodeRef<'_>> = HashMap::new();
        let mut links = Vec::new();
        let mut found = Self::default();
        for node in NodeRef::root(page).descendants() {
            let Some(element) = node.element() else {
                continue;
            };
            if let Some(id) = element.attr("id") {
                by_id.entry(id).or_insert(node);
                if NOTES
                    .iter()
                    .any(|(attribute, word)| has(&element, attribute, word))
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
        for (node, page, id) in links {
            if !is_call(node) {
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
            found.calls.insert(outermost(node).id(), name);
        }
        found.leave_out_ways_back(page);
        found
    }

    /// Links inside notes that show only a sign.
    fn leave_out_ways_back(&mut self, page: &Tree) {
        let mut notes_around = 0_usize;
        for edge in NodeRef::root(page).edges() {
            let (Edge::Open(node) | Edge::Close(node)) = edge;
            let is_note = self.notes.contains_key(&node.id());
            match edge {
                Edge::Open(_) => {
                    let is_link = node.element().is_some_and(|element| {
                        let target = element.attr("href");
                        element.name() == "a" && target.is_some_and(|target| target.contains('#'))
                    });
                    if notes_around > 0 && is_link && is_sign(&content(node)) {
                        self.left_out.insert(node.id());
                        self.calls.remove(&node.id());
                    }
                    notes_around += usize::from(is_note);
                }
                Edge::Close(_) => notes_around -= usize::from(is_note),
            }
        }
    }

    /// The name of the note that an element calls.
    pub(super) fn call(&self, node: NodeId) -> Option<&str> {
        self.calls.get(&node).map(String::as_str)
    }

    /// The name of the note that an element holds.
    pub(super) fn note(&self, node: NodeId) -> Option<&str> {
        self.notes.get(&node).map(String::as_str)
    }

    /// Whether an element is a link back from a note.
    pub(super) fn is_left_out(&self, node: NodeId) -> bool {
        self.left_out.contains(&node)
    }
}

fn is_call(link: NodeRef<'_>) -> bool {
    let Some(element) = &link.element() else {
        return false;
    };
    if has(element, "role", "doc-backlink") {
        return false;
    }
    if has(element, "role", "doc-noteref") || has(element, "epub:type", "noteref") {
        return true;
    }
    let raised = link
        .parent()
        .is_some_and(|parent| parent.is_one_of(&["sup"]))
        || link.children().any(|child| child.is_one_of(&["sup"]));
    let shown = content(link);
    let bracketed = shown.starts_with('[') && shown.ends_with(']');
    (raised || bracketed) && is_sign(&shown)
}

/// Whether a link shows only a number, letter or sign.
fn is_sign(shown: &str) -> bool {
    let inner = shown.trim().trim_matches(['[', ']', '(', ')', '.']);
    inner.chars().count() <= 4
        && (inner.chars().all(|c| c.is_ascii_digit()) || inner.chars().count() <= 2)
}

/// The beginning of the text of an element; more is not needed.
pub(super) fn content(node: NodeRef<'_>) -> String {
    let mut shown = String::new();
    for text in node.descendants().take(20).filter_map(NodeRef::text) {
        shown.extend(text.chars().take(20));
    }
    shown.trim().to_owned()
}

/// The element that holds only a call: the superscript around a link.
fn outermost(link: NodeRef<'_>) -> NodeRef<'_> {
    let alone =
        |node: &NodeRef<'_>| node.is_one_of(&["sup"]) && node.children().take(2).count() == 1;
    link.parent().filter(alone).unwrap_or(link)
}

/// The block that holds a note: where a link leads to an anchor in a line, its paragraph or item.
fn holder(note: NodeRef<'_>) -> NodeRef<'_> {
    if !note.is_one_of(&["a", "span", "sup", "b", "small"]) {
        return note;
    }
    let block = note
        .ancestors()
        .take(4)
        .find(|node| node.is_one_of(&["p", "li", "div", "aside", "dd"]));
    block.unwrap_or(note)
}
