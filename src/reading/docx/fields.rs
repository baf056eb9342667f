//! Fields: an instruction and its result. The result is what the reader of the document sees; the
//! instruction says what it is.

use crate::reading::flow::{Cluster, base64};

/// What an instruction, or the tag of a content control, makes of the text that belongs to it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Meaning {
    /// A citation with the references it stands for.
    Citation(Cluster),
    /// The list of references.
    References,
    /// A table of contents or an index.
    Contents,
    /// Nothing that matters here.
    Plain,
}

/// What an instruction means.
pub(super) fn of_instruction(instruction: &str) -> Meaning {
    let instruction = instruction.trim();
    let name = instruction.split_whitespace().next().unwrap_or_default();
    match name.to_ascii_uppercase().as_str() {
        "BIBLIOGRAPHY" => return Meaning::References,
        "TOC" | "TOA" | "INDEX" => return Meaning::Contents,
        _ => {}
    }
    let of_csl = instruction
        .contains("CSL_CITATION")
        .then(|| Cluster::find(instruction));
    match of_csl.flatten() {
        Some(cluster) => Meaning::Citation(cluster),
        None if instruction.contains("CSL_BIBLIOGRAPHY") => Meaning::References,
        None => Meaning::Plain,
    }
}

/// What the tag of a content control means: some hold a citation in Base64 behind their name.
pub(super) fn of_tag(tag: &str) -> Meaning {
    let upper = tag.to_ascii_uppercase();
    let encoded = tag
        .match_indices('_')
        .filter_map(|(at, _)| tag.get(at + 1..))
        .filter(|rest| rest.starts_with("ey"))
        .find_map(base64::decode);
    let cluster = encoded
        .and_then(|bytes| String::from_utf8(bytes).ok())
        .and_then(|json| Cluster::find(&json))
        .or_else(|| Cluster::find(tag));
    match cluster {
        Some(cluster) => Meaning::Citation(cluster),
        None if upper.contains("BIBLIOGRAPHY") => Meaning::References,
        None => Meaning::Plain,
    }
}

/// A field that has begun.
#[derive(Debug)]
pub(super) struct Field {
    /// Its instruction as far as it was read.
    pub instruction: String,
    /// Where its result began in the story of the given number; `None` while it is still the instruction.
    pub result: Option<Result>,
}

/// The result of a field.
#[derive(Debug)]
pub(super) struct Result {
    /// Where it begins.
    pub start: usize,
    /// How many stories were open.
    pub story: usize,
    /// What it means.
    pub meaning: Meaning,
}
