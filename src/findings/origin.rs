//! The likeliest origin of rewrites in a review, for `place --review`: rewrites without a known source are set against
//! all stored sources.

use super::SourcePlace;
use super::material::Shelf;
use crate::overlap::Draft;
use crate::overlap::origins::origins;
use crate::text::MarkedText;

/// Sureness from which on an origin is called possible, likely, very likely. Our own choice; what is less than possible
/// is set against no passage and has no degree.
pub const POSSIBLE: f64 = 0.2;
/// See [`POSSIBLE`].
pub const LIKELY: f64 = 0.5;
/// See [`POSSIBLE`].
pub const VERY_LIKELY: f64 = 0.9;

/// Where a rewrite most likely comes from.
#[derive(Debug, Clone)]
pub struct FoundOrigin {
    /// The place in the source.
    pub place: SourcePlace,
    /// How sure it is that the rewrite comes from there, 0 to 1.
    pub sureness: f64,
}

/// The likeliest origin of each rewrite among the shelf's sources, in order; `None` where nothing telling is shared.
#[must_use]
pub fn find_origins(shelf: &mut Shelf<'_>, rewrites: &[MarkedText]) -> Vec<Option<FoundOrigin>> {
    // What stands in quotation marks is looked for too: a writer may want the page of a quotation.
    let drafts = Draft::many(rewrites, &mut shelf.library, usize::MAX);
    let drafts: Vec<Draft<'_>> = drafts
        .into_iter()
        .map(|draft| draft.as_one(&shelf.library.lexicon))
        .collect();
    let found = origins(&drafts, &shelf.library, &shelf.sources());
    found
        .into_iter()
        .map(|origin| {
            let origin = origin?;
            Some(FoundOrigin {
                place: shelf.source_place(origin.document, origin.source)?,
                sureness: origin.sureness,
            })
        })
        .collect()
}
