//! Comments in a Word document: marks around the passage in the document's part, the comments in a part
//! of their own (ISO/IEC 29500-1, section 17.13.4).

use std::collections::BTreeMap;

use super::anchor::{Anchor, anchor, main_part};
use super::comments::Comments;
use super::runs::{Cut, Run, Runs};
use super::sound::{self, Changed};
use super::splice::Splice;
use super::{MarginError, unusual, words};
use crate::findings::Finding;
use crate::reading::Limits;
use crate::reading::package::{Package, Room};
use crate::text::{ByteRange, Text};

/// The package with a comment for each finding.
pub(super) fn annotate(
    bytes: Vec<u8>,
    text: &Text,
    findings: &[&Finding],
    limits: &Limits,
) -> Result<Vec<u8>, MarginError> {
    let mut package = Package::open(bytes, "Word (.docx)", Room::of(limits))?;
    if findings.is_empty() {
        return Ok(package.with(BTreeMap::new())?);
    }
    let main = main_part(text)?.to_owned();
    let Some(document) = package.part(&main)? else {
        return Err(MarginError::OtherFile);
    };
    let runs = Runs::of(&main, &document)?;
    let Some((prefix, _)) = &runs.namespace else {
        return Err(unusual("its namespace has no prefix"));
    };
    let mut comments = Comments::of(&mut package, &main, &runs)?;
    let mut marks = Marks::new(&document, &runs, prefix);
    for finding in findings {
        let Some(Anchor::Passage(range) | Anchor::Call(range)) = anchor(text, finding)? else {
            continue;
        };
        let number = comments.add(words::paragraphs(finding));
        marks.around(range, number)?;
    }
    let after = marks.apply();
    let (mut changed, added) = comments.written(&mut package, &main, &runs)?;
    changed.insert(main, Changed::of(document, after));
    sound::copy(package, changed, &|name, element| added.has(name, element))
}

/// Marks at the places of one part.
struct Marks<'a> {
    document: &'a str,
    runs: &'a Runs,
    prefix: &'a str,
    /// By place: what closes what is cut there, the marks, and what opens it again.
    places: BTreeMap<usize, Place>,
    splice: Splice,
}

/// The marks at one place.
#[derive(Default)]
struct Place {
    close: String,
    ends: String,
    signs: String,
    starts: String,
    reopen: String,
}

impl<'a> Marks<'a> {
    fn new(document: &'a str, runs: &'a Runs, prefix: &'a str) -> Self {
        Self {
            document,
            runs,
            prefix,
            places: BTreeMap::new(),
            splice: Splice::default(),
        }
    }

    /// Marks a stretch as that of a comment.
    fn around(&mut self, range: ByteRange, number: u32) -> Result<(), MarginError> {
        let runs = self.runs;
        let range = runs.widened(range);
        let Some((start, first)) = runs.before(range.start()) else {
            return Err(unusual("some of its text stands in no run"));
        };
        let behind = match range.is_empty() {
            true => Some((start, first)),
            false => runs.behind(range.end() - 1),
        };
        let Some((behind, last)) = behind else {
            return Err(unusual("some of its text stands in no run"));
        };
        let Some(sign_at) = runs.sign(behind.at()) else {
            return Err(unusual("its fields and links overlap"));
        };
        let p = self.prefix;
        let mark = format!("<{p}:commentRangeStart {p}:id=\"{number}\"/>");
        self.place(start, first).starts.push_str(&mark);
        let mark = format!("<{p}:commentRangeEnd {p}:id=\"{number}\"/>");
        let sign = format!("<{p}:r><{p}:commentReference {p}:id=\"{number}\"/></{p}:r>");
        let is_lifted = sign_at != behind.at();
        let place = self.place(behind, last);
        if range.is_empty() {
            // The end of nothing comes behind its start.
            place.starts.push_str(&mark);
        } else {
            place.ends.push_str(&mark);
        }
        match (is_lifted, range.is_empty()) {
            (false, true) => place.starts.push_str(&sign),
            (false, false) => place.signs.push_str(&sign),
            (true, _) => {
                let place = self.places.entry(sign_at).or_default();
                place.signs.push_str(&sign);
            }
        }
        Ok(())
    }

    /// The marks at a place, made ready to be cut there.
    fn place(&mut self, cut: Cut, run: Option<&Run>) -> &mut Place {
        if let (Cut::Inside(_, child), Some(run)) = (cut, run)
            && let Some(child) = run.children.get(child)
            && let Some((tag, content, keeps)) = child.text
        {
            self.keep_blanks(tag, content, keeps);
        }
        let (p, document) = (self.prefix, self.document);
        let slice = |range: ByteRange| document.get(range.as_range()).unwrap_or_default();
        let look = run.map(|run| {
            let properties = run.properties.map(slice).unwrap_or_default();
            format!("{}{properties}", slice(run.tag))
        });
        let place = self.places.entry(cut.at()).or_default();
        match (cut, look) {
            (Cut::Edge(_), _) | (_, None) => {}
            (Cut::Between(_), Some(look)) => {
                place.close = format!("</{p}:r>");
                place.reopen = look;
            }
            (Cut::Inside(..), Some(look)) => {
                place.close = format!("</{p}:t></{p}:r>");
                place.reopen = format!("{look}<{p}:t xml:space=\"preserve\">");
            }
        }
        place
    }

    /// Makes the blanks at the ends of characters count, which they do once these are cut in two; those
    /// that did not count before are left out.
    fn keep_blanks(&mut self, tag: ByteRange, content: ByteRange, keeps: bool) {
        if keeps {
            return;
        }
        let tag_text = self.document.get(tag.as_range()).unwrap_or_default();
        let name = tag_text.find(|c: char| c.is_ascii_whitespace() || c == '>');
        let plain = name
            .and_then(|name| tag_text.get(..name))
            .unwrap_or(tag_text);
        let behind_name = tag.start() + plain.len();
        self.splice.leave_out(ByteRange::of(behind_name, tag.end()));
        if !self.splice.has(behind_name) {
            self.splice.put(behind_name, " xml:space=\"preserve\">");
        }
        let text = self.document.get(content.as_range()).unwrap_or_default();
        let blank = |c: char| matches!(c, ' ' | '\t' | '\n' | '\r');
        let lead = text.len() - text.trim_start_matches(blank).len();
        let solid = text.trim_end_matches(blank).len().max(lead);
        self.splice
            .leave_out(ByteRange::of(content.start(), content.start() + lead));
        self.splice
            .leave_out(ByteRange::of(content.start() + solid, content.end()));
    }

    fn apply(mut self) -> String {
        for (at, place) in &self.places {
            for text in [
                &place.close,
                &place.ends,
                &place.signs,
                &place.starts,
                &place.reopen,
            ] {
                self.splice.put(*at, text);
            }
        }
        self.splice.apply(self.document)
    }
}
