//! Page labels as the file itself records them (ISO 32000-2, 12.4.2): a tree of numbers whose leaves say how
//! pages are counted from which sheet on.

use hayro_interpret::hayro_syntax::Pdf;
use hayro_interpret::hayro_syntax::object::{Array, Dict, Name, Object, String as Bytes};

/// How pages are numbered from one sheet on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Numbering {
    /// The first sheet, counted from 0.
    pub from: usize,
    /// `D`, `R`, `r`, `A` or `a`; `None` where labels are only the prefix.
    pub style: Option<u8>,
    pub prefix: String,
    /// The number of the first sheet.
    pub start: u32,
}

/// How deep the tree is followed.
const DEPTH: u32 = 20;

/// The labels of all sheets as the file records them; `None` where it doesn't, or where it only counts the
/// sheets, which says nothing about printed pages.
pub(super) fn of(pdf: &Pdf) -> Option<Vec<Option<String>>> {
    let sheets = pdf.pages().len();
    let catalog = pdf.xref().get::<Dict<'_>>(pdf.xref().root_id())?;
    let tree = catalog.get::<Dict<'_>>(b"PageLabels".as_slice())?;
    let mut numberings = Vec::new();
    collect(&tree, sheets, DEPTH, &mut numberings);
    labels(numberings, sheets)
}

fn collect(node: &Dict<'_>, sheets: usize, left: u32, found: &mut Vec<Numbering>) {
    if left == 0 || found.len() > sheets {
        return;
    }
    if let Some(numbers) = node.get::<Array<'_>>(b"Nums".as_slice()) {
        let items: Vec<Object<'_>> = numbers.iter::<Object<'_>>().take(2 * sheets + 2).collect();
        for pair in items.chunks_exact(2) {
            let [sheet, entry] = pair else { continue };
            let sheet = sheet
                .clone()
                .into_i32()
                .and_then(|n| usize::try_from(n).ok());
            let (Some(from), Some(entry)) = (sheet, entry.clone().into_dict()) else {
                continue;
            };
            found.push(numbering(from, &entry));
        }
    }
    if let Some(kids) = node.get::<Array<'_>>(b"Kids".as_slice()) {
        for kid in kids.iter::<Dict<'_>>().take(sheets) {
            collect(&kid, sheets, left - 1, found);
        }
    }
}

fn numbering(from: usize, entry: &Dict<'_>) -> Numbering {
    let style = entry.get::<Name<'_>>(b"S".as_slice());
    let prefix = entry.get::<Bytes<'_>>(b"P".as_slice());
    let start = entry.get::<i32>(b"St".as_slice()).unwrap_or(1);
    Numbering {
        from,
        style: style.and_then(|style| style.as_ref().first().copied()),
        prefix: prefix
            .map(|bytes| text(bytes.as_bytes()))
            .unwrap_or_default(),
        start: u32::try_from(start).unwrap_or(1),
    }
}

/// A text string of a PDF: UTF-16 after a mark, or else one byte for each character.
fn text(bytes: &[u8]) -> String {
    let decoded = match bytes {
        [0xFE, 0xFF, rest @ ..] => encoding_rs::UTF_16BE.decode_without_bom_handling(rest).0,
        [0xEF, 0xBB, 0xBF, rest @ ..] => String::from_utf8_lossy(rest),
        _ => {
            encoding_rs::WINDOWS_1252
                .decode_without_bom_handling(bytes)
                .0
        }
    };
    decoded
        .chars()
        .filter(|c| !c.is_control())
        .take(20)
        .collect()
}

/// The labels that the numberings give to the sheets.
pub(super) fn labels(mut numberings: Vec<Numbering>, sheets: usize) -> Option<Vec<Option<String>>> {
    numberings.sort_by_key(|numbering| numbering.from);
    let labels: Vec<Option<String>> = (0..sheets)
        .map(|sheet| {
            let behind = numberings.partition_point(|numbering| numbering.from <= sheet);
            let numbering = numberings.get(behind.checked_sub(1)?)?;
            let ahead = u32::try_from(sheet - numbering.from).ok()?;
            let number = numbering.start.checked_add(ahead)?;
            let label = format!("{}{}", numbering.prefix, numeral(numbering.style, number)?);
            Some(label.trim().to_owned()).filter(|label| !label.is_empty())
        })
        .collect();
    let counts_sheets = labels.iter().enumerate().all(|(sheet, label)| {
        label
            .as_ref()
            .is_none_or(|label| *label == (sheet + 1).to_string())
    });
    (!counts_sheets).then_some(labels)
}

/// A number in a style of numbering.
fn numeral(style: Option<u8>, number: u32) -> Option<String> {
    Some(match style {
        Some(b'D') => number.to_string(),
        Some(b'R') => roman(number)?.to_uppercase(),
        Some(b'r') => roman(number)?,
        Some(b'A') => letters(number)?.to_uppercase(),
        Some(b'a') => letters(number)?,
        _ => String::new(),
    })
}

/// A Roman numeral in small letters, up to 3999.
pub(super) fn roman(number: u32) -> Option<String> {
    const SIGNS: [(u32, &str); 13] = [
        (1000, "m"),
        (900, "cm"),
        (500, "d"),
        (400, "cd"),
        (100, "c"),
        (90, "xc"),
        (50, "l"),
        (40, "xl"),
        (10, "x"),
        (9, "ix"),
        (5, "v"),
        (4, "iv"),
        (1, "i"),
    ];
    if !(1..4000).contains(&number) {
        return None;
    }
    let mut left = number;
    let mut written = String::new();
    for (value, sign) in SIGNS {
        while left >= value {
            written.push_str(sign);
            left -= value;
        }
    }
    Some(written)
}

/// `a` to `z`, then `aa` to `zz`, and so on, as the standard defines.
fn letters(number: u32) -> Option<String> {
    let index = number.checked_sub(1)?;
    let letter = char::from(b'a' + u8::try_from(index % 26).ok()?);
    let times = usize::try_from(index / 26 + 1).ok()?;
    (times <= 20).then(|| letter.to_string().repeat(times))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(numberings: &[(usize, &str, &str, u32)], sheets: usize) -> Option<Vec<String>> {
        let numberings = numberings
            .iter()
            .map(|(from, style, prefix, start)| Numbering {
                from: *from,
                style: style.bytes().next(),
                prefix: (*prefix).to_owned(),
                start: *start,
            });
        let labels = labels(numberings.collect(), sheets)?;
        Some(labels.into_iter().map(Option::unwrap_or_default).collect())
    }

    #[test]
    fn labels_by_case() {
        type Case = (
            &'static [(usize, &'static str, &'static str, u32)],
            usize,
            Option<&'static [&'static str]>,
        );
        let cases: &[Case] = &[
            (&[(0, "D", "", 113)], 3, Some(&["113", "114", "115"])),
            (
                &[(0, "r", "", 1), (2, "D", "", 1)],
                4,
                Some(&["i", "ii", "1", "2"]),
            ),
            // In any order.
            (
                &[(2, "D", "", 1), (0, "R", "", 8)],
                3,
                Some(&["VIII", "IX", "1"]),
            ),
            (&[(0, "D", "A-", 1)], 2, Some(&["A-1", "A-2"])),
            (&[(0, "a", "", 25)], 4, Some(&["y", "z", "aa", "bb"])),
            // The prefix alone; a sheet without a label.
            (&[(1, "", "Cover", 1)], 2, Some(&["", "Cover"])),
            // A count of the sheets is not a label.
            (&[(0, "D", "", 1)], 3, None),
            (&[], 3, None),
        ];
        for (numberings, sheets, expected) in cases {
            let expected = expected.map(|labels| labels.iter().map(|l| (*l).to_owned()).collect());
            assert_eq!(shown(numberings, *sheets), expected, "{numberings:?}");
        }
    }
}
