//! The likeliest origin of rewrites in a review, for `place --review`: rewrites without a known source are set against
//! all stored sources.

use std::sync::Arc;

use super::SourcePlace;
use super::session::Session;
use crate::overlap::Draft;
pub use crate::overlap::origins::MOST_WORDS;
use crate::overlap::origins::origins;
use crate::text::MarkedText;

/// Sureness from which on an origin is called possible, likely, very likely. Our own choice; what is less than possible
/// is set against no passage and has no degree.
pub(crate) const POSSIBLE: f64 = 0.2;
/// See [`POSSIBLE`].
pub(crate) const LIKELY: f64 = 0.5;
/// See [`POSSIBLE`].
pub(crate) const VERY_LIKELY: f64 = 0.9;

/// Where a rewrite most likely comes from.
#[derive(Debug, Clone)]
pub struct FoundOrigin {
    /// The place in the source.
    pub place: SourcePlace,
    /// How sure it is that the rewrite comes from there, 0 to 1.
    pub sureness: f64,
}

impl Session {
    /// The likeliest origin of each rewrite among the stored sources, in order; `None` where nothing telling is shared.
    #[must_use]
    pub fn find_origins(&self, rewrites: &[Arc<MarkedText>]) -> Vec<Option<FoundOrigin>> {
        // What stands in quotation marks is looked for too: a writer may want the page of a quotation.
        let drafts: Vec<Draft> = rewrites
            .iter()
            .map(|text| Draft::new(text, &self.library, usize::MAX).into_one())
            .collect();
        let found = origins(&drafts, &self.library, &self.sources());
        let references = &self.review.references;
        let named = |origin: crate::overlap::origins::Likeliest| {
            Some(FoundOrigin {
                place: self.source_place(origin.document, origin.source, references)?,
                sureness: origin.sureness,
            })
        };
        found.into_iter().map(|origin| named(origin?)).collect()
    }
}
