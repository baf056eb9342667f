//! EPUB (published: EPUB 3.3, W3C Recommendation): a zip package with a list of its chapters, each a page of
//! HTML. The Text is the chapters in reading order; page breaks and footnotes are those of
//! [`html`].
//!
//! The package is read part by part within the limits for all packages, which a library that reads whole
//! books would not observe.

use std::collections::HashMap;

use super::assembly::Assembly;
use super::package::xml::{Node, Xml};
use super::package::{Package, Room, target};
use super::{Limits, ReadFile, Unreadable, html};
use crate::text::Origin;

const NAME: &str = "EPUB (.epub)";

/// Reads an EPUB.
///
/// # Errors
/// [`Unreadable`] where the file is not such a package, is damaged or locked, or costs more than the limits
/// allow.
pub(super) fn read(bytes: Vec<u8>, limits: &Limits) -> Result<ReadFile, Unreadable> {
    let mut package = Package::open(bytes, NAME, Room::of(limits))?;
    let Some(container) = package.part("META-INF/container.xml")? else {
        return Err(Unreadable::OtherFormat {
            expected: NAME,
            found: "the package has no META-INF/container.xml".to_owned(),
        });
    };
    if let Some(locked) = package.part("META-INF/encryption.xml")?
        && is_locked(&locked)?
    {
        return Err(Unreadable::Protected);
    }
    let listing = root_file(&container)?.ok_or_else(|| {
        Unreadable::Damaged("META-INF/container.xml names no list of contents".to_owned())
    })?;
    let contents = package
        .part(&listing)?
        .ok_or_else(|| Unreadable::Damaged(format!("{listing} is missing in the package")))?;
    let mut out = Assembly::default();
    let mut room = html::Room::of(limits.html_nodes);
    let mut missing = 0;
    for chapter in chapters(&listing, &contents)? {
        match package.part(&chapter)? {
            Some(page) => html::write(&page, &chapter, &mut room, &mut out)?,
            None => missing += 1,
        }
    }
    let mut remarks = Vec::new();
    if missing > 0 {
        remarks.push(format!(
            "chapters that are missing in the package: {missing}"
        ));
    }
    Ok(ReadFile {
        text: out.finish(&Origin::Recoded),
        remarks,
        carried: Vec::new(),
        page_edges: Vec::new(),
    })
}

/// The part that lists the contents.
fn root_file(container: &str) -> Result<Option<String>, Unreadable> {
    let mut xml = Xml::new("META-INF/container.xml", container);
    loop {
        match xml.next()? {
            Node::Open { name, element, .. } if name.local == "rootfile" => {
                return Ok(element.get("full-path"));
            }
            Node::End => return Ok(None),
            _ => {}
        }
    }
}

/// Whether chapters are encrypted. Fonts often are, which does no harm.
fn is_locked(encryption: &str) -> Result<bool, Unreadable> {
    let mut xml = Xml::new("META-INF/encryption.xml", encryption);
    loop {
        match xml.next()? {
            Node::Open { name, element, .. } if name.local == "CipherReference" => {
                let part = element.get("URI").unwrap_or_default().to_lowercase();
                if part.ends_with("html") || part.ends_with(".htm") {
                    return Ok(true);
                }
            }
            Node::End => return Ok(false),
            _ => {}
        }
    }
}

/// The chapters in reading order, by the names of their parts, without the table of contents.
fn chapters(listing: &str, contents: &str) -> Result<Vec<String>, Unreadable> {
    let mut xml = Xml::new(listing, contents);
    let mut items = HashMap::new();
    let mut order = Vec::new();
    loop {
        match xml.next()? {
            Node::Open { name, element, .. } => match name.local {
                "item" => {
                    let properties = element.get("properties").unwrap_or_default();
                    let navigation = properties.split(' ').any(|one| one == "nav");
                    if let (Some(id), Some(address)) = (element.get("id"), element.get("href"))
                        && !navigation
                    {
                        items.insert(id, address);
                    }
                }
                "itemref" => order.extend(element.get("idref")),
                _ => {}
            },
            Node::End => break,
            Node::Close { .. } | Node::Characters { .. } => {}
        }
    }
    let part = |id: &String| {
        let address = items.get(id)?;
        let address = address.split('#').next().unwrap_or_default();
        target(listing, &unescaped(address))
    };
    Ok(order.iter().filter_map(part).collect())
}

/// An address with its percent escapes decoded.
fn unescaped(address: &str) -> String {
    let mut bytes = Vec::with_capacity(address.len());
    let mut rest = address.as_bytes();
    while let Some((byte, behind)) = rest.split_first() {
        let digits = behind
            .get(..2)
            .and_then(|two| std::str::from_utf8(two).ok());
        let code = digits.and_then(|two| u8::from_str_radix(two, 16).ok());
        match code {
            Some(code) if *byte == b'%' => {
                bytes.push(code);
                rest = behind.get(2..).unwrap_or_default();
            }
            _ => {
                bytes.push(*byte);
                rest = behind;
            }
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

#[cfg(test)]
mod tests {
    use std::io::{Cursor, Write};

    use zip::ZipWriter;
    use zip::write::SimpleFileOptions;

    use super::*;

    fn book(parts: &[(&str, &str)]) -> Vec<u8> {
        let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
        for (name, content) in parts {
            zip.start_file(*name, SimpleFileOptions::default()).unwrap();
            zip.write_all(content.as_bytes()).unwrap();
        }
        zip.finish().unwrap().into_inner()
    }

    const CONTAINER: (&str, &str) = (
        "META-INF/container.xml",
        "<container><rootfiles><rootfile full-path='in/book.opf'/></rootfiles></container>",
    );

    #[test]
    fn chapters_come_in_reading_order_with_their_notes() {
        let listing = "<package><manifest><item id='a' href='one%20a.xhtml'/><item id='b' href='two.xhtml'/>\
            <item id='n' href='notes.xhtml'/><item id='c' href='nav.xhtml' properties='nav'/><item id='x' href='../../x'/></manifest>\
            <spine><itemref idref='c'/><itemref idref='b'/><itemref idref='a'/><itemref idref='n'/><itemref idref='x'/></spine></package>";
        let xhtml = |body: &str| {
            format!(
                "<?xml version='1.0'?><html xmlns='http://www.w3.org/1999/xhtml'><head><title/></head><body>{body}</body></html>"
            )
        };
        let bytes = book(&[
            CONTAINER,
            ("in/book.opf", listing),
            ("in/one a.xhtml", &xhtml("<p>Second.</p>")),
            (
                "in/two.xhtml",
                &xhtml("<p>First<a epub:type='noteref' href='notes.xhtml#n1'>1</a>.</p>"),
            ),
            (
                "in/notes.xhtml",
                &xhtml("<aside epub:type='footnote' id='n1'>A note.</aside>"),
            ),
        ]);
        let read = read(bytes, &Limits::default()).unwrap();
        assert_eq!(read.text.content(), "First.\n\nSecond.\n\nA note.");
        let call = read.text.note_calls()[0];
        assert_eq!(&read.text.content()[..call.at], "First");
        assert_eq!(read.text.slice(call.note), "A note.");
    }

    #[test]
    fn files_that_are_not_books() {
        let no_listing = book(&[CONTAINER]);
        assert!(matches!(
            read(no_listing, &Limits::default()),
            Err(Unreadable::Damaged(_))
        ));
        let other = book(&[("x", "y")]);
        assert!(matches!(
            read(other, &Limits::default()),
            Err(Unreadable::OtherFormat { .. })
        ));
        let locked = book(&[
            CONTAINER,
            (
                "META-INF/encryption.xml",
                "<encryption><CipherReference URI='in/a.xhtml'/></encryption>",
            ),
        ]);
        assert!(matches!(
            read(locked, &Limits::default()),
            Err(Unreadable::Protected)
        ));
    }
}
