//! A rewrite set against the passage that it most likely comes from.

use std::sync::Arc;

use crate::findings::origin::FoundOrigin;
use crate::overlap;
use crate::report::place::{NamedText, PlacedRewrite, TracedRewrite};
use crate::report::source_name;
use crate::review::Settings;
use crate::text::{MarkedText, Text};

/// Sets a rewrite against its origin.
pub(super) fn set_against(
    rewrite: NamedText,
    origin: Option<FoundOrigin>,
    settings: &Settings,
) -> TracedRewrite {
    let Some(origin) = origin else {
        return TracedRewrite::Untraced(rewrite);
    };
    let passage = NamedText {
        name: source_name(&origin.place),
        text: Arc::new(MarkedText::source(Text::paragraph(&origin.place.wording()))),
    };
    let placement = overlap::place(&passage.text, &rewrite.text, settings.quotation_words);
    TracedRewrite::Traced {
        origin: Box::new(origin),
        passage,
        placed: Box::new(PlacedRewrite { rewrite, placement }),
    }
}
