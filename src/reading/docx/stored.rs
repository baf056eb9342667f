//! Citations kept in the document's properties, apart from the text: a bookmark around the visible form
//! names them. A value has room for 255 characters, so a citation lies in several, numbered from 1.

use std::collections::BTreeMap;

use super::fields::{Meaning, of_instruction};
use crate::reading::Unreadable;
use crate::reading::package::Package;
use crate::reading::package::xml::{Node, Space, Xml};

/// Where the properties are kept.
const PART: &str = "docProps/custom.xml";

/// The citations and lists of references by the name of their bookmark.
pub(super) fn citations(package: &mut Package) -> Result<BTreeMap<String, Meaning>, Unreadable> {
    let Some(content) = package.part(PART)? else {
        return Ok(BTreeMap::new());
    };
    let mut pieces: BTreeMap<String, BTreeMap<u32, String>> = BTreeMap::new();
    let mut xml = Xml::new(PART, &content);
    loop {
        match xml.next()? {
            Node::End => break,
            Node::Open { name, element, .. }
                if name.space == Space::Properties && name.local == "property" =>
            {
                let name = element.get("name").unwrap_or_default();
                if let Some((bookmark, number)) = name.rsplit_once('_')
                    && let Ok(number) = number.parse()
                {
                    let value = xml.text()?;
                    let values = pieces.entry(bookmark.to_owned()).or_default();
                    values.insert(number, value.trim_matches(['\n', '\r']).to_owned());
                }
            }
            _ => {}
        }
    }
    let whole = pieces.into_iter().map(|(bookmark, values)| {
        let whole: String = values.into_values().collect();
        (bookmark, of_instruction(&whole))
    });
    Ok(whole
        .filter(|(_, meaning)| *meaning != Meaning::Plain)
        .collect())
}
