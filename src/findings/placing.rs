//! Rewrites on the scale: set against the passage that they were made from, or against the one that they most likely
//! come from among the stored sources. These are the answers that the reports of `place` write from.

use std::sync::Arc;

use rayon::prelude::*;

use super::likeliest_source::FoundOrigin;
use super::session::Session;
use crate::overlap::{self, Placement};
use crate::review::Settings;
use crate::text::{MarkedText, Text};

/// A passage with the name it goes by.
#[derive(Debug, Clone)]
pub struct NamedText {
    /// Its file, as named.
    pub name: String,
    /// The passage.
    pub text: Arc<MarkedText>,
}

/// A rewrite and where it stands.
#[derive(Debug, Clone)]
pub struct PlacedRewrite {
    /// The rewrite.
    pub rewrite: NamedText,
    /// How it stands to the passage.
    pub placement: Placement,
}

impl PlacedRewrite {
    /// Sets a rewrite against the passage that it was made from.
    #[must_use]
    pub fn new(passage: &Arc<MarkedText>, rewrite: NamedText, settings: &Settings) -> Self {
        let placement = overlap::place(passage, &rewrite.text, settings.quotation_words);
        Self { rewrite, placement }
    }
}

/// Rewrites of one passage.
#[derive(Debug, Clone)]
pub struct PlaceReport {
    /// The passage that was rewritten.
    pub source: NamedText,
    /// The rewrites in the order named.
    pub rewrites: Vec<PlacedRewrite>,
}

/// A rewrite and where it most likely comes from.
#[derive(Debug, Clone)]
pub enum TracedRewrite {
    /// No source shares distinctive words with it.
    Untraced(NamedText),
    /// It has a likeliest origin.
    Traced {
        /// The place in the source.
        origin: Box<FoundOrigin>,
        /// The passage there.
        passage: Arc<MarkedText>,
        /// The rewrite, set against the passage.
        placed: Box<PlacedRewrite>,
    },
}

impl TracedRewrite {
    /// The name of the rewrite.
    #[must_use]
    pub fn name(&self) -> &str {
        match self {
            Self::Untraced(rewrite) => &rewrite.name,
            Self::Traced { placed, .. } => &placed.rewrite.name,
        }
    }
}

impl Session {
    /// Sets each rewrite against the passage that it most likely comes from, in order.
    #[must_use]
    pub fn trace(&self, rewrites: Vec<NamedText>) -> Vec<TracedRewrite> {
        let texts: Vec<Arc<MarkedText>> = rewrites
            .iter()
            .map(|rewrite| Arc::clone(&rewrite.text))
            .collect();
        let found = self.find_origins(&texts);
        rewrites
            .into_par_iter()
            .zip(found)
            .map(|(rewrite, origin)| self.traced(rewrite, origin))
            .collect()
    }

    fn traced(&self, rewrite: NamedText, origin: Option<FoundOrigin>) -> TracedRewrite {
        let Some(origin) = origin else {
            return TracedRewrite::Untraced(rewrite);
        };
        let passage = MarkedText::source(Text::paragraph(&origin.place.wording()));
        let passage = Arc::new(passage);
        let placed = PlacedRewrite::new(&passage, rewrite, &self.review.settings);
        TracedRewrite::Traced {
            origin: Box::new(origin),
            passage,
            placed: Box::new(placed),
        }
    }
}
