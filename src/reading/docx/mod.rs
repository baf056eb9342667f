//! Word documents (.docx, ISO/IEC 29500).
//!
//! 1. The package names its main part; that part's relationships name the styles, footnotes, endnotes,
//!    headers and footers. Relationships that lead outside the package are never followed.
//! 2. [`walk`](mod@walk) goes through the text of each part. [`styles`] and [`properties`] say what paragraphs are,
//!    [`lists`] which are numbered, [`fields`] what a field or content control means, [`sources`] what the
//!    word processor's own citations cite, [`symbols`] which characters the codes of symbol fonts are.
//! 3. [`flow`] makes a Text of it.

mod fields;
mod lists;
mod properties;
mod sources;
mod stored;
mod styles;
mod symbols;
#[cfg(test)]
mod tests;
mod walk;

use super::flow::{self, Manuscript, Numbering};
use super::package::xml::{Node, Space, Xml};
use super::package::{self, Package, Room};
use super::{Limits, ReadFile, Unreadable};
use lists::Lists;
use sources::Sources;
use styles::Styles;
use walk::{Setting, walk};

/// The name of the format in messages.
const NAME: &str = "Word (.docx)";

/// Reads a Word document.
///
/// # Errors
/// [`Unreadable`] where the file is not a Word document, is damaged or locked, or costs more than the limits
/// allow.
pub(super) fn read(bytes: Vec<u8>, limits: &Limits) -> Result<ReadFile, Unreadable> {
    let mut package = Package::open(bytes, NAME, Room::of(limits))?;
    let main = main_part(&mut package)?;
    let Some(document) = package.part(&main)? else {
        return Err(without_document(&package, &main));
    };
    let related = Related::of(&mut package, &main)?;
    let setting = setting(&mut package, &related)?;
    let walked = walk(&main, &document, 0, &setting)?;
    drop(document);
    let mut parts = vec![main.clone()];
    let mut remarks = Vec::new();
    let mut tracked = walked.tracked;
    let mut notes = walked.notes;
    for kind in ["footnotes", "endnotes"] {
        let Some(name) = related.first(kind) else {
            continue;
        };
        let Some(content) = package.part(name)? else {
            remarks.push(format!("the {kind} are missing from the file"));
            continue;
        };
        // There are two kinds of notes, so the number fits.
        let found = walk(name, &content, parts.len() as u16, &setting)?;
        parts.push(name.to_owned());
        tracked |= found.tracked;
        notes.extend(found.notes);
    }
    if tracked {
        remarks.push(
            "changes are tracked: what was inserted was read, what was deleted was not".to_owned(),
        );
    }
    let numbering = Numbering {
        sections: walked.sections,
        printed: prints_numbers(&mut package, &related)?,
    };
    let manuscript = Manuscript {
        parts,
        body: walked.body,
        notes,
        numbering,
    };
    Ok(flow::assemble(manuscript, remarks))
}

/// What the parts besides the text say.
fn setting(package: &mut Package, related: &Related) -> Result<Setting, Unreadable> {
    let mut setting = Setting::default();
    if let Some(name) = related.first("styles")
        && let Some(content) = package.part(name)?
    {
        setting.styles = Styles::read(name, &content)?;
    }
    if let Some(name) = related.first("numbering")
        && let Some(content) = package.part(name)?
    {
        setting.lists = Lists::read(name, &content)?;
    }
    setting.stored = stored::citations(package)?;
    setting.sources = Sources::find(package, related);
    Ok(setting)
}

/// The name of the part with the document, as given by the package.
fn main_part(package: &mut Package) -> Result<String, Unreadable> {
    let related = Related::read(package, "_rels/.rels", "")?;
    let main = related.first("officeDocument");
    Ok(main.unwrap_or("word/document.xml").to_owned())
}

/// What a package without a document is.
fn without_document(package: &Package, main: &str) -> Unreadable {
    let names = package.names();
    let has = |wanted: &str| names.iter().any(|name| name == wanted);
    let found = if has("content.xml") {
        "it is an OpenDocument file"
    } else if has("META-INF/container.xml") {
        "it is an EPUB file"
    } else if has("[Content_Types].xml") {
        return Unreadable::Damaged(format!("its part {main} is missing"));
    } else {
        "it is another kind of zip package"
    };
    Unreadable::OtherFormat {
        expected: NAME,
        found: found.to_owned(),
    }
}

/// The parts that a part refers to, each with the last word of its kind: `styles`, `footnotes`.
struct Related(Vec<(String, String)>);

impl Related {
    fn of(package: &mut Package, part: &str) -> Result<Self, Unreadable> {
        let (folder, name) = part.rsplit_once('/').unwrap_or(("", part));
        let slash = if folder.is_empty() { "" } else { "/" };
        let relations = format!("{folder}{slash}_rels/{name}.rels");
        Self::read(package, &relations, part)
    }

    fn read(package: &mut Package, relations: &str, part: &str) -> Result<Self, Unreadable> {
        let mut found = Vec::new();
        let Some(content) = package.part(relations)? else {
            return Ok(Self(found));
        };
        let mut xml = Xml::new(relations, &content);
        loop {
            match xml.next()? {
                Node::End => return Ok(Self(found)),
                Node::Open { name, element, .. }
                    if name.space == Space::Relationships && name.local == "Relationship" =>
                {
                    let outside = element.get("TargetMode").as_deref() == Some("External");
                    let kind = element.get("Type").unwrap_or_default();
                    let kind = kind.rsplit('/').next().unwrap_or_default().to_owned();
                    let target = element.get("Target").unwrap_or_default();
                    if let Some(target) = package::target(part, &target).filter(|_| !outside) {
                        found.push((kind, target));
                    }
                }
                _ => {}
            }
        }
    }

    fn all<'r>(&'r self, kind: &'r str) -> impl Iterator<Item = &'r str> {
        let pairs = self.0.iter().filter(move |(known, _)| known == kind);
        pairs.map(|(_, target)| target.as_str())
    }

    fn first<'r>(&'r self, kind: &'r str) -> Option<&'r str> {
        self.all(kind).next()
    }
}

/// Whether a header or footer prints the number of the page.
fn prints_numbers(package: &mut Package, related: &Related) -> Result<bool, Unreadable> {
    for name in related.all("header").chain(related.all("footer")) {
        let Some(content) = package.part(name)? else {
            continue;
        };
        let mut xml = Xml::new(name, &content);
        loop {
            let instruction = match xml.next()? {
                Node::End => break,
                Node::Open { name, element, .. } => match name.word() {
                    "instrText" => xml.text()?,
                    "fldSimple" => element.get("instr").unwrap_or_default(),
                    // An older form of the same.
                    "pgNum" => "PAGE".to_owned(),
                    _ => continue,
                },
                _ => continue,
            };
            if instruction.split_whitespace().any(|word| word == "PAGE") {
                return Ok(true);
            }
        }
    }
    Ok(false)
}
