//! Citations kept in the document's own properties.

use std::collections::BTreeMap;

use crate::reading::Unreadable;
use crate::reading::flow::{Meaning, stored};
use crate::reading::package::Package;
use crate::reading::package::xml::{Node, Space, Xml};

/// Where the properties are kept.
const PART: &str = "docProps/custom.xml";

/// The citations and lists of references by the name of their bookmark.
pub(super) fn citations(package: &mut Package) -> Result<BTreeMap<String, Meaning>, Unreadable> {
    let Some(content) = package.part(PART)? else {
        return Ok(BTreeMap::new());
    };
    let mut properties = Vec::new();
    let mut xml = Xml::new(PART, &content);
    loop {
        match xml.next()? {
            Node::End => return Ok(stored(properties)),
            Node::Open { name, element, .. }
                if name.space == Space::Properties && name.local == "property" =>
            {
                let name = element.get("name").unwrap_or_default();
                let value = xml.text()?;
                properties.push((name, value.trim_matches(['\n', '\r']).to_owned()));
            }
            _ => {}
        }
    }
}
