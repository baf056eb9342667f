//! A class: one passage and its rewrites on one scale. Nothing of it is kept here; the page sends what is on it.

use std::sync::Arc;

use serde_json::{Value, json};

use crate::findings::{NamedText, PlaceReport, PlacedRewrite};
use crate::report::page::pieces;
use crate::review::Settings;
use crate::text::{MarkedText, Text};

/// Words below which a rewrite has no place: a name and a verb are nobody's wording. Our own choice.
const FEWEST_WORDS: usize = 4;

/// A rewrite as the page sends it.
#[derive(Debug, Clone, serde::Deserialize)]
pub struct Written {
    /// Whose it is, or what file it came from; may be empty.
    pub name: String,
    /// Its words.
    pub text: String,
}

/// A passage with what was typed as its rewrite.
pub(super) fn placed(passage: &str, rewrite: &str, settings: &Settings) -> Value {
    let source = marked(passage, true);
    let named = NamedText {
        name: String::new(),
        text: marked(rewrite, false),
    };
    let placed = PlacedRewrite::new(&source, named, settings);
    if placed.placement.measures.words < FEWEST_WORDS {
        return json!({ "none": "too few words of its own to be placed" });
    }
    // The texts as they were set against each other: blank space at their ends is gone.
    let texts = (source.text.content(), placed.rewrite.text.text.content());
    pieces::placed(texts, &placed.placement)
}

/// All rewrites of a class, in the order sent.
pub(super) fn all(passage: &str, rewrites: &[Written], settings: &Settings) -> Value {
    let one = |written: &Written| {
        let mut placed = placed(passage, &written.text, settings);
        if let Some(fields) = placed.as_object_mut() {
            fields.insert("name".to_owned(), json!(written.name));
            fields.insert("text".to_owned(), json!(written.text));
        }
        placed
    };
    json!({ "rewrites": rewrites.iter().map(one).collect::<Vec<_>>() })
}

/// The same for the sheets that are printed.
pub(super) fn report(passage: &str, rewrites: &[Written], settings: &Settings) -> PlaceReport {
    let source = marked(passage, true);
    let placed = rewrites.iter().map(|written| {
        let named = NamedText {
            name: written.name.clone(),
            text: marked(&written.text, false),
        };
        PlacedRewrite::new(&source, named, settings)
    });
    PlaceReport {
        rewrites: placed.collect(),
        source: NamedText {
            name: "the passage".to_owned(),
            text: source,
        },
    }
}

fn marked(text: &str, is_source: bool) -> Arc<MarkedText> {
    let text = Text::paragraph(text.trim());
    Arc::new(match is_source {
        true => MarkedText::source(text),
        false => MarkedText::new(text),
    })
}
