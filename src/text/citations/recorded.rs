//! Citations that the file itself records, in addition to those that are read from characters.
//!
//! The characters of a recorded citation are its visible form, so where it overlaps a citation that was read
//! the two are one. The works are the recorded ones. The characters only show where the citation begins,
//! which part of it is prose (`Lindqvist` in `Lindqvist (2014)`), and a locator that somebody typed into the
//! visible form. A work typed beside recorded ones in the same bracket stays.

use super::{ByteRange, Citation, CitationForm, Cite, Text};
use crate::text::RecordedCitation;

/// The citations of a Text: those read from its characters, and those its file records.
pub(super) fn join(text: &Text, read: Vec<Citation>) -> Vec<Citation> {
    let recorded = text.recorded();
    if recorded.is_empty() {
        return read;
    }
    let mut joined: Vec<Citation> = Vec::with_capacity(read.len() + recorded.len());
    let mut read = read.into_iter().peekable();
    let mut recorded = recorded.iter().peekable();
    loop {
        let first = [
            read.peek().map(|citation| citation.range),
            recorded.peek().map(|citation| citation.range),
        ];
        let Some(mut reach) = first.into_iter().flatten().min() else {
            return joined;
        };
        let mut own = Vec::new();
        let mut stored = Vec::new();
        // Everything that overlaps, directly or through another, is one citation.
        loop {
            if let Some(citation) = read.next_if(|next| touches(reach, next.range)) {
                reach = reach.hull(citation.range);
                own.push(citation);
            } else if let Some(citation) = recorded.next_if(|next| touches(reach, next.range)) {
                reach = reach.hull(citation.range);
                stored.push(citation);
            } else {
                break;
            }
        }
        match stored.is_empty() {
            true => joined.append(&mut own),
            false => joined.push(one(reach, own, &stored)),
        }
    }
}

fn touches(reach: ByteRange, next: ByteRange) -> bool {
    reach == next || reach.overlaps(next)
}

/// One citation of all that overlaps; `recorded` is not empty.
fn one(range: ByteRange, read: Vec<Citation>, recorded: &[&RecordedCitation]) -> Citation {
    let narrative = read.iter().find(|citation| citation.narrative);
    let aside = match narrative {
        Some(citation) => citation.aside,
        None => range,
    };
    let narrative =
        narrative.is_some() || recorded.iter().all(|citation| citation.suppressed_author);
    let is_stored = |cite: &Cite| {
        let mut stored = recorded.iter();
        stored.any(|citation| citation.range.overlaps(cite.range))
    };
    let (visible, typed): (Vec<Cite>, Vec<Cite>) = read
        .into_iter()
        .flat_map(|citation| citation.cites)
        .partition(is_stored);
    let stored = recorded.iter().flat_map(|citation| &citation.cites);
    let mut cites: Vec<Cite> = stored.cloned().collect();
    if let ([cite], [seen]) = (cites.as_mut_slice(), visible.as_slice())
        && cite.locator.is_none()
    {
        cite.locator.clone_from(&seen.locator);
    }
    cites.extend(typed);
    cites.sort_by_key(|cite| cite.range);
    Citation {
        form: CitationForm::Key,
        range,
        aside,
        narrative,
        cites,
    }
}

#[cfg(test)]
mod tests {
    use super::super::{CiteTarget, citations};
    use super::*;
    use crate::text::Locator;

    /// The citations of a paragraph in which the words between `{` and `}` are a recorded citation.
    fn cited(marked: &str, locator: Option<&str>, suppressed_author: bool) -> Vec<Citation> {
        let start = marked.find('{').unwrap();
        let end = marked.find('}').unwrap() - 1;
        let content = marked.replace(['{', '}'], "");
        let range = ByteRange::of(start, end);
        let cite = Cite {
            range,
            target: CiteTarget::Key("k".to_owned()),
            prefix: None,
            locator: locator.and_then(Locator::parse),
        };
        let recorded = RecordedCitation {
            range,
            suppressed_author,
            cites: vec![cite],
        };
        citations(&Text::paragraph(&content).with_recorded(vec![recorded]))
    }

    #[track_caller]
    fn assert_cited(marked: &str, locator: Option<&str>, expected: &str) {
        let suppressed = marked.contains("{(2014");
        let content = marked.replace(['{', '}'], "");
        let cited: Vec<String> = cited(marked, locator, suppressed)
            .iter()
            .map(|citation| {
                let cites: Vec<String> = citation.cites.iter().map(brief).collect();
                let slice = |range: ByteRange| content.get(range.as_range()).unwrap();
                let narrative = if citation.narrative { " narrative" } else { "" };
                let (whole, aside) = (slice(citation.range), slice(citation.aside));
                format!("{whole} | {aside}{narrative} | {}", cites.join(" "))
            })
            .collect();
        assert_eq!(cited.join("\n"), expected, "{marked}");
    }

    fn brief(cite: &Cite) -> String {
        let target = match &cite.target {
            CiteTarget::Key(key) => format!("@{key}"),
            CiteTarget::Author { names, .. } | CiteTarget::Work { names, .. } => names.join("+"),
            CiteTarget::Number(number) => number.to_string(),
        };
        let locator = cite.locator.as_ref();
        target + &locator.map_or(String::new(), |locator| format!(":{}", locator.written))
    }

    #[test]
    fn recorded_citations_take_precedence() {
        let cases = [
            (
                "Lamps glow {(Harrow, 2014)}.",
                None,
                "(Harrow, 2014) | (Harrow, 2014) | @k",
            ),
            ("Lamps glow {[1]}.", Some("p. 3"), "[1] | [1] | @k:p. 3"),
            (
                "Lamps glow.{Harrow, Lamps, 113}",
                None,
                "Harrow, Lamps, 113 | Harrow, Lamps, 113 | @k",
            ),
            (
                "Harrow {(2014)} holds it.",
                None,
                "Harrow (2014) | (2014) narrative | @k",
            ),
            (
                "As {Harrow (2014)} holds.",
                None,
                "Harrow (2014) | (2014) narrative | @k",
            ),
            (
                "Lamps {(Harrow, 2014, p. 7)}.",
                None,
                "(Harrow, 2014, p. 7) | (Harrow, 2014, p. 7) | @k:p. 7",
            ),
            (
                "Lamps {(Harrow, 2014, p. 7)}.",
                Some("p. 8"),
                "(Harrow, 2014, p. 7) | (Harrow, 2014, p. 7) | @k:p. 8",
            ),
            (
                "Lamps ({Harrow, 2014}; Okoro, 2016).",
                None,
                "(Harrow, 2014; Okoro, 2016) | (Harrow, 2014; Okoro, 2016) | @k Okoro",
            ),
            (
                "Lamps (Okoro, 2016) and {(Harrow, 2014)}.",
                None,
                "(Okoro, 2016) | (Okoro, 2016) | Okoro\n(Harrow, 2014) | (Harrow, 2014) | @k",
            ),
        ];
        for (marked, locator, expected) in cases {
            assert_cited(marked, locator, expected);
        }
    }
}
