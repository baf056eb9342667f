//! A list of references without a heading, recognised by its form: at the end of the document a run of
//! paragraphs that each begin like an entry and hold a year, in alphabetical order or in order of their
//! numbers.
//!
//! The forms of entries are those of the published styles (APA 7 chapter 9, Chicago 17 chapters 14 and 15,
//! MLA 9 chapter 5, the NLM's *Citing Medicine*, from memory): a family name followed by initials or a given
//! name, or the name of a group followed by the year. Prose that is taken for a list is never checked, so
//! there must be at least three entries, and each has to look like one.

use crate::text::{Block, BlockKind, ByteRange};

use super::has_year;

/// A shorter run is not a list.
const FEWEST: usize = 3;

/// A longer entry is prose, in bytes.
const LONGEST: usize = 900;

/// The number of the first block of the list; `entries` gives the entries in a block. Footnotes, code and
/// tables after the list are passed over.
pub(super) fn first_of_list(
    content: &str,
    blocks: &[Block],
    entries: impl Fn(&Block) -> Vec<ByteRange>,
) -> Option<usize> {
    let behind = |block: &&Block| {
        matches!(
            block.kind,
            BlockKind::Footnote | BlockKind::Code | BlockKind::Table
        )
    };
    let end = blocks.len() - blocks.iter().rev().take_while(behind).count();
    let mut first = end;
    let mut list: Vec<Entry> = Vec::new();
    while let Some(block) = first.checked_sub(1).and_then(|before| blocks.get(before))
        && matches!(block.kind, BlockKind::Paragraph | BlockKind::ListItem)
    {
        let here: Option<Vec<Entry>> = entries(block)
            .into_iter()
            .rev()
            .map(|range| Entry::of(content, range))
            .collect();
        let Some(here) = here else { break };
        list.extend(here);
        first -= 1;
    }
    list.reverse();
    let in_order = list.windows(2).all(|pair| match pair {
        [one, other] => one.comes_before(other),
        _ => true,
    });
    (list.len() >= FEWEST && in_order).then_some(first)
}

/// The beginning of an entry.
#[derive(Debug, PartialEq, Eq)]
struct Entry {
    /// The number before it.
    number: Option<u32>,
    /// Its first name in small letters; empty where a dash replaces the name of the entry before.
    name: String,
}

impl Entry {
    fn of(content: &str, range: ByteRange) -> Option<Self> {
        let entry = content
            .get(range.as_range())
            .filter(|_| range.len() <= LONGEST)?;
        let line = content.get(..range.start())?.rsplit(['\n', '\r']).next()?;
        // The number of a list item stands before the item in its line.
        let outside = number(line)
            .filter(|_| line.len() <= 12)
            .map(|(number, _)| number);
        let (inside, rest) = match number(entry) {
            Some((number, rest)) => (Some(number), rest),
            None => (None, entry),
        };
        let repeated = rest.trim_start_matches(['—', '–', '-', '_']);
        let dashes = rest.len() - repeated.len() >= 3;
        if !has_year(rest) || !(dashes || begins_with_author(rest)) {
            return None;
        }
        let name = if dashes { "" } else { rest };
        let name: String = name
            .chars()
            .take_while(|c| !matches!(c, ',' | '.' | '('))
            .flat_map(char::to_lowercase)
            .collect();
        Some(Self {
            number: inside.or(outside),
            name: plain(&name),
        })
    }

    fn comes_before(&self, other: &Self) -> bool {
        match (self.number, other.number) {
            (Some(one), Some(two)) => one < two,
            (None, None) => {
                self.name.is_empty() || other.name.is_empty() || self.name <= other.name
            }
            _ => false,
        }
    }
}

/// The letters, without accents, blanks and signs.
fn plain(name: &str) -> String {
    use unicode_normalization::UnicodeNormalization as _;
    name.nfd().filter(char::is_ascii_alphanumeric).collect()
}

/// `12. `, `[12] `, `(12) `: the number and what follows.
fn number(entry: &str) -> Option<(u32, &str)> {
    let inside = entry.trim_start().trim_start_matches(['[', '(']);
    let behind = inside.trim_start_matches(|c: char| c.is_ascii_digit());
    let digits = inside.get(..inside.len() - behind.len())?;
    let rest = behind.strip_prefix([']', ')', '.', '\t'])?;
    let number = digits.parse().ok().filter(|number| *number < 1000)?;
    Some((number, rest.trim_start()))
}

/// Whether an entry begins with an author: `Lindqvist, A.`, `Lindqvist, Ada.`, `Lindqvist AB,`,
/// `A. Lindqvist,`, or a group followed by the year (`National Lamp Survey. (2018).`).
fn begins_with_author(entry: &str) -> bool {
    let capital = entry.starts_with(char::is_uppercase);
    let small = [
        "van ", "von ", "de ", "der ", "di ", "da ", "al-", "zu ", "d’", "d'",
    ];
    if !capital && !small.iter().any(|particle| entry.starts_with(particle)) {
        return false;
    }
    inverted(entry) || bare_initials(entry) || initials_first(entry) || group(entry)
}

/// `Lindqvist, A.`, `Lindqvist, Ada.`, `Lindqvist, Ada, and Ben Okoro.`
fn inverted(entry: &str) -> bool {
    let Some((family, rest)) = entry.split_once(", ") else {
        return false;
    };
    let given: String = rest
        .chars()
        .take_while(|c| c.is_alphabetic() || *c == '-')
        .collect();
    let behind = rest.get(given.len()..).unwrap_or_default();
    let letters = given.chars().count();
    let initial = letters == 1 && behind.starts_with('.');
    // After a given name the name ends, or a middle initial or a second author follows.
    let middle = behind.strip_prefix(' ').is_some_and(|middle| {
        let mut signs = middle.chars();
        signs.next().is_some_and(char::is_uppercase) && signs.next() == Some('.')
    });
    let name = letters > 1 && (behind.starts_with(['.', ',', ':', ';']) || dated(behind) || middle);
    family.split(' ').count() <= 4
        && !family.contains(|c: char| matches!(c, '.' | ';' | ':') || c.is_ascii_digit())
        && given.starts_with(char::is_uppercase)
        && (initial || (name && closes_early(rest)))
}

/// ` (2014).`: in prose the sentence goes on after the bracket instead.
fn dated(behind: &str) -> bool {
    behind
        .strip_prefix(" (")
        .and_then(|inside| inside.split_once(')'))
        .is_some_and(|(year, rest)| has_year(year) && rest.starts_with(['.', ',', ':']))
}

/// Whether the names end within the first part of an entry: prose has no full stop so soon.
fn closes_early(rest: &str) -> bool {
    let stop = rest.find(['.', ':', '(']);
    stop.is_some_and(|stop| stop <= 80)
}

/// `Lindqvist AB, Okoro C.`
fn bare_initials(entry: &str) -> bool {
    let end = entry.find([',', '.']).unwrap_or_default();
    let first = entry.get(..end).unwrap_or_default();
    first.rsplit_once(' ').is_some_and(|(family, initials)| {
        family.split(' ').count() <= 3
            && (1..=3).contains(&initials.len())
            && initials.bytes().all(|byte| byte.is_ascii_uppercase())
    })
}

/// `A. B. Lindqvist and C. Okoro, “Moths,”`
fn initials_first(entry: &str) -> bool {
    let mut words = entry.split(' ');
    let initial = |word: &str| {
        let letters = word.strip_suffix('.').unwrap_or_default();
        let first = letters.chars().next().is_some_and(char::is_uppercase);
        first && letters.chars().count() <= 3
    };
    let initials = words.by_ref().take_while(|word| initial(word)).count();
    (1..=3).contains(&initials) && entry.contains(',')
}

/// `National Lamp Survey. (2018).`, `National Lamp Survey (2018)`
fn group(entry: &str) -> bool {
    let Some(open) = entry.find(" (").filter(|open| *open <= 100) else {
        return false;
    };
    let name = entry.get(..open).unwrap_or_default().trim_end_matches('.');
    let year = entry.get(open + 2..).unwrap_or_default();
    let year_first = year
        .get(..4)
        .is_some_and(|year| year.bytes().all(|byte| byte.is_ascii_digit()))
        || year.starts_with("n.d.");
    let closed = year.find(')').and_then(|close| year.get(close + 1..));
    let ends = closed.is_some_and(|behind| behind.starts_with(['.', ',', ':']));
    year_first && ends && !name.contains(['.', ',', ';']) && name.split(' ').count() >= 2
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The number of paragraphs that belong to the list at the end of these.
    fn listed(paragraphs: &[&str]) -> usize {
        let content = paragraphs.join("\n\n");
        let mut start = 0;
        let blocks: Vec<Block> = paragraphs
            .iter()
            .map(|paragraph| {
                let range = ByteRange::of(start, start + paragraph.len());
                start = range.end() + 2;
                Block {
                    kind: BlockKind::Paragraph,
                    range,
                }
            })
            .collect();
        let first = first_of_list(&content, &blocks, |block| vec![block.range]);
        first.map_or(0, |first| blocks.len() - first)
    }

    #[test]
    fn lists_are_recognised_by_their_form() {
        let prose = "Moths circle the lamp, and lamps fail.";
        let lists: &[&[&str]] = &[
            &[
                "Lindqvist, A., & Okoro, B. (2014). Moths at lamps. Night, 12(3), 40–60.",
                "National Lamp Survey. (2018). Lamps. https://lamps.example",
                "Vane, C. (n.d.). Streets. Night Press.",
            ],
            &[
                "Lindqvist, Ada. The Dark Street. Night Press, 2014.",
                "———. Streets of Light. Night Press, 2016.",
                "Okoro, Ben, and Cara Vane. Lamps. Night Press, 2011.",
            ],
            &[
                "1. Okoro B, Vane C. Moths at lamps. Night. 2014;12:40–60.",
                "2. Lindqvist AB. Lamps. Night. 2016;13:1–9.",
                "3. Vane C. Streets. Harbour: Night Press; 2011.",
            ],
            &[
                "[1] B. Okoro and C. Vane, “Moths,” Night, vol. 12, pp. 40–60, 2014.",
                "[2] A. B. Lindqvist, Lamps. Harbour: Night Press, 2016.",
                "[3] C. Vane, Streets, 2011.",
            ],
            &[
                "Ödegård, A. (2014) Lampor. Malmö: Natt.",
                "Pellow, B. and Strand, C. (2016) Trials. Harbour: Night.",
                "van der Berg, J. (2010) Straten. Haven: Nacht.",
            ],
        ];
        for list in lists {
            let mut all = vec![prose];
            all.extend(*list);
            assert_eq!(listed(&all), list.len(), "{list:?}");
            // Two are too few, and what follows is not the end of a list.
            assert_eq!(listed(&all[..3]), 0, "{list:?}");
            all.push(prose);
            assert_eq!(listed(&all), 0, "{list:?}");
        }
    }

    #[test]
    fn prose_is_no_list() {
        let cases: &[&[&str]] = &[
            &[
                "Lindqvist (2014) counted moths at lamps.",
                "Okoro (2016) counted them again.",
                "Vane (2018) did not.",
            ],
            &[
                "Moreover, Lindqvist (2014) counted moths at the lamps of the old harbour, and none came.",
                "Nevertheless, Okoro (2016) counted them again at the lamps of the new harbour.",
                "Therefore, Vane (2018) did not.",
            ],
            &[
                "In 2014, A. Lindqvist counted moths.",
                "In 2016, B. Okoro counted moths.",
                "In 2018, C. Vane counted none.",
            ],
            &[
                "Vane, C. (2014). Out of order.",
                "Okoro, B. (2014). Lamps.",
                "Lindqvist, A. (2014). Moths.",
            ],
            &[
                "Lindqvist, A. Undated.",
                "Okoro, B. Undated.",
                "Vane, C. Undated.",
            ],
            &[],
        ];
        for case in cases {
            assert_eq!(listed(case), 0, "{case:?}");
        }
    }
}
