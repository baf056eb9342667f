//! Whether a changed part is the one before but for what was added.
//!
//! Both are read side by side, the additions passed over. In a Word document a run may have been cut in two that look
//! the same, so characters are compared with the look of their run, and where runs begin and end does not count.
//! Blanks count where the document says that they do.

use crate::reading::Unreadable;
use crate::reading::package::xml::{Element, Name, Node, Xml};
use crate::text::ByteRange;

/// Says which elements are additions.
pub(super) type IsOurs<'a> = &'a dyn Fn(Name<'_>, &Element<'_>) -> bool;

/// Where the two differ first, in a few words; `None` where they don't.
pub(super) fn difference(
    name: &str,
    before: &str,
    after: &str,
    is_ours: IsOurs<'_>,
) -> Result<Option<String>, Unreadable> {
    let mut before = Pieces::of(name, before, &|_, _| false);
    let mut after = Pieces::of(name, after, is_ours);
    loop {
        let (one, other) = (before.next()?, after.next()?);
        match (one, other) {
            (Piece::End, Piece::End) => return Ok(None),
            (one, other) if one == other => {}
            (one, other) => return Ok(Some(format!("{one} became {other}"))),
        }
    }
}

/// What counts of a part.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Piece<'a> {
    /// A tag as written, in runs of a look.
    Tag(&'a str, Option<Look<'a>>),
    /// Characters in runs of a look.
    Characters(String, Option<Look<'a>>),
    End,
}

/// A run's start tag and its properties as written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Look<'a> {
    tag: &'a str,
    properties: &'a str,
}

impl std::fmt::Display for Piece<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        const SHOWN: usize = 40;
        match self {
            Self::Tag(text, _) => write!(f, "{}", text.chars().take(SHOWN).collect::<String>()),
            Self::Characters(text, _) => {
                write!(f, "{:?}", text.chars().take(SHOWN).collect::<String>())
            }
            Self::End => write!(f, "the end"),
        }
    }
}

/// The pieces of a part, one after the other.
struct Pieces<'a> {
    xml: Xml<'a>,
    content: &'a str,
    is_ours: IsOurs<'a>,
    /// The looks of the runs that are open.
    looks: Vec<Look<'a>>,
    /// What was read behind the last characters.
    waiting: Option<Piece<'a>>,
}

impl<'a> Pieces<'a> {
    fn of(name: &'a str, content: &'a str, is_ours: IsOurs<'a>) -> Self {
        Self {
            xml: Xml::new(name, content),
            content,
            is_ours,
            looks: Vec::new(),
            waiting: None,
        }
    }

    /// The next piece, adjoining characters of one look together.
    fn next(&mut self) -> Result<Piece<'a>, Unreadable> {
        let first = match self.waiting.take() {
            Some(piece) => piece,
            None => self.single()?,
        };
        let Piece::Characters(mut text, look) = first else {
            return Ok(first);
        };
        loop {
            match self.single()? {
                Piece::Characters(more, same) if same == look => text.push_str(&more),
                other => {
                    self.waiting = Some(other);
                    return Ok(Piece::Characters(text, look));
                }
            }
        }
    }

    fn single(&mut self) -> Result<Piece<'a>, Unreadable> {
        loop {
            let look = self.looks.last().copied();
            match self.xml.next()? {
                Node::End => return Ok(Piece::End),
                Node::Characters { content, .. } => {
                    return Ok(Piece::Characters(content.into_owned(), look));
                }
                Node::Open { name, element, .. } if (self.is_ours)(name, &element) => {
                    self.xml.skip()?;
                }
                Node::Open {
                    name,
                    element,
                    place,
                } => match name.word() {
                    "r" => self.looks.push(Look {
                        tag: self.tag(place),
                        properties: "",
                    }),
                    "rPr" if look.is_some() => {
                        let properties = self.whole(place)?;
                        if let Some(look) = self.looks.last_mut() {
                            look.properties = properties;
                        }
                    }
                    "t" => {
                        let keeps = element.get("space").as_deref() == Some("preserve");
                        let text = self.characters(keeps)?;
                        if !text.is_empty() {
                            return Ok(Piece::Characters(text, look));
                        }
                    }
                    _ => return Ok(Piece::Tag(self.tag(place), look)),
                },
                Node::Close { name, .. } if name.word() == "r" => {
                    self.looks.pop();
                }
                // Which element ends follows from those that began.
                Node::Close { .. } => return Ok(Piece::Tag("/", look)),
            }
        }
    }

    /// A start tag as written, without how it ends: an empty element may have been given something to hold.
    fn tag(&self, place: ByteRange) -> &'a str {
        let tag = self.content.get(place.as_range()).unwrap_or_default();
        let tag = tag.strip_suffix('>').unwrap_or(tag);
        tag.strip_suffix('/').unwrap_or(tag).trim_end()
    }

    /// The element that was opened last, as written.
    fn whole(&mut self, tag: ByteRange) -> Result<&'a str, Unreadable> {
        let depth = self.xml.depth();
        loop {
            if let Node::Close { place, .. } = self.xml.next()?
                && self.xml.depth() < depth
            {
                let whole = tag.hull(place);
                return Ok(self.content.get(whole.as_range()).unwrap_or_default());
            }
        }
    }

    /// The characters of the element that was opened last. One that holds elements is no sound run, and what it
    /// holds is compared by its characters alone.
    fn characters(&mut self, keeps_blanks: bool) -> Result<String, Unreadable> {
        let text = self.xml.text()?;
        Ok(match keeps_blanks {
            true => text,
            false => text
                .trim_matches(|c| matches!(c, ' ' | '\t' | '\n' | '\r'))
                .to_owned(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WORD: &str = "http://schemas.openxmlformats.org/wordprocessingml/2006/main";

    fn compared(before: &str, after: &str) -> Option<String> {
        let root = |inside: &str| format!("<w:p xmlns:w=\"{WORD}\">{inside}</w:p>");
        let ours = |name: Name<'_>, _: &Element<'_>| name.local == "mark";
        difference("part", &root(before), &root(after), &ours).unwrap()
    }

    #[test]
    fn cut_runs_and_additions_are_no_difference() {
        for (before, after) in [
            (
                "<w:r a=\"1\"><w:rPr><w:b/></w:rPr><w:t> moth &amp; lamp </w:t></w:r>",
                "<w:r a=\"1\"><w:rPr><w:b/></w:rPr><w:t xml:space=\"preserve\">moth &amp; </w:t></w:r><w:mark>x</w:mark><w:r a=\"1\"><w:rPr><w:b/></w:rPr><w:t>lamp</w:t></w:r>",
            ),
            (
                "<w:r><w:t>a</w:t><w:tab/></w:r>",
                "<w:r><w:t>a</w:t></w:r><w:r><w:tab/></w:r><w:r><w:mark/></w:r>",
            ),
            ("<w:s>a</w:s>", "<w:s>a<w:mark/></w:s>"),
            ("<w:s/>", "<w:s><w:mark/></w:s>"),
        ] {
            assert_eq!(compared(before, after), None, "{after}");
        }
    }

    #[test]
    fn whatever_else_changed_is_a_difference() {
        let before = "<w:r><w:rPr><w:b/></w:rPr><w:t>moth lamp</w:t><w:tab/></w:r><w:s/>";
        for (from, to) in [
            ("moth", "Moth"),
            ("moth lamp", "mothlamp"),
            ("<w:tab/>", ""),
            ("<w:tab/>", "<w:tab w:x=\"1\"/>"),
            ("<w:s/>", "<w:s/><w:s/>"),
            ("<w:rPr><w:b/></w:rPr>", ""),
            (
                "moth lamp",
                "moth</w:t></w:r><w:r><w:t xml:space=\"preserve\"> lamp",
            ),
            ("<w:tab/></w:r>", "</w:r><w:tab/>"),
            ("<w:tab/></w:r><w:s/>", "</w:r><w:s><w:tab/></w:s>"),
        ] {
            let after = before.replacen(from, to, 1);
            assert_ne!(after, before);
            assert!(compared(before, &after).is_some(), "{after}");
        }
    }
}
