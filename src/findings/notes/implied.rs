//! The credit that an entry implies: its quotations are from its own reference unless it says otherwise,
//! and the page behind a quotation, `“...” (p. 62)`, is a page of that reference.
//!
//! The implied citations are added to the marks of the text that the parts make together, so that the rules on quotations hold
//! for notes as they are.

use crate::review::{PartKind, Review};
use crate::text::{
    ByteRange, Citation, CitationForm, Cite, CiteTarget, Locator, MarkedText, Quotation,
    QuotationForm,
};

use super::together::LaidPart;

/// How far behind a quotation its page may begin, and how long a bracket with a page may be, in bytes.
const NEAR: usize = 12;
const LONGEST: usize = 80;

/// Adds to a text the citations that its entries imply. The parts are in order of the text, and so are its citations and
/// quotations, so each part looks at its own alone.
pub(super) fn add(text: &mut MarkedText, parts: &[LaidPart], review: &Review) {
    let mut citations = std::mem::take(&mut text.citations);
    let mut implied = Vec::new();
    for part in parts {
        let Some(key) = &review.entries[part.entry].key else {
            continue;
        };
        let target = CiteTarget::Key(key.as_str().to_owned());
        let here = part.here;
        let from = citations.partition_point(|one| one.range.end() <= here.start());
        let to = citations.partition_point(|one| one.range.start() < here.end());
        let own = citations.get_mut(from..to).unwrap_or_default();
        redirect(own, text, part, &target);
        let first = implied.len();
        let from = text
            .quotations
            .partition_point(|one| one.outer.start() < here.start());
        let quotations = text.quotations.get(from..).unwrap_or_default().iter();
        let quotations = quotations
            .take_while(|one| one.outer.start() < here.end())
            .filter(|one| one.depth == 0 && here.covers(one.outer));
        for quotation in quotations {
            let before = own.iter().chain(implied.get(first..).unwrap_or_default());
            implied.extend(implied_by(quotation, part, text, &target, before));
        }
    }
    citations.extend(implied);
    citations.sort_by_key(|citation| citation.range);
    text.citations = citations;
}

/// The citation that a quotation implies, if none of those of its part is its own.
fn implied_by<'c>(
    quotation: &Quotation,
    part: &LaidPart,
    text: &MarkedText,
    target: &CiteTarget,
    mut others: impl Iterator<Item = &'c Citation>,
) -> Option<Citation> {
    let block = text.text.block_at(quotation.outer.start());
    let block = block.map_or(part.here, |block| block.range);
    let found = locator(text, quotation, block, part.part);
    let range = match &found {
        Some((range, _)) => *range,
        None => last_character(text, quotation),
    };
    let is_taken = |citation: &Citation| {
        citation.range.overlaps(range)
            || found.is_none() && follows(text, citation, quotation, block)
    };
    if others.any(is_taken) {
        return None;
    }
    let aside = if found.is_some() {
        range
    } else {
        ByteRange::of(range.end(), range.end())
    };
    Some(Citation {
        form: CitationForm::Key,
        range,
        aside,
        narrative: false,
        cites: vec![Cite {
            range,
            target: target.clone(),
            prefix: None,
            locator: found.map(|(_, locator)| locator),
        }],
    })
}

/// A bracket with a page alone takes up the citation before it; where that one stands in another block,
/// it is another part or another entry, and the entry's own reference is meant.
fn redirect(
    citations: &mut [Citation],
    text: &MarkedText,
    stretch: &LaidPart,
    target: &CiteTarget,
) {
    let block_of = |range: ByteRange| text.text.block_at(range.start()).map(|block| block.range);
    let mut before: Option<ByteRange> = None;
    for citation in citations
        .iter_mut()
        .filter(|citation| stretch.here.covers(citation.range))
    {
        let written = text.text.slice(citation.range);
        let inside = written.trim_matches(['(', ')', '[', ']']);
        let alone = Locator::parse(inside).filter(|_| inside.len() < written.len());
        if let Some(locator) = alone
            && before.and_then(block_of) != block_of(citation.range)
        {
            citation.cites.truncate(1);
            for cite in &mut citation.cites {
                cite.target = target.clone();
                // A number in square brackets was read as that of a list.
                cite.locator.get_or_insert_with(|| locator.clone());
            }
        }
        before = Some(citation.range);
    }
}

/// Whether a citation with a name of its own stands behind a quotation with little between.
fn follows(
    text: &MarkedText,
    citation: &Citation,
    quotation: &Quotation,
    block: ByteRange,
) -> bool {
    let between = ByteRange::of(quotation.outer.end(), citation.range.start());
    let inside = quotation.outer.covers(citation.range);
    let behind = block.covers(citation.range)
        && citation.range.start() >= quotation.outer.end()
        && text.words_in(between).is_empty();
    inside || behind
}

fn last_character(text: &MarkedText, quotation: &Quotation) -> ByteRange {
    let written = text.text.slice(quotation.outer);
    let last = written.chars().next_back().map_or(0, char::len_utf8);
    ByteRange::of(quotation.outer.end() - last, quotation.outer.end())
}

/// The page that belongs to a quotation, and where it is written: behind it, at the end of a block
/// quotation, or, where quotations are collected, before it on its line.
fn locator(
    text: &MarkedText,
    quotation: &Quotation,
    block: ByteRange,
    part: PartKind,
) -> Option<(ByteRange, Locator)> {
    let content = &text.text;
    if quotation.form == QuotationForm::Block {
        let written = content.slice(quotation.outer);
        let at = written.rfind(['(', '['])?;
        let (length, locator) = bracket(written.get(at..)?)?;
        let start = quotation.outer.start() + at;
        return Some((ByteRange::of(start, start + length), locator));
    }
    let end = quotation.outer.end();
    let rest = content.slice(ByteRange::of(end, block.end()));
    let lead = rest.len() - rest.trim_start_matches(is_between).len();
    if lead <= NEAR {
        let written = rest.get(lead..)?;
        let found = bracket(written).or_else(|| bare(written));
        if let Some((length, locator)) = found {
            return Some((ByteRange::of(end + lead, end + lead + length), locator));
        }
    }
    let before = content.slice(ByteRange::of(block.start(), quotation.outer.start()));
    let line = before.rsplit('\n').next()?;
    let written = line.trim_matches(|letter| is_between(letter) || "*•".contains(letter));
    let locator = with_unit(written).filter(|_| part == PartKind::Quotations)?;
    let start = quotation.outer.start() - line.len() + line.find(written)?;
    Some((ByteRange::of(start, start + written.len()), locator))
}

fn is_between(letter: char) -> bool {
    letter.is_whitespace() || ".,;:–—-".contains(letter)
}

/// A bracket at the start of a text that holds a page and perhaps a remark: `(p. 62)`, `[62]`,
/// `(p. 62, my emphasis)`. The result is its length and the page.
fn bracket(text: &str) -> Option<(usize, Locator)> {
    let close = match text.chars().next()? {
        '(' => ')',
        '[' => ']',
        _ => return None,
    };
    let end = text.find(close).filter(|end| *end <= LONGEST)?;
    let inside = text.get(1..end)?;
    let beginnings = [Some(inside)]
        .into_iter()
        .chain([';', ','].map(|mark| Some(inside.split_once(mark)?.0)));
    let locator = beginnings.flatten().find_map(|part| {
        let number = part.trim_start().starts_with(|c: char| c.is_ascii_digit());
        Locator::parse(part).filter(|locator| !number || !is_year(locator))
    })?;
    Some((end + 1, locator))
}

/// A page without a bracket that fills the rest of its line: `, p. 62`.
fn bare(text: &str) -> Option<(usize, Locator)> {
    let line = text.lines().next()?.trim_end();
    Some((line.len(), with_unit(line)?))
}

/// A page named as one; a number alone may be that of a list.
fn with_unit(text: &str) -> Option<Locator> {
    let named = text.starts_with(char::is_alphabetic);
    Locator::parse(text).filter(|_| named)
}

fn is_year(locator: &Locator) -> bool {
    let first = locator.stretches.first();
    first.is_some_and(|(from, _)| matches!(from.parse(), Ok(1000..=2099)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn brackets_hold_pages() {
        for (text, wanted) in [
            ("(p. 62)", Some((7, "p. 62"))),
            ("(62).", Some((4, "62"))),
            ("[pp. 3, 7–9]", Some((14, "pp. 3, 7–9"))),
            ("(p. 62, my emphasis)", Some((20, "p. 62"))),
            ("(p. 62; translated)", Some((19, "p. 62"))),
            ("(2019)", None),
            ("(Harrow, 2019, p. 3)", None),
            ("(his italics)", None),
            ("(p. 62", None),
            ("p. 62", None),
            ("", None),
        ] {
            let found = bracket(text);
            let found = found
                .as_ref()
                .map(|(length, locator)| (*length, locator.written.as_str()));
            assert_eq!(found, wanted, "{text}");
        }
        assert!(bare("p. 62\nmore").is_some_and(|(length, _)| length == 5));
        assert!(bare("p. 62 is where it stands").is_none());
        assert!(bare("3").is_none());
    }
}
