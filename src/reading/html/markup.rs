//! The markup as written, before a tree is made of it: how deep it goes, and XHTML as HTML.

use std::borrow::Cow;

/// Elements may lie so deep in each other. Making the tree takes time with the square of the depth, and no page
/// made by people comes near this.
const DEEPEST: usize = 2000;

/// Elements that have no content and no end tag (published: HTML Living Standard, 13.1.2).
const VOID: [&str; 14] = [
    "area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "param", "source",
    "track", "wbr",
];

/// Elements that may be left unclosed, so that their number says nothing of the depth (13.1.2.4).
const CLOSED_BY_NEXT: [&str; 14] = [
    "p", "li", "dt", "dd", "td", "th", "tr", "thead", "tbody", "tfoot", "option", "optgroup",
    "colgroup", "caption",
];

/// A tag: its name as written, and the place behind it.
struct Tag<'a> {
    name: &'a str,
    end: usize,
    closes: bool,
    self_closed: bool,
}

/// Whether the elements lie deeper in each other than any reader needs.
pub(super) fn is_too_deep(content: &str) -> bool {
    let mut depth = 0_usize;
    let mut deepest = 0;
    for tag in Tags::of(content) {
        let counts = |names: &[&str]| !names.iter().any(|name| name.eq_ignore_ascii_case(tag.name));
        if !counts(&VOID) || !counts(&CLOSED_BY_NEXT) {
            continue;
        }
        if tag.closes {
            depth = depth.saturating_sub(1);
        } else {
            depth += 1;
            deepest = deepest.max(depth);
        }
    }
    deepest > DEEPEST
}

/// XHTML as an HTML parser understands it: `<title/>` becomes `<title></title>`. HTML has no such
/// tags and would take all that follows for the title.
pub(super) fn without_self_closed(content: &str) -> Cow<'_, str> {
    let beginning: String = content.chars().take(1000).collect();
    if !beginning.contains("<?xml") && !beginning.contains("http://www.w3.org/1999/xhtml") {
        return Cow::Borrowed(content);
    }
    let mut written = String::new();
    let mut done = 0;
    for tag in Tags::of(content) {
        let void = VOID.iter().any(|name| name.eq_ignore_ascii_case(tag.name));
        if tag.self_closed && !void {
            let open = content.get(done..tag.end - 2).unwrap_or_default();
            written.push_str(open);
            written.push_str("></");
            written.push_str(tag.name);
            written.push('>');
            done = tag.end;
        }
    }
    if done == 0 {
        return Cow::Borrowed(content);
    }
    written.push_str(content.get(done..).unwrap_or_default());
    Cow::Owned(written)
}

/// The tags of a page one after the other; comments are passed over.
struct Tags<'a> {
    content: &'a str,
    at: usize,
}

impl<'a> Tags<'a> {
    fn of(content: &'a str) -> Self {
        Self { content, at: 0 }
    }
}

impl<'a> Iterator for Tags<'a> {
    type Item = Tag<'a>;

    fn next(&mut self) -> Option<Tag<'a>> {
        loop {
            let rest = self.content.get(self.at..)?;
            let start = self.at + memchr::memchr(b'<', rest.as_bytes())?;
            let inside = self.content.get(start + 1..)?;
            if let Some(comment) = inside.strip_prefix("!--") {
                let end = memchr::memmem::find(comment.as_bytes(), b"-->")?;
                self.at = start + 4 + end + 3;
                continue;
            }
            let closes = inside.starts_with('/');
            let name_start = usize::from(closes);
            let name = inside.get(name_start..)?;
            let length = name
                .find(|c: char| !c.is_ascii_alphanumeric() && c != '-' && c != ':')
                .unwrap_or(name.len());
            let name = name.get(..length)?;
            if !name.starts_with(|c: char| c.is_ascii_alphabetic()) {
                self.at = start + 1;
                continue;
            }
            let end = tag_end(inside.as_bytes(), name_start + length)?;
            self.at = start + 1 + end + 1;
            return Some(Tag {
                name,
                end: self.at,
                closes,
                self_closed: inside.as_bytes().get(end.checked_sub(1)?) == Some(&b'/'),
            });
        }
    }
}

/// The `>` that ends a tag, which is none inside quotation marks.
fn tag_end(bytes: &[u8], mut at: usize) -> Option<usize> {
    let mut quote = None;
    loop {
        match (*bytes.get(at)?, quote) {
            (b'>', None) => return Some(at),
            (byte @ (b'"' | b'\''), None) => quote = Some(byte),
            (byte, Some(open)) if byte == open => quote = None,
            _ => {}
        }
        at += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn depth_and_self_closed_tags() {
        assert!(!is_too_deep(&"<p>a<br><li>".repeat(10_000)));
        assert!(!is_too_deep(&"<div><b>a</b></div>".repeat(10_000)));
        assert!(is_too_deep(&"<DIV>".repeat(2001)));
        assert!(!is_too_deep(&format!("<!--{}-->", "<div>".repeat(3000))));
        let xhtml = "<?xml version='1.0'?><title/><a id='x>' />lamp<br/><p/>";
        assert_eq!(
            without_self_closed(xhtml),
            "<?xml version='1.0'?><title></title><a id='x>' ></a>lamp<br/><p></p>"
        );
        assert_eq!(without_self_closed("<title/>"), "<title/>");
    }
}
