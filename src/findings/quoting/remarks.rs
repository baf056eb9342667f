//! Remarks that a writer puts into or behind a quotation: on its mistakes, its emphasis, its language,
//! and on who quotes whom.
//!
//! Published (section numbers from memory): *sic* and *emphasis added* in square brackets (APA 7, 8.31
//! and 8.32; Chicago 17, 13.61 and 13.62; MLA 9, 6.57 and 6.60, which has them in round brackets behind
//! the quotation too); translations of one's own are paraphrase to APA (7, 8.16) and named as such by Chicago
//! (17, 11.14) and MLA (9, 6.76); words known by way of another work name the work that was read (APA
//! 7, 8.6; Chicago 17, 14.260; MLA 9, 6.77).

use crate::findings::citing::ResolvedCitation;
use crate::findings::laid::LaidDraft;
use crate::text::{ByteRange, Cite, Quotation};

/// Whether a bracket inside a quotation only remarks on it and so stands for none of the source's words.
pub(super) fn is_remark(inside: &str) -> bool {
    let words = words(inside);
    let has = |listed: &[&str]| words.iter().any(|word| listed.contains(&word.as_str()));
    let only_sic = words.len() <= 2 && has(&["sic"]);
    let on_emphasis = has(EMPHASIS) && has(WHOSE);
    only_sic || on_emphasis || is_own_translation(inside)
}

const EMPHASIS: &[&str] = &[
    "emphasis",
    "emphases",
    "italics",
    "italicised",
    "italicized",
    "underlining",
    "bold",
    "stress",
    "boldface",
];

const WHOSE: &[&str] = &[
    "added", "mine", "my", "ours", "our", "original", "author", "author's", "authors", "theirs",
    "removed", "supplied",
];

fn words(text: &str) -> Vec<String> {
    text.split(|c: char| !(c.is_alphanumeric() || matches!(c, '\'' | '’')))
        .filter(|word| !word.is_empty())
        .map(|word| word.to_lowercase().replace('’', "'"))
        .collect()
}

/// Whether words say that a translation is the writer's own: `my translation`, `trans. mine`,
/// `translated by the author`.
fn is_own_translation(words_of: &str) -> bool {
    let words = words(words_of);
    let has = |listed: &[&str]| words.iter().any(|word| listed.contains(&word.as_str()));
    has(&[
        "translation",
        "translations",
        "translated",
        "trans",
        "transl",
    ]) && has(&[
        "my", "mine", "own", "our", "ours", "author", "author's", "me", "us",
    ])
}

/// Bytes behind a quotation in which a bracket still speaks of it.
const NEAR_BYTES: usize = 200;

/// Whether the quotation is given in the writer's own translation: a citation of it or a bracket in or
/// right behind it says so.
pub(super) fn is_translated(
    laid: &LaidDraft,
    quotation: &Quotation,
    citation: Option<&ResolvedCitation>,
) -> bool {
    let text = &laid.text().text;
    let said = |range: ByteRange| is_own_translation(text.slice(range));
    if citation.is_some_and(|credited| said(credited.citation.range)) {
        return true;
    }
    let own = laid.around(quotation.outer, 0).hull(quotation.outer);
    let mut end = own.end().min(quotation.outer.end() + NEAR_BYTES);
    while !text.content().is_char_boundary(end) {
        end -= 1;
    }
    let around = text.slice(ByteRange::of(quotation.outer.start(), end));
    around.split(['(', '[']).skip(1).any(|rest| {
        let inside = rest.split([')', ']']).next().unwrap_or_default();
        is_own_translation(inside)
    })
}

/// Whether a cite names the work that quotes the words, not the one that first had them: `as cited in`,
/// `quoted in`, `qtd. in`.
pub(crate) fn is_secondary(cite: &Cite) -> bool {
    let Some(prefix) = &cite.prefix else {
        return false;
    };
    let words = words(prefix);
    let quotes = [
        "cited",
        "quoted",
        "qtd",
        "reported",
        "reproduced",
        "reprinted",
        "zit",
        "zitiert",
    ];
    words
        .iter()
        .any(|word| word == "in" || word == "by" || word == "nach")
        && words.iter().any(|word| quotes.contains(&word.as_str()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn remarks_stand_for_nothing() {
        for remark in [
            "sic",
            "*sic*",
            "sic!",
            "emphasis added",
            "emphasis in original",
            "italics mine",
            "my italics",
            "Harrow’s italics; emphasis in the original",
            "bold added",
            "my translation",
            "trans. mine",
            "translated by the author",
        ] {
            assert!(is_remark(remark), "{remark}");
        }
        for other in [
            "the moths",
            "...",
            "musicians",
            "of the lamps",
            "added light",
            "my lamp",
            "an emphasis on lamps",
            "the translation of souls",
            "1903",
        ] {
            assert!(!is_remark(other), "{other}");
        }
    }

    #[test]
    fn secondary_cites_name_the_work_that_was_read() {
        let cite = |prefix: Option<&str>| Cite {
            range: ByteRange::default(),
            target: crate::text::CiteTarget::Number(1),
            prefix: prefix.map(str::to_owned),
            locator: None,
        };
        for prefix in [
            "as cited in",
            "quoted in",
            "qtd. in",
            "cited by",
            "as quoted in",
        ] {
            assert!(is_secondary(&cite(Some(prefix))), "{prefix}");
        }
        for prefix in [Some("see"), Some("in"), Some("cf."), Some("cited"), None] {
            assert!(!is_secondary(&cite(prefix)), "{prefix:?}");
        }
    }
}
