//! A draft at a glance, below its headline: how many findings there are of each weight and kind, and which they are, so that
//! a reader with five minutes sees where to begin. Counts of things to do, no percentage and no score: such
//! a number says nothing about what to mend.

use std::collections::BTreeMap;
use std::io::{self, Write};

use super::sheet::{INDENT, Sheet};
use super::style::Ink;
use crate::findings::{Finding, Kind, Weight};
use crate::report::english::grouped;

/// Columns before the words of a kind: a number of four digits.
const COUNTED: usize = 9;

/// Writes the block for the open findings of a draft, numbered from 1 in the order given; nothing where
/// there are none.
pub(super) fn write<'f, W: Write>(
    sheet: &mut Sheet<'_, W>,
    open: impl Iterator<Item = &'f Finding>,
) -> io::Result<()> {
    let mut by_weight: BTreeMap<Weight, BTreeMap<Kind, Vec<usize>>> = BTreeMap::new();
    for (index, finding) in open.enumerate() {
        let kinds = by_weight.entry(finding.weight).or_default();
        kinds.entry(finding.kind).or_default().push(index + 1);
    }
    if by_weight.is_empty() {
        return Ok(());
    }
    sheet.heading(0, "At a glance")?;
    for (weight, kinds) in by_weight {
        let count: usize = kinds.values().map(Vec::len).sum();
        let request = sheet.look.paint(Ink::of(weight), weight.request());
        sheet.line(&format!("{:INDENT$}{request}: {}", "", grouped(count)))?;
        for (kind, numbers) in kinds {
            let lead = format!("{:>width$}", grouped(numbers.len()), width = COUNTED - 2);
            let text = format!("{}: {}", kind.about().short, in_row(&numbers));
            sheet.hanging(COUNTED, &lead, &text)?;
        }
    }
    sheet.blank()
}

/// `1, 4, 11`; three and more that follow one another as `4-7`.
pub(super) fn in_row(numbers: &[usize]) -> String {
    let mut spans: Vec<(usize, usize)> = Vec::new();
    for &number in numbers {
        match spans.last_mut() {
            Some((_, last)) if *last + 1 == number => *last = number,
            _ => spans.push((number, number)),
        }
    }
    let shown = spans.into_iter().map(|(first, last)| match last - first {
        0 => first.to_string(),
        1 => format!("{first}, {last}"),
        _ => format!("{first}-{last}"),
    });
    shown.collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_that_follow_one_another_are_joined() {
        let table: [(&[usize], &str); 5] = [
            (&[], ""),
            (&[3], "3"),
            (&[1, 4, 11], "1, 4, 11"),
            (&[4, 5, 9], "4, 5, 9"),
            (&[1, 3, 4, 5, 6, 8], "1, 3-6, 8"),
        ];
        for (numbers, shown) in table {
            assert_eq!(in_row(numbers), shown);
        }
    }
}
