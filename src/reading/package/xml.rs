//! The XML of a part, element by element, each with its place in the part.
//!
//! Names are identified by their namespace, whatever prefix a program writes. Declarations of entities are
//! refused, since a few lines of them can expand to gigabytes, and so is nesting deeper than any document
//! needs.

use std::borrow::Cow;

use quick_xml::NsReader;
use quick_xml::escape::resolve_predefined_entity;
use quick_xml::events::{BytesStart, Event};
use quick_xml::name::{Namespace, ResolveResult};

use crate::reading::Unreadable;
use crate::text::ByteRange;

/// How deep elements may be nested.
pub(in crate::reading) const DEPTH: usize = 400;

/// The namespaces that readers know.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Space {
    /// WordprocessingML (ISO/IEC 29500), transitional or strict.
    Word,
    /// Markup compatibility (ISO/IEC 29500-3).
    Compatibility,
    /// Bibliographic sources (ISO/IEC 29500-1, 22.6).
    Bibliography,
    /// Properties of documents and their types.
    Properties,
    /// Relationships between parts.
    Relationships,
    /// OpenDocument: documents.
    Office,
    /// OpenDocument: text.
    Text,
    /// OpenDocument: tables.
    Table,
    /// OpenDocument: styles.
    Style,
    /// OpenDocument: drawings.
    Draw,
    /// OpenDocument: the manifest of a package.
    Manifest,
    /// Anything else.
    Other,
}

impl Space {
    /// The namespace of an address.
    pub(crate) fn of(address: &str) -> Self {
        match address {
            "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
            | "http://purl.oclc.org/ooxml/wordprocessingml/main" => Self::Word,
            "http://schemas.openxmlformats.org/markup-compatibility/2006" => Self::Compatibility,
            "http://schemas.openxmlformats.org/officeDocument/2006/bibliography"
            | "http://purl.oclc.org/ooxml/officeDocument/bibliography" => Self::Bibliography,
            "http://schemas.openxmlformats.org/officeDocument/2006/custom-properties"
            | "http://purl.oclc.org/ooxml/officeDocument/customProperties" => Self::Properties,
            "http://schemas.openxmlformats.org/package/2006/relationships" => Self::Relationships,
            _ => match address.strip_prefix("urn:oasis:names:tc:opendocument:xmlns:") {
                Some("office:1.0") => Self::Office,
                Some("text:1.0") => Self::Text,
                Some("table:1.0") => Self::Table,
                Some("style:1.0") => Self::Style,
                Some("drawing:1.0") => Self::Draw,
                Some("manifest:1.0") => Self::Manifest,
                _ => Self::Other,
            },
        }
    }
}

/// The name of an element.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Name<'a> {
    pub space: Space,
    pub local: &'a str,
}

impl<'a> Name<'a> {
    /// The local name of an element of WordprocessingML; empty for any other.
    pub(crate) fn word(self) -> &'a str {
        if self.space == Space::Word {
            self.local
        } else {
            ""
        }
    }
}

/// The next item in a part.
pub(crate) enum Node<'a> {
    /// An element begins. `place` is its tag.
    Open {
        name: Name<'a>,
        element: Element<'a>,
        place: ByteRange,
    },
    /// An element ends. `place` is its tag; it is empty after an element that ends itself.
    Close { name: Name<'a>, place: ByteRange },
    /// Characters. `place` is where they are written, references and all.
    Characters {
        content: Cow<'a, str>,
        place: ByteRange,
    },
    /// The end of the part.
    End,
}

/// The start of an element, for its attributes.
pub(crate) struct Element<'a>(BytesStart<'a>);

impl Element<'_> {
    /// The value of an attribute by its name without prefix.
    pub(crate) fn get(&self, local: &str) -> Option<String> {
        self.find(|name| name.rsplit(':').next() == Some(local))
    }

    /// The value of an attribute by its name as written, with its prefix, for the few elements that have two
    /// of the same local name.
    pub(crate) fn get_exact(&self, name: &str) -> Option<String> {
        self.find(|written| written == name)
    }

    /// The prefixes it declares, each with the address of its namespace.
    pub(crate) fn declared(&self) -> Vec<(String, String)> {
        let mut attributes = self.0.attributes();
        let all = attributes.with_checks(false).filter_map(Result::ok);
        all.filter_map(|attribute| {
            let prefix = attribute.key.into_inner().strip_prefix("xmlns:")?;
            Some((prefix.to_owned(), unescaped(&attribute.value)))
        })
        .collect()
    }

    fn find(&self, is_it: impl Fn(&str) -> bool) -> Option<String> {
        let mut attributes = self.0.attributes();
        let found = attributes
            .with_checks(false)
            .filter_map(Result::ok)
            .find(|attribute| is_it(attribute.key.into_inner()))?;
        Some(unescaped(&found.value))
    }
}

/// The characters of an attribute's value; references to unknown entities stay as they are.
fn unescaped(value: &str) -> String {
    match quick_xml::escape::unescape(value) {
        Ok(value) => value.into_owned(),
        Err(_) => value.to_owned(),
    }
}

/// A part being read.
pub(crate) struct Xml<'a> {
    reader: NsReader<&'a [u8]>,
    content: &'a str,
    /// Bytes of the part before `content`: a byte-order mark.
    skipped: usize,
    /// The part's name, for messages.
    part: &'a str,
    open: Vec<Name<'a>>,
}

impl<'a> Xml<'a> {
    /// Starts reading a part.
    pub(crate) fn new(part: &'a str, content: &'a str) -> Self {
        let (content, skipped) = match content.strip_prefix('\u{FEFF}') {
            Some(rest) => (rest, content.len() - rest.len()),
            None => (content, 0),
        };
        let mut reader = NsReader::from_str(content);
        let config = reader.config_mut();
        config.expand_empty_elements = true;
        config.allow_dangling_amp = true;
        Self {
            reader,
            content,
            skipped,
            part,
            open: Vec::new(),
        }
    }

    /// The next item.
    pub(crate) fn next(&mut self) -> Result<Node<'a>, Unreadable> {
        loop {
            let before = self.position();
            let event = self.reader.read_event();
            let event = event.map_err(|cause| self.broken(&cause.to_string()))?;
            let place = ByteRange::of(before, self.position().max(before));
            let characters = |content: Cow<'a, str>| Ok(Node::Characters { content, place });
            match event {
                Event::Start(start) => return self.start(start, place),
                Event::End(_) => {
                    // The reader has checked that each end has its start.
                    let Some(name) = self.open.pop() else {
                        return Err(self.broken("an element ends that never began"));
                    };
                    return Ok(Node::Close { name, place });
                }
                Event::Text(text) => return characters(text.into_inner()),
                Event::CData(text) => return characters(text.into_inner()),
                Event::GeneralRef(reference) => {
                    let character = match reference.resolve_char_ref() {
                        Ok(Some(character)) => Cow::Owned(character.to_string()),
                        _ => match resolve_predefined_entity(&reference) {
                            Some(text) => Cow::Borrowed(text),
                            None => Cow::Owned(format!("&{};", &*reference)),
                        },
                    };
                    return characters(character);
                }
                Event::DocType(text) if text.contains("ENTITY") => {
                    return Err(Unreadable::Excessive(format!(
                        "{} declares entities of its own",
                        self.part
                    )));
                }
                Event::Eof if self.open.is_empty() => return Ok(Node::End),
                Event::Eof => return Err(self.broken("it ends too early")),
                _ => {}
            }
        }
    }

    fn start(&mut self, start: BytesStart<'a>, place: ByteRange) -> Result<Node<'a>, Unreadable> {
        let (resolved, _) = self.reader.resolver().resolve_element(start.name());
        let space = match resolved {
            ResolveResult::Bound(Namespace(address)) => Space::of(address),
            _ => Space::Other,
        };
        let name = Name {
            space,
            local: self.local_name(place),
        };
        self.open.push(name);
        if self.open.len() > DEPTH {
            return Err(Unreadable::Excessive(format!(
                "{} has elements more than {DEPTH} deep inside one another",
                self.part
            )));
        }
        Ok(Node::Open {
            name,
            element: Element(start),
            place,
        })
    }

    /// The local name in a start tag, borrowed from the part itself so that it lives as long.
    fn local_name(&self, tag: ByteRange) -> &'a str {
        let from = tag.start() - self.skipped + 1;
        let tag = self.content.get(from..).unwrap_or_default();
        let end = tag.find(|c: char| c.is_ascii_whitespace() || c == '>' || c == '/');
        let name = tag.get(..end.unwrap_or(0)).unwrap_or_default();
        name.rsplit(':').next().unwrap_or(name)
    }

    /// Passes over the rest of the element that was opened last.
    pub(crate) fn skip(&mut self) -> Result<(), Unreadable> {
        let depth = self.open.len();
        while self.open.len() >= depth.max(1) {
            self.next()?;
        }
        Ok(())
    }

    /// The characters of the element that was opened last, elements inside it passed over.
    pub(crate) fn text(&mut self) -> Result<String, Unreadable> {
        let depth = self.open.len();
        let mut text = String::new();
        while self.open.len() >= depth.max(1) {
            if let Node::Characters { content, .. } = self.next()? {
                text.push_str(&content);
            }
        }
        Ok(text)
    }

    /// How many elements are open.
    pub(crate) fn depth(&self) -> usize {
        self.open.len()
    }

    fn position(&self) -> usize {
        // A part is in memory, so its positions fit.
        usize::try_from(self.reader.buffer_position()).unwrap_or(usize::MAX) + self.skipped
    }

    fn broken(&self, why: &str) -> Unreadable {
        Unreadable::Damaged(format!("{}: {why}", self.part))
    }
}
