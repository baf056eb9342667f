//! OpenDocument texts (.odt, ISO/IEC 26300).
//!
//! 1. The package says what it is (`mimetype`) and whether it is locked (`META-INF/manifest.xml`).
//! 2. [`styles`] are read from both parts that hold some. [`walk`](mod@walk) goes through the text and its notes, which
//!    are one part. [`marks`] are the word processor's own citations.
//! 3. [`flow`] makes a Text of it.

mod marks;
mod styles;
#[cfg(test)]
mod tests;
mod walk;

use std::collections::BTreeMap;

use super::flow::{self, Manuscript, Meaning, Numbering};
use super::package::xml::{Node, Space, Xml};
use super::package::{Package, Room};
use super::{Limits, ReadFile, Unreadable};
use styles::Styles;
use walk::walk;

/// The name of the format in messages.
const NAME: &str = "OpenDocument text (.odt)";

/// The part with the text.
const CONTENT: &str = "content.xml";

/// Reads an OpenDocument text.
///
/// # Errors
/// [`Unreadable`] where the file is not an OpenDocument text, is damaged or locked, or costs more than the
/// limits allow.
pub(super) fn read(bytes: Vec<u8>, limits: &Limits) -> Result<ReadFile, Unreadable> {
    let mut package = Package::open(bytes, NAME, Room::of(limits))?;
    if let Some(kind) = package.part("mimetype")?
        && !kind
            .trim()
            .starts_with("application/vnd.oasis.opendocument.text")
    {
        return Err(other(match kind.trim() {
            "application/epub+zip" => "it is an EPUB file",
            kind if kind.contains("spreadsheet") => "it is a spreadsheet",
            kind if kind.contains("presentation") => "it is a presentation",
            _ => "it is another kind of document",
        }));
    }
    if is_locked(&mut package)? {
        return Err(Unreadable::Protected);
    }
    let Some(content) = package.part(CONTENT)? else {
        return Err(without_content(&package));
    };
    let mut styles = Styles::default();
    if let Some(content) = package.part("styles.xml")? {
        styles.add("styles.xml", &content)?;
    }
    styles.add(CONTENT, &content)?;
    styles.resolve();
    let stored = stored(&mut package)?;
    let walked = walk(CONTENT, &content, &styles, &stored)?;
    let mut remarks = Vec::new();
    if walked.tracked {
        remarks.push(
            "changes are tracked: what was inserted was read, what was deleted was not".to_owned(),
        );
    }
    let manuscript = Manuscript {
        parts: vec![CONTENT.to_owned()],
        body: walked.body,
        notes: walked.notes,
        numbering: Numbering {
            sections: walked.sections,
            printed: styles.printed,
        },
    };
    Ok(flow::assemble(manuscript, remarks))
}

fn other(found: &str) -> Unreadable {
    Unreadable::OtherFormat {
        expected: NAME,
        found: found.to_owned(),
    }
}

/// What a package without a text is.
fn without_content(package: &Package) -> Unreadable {
    let names = package.names();
    let has = |wanted: &str| names.iter().any(|name| name == wanted);
    if has("word/document.xml") {
        other("it is a Word document")
    } else if has("mimetype") || has("META-INF/manifest.xml") {
        Unreadable::Damaged(format!("its part {CONTENT} is missing"))
    } else {
        other("it is another kind of zip package")
    }
}

/// Whether parts are encrypted, according to the manifest.
fn is_locked(package: &mut Package) -> Result<bool, Unreadable> {
    const MANIFEST: &str = "META-INF/manifest.xml";
    let Some(content) = package.part(MANIFEST)? else {
        return Ok(false);
    };
    let mut xml = Xml::new(MANIFEST, &content);
    loop {
        match xml.next()? {
            Node::End => return Ok(false),
            Node::Open { name, .. } if name.local == "encryption-data" => return Ok(true),
            _ => {}
        }
    }
}

/// Citations kept in the document's own properties.
fn stored(package: &mut Package) -> Result<BTreeMap<String, Meaning>, Unreadable> {
    const META: &str = "meta.xml";
    let Some(content) = package.part(META)? else {
        return Ok(BTreeMap::new());
    };
    let mut properties = Vec::new();
    let mut xml = Xml::new(META, &content);
    loop {
        match xml.next()? {
            Node::End => return Ok(flow::stored(properties)),
            Node::Open { name, element, .. }
                if name.space == Space::Other && name.local == "user-defined" =>
            {
                let name = element.get("name").unwrap_or_default();
                properties.push((name, xml.text()?));
            }
            _ => {}
        }
    }
}
