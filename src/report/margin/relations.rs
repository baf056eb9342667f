//! What the part with the document is related to, and the part with comments among it.

use super::MarginError;
use super::comments::into_root;
use crate::reading::package::xml::{Node, Xml};
use crate::reading::package::{self, Package};
use crate::report::escape::in_xml;

/// What relationships of documents are called, before their last word.
const USUAL_RELATION: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

/// The relationships of the document's part.
pub(super) struct Relations {
    /// The part that holds them.
    pub name: String,
    /// That part, where there is one.
    pub content: Option<String>,
    /// The part with comments.
    pub comments: Option<String>,
    /// What relationships are called, before their last word.
    kind: String,
    ids: Vec<String>,
}

impl Relations {
    pub(super) fn of(package: &mut Package, main: &str) -> Result<Self, MarginError> {
        let (folder, file) = main.rsplit_once('/').unwrap_or(("", main));
        let slash = if folder.is_empty() { "" } else { "/" };
        let name = format!("{folder}{slash}_rels/{file}.rels");
        let content = package.part(&name)?;
        let mut found = Self {
            name,
            content: None,
            comments: None,
            kind: USUAL_RELATION.to_owned(),
            ids: Vec::new(),
        };
        let mut xml = Xml::new(&found.name, content.as_deref().unwrap_or("<a/>"));
        loop {
            match xml.next()? {
                Node::End => break,
                Node::Open { name, element, .. } if name.local == "Relationship" => {
                    found.ids.extend(element.get("Id"));
                    let kind = element.get("Type").unwrap_or_default();
                    let (before, word) = kind.rsplit_once('/').unwrap_or_default();
                    if ["styles", "settings", "fontTable"].contains(&word) {
                        found.kind = before.to_owned();
                    }
                    if word == "comments" {
                        let target = element.get("Target").unwrap_or_default();
                        found.comments = package::target(main, &target);
                    }
                }
                _ => {}
            }
        }
        found.content = content;
        Ok(found)
    }

    /// The relationships with one to the part with comments, and the id of that one before them.
    pub(super) fn with_comments(
        &self,
        main: &str,
        part: &str,
    ) -> Result<(String, String), MarginError> {
        let numbered = (1..).map(|number| format!("rIdComments{number}"));
        // There are finitely many ids, so some name is free.
        let mut free = numbered.filter(|id| !self.ids.contains(id));
        let id = free.next().unwrap_or_default();
        let folder = main.rsplit_once('/').map_or("", |(folder, _)| folder);
        let target = part
            .strip_prefix(folder)
            .unwrap_or(part)
            .trim_start_matches('/');
        let inside = format!(
            "<Relationship Id=\"{id}\" Type=\"{}/comments\" Target=\"{}\"/>",
            in_xml(&self.kind),
            in_xml(target)
        );
        let empty = "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"/>";
        let content = self.content.as_deref().unwrap_or(empty);
        let content = into_root(&self.name, content, &inside)?;
        Ok((id, content))
    }
}
