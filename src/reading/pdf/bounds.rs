//! What a file may cost. The library that interprets a PDF unpacks and draws everything that the file asks
//! for, so both are counted beforehand:
//!
//! 1. What a stream may unpack into is bounded ([`super::unpack`]).
//! 2. So is the content of all pages together ([`contents`]).
//! 3. A page may use forms (drawings kept apart), and those may use others, each many times. The bytes of
//!    content that drawing a page would run through are added up before it is drawn ([`Drawing`]).
//!
//! The [`Bounds`] follow from the limits of the settings.

use hayro_interpret::hayro_syntax::Pdf;
use hayro_interpret::hayro_syntax::content::TypedIter;
use hayro_interpret::hayro_syntax::content::ops::TypedInstruction;
use hayro_interpret::hayro_syntax::object::{Array, Dict, MaybeRef, Name, ObjRef, Stream};
use hayro_interpret::hayro_syntax::page::{Page, Resources};
use memchr::memmem;
use rustc_hash::FxHashMap;

use crate::reading::{Limits, Unreadable};

/// What a PDF may cost.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bounds {
    /// Most that one stream may unpack into, in bytes.
    pub stream: u64,
    /// Most content that all pages may hold together, in bytes.
    pub contents: u64,
    /// Most content that all forms may hold together, in bytes.
    pub forms: u64,
    /// Most content that drawing one page may run through, in bytes, forms counted each time they are used.
    pub drawing: u64,
    /// Most pages.
    pub pages: usize,
    /// Most characters that the file may draw.
    pub characters: usize,
}

impl Bounds {
    /// The bounds within the limits.
    pub(super) fn of(limits: &Limits) -> Self {
        let all = limits.unpacked_bytes();
        Self {
            stream: all / 3,
            contents: all / 3,
            forms: all,
            drawing: all / 6,
            pages: limits.pages,
            characters: limits.characters,
        }
    }
}

/// The error for a file that unpacks into too much.
pub(super) fn unpacks(what: &str, limit: u64) -> Unreadable {
    Unreadable::OverLimit {
        what: format!("{what} more than {} MB", limit / MB),
        setting: "max_unpacked_mb",
    }
}

/// How deep forms are followed; the library draws none deeper.
const DEPTH: u32 = 50;

const MB: u64 = 1_000_000;

/// Checks how many pages there are and how much they hold together.
///
/// # Errors
/// [`Unreadable::OverLimit`] where it is too much.
pub(super) fn contents(pdf: &Pdf, bounds: &Bounds) -> Result<(), Unreadable> {
    let pages = pdf.pages().len();
    if pages > bounds.pages {
        return Err(Unreadable::OverLimit {
            what: format!("the file has {pages} pages, more than {}", bounds.pages),
            setting: "max_pdf_pages",
        });
    }
    let mut pieces = Pieces::default();
    let mut sum = 0_u64;
    for page in pdf.pages().iter() {
        // The library joins the pieces before it can report how large they are.
        let together = pieces.length(pdf, page.raw(), bounds.contents);
        if sum.saturating_add(together) > bounds.contents {
            return Err(unpacks("the pages unpack into", bounds.contents));
        }
        sum += page.page_stream().map_or(0, <[u8]>::len) as u64;
        if sum > bounds.contents {
            return Err(unpacks("the pages unpack into", bounds.contents));
        }
    }
    Ok(())
}

/// The content of a page may be cut into pieces, and one piece may occur in it any number of times.
#[derive(Default)]
struct Pieces {
    /// By object: the bytes it unpacks into.
    known: FxHashMap<ObjRef, u64>,
}

impl Pieces {
    /// The bytes of all pieces of a page together, up to the limit; 0 where the content is not cut, since one
    /// stream is bounded by itself.
    fn length(&mut self, pdf: &Pdf, page: &Dict<'_>, limit: u64) -> u64 {
        let key = b"Contents".as_slice();
        if page.get::<Stream<'_>>(key).is_some() {
            return 0;
        }
        let Some(pieces) = page.get::<Array<'_>>(key) else {
            return 0;
        };
        let unpacked =
            |stream: &Stream<'_>| stream.decoded_data().map_or(0, |data| data.len() as u64);
        let mut sum = 0_u64;
        for piece in pieces.raw_iter() {
            let length = match piece {
                MaybeRef::Ref(named) => *self.known.entry(named).or_insert_with(|| {
                    let stream = pdf.xref().get::<Stream<'_>>(named.into());
                    stream.as_ref().map_or(0, unpacked)
                }),
                // A stream is always an object of its own.
                MaybeRef::NotRef(_) => 0,
            };
            // A blank is added after each.
            sum = sum.saturating_add(length).saturating_add(1);
            if sum > limit {
                break;
            }
        }
        sum
    }
}

/// Adds up what drawing costs, and keeps what it learns about a form from page to page.
#[derive(Default)]
pub(super) struct Drawing {
    /// By object number and depth: bytes run through.
    known: FxHashMap<(u32, u32), u64>,
    /// By object number: its own bytes and the forms it uses, each with how often.
    forms: FxHashMap<u32, (u64, Vec<(u32, u64)>)>,
    /// The bytes of all forms so far. Each is unpacked to be examined.
    unpacked: u64,
}

impl Drawing {
    /// Checks one page.
    ///
    /// # Errors
    /// [`Unreadable::OverLimit`] where drawing it costs too much.
    pub(super) fn check(&mut self, page: &Page<'_>, bounds: &Bounds) -> Result<(), Unreadable> {
        let Some(content) = page.page_stream() else {
            return Ok(());
        };
        let used = self.uses(content, page.resources(), DEPTH, bounds.forms);
        if self.unpacked > bounds.forms {
            let what = "the drawings that its pages use unpack into";
            return Err(unpacks(what, bounds.forms));
        }
        let mut sum = content.len() as u64;
        for (form, times) in used {
            sum = sum.saturating_add(self.cost(form, 1).saturating_mul(times));
        }
        if sum > bounds.drawing {
            let what = "drawing one of its pages runs through";
            return Err(unpacks(what, bounds.drawing));
        }
        Ok(())
    }

    /// The forms that a content uses and how often. Examines those and what they use, as deep as is left and
    /// as long as all together are within the limit.
    fn uses(
        &mut self,
        content: &[u8],
        resources: &Resources<'_>,
        left: u32,
        limit: u64,
    ) -> Vec<(u32, u64)> {
        if left == 0 || memmem::find(content, b"Do").is_none() {
            return Vec::new();
        }
        let mut used: Vec<(u32, u64)> = Vec::new();
        let mut operations = TypedIter::new(content);
        let mut streams: FxHashMap<Vec<u8>, Option<u32>> = FxHashMap::default();
        while let Some(operation) = operations.next() {
            let TypedInstruction::XObject(named) = operation else {
                continue;
            };
            let name: &Name<'_> = named.0;
            let form = match streams.get(name.as_ref()) {
                Some(form) => *form,
                None => {
                    let form = resources
                        .get_x_object(name)
                        .and_then(|stream| self.learn(&stream, resources, left, limit));
                    streams.insert(name.as_ref().to_vec(), form);
                    form
                }
            };
            let Some(form) = form else { continue };
            match used.iter_mut().find(|(other, _)| *other == form) {
                Some((_, times)) => *times += 1,
                None => used.push((form, 1)),
            }
        }
        used
    }

    fn learn(
        &mut self,
        stream: &Stream<'_>,
        outer: &Resources<'_>,
        left: u32,
        limit: u64,
    ) -> Option<u32> {
        if self.unpacked > limit {
            return None;
        }
        let dict = stream.dict();
        let subtype = dict.get::<Name<'_>>(b"Subtype".as_slice())?;
        if subtype.as_ref() != b"Form" {
            return None;
        }
        let number = stream.obj_id().obj_number;
        if self.forms.contains_key(&number) {
            return Some(number);
        }
        // A placeholder while its own content is examined.
        self.forms.insert(number, (0, Vec::new()));
        let content = stream.decoded_data().ok()?;
        self.unpacked = self.unpacked.saturating_add(content.len() as u64);
        let own = dict
            .get::<Dict<'_>>(b"Resources".as_slice())
            .map(Resources::new);
        let used = self.uses(&content, own.as_ref().unwrap_or(outer), left - 1, limit);
        self.forms.insert(number, (content.len() as u64, used));
        Some(number)
    }

    /// The bytes that drawing a form runs through, at a depth.
    fn cost(&mut self, form: u32, depth: u32) -> u64 {
        if depth > DEPTH {
            return 0;
        }
        if let Some(known) = self.known.get(&(form, depth)) {
            return *known;
        }
        let (own, used) = self.forms.get(&form).cloned().unwrap_or_default();
        // A few bytes even for an empty form, since beginning and ending it costs time too.
        let mut sum = own.saturating_add(20);
        for (inner, times) in used {
            sum = sum.saturating_add(self.cost(inner, depth + 1).saturating_mul(times));
        }
        self.known.insert((form, depth), sum);
        sum
    }
}
