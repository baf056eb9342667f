//! The runs of a Word document, and where marks can be put between their characters.
//!
//! A run is a stretch of characters that look alike. Marks stand between runs, so where a passage begins or
//! ends inside one it is cut in two that look the same.
//!
//! The sign of a comment, and where a field would lose them its marks too, stand outside of what they can't be in:
//! see [`Runs::widened`] and [`Runs::sign`].

use super::fields::Fields;
use super::ranges::around;
use crate::reading::Unreadable;
use crate::reading::package::xml::{Name, Node, Xml};
use crate::text::ByteRange;

/// What a run holds.
#[derive(Debug)]
pub(super) struct Child {
    /// The whole element.
    pub place: ByteRange,
    /// For characters: the start tag, what stands between the tags, and whether blanks at the ends count.
    pub text: Option<(ByteRange, ByteRange, bool)>,
}

/// A run.
#[derive(Debug)]
pub(super) struct Run {
    /// The whole element.
    pub place: ByteRange,
    /// Its start tag.
    pub tag: ByteRange,
    /// Its properties.
    pub properties: Option<ByteRange>,
    /// What it holds beside these.
    pub children: Vec<Child>,
    /// The outermost run that holds it in a text box, if any.
    holder: Option<usize>,
}

/// All runs of a part.
#[derive(Debug, Default)]
pub(super) struct Runs {
    /// In order of their start.
    runs: Vec<Run>,
    /// The outermost elements around runs inside their paragraph: links, tracked insertions.
    wrappers: Vec<ByteRange>,
    /// The fields that marks must stay out of.
    fields: Fields,
    /// The outermost content controls around whole paragraphs.
    controls: Vec<ByteRange>,
    /// Where the runs of each paragraph outside of these begin.
    paragraphs: Vec<usize>,
    /// The numbers of comments that the part refers to.
    pub comments: Vec<u32>,
    /// The prefix and the address of the namespace.
    pub namespace: Option<(String, String)>,
}

/// What matters of a start tag beside its name.
struct Kept {
    /// Whether it says that blanks count.
    keeps: bool,
    /// Whether it ends itself.
    ends_itself: bool,
}

/// An element that is open.
enum Frame {
    /// With its number where it stands outside of content controls and text boxes.
    Paragraph(Option<usize>),
    Control(usize),
    Run(usize),
    Wrapper(usize),
    Other,
}

impl Runs {
    /// The runs of a part.
    pub(super) fn of(part: &str, content: &str) -> Result<Self, Unreadable> {
        let mut runs = Self::default();
        let mut xml = Xml::new(part, content);
        let mut open: Vec<(Frame, ByteRange)> = Vec::new();
        loop {
            match xml.next()? {
                Node::End => {
                    runs.fields.sort();
                    return Ok(runs);
                }
                Node::Characters { content, .. } => runs.fields.characters(&content),
                Node::Open {
                    name,
                    element,
                    place,
                } => {
                    if open.is_empty() {
                        let mut declared = element.declared().into_iter();
                        runs.namespace = declared.find(|(_, address)| is_word(address));
                    }
                    if name.word().starts_with("comment") {
                        let id: Option<u32> = element.get("id").and_then(|id| id.parse().ok());
                        runs.comments.extend(id);
                    }
                    let keeps = element.get("space").as_deref() == Some("preserve");
                    let ends_itself = content
                        .get(place.as_range())
                        .is_some_and(|tag| tag.ends_with("/>"));
                    let kept = Kept { keeps, ends_itself };
                    if !is_boxed(&open) {
                        runs.fields.open(name, &element, place);
                    }
                    let frame = runs.open(name, place, &kept, &open);
                    open.push((frame, place));
                }
                Node::Close { name, place } => {
                    if let Some((frame, start)) = open.pop() {
                        if !is_boxed(&open) {
                            runs.fields.close(name, start.hull(place));
                        }
                        runs.close(name, &frame, start, place, &open);
                    }
                }
            }
        }
    }

    fn open(
        &mut self,
        name: Name<'_>,
        tag: ByteRange,
        kept: &Kept,
        open: &[(Frame, ByteRange)],
    ) -> Frame {
        match name.word() {
            "p" => {
                let inside = |frame: &Frame| matches!(frame, Frame::Control(_) | Frame::Run(_));
                if kept.ends_itself || open.iter().any(|(frame, _)| inside(frame)) {
                    return Frame::Paragraph(None);
                }
                self.paragraphs.push(tag.end());
                return Frame::Paragraph(Some(self.paragraphs.len() - 1));
            }
            "sdt"
                if !open
                    .iter()
                    .any(|(frame, _)| matches!(frame, Frame::Paragraph(_))) =>
            {
                if open
                    .iter()
                    .any(|(frame, _)| matches!(frame, Frame::Control(_)))
                {
                    return Frame::Other;
                }
                self.controls.push(tag);
                return Frame::Control(self.controls.len() - 1);
            }
            "ins" | "moveTo" | "hyperlink" | "fldSimple" | "sdt" | "smartTag" | "customXml"
            | "dir" | "bdo" => {
                let outer = |frame: &Frame| matches!(frame, Frame::Wrapper(_) | Frame::Run(_));
                let in_paragraph = open
                    .iter()
                    .any(|(frame, _)| matches!(frame, Frame::Paragraph(_)));
                if !in_paragraph || open.iter().any(|(frame, _)| outer(frame)) {
                    return Frame::Other;
                }
                self.wrappers.push(tag);
                return Frame::Wrapper(self.wrappers.len() - 1);
            }
            "r" => {}
            word => {
                if let Some((Frame::Run(run), _)) = open.last()
                    && let Some(run) = self.runs.get_mut(*run)
                    && word != "rPr"
                {
                    let text = (word == "t").then_some((tag, tag, kept.keeps));
                    run.children.push(Child { place: tag, text });
                }
                return Frame::Other;
            }
        }
        let holder = open.iter().find_map(|(frame, _)| match frame {
            Frame::Run(number) => Some(*number),
            _ => None,
        });
        self.runs.push(Run {
            place: tag,
            tag,
            properties: None,
            children: Vec::new(),
            holder,
        });
        Frame::Run(self.runs.len() - 1)
    }

    fn close(
        &mut self,
        name: Name<'_>,
        frame: &Frame,
        start: ByteRange,
        end: ByteRange,
        open: &[(Frame, ByteRange)],
    ) {
        let whole = start.hull(end);
        match frame {
            Frame::Run(number) => {
                if let Some(run) = self.runs.get_mut(*number) {
                    run.place = whole;
                }
            }
            Frame::Wrapper(number) => {
                if let Some(wrapper) = self.wrappers.get_mut(*number) {
                    *wrapper = whole;
                }
            }
            Frame::Control(number) => {
                if let Some(control) = self.controls.get_mut(*number) {
                    *control = whole;
                }
            }
            Frame::Paragraph(_) => {}
            Frame::Other => {
                if let Some((Frame::Paragraph(Some(number)), _)) = open.last()
                    && name.word() == "pPr"
                    && let Some(begin) = self.paragraphs.get_mut(*number)
                {
                    *begin = whole.end();
                }
                let Some((Frame::Run(number), _)) = open.last() else {
                    return;
                };
                let Some(run) = self.runs.get_mut(*number) else {
                    return;
                };
                if name.word() == "rPr" {
                    run.properties = Some(whole);
                } else if let Some(child) = run.children.last_mut() {
                    child.place = whole;
                    if let Some((_, content, _)) = &mut child.text {
                        *content = ByteRange::of(start.end(), end.start().max(start.end()));
                    }
                }
            }
        }
    }

    /// The innermost run that holds a byte, or where it is in a text box, the run that holds the box.
    fn at(&self, byte: usize) -> Option<&Run> {
        let behind = self.runs.partition_point(|run| run.place.start() <= byte);
        let before = self.runs.get(..behind)?.iter().rev();
        let run = before.take(10_000).find(|run| run.place.contains(byte))?;
        run.holder.map_or(Some(run), |holder| self.runs.get(holder))
    }

    /// The place for marks right before a byte, and the run that is cut there; `None` where text stands outside of
    /// any run. A field that is one element begins between runs.
    pub(super) fn before(&self, byte: usize) -> Option<(Cut, Option<&Run>)> {
        match self.at(byte) {
            Some(run) => Some((run.before(byte), Some(run))),
            None => self.fields.begins(byte).then_some((Cut::Edge(byte), None)),
        }
    }

    /// The place for marks right behind a byte, in the same way.
    pub(super) fn behind(&self, byte: usize) -> Option<(Cut, Option<&Run>)> {
        match self.at(byte) {
            Some(run) => Some((run.behind(byte), Some(run))),
            None => self
                .fields
                .ends(byte + 1)
                .then_some((Cut::Edge(byte + 1), None)),
        }
    }

    /// A stretch widened over the fields that it begins or ends in.
    pub(super) fn widened(&self, range: ByteRange) -> ByteRange {
        self.fields.widened(range)
    }

    /// Where the sign of a comment stands whose end mark is at a place: there, or the first place behind it that is
    /// in no field, link or tracked insertion, of which the sign would become part. For one inside a content control
    /// around paragraphs LibreOffice 7.4 drops the text before it, so it stands in the next paragraph outside, or in
    /// the one before where there is none. `None` where no place is found.
    pub(super) fn sign(&self, mark: usize) -> Option<usize> {
        let mut at = mark;
        // Each step but the one to a paragraph before leads on, and that one is taken once in a sound document.
        for _ in 0..SIGN_STEPS {
            at = if let Some(control) = around(&self.controls, at) {
                self.outside_control(control)?
            } else if let Some(wrapper) = around(&self.wrappers, at) {
                wrapper.end()
            } else if let Some(field) = self.fields.around(at) {
                self.behind_field(field)
            } else {
                return Some(at);
            };
        }
        None
    }

    /// The place behind the run that ends a field, or behind the element that is the field.
    fn behind_field(&self, field: ByteRange) -> usize {
        let last = field.end().saturating_sub(1);
        self.at(last).map_or(field.end(), |run| run.place.end())
    }

    /// Where the runs of the next paragraph outside of a content control begin, or of the one before where it is the
    /// last.
    fn outside_control(&self, control: ByteRange) -> Option<usize> {
        let behind = self
            .paragraphs
            .partition_point(|begin| *begin < control.end());
        let next = self.paragraphs.get(behind);
        let before = || self.paragraphs.get(behind.checked_sub(1)?);
        next.or_else(before).copied()
    }
}

/// More steps than a sign needs to come out of whatever it stands in.
const SIGN_STEPS: usize = 16;

/// Whether an element inside these is in a text box: what is in one is marked at the box.
fn is_boxed(open: &[(Frame, ByteRange)]) -> bool {
    let in_run = |(frame, _): &&(Frame, ByteRange)| matches!(frame, Frame::Run(_));
    open.iter().filter(in_run).count() > 1
}

/// Whether an address is that of the namespace of documents.
fn is_word(address: &str) -> bool {
    crate::reading::package::xml::Space::of(address) == crate::reading::package::xml::Space::Word
}

/// A place for marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Cut {
    /// Between runs.
    Edge(usize),
    /// Between two elements of a run.
    Between(usize),
    /// Among the characters of the child of this number.
    Inside(usize, usize),
}

impl Cut {
    /// The byte before which the marks stand.
    pub(super) fn at(self) -> usize {
        match self {
            Self::Edge(at) | Self::Between(at) | Self::Inside(at, _) => at,
        }
    }
}

impl Run {
    /// The place right before the byte that a passage begins with.
    fn before(&self, byte: usize) -> Cut {
        let found = self.child_at(byte);
        match found {
            Some((number, child)) => match child.text {
                Some((_, content, _)) if byte > content.start() && content.contains(byte) => {
                    Cut::Inside(byte, number)
                }
                _ => self.boundary(number),
            },
            None => Cut::Edge(self.place.start()),
        }
    }

    /// The place right behind the byte that a passage ends with.
    fn behind(&self, byte: usize) -> Cut {
        let found = self.child_at(byte);
        match found {
            Some((number, child)) => match child.text {
                Some((_, content, _)) if byte + 1 < content.end() && content.contains(byte) => {
                    Cut::Inside(byte + 1, number)
                }
                _ => self.boundary(number + 1),
            },
            None => Cut::Edge(self.place.end()),
        }
    }

    fn child_at(&self, byte: usize) -> Option<(usize, &Child)> {
        let mut children = self.children.iter().enumerate();
        children.find(|(_, child)| child.place.contains(byte))
    }

    /// The place before the child of a number.
    fn boundary(&self, number: usize) -> Cut {
        match self.children.get(number) {
            _ if number == 0 => Cut::Edge(self.place.start()),
            Some(child) => Cut::Between(child.place.start()),
            None => Cut::Edge(self.place.end()),
        }
    }
}
