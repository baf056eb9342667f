//! What stands in a bracket before the names of a cite: a prefix (`see also`, `as cited in`), other
//! words, or both.

use super::tokens::{Kind, Token};
use super::vocabulary::{CUES, LINKS, listed};

/// The words before a cite.
#[derive(Debug)]
pub(super) struct Lead {
    /// The prefix as written, without the comma or colon after it.
    pub prefix: Option<String>,
    /// The byte at which the prefix begins; the end of the lead where there is none.
    pub start: usize,
    /// Whether there are other words before the prefix.
    pub rest: bool,
    /// Whether those words end like the place of a publisher: `London: `.
    pub place: bool,
}

/// Divides the tokens before a cite, which begins at the byte `end`. A chain of cue words makes a prefix only
/// if at least one of them shows that a citation follows: `see in` does, `in` alone does not
/// (`in Stockholm, 2014`).
pub(super) fn lead(content: &str, tokens: &[Token<'_>], end: usize) -> Lead {
    let chain = tokens
        .iter()
        .rev()
        .take_while(|token| match token.kind {
            Kind::Comma | Kind::Dot | Kind::Colon => true,
            Kind::Word => listed(CUES, token.text) || listed(LINKS, token.text),
            _ => false,
        })
        .count();
    let (before, chain) = tokens.split_at(tokens.len() - chain);
    let words = chain
        .iter()
        .position(|token| token.kind == Kind::Word)
        .and_then(|first| chain.get(first..))
        .unwrap_or_default();
    let telling = words
        .iter()
        .any(|token| token.kind == Kind::Word && listed(CUES, token.text));
    let article = words.iter().all(|token| listed(ARTICLES, token.text));
    let start = words.first().map_or(end, |first| first.start);
    let written = content.get(start..end).unwrap_or_default();
    let written = written.trim_end().trim_end_matches([',', ':']).trim_end();
    let place = matches!(tokens, [.., name, colon]
        if colon.kind == Kind::Colon && name.is_capitalised() && !telling);
    Lead {
        prefix: (telling && !written.is_empty()).then(|| super::chunk::one_line(written)),
        start: if telling { start } else { end },
        rest: !before.is_empty() || !(telling || article),
        place,
    }
}

const ARTICLES: &[&str] = &["a", "an", "the"];
