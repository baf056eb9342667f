//! Whether a part is XML that every word processor opens: well-formed, with namespaces, and without a document type
//! (XML 1.0, fifth edition; Namespaces in XML 1.0).
//!
//! Readers here are lenient, so that as much of a draft as possible can be checked. What is written has to satisfy
//! strict ones. The library cuts a part into tags and characters and compares the names of starts and ends; all that
//! it lets pass is looked at here.

use std::collections::BTreeSet;

use quick_xml::Reader;
use quick_xml::escape::resolve_predefined_entity;
use quick_xml::events::{BytesDecl, BytesRef, Event};

/// What is wrong with a part, if anything is.
pub(super) fn fault(part: &str) -> Option<String> {
    check(part).err()
}

fn check(part: &str) -> Result<(), String> {
    if let Some(character) = part.chars().find(|c| !is_allowed(*c)) {
        return Err(format!(
            "it holds the character {}",
            character.escape_unicode()
        ));
    }
    let part = part.strip_prefix('\u{FEFF}').unwrap_or(part);
    let mut reader = Reader::from_str(part);
    reader.config_mut().check_comments = true;
    let mut spaces = Spaces::default();
    let mut seen_root = false;
    loop {
        let before = reader.buffer_position();
        let event = reader.read_event().map_err(|cause| cause.to_string())?;
        let outside = spaces.depth() == 0;
        match event {
            Event::Start(_) | Event::Empty(_) if outside && seen_root => {
                return Err("it has more than one root element".to_owned());
            }
            Event::Start(start) => {
                spaces.open(start.name().into_inner(), start.attributes_raw())?;
                seen_root = true;
            }
            Event::Empty(start) => {
                spaces.open(start.name().into_inner(), start.attributes_raw())?;
                spaces.close();
                seen_root = true;
            }
            Event::End(_) => spaces.close(),
            Event::Text(text) if outside && text.trim().is_empty() => {}
            Event::Text(_) | Event::CData(_) | Event::GeneralRef(_) if outside => {
                return Err("characters stand outside of its root element".to_owned());
            }
            Event::Text(text) if text.contains("]]>") => {
                return Err("]]> stands among its characters".to_owned());
            }
            Event::GeneralRef(reference) => refers(&reference)?,
            Event::DocType(_) => return Err("it declares a document type".to_owned()),
            Event::Decl(declaration) => declares(&declaration, before == 0)?,
            Event::PI(instruction) if instruction.target().eq_ignore_ascii_case("xml") => {
                return Err("a declaration stands inside it".to_owned());
            }
            Event::Eof if !outside || !seen_root => return Err("it ends too early".to_owned()),
            Event::Eof => return Ok(()),
            Event::Text(_) | Event::CData(_) | Event::Comment(_) | Event::PI(_) => {}
        }
    }
}

/// Whether a character may stand in XML at all.
fn is_allowed(c: char) -> bool {
    matches!(c, '\t' | '\n' | '\r') || (c >= ' ' && !matches!(c, '\u{FFFE}' | '\u{FFFF}'))
}

fn declares(declaration: &BytesDecl<'_>, is_first: bool) -> Result<(), String> {
    let version = declaration.version().map_err(|cause| cause.to_string())?;
    match (is_first, &*version) {
        (true, "1.0") => Ok(()),
        (true, other) => Err(format!("it is in version {other} of XML")),
        (false, _) => Err("a declaration stands inside it".to_owned()),
    }
}

fn refers(reference: &BytesRef<'_>) -> Result<(), String> {
    let known = match reference.resolve_char_ref() {
        Ok(Some(character)) => is_allowed(character),
        Ok(None) => resolve_predefined_entity(reference).is_some(),
        Err(_) => false,
    };
    match known {
        true => Ok(()),
        false => Err(format!("&{}; stands for nothing", &**reference)),
    }
}

/// The prefixes that are declared where the reader stands.
#[derive(Default)]
struct Spaces {
    declared: Vec<(String, String)>,
    /// For each open element, how many were declared around it.
    around: Vec<usize>,
}

impl Spaces {
    fn depth(&self) -> usize {
        self.around.len()
    }

    fn open(&mut self, name: &str, attributes: &str) -> Result<(), String> {
        let attributes = split(attributes).ok_or_else(|| format!("the tag of {name} is broken"))?;
        self.around.push(self.declared.len());
        for (name, value) in &attributes {
            let Some(prefix) = name.strip_prefix("xmlns:") else {
                continue;
            };
            if value.is_empty() || prefix == "xmlns" {
                return Err(format!("{name} declares nothing"));
            }
            self.declared.push((prefix.to_owned(), (*value).to_owned()));
        }
        self.address(name)?;
        let mut seen = BTreeSet::new();
        for (attribute, value) in attributes {
            let address = match attribute.starts_with("xmlns") {
                true => None,
                false => self.address(attribute)?,
            };
            let local = address.map_or(attribute, |_| {
                attribute
                    .split_once(':')
                    .map_or(attribute, |(_, local)| local)
            });
            if !seen.insert((address.map(str::to_owned), local.to_owned())) {
                return Err(format!("{name} has {attribute} twice"));
            }
            holds(value)?;
        }
        Ok(())
    }

    fn close(&mut self) {
        // The reader has checked that each end has its start.
        let around = self.around.pop().unwrap_or_default();
        self.declared.truncate(around);
    }

    /// The address that a name's prefix stands for, if it has one.
    fn address(&self, name: &str) -> Result<Option<&str>, String> {
        let Some((prefix, local)) = name.split_once(':') else {
            return match is_name(name) {
                true => Ok(None),
                false => Err(format!("{name:?} is no name")),
            };
        };
        if !is_name(prefix) || !is_name(local) {
            return Err(format!("{name:?} is no name"));
        }
        if prefix == "xml" {
            return Ok(Some("http://www.w3.org/XML/1998/namespace"));
        }
        let mut inner = self.declared.iter().rev();
        match inner.find(|(known, _)| known == prefix) {
            Some((_, address)) => Ok(Some(address)),
            None => Err(format!("the prefix of {name} is not declared")),
        }
    }
}

/// Whether characters make a name without a colon.
fn is_name(name: &str) -> bool {
    let begins = |c: char| c.is_alphabetic() || c == '_';
    let goes_on =
        |c: char| begins(c) || c.is_numeric() || matches!(c, '-' | '.' | '·') || !c.is_ascii();
    name.chars().next().is_some_and(begins) && name.chars().all(goes_on)
}

/// The attributes of a tag, as written; `None` where they are not written as XML asks for.
fn split(attributes: &str) -> Option<Vec<(&str, &str)>> {
    let mut found = Vec::new();
    let blank = |c: char| matches!(c, ' ' | '\t' | '\n' | '\r');
    let mut rest = attributes;
    while !rest.trim_start_matches(blank).is_empty() {
        let behind = rest.trim_start_matches(blank);
        if behind.len() == rest.len() {
            // No blank before it.
            return None;
        }
        let (name, value) = behind.split_once('=')?;
        let value = value.trim_start_matches(blank);
        let quote = value.chars().next().filter(|c| matches!(c, '"' | '\''))?;
        let (value, behind) = value.get(1..)?.split_once(quote)?;
        found.push((name.trim_end_matches(blank), value));
        rest = behind;
    }
    Some(found)
}

/// Whether the value of an attribute is written as XML asks for.
fn holds(value: &str) -> Result<(), String> {
    if value.contains('<') {
        return Err("< stands in the value of an attribute".to_owned());
    }
    for (at, _) in value.match_indices('&') {
        let name = value.get(at + 1..).unwrap_or_default().split_once(';');
        let Some((name, _)) = name else {
            return Err("& stands for nothing in the value of an attribute".to_owned());
        };
        refers(&BytesRef::new(name))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sound_parts_have_no_fault() {
        for sound in [
            "<a/>",
            "\u{FEFF}<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\r\n<a b='1' xml:lang=\"é\"/> <!-- x -->",
            "<x:a xmlns:x=\"u\" x:b=\"&lt;&#8217;\"\n  b=\"\"><x:c xmlns:x=\"v\"/>é &amp; ]] &#x1F319;<![CDATA[<&]]><?go on?></x:a>",
            "<a xmlns=\"u\" xmlns:ä=\"v\"><ä:b-1.2 a=\"1\" ä:a=\"1\"/></a>",
        ] {
            assert_eq!(fault(sound), None, "{sound}");
        }
    }

    #[test]
    fn what_strict_readers_refuse_is_a_fault() {
        for (broken, expected) in [
            ("", "too early"),
            ("<a>", "too early"),
            ("<a></b>", "b"),
            ("<a/><a/>", "more than one root"),
            ("<a/>x", "outside"),
            ("&amp;<a/>", "outside"),
            ("<a>]]></a>", "]]>"),
            ("<a>&b;</a>", "&b; stands for nothing"),
            ("<a>&#0;</a>", "stands for nothing"),
            ("<a>&#xFFFE;</a>", "stands for nothing"),
            ("<a>b & c</a>", ""),
            ("<a>\u{1}</a>", "u{1}"),
            ("<a>\u{FFFF}</a>", "u{ffff}"),
            ("<!DOCTYPE a><a/>", "document type"),
            (" <?xml version=\"1.0\"?><a/>", "inside"),
            ("<a><?xml version=\"1.0\"?></a>", "inside"),
            ("<?xml version=\"1.1\"?><a/>", "version 1.1"),
            ("<a><!-- x -- y --></a>", ""),
            ("<x:a/>", "x:a is not declared"),
            ("<a x:b=\"\"/>", "x:b is not declared"),
            ("<a><b xmlns:x=\"u\"/><x:c/></a>", "x:c is not declared"),
            ("<a xmlns:x=\"\"/>", "declares nothing"),
            ("<a b=\"1\" b=\"2\"/>", "b twice"),
            (
                "<a xmlns:x=\"u\" xmlns:y=\"u\" x:b=\"1\" y:b=\"2\"/>",
                "y:b twice",
            ),
            ("<a b=\"1\"c=\"2\"/>", "tag of a is broken"),
            ("<a b=1/>", "tag of a is broken"),
            ("<a b/>", "tag of a is broken"),
            ("<a b=\"<\"/>", "< stands"),
            ("<a b=\"&c\"/>", "& stands"),
            ("<a b=\"&c;\"/>", "&c; stands"),
            ("<1a/>", "no name"),
            ("<a:b:c xmlns:a=\"u\"/>", "no name"),
            ("<a $=\"\"/>", "no name"),
        ] {
            let reported = fault(broken).unwrap_or_else(|| panic!("{broken} is let pass"));
            assert!(reported.contains(expected), "{broken}: {reported}");
        }
    }
}
