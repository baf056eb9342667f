//! How many characters the fonts of a file give widths for. A font may give them by ranges (`0 65535 500`),
//! and the library stores each character of a range separately, so a font of a few bytes can take any amount
//! of memory and time. The characters are counted here, before any font is opened.

use hayro_interpret::hayro_syntax::Pdf;
use hayro_interpret::hayro_syntax::object::{Array, Dict, MaybeRef, Object};

use crate::reading::Unreadable;

/// Most characters of one font with widths. Fonts have at most 65,536, and may name some more than once.
const ONE_FONT: u64 = 200_000;

/// Most characters of all fonts together: twice a thousand fonts for all of Chinese.
const ALL_FONTS: u64 = 20_000_000;

/// How deep a font may be nested in the object that holds it: resources, fonts, font, descendants,
/// descendant.
const DEPTH: u32 = 6;

/// Checks the fonts of an opened file.
///
/// # Errors
/// [`Unreadable::Excessive`] where they give widths for more characters than fonts have.
pub(super) fn check(pdf: &Pdf) -> Result<(), Unreadable> {
    let mut counted = Counted::default();
    for object in pdf.objects() {
        match &object {
            Object::Stream(stream) => counted.dict(stream.dict(), DEPTH)?,
            object => counted.object(object, DEPTH)?,
        }
    }
    Ok(())
}

#[derive(Default)]
struct Counted {
    all: u64,
}

impl Counted {
    /// Counts what an object itself holds; objects it refers to are counted separately.
    fn object(&mut self, object: &Object<'_>, left: u32) -> Result<(), Unreadable> {
        match object {
            Object::Dict(dict) => self.dict(dict, left),
            Object::Array(array) if left > 0 => array
                .raw_iter()
                .try_for_each(|item| self.inside(&item, left - 1)),
            _ => Ok(()),
        }
    }

    fn inside(&mut self, item: &MaybeRef<Object<'_>>, left: u32) -> Result<(), Unreadable> {
        match item {
            MaybeRef::NotRef(object @ (Object::Dict(_) | Object::Array(_))) => {
                self.object(object, left)
            }
            _ => Ok(()),
        }
    }

    fn dict(&mut self, dict: &Dict<'_>, left: u32) -> Result<(), Unreadable> {
        let array = |key: &[u8]| dict.get::<Array<'_>>(key);
        let horizontal = array(b"W").map_or(0, |widths| across(&widths));
        let vertical = array(b"W2").map_or(0, |widths| down(&widths));
        // The characters before the first are stored too.
        let before = dict.get::<usize>(b"FirstChar".as_slice()).unwrap_or(0) as u64;
        let own = horizontal.max(vertical).max(before);
        self.all = self.all.saturating_add(own);
        if own > ONE_FONT || self.all > ALL_FONTS {
            return Err(Unreadable::Excessive(
                "its fonts give widths for more characters than fonts have".to_owned(),
            ));
        }
        if left == 0 {
            return Ok(());
        }
        dict.entries()
            .try_for_each(|(_, value)| self.inside(&value, left - 1))
    }
}

/// The characters that an array of widths names, read as the library reads it: `first [width ...]` or
/// `first last width`. Stops where there are too many.
fn across(widths: &Array<'_>) -> u64 {
    let mut items = widths.flex_iter();
    let mut count = 0_u64;
    while count <= ONE_FONT {
        if let Some((_, some)) = items.next::<(u32, Array<'_>)>() {
            count = count.saturating_add(some.raw_iter().count() as u64);
        } else if let Some((first, last, _)) = items.next::<(u32, u32, f32)>() {
            count = count.saturating_add(range(first, last));
        } else {
            break;
        }
    }
    count
}

/// The same for an array of heights: three numbers for each character, or `first last` and three numbers.
fn down(heights: &Array<'_>) -> u64 {
    let mut items = heights.flex_iter();
    let mut count = 0_u64;
    while count <= ONE_FONT {
        if let Some((_, some)) = items.next::<(u32, Array<'_>)>() {
            count = count.saturating_add(some.raw_iter().count() as u64 / 3);
        } else if let Some((first, last, ..)) = items.next::<(u32, u32, f32, f32, f32)>() {
            count = count.saturating_add(range(first, last));
        } else {
            break;
        }
    }
    count
}

/// The characters from the first to the last. An empty range counts too, since reading it costs time.
fn range(first: u32, last: u32) -> u64 {
    u64::from(last.saturating_sub(first)) + 1
}
