//! What a file may cost. The library that interprets a PDF unpacks whatever it is told to and draws whatever
//! it is told to, so both are counted beforehand:
//!
//! 1. A stream may unpack into [`UNPACKED_MB`] ([`super::unpack`]).
//! 2. The content of all pages together may be [`CONTENT_MB`] ([`contents`]).
//! 3. A page may use forms (drawings kept apart), and those others, and each many times. The
//!    bytes of content that drawing a page would run through are added up before it is drawn ([`drawing`]).
//!
//! All limits are far above what documents need; they are our own choice.

use hayro_interpret::hayro_syntax::Pdf;
use hayro_interpret::hayro_syntax::content::TypedIter;
use hayro_interpret::hayro_syntax::content::ops::TypedInstruction;
use hayro_interpret::hayro_syntax::object::{Dict, Name, Stream};
use hayro_interpret::hayro_syntax::page::{Page, Resources};
use memchr::memmem;
use rustc_hash::FxHashMap;

use crate::reading::Unreadable;

/// Most that one stream may unpack into, in megabytes (10^6 bytes).
pub(super) const UNPACKED_MB: u64 = 200;

/// Most content that all pages may hold together, in megabytes.
pub(super) const CONTENT_MB: u64 = 200;

/// Most content that drawing one page may run through, in megabytes, forms counted each time they are used.
pub(super) const DRAWING_MB: u64 = 100;

/// Most characters that a file may draw: those of ten long books.
pub(super) const GLYPHS: usize = 10_000_000;

/// Most pages.
pub(super) const PAGES: usize = 20_000;

/// How deep forms are followed; the library draws none deeper.
const DEPTH: u32 = 50;

pub(super) const MB: u64 = 1_000_000;

/// Checks how many pages there are and what they hold together.
///
/// # Errors
/// [`Unreadable::Excessive`] where it is too much.
pub(super) fn contents(pdf: &Pdf) -> Result<(), Unreadable> {
    if pdf.pages().len() > PAGES {
        return Err(Unreadable::Excessive(format!(
            "the file has more than {PAGES} pages"
        )));
    }
    let mut sum = 0_u64;
    for page in pdf.pages().iter() {
        sum += page.page_stream().map_or(0, <[u8]>::len) as u64;
        if sum > CONTENT_MB * MB {
            return Err(Unreadable::Excessive(format!(
                "the pages unpack into more than {CONTENT_MB} MB"
            )));
        }
    }
    Ok(())
}

/// Adds up what drawing takes; keeps what it learns about a form from page to page.
#[derive(Default)]
pub(super) struct Drawing {
    /// By object number and depth: bytes run through.
    known: FxHashMap<(u32, u32), u64>,
    /// By object number: own bytes and the forms used, each with how often.
    forms: FxHashMap<u32, (u64, Vec<(u32, u64)>)>,
}

impl Drawing {
    /// Checks one page.
    ///
    /// # Errors
    /// [`Unreadable::Excessive`] where drawing it takes too much.
    pub fn check(&mut self, page: &Page<'_>) -> Result<(), Unreadable> {
        let Some(content) = page.page_stream() else {
            return Ok(());
        };
        let used = self.uses(content, page.resources(), DEPTH);
        let mut sum = content.len() as u64;
        for (form, times) in used {
            sum = sum.saturating_add(self.cost(form, 1).saturating_mul(times));
        }
        if sum > DRAWING_MB * MB {
            return Err(Unreadable::Excessive(format!(
                "to draw one of its pages takes more than {DRAWING_MB} MB of drawing instructions"
            )));
        }
        Ok(())
    }

    /// The forms that a content uses and how often. Learns those and what they use, as deep as is left.
    fn uses(&mut self, content: &[u8], resources: &Resources<'_>, left: u32) -> Vec<(u32, u64)> {
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
                        .and_then(|stream| self.learn(&stream, resources, left));
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

    fn learn(&mut self, stream: &Stream<'_>, outer: &Resources<'_>, left: u32) -> Option<u32> {
        let dict = stream.dict();
        let subtype = dict.get::<Name<'_>>(b"Subtype".as_slice())?;
        if subtype.as_ref() != b"Form" {
            return None;
        }
        let number = stream.obj_id().obj_number;
        if self.forms.contains_key(&number) {
            return Some(number);
        }
        // Stands for itself while its own content is looked at.
        self.forms.insert(number, (0, Vec::new()));
        let content = stream.decoded_data().ok()?;
        let own = dict
            .get::<Dict<'_>>(b"Resources".as_slice())
            .map(Resources::new);
        let used = self.uses(&content, own.as_ref().unwrap_or(outer), left - 1);
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
        // A few bytes even for an empty form: to begin and end it is work too.
        let mut sum = own.saturating_add(20);
        for (inner, times) in used {
            sum = sum.saturating_add(self.cost(inner, depth + 1).saturating_mul(times));
        }
        self.known.insert((form, depth), sum);
        sum
    }
}
